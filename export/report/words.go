package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"foldfit/fold"
	"foldfit/fold/finding"
)

// speech writes lengths in the design's units.
type speech struct{ units fold.Units }

// unit returns the word for the unit.
func (s speech) unit() string {
	if s.units == "" {
		return string(fold.MM)
	}
	return string(s.units)
}

// unitsNamed returns the units for a sentence: "mm", "mil", "inches".
func (s speech) unitsNamed() string {
	if s.units == fold.Inch {
		return "inches"
	}
	return s.unit()
}

// tenth returns about 0.1 mm as a round length of the design's units: how many mm it is, and in words.
func (s speech) tenth() (mm float64, words string) {
	switch s.units {
	case fold.Mil:
		return 0.127, "5" + tie + "mil"
	case fold.Inch:
		return 0.127, "0.005" + tie + "in"
	}
	return 0.1, "0.1" + tie + "mm"
}

// digits returns how many decimals stand for about 0.01 mm, or 0.001 mm for lengths under 0.1 mm.
func (s speech) digits(mm float64) int {
	d := 2
	switch s.units {
	case fold.Mil:
		d = 1
	case fold.Inch:
		d = 4
	}
	if a := math.Abs(mm); a < 0.1 && a > rounding {
		d++
	}
	return d
}

// length returns a length given in mm as a number in the design's units.
func (s speech) length(mm float64) string { return fixed(mm/s.units.Length(), s.digits(mm)) }

// tie is a blank at which no line is broken; wrap writes it as an ordinary one.
const tie = "\u00a0"

// size returns a length with its unit.
func (s speech) size(mm float64) string { return s.length(mm) + tie + s.unit() }

// thickness returns a length given in mm as a number in the design's units, to about 0.001 mm.
func (s speech) thickness(mm float64) string { return short(mm/s.units.Length(), s.digits(1)+1) }

// upward returns a least length with its unit, rounded up so that the printed one passes.
func (s speech) upward(mm float64) string {
	d := s.digits(mm)
	scale := math.Pow10(d)
	return fixed(math.Ceil(mm/s.units.Length()*scale-rounding)/scale, d) + tie + s.unit()
}

// point returns a flat position.
func (s speech) point(x, y float64) string { return "(" + s.length(x) + "," + tie + s.length(y) + ")" }

// rounding is the size of differences (mm, or in the number's own unit) that say nothing.
const rounding = 1e-6

// pair returns a measured and a required number with as many decimals as it takes to tell them apart; unit "mm" is
// spoken in the design's units, others as they are.
func (s speech) pair(value, limit float64, unit string) (string, string) {
	d, scale := 2, 1.0
	if unit == "mm" {
		d, scale = max(s.digits(value), s.digits(limit)), s.units.Length()
	}
	if unit == "cycles" {
		return about(value), about(limit)
	}
	v, l := fixed(value/scale, d), fixed(limit/scale, d)
	for more := 1; v == l && math.Abs(value-limit) > rounding && more <= 4; more++ {
		v, l = fixed(value/scale, d+more), fixed(limit/scale, d+more)
	}
	return v, l
}

// about prints a number of cycles with the two digits that it can stand for at most.
func about(v float64) string {
	if math.Abs(v) < 100 {
		return fixed(v, 0)
	}
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-1)
	return fixed(math.Round(v/unit)*unit, 0)
}

// margin returns by how much a finding misses its limit, as a negative number with its unit and as many decimals as tell it
// from zero; of a life, which is known to a factor, by which one.
func (s speech) margin(f finding.Finding) string {
	if f.Unit == "cycles" && *f.Value > 0 {
		return "a factor of " + short(*f.Limit / *f.Value, 1)
	}
	m, _ := s.pair(*f.Margin(), 0, f.Unit)
	return m + s.word(f.Unit)
}

// word returns the unit of a finding's numbers as it is spoken, tied to the number before it.
func (s speech) word(unit string) string {
	switch unit {
	case "mm":
		return tie + s.unit()
	case "":
		return ""
	}
	return tie + unit
}

// fixed returns v with d decimals and never a negative zero.
func fixed(v float64, d int) string {
	s := strconv.FormatFloat(v, 'f', d, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// short returns v rounded to at most d decimals without trailing zeros.
func short(v float64, d int) string {
	s := fixed(v, d)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// listed joins up to most words and says how many were left out.
func listed(words []string, most int) string {
	if len(words) > most+1 {
		return strings.Join(words[:most], ", ") + fmt.Sprintf(" and %d more", len(words)-most)
	}
	return strings.Join(words, ", ")
}

// together joins words with commas and a last "and".
func together(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// plural returns "1 thing" or "n things".
func plural(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
