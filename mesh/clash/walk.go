package clash

import "math"

// walk is the way of a body along one direction: shrunk, it is known to be stuck up to the shift run. Once it has come clear,
// last is the last contact on the way, measured on the body itself, and cut bounds the room beyond that contact.
type walk struct {
	view
	run  float64
	last overlap
	cut  cut
}

// advance walks on to the shift limit and reports whether the shrunk body comes clear before; w.last is then the way out.
// Pauses between contacts of less than a hair are cracks left by rounding. When plenty pairs are compared it gives up.
func (m *mover) advance(w *walk, limit float64) bool {
	for w.run < limit {
		for before := math.Inf(-1); w.run > before && w.run < limit; {
			before = w.run
			m.push(w, limit, m.meeting(w, 0, 0))
		}
		if w.run >= limit {
			return false
		}
		next := m.pause(w, limit, m.meeting(w, 0, 0))
		if m.plenty() {
			return false
		}
		if next > w.run+hair && m.free(along(vec{}, (w.run+next)/2, w.d)) {
			m.settle(w)
			return true
		}
		w.run = next
	}
	return false
}

// meeting is two nodes and the shifts for which their boxes meet.
type meeting struct {
	i, j     int32
	from, to float64
}

// meeting returns nodes i of the shrunk body and j of the other with the shifts on w for which their boxes meet.
func (m *mover) meeting(w *walk, i, j int32) meeting {
	a, b := m.small.nodes[i].box(), m.b.nodes[j].box()
	from, to := a.during(w.d, &b)
	return meeting{i, j, from, to}
}

// halves divides the larger of two nodes; leaf is true if neither can be.
func (m *mover) halves(w *walk, at meeting) (x, y meeting, leaf bool) {
	na, nb := &m.small.nodes[at.i], &m.b.nodes[at.j]
	switch {
	case na.right == 0 && nb.right == 0:
		return x, y, true
	case nb.right == 0 || na.right != 0 && na.size() >= nb.size():
		return m.meeting(w, at.i+1, at.j), m.meeting(w, na.right, at.j), false
	}
	return m.meeting(w, at.i, at.j+1), m.meeting(w, at.i, nb.right), false
}

// push lengthens the way that the body is known to be stuck by the contacts that hold it at its end, those first that may
// hold it longest.
func (m *mover) push(w *walk, limit float64, at meeting) {
	if at.from > at.to || at.to <= w.run || at.from > w.run+hair || w.run >= limit || m.plenty() {
		return
	}
	x, y, leaf := m.halves(w, at)
	if leaf {
		m.hits(w, at, w.run, w.run+hair, func(_, _ int32, s span) {
			if s.from <= w.run+hair {
				w.run = max(w.run, s.to)
			}
		})
		return
	}
	if x.to < y.to {
		x, y = y, x
	}
	m.push(w, limit, x)
	m.push(w, limit, y)
}

// pause returns the shift at which the next contact after w.run begins, limit if none does before.
func (m *mover) pause(w *walk, limit float64, at meeting) float64 {
	if at.from > at.to || at.to <= w.run || at.from >= limit || m.plenty() {
		return limit
	}
	x, y, leaf := m.halves(w, at)
	if leaf {
		m.hits(w, at, w.run, limit, func(_, _ int32, s span) {
			if s.to > w.run {
				limit = min(limit, max(s.from, w.run))
			}
		})
		return limit
	}
	if x.from > y.from {
		x, y = y, x
	}
	return m.pause(w, m.pause(w, limit, x), y)
}

// settle finds the last contact of a body that comes clear at w.run, on the body as it is: it may end later than that of the
// shrunk body by what shrinking took away.
func (m *mover) settle(w *walk) {
	w.last = overlap{}
	m.search(w, meeting{from: math.Inf(-1), to: math.Inf(1)})
	w.last.dir = w.d
}

func (m *mover) search(w *walk, at meeting) {
	a, b := m.a.nodes[at.i].box(), m.b.nodes[at.j].box()
	from, to := a.during(w.d, &b)
	if from > to || from > w.run || to <= w.last.depth+hair/10 {
		return
	}
	x, y, leaf := m.halves(w, at)
	if leaf {
		m.hits(w, at, w.last.depth-3*m.reach, w.run, func(i, j int32, s span) {
			if s.from <= w.run && s.to+3*m.reach > w.last.depth {
				m.measure(w, i, j, s)
			}
		})
		return
	}
	if x.to < y.to {
		x, y = y, x
	}
	m.search(w, x)
	m.search(w, y)
}

// measure takes the end of a contact of the shrunk body on the body as it is for the last if it is later.
func (m *mover) measure(w *walk, i, j int32, small span) {
	p, q := m.a.tri(i), m.b.tri(j)
	fp, fq := w.flatten(&p), w.flatten(&q)
	end := small
	if s, ok := w.meet(&fp, &fq); ok {
		end = s
		end.to = min(s.to, small.to+3*m.reach)
	}
	if end.to > w.last.depth {
		w.last = overlap{depth: end.to, x: end.at, y: along(end.at, end.to, w.d), a: i, b: j}
		w.cut = end.leaving(&p, &q, w.d)
	}
}

// hits calls visit for the pairs of triangles of two leaves that meet on the way, those left out that do not between two
// shifts.
func (m *mover) hits(w *walk, at meeting, from, to float64, visit func(i, j int32, s span)) {
	na, nb := &m.small.nodes[at.i], &m.b.nodes[at.j]
	m.spent += int(na.count * nb.count)
	m.seenA.look(w, m.small, na)
	m.seenB.look(w, m.b, nb)
	for i := range m.seenA.tris {
		p := &m.seenA.tris[i]
		for j := range m.seenB.tris {
			q := &m.seenB.tris[j]
			if q.top-p.bottom <= from || q.bottom-p.top > to {
				continue
			}
			if s, ok := w.meet(p, q); ok {
				visit(m.small.at(na.first+int32(i)), m.b.at(nb.first+int32(j)), s)
			}
		}
	}
}

// seen is a leaf of a shape as seen along a direction.
type seen struct {
	d    vec
	leaf *node
	tris []flatTri
}

// look turns to a leaf, unless it is in sight already.
func (l *seen) look(w *walk, s *shape, n *node) {
	if l.leaf == n && l.d == w.d {
		return
	}
	l.d, l.leaf, l.tris = w.d, n, l.tris[:0]
	for i := range n.count {
		t := s.tri(s.at(n.first + i))
		l.tris = append(l.tris, w.flatten(&t))
	}
}
