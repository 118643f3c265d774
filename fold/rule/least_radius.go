package rule

import (
	"math"

	"foldfit/fold"
	"foldfit/fold/bending"
)

// LeastRadius returns the smallest inside radius in mm that can be written at a hinge so that no bend rule has anything graver
// than advice to say about it: bend-ratio, bend-strain and bend-life in every posture of the design and wherever it works, and
// none because its bend area runs over a rigid section, a stiffener, another bend area or the end of its neck or of the board.
// False where the hinge makes no bend, or no radius does that: a larger one needs more room still. The written line stays
// where it is. Exact for cylinders in the rules' own terms, to about 1e-8 of the width where flex is left to its free shape.
func LeastRadius(t *fold.Tree, hinge int) (float64, bool) {
	b := Board{Tree: t}
	least, ok := b.leastBent(hinge)
	return least, ok && b.roomy(hinge, b.widthOf(t.Hinges[hinge].Bends[0], least), 0)
}

// leastBent is LeastRadius without a look at the room for the bend area.
func (b Board) leastBent(hinge int) (float64, bool) {
	t := b.Tree
	least := Sharpest
	for _, i := range t.Hinges[hinge].Bends {
		width := 0.0
		for _, widen := range []func(int, float64) (float64, bool){b.widthForRatio, b.widthForStrain, b.widthForLife} {
			wider, ok := widen(i, width)
			if !ok {
				return 0, false
			}
			width = max(width, wider)
		}
		least = max(least, b.write(i, width).radius)
	}
	return least, len(t.Hinges[hinge].Bends) > 0
}

// Sharpest is the smallest inside radius in mm that a design may write.
const Sharpest = 0.01

// angles returns the angles other than 0 at which a hinge is judged, in degrees.
func (b Board) angles(hinge int) []float64 {
	var all, out []float64
	for _, name := range b.Tree.PostureNames() {
		if angles, err := b.Tree.PostureAngles(name); err == nil {
			all = append(all, angles[hinge])
		}
	}
	if h := &b.Tree.Design.Hinges[hinge]; h.Use == "dynamic" {
		from, to := bending.Ends(h)
		all = append(all, from, to)
	}
	for _, a := range all {
		if a != 0 {
			out = append(out, a)
		}
	}
	return out
}

// widthForRatio returns the least width of the area of bend i, and not less than from, at which it keeps its ratio at all angles
// at which it is judged.
func (b Board) widthForRatio(i int, from float64) (float64, bool) {
	limit, _ := LimitOf(b.Tree, &b.Tree.Bends[i])
	d := b.work(i).drawn
	for _, a := range b.angles(b.Tree.Bends[i].Hinge) {
		f := d.Judged(a)
		out, ok := b.least(i, f, from, bending.RatioRadius(f.Stack, f.Inside, limit), keepsRatio(limit))
		if !ok {
			return 0, false
		}
		from = max(from, out.width)
	}
	return from, true
}

// keepsRatio tells whether flex keeps a ratio.
func keepsRatio(limit float64) func(bending.Flex) bool {
	return func(f bending.Flex) bool { return !under(f.Ratio(), limit) }
}

// written is the width of a bend area with the inside radius to write at its hinge for it, mm.
type written struct{ radius, width float64 }

// write returns a width with its radius.
func (b Board) write(i int, width float64) written {
	return written{b.radiusFor(&b.Tree.Bends[i], width), width}
}

// least returns what must be drawn so that the flex of bend i passes when it stands at the angle of f: for a cylinder that
// with the given inside radius there, for flex left to its free shape the least one that passes and is as wide as from;
// false where none does.
func (b Board) least(i int, f bending.Flex, from, radius float64, passes func(bending.Flex) bool) (written, bool) {
	d := b.work(i).drawn
	if !f.Shaped {
		return b.write(i, cylinder(d, f, radius)), true
	}
	width, ok := leastWidth(d, from, func(d bending.Drawn) bool {
		g := d.At(f.Signed())
		return g.Shaped && passes(g)
	})
	return b.write(i, width), ok
}

// cylinder returns the width (mm) of the bend area whose drawn cylinder has an inside radius at the angle of f.
func cylinder(d bending.Drawn, f bending.Flex, radius float64) float64 {
	return (radius + d.Inner[f.Inside]) * f.Angle * math.Pi / 180
}

// leastWidth returns the least width (mm) of a bend's area, from one on, at which its flex passes, the written line where it is;
// false where it does not even pass at the widest one that its run-outs leave room for. Flex that passes must do so at
// every larger width. By bisection, to 1e-8 of the width on the passing side.
func leastWidth(d bending.Drawn, from float64, passes func(bending.Drawn) bool) (float64, bool) {
	lo, hi := from, d.Widest()
	if from > 0 && passes(d.Widened(from)) {
		return from, true
	}
	if from > hi || !passes(d.Widened(hi)) {
		return 0, false
	}
	for hi-lo > 1e-8*hi {
		mid := (lo + hi) / 2
		if passes(d.Widened(mid)) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, true
}
