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
	whole []piece        // the connected pieces of which none is taken
}

// deepest is how far (mm) around a body what columns leave is gathered at first to measure an overlap.
const deepest = 1

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
		ring := s.copied(i, local, &c.points)
		c.cut(ring[:], near)
	})
	r.cut = newShape(c.points, c.tris, s.closed)
	r.cut.ids, r.cut.whole = c.ids, s
	r.whole = r.untouched()
	return r
}

// untouched returns the pieces of the whole shape that columns do not reach.
func (r *rest) untouched() (out []piece) {
	pieces := r.of.connected()
	reached := make([]bool, len(pieces))
	for _, p := range r.at {
		reached[r.of.pieceAt(p)] = true
	}
	for i, p := range pieces {
		if !reached[i] {
			out = append(out, p)
		}
	}
	return out
}

// empty reports whether columns leave nothing.
func (r *rest) empty() bool { return len(r.at) == len(r.of.tris) && len(r.cut.tris) == 0 }

// near returns what columns leave of a shape in and about a box, as a shape of its own: a part of the whole.
func (r *rest) near(room *box) *shape {
	g := gathered{room: room}
	g.add(r.of, r.taken)
	g.add(r.cut, nil)
	out := newShape(g.points, g.tris, r.of.closed)
	out.ids, out.whole = g.ids, r.of
	return out
}

// gathered are triangles of several shapes whose leaves meet a room.
type gathered struct {
	room   *box
	points []vec
	tris   [][3]int32
	ids    []int32
}

// add gathers triangles of one shape, but for some.
func (g *gathered) add(s *shape, but proximity.Mask) {
	places := map[int32]int32{} // of its points among those gathered
	for i := int32(0); int(i) < len(s.nodes); {
		n := &s.nodes[i]
		if b := n.box(); !b.meets(g.room) {
			i = s.next(i)
			continue
		}
		if i++; n.right != 0 {
			continue
		}
		for k := range n.count {
			if t := s.at(n.first + k); !but.Has(t) {
				g.tris, g.ids = append(g.tris, s.copied(t, places, &g.points)), append(g.ids, s.id(t))
			}
		}
	}
}

// copied copies the corners of triangle t to points, unless places says that they are there, and returns where they are.
func (s *shape) copied(t int32, places map[int32]int32, points *[]vec) (out [3]int32) {
	for k, p := range s.tris[t] {
		at, ok := places[p]
		if !ok {
			at = int32(len(*points))
			places[p], *points = at, append(*points, s.points[p])
		}
		out[k] = at
	}
	return out
}

// measure is measure between a and the rest. For an overlap only what lies about a is copied: a way out no longer than the
// breadth of that meets nothing else. most bounds the pairs of triangles compared; see penetration.
func (r *rest) measure(a *shape, limit float64, most int) (n reading, ok bool) {
	n, ok, clear := r.apart(a, limit)
	out, spent := a.solid(), 0
	for reach := float64(deepest); !clear; reach *= 8 {
		room := out.box.grow((farther + 1) * reach)
		b := r.near(&room)
		if of := r.of.bounds(); room.holds(of.lo) && room.holds(of.hi) {
			m, found := measureWith(a, b, limit, most-spent)
			m.spent += spent
			return m, found
		}
		o, found := penetrationTo(out, b, reach, most-spent)
		spent += o.spent
		switch {
		case found && o.depth <= reach:
			return reading{gap: -o.depth, x: o.x, y: o.y, a: out.id(o.a), b: b.id(o.b), dir: o.dir, spent: spent, rough: o.rough}, true
		case !found && ok && n.gap <= hair && !overlapping(out, b):
			n.gap, n.dir, n.spent = 0, vec{}, spent
			return n, true
		}
	}
	return n, ok
}

// overlapping reports whether bodies dig into each other by more than Touch.
func overlapping(a, b *shape) bool {
	m := &mover{a: a, b: b, small: a.shrunk(Touch), reach: Touch}
	return m.stuck()
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
	for i := range r.whole {
		if r.of.pieceWithin(&r.whole[i], vec{}, o) {
			return true
		}
	}
	return within(r.cut, vec{}, o)
}
