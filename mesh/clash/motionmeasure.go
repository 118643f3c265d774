package clash

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/mesh/proximity"
)

// boxParts is in how many parts an interval may be divided, about, by the boxes around both bodies alone: to compare boxes costs
// much less than to measure a gap.
const boxParts = 16

// measure looks at an interval: it bounds the gap all through it by the boxes around both bodies, or from the gap in its middle.
func (s *search) measure(p *spell, at moments) look {
	moves, off := s.driftIn(p, at.mid())
	if low, ok := s.boxesTell(p, at, moves, off); ok {
		return look{low: low, moves: moves}
	}
	t, n, goal := p.track, at.mid(), s.goal(p)
	l := s.see(n, t, max(goal+moves, 0)+2*hair)
	if l.seen && t.flat == nil && t.a.body != nil && t.b.body != nil {
		t.limitTo(t.flatGap())
	}
	l.moves, l.off = moves, off
	switch {
	case t.turned:
		l.low = s.lowOfTurned(p, n, moves)
	case l.seen:
		l.low = l.gap - moves
		if moves > finest && l.low < goal && goal >= -Touch && !l.contact {
			l.low = max(l.low, s.lowOfSlow(p, at, goal, &l))
		}
	default:
		l.low = goal
	}
	if l.seen {
		s.weigh(n, t, &l)
	}
	return l
}

// boxesTell bounds the gap of an interval by the boxes around both bodies; ok is false where to measure it pays: boxes neither
// show the goal to be kept nor will for the parts of the interval.
func (s *search) boxesTell(p *spell, at moments, moves, off float64) (low float64, ok bool) {
	t, goal := p.track, s.goal(p)
	apart := at.mid().boxesApart(t) - t.b.grows
	if apart-moves >= goal {
		return apart - moves, true
	}
	if moves <= finest {
		return 0, false
	}
	if apart-off >= goal {
		if low := s.lowOfBoxes(t, at) - off; low >= goal {
			return low, true
		}
	}
	return apart - moves, moves <= boxParts*(apart-goal)
}

// lowOfSlow bounds the gaps of an interval by what slides along or hardly moves, where the bound on how far all points move says
// too little.
func (s *search) lowOfSlow(p *spell, at moments, goal float64, l *look) float64 {
	if low, ok := s.lowOfStraight(p, at, goal, l); ok {
		return low
	}
	if s.banded(p, at.mid(), l.gap-goal) {
		return min(l.gap, s.lowOfBands(p, at.mid()))
	}
	return math.Inf(-1)
}

// weigh finds out what a gap means at its moment.
func (w *sweeper) weigh(n *instant, t *track, l *look) {
	slack := rounding(t.a.member, t.b.member)
	least, nearer := w.requiredAt(n, t, l.gap), l.gap < t.flatGap()-leastShrink
	l.counts = t.countsFrom(l.gap)
	if l.contact {
		l.contact = nearer && (l.gap < least-slack || least > -Touch)
		return
	}
	l.contact = nearer && l.gap < -Touch && l.gap < least-slack
	l.short = nearer && !l.contact && max(l.gap, 0) < least-max(slack, t.chords())
}

// requiredAt returns what a track must keep at a moment at which its gap is known: within the board no more than a bend between
// its bodies leaves.
func (w *sweeper) requiredAt(n *instant, t *track, gap float64) float64 {
	if t.a.body == nil || t.b.body == nil || gap >= t.required {
		return t.required
	}
	return min(t.required, w.checkAt(n).arch(t.a.body, t.b.body))
}

// lowOfTurned bounds the gaps of an interval for a bend that turns by more than 180 degrees and its neighbour: from the
// parts of it that come behind the tangent line at any moment of the interval.
func (s *search) lowOfTurned(p *spell, n *instant, moves float64) float64 {
	goal := s.goal(p)
	from, to := s.motion.Angles(p.from), s.motion.Angles(p.to)
	for i, a := range to {
		if math.Abs(a) > math.Abs(from[i]) {
			from[i] = a
		}
	}
	l := s.seeParts(n, p.track, s.partsAt(n, p.track, from), max(goal+moves, 0)+2*hair)
	if !l.seen {
		return goal
	}
	return l.gap - moves
}

// see measures a track at a moment; nothing is seen where its gap is limit or more.
func (w *sweeper) see(n *instant, t *track, limit float64) look {
	return w.seeParts(n, t, w.partsAt(n, t, nil), limit)
}

// seeParts measures between parts of a track. Where surfaces meet, or one body lies inside the other, contact says whether
// they overlap by more than Touch; how deep is asked only where an overlap is allowed.
func (w *sweeper) seeParts(n *instant, t *track, parts []part, limit float64) (l look) {
	a, b := n.housingFromOwn(t.a), n.housingFromOwn(t.b)
	bFromA := fold.Invert(b).Mul4(a)
	limit += t.b.grows
	meet := n.boxesApart(t) < 0
	for i := range parts {
		p := &parts[i]
		q := p.query
		if q == nil {
			q = proximity.NewQuery(p.a.surface(), p.b.surface())
		}
		q.Place(a, b)
		before := q.Visited()
		near, ok := q.Distance(limit)
		l.nodes += beyond(q.Visited()-before, usualNodes)
		if ok && (!l.seen || near.D < l.gap) {
			l.seen, l.gap, l.x, l.y = true, near.D, near.X, near.Y
			limit = near.D + hair
		}
		if ok && near.D <= hair {
			w.seeOverlap(t, p, bFromA, b, crosses, &l)
		} else if meet && !p.open {
			w.seeOverlap(t, p, bFromA, b, swallows, &l)
		}
		if l.contact {
			break
		}
	}
	l.gap -= t.b.grows
	return l
}

// seeOverlap finds out whether a part of a overlaps b, and how deep where that matters.
func (w *sweeper) seeOverlap(t *track, p *part, bFromA, housingFromB mgl64.Mat4, overlaps func(a, b *shape, bFromA mgl64.Mat4, open bool) (bool, int), l *look) {
	share, work := overlaps(p.a, p.b, bFromA, p.open)
	l.overlapWork += beyond(work, usualFaces)
	if !share {
		if l.seen && l.gap <= hair {
			l.gap = 0
		}
		return
	}
	if !l.seen {
		l.x = fold.Apply(housingFromB.Mul4(bFromA), p.a.points[p.a.tris[0][0]])
		l.y = l.x
	}
	l.seen, l.contact, l.gap = true, true, -Touch*(1+1e-6)
	if least := min(t.required, t.flatGap()); least < -Touch {
		if r, ok := measureWith(moved(p.a, bFromA), p.b, math.Inf(1), touchEffort); ok {
			l.overlapWork += beyond(r.spent, usualFaces)
			l.gap = r.gap
			l.x, l.y = fold.Apply(housingFromB, r.x), fold.Apply(housingFromB, r.y)
		}
		l.contact = l.gap < least
	}
}

// crosses reports whether two bodies whose surfaces meet share space deeper than Touch: whether no shift by Touch along any of
// some directions separates them; see penetration. So they are taken to do where finding out takes more than touchEffort. The
// shapes may be parts. open says that a's material is not to be asked. work is how many pairs of triangles were compared.
func crosses(a, b *shape, bFromA mgl64.Mat4, open bool) (share bool, work int) {
	a = moved(a, bFromA)
	if !open {
		a = a.solid()
	}
	m := &mover{a: a, b: b, small: a.shrunk(Touch), reach: Touch, most: touchEffort}
	if stuck := m.stuck(); !stuck || open && len(m.cross) == 0 {
		return false, m.tested + m.spent
	}
	for _, d := range m.directions() {
		if w := (walk{view: newView(d)}); m.advance(&w, Touch) && w.last.depth <= Touch+hair {
			return false, m.tested + m.spent
		}
	}
	return true, m.tested + m.spent
}

// swallows reports whether one of two bodies whose surfaces do not meet lies in the material of the other. work is how many
// triangles were asked.
func swallows(a, b *shape, bFromA mgl64.Mat4, _ bool) (in bool, work int) {
	in, work = liesIn(a, b, bFromA)
	if in {
		return true, work
	}
	in, more := liesIn(b, a, fold.Invert(bFromA))
	return in, work + more
}

// liesIn reports whether a connected piece of a lies in the material of b; see lies.
func liesIn(a, b *shape, bFromA mgl64.Mat4) (in bool, work int) {
	if b.whole != nil {
		b = b.whole
	}
	if !b.closed {
		return false, 0
	}
	room := b.bounds()
	for _, p := range a.connected() {
		work++
		if moved := placedBox(&p.box, bFromA); !room.meets(&moved) {
			continue
		}
		in, asked := b.holds(fold.Apply(bFromA, a.points[p.point]))
		if work += asked; in {
			return true, work
		}
	}
	return false, work
}
