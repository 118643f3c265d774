package clash

// reading is one measurement between two shapes: their distance, or less than zero the depth of their overlap.
type reading struct {
	gap  float64
	x, y vec   // the nearest points; in an overlap, where they last touch on the way out: x of a before the shift, y on b
	a, b int32 // the triangles of x and y by the meshes' numbers; -1 on a cut face
	dir  vec   // direction of a shift of the first shape that gives more room; zero where bodies touch and nothing tells

	spent int  // pairs of triangles compared for a depth
	rough bool // the depth is that of a way out, which may not be the shortest
}

// measure returns the gap between two shapes, ok false if it is limit or more. Exact on the meshes: distances within 1e-9 mm;
// for depths see penetration. Bodies that touch, or overlap by up to Touch on sides from which no short shift leads out, have
// gap 0. a must be closed.
func measure(a, b *shape, limit float64) (r reading, ok bool) {
	return measureWith(a, b, limit, plenty)
}

// measureWith is measure with a bound on how many pairs of triangles are compared for a depth; see penetration.
func measureWith(a, b *shape, limit float64, most int) (r reading, ok bool) {
	if len(a.tris) == 0 || len(b.tris) == 0 {
		return r, false
	}
	n, ok := distance(a, b, limit)
	ra, rb := a.bounds(), b.bounds()
	if ok && n.d <= hair || ra.meets(&rb) && (within(a, vec{}, b) || within(b, vec{}, a)) {
		moved := a.solid()
		o, stuck := penetration(moved, b, most)
		if stuck {
			return reading{gap: -o.depth, x: o.x, y: o.y, a: moved.id(o.a), b: b.id(o.b), dir: o.dir, spent: o.spent, rough: o.rough}, true
		}
		r.spent = o.spent
	}
	if !ok {
		return r, false
	}
	r = reading{gap: n.d, x: n.x, y: n.y, a: a.id(n.a), b: b.id(n.b), dir: unit(sub(n.x, n.y)), spent: r.spent}
	if n.d <= hair {
		r.gap, r.dir = 0, vec{}
	}
	return r, true
}

// read returns the gap of a pair between the given meshes of it, of those parts that are compared.
func (c *checker) read(p *pair, a, b *member, limit float64) (best reading, ok bool) {
	best, ok = c.readWith(p, a, b, limit, c.effort.most())
	c.effort.spend(p, &best)
	return best, ok
}

// readWith is read with a bound on the work for a depth; see measureWith.
func (c *checker) readWith(p *pair, a, b *member, limit float64, most int) (best reading, ok bool) {
	switch {
	case len(p.seats) > 0:
		return p.rest().measure(a.shape().without(p.columns()), limit, most)
	case p.rel != atTangent:
		return measureWith(a.shape(), b.shape(), limit, most)
	}
	for _, p := range c.tangentParts(a, b) {
		r, found := measureWith(p[0], p[1], limit, most)
		r.spent += best.spent
		best.spent = r.spent
		if found && (!ok || r.gap < best.gap) {
			best, ok = r, true
			limit = max(r.gap, hair)
		}
	}
	return best, ok
}
