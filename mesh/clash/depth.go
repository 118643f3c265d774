package clash

import (
	"cmp"
	"math"
	"slices"
)

const (
	// Touch is how deep (mm) bodies may dig into each other and still count as touching.
	Touch = 0.001
	// hair is the depth (mm) up to which an overlap is taken for rounding.
	hair = 1e-9
)

// overlap is how two bodies share space: a shift of a by depth along dir is the least that separates them. The point x of a
// then lies at y on b, where they last touch.
type overlap struct {
	depth float64
	dir   vec
	x, y  vec
	a, b  int32 // the triangles of x and y
}

// penetration returns the least shift of a that takes it out of b's material, and b out of a's; ok is false if they do not
// overlap. a must be closed; of an open b only the surface counts. Bodies that fit into each other exactly, or overlap by up
// to Touch on sides from which no short shift leads out, do not overlap: so a plug in a hole of its own size is at rest.
//
// The shift is the least of those along a set of directions (see directions): exact for convex bodies if a normal of their
// true contact is among them, which holds for faces on anything and for edges on edges that cross; otherwise an upper bound.
// Along each direction the shift is exact, whatever the bodies' shape. For dense meshes deep in each other see enough.
func penetration(a, b *shape) (o overlap, ok bool) {
	m := &mover{a: a, b: b, small: a.shrunk(Touch), reach: Touch}
	if m.stuck() {
		return m.least(m.directions(), math.Inf(1))
	}
	m.small, m.reach = a.shrunk(hair), hair
	if m.stuck() {
		o, ok = m.least(m.directions(), Touch)
		ok = ok && o.depth <= Touch
	}
	return o, ok
}

// mover moves a out of b. Whether it is stuck is judged by small, which is a shrunk by reach, so that faces that only touch
// do not count; how far it must go is measured on a itself.
type mover struct {
	a, small, b *shape
	reach       float64
	cross       [][2]int32 // the pairs of triangles that cross before a moves
	spent       int        // pairs of triangles compared on all ways
}

// Dense meshes deep in each other would take minutes. When more pairs than enough have been compared, only the ways along
// the axes are walked on; after plenty the way out of b's box is taken for the answer. Both are still ways out.
const (
	enough    = 3_000_000 // about a second
	plenty    = 4 * enough
	axesOnly  = 6       // directions begin with the axes
	mostCross = 200_000 // crossing pairs that are gathered: more tell no more about the ways out
)

// stuck reports whether the bodies share space.
func (m *mover) stuck() bool {
	m.cross = nil
	pairs(m.small, m.b, (*box).meets, func(na, nb *node) bool {
		for k := range na.count {
			i := m.small.at(na.first + k)
			p := m.small.tri(i)
			for l := range nb.count {
				j := m.b.at(nb.first + l)
				if q := m.b.tri(j); crossing(&p, &q) {
					m.cross = append(m.cross, [2]int32{i, j})
				}
			}
		}
		return len(m.cross) < mostCross
	})
	return len(m.cross) > 0 || !m.free(vec{})
}

// free reports whether the shifted body, whose surface does not cross b's, shares no space with it: nothing of either lies
// within the material of the other.
func (m *mover) free(shift vec) bool {
	return !within(m.small, shift, m.b) && !within(m.b, along(vec{}, -1, shift), m.small)
}

// within reports whether a connected piece of s, shifted, lies in the material of o, given that their surfaces do not cross.
func within(s *shape, shift vec, o *shape) bool {
	if o.whole != nil {
		o = o.whole
	}
	if !o.closed {
		return false
	}
	room := o.bounds()
	for _, p := range s.connected() {
		moved := box{along(p.box.lo, 1, shift), along(p.box.hi, 1, shift)}
		if room.meets(&moved) && o.contains(along(s.points[p.point], 1, shift)) {
			return true
		}
	}
	return false
}

// walk is the way of a body along one direction: shrunk, it is known to be stuck up to the shift run; the last contact on
// the way so far, measured on the body itself, ends at last.
type walk struct {
	view
	run  float64
	last overlap
}

// least returns the shortest way out among dirs, if there is one up to the shift most. All ways are walked a little farther
// in turn, so that none is walked much farther than the shortest.
func (m *mover) least(dirs []vec, most float64) (best overlap, ok bool) {
	walks := make([]walk, len(dirs))
	for i, d := range dirs {
		walks[i].view = newView(d)
	}
	for limit := min(16*Touch, most); ; limit = min(limit*4, most) {
		out := m.shortest(walks, limit)
		switch {
		case out != nil && m.spent > enough:
			return out.last, true
		case out != nil:
			return m.refine(*out), true
		case limit == most:
			return best, false
		case m.spent > plenty:
			return m.outOfBox(), true
		}
	}
}

// shortest walks on to the shift limit and returns the walk with the shortest way out, nil if none comes clear. Once one
// has, the others are walked again to its end.
func (m *mover) shortest(walks []walk, limit float64) *walk {
	var out *walk
	for again := true; again; {
		again = false
		for i := range walks {
			if m.spent > enough && i >= axesOnly || m.spent > plenty {
				return out
			}
			w := &walks[i]
			if w == out || !m.advance(w, limit) || out != nil && w.last.depth >= out.last.depth-hair {
				continue
			}
			again = out == nil
			out, limit = w, w.last.depth
		}
	}
	return out
}

// outOfBox returns the shortest shift along an axis that takes a's box out of b's.
func (m *mover) outOfBox() overlap {
	best := overlap{depth: math.Inf(1)}
	a, b := m.a.bounds(), m.b.bounds()
	for k := range 3 {
		for _, sign := range []float64{1, -1} {
			t := b.hi[k] - a.lo[k]
			if sign < 0 {
				t = a.hi[k] - b.lo[k]
			}
			if t < best.depth {
				best = overlap{depth: t}
				best.dir[k] = sign
			}
		}
	}
	least := math.Inf(1)
	for i, t := range m.a.tris {
		for _, p := range t {
			if h := dot(m.a.points[p], best.dir); h < least {
				least, best.x, best.a = h, m.a.points[p], int32(i)
			}
		}
	}
	best.y = along(best.x, best.depth, best.dir)
	return best
}

// refine turns the best way a little to the sides as long as that shortens it, at ever smaller angles, and no more than twice
// enough pairs have been compared.
func (m *mover) refine(best walk) overlap {
	for angle := 0.2; angle > 1e-4 && m.spent <= 2*enough; angle /= 2 {
		for shorter := true; shorter; {
			shorter = false
			w := best.view
			for _, side := range []vec{w.u, along(vec{}, -1, w.u), w.v, along(vec{}, -1, w.v)} {
				try := walk{view: newView(unit(along(w.d, angle, side)))}
				if m.advance(&try, best.run) && try.last.depth < best.last.depth*(1-1e-4*angle)-hair {
					best, shorter = try, true
				}
			}
		}
	}
	return best.last
}

// advance walks on to the shift limit and reports whether the shrunk body comes clear before; w.last is then the way out.
// Pauses between contacts of less than a hair are cracks left by rounding.
func (m *mover) advance(w *walk, limit float64) bool {
	if w.run < limit {
		m.glance(w, limit)
	}
	if w.run >= limit {
		return false
	}
	hits := m.hits(w, limit)
	if m.spent > plenty {
		return false
	}
	for i := 0; w.run < limit; {
		for ; i < len(hits) && hits[i].from <= w.run; i++ {
			m.extend(w, &hits[i])
		}
		next := limit
		if i < len(hits) {
			next = min(limit, hits[i].from)
		}
		if next > w.run+hair && m.free(along(vec{}, (w.run+next)/2, w.d)) {
			w.last.dir = w.d
			return true
		}
		w.run = max(w.run, next)
	}
	return false
}

// glances is how many of the crossing pairs are looked at to see that a body is still stuck.
const glances = 300

// glance lengthens the way that the body is known to be stuck by what some of the crossing pairs tell: most ways are
// closed to a limit by a few of them, without a look at all triangles.
func (m *mover) glance(w *walk, limit float64) {
	step := max(1, len(m.cross)/glances)
	for i := 0; i < len(m.cross) && w.run < limit; i += step {
		p, q := m.small.tri(m.cross[i][0]), m.b.tri(m.cross[i][1])
		fp, fq := w.flatten(&p), w.flatten(&q)
		if s, ok := w.meet(&fp, &fq); ok && s.from <= w.run {
			w.run = max(w.run, s.to)
		}
	}
}

// hit is an interval of shifts for which triangle a of the shrunk body meets triangle b.
type hit struct {
	span
	a, b int32
}

// hits returns the contacts on the way from w.run to limit, by their beginnings; and those that end so little before that
// on the body as it is they may end later. After plenty pairs it breaks off.
func (m *mover) hits(w *walk, limit float64) []hit {
	var out []hit
	var q []flatTri
	start := w.run - 3*m.reach
	onTheWay := func(a, b *box) bool {
		from, to := a.during(w.d, b)
		return from <= to && to >= start && from <= limit
	}
	pairs(m.small, m.b, onTheWay, func(na, nb *node) bool {
		m.spent += int(na.count * nb.count)
		q = q[:0]
		for j := range nb.count {
			t := m.b.tri(m.b.at(nb.first + j))
			q = append(q, w.flatten(&t))
		}
		for k := range na.count {
			i := m.small.at(na.first + k)
			t := m.small.tri(i)
			p := w.flatten(&t)
			for j := range nb.count {
				if q[j].top-p.bottom < start || q[j].bottom-p.top > limit {
					continue
				}
				if s, ok := w.meet(&p, &q[j]); ok && s.to >= start && s.from <= limit {
					out = append(out, hit{s, i, m.b.at(nb.first + j)})
				}
			}
		}
		return m.spent <= plenty
	})
	slices.SortFunc(out, func(x, y hit) int {
		return cmp.Or(cmp.Compare(x.from, y.from), cmp.Compare(x.to, y.to), cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b))
	})
	return out
}

// extend adds a contact to the way that the body is stuck. The contact's end is measured again on the body as it is, which
// ends later by what shrinking took away.
func (m *mover) extend(w *walk, h *hit) {
	w.run = max(w.run, h.to)
	if h.to+3*m.reach <= w.last.depth {
		return
	}
	p, q := m.a.tri(h.a), m.b.tri(h.b)
	fp, fq := w.flatten(&p), w.flatten(&q)
	end := h.span
	if s, ok := w.meet(&fp, &fq); ok {
		end.to, end.at = min(s.to, h.to+3*m.reach), s.at
	}
	if end.to > w.last.depth {
		w.last = overlap{depth: end.to, x: end.at, y: along(end.at, end.to, w.d), a: h.a, b: h.b}
	}
}
