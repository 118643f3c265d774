package bending

import (
	"slices"

	"foldfit/fold"
	"foldfit/fold/stackup"
)

// Flex is the flex of one bend at one angle. Lengths mm, angles degrees.
type Flex struct {
	Stack  stackup.Stackup
	Inside stackup.Side // the face that lies inside the bend
	Angle  float64      // swept, 0 or more; flat at 0, where radii are endless
	Drawn  float64      // inside radius of the drawn cylinder
	Width  float64      // of the flex along the bend; 0 = not known, forces are then per mm
	Free   *Free        // the shape it takes when only its clamps hold it; nil where it is flat, not held on both sides, or not known
	Shaped bool         // it is left to take that shape (formed: free), and the shape is known
}

// At returns the flex of bend i of a divided board when its hinge stands at an angle (degrees, + toward top). The free
// shape is that between the next rigid or stiffened edges on both sides, placed as the drawn cylinder places them; it costs
// about half a millisecond.
func At(t *fold.Tree, i int, angle float64) Flex { return Of(t, i).At(angle) }

// Between returns a copy with the free shape between clamps where straight run-outs of these lengths (mm) end, nil where
// there is none.
func (f Flex) Between(near, far float64) Flex {
	f.Free = f.free(f.Stack.Inner(f.Inside), f.Stack.Inner(1-f.Inside), near, far)
	f.Shaped = f.Shaped && f.Free != nil
	return f
}

// Radius returns the least inside radius that the flex has: of the drawn cylinder, or where it is left to itself of its free
// shape.
func (f Flex) Radius() float64 {
	if f.Shaped {
		return f.Free.Radius
	}
	return f.Drawn
}

// Neutral returns the radius of the neutral surface of the drawn cylinder.
func (f Flex) Neutral() float64 { return f.Drawn + f.Stack.Inner(f.Inside) }

// Side returns the face that lies inside where the flex has its least radius: that of the bend, or the other one where a
// free shape bends back more tightly.
func (f Flex) Side() stackup.Side {
	if f.Shaped && f.Free.Reversed {
		return 1 - f.Inside
	}
	return f.Inside
}

// Strains returns the strain at every interface where the flex has its least radius, and whether that makes sense: as
// Stackup.Strains; loose plies each about its own neutral surface.
func (f Flex) Strains() (stackup.Bent, bool) { return f.Stack.Strains(f.Side(), f.Radius()) }

// Copper returns the largest absolute strain (a fraction) in the copper, and whether it is known: not for a stack-up given by
// its thickness alone, nor without copper.
func (f Flex) Copper() (float64, bool) {
	bent, ok := f.Strains()
	strain, copper := bent.Copper()
	return strain, ok && copper && !f.Stack.Plain
}

// Moment returns the moment in N.mm that holds the drawn cylinder, elastic and freshly bent, as a wide strip: an upper bound
// (see stackup.HoldingMoment); per mm of width where the width is not known. Of loose plies the sum of each one's own.
func (f Flex) Moment() (float64, bool) {
	sum, p := 0.0, f.Stack.Pile(f.Inside)
	within := p.InsideRadii(f.Drawn)
	for i, ply := range f.plies() {
		ei, known := ply.Stiffness()
		moment, sensible := stackup.HoldingMoment(ei*stackup.PlaneStrain(stackup.Poisson), within[i]+p.Plies[i].Inner, f.width())
		if !known || !sensible {
			return 0, false
		}
		sum += moment
	}
	return sum, true
}

// plies returns the stack-ups of the plies from the inside of the bend outward; bonded flex is one.
func (f Flex) plies() []stackup.Stackup {
	if !loose(f.Stack) {
		return []stackup.Stackup{f.Stack}
	}
	out := slices.Clone(f.Stack.Plies)
	if f.Inside == stackup.Bottom {
		slices.Reverse(out)
	}
	return out
}

// Squeeze returns the force in N with which flex folded back by 180 degrees pushes two parallel plates at the drawn distance apart:
// an upper bound (see stackup.SqueezingForce); not known at other angles, nor for loose plies.
func (f Flex) Squeeze() (float64, bool) {
	ei, known := f.stiffness()
	force, sensible := stackup.SqueezingForce(ei, 2*f.Neutral(), f.width())
	return force, known && sensible && f.Angle == 180
}

// stiffness returns the stiffness of a wide strip per mm of width, N.mm.
func (f Flex) stiffness() (float64, bool) {
	ei, known := f.Stack.Stiffness()
	return ei * stackup.PlaneStrain(stackup.Poisson), known && !loose(f.Stack)
}

// width returns the width that forces are for.
func (f Flex) width() float64 {
	if f.Width > 0 {
		return f.Width
	}
	return 1
}

// Signed returns the angle in degrees, + toward the top.
func (f Flex) Signed() float64 {
	if f.Inside == stackup.Bottom {
		return -f.Angle
	}
	return f.Angle
}
