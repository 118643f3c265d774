package proximity

import "math"

// loaded is a leaf in work: its triangles in the frame of b.
type loaded struct {
	which        int32 // -1: none
	first, count int32 // in the order of the leaves
	faces        [leafSize]face
}

// load fetches a leaf of s, moved by m unless that is nil.
func (l *loaded) load(s *Surface, which int32, m *rigid) {
	if l.which == which {
		return
	}
	first, end := s.leaf(which)
	l.which, l.first, l.count = which, first, end-first
	for i, id := range s.ids[first:end] {
		c, t := &l.faces[i&3], &s.tris[id]
		c.p, c.q, c.r = load(&s.points[t[0]]), load(&s.points[t[1]]), load(&s.points[t[2]])
		if m != nil {
			c.p, c.q, c.r = m.carry(c.p), m.carry(c.q), m.carry(c.r)
		}
		c.wrap()
		c.ready = false
	}
}

// reaches reports whether a triangle comes nearer than limit to the box and to the slab of a node.
func (c *face) reaches(x *node, limit float64) bool {
	if c.lo.x-x.c.x >= x.d.x+limit || x.c.x-c.hi.x >= x.d.x+limit ||
		c.lo.y-x.c.y >= x.d.y+limit || x.c.y-c.hi.y >= x.d.y+limit ||
		c.lo.z-x.c.z >= x.d.z+limit || x.c.z-c.hi.z >= x.d.z+limit {
		return false
	}
	f, g, h := x.n.dot(c.p.sub(x.c)), x.n.dot(c.q.sub(x.c)), x.n.dot(c.r.sub(x.c))
	return min(f, g, h)-x.hi < limit && x.lo-max(f, g, h) < limit
}

// fetch loads a pair of leaves and returns which triangles of a's come nearer than limit to what is known of b's, as bits. It
// does not load one that no triangle of the other reaches.
func (q *Query) fetch(a, b int32, limit float64) (some uint) {
	q.leafA.move(&q.a.levels[0][a/wide], a, &q.backA)
	q.leafB.move(&q.b.levels[0][b/wide], b, q.backB)
	if q.pa.which != a && q.pb.which == b && q.pb.reaching(&q.leafA, limit) == 0 {
		return 0
	}
	var m *rigid
	if q.move != still {
		m = &q.move
	}
	q.pa.load(q.a, a, m)
	if some = q.pa.reaching(&q.leafB, limit); some == 0 {
		return 0
	}
	q.pb.load(q.b, b, nil)
	if q.pb.reaching(&q.leafA, limit) == 0 {
		return 0
	}
	return some
}

// reaching returns which triangles come nearer than limit to a node, as bits.
func (l *loaded) reaching(x *node, limit float64) (some uint) {
	for i := range l.count {
		if l.faces[i&3].reaches(x, limit) {
			some |= 1 << i
		}
	}
	return some
}

// leaves compares all triangles of two leaves.
func (q *Query) leaves(a, b int32) {
	q.count++
	some := q.fetch(a, b, q.limit)
	for i := range q.pa.count {
		if some>>i&1 == 0 {
			continue
		}
		for j := range q.pb.count {
			q.faces(&q.pa.faces[i&3], &q.pb.faces[j&3], q.pa.first+i, q.pb.first+j)
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
	if p.beyond(r, q.limit) || r.beyond(p, q.limit) || p.before(r, q.way, q.limit) {
		return
	}
	n := nearest{d2: q.bound}
	if n.compare(p, r); n.d2 < q.bound {
		q.best = near{math.Sqrt(n.d2), i, j, n.x.vec(), n.y.vec()}
		if n.d2 > 0 {
			q.way = n.y.sub(n.x).unit()
		}
		q.tighten()
	}
}

// before reports whether o lies at least limit farther along the direction n than c.
func (c *face) before(o *face, n xyz, limit float64) bool {
	return min(n.dot(o.p), n.dot(o.q), n.dot(o.r))-max(n.dot(c.p), n.dot(c.q), n.dot(c.r)) >= limit
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
