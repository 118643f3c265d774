package clash

import (
	"slices"

	"foldfit/mesh/proximity"
)

// rest is what columns leave of a shape: the triangles that no column reaches, which it shares with the shape, and what is
// left of the others.
type rest struct {
	of    *shape
	taken proximity.Mask // the triangles that a column may reach, by their numbers
	at    []int32        // a point of each of them
	cut   *shape         // what is left of them
}

// rest returns what columns leave of a shape made by newShape: the same surface as without, at the cost of what lies near the
// columns.
func (s *shape) rest(columns []column) *rest {
	r := &rest{of: s, taken: proximity.NewMask(len(s.tris))}
	c := &carver{from: s, made: map[cutEdge]int32{}}
	local := map[int32]int32{} // the points' places among those copied
	s.inColumns(columns, func(i int32, near []column) {
		r.taken.Add(i)
		r.at = append(r.at, s.tris[i][0])
		if slices.ContainsFunc(near, func(c column) bool { return len(c) == 0 }) {
			return // inside of one
		}
		c.id = s.id(i)
		var ring [3]int32
		for k, p := range s.tris[i] {
			at, ok := local[p]
			if !ok {
				at = int32(len(c.points))
				local[p], c.points = at, append(c.points, s.points[p])
			}
			ring[k] = at
		}
		c.cut(ring[:], near)
	})
	r.cut = newShape(c.points, c.tris, s.closed)
	r.cut.ids, r.cut.whole = c.ids, s
	return r
}

// apart returns the distance between a and the rest, ok false if it is limit or more. clear is false where they touch or one
// lies within the other, which is not for here to measure.
func (r *rest) apart(a *shape, limit float64) (n reading, ok, clear bool) {
	if len(a.tris) == 0 {
		return n, false, true
	}
	q := proximity.NewQuery(a.surface(), r.of.surface())
	q.PassOver(nil, r.taken)
	if m, found := q.Distance(limit); found {
		n, ok, limit = reading{gap: m.D, x: m.X, y: m.Y, a: a.id(m.A), b: r.of.id(m.B)}, true, m.D
	}
	if m, found := distance(a, r.cut, limit); found {
		n, ok = reading{gap: m.d, x: m.x, y: m.y, a: a.id(m.a), b: r.cut.id(m.b)}, true
	}
	if ok && n.gap <= hair || within(a, vec{}, r.of) || r.within(a) {
		return n, ok, false
	}
	n.dir = unit(sub(n.x, n.y))
	return n, ok, true
}

// within reports whether a connected piece of the rest lies in the material of o, given that the surfaces do not cross. Each
// piece that columns do not reach is one of the whole shape; each other one has a triangle among those that are cut.
func (r *rest) within(o *shape) bool {
	pieces := r.of.connected()
	reached := make([]bool, len(pieces))
	for _, p := range r.at {
		reached[r.of.pieceAt(p)] = true
	}
	for i, p := range pieces {
		if !reached[i] && r.of.pieceWithin(&p, vec{}, o) {
			return true
		}
	}
	return within(r.cut, vec{}, o)
}
