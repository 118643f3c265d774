package rule

import (
	"math"
	"strconv"
	"strings"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// Lengths writes lengths for messages and hints in the units of a design, so that they can be pasted there. All lengths that go
// in are in mm. The zero value speaks mm.
type Lengths struct{ Units fold.Units }

// say returns the words for lengths of the board's design.
func (b Board) say() Lengths { return Lengths{b.Tree.Design.Units} }

// Unit returns the word for the unit.
func (l Lengths) Unit() string {
	if l.Units == "" {
		return string(fold.MM)
	}
	return string(l.Units)
}

// decimals returns how many stand for about 0.01 mm, as fine as a board is made: 0.1 mil, 0.0001 in.
func (l Lengths) decimals() int {
	switch l.Units {
	case fold.Mil:
		return 1
	case fold.Inch:
		return 4
	}
	return 2
}

// number writes a length with so many decimals, without its unit.
func (l Lengths) number(mm float64, decimals int) string {
	return strconv.FormatFloat(mm/l.Units.Length(), 'f', decimals, 64)
}

// size writes a length with so many decimals and its unit.
func (l Lengths) size(mm float64, decimals int) string {
	return l.number(mm, decimals) + " " + l.Unit()
}

// Length writes a length to about 0.01 mm, small ones finer.
func (l Lengths) Length(mm float64) string {
	finer := 0
	switch a := math.Abs(mm); {
	case a == 0:
	case a < 0.01:
		finer = 2
	case a < 0.1:
		finer = 1
	}
	return l.size(mm, l.decimals()+finer)
}

// Fine writes a length to about 0.001 mm, as thicknesses are given.
func (l Lengths) Fine(mm float64) string { return l.size(mm, l.decimals()+1) }

// finest writes a length to about 0.0001 mm.
func (l Lengths) finest(mm float64) string { return l.size(mm, l.decimals()+2) }

// exact writes a length to about 0.0001 mm, without needless zeros.
func (l Lengths) exact(mm float64) string {
	return short(mm/l.Units.Length(), l.decimals()+2) + " " + l.Unit()
}

// exactUp is exact rounded up, so that the written number passes as a least one.
func (l Lengths) exactUp(mm float64) string { return l.exact(l.ceil(mm, l.decimals()+2)) }

// Up writes a length rounded up, so that the written number passes as a least one.
func (l Lengths) Up(mm float64) string { return l.size(l.ceil(mm, l.decimals()), l.decimals()) }

// Down writes a length rounded down, so that the written number passes as a largest one.
func (l Lengths) Down(mm float64) string { return l.size(l.floor(mm, l.decimals()), l.decimals()) }

// ceil returns a length in mm rounded up to so many decimals of the unit.
func (l Lengths) ceil(mm float64, decimals int) float64 {
	scale := math.Pow10(decimals) / l.Units.Length()
	return ceil(mm*scale) / scale
}

// floor returns a length in mm rounded down to so many decimals of the unit.
func (l Lengths) floor(mm float64, decimals int) float64 {
	scale := math.Pow10(decimals) / l.Units.Length()
	return floor(mm*scale) / scale
}

// ceil and floor round to whole numbers; what misses one by no more than limits may be missed counts as that one.
func ceil(v float64) float64  { return math.Ceil(v - slack*math.Abs(v)) }
func floor(v float64) float64 { return math.Floor(v + slack*math.Abs(v)) }

// Figure writes a length with three digits that count.
func (l Lengths) Figure(mm float64) string { return figure(mm/l.Units.Length()) + " " + l.Unit() }

// Spot writes a flat position without a unit, as the design writes it.
func (l Lengths) Spot(p flat.Pt) string {
	return "(" + l.number(p.X+0, l.decimals()) + ", " + l.number(p.Y+0, l.decimals()) + ")"
}

// quantity writes a finding's value with its unit, rounded to the last decimal the given way; "deg" is spoken out.
func (l Lengths) quantity(v float64, unit string, round func(float64) float64) string {
	per, decimals := 1.0, 3
	switch unit {
	case "mm":
		per, decimals, unit = l.Units.Length(), l.decimals()+1, l.Unit()
	case "deg":
		unit = "degrees"
	}
	scale := math.Pow10(decimals)
	return strings.TrimSpace(short(round(v/per*scale)/scale, decimals) + " " + unit)
}

// coordinates writes a place in space without a unit, as the design writes it.
func (l Lengths) coordinates(v [3]float64) string {
	var parts []string
	for _, x := range v {
		parts = append(parts, short(x/l.Units.Length(), l.decimals()+1))
	}
	return strings.Join(parts, ", ")
}

// short prints a number with at most so many decimals and no needless zeros.
func short(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// figure prints a number with three digits that count, without an exponent.
func figure(v float64) string {
	s := strconv.FormatFloat(v, 'g', 3, 64)
	if rounded, err := strconv.ParseFloat(s, 64); err == nil && strings.Contains(s, "e") {
		return strconv.FormatFloat(rounded, 'f', -1, 64)
	}
	return s
}

// beside prints a ratio to 0.01, or as finely as it takes to tell it from its limit.
func beside(v, limit float64) string { return besideFrom(2, v, limit) }

// besideFrom prints a number with so many decimals, or as many as it takes to tell it from its limit.
func besideFrom(least int, v, limit float64) string {
	for decimals := least; decimals < 9; decimals++ {
		if s := strconv.FormatFloat(v, 'f', decimals, 64); s != strconv.FormatFloat(limit, 'f', decimals, 64) {
			return s
		}
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

// at returns a flat point as a finding's place.
func at(p flat.Pt) *[2]float64 { return &[2]float64{p.X, p.Y} }
