package clash

import (
	"math"
	"slices"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// isFree reports whether a body is a bend in its free shape.
func (c *checker) isFree(b *fold.Body) bool {
	return b.Kind == fold.KindBend && c.folded.Free(b.Bend) != nil
}

// returns tells how far from its near or far clamp (mm along the flex) a free shape first comes behind the plane that stands on
// the flat at that clamp; infinite if it never does. Till there it cannot meet what lies behind. For a cylinder this is where
// it has turned by 180 degrees; a free shape with a long run-out may come back sooner, and one that bulges may turn farther
// and never come back. Looked for at a thousand stations: between two of them it may come behind by the square of their
// distance times the curvature over 8, which is under Touch.
func (c *checker) returns(bend *fold.Body, near bool) float64 {
	const stations = 1000
	from, to := c.folded.Span(bend.Bend)
	clamp, step := from, (to-from)/stations
	if !near {
		clamp, step = to, -step
	}
	ahead := c.aheadOf(bend, clamp, math.Copysign(1, step))
	for i := 1; i <= stations; i++ {
		if ahead(clamp+step*float64(i)) >= -flat.Snap {
			continue
		}
		front, behind := step*float64(i-1), step*float64(i)
		for range 40 {
			if mid := (front + behind) / 2; ahead(clamp+mid) >= -flat.Snap {
				front = mid
			} else {
				behind = mid
			}
		}
		return math.Abs(front)
	}
	return math.Inf(1)
}

// aheadOf returns how far the bend at a station lies in front of the plane at the clamp, at least, over its thickness; the
// bend leaves the clamp with rising stations for way +1, with falling ones for -1.
func (c *checker) aheadOf(bend *fold.Body, clamp, way float64) func(s float64) float64 {
	b := &c.tree.Bends[bend.Bend]
	x0, z0, turned := c.folded.Neutral(bend.Bend, clamp)
	sin, cos := math.Sincos(turned * math.Pi / 180)
	return func(s float64) float64 {
		x, z, turned := c.folded.Neutral(bend.Bend, s)
		sn, cs := math.Sincos(turned * math.Pi / 180)
		least := math.Inf(1)
		for _, face := range b.Faces {
			h := face - b.Height
			least = min(least, way*((x-h*sn-x0)*cos+(z+h*cs-z0)*sin))
		}
		return least
	}
}

// archOf returns the distance between the two ends of the drawn bend's inside face, 2 R sin(angle/2), up to 180 degrees.
func (c *checker) archOf(i int) float64 {
	b := &c.tree.Bends[i]
	angle := c.folded.Angles[b.Hinge]
	if angle == 0 {
		return math.Inf(1)
	}
	half := min(math.Abs(angle), 180) / 2 * (math.Pi / 180)
	return 2 * b.RadiusAt(angle) * math.Sin(half)
}

// freeArch returns archOf a free bend for it and a body of a flat that it joins, else infinity: the run-outs of both its flats
// belong to it, and may come as near to what is on these flats as the flats themselves, which stand as drawn. Against the board's
// own bodies there, which it meets in the flat, nothing but contact is judged, as for any bend.
func (c *checker) freeArch(a, b *fold.Body) float64 {
	if !c.isFree(a) {
		a, b = b, a
	}
	if !c.isFree(a) || b.Bend >= 0 || !slices.Contains(c.sides(a), c.group[b.Flat]) {
		return math.Inf(1)
	}
	return c.archOf(a.Bend)
}
