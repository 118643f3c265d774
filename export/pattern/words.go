package pattern

import (
	"math"
	"strconv"
	"strings"

	"foldfit/fold"
	"foldfit/fold/stackup"
)

// words writes a design's quantities in its own unit, as a workshop reads them.
type words struct{ units fold.Units }

// length returns mm as a number in the design's unit, rounded to about a micrometre, with at least so many decimals. The
// unit itself is named once, in the note on the page.
func (w words) length(mm float64, least int) string {
	most := 3
	switch w.units {
	case fold.Mil:
		least, most = min(least, 1), 1
	case fold.Inch:
		most = 4
	}
	return decimals(mm/w.units.Length(), least, most)
}

// unit returns the design's unit; the zero value counts as mm.
func (w words) unit() string {
	if w.units == "" {
		return string(fold.MM)
	}
	return string(w.units)
}

// decimals returns v with at most so many decimals, trailing zeros cut down to the least number of them.
func decimals(v float64, least, most int) string {
	s := strconv.FormatFloat(v, 'f', most, 64)
	for range most - least {
		if !strings.HasSuffix(s, "0") {
			break
		}
		s = s[:len(s)-1]
	}
	s = strings.TrimSuffix(s, ".")
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

// sideName returns the side as it is printed: TOP or BOTTOM.
func sideName(s fold.Side) string { return strings.ToUpper(s.String()) }

// toward returns the side that a hinge of this angle (degrees, + toward top) folds to.
func toward(angle float64) fold.Side {
	if angle < 0 {
		return fold.Bottom
	}
	return fold.Top
}

// hinge returns what is written beside a hinge. The angle stands without a sign, since the side says it all: a minus sign
// before 'toward BOTTOM' would read as its opposite.
func (w words) hinge(h *fold.Hinge) string {
	if h.Angle == 0 {
		return short(h.Name) + ": 0, not bent"
	}
	return short(h.Name) + ": " + decimals(math.Abs(h.Angle), 0, 3) + " toward " + sideName(toward(h.Angle)) +
		", r " + w.length(h.Radius, 2) + " inside"
}

// stack returns the kind and thickness of a stack-up: "rigid 1.6".
func (w words) stack(s *stackup.Stackup) string {
	if s == nil {
		return ""
	}
	kind := "flex "
	if s.Rigid {
		kind = "rigid "
	}
	return kind + w.length(s.Thickness(), 0)
}

// stiffener returns side and thickness of a stiffener: "stiffener BOTTOM 0.2 + 0.05".
func (w words) stiffener(s *fold.Stiffener) string {
	out := "stiffener " + sideName(s.Side) + " " + w.length(s.Thickness, 0)
	if s.Adhesive > 0 {
		out += " + " + w.length(s.Adhesive, 0)
	}
	return out
}

// high returns how far a component stands above its seat, standoff included; "?" where its height is not known.
func (w words) high(c *fold.Component) string {
	top, known := 0.0, false
	switch {
	case len(c.Boxes) > 0:
		for _, b := range c.Boxes {
			top, known = max(top, b[2], b[5]), true
		}
	case c.Height != nil:
		top, known = *c.Height, true
	}
	if !known {
		return "?"
	}
	return w.length(top+c.Standoff, 0)
}
