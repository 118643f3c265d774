package clash

import "math"

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
	spent int   // pairs of triangles compared to find it; to find that there is none, too
	rough bool  // a way out, but more would have had to be compared to know that none is shorter
}

// penetration returns the least shift of a that takes it out of b's material, and b out of a's; ok is false if they do not
// overlap. a must be closed; of an open b only the surface counts. Bodies that fit into each other exactly, or overlap by up
// to Touch on sides from which no short shift leads out, do not overlap: so a plug in a hole of its own size is at rest.
//
// Ways out are sought along a set of directions (see directions) and followed downhill from contact to contact (see descend).
// Along each way the shift is exact, whatever the bodies' shape: by that shift they separate, by less they do not. Than the
// shortest way none near it is shorter; for what a way on another side may be see lower. Between convex bodies of few faces the
// shift is the least there is. Dense meshes deep in each other would take minutes: most bounds how many pairs of triangles are
// compared on the ways, see mover.
func penetration(a, b *shape, most int) (o overlap, ok bool) {
	return penetrationTo(a, b, math.Inf(1), most)
}

// penetrationTo is penetration if the shift is no longer than longest, ok false otherwise. It asks for nothing of b that is
// farther from the box around a than farther times that.
func penetrationTo(a, b *shape, longest float64, most int) (o overlap, ok bool) {
	m := &mover{a: a, b: b, small: a.shrunk(Touch), reach: Touch, most: most}
	if m.stuck() {
		o, ok = m.leastOfConvex()
		if !ok {
			o, ok = m.least(m.directions(), longest)
		}
		o.spent = m.tested + m.spent
		return o, ok
	}
	m.small, m.reach = a.shrunk(hair), hair
	if m.stuck() {
		o, ok = m.least(m.directions(), Touch)
		ok = ok && o.depth <= Touch
	}
	o.spent = m.tested + m.spent
	return o, ok
}

// leastOfConvex returns the shortest way out between convex bodies; ok is false for others.
func (m *mover) leastOfConvex() (o overlap, ok bool) {
	if !m.a.convex() || !m.b.convex() {
		return o, false
	}
	d, ok := m.convexWay()
	if !ok {
		return o, false
	}
	w := walk{view: newView(d)}
	ok = m.advance(&w, math.Inf(1))
	return w.last, ok && math.Abs(w.last.depth-dot(d, m.difference(d))) <= 2*hair
}

// mover moves a out of b. Whether it is stuck is judged by small, which is a shrunk by reach, so that faces that only touch
// do not count; how far it must go is measured on a itself.
type mover struct {
	a, small, b  *shape
	reach        float64
	cross        [][2]int32 // the pairs of triangles that cross before a moves
	most         int        // after so many pairs the way out of b's box is taken for the answer; after a quarter only the axes are walked
	spent        int        // pairs of triangles compared on all ways, and to tell what lies within
	tested       int        // those compared before a moves
	seenA, seenB seen       // the leaves in work, of small and of b
}

const (
	plenty    = 12_000_000 // pairs of triangles, about four seconds
	axesOnly  = 6          // directions begin with the axes
	mostCross = 200_000    // crossing pairs that are gathered: more tell no more about the ways out
)

// enough reports whether only the ways along the axes are walked on; those found are ways out all the same.
func (m *mover) enough() bool { return m.spent > m.most/4 }

// plenty reports whether no way is walked on.
func (m *mover) plenty() bool { return m.spent > m.most }

// stuck reports whether the bodies share space. The crossing pairs gathered are not all where that would take more than most.
func (m *mover) stuck() bool {
	m.cross = nil
	pairs(m.small, m.b, (*box).meets, func(na, nb *node) bool {
		m.tested += int(na.count * nb.count)
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
		return len(m.cross) < mostCross && (len(m.cross) == 0 || m.tested <= m.most)
	})
	return len(m.cross) > 0 || !m.free(vec{})
}

// free reports whether the shifted body, whose surface does not cross b's, shares no space with it: nothing of either lies
// within the material of the other.
func (m *mover) free(shift vec) bool {
	in, asked := lies(m.small, shift, m.b)
	m.spent += asked
	return !in && !within(m.b, along(vec{}, -1, shift), m.small)
}

// within reports whether a connected piece of s, shifted, lies in the material of o, given that their surfaces do not cross.
func within(s *shape, shift vec, o *shape) bool {
	in, _ := lies(s, shift, o)
	return in
}

// lies is within, with how many triangles were asked.
func lies(s *shape, shift vec, o *shape) (in bool, asked int) {
	if o.whole != nil {
		o = o.whole
	}
	if !o.closed {
		return false, 0
	}
	for _, p := range s.connected() {
		in, n := s.pieceLies(&p, shift, o)
		if asked += n; in {
			return true, asked
		}
	}
	return false, asked
}

// pieceWithin is within for one of the pieces.
func (s *shape) pieceWithin(p *piece, shift vec, o *shape) bool {
	in, _ := s.pieceLies(p, shift, o)
	return in
}

// pieceLies is lies for one of the pieces.
func (s *shape) pieceLies(p *piece, shift vec, o *shape) (in bool, asked int) {
	room := o.bounds()
	moved := box{along(p.box.lo, 1, shift), along(p.box.hi, 1, shift)}
	if !room.meets(&moved) {
		return false, 0
	}
	return o.holds(along(s.points[p.point], 1, shift))
}

// least returns the shortest way out among dirs and what the contacts at their ends lead to, if there is one up to the shift
// most. All ways are walked a little farther in turn, so that none is walked much farther than the shortest.
func (m *mover) least(dirs []vec, most float64) (best overlap, ok bool) {
	walks := make([]walk, len(dirs))
	for i, d := range dirs {
		walks[i].view = newView(d)
	}
	for limit := min(16*Touch, most); ; limit = min(limit*4, most) {
		out := m.shortest(walks, limit)
		switch {
		case out != nil:
			if best = out.last; !m.enough() {
				best = m.polish(m.intoPocket(m.lower(*out, walks))).last
			}
			best.rough = m.enough()
			return best, true
		case m.plenty():
			return m.outOfBox(), true
		case limit == most:
			return best, false
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
			if m.enough() && i >= axesOnly || m.plenty() {
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
	best := overlap{depth: math.Inf(1), rough: true}
	a, b := m.a.bounds(), m.b.bounds()
	for k := range 3 {
		for _, sign := range []float64{1, -1} {
			t := b.hi[k] - a.lo[k]
			if sign < 0 {
				t = a.hi[k] - b.lo[k]
			}
			if t < best.depth {
				best.depth, best.dir = t, vec{}
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
