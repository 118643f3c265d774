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
	Limit:    always("no step and no other plate under it"),
	Source:   "geometry (computed); slivers under 0.05 mm do not count (common practice, no source)",
	How:      measured("height of the step under a stiffener, or area that two stiffeners have in common", "stiffeners, sections and their stack-ups"),
	Severity: finding.Warning,
	Check:    checkStiffeners,
}

func checkStiffeners(b Board) []finding.Finding {
	d := b.Tree.Design
	var out []finding.Finding
	for i := range d.Stiffeners {
		s := &d.Stiffeners[i]
		f := finding.Finding{Severity: finding.Warning, On: []string{"stiffener:" + s.Name}, Place: s.Place, Limit: finding.Number(0)}
		if height, where := step(b.Tree, i); height > touch {
			one := f
			one.Value, one.Unit, one.At = finding.Number(height), "mm", at(where)
			one.Message = fmt.Sprintf("stiffener %s lies over a step of %s on the %s side", s.Name, b.say().Length(height), s.Side)
			one.Hint = "end it at the edge of the thicker section, or use two plates"
			out = append(out, one)
		}
		for _, other := range d.Stiffeners[:i] {
			area, where := common(s.Area, other.Area)
			if other.Side != s.Side || area == 0 {
				continue
			}
			one := f
			one.On = []string{"stiffener:" + other.Name, "stiffener:" + s.Name}
			one.Value, one.Unit, one.At = finding.Number(area), "mm2", at(where)
			one.Message = fmt.Sprintf("stiffeners %s and %s overlap by %.2f mm2 on the %s side", other.Name, s.Name, area, s.Side)
			one.Hint = "move one of them, or make them one plate"
			out = append(out, one)
		}
	}
	return out
}

// step returns the largest difference in height of the faces under the pieces of a stiffener that share a flat, with a
// point of the smaller of the two pieces. Slivers do not count.
func step(t *fold.Tree, stiffener int) (height float64, where flat.Pt) {
	var pieces []*fold.Body
	for i := range t.Bodies {
		if p := &t.Bodies[i]; p.Kind == fold.KindStiffener && p.Source == stiffener && !thin(p.Region) {
			pieces = append(pieces, p)
		}
	}
	for _, a := range pieces {
		for _, c := range pieces {
			if c.Flat != a.Flat || c.Seat-a.Seat <= height {
				continue
			}
			height, where = c.Seat-a.Seat, a.Region.Inside()
			if c.Area < a.Area {
				where = c.Region.Inside()
			}
		}
	}
	return height, where
}

// common returns the area (mm2) that two stiffeners share, with a point of its largest piece.
func common(a, b flat.Loop) (area float64, where flat.Pt) {
	largest := 0.0
	for _, r := range flat.Intersect(flat.Region{a}, flat.Region{b}) {
		if thin(r) {
			continue
		}
		area += r.Area()
		if r.Area() > largest {
			largest, where = r.Area(), r.Inside()
		}
	}
	return area, where
}

// sliver is the width in mm up to which a strip of a plate does not count: no plate is cut or placed so well (common
// practice, no source).
const sliver = 0.05

// thin reports whether a region is a sliver: its area over half its border's length is the width of a long strip.
func thin(r flat.Region) bool {
	border := 0.0
	for _, e := range r.Edges() {
		border += e.Len()
	}
	return r.Area() <= sliver*border/2
}
