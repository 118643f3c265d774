package clash

import "foldfit/mesh/proximity"

// tie bounds the error of a distance, mm.
const tie = proximity.Tolerance

// near is the nearest pair of points of two shapes: their triangles, and their distance.
type near struct {
	a, b int32
	x, y vec
	d    float64
}

// distance returns the nearest points of two shapes, not more than 1e-9 mm farther apart than the true minimum; a common
// point if the surfaces meet. A surface inside the other's material is at the distance of the surfaces. ok is false if
// they are limit or more apart.
func distance(a, b *shape, limit float64) (n near, ok bool) {
	m, ok := proximity.NewQuery(a.surface(), b.surface()).Distance(limit)
	if !ok {
		return n, false
	}
	return near{m.A, m.B, m.X, m.Y, m.D}, true
}
