package flat

import (
	"fmt"
	"math"
)

// fillet rounds the corner between two edges: the arc, and where it leaves the first edge and joins the second (their
// parameters). The zero value rounds nothing.
type fillet struct {
	arc  Edge
	a, b float64
	ok   bool
}

// fillets returns the rounding at the end of each edge.
func fillets(items []Vertex, index []int, segs []Edge) ([]fillet, []BuildError) {
	var errs []BuildError
	out := make([]fillet, len(items))
	for i, v := range items {
		if v.Round <= 0 {
			continue
		}
		a, b := segs[i], segs[(i+1)%len(segs)]
		if math.Abs(a.Tangent(1).Cross(b.Tangent(0))) < 1e-9 {
			errs = append(errs, BuildError{index[i], fmt.Sprintf("the corner at %v is straight or turns right back: nothing to round", v.P), "leave the third number out"})
			continue
		}
		f := roundCorner(a, b, v.Round)
		switch {
		case !f.ok:
			most := largest(func(k float64) bool { return roundCorner(a, b, k*v.Round).ok })
			errs = append(errs, BuildError{index[i], fmt.Sprintf("the corner at %v cannot be rounded with radius %s: the edges beside it are too short", v.P, Num(v.Round)),
				fmt.Sprintf("at most %s fits", down(most*v.Round))})
		case f.arc.Len() <= Snap:
			errs = append(errs, BuildError{index[i], fmt.Sprintf("radius %g leaves nothing to see of the rounding at %v", v.Round, v.P), "leave the third number out"})
		}
		out[i] = f
	}
	return out, errs
}

// largest returns the largest k in [0, 1] with ok(k), by bisection; ok holds from 0 up to some k.
func largest(ok func(float64) bool) float64 {
	lo, hi := 0.0, 1.0
	for range 50 {
		mid := (lo + hi) / 2
		if ok(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// down prints a length rounded down to 0.0001, so that the printed number still fits.
func down(v float64) string { return Num(math.Floor(v*1e4+1e-6) / 1e4) }

// roundCorner returns the circle of radius r on the inner side of the turn from a to b that touches both with the
// shortest trim. Works for lines and arcs in any pairing.
func roundCorner(a, b Edge, r float64) fillet {
	side := 1.0
	if a.Tangent(1).Cross(b.Tangent(0)) < 0 {
		side = -1
	}
	best, cost := fillet{}, math.Inf(1)
	centres, n := offsetMeets(a, b, side*r)
	for _, c := range centres[:n] {
		ta, pa, okA := foot(a, c, side*r)
		tb, pb, okB := foot(b, c, side*r)
		if !okA || !okB {
			continue
		}
		if trim := float64((1-ta)*a.Len()) + float64(tb*b.Len()); trim < cost {
			best, cost = fillet{arcAbout(pa, pb, c, side > 0), ta, tb, true}, trim
		}
	}
	return best
}

// offsetMeets returns the points at signed distance d to the left of both carriers.
func offsetMeets(a, b Edge, d float64) ([2]Pt, int) {
	switch {
	case !a.IsArc() && !b.IsArc():
		ua, ub := a.Tangent(0), b.Tangent(0)
		return lineLine(a.P.Add(ua.Left().Mul(d)), ua, b.P.Add(ub.Left().Mul(d)), ub)
	case !a.IsArc():
		u := a.Tangent(0)
		return lineCircle(a.P.Add(u.Left().Mul(d)), u, b.C, math.Abs(offsetRadius(b, d)), Snap)
	case !b.IsArc():
		u := b.Tangent(0)
		return lineCircle(b.P.Add(u.Left().Mul(d)), u, a.C, math.Abs(offsetRadius(a, d)), Snap)
	}
	return circleCircle(a.C, math.Abs(offsetRadius(a, d)), b.C, math.Abs(offsetRadius(b, d)), Snap)
}

// offsetRadius returns the signed radius of an arc moved d to its left; below zero it has turned inside out.
func offsetRadius(e Edge, d float64) float64 { return e.R - d*math.Copysign(1, e.Sweep) }

// foot returns where the circle about c with signed radius d touches e: parameter and point, and whether that is on e.
func foot(e Edge, c Pt, d float64) (float64, Pt, bool) {
	slack := Snap / max(e.Len(), Snap)
	if !e.IsArc() {
		v := e.Q.Sub(e.P)
		t := c.Sub(e.P).Dot(v) / v.Dot(v)
		return t, e.P.Add(v.Mul(t)), t > -slack && t < 1+slack
	}
	v := c.Sub(e.C)
	if offsetRadius(e, d) < 0 {
		v = v.Mul(-1)
	}
	t := e.param(math.Atan2(v.Y, v.X))
	if full := 2 * math.Pi / math.Abs(e.Sweep); t > full-slack {
		t -= full
	}
	return t, e.C.Add(v.Unit().Mul(e.R)), t > -slack && t < 1+slack
}

// trim cuts the edges back to the roundings and joins all to a loop; owner tells for each edge the item it came from.
func trim(items []Vertex, index []int, segs []Edge, fs []fillet) (Loop, []int, []BuildError) {
	var errs []BuildError
	var out Loop
	var owner []int
	n := len(items)
	for i, e := range segs {
		before := fs[(i+n-1)%n]
		t0, t1, p, q := 0.0, 1.0, e.P, e.Q
		if before.ok {
			t0, p = before.b, before.arc.Q
		}
		if fs[i].ok {
			t1, q = fs[i].a, fs[i].arc.P
		}
		if over := (t0 - t1) * e.Len(); over > Snap {
			errs = append(errs, overlapError(items, index, segs, i, over))
			continue
		} else if over < -Snap {
			for _, part := range halves(e.Part(t0, t1, p, q)) {
				out, owner = append(out, part), append(owner, index[i])
			}
		}
		if fs[i].ok {
			out, owner = append(out, fs[i].arc), append(owner, index[i])
		}
	}
	for i := range out {
		prev := out[(i+len(out)-1)%len(out)]
		if out[i].P.Dist(prev.Q) <= 2*Snap {
			out[i].P = prev.Q
			out[i] = out[i].fitted()
		}
	}
	return out, owner, errs
}

// halves returns e, in two halves if it is an arc too long to be snapped (see Edge.fitted).
func halves(e Edge) []Edge {
	if !e.IsArc() || !e.isLong() {
		return []Edge{e}
	}
	m := e.Mid()
	return []Edge{{e.P, m, e.C, e.R, e.Sweep / 2}, {m, e.Q, e.C, e.R, e.Sweep / 2}}
}

// overlapError reports two roundings that overlap on edge i, and the largest radius that both may have.
func overlapError(items []Vertex, index []int, segs []Edge, i int, over float64) BuildError {
	n := len(items)
	prev, next := (i+n-1)%n, (i+1)%n
	most := largest(func(k float64) bool {
		a, b := 0.0, 1.0
		if f := roundCorner(segs[prev], segs[i], k*items[prev].Round); f.ok {
			a = f.b
		}
		if f := roundCorner(segs[i], segs[next], k*items[i].Round); f.ok {
			b = f.a
		}
		return a <= b
	})
	return BuildError{index[i],
		fmt.Sprintf("the roundings at %v (radius %s) and %v (radius %s) overlap by %.4f on the edge between them", items[prev].P, Num(items[prev].Round), items[i].P, Num(items[i].Round), over),
		fmt.Sprintf("at most radius %s and %s fit", down(most*items[prev].Round), down(most*items[i].Round))}
}
