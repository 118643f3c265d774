package clash

import "math"

// rays are the directions in which a point looks for the surface around it; none lies along an axis or a usual angle, and
// the later ones serve when an earlier one meets an edge.
var rays = []vec{
	unit(vec{0.5377, 0.1834, 0.8259}), unit(vec{-0.3192, 0.8622, -0.4034}), unit(vec{0.2769, -0.7714, -0.5634}),
	unit(vec{-0.8655, -0.2077, 0.4397}), unit(vec{0.1271, 0.9134, 0.3871}),
}

// contains reports whether p lies in the material of a closed shape: where the winding number, counted along a ray, is not
// 0. A cavity whose surface looks inward is not material; shells that overlap are. Points on the surface may go either way.
// Where every ray meets an edge, the solid angle decides.
func (s *shape) contains(p vec) bool {
	b := s.bounds()
	if !b.holds(p) {
		return false
	}
	for _, d := range rays {
		if w, sure := s.crossings(p, d); sure {
			return w != 0
		}
	}
	return math.Abs(s.surface().Winding(p)) > 0.5
}

// crossings counts how often the ray from p along d leaves the material, less how often it enters. sure is false if the ray
// passes so near an edge that rounding might decide.
func (s *shape) crossings(p, d vec) (count int, sure bool) {
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
		for k := n.first; k < n.first+n.count; k++ {
			t := s.tri(s.at(k))
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
