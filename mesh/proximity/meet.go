package proximity

// Crossing reports whether two triangles meet other than side by side in one plane; touching counts. Decided in floating
// point without a tolerance: a touch may be lost to rounding, where Contacts would still find it.
func Crossing(p, q *Triangle) bool {
	f, g := face{p: load(&p[0]), q: load(&p[1]), r: load(&p[2])}, face{p: load(&q[0]), q: load(&q[1]), r: load(&q[2])}
	f.n, g.n = f.normal(), g.normal()
	hp, hq := g.heights(&f), f.heights(&g)
	_, ok := meeting(&f, &g, &hp, &hq)
	return ok
}

// meeting returns a common point of two triangles that do not lie in one plane, found where an edge of one passes through
// the other; touching counts. hp, hq are the heights of p's corners over q's plane and the other way round, times the
// length of the normals. Triangles in one plane, or without area, are left to the distances between their edges.
func meeting(p, q *face, hp, hq *[3]float64) (xyz, bool) {
	if oneSided(hp) || oneSided(hq) {
		return xyz{}, false
	}
	if x, ok := pierces(p, hp, q); ok {
		return x, true
	}
	return pierces(q, hq, p)
}

// oneSided reports whether all heights lie clearly to one side.
func oneSided(h *[3]float64) bool {
	const least = 1e-300
	return h[0] >= least && h[1] >= least && h[2] >= least || h[0] <= -least && h[1] <= -least && h[2] <= -least
}

// pierces returns where an edge of p, whose corners lie at heights h over the plane of t, passes through t.
func pierces(p *face, h *[3]float64, t *face) (xyz, bool) {
	if t.n == (xyz{}) {
		return xyz{}, false
	}
	for i := range 3 {
		a, b, ha, hb := p.p, p.q, h[0], h[1]
		switch i {
		case 1:
			a, b, ha, hb = p.q, p.r, h[1], h[2]
		case 2:
			a, b, ha, hb = p.r, p.p, h[2], h[0]
		}
		if ha == hb || ha > 0 && hb > 0 || ha < 0 && hb < 0 {
			continue
		}
		if x := a.along(ha/(ha-hb), b.sub(a)); t.insideEdges(x) {
			return x, true
		}
	}
	return xyz{}, false
}
