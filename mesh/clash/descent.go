package clash

import "math"

// cut is the room that a contact leaves: the shifts s with n . s >= h, where n is a unit direction.
type cut struct {
	n vec
	h float64
}

// same reports whether two cuts are one within rounding.
func (c *cut) same(o *cut) bool { return dot(c.n, o.n) > sameTurn && math.Abs(c.h-o.h) <= 10*hair }

// leaving returns the room beyond the end of a contact between two triangles on the way along d.
func (s *span) leaving(p, q *tri, d vec) cut {
	var n vec
	switch s.end.kind {
	case cornerOnB:
		n = q.normal()
	case cornerOnA:
		n = p.normal()
	default:
		i, j := s.end.i, s.end.j
		n = cross(sub(p[(i+1)%3], p[i]), sub(q[(j+1)%3], q[j]))
	}
	n = unit(n)
	if dot(n, d) < 0 {
		n = along(vec{}, -1, n)
	}
	return cut{n, dot(n, d) * s.to}
}

const (
	mostCuts  = 8
	mostSteps = 40
	farther   = 3 // times the best way out: how far other ways are followed to learn from their ends
)

// lower follows all ways that come clear little later than the shortest downhill, and returns the shortest way that it
// comes to: bodies have many sides on which a way out is shorter than any near it.
func (m *mover) lower(best walk, walks []walk) walk {
	seen := []cut{best.cut}
	best = m.descend(best)
	for i := range walks {
		if m.enough() {
			break
		}
		w := walks[i]
		if !m.advance(&w, best.last.depth*farther/2) || known(seen, &w.cut) {
			continue
		}
		seen = append(seen, w.cut)
		if w = m.descend(w); w.last.depth < best.last.depth-hair {
			best = w
		}
	}
	return best
}

func known(list []cut, c *cut) bool {
	for i := range list {
		if list[i].same(c) {
			return true
		}
	}
	return false
}

// descend follows a way out downhill: to the nearest shift in the room that its last contact leaves. If the body comes clear
// earlier there, it goes on from that way; if another contact is in the way, to the nearest shift that leaves both, and so on.
// Between convex bodies each step is downhill. The end is a way than which none near it is shorter, as far as planes tell.
func (m *mover) descend(best walk) walk {
	cuts := []cut{best.cut}
	for range mostSteps {
		s, ok := leastIn(cuts)
		if !ok || length(s) >= best.last.depth-hair || m.spent > m.most/2 {
			return best
		}
		try, out := m.toward(&best, unit(s))
		switch {
		case !out:
			return best
		case try.last.depth < best.last.depth-hair:
			best, cuts = try, []cut{try.cut}
		case len(cuts) == mostCuts || known(cuts, &try.cut):
			return best
		default:
			cuts = append(cuts, try.cut)
		}
	}
	return best
}

// toward walks along d; if that way is blocked, along one between it and the best way so far, at ever smaller angles from
// the latter.
func (m *mover) toward(best *walk, d vec) (try walk, out bool) {
	for range 8 {
		try = walk{view: newView(d)}
		if m.advance(&try, best.last.depth*farther) {
			return try, true
		}
		d = unit(along(d, 1, best.d))
	}
	return try, false
}

// leastIn returns the shortest shift in all of the cuts; ok is false if they have none in common. It is the foot on one of
// their planes, on the line of two or in the corner of three.
func leastIn(cuts []cut) (best vec, ok bool) {
	least := math.Inf(1)
	try := func(s vec, found bool) {
		if l := length(s); !found || l >= least {
			return
		}
		for i := range cuts {
			if dot(cuts[i].n, s) < cuts[i].h-hair/10 {
				return
			}
		}
		best, least, ok = s, length(s), true
	}
	for i := range cuts {
		try(along(vec{}, cuts[i].h, cuts[i].n), true)
		for j := range i {
			try(foot(cuts[i], cuts[j], cut{n: unit(cross(cuts[i].n, cuts[j].n))}))
			for k := range j {
				try(foot(cuts[i], cuts[j], cuts[k]))
			}
		}
	}
	return best, ok
}

// foot returns the common point of the borders of three cuts.
func foot(a, b, c cut) (vec, bool) {
	bc, ca, ab := cross(b.n, c.n), cross(c.n, a.n), cross(a.n, b.n)
	det := dot(a.n, bc)
	if math.Abs(det) < 1e-9 {
		return vec{}, false
	}
	return along(along(along(vec{}, a.h/det, bc), b.h/det, ca), c.h/det, ab), true
}

// mostPolish is by how much (mm) a way out of the body as it is may be longer than one of the shrunk body, where contacts end
// so much later along walls that the way leaves at a slant.
const mostPolish = 50 * Touch

// polish walks the end of a way again with the body as it is, and follows it downhill. Where that leads far off, a contact that
// is none but for rounding is in the way: then the way stays.
func (m *mover) polish(best walk) walk {
	if m.reach <= hair || dot(best.cut.n, best.d) > sameTurn {
		return best // straight out of its last contact
	}
	real := &mover{a: m.a, small: m.a.shrunk(hair), b: m.b, reach: hair, cross: m.cross, spent: m.spent, most: m.most}
	w := walk{view: best.view, run: best.last.depth - 2*hair}
	if !real.advance(&w, best.last.depth+mostPolish) {
		return best
	}
	return real.descend(w)
}
