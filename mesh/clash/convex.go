package clash

import "math"

const (
	fewFaces   = 400   // of a body that is looked at for being convex
	flatness   = 1e-10 // mm: how far a point may stand over a face of a hull and still lie in it
	mostRounds = 500
)

// convex reports whether a body of few faces is convex: none of its points lies over any of its faces.
func (s *shape) convex() bool {
	if !s.closed || s.whole != nil || len(s.tris) > fewFaces || len(s.tris) == 0 {
		return false
	}
	for i := range s.tris {
		t := s.tri(int32(i))
		n := unit(t.normal())
		if s.farthest(n)-dot(n, t[0]) > hair {
			return false
		}
	}
	return true
}

// farthest returns the greatest height of the corners of a shape along d.
func (s *shape) farthest(d vec) float64 { return dot(s.support(d), d) }

// support returns the corner of a shape that lies farthest along d.
func (s *shape) support(d vec) vec {
	var best vec
	most := math.Inf(-1)
	for _, t := range s.tris {
		for _, k := range t {
			if h := dot(s.points[k], d); h > most {
				best, most = s.points[k], h
			}
		}
	}
	return best
}

// convexWay returns the direction of the least shift that separates two convex bodies: the normal of the nearest face of
// their Minkowski difference, the shifts for which they meet. The difference is not built; a hull inside it grows at its
// nearest face until that is one of the difference itself (van den Bergen, Proximity queries and penetration depth
// computation on 3D game objects, 2001). Any lesser shift lies in the hull, so the shift is the least, within rounding. ok is
// false where rounding stops the growth.
func (m *mover) convexWay() (d vec, ok bool) {
	var h hull
	for k := range 3 {
		for _, sign := range []float64{1, -1} {
			var axis vec
			axis[k] = sign
			h.start = append(h.start, m.difference(axis))
		}
	}
	if !h.begin() {
		return d, false
	}
	for range mostRounds {
		f := h.nearest()
		p := m.difference(f.n)
		if dot(f.n, p) <= f.h+flatness {
			return f.n, true
		}
		if !h.add(p) {
			return d, false
		}
	}
	return d, false
}

// difference returns the shift farthest along d for which the bodies, if convex, still meet.
func (m *mover) difference(d vec) vec { return sub(m.b.support(d), m.a.support(along(vec{}, -1, d))) }

// hull is a convex polyhedron that grows.
type hull struct {
	start []vec
	faces []hullFace
}

// hullFace is a triangle, its outward unit normal and its height over the origin.
type hullFace struct {
	p tri
	n vec
	h float64
}

func newHullFace(a, b, c vec) (hullFace, bool) {
	f := hullFace{p: tri{a, b, c}}
	n := f.p.normal()
	f.n = unit(n)
	f.h = dot(f.n, a)
	return f, length(n) > flatness*flatness
}

// begin makes a tetrahedron of the points to start with: the pair farthest apart, the point farthest from their line, and the
// point farthest from the plane of those.
func (h *hull) begin() bool {
	var a, b, c, d vec
	far := func(measure func(p vec) float64) vec {
		best, most := vec{}, -1.0
		for _, p := range h.start {
			if v := measure(p); v > most {
				best, most = p, v
			}
		}
		return best
	}
	a = h.start[0]
	b = far(func(p vec) float64 { return length(sub(p, a)) })
	c = far(func(p vec) float64 { return length(cross(sub(p, a), sub(b, a))) })
	n := cross(sub(b, a), sub(c, a))
	d = far(func(p vec) float64 { return math.Abs(dot(n, sub(p, a))) })
	if math.Abs(dot(n, sub(d, a))) <= flatness*length(n) {
		return false
	}
	if dot(n, sub(d, a)) > 0 {
		b, c = c, b
	}
	for _, t := range []tri{{a, b, c}, {a, d, b}, {b, d, c}, {c, d, a}} {
		f, ok := newHullFace(t[0], t[1], t[2])
		if !ok {
			return false
		}
		h.faces = append(h.faces, f)
	}
	return true
}

// nearest returns the face with the least height over the origin.
func (h *hull) nearest() *hullFace {
	best := &h.faces[0]
	for i := range h.faces {
		if f := &h.faces[i]; f.h < best.h {
			best = f
		}
	}
	return best
}

// add grows the hull to a point outside: faces that see it give way to those between it and their border. It returns false
// where a new face has no area.
func (h *hull) add(p vec) bool {
	border := map[[2]vec]bool{}
	var order [][2]vec
	kept := h.faces[:0]
	for _, f := range h.faces {
		if dot(f.n, p) <= f.h+flatness/4 {
			kept = append(kept, f)
			continue
		}
		for k := range 3 {
			e := [2]vec{f.p[k], f.p[(k+1)%3]}
			if back := [2]vec{e[1], e[0]}; border[back] {
				delete(border, back)
				continue
			}
			border[e] = true
			order = append(order, e)
		}
	}
	h.faces = kept
	for _, e := range order {
		if !border[e] {
			continue
		}
		f, ok := newHullFace(e[0], e[1], p)
		if !ok {
			return false
		}
		h.faces = append(h.faces, f)
	}
	return true
}
