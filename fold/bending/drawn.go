package bending

import (
	"math"

	"foldfit/fold"
	"foldfit/fold/stackup"
)

// Drawn is the flex of one bend as it is drawn in the flat: all that its shape at any angle follows from. Lengths mm.
type Drawn struct {
	Stack     stackup.Stackup
	Inner     [2]float64 // from the neutral surface to the face inside the bend, by stackup.Side
	Width     float64    // of the bend area
	Along     float64    // of the flex along the bend
	Near, Far float64    // straight run-outs to the next rigid or stiffened edges; where it is held
	Held      bool       // there are such edges on both sides
	Free      bool       // it is left to take its free shape (formed: free)
	nearShare float64    // of what is added to the width, the part that the near run-out loses
}

// Of returns bend i of a divided board as it is drawn.
func Of(t *fold.Tree, i int) Drawn {
	b := &t.Bends[i]
	h := &t.Design.Hinges[b.Hinge]
	d := Drawn{Stack: stackOf(t, b), Inner: [2]float64{b.Concave(1), b.Concave(-1)}, Width: b.Width, Along: length(b), Free: h.Formed == "free", nearShare: NearShare(t, i)}
	if t.Foldable {
		d.Near, d.Far, d.Held = t.RunOuts(i)
	}
	return d
}

// NearShare returns what part of a change of its width the area of bend i gains on its near side, the written line where it is:
// half, or none or all where that line is the near or the far tangent line.
func NearShare(t *fold.Tree, i int) float64 {
	b := &t.Bends[i]
	switch h := &t.Design.Hinges[b.Hinge]; {
	case !h.Tangent:
		return 0.5
	case b.Station(h.Line[0]) > b.Width/2:
		return 1
	}
	return 0
}

// At returns the flex at an angle (degrees, + toward top) with its free shape, which costs about half a millisecond.
func (d Drawn) At(angle float64) Flex {
	f := d.Cylinder(angle)
	if d.Held && angle != 0 {
		f.Free = f.free(d.Inner[f.Inside], d.Inner[1-f.Inside], d.Near, d.Far)
	}
	f.Shaped = d.Free && f.Free != nil
	return f
}

// Cylinder is At without the free shape.
func (d Drawn) Cylinder(angle float64) Flex {
	f := Flex{Stack: d.Stack, Angle: math.Abs(angle), Drawn: math.Inf(1), Width: d.Along}
	if angle < 0 {
		f.Inside = stackup.Bottom
	}
	if angle != 0 {
		f.Drawn = d.Width/(f.Angle*math.Pi/180) - d.Inner[f.Inside]
	}
	return f
}

// Judged is At where the flex is left to its free shape, else Cylinder: all that radius, ratio and strain take.
func (d Drawn) Judged(angle float64) Flex {
	if d.Free {
		return d.At(angle)
	}
	return d.Cylinder(angle)
}

// Widened returns the same bend with a bend area of another width about the written line, which stays, as the edges that hold
// the flex do: run-outs lose what the area gains.
func (d Drawn) Widened(width float64) Drawn {
	more := width - d.Width
	d.Near, d.Far, d.Width = rounded(d.Near-more*d.nearShare), rounded(d.Far-more*(1-d.nearShare)), width
	return d
}

// rounded returns a run-out, 0 for what only rounding takes below it.
func rounded(runOut float64) float64 {
	if runOut < 0 && runOut > -1e-9 {
		return 0
	}
	return runOut
}

// Widest returns the largest width that the run-outs leave room for.
func (d Drawn) Widest() float64 {
	switch d.nearShare {
	case 0:
		return d.Width + d.Far
	case 1:
		return d.Width + d.Near
	}
	return d.Width + 2*min(d.Near, d.Far)
}

// stackOf returns the stack-up of a bend.
func stackOf(t *fold.Tree, b *fold.Bend) stackup.Stackup {
	if s := t.Design.StackupNamed(b.Stackup); s != nil {
		return *s
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
