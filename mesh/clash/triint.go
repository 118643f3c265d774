package clash

// meeting returns a common point of two triangles that do not lie in one plane, found where an edge of one passes through
// the other; touching counts. np, nq are their normals; hp, hq the heights of p's corners over q's plane and the other way
// round, times the length of the normals. Triangles in one plane, or without area, are left to the distances between their edges.
func meeting(p, q *tri, np, nq vec, hp, hq [3]float64) (vec, bool) {
	if apart(hp, 1e-300) || apart(hq, 1e-300) {
		return vec{}, false
	}
	for i := range 3 {
		k := (i + 1) % 3
		if x, ok := pierces(p[i], p[k], hp[i], hp[k], q, nq); ok {
			return x, true
		}
		if x, ok := pierces(q[i], q[k], hq[i], hq[k], p, np); ok {
			return x, true
		}
	}
	return vec{}, false
}

// pierces returns where segment ab, whose ends lie at heights ha and hb over the plane of t, passes through t.
func pierces(a, b vec, ha, hb float64, t *tri, n vec) (vec, bool) {
	if ha == hb || ha > 0 && hb > 0 || ha < 0 && hb < 0 {
		return vec{}, false
	}
	x := along(a, ha/(ha-hb), sub(b, a))
	if dot(n, n) == 0 || !insideEdges(x, t, n) {
		return vec{}, false
	}
	return x, true
}

// crossing reports whether two triangles meet other than side by side in one plane.
func crossing(p, q *tri) bool {
	np, nq := p.normal(), q.normal()
	_, ok := meeting(p, q, np, nq, heights(p, nq, q[0]), heights(q, np, p[0]))
	return ok
}
