package clash

import "math"

// triDistance returns the distance between two triangles and a point of each that lie that far apart; 0 and a common point
// if they meet. Distances of limit or more may be reported as infinite. Exact up to rounding, about 1e-14 of the
// coordinates; triangles without area count as the segments they are.
//
// The nearest points of two triangles that do not cross lie on a corner and a face, or on two edges.
func triDistance(p, q *tri, limit float64) (float64, vec, vec) {
	np, nq := p.normal(), q.normal()
	hq, hp := heights(q, np, p[0]), heights(p, nq, q[0])
	if apart(hq, limit*length(np)) || apart(hp, limit*length(nq)) {
		return math.Inf(1), vec{}, vec{}
	}
	if x, ok := meeting(p, q, np, nq, hp, hq); ok {
		return 0, x, x
	}
	best := nearest{d2: math.Inf(1)}
	for i := range 3 {
		best.face(p[i], q, nq, hp[i], false)
		best.face(q[i], p, np, hq[i], true)
		for j := range 3 {
			x, y := segments(p[i], p[(i+1)%3], q[j], q[(j+1)%3])
			best.offer(x, y)
		}
	}
	return math.Sqrt(best.d2), best.x, best.y
}

// nearest keeps the nearest pair of points offered.
type nearest struct {
	d2   float64
	x, y vec
}

func (b *nearest) offer(x, y vec) {
	d := sub(x, y)
	if d2 := dot(d, d); d2 < b.d2 {
		*b = nearest{d2, x, y}
	}
}

// face offers point p and its foot on triangle t with normal n, if the foot lies in it; h is the height of p over t's plane
// times the length of n.
func (b *nearest) face(p vec, t *tri, n vec, h float64, swapped bool) {
	n2 := dot(n, n)
	if n2 == 0 {
		return
	}
	foot := along(p, -h/n2, n)
	if !insideEdges(foot, t, n) {
		return
	}
	if swapped {
		b.offer(foot, p)
	} else {
		b.offer(p, foot)
	}
}

// insideEdges reports whether a point in the plane of t lies within its three edges, borders included.
func insideEdges(p vec, t *tri, n vec) bool {
	for i := range 3 {
		a, b := t[i], t[(i+1)%3]
		if dot(cross(sub(b, a), sub(p, a)), n) < 0 {
			return false
		}
	}
	return true
}

// heights returns the heights of t's corners over the plane through o with normal n, times the length of n.
func heights(t *tri, n, o vec) [3]float64 {
	return [3]float64{dot(n, sub(t[0], o)), dot(n, sub(t[1], o)), dot(n, sub(t[2], o))}
}

// apart reports whether all three heights are at least limit, to the same side.
func apart(h [3]float64, limit float64) bool {
	if limit == 0 {
		return false
	}
	return min(h[0], h[1], h[2]) >= limit || max(h[0], h[1], h[2]) <= -limit
}

// segments returns the nearest points of segments ab and cd (Ericson, Real-Time Collision Detection, 2005, section 5.1.9).
// Near-parallel segments are decided by their ends, so that a small determinant costs no digits.
func segments(a, b, c, d vec) (vec, vec) {
	u, v, w := sub(b, a), sub(d, c), sub(a, c)
	uu, vv, uv, uw, vw := dot(u, u), dot(v, v), dot(u, v), dot(u, w), dot(v, w)
	if uu == 0 {
		return a, along(c, clamp(vw, vv), v)
	}
	if vv == 0 {
		return along(a, clamp(-uw, uu), u), c
	}
	det := float64(uu*vv) - float64(uv*uv)
	if det > 1e-9*float64(uu*vv) {
		s := clamp(float64(uv*vw)-float64(uw*vv), det)
		y := along(c, clamp(float64(uv*s)+vw, vv), v)
		return along(a, clamp(dot(u, sub(y, a)), uu), u), y
	}
	best := nearest{d2: math.Inf(1)}
	best.offer(a, along(c, clamp(vw, vv), v))
	best.offer(b, along(c, clamp(vw+uv, vv), v))
	best.offer(along(a, clamp(-uw, uu), u), c)
	best.offer(along(a, clamp(uv-uw, uu), u), d)
	return best.x, best.y
}

// clamp returns n/d within 0 and 1; 0 for d = 0.
func clamp(n, d float64) float64 {
	switch {
	case n <= 0 || d == 0:
		return 0
	case n >= d:
		return 1
	}
	return n / d
}
