package proximity

import "math"

// loaded is a leaf in work: its triangles in the frame of b.
type loaded struct {
	which  int32 // -1: none
	count  int
	n      xyz // the slab
	lo, hi float64
	boxed  bool // bounds and the boxes of faces are set
	bounds box
	faces  [leafSize]face
}

// load fetches a leaf of s, moved by m unless that is nil; back is the motion from the frame of s's boxes to where it goes.
func (l *loaded) load(s *Surface, which int32, m, back *rigid) {
	if l.which == which {
		return
	}
	first, end := s.leaf(which)
	l.which, l.count = which, int(end-first)
	g, j := &s.levels[0][which/wide], which%wide
	n := load(&g.n[j])
	l.n = back.spin(n)
	shift := n.dot(xyz{g.x[j], g.y[j], g.z[j]}) + l.n.dot(load(&back.t))
	l.lo, l.hi = g.lo[j]+shift, g.hi[j]+shift
	l.boxed = false
	for i, id := range s.ids[first:end] {
		c, t := &l.faces[i&3], &s.tris[id]
		c.p, c.q, c.r = load(&s.points[t[0]]), load(&s.points[t[1]]), load(&s.points[t[2]])
		if m != nil {
			c.p, c.q, c.r = m.carry(c.p), m.carry(c.q), m.carry(c.r)
		}
		c.ready = false
	}
}

// wrap sets the boxes.
func (l *loaded) wrap() {
	if l.boxed {
		return
	}
	l.boxed, l.bounds = true, emptyBox()
	for i := range l.count {
		c := &l.faces[i&3]
		c.wrap()
		l.bounds.with(c.lo)
		l.bounds.with(c.hi)
	}
}

// clear returns by how much the slab of l parts the two leaves; less than zero if it does not.
func (l *loaded) clear(o *loaded) float64 {
	n := l.n
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range o.count {
		c := &o.faces[i&3]
		f, g, h := n.dot(c.p), n.dot(c.q), n.dot(c.r)
		lo, hi = min(lo, f, g, h), max(hi, f, g, h)
	}
	return max(lo-l.hi, l.lo-hi)
}

// fetch loads a pair of leaves and reports whether their slabs leave them nearer than limit.
func (q *Query) fetch(a, b int32, limit float64) bool {
	var m *rigid
	if q.move != still {
		m = &q.move
	}
	q.pa.load(q.a, a, m, &q.backA)
	q.pb.load(q.b, b, nil, &q.backB)
	if q.pb.clear(&q.pa) >= limit || q.pa.clear(&q.pb) >= limit {
		return false
	}
	q.pa.wrap()
	q.pb.wrap()
	return true
}

// leaves compares all triangles of two leaves.
func (q *Query) leaves(a, b int32) {
	if !q.fetch(a, b, q.limit) {
		return
	}
	i0, _ := q.a.leaf(a)
	j0, _ := q.b.leaf(b)
	for i := range q.pa.count {
		p := &q.pa.faces[i&3]
		if !p.within(&q.pb.bounds, q.bound) {
			continue
		}
		for j := range q.pb.count {
			q.faces(p, &q.pb.faces[j&3], i0+int32(i), j0+int32(j))
		}
	}
}

// faces compares two triangles, whose numbers are i and j.
func (q *Query) faces(p, r *face, i, j int32) {
	if !p.within(&r.box, q.bound) || q.skips(i, j) {
		return
	}
	p.finish()
	r.finish()
	if p.beyond(r, q.limit) || r.beyond(p, q.limit) {
		return
	}
	n := nearest{d2: q.bound}
	if n.compare(p, r); n.d2 < q.bound {
		q.best = near{math.Sqrt(n.d2), i, j, n.x.vec(), n.y.vec()}
		q.tighten()
	}
}

// within reports whether two boxes are nearer than bound, squared.
func (b *box) within(o *box, bound float64) bool {
	x := max(b.lo.x-o.hi.x, o.lo.x-b.hi.x, 0)
	y := max(b.lo.y-o.hi.y, o.lo.y-b.hi.y, 0)
	z := max(b.lo.z-o.hi.z, o.lo.z-b.hi.z, 0)
	return float64(x*x)+float64(y*y)+float64(z*z) < bound
}

// tryAgain takes the nearest pair of the last search for a first bound.
func (q *Query) tryAgain(i, j int32) {
	a, b := q.a.tri(i), q.b.tri(j)
	if q.move != still {
		a[0], a[1], a[2] = q.move.apply(a[0]), q.move.apply(a[1]), q.move.apply(a[2])
	}
	f, g := faceOf(&a), faceOf(&b)
	f.wrap()
	g.wrap()
	q.faces(&f, &g, i, j)
}
