package rule

import (
	"fmt"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

var stiffenerFace = Rule{
	ID:       "stiffener-face",
	Title:    "a stiffener lies on one even face",
	Why:      "A plate bonded over a step or over another plate rocks or does not stick.",
	Source:   "geometry (computed)",
	Severity: finding.Warning,
	Check:    checkStiffeners,
}

func checkStiffeners(b Board) []finding.Finding {
	d := b.Tree.Design
	var out []finding.Finding
	for i := range d.Stiffeners {
		s := &d.Stiffeners[i]
		f := finding.Finding{Severity: finding.Warning, On: []string{"stiffener:" + s.Name}, Place: s.Place, Limit: finding.Number(0)}
		if lo, hi, ok := seats(b.Tree, i); ok && hi-lo > touch {
			one := f
			one.Value, one.Unit = finding.Number(hi-lo), "mm"
			one.Message = fmt.Sprintf("stiffener %s lies over a step of %s on the %s side", s.Name, mm(hi-lo), s.Side)
			one.Hint = "end it at the edge of the thicker section, or use two plates"
			out = append(out, one)
		}
		for _, other := range d.Stiffeners[:i] {
			both := flat.Intersect(flat.Region{s.Area}, flat.Region{other.Area})
			if other.Side != s.Side || len(both) == 0 {
				continue
			}
			one := f
			one.On = []string{"stiffener:" + other.Name, "stiffener:" + s.Name}
			one.Value, one.Unit, one.At = finding.Number(both[0].Area()), "mm2", at(both[0].Inside())
			one.Message = fmt.Sprintf("stiffeners %s and %s overlap by %.2f mm2 on the %s side", other.Name, s.Name, both[0].Area(), s.Side)
			one.Hint = "move one of them, or make them one plate"
			out = append(out, one)
		}
	}
	return out
}

// seats returns the lowest and highest face under the pieces of a stiffener that share a flat.
func seats(t *fold.Tree, stiffener int) (lo, hi float64, ok bool) {
	for i := range t.Bodies {
		a := &t.Bodies[i]
		if a.Kind != fold.KindStiffener || a.Source != stiffener {
			continue
		}
		for k := range t.Bodies {
			c := &t.Bodies[k]
			if c.Kind == fold.KindStiffener && c.Source == stiffener && c.Flat == a.Flat && c.Seat-a.Seat >= hi-lo {
				lo, hi, ok = a.Seat, c.Seat, true
			}
		}
	}
	return lo, hi, ok
}
