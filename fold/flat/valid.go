package flat

// selfMeet returns the first place where a loop crosses or touches itself: the index of the edge and the point.
func selfMeet(l Loop) (int, Pt, bool) {
	n := len(l)
	at, where, found := n, Pt{}, false
	selfPairs(l, func(i, j int) {
		if found && i > at {
			return
		}
		for _, p := range meet(&l[i], &l[j], Snap) {
			if j == i+1 && p.Dist(l[i].Q) <= Snap || i == 0 && j == n-1 && p.Dist(l[i].P) <= Snap {
				continue // neighbours share an end
			}
			if !found || i < at {
				at, where, found = i, p, true
			}
		}
	})
	return at, where, found
}

// Meet returns a point that the borders of two loops have in common within Snap, and whether there is one.
func Meet(a, b Loop) (Pt, bool) {
	var at Pt
	found := false
	if !a.Box().Grow(Snap).Meets(b.Box()) {
		return at, false
	}
	pairs(a, b, func(i, j int) {
		if found {
			return
		}
		if ps := meet(&a[i], &b[j], Snap); len(ps) > 0 {
			at, found = ps[0], true
		}
	})
	return at, found
}
