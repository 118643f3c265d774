package sheet

import (
	"math"
	"strconv"
	"strings"

	"foldfit/fold"
)

// words writes quantities in the design's own unit; the unit itself stands once on the page.
type words struct{ units fold.Units }

// unit returns the design's unit; the zero value counts as mm.
func (w words) unit() string {
	if w.units == "" {
		return string(fold.MM)
	}
	return string(w.units)
}

// digits returns how many decimals stand for about 0.01 mm.
func (w words) digits() int {
	switch w.units {
	case fold.Mil:
		return 1
	case fold.Inch:
		return 4
	}
	return 2
}

// length returns a length given in mm to about 0.01 mm.
func (w words) length(mm float64) string { return fixed(mm/w.units.Length(), w.digits()) }

// thickness returns a length given in mm to about 0.001 mm, without trailing zeros.
func (w words) thickness(mm float64) string { return short(mm/w.units.Length(), w.digits()+1) }

// gap returns a measured and a required length, with as many decimals as tell them apart.
func (w words) gap(value, limit float64) (string, string) {
	d, k := w.digits(), w.units.Length()
	v, l := fixed(value/k, d), fixed(limit/k, d)
	for more := 1; v == l && math.Abs(value-limit) > 1e-6 && more <= 4; more++ {
		v, l = fixed(value/k, d+more), fixed(limit/k, d+more)
	}
	return v, l
}

// fixed returns v with d decimals and never a negative zero.
func fixed(v float64, d int) string {
	s := strconv.FormatFloat(v, 'f', d, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// short returns v with at most d decimals, without trailing zeros.
func short(v float64, d int) string {
	s := fixed(v, d)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// toward returns the side that a hinge of this angle folds to.
func toward(angle float64) string {
	if angle < 0 {
		return fold.Bottom.String()
	}
	return fold.Top.String()
}

// scales are those of technical drawings (ISO 5455), the largest first.
var scales = []float64{50, 20, 10, 5, 2, 1, 1. / 2, 1. / 5, 1. / 10, 1. / 20, 1. / 50, 1. / 100, 1. / 200, 1. / 500, 1. / 1000}

// scaleFor returns the largest scale at which something of this size (mm) fits into the room, the smallest if none does.
func scaleFor(width, height, roomWidth, roomHeight float64) float64 {
	for _, k := range scales {
		if width*k <= roomWidth && height*k <= roomHeight {
			return k
		}
	}
	return scales[len(scales)-1]
}

// ratio writes a scale: 2:1, 1:5.
func ratio(k float64) string {
	if k >= 1 {
		return fixed(k, 0) + ":1"
	}
	return "1:" + fixed(1/k, 0)
}
