package stackup

import "math"

// CopperReach returns the largest distance in mm between the neutral surface and a face of a copper layer, and whether
// it is known: false for a stack-up that is, or holds, a sheet given by its thickness alone, and for one without copper. Over the
// neutral radius it is the largest strain in the copper of a bend; times the change of curvature (1/mm, signed) it is the strain
// range of a bend that works. Of loose plies it is the largest of all, each about its own neutral surface, and their curvatures
// differ. Exact in the package's model. Copper etched away (coverage 0) does not count.
func (s Stackup) CopperReach() (float64, bool) {
	if s.plain() {
		return 0, false
	}
	reach, found := 0.0, false
	for _, l := range s.leaves(Top) {
		r, copper := l.reach()
		reach, found = max(reach, r), found || copper
	}
	return reach, found
}

// reach returns that of a laminate as one piece, and whether it has copper.
func (s Stackup) reach() (float64, bool) {
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
// a sharp fold would stay within it. Of loose plies the one that asks for the largest inside radius of the pile counts.
func (s Stackup) CopperRadius(inside Side, limit float64) (float64, bool) {
	if s.plain() || !positive(limit) {
		return 0, false
	}
	return s.mostAsked(inside, func(ply Stackup) (float64, bool) {
		reach, copper := ply.reach()
		return reach/limit - ply.Inner(inside), copper
	})
}

// FilmRadius is CopperRadius for the outside face, where films stretch most: distance from neutral surface to convex face
// over limit, less that to the concave face. A sheet given by its thickness alone counts as one material.
func (s Stackup) FilmRadius(inside Side, limit float64) (float64, bool) {
	if !positive(limit, s.Thickness()) {
		return 0, false
	}
	return s.mostAsked(inside, func(ply Stackup) (float64, bool) {
		inner := ply.Inner(inside)
		return (ply.Thickness()-inner)/limit - inner, true
	})
}
