package clash

// heights returns the heights of t's corners over the plane through o with normal n, times the length of n.
func heights(t *tri, n, o vec) [3]float64 {
	return [3]float64{dot(n, sub(t[0], o)), dot(n, sub(t[1], o)), dot(n, sub(t[2], o))}
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
