package flat

import "math"

// on returns the parameter of the point of e nearest to p, and whether p lies on e within tol (mm). Within tol of an end
// the parameter is exactly 0 or 1.
func (e *Edge) on(p Pt, tol float64) (float64, bool) {
	switch {
	case p.Dist(e.P) <= tol:
		return 0, true
	case p.Dist(e.Q) <= tol:
		return 1, true
	case e.IsArc():
		v := p.Sub(e.C)
		if math.Abs(v.Len()-e.R) > tol {
			return 0, false
		}
		t := e.param(math.Atan2(v.Y, v.X))
		return t, t < 1
	}
	d := e.Q.Sub(e.P)
	t := p.Sub(e.P).Dot(d) / d.Dot(d)
	return t, t > 0 && t < 1 && math.Abs(p.Sub(e.P).Cross(d)) <= tol*d.Len()
}

// meet returns the points that a and b share within tol: end points that lie on the other edge, crossings and points of
// contact, those within tol of another left out. Edges that run along each other share the ends of the common stretch.
func meet(a, b *Edge, tol float64) []Pt {
	var out []Pt
	add := func(p Pt) {
		for _, q := range out {
			if p.Dist(q) <= tol {
				return
			}
		}
		out = append(out, p)
	}
	for _, p := range [2]Pt{a.P, a.Q} {
		if _, ok := b.on(p, tol); ok {
			add(p)
		}
	}
	for _, p := range [2]Pt{b.P, b.Q} {
		if _, ok := a.on(p, tol); ok {
			add(p)
		}
	}
	ps, n := carriers(a, b, tol)
	for _, p := range ps[:n] {
		_, onA := a.on(p, tol)
		_, onB := b.on(p, tol)
		if onA && onB {
			add(p)
		}
	}
	return out
}

// carriers returns the common points of the endless lines and full circles that carry a and b, and their number; a contact
// within tol gives one point, carriers that lie on each other none.
func carriers(a, b *Edge, tol float64) ([2]Pt, int) {
	switch {
	case !a.IsArc() && !b.IsArc():
		return lineLine(a.P, a.Q.Sub(a.P), b.P, b.Q.Sub(b.P))
	case !a.IsArc():
		return lineCircle(a.P, a.Q.Sub(a.P).Unit(), b.C, b.R, tol)
	case !b.IsArc():
		return lineCircle(b.P, b.Q.Sub(b.P).Unit(), a.C, a.R, tol)
	}
	return circleCircle(a.C, a.R, b.C, b.R, tol)
}

// lineLine returns the crossing of p + s d and q + t e, nothing for parallel lines.
func lineLine(p, d, q, e Pt) (out [2]Pt, n int) {
	det := d.Cross(e)
	if math.Abs(det) <= 1e-14*d.Len()*e.Len() {
		return out, 0
	}
	out[0] = p.Add(d.Mul(q.Sub(p).Cross(e) / det))
	return out, 1
}

// lineCircle returns where the line through p along the unit vector u meets the circle about c, in order along u.
func lineCircle(p, u, c Pt, r, tol float64) (out [2]Pt, n int) {
	foot := p.Add(u.Mul(c.Sub(p).Dot(u)))
	off := foot.Sub(c)
	h := off.Len()
	if h > r+tol {
		return out, 0
	}
	if math.Abs(h-r) <= tol {
		out[0] = c.Add(off.Unit().Mul(r))
		return out, 1
	}
	half := math.Sqrt((r - h) * (r + h))
	return [2]Pt{foot.Sub(u.Mul(half)), foot.Add(u.Mul(half))}, 2
}

// circleCircle returns where two circles meet; concentric circles never do. Measured from the smaller circle's centre, so
// that a large radius costs no digits.
func circleCircle(a Pt, ra float64, b Pt, rb, tol float64) (out [2]Pt, n int) {
	if ra > rb {
		a, ra, b, rb = b, rb, a, ra
	}
	v := b.Sub(a)
	d := v.Len()
	if d <= tol || d > ra+rb+tol || d < math.Abs(ra-rb)-tol {
		return out, 0
	}
	u := v.Mul(1 / d)
	x := (float64((d-rb)*(d+rb)) + float64(ra*ra)) / (2 * d)
	if d >= ra+rb-tol || d <= math.Abs(ra-rb)+tol {
		out[0] = a.Add(u.Mul(math.Copysign(ra, x)))
		return out, 1
	}
	y := math.Sqrt(max(0, (ra-x)*(ra+x)))
	m := a.Add(u.Mul(x))
	return [2]Pt{m.Add(u.Left().Mul(y)), m.Sub(u.Left().Mul(y))}, 2
}
