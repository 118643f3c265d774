package stackup

import "math"

// CopperReach returns the largest distance in mm between the neutral surface and a face of a copper layer, and whether
// it is known: false for a stack-up given by its thickness alone or one without copper. Over the neutral radius it is the
// largest strain in the copper of a bend; times the change of curvature (1/mm, signed) it is the strain range of a bend that
// works. Exact in the package's model. Copper etched away (coverage 0) does not count.
func (s Stackup) CopperReach() (float64, bool) {
	if s.plain() {
		return 0, false
	}
	reach, found, y, neutral := 0.0, false, s.Thickness(), s.Neutral()
	for i, l := range s.Layers {
		if share(s.Layers, i) > 0 {
			found = true
			reach = max(reach, math.Abs(y-neutral), math.Abs(y-l.Thickness-neutral))
		}
		y -= l.Thickness
	}
	return reach, found
}

// CopperRadius returns the smallest inside radius in mm at which no copper is strained beyond limit (a fraction, in tension
// or compression), and whether it is known: false without copper, for a sheet given by its thickness alone and for a limit
// that is not positive. The inverse of Strains: reach/limit - distance from concave face to neutral surface; 0 where even
// a sharp fold would stay within it.
func (s Stackup) CopperRadius(inside Side, limit float64) (float64, bool) {
	reach, known := s.CopperReach()
	if !known || !positive(limit) {
		return 0, false
	}
	return max(0, reach/limit-s.Inner(inside)), true
}

// FilmRadius is CopperRadius for the outside face, where films stretch most: distance from neutral surface to convex face
// over limit, less that to the concave face. A sheet given by its thickness alone counts as one material.
func (s Stackup) FilmRadius(inside Side, limit float64) (float64, bool) {
	inner, t := s.Inner(inside), s.Thickness()
	if !positive(limit, t) {
		return 0, false
	}
	return max(0, (t-inner)/limit-inner), true
}
