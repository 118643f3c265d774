package stackup

import "math"

// CopperReach returns the largest distance in mm between the neutral surface and a face of a copper layer, and whether
// it is known: false for a stack-up given by its thickness alone or one without copper. Divided by the neutral radius it
// is the largest strain in the copper of a bend (cross-sections stay plane, layers do not slip).
func (s Stackup) CopperReach() (float64, bool) {
	if s.Plain {
		return 0, false
	}
	reach, found, y, neutral := 0.0, false, s.Thickness(), s.Neutral()
	for _, l := range s.Layers {
		if l.Copper {
			found = true
			reach = max(reach, math.Abs(y-neutral), math.Abs(y-l.Thickness-neutral))
		}
		y -= l.Thickness
	}
	return reach, found
}
