package flat

import (
	"cmp"
	"slices"
)

// Hull returns the corners of the convex hull of the points, counter-clockwise, each once and none on a straight side; fewer
// than three points, or points in line, give their ends. Time n log n.
func Hull(points []Pt) []Pt {
	ps := slices.Clone(points)
	slices.SortFunc(ps, func(a, b Pt) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	ps = slices.Compact(ps)
	if len(ps) < 3 {
		return ps
	}
	lower := halfHull(ps)
	slices.Reverse(ps)
	upper := halfHull(ps)
	return append(lower[:len(lower)-1], upper[:len(upper)-1]...)
}

// halfHull returns the corners of the hull on the right of the way from the first of the sorted points to the last.
func halfHull(ps []Pt) []Pt {
	var out []Pt
	for _, p := range ps {
		for n := len(out); n >= 2 && out[n-1].Sub(out[n-2]).Cross(p.Sub(out[n-1])) <= 0; n = len(out) {
			out = out[:n-1]
		}
		out = append(out, p)
	}
	return out
}
