package clash

// reading is one measurement between two shapes: their distance, or less than zero the depth of their overlap.
type reading struct {
	gap  float64
	x, y vec   // the nearest points; in an overlap, where they last touch on the way out: x of a before the shift, y on b
	a, b int32 // the triangles of x and y by the meshes' numbers; -1 on a cut face
	dir  vec   // direction of a shift of the first shape that gives more room; zero where bodies touch and nothing tells
}

// measure returns the gap between two shapes, ok false if it is limit or more. Exact on the meshes: distances within 1e-9 mm;
// for depths see penetration. Bodies that touch, or overlap by up to Touch on sides from which no short shift leads out, have
// gap 0. a must be closed.
func measure(a, b *shape, limit float64) (r reading, ok bool) {
	if len(a.tris) == 0 || len(b.tris) == 0 {
		return r, false
	}
	n, ok := distance(a, b, limit)
	ra, rb := a.bounds(), b.bounds()
	if ok && n.d <= hair || ra.meets(&rb) && (within(a, vec{}, b) || within(b, vec{}, a)) {
		moved := a.solid()
		if o, stuck := penetration(moved, b); stuck {
			return reading{gap: -o.depth, x: o.x, y: o.y, a: moved.id(o.a), b: b.id(o.b), dir: o.dir}, true
		}
	}
	if !ok {
		return r, false
	}
	r = reading{gap: n.d, x: n.x, y: n.y, a: a.id(n.a), b: b.id(n.b), dir: unit(sub(n.x, n.y))}
	if n.d <= hair {
		r.gap, r.dir = 0, vec{}
	}
	return r, true
}

// read returns the gap of a pair between the given meshes of it, of those parts that are compared.
func (c *checker) read(p *pair, a, b *member, limit float64) (best reading, ok bool) {
	switch {
	case len(p.seats) > 0:
		return p.rest().measure(a.shape().without(p.columns()), limit)
	case p.rel != atTangent:
		return measure(a.shape(), b.shape(), limit)
	}
	for _, p := range c.tangentParts(a, b) {
		if r, found := measure(p[0], p[1], limit); found && (!ok || r.gap < best.gap) {
			best, ok = r, true
			limit = max(r.gap, hair)
		}
	}
	return best, ok
}
