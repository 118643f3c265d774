package clash

import "math"

// rays are the directions in which a point looks for the surface around it; none lies along an axis or a usual angle, and
// the later ones serve when an earlier one meets an edge.
var rays = []vec{
	unit(vec{0.5377, 0.1834, 0.8259}), unit(vec{-0.3192, 0.8622, -0.4034}), unit(vec{0.2769, -0.7714, -0.5634}),
	unit(vec{-0.8655, -0.2077, 0.4397}), unit(vec{0.1271, 0.9134, 0.3871}),
}

// contains reports whether p lies in the material of a closed shape: where the winding number is not 0. A cavity whose surface
// looks inward is not material; shells that overlap are. What a shell within another holds that faces the same way is nobody's
// guess (see doubtful), and does not count as material. Points on the surface may go either way.
func (s *shape) contains(p vec) bool {
	in, _ := s.holds(p)
	return in
}

// holds is contains, with how many triangles were asked.
func (s *shape) holds(p vec) (in bool, asked int) {
	w := s.winding(p, &asked)
	return w != 0 && !(w*w > 1 && s.hollow(p, w, &asked)), asked
}

// doubtful reports whether p lies where a closed shape may be solid or hollow: within a shell that lies within another and
// faces the same way, be it a cavity turned the wrong way or solid put into solid.
func (s *shape) doubtful(p vec) bool {
	asked := 0
	w := s.winding(p, &asked)
	return w*w > 1 && s.hollow(p, w, &asked)
}

// winding returns the winding number of a closed shape about p. Every ray counts the same number about a closed surface; two
// must agree that pass no edge, else the solid angle decides; for a point on the surface, of which none tells, it is 0. The
// triangles asked are added to asked.
func (s *shape) winding(p vec, asked *int) int {
	if b := s.bounds(); !b.holds(p) {
		return 0
	}
	if w, sure := s.count(p, -1, asked); sure {
		return w
	}
	if s.carries(p) {
		return 0
	}
	return int(math.Round(s.surface().Winding(p)))
}

// carries reports whether p lies within rounding of the surface.
func (s *shape) carries(p vec) bool {
	room := box{p, p}.grow(hair)
	point := tri{p, p, p}
	for i := int32(0); int(i) < len(s.nodes); {
		n := &s.nodes[i]
		if b := n.box(); !b.meets(&room) {
			i = s.next(i)
			continue
		}
		if i++; n.right != 0 {
			continue
		}
		for k := range n.count {
			t := s.tri(s.at(n.first + k))
			if d, _, _ := triDistance(&point, &t, 2*hair); d <= hair {
				return true
			}
		}
	}
	return false
}

// count returns the winding number about p of a closed shape without one of its pieces, -1 for all of it. sure is false where
// too few rays pass no edge, or they do not agree.
func (s *shape) count(p vec, without int32, asked *int) (w int, sure bool) {
	found := 0
	for _, d := range rays {
		n, ok := s.crossings(p, d, without, asked)
		switch {
		case !ok:
		case found > 0:
			return w, n == w
		default:
			found, w = 1, n
		}
	}
	return w, false
}

// mostAsked is how many triangles are asked to tell whether a point is in a cavity turned the wrong way.
const mostAsked = 1_000_000

// hollow reports whether the winding number w about p would be 0 if those pieces around p were cavities that lie wholly within
// others and face the way these do. It may be, too, where that cannot be told within mostAsked.
func (s *shape) hollow(p vec, w int, asked *int) bool {
	pieces := s.connected()
	if len(pieces) < 2 {
		return false
	}
	rest := w
	most := *asked + mostAsked
	for i := range pieces {
		if !pieces[i].box.holds(p) {
			continue
		}
		if *asked > most {
			return true
		}
		without, sure := s.count(p, int32(i), asked)
		if own := w - without; sure && own != 0 && s.nested(int32(i), own, asked, most) {
			rest -= 2 * own
		}
	}
	return rest == 0
}

// mostProbes is about how many points of a piece are asked where it lies.
const mostProbes = 200

// nested reports whether the points of a piece, of a large one a sample of them, lie in what the others make material, and face
// the same way: own is the winding number of the piece about a point within. Not those that are left once most triangles are asked.
func (s *shape) nested(piece int32, own int, asked *int, most int) bool {
	all := 0
	*asked += len(s.home) / 16 // to find its points costs as much
	for _, home := range s.home {
		if home == piece {
			all++
		}
	}
	n := 0
	for i, home := range s.home {
		if home != piece {
			continue
		}
		if n++; n%(all/mostProbes+1) != 0 {
			continue
		}
		if *asked > most {
			return true
		}
		if w, sure := s.count(s.points[i], piece, asked); !sure || w*own <= 0 {
			return false
		}
	}
	return true
}

// crossings counts how often the ray from p along d leaves the material, less how often it enters; one piece of the shape is
// left out, -1 for none. sure is false if the ray passes so near an edge that rounding might decide.
func (s *shape) crossings(p, d vec, without int32, asked *int) (count int, sure bool) {
	ray := box{p, p}
	sure = true
	var visit func(i int32)
	visit = func(i int32) {
		n := &s.nodes[i]
		b := n.box()
		if from, to := ray.during(d, &b); !sure || to < 0 || from > to+1e-9*to {
			return
		}
		if n.right != 0 {
			visit(i + 1)
			visit(n.right)
			return
		}
		*asked += int(n.count)
		for k := n.first; k < n.first+n.count; k++ {
			i := s.at(k)
			if without >= 0 && s.pieceAt(s.tris[i][0]) == without {
				continue
			}
			t := s.tri(i)
			c, ok := through(p, d, &t)
			count += c
			sure = sure && ok
		}
	}
	visit(0)
	return count, sure
}

// through returns +1 if the ray from p along d passes t from inside out, -1 from outside in, 0 if it misses. ok is false if
// it passes within rounding of the border, or of p itself.
func through(p, d vec, t *tri) (count int, ok bool) {
	a, b, c := sub(t[0], p), sub(t[1], p), sub(t[2], p)
	u, v, w := dot(d, cross(b, c)), dot(d, cross(c, a)), dot(d, cross(a, b))
	size := max(dot(a, a), dot(b, b), dot(c, c))
	eps := 1e-12 * size
	if min(u, v, w) < -eps && max(u, v, w) > eps {
		return 0, true
	}
	n := t.normal()
	facing, height := dot(n, d), dot(n, a)
	if min(math.Abs(u), math.Abs(v), math.Abs(w)) <= eps {
		return 0, false
	}
	if math.Abs(height) <= 1e-12*length(n)*math.Sqrt(size) {
		return 0, false
	}
	switch {
	case height > 0 && facing > 0:
		return 1, true
	case height < 0 && facing < 0:
		return -1, true
	}
	return 0, true
}
