package bending

import (
	"math"

	"foldfit/fold"
	"foldfit/fold/stackup"
)

// Flex is the flex of one bend at one angle. Lengths mm, angles degrees.
type Flex struct {
	Stack  stackup.Stackup
	Inside stackup.Side // the face that lies inside the bend
	Angle  float64      // swept, above 0
	Drawn  float64      // inside radius of the drawn cylinder
	Width  float64      // of the flex along the bend; 0 = not known, forces are then per mm
	Free   *Free        // the shape it takes when only its clamps hold it; nil where it is not held on both sides, or not known
	Shaped bool         // it is left to take that shape (formed: free), and the shape is known
}

// At returns the flex of bend i of a divided board when its hinge stands at an angle (degrees, + toward top, not 0). The free
// shape is that between the next rigid or stiffened edges on both sides, placed as the drawn cylinder places them; it costs
// about half a millisecond.
func At(t *fold.Tree, i int, angle float64) Flex {
	b := &t.Bends[i]
	f := Flex{Inside: inside(angle), Angle: math.Abs(angle), Drawn: b.RadiusAt(angle), Width: length(b), Stack: stackOf(t, b)}
	if near, far, held := t.RunOuts(i); held && t.Foldable {
		f.Free = f.free(b.Concave(angle), b.Concave(-angle), near, far)
	}
	f.Shaped = f.Free != nil && t.Design.Hinges[b.Hinge].Formed == "free"
	return f
}

// inside returns the face that lies inside at an angle.
func inside(angle float64) stackup.Side {
	if angle < 0 {
		return stackup.Bottom
	}
	return stackup.Top
}

// stackOf returns the stack-up of a bend.
func stackOf(t *fold.Tree, b *fold.Bend) stackup.Stackup {
	for _, s := range t.Design.Stackups {
		if s.Name == b.Stackup {
			return s
		}
	}
	return stackup.Stackup{}
}

// length returns the length of a bend's hinge line inside the board: the width of the flex.
func length(b *fold.Bend) float64 {
	sum := 0.0
	for _, l := range b.Lines {
		sum += l[0].Dist(l[1])
	}
	return sum
}

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

// Ratio returns the least inside radius over the thickness; for loose plies the least of each one's own.
func (f Flex) Ratio() float64 { return f.Radius() / f.Stack.Thickness() }

// Strains returns the strain at every interface where the flex has its least radius, and whether that makes sense: as
// Stackup.Strains.
func (f Flex) Strains() (stackup.Bent, bool) { return f.Stack.Strains(f.Side(), f.Radius()) }

// Copper returns the largest absolute strain (a fraction) in the copper, and whether it is known: not for a stack-up given by
// its thickness alone, nor without copper.
func (f Flex) Copper() (float64, bool) {
	bent, ok := f.Strains()
	strain, copper := bent.Copper()
	return strain, ok && copper && !f.Stack.Plain
}

// Moment returns the moment in N.mm that holds the drawn cylinder, elastic and freshly bent, as a wide strip: an upper bound
// (see stackup.HoldingMoment); per mm of width where the width is not known.
func (f Flex) Moment() (float64, bool) {
	ei, known := f.Stack.Stiffness()
	moment, sensible := stackup.HoldingMoment(ei*stackup.PlaneStrain(stackup.Poisson), f.Neutral(), f.width())
	return moment, known && sensible
}

// Squeeze returns the force in N with which flex folded back by 180 degrees pushes two parallel plates at the drawn distance apart:
// an upper bound (see stackup.SqueezingForce); not known at other angles.
func (f Flex) Squeeze() (float64, bool) {
	ei, known := f.Stack.Stiffness()
	force, sensible := stackup.SqueezingForce(ei*stackup.PlaneStrain(stackup.Poisson), 2*f.Neutral(), f.width())
	return force, known && sensible && f.Angle == 180
}

// width returns the width that forces are for.
func (f Flex) width() float64 {
	if f.Width > 0 {
		return f.Width
	}
	return 1
}
