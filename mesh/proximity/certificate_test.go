package proximity

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Triangles of all shapes, with widths down to 1e-8 of a mm, nearly parallel edges that pass each other, nearly parallel planes
// and nearly common corners. The points named must lie on the triangles, and no direction may part the triangles by less than
// the distance said: together that proves it, and shares no code with it.
func TestTriangleDistanceProven(t *testing.T) {
	r := rand.New(rand.NewPCG(91, 2))
	for n := range 20000 {
		p, q := nastyTriangle(r), nastyTriangle(r)
		placeNastily(r, &p, &q)
		d, x, y := TriangleDistance(&p, &q, math.Inf(1))
		if off := max(toTriangle(x, &p), toTriangle(y, &q), math.Abs(length(sub(x, y))-d)); off > 1e-11 {
			t.Fatalf("pair %d: the nearest points lie %v off: %v %v", n, off, p, q)
		}
		// Rounding of the points turns the direction between them by that over d, which takes off so much over their extent.
		long := extent(&p, &q)
		if least := parting(&p, &q, x, y); d > least+1e-10+2e-15*long*long/d {
			t.Fatalf("pair %d: distance %v, shown only %v: %v %v", n, d, least, p, q)
		}
	}
}

// nastyTriangle returns a triangle of 1 to 100 mm: whole, or a sliver with its third corner near the first edge, or near its end.
func nastyTriangle(r *rand.Rand) (t Triangle) {
	at := func(s float64) vec { return vec{s * r.NormFloat64(), s * r.NormFloat64(), s * r.NormFloat64()} }
	long, width := math.Pow(10, 2*r.Float64()), math.Pow(10, -8*r.Float64())
	t[0] = at(long)
	t[1] = add(t[0], at(long))
	switch r.IntN(3) {
	case 0:
		t[2] = add(t[0], at(long))
	case 1:
		t[2] = add(along(t[0], r.Float64(), sub(t[1], t[0])), at(width))
	default:
		t[2] = add(t[0], at(width))
	}
	k := r.IntN(3)
	return Triangle{t[k], t[(k+1)%3], t[(k+2)%3]}
}

// placeNastily moves q beside p: anywhere, or past one of its edges, or over it in a parallel plane, or to a common corner.
func placeNastily(r *rand.Rand, p, q *Triangle) {
	u, v := sub(p[1], p[0]), sub(p[2], p[0])
	switch r.IntN(4) {
	case 1:
		turn := math.Pow(10, -9*r.Float64())
		w := add(u, vec{turn * r.NormFloat64(), turn * r.NormFloat64(), turn * r.NormFloat64()})
		n := unit(cross(w, vec{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}))
		pass := along(along(p[0], r.Float64(), u), math.Pow(10, -5*r.Float64()), n)
		third := sub(q[2], q[0])
		q[0] = along(pass, -r.Float64(), w)
		q[1], q[2] = add(q[0], w), add(q[0], third)
	case 2:
		n, h := unit(cross(u, v)), math.Pow(10, -6*r.Float64())
		for i := range q {
			q[i] = along(along(along(p[0], r.NormFloat64(), u), r.NormFloat64(), v), h, n)
		}
	case 3:
		d := sub(p[r.IntN(3)], q[r.IntN(3)])
		for i := range q {
			q[i] = add(q[i], d)
		}
	}
}

// parting returns the greatest width between the triangles among directions that may part them most, counted from x.
func parting(p, q *Triangle, x, y vec) (best float64) {
	ways := []vec{sub(y, x), p.Normal(), q.Normal()}
	for i := range 3 {
		for j := range 3 {
			ways = append(ways, cross(sub(p[(i+1)%3], p[i]), sub(q[(j+1)%3], q[j])))
		}
	}
	for _, w := range ways {
		w = unit(w)
		f := [3]float64{dot(w, sub(p[0], x)), dot(w, sub(p[1], x)), dot(w, sub(p[2], x))}
		g := [3]float64{dot(w, sub(q[0], x)), dot(w, sub(q[1], x)), dot(w, sub(q[2], x))}
		best = max(best, min(g[0], g[1], g[2])-max(f[0], f[1], f[2]), min(f[0], f[1], f[2])-max(g[0], g[1], g[2]))
	}
	return best
}

// extent returns how far the corners lie from the origin at most.
func extent(p, q *Triangle) (far float64) {
	for i := range 3 {
		far = max(far, length(p[i]), length(q[i]))
	}
	return far
}

// toTriangle returns the distance between p and t: the least of those to the sections of t along its shortest edge, a convex
// function of where the section lies.
func toTriangle(p vec, t *Triangle) float64 {
	k := 0
	side := func(i int) float64 { return length(sub(t[(i+2)%3], t[(i+1)%3])) }
	for i := range 3 {
		if side(i) < side(k) {
			k = i
		}
	}
	a, b, c := t[k], t[(k+1)%3], t[(k+2)%3]
	at := func(s float64) float64 { return toSegment(p, along(a, s, sub(b, a)), along(a, s, sub(c, a))) }
	lo, hi := 0.0, 1.0
	for range 150 {
		if x, y := lo+(hi-lo)*0.4, lo+(hi-lo)*0.6; at(x) <= at(y) {
			hi = y
		} else {
			lo = x
		}
	}
	return min(at(lo), at(hi), at(0), at(1))
}

// toSegment returns the distance between p and the segment ab.
func toSegment(p, a, b vec) float64 {
	u, t := sub(b, a), 0.0
	if l := dot(u, u); l > 0 {
		t = max(0, min(1, dot(sub(p, a), u)/l))
	}
	return length(sub(p, along(a, t, u)))
}
