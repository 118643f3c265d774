package flat

import (
	"math"
	"slices"
)

// param of the point of e nearest to p, and whether p lies on e within Snap.
func (e Edge) on(p Pt) (float64, bool) {
	switch {
	case p.Dist(e.P) <= Snap:
		return 0, true
	case p.Dist(e.Q) <= Snap:
		return 1, true
	case e.IsArc():
		v := p.Sub(e.C)
		t := e.param(math.Atan2(v.Y, v.X))
		return t, t < 1 && math.Abs(v.Len()-e.R) <= Snap
	}
	d := e.Q.Sub(e.P)
	t := p.Sub(e.P).Dot(d) / d.Dot(d)
	return t, t > 0 && t < 1 && math.Abs(p.Sub(e.P).Cross(d)) <= Snap*d.Len()
}

// meet returns the points that a and b share within Snap: end points that lie on the other edge, crossings and points of
// contact. Edges that run along each other share the end points of the common stretch.
func meet(a, b Edge) []Pt {
	var out []Pt
	add := func(p Pt) {
		for _, q := range out {
			if p.Dist(q) <= Snap {
				return
			}
		}
		out = append(out, p)
	}
	for _, p := range []Pt{a.P, a.Q} {
		if _, ok := b.on(p); ok {
			add(p)
		}
	}
	for _, p := range []Pt{b.P, b.Q} {
		if _, ok := a.on(p); ok {
			add(p)
		}
	}
	for _, p := range carriers(a, b) {
		_, onA := a.on(p)
		_, onB := b.on(p)
		if onA && onB {
			add(p)
		}
	}
	return out
}

// carriers returns the common points of the endless lines and full circles that carry a and b; a tangent within Snap
// gives one point, identical carriers none.
func carriers(a, b Edge) []Pt {
	switch {
	case !a.IsArc() && !b.IsArc():
		return lineLine(a.P, a.Q.Sub(a.P), b.P, b.Q.Sub(b.P))
	case !a.IsArc():
		return lineCircle(a.P, a.Q.Sub(a.P).Unit(), b.C, b.R)
	case !b.IsArc():
		return lineCircle(b.P, b.Q.Sub(b.P).Unit(), a.C, a.R)
	}
	return circleCircle(a.C, a.R, b.C, b.R)
}

// lineLine returns the crossing of p + s d and q + t e, nothing for parallel lines.
func lineLine(p, d, q, e Pt) []Pt {
	det := d.Cross(e)
	if math.Abs(det) <= 1e-14*d.Len()*e.Len() {
		return nil
	}
	return []Pt{p.Add(d.Mul(q.Sub(p).Cross(e) / det))}
}

// lineCircle returns where the line through p along the unit vector u meets the circle about c, in order along u.
func lineCircle(p, u, c Pt, r float64) []Pt {
	foot := p.Add(u.Mul(c.Sub(p).Dot(u)))
	off := foot.Sub(c)
	h := off.Len()
	if h > r+Snap {
		return nil
	}
	if math.Abs(h-r) <= Snap {
		return []Pt{c.Add(off.Unit().Mul(r))}
	}
	half := math.Sqrt((r - h) * (r + h))
	return []Pt{foot.Sub(u.Mul(half)), foot.Add(u.Mul(half))}
}

// circleCircle returns where two circles meet; concentric circles never do.
func circleCircle(a Pt, ra float64, b Pt, rb float64) []Pt {
	v := b.Sub(a)
	d := v.Len()
	if d <= Snap || d > ra+rb+Snap || d < math.Abs(ra-rb)-Snap {
		return nil
	}
	u := v.Mul(1 / d)
	x := (d*d + (ra-rb)*(ra+rb)) / (2 * d)
	if d >= ra+rb-Snap || d <= math.Abs(ra-rb)+Snap {
		return []Pt{a.Add(u.Mul(math.Copysign(ra, x)))}
	}
	y := math.Sqrt(max(0, (ra-x)*(ra+x)))
	m := a.Add(u.Mul(x))
	return []Pt{m.Add(u.Left().Mul(y)), m.Sub(u.Left().Mul(y))}
}

// pairs calls visit for every pair of edges, one of each list, whose boxes come within Snap, in a fixed order.
func pairs(as, bs []Edge, visit func(i, j int)) {
	boxA, boxB := boxes(as), boxes(bs)
	order := make([]int, len(bs))
	widest := 0.0
	for j := range bs {
		order[j] = j
		widest = max(widest, boxB[j].Max.X-boxB[j].Min.X)
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmpFloat(boxB[i].Min.X, boxB[j].Min.X) })
	for i := range as {
		k, _ := slices.BinarySearchFunc(order, boxA[i].Min.X-widest, func(j int, x float64) int { return cmpFloat(boxB[j].Min.X, x) })
		for ; k < len(order) && boxB[order[k]].Min.X <= boxA[i].Max.X; k++ {
			if boxA[i].Meets(boxB[order[k]]) {
				visit(i, order[k])
			}
		}
	}
}

// boxes returns the edges' bounding boxes, grown by Snap.
func boxes(es []Edge) []Box {
	out := make([]Box, len(es))
	for i, e := range es {
		out[i] = e.Box().Grow(Snap)
	}
	return out
}

func cmpFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
