package rule

import (
	"fmt"

	"foldfit/fold/finding"
)

var unitsDoubtful = Rule{
	ID:       "units-doubtful",
	Title:    "the design's lengths are those of a circuit board",
	Why:      "A number in the wrong unit gives a perfect answer to the wrong question.",
	Source:   "common practice, no source: flex of 0.01 to 2 mm, stack-ups up to 10 mm, boards of 1 mm to 2 m",
	Severity: finding.Warning,
	Check:    checkUnits,
}

func checkUnits(b Board) []finding.Finding {
	var out []finding.Finding
	d := b.Tree.Design
	say := func(f finding.Finding, value, limit float64, what string) {
		f.Severity, f.Value, f.Limit, f.Unit = finding.Warning, finding.Number(value), finding.Number(limit), "mm"
		f.Message = what
		f.Hint = fmt.Sprintf("plain numbers are in %s; write another unit with the value, as in `18 um` or `1 mil`", unitName(string(d.Units)))
		out = append(out, f)
	}
	for i := range d.Stackups {
		s := &d.Stackups[i]
		t := s.Thickness()
		f := finding.Finding{On: []string{"stackup:" + s.Name}, Place: s.Place}
		switch {
		case !s.Rigid && under(t, 0.01):
			say(f, t, 0.01, fmt.Sprintf("the flexible stack-up %s is %.5f mm thick; flex is at least 0.01 mm", s.Name, t))
		case !s.Rigid && over(t, 2):
			say(f, t, 2, fmt.Sprintf("the flexible stack-up %s is %.3f mm thick; flex is at most 2 mm", s.Name, t))
		case over(t, 10):
			say(f, t, 10, fmt.Sprintf("stack-up %s is %.3f mm thick; boards are at most 10 mm", s.Name, t))
		}
	}
	box := b.Tree.Board.Box()
	size := max(box.Max.X-box.Min.X, box.Max.Y-box.Min.Y)
	f := finding.Finding{Place: d.Where.Outline}
	if over(size, 2000) {
		say(f, size, 2000, fmt.Sprintf("the board is %.1f mm long; boards are at most 2 m", size))
	} else if under(size, 1) {
		say(f, size, 1, fmt.Sprintf("the board is only %.4f mm long", size))
	}
	return out
}

func unitName(u string) string {
	if u == "" {
		return "mm"
	}
	return u
}
