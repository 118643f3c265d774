package rule

import (
	"fmt"
	"math"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

var unitsDoubtful = Rule{
	ID:       "units-doubtful",
	Title:    "the design's lengths are those of a circuit board",
	Why:      "A number in the wrong unit gives a perfect answer to the wrong question.",
	Limit:    always("flex of 0.01 to 2 mm, stack-ups up to 10 mm, boards of 1 mm to 2 m"),
	Source:   "common practice, no source",
	How:      measured("sum of a stack-up's layers, or longer side of the smallest rectangle round the board", "stack-ups, outline"),
	Severity: finding.Warning,
	Check:    checkUnits,
}

func checkUnits(b Board) []finding.Finding {
	var out []finding.Finding
	d := b.Tree.Design
	say := func(f finding.Finding, value, limit float64, what string) {
		f.Severity, f.Value, f.Limit, f.Unit = finding.Warning, finding.Number(value), finding.Number(limit), "mm"
		f.Message = what
		f.Hint = fmt.Sprintf("plain numbers are in %s; write another unit with the value, as in `18 um` or `1 mil`", numbersOf(b.say().Unit()))
		out = append(out, f)
	}
	for i := range d.Stackups {
		s := &d.Stackups[i]
		t := s.Thickness()
		f := finding.Finding{On: []string{"stackup:" + s.Name}, Place: s.Place}
		switch {
		case !s.Rigid && under(t, 0.01):
			say(f, t, 0.01, fmt.Sprintf("the flexible stack-up %s is %s thick; flex is at least %s", s.Name, b.say().Figure(t), b.say().Figure(0.01)))
		case !s.Rigid && over(t, 2):
			say(f, t, 2, fmt.Sprintf("the flexible stack-up %s is %s thick; flex is at most %s", s.Name, b.say().Fine(t), b.say().Figure(2)))
		case over(t, 10):
			say(f, t, 10, fmt.Sprintf("stack-up %s is %s thick; boards are at most %s", s.Name, b.say().Fine(t), b.say().Figure(10)))
		}
	}
	size := length(b.Tree.Board[0])
	f := finding.Finding{Place: d.Where.Outline}
	if over(size, 2000) {
		say(f, size, 2000, fmt.Sprintf("the board is %s long; boards are at most %s", b.say().size(size, b.say().decimals()-1), b.say().longest()))
	} else if under(size, 1) {
		say(f, size, 1, fmt.Sprintf("the board is only %s long; boards are at least %s", b.say().Figure(size), b.say().Figure(1)))
	}
	return out
}

// longest writes the 2 m up to which boards are believed.
func (l Lengths) longest() string {
	if l.Unit() == string(fold.MM) {
		return "2 m"
	}
	return l.Figure(2000)
}

// manySides is from how many sides of its hull a board is measured in evenly spread directions instead, mm off by 1e-5 of it.
const manySides = 256

// length returns the longer side of the smallest rectangle round a loop that has a side along its hull, in mm: the same
// however the board is turned.
func length(l flat.Loop) float64 {
	points := flat.Hull(l.Points(1e-2))
	var sides []flat.Pt
	for i := range points {
		if len(points) <= manySides {
			sides = append(sides, points[(i+1)%len(points)].Sub(points[i]).Unit())
		}
	}
	for i := range manySides {
		if len(points) > manySides {
			sin, cos := math.Sincos(math.Pi / 2 * float64(i) / manySides)
			sides = append(sides, flat.Pt{X: cos, Y: sin})
		}
	}
	least, size := math.Inf(1), 0.0
	for _, u := range sides {
		a, b := extent(points, u), extent(points, u.Left())
		if a*b < least*(1-slack) {
			least, size = a*b, max(a, b)
		}
	}
	return size
}

// extent returns how far points reach along a direction.
func extent(points []flat.Pt, u flat.Pt) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range points {
		lo, hi = min(lo, p.Dot(u)), max(hi, p.Dot(u))
	}
	return hi - lo
}

// numbersOf names what plain numbers count.
func numbersOf(unit string) string {
	if unit == "in" {
		return "inches"
	}
	return unit
}
