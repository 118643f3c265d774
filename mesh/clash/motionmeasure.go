package clash

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
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
		if moves > finest && l.low < goal && !l.contact {
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
	if goal+p.track.b.grows < -Touch-hair {
		return s.lowOfPressed(p, at, goal, l)
	}
	if low, ok := s.lowOfStraight(p, at, goal, l, vec{}); ok {
		return low
	}
	if s.banded(p, at.mid(), l.gap-goal) {
		return min(l.gap, s.lowOfBands(p, at.mid()))
	}
	return math.Inf(-1)
}

// lowOfPressed bounds the gaps of an interval for a body that presses into its seats: it goes no deeper than it may where it
// would keep clear if it were lifted off a seat by as much.
func (s *search) lowOfPressed(p *spell, at moments, goal float64, l *look) float64 {
	t := p.track
	for _, away := range t.away {
		lift := away.Mul(-t.required - t.b.grows)
		if low, ok := s.lowOfStraight(p, at, goal, l, lift); ok {
			return low
		}
	}
	return math.Inf(-1)
}

// weigh finds out what a gap means at its moment.
func (w *sweeper) weigh(n *instant, t *track, l *look) {
	slack := rounding(t.a.member, t.b.member)
	if t.presses {
		slack += Touch
	}
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
		if p.empty() {
			continue
		}
		q := p.query
		if q == nil {
			q = p.ask()
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
			w.seeOverlap(t, p, bFromA, b, (*part).crosses, &l)
		} else if meet && !p.open {
			w.seeOverlap(t, p, bFromA, b, (*part).swallows, &l)
		}
		if l.contact {
			break
		}
	}
	l.gap -= t.b.grows
	return l
}

// seeOverlap finds out whether a part of a overlaps b, and how deep where that matters.
func (w *sweeper) seeOverlap(t *track, p *part, bFromA, housingFromB mgl64.Mat4, overlaps func(p *part, bFromA mgl64.Mat4) (bool, int), l *look) {
	share, work := overlaps(p, bFromA)
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
		w.seeDepth(t, p, bFromA, housingFromB, max(0, -least-t.b.grows), l)
	}
}

// seeDepth finds out how deep a part of a overlaps b, if it may as deep as allowed and somewhat deeper; of a track whose gaps are
// none of the smallest it may be only that it is no deeper.
func (w *sweeper) seeDepth(t *track, p *part, bFromA, housingFromB mgl64.Mat4, allowed float64, l *look) {
	if t.quiet && allowed > 0 && slices.ContainsFunc(t.away, func(away vec) bool { return p.clearOff(bFromA, away.Mul(allowed)) }) {
		l.gap, l.contact = -allowed, false
		return
	}
	l.gap = -allowed - 2*Touch
	if o, ok := p.penetration(bFromA, allowed+2*Touch); ok {
		l.overlapWork += beyond(o.spent, usualFaces)
		l.gap = -o.depth
		l.x, l.y = fold.Apply(housingFromB, o.x), fold.Apply(housingFromB, o.y)
	}
	l.contact = l.gap < -allowed
}

// clearOff reports whether a, lifted by a shift in its own frame, is clear of b, or no deeper in it than Touch.
func (p *part) clearOff(bFromA mgl64.Mat4, lift vec) bool {
	lifted := bFromA.Mul4(mgl64.Translate3D(lift.Elem()))
	q := p.ask()
	q.Place(lifted, mgl64.Ident4())
	if near, ok := q.Distance(2 * hair); ok && near.D <= hair {
		share, _ := p.crosses(lifted)
		return !share
	}
	in, _ := p.swallows(lifted)
	return p.open || !in
}

// penetration returns the least shift of a that separates both, in the frame of b; ok false if it is longer than most.
func (p *part) penetration(bFromA mgl64.Mat4, most float64) (overlap, bool) {
	a := moved(p.a, bFromA).solid()
	left := p.left
	switch {
	case left == nil && len(p.b.tris) <= fewFaces:
		return penetrationTo(a, p.b, most, touchEffort)
	case left == nil:
		left = &rest{of: p.b, cut: &shape{}}
	}
	room := a.box.grow((farther + 1) * most)
	return penetrationTo(a, left.near(&room), most, touchEffort)
}

// measure returns the gap between both surfaces, depth and all, in the frame of b; most bounds the work for a depth.
func (p *part) measure(bFromA mgl64.Mat4, most int) (reading, bool) {
	a := moved(p.a, bFromA)
	if p.left != nil {
		return p.left.measure(a, math.Inf(1), most)
	}
	return measureWith(a, p.b, math.Inf(1), most)
}

// crosses reports whether two bodies whose surfaces meet share space deeper than Touch: whether no shift by Touch along any of
// some directions separates them; see penetration. So they are taken to do where finding out takes more than touchEffort. The
// shapes may be parts; of an open part a's material is not asked. work is how many pairs of triangles were compared.
func (p *part) crosses(bFromA mgl64.Mat4) (share bool, work int) {
	a, b := moved(p.a, bFromA), p.b
	if p.left != nil {
		room := a.box.grow(3 * Touch)
		b = p.left.near(&room)
	}
	if !p.open {
		a = a.solid()
	}
	m := &mover{a: a, b: b, small: a.shrunk(Touch), reach: Touch, most: touchEffort}
	if stuck := m.stuck(); !stuck || p.open && len(m.cross) == 0 {
		return false, m.tested + m.spent
	}
	for _, d := range m.directions() {
		if w := (walk{view: newView(d)}); m.advance(&w, Touch) && w.last.depth <= Touch+hair {
			return false, m.tested + m.spent
		}
	}
	return true, m.tested + m.spent
}

// swallows reports whether one of two bodies whose surfaces do not meet lies in the material of the other. What columns leave of
// b is asked in two parts: the pieces that they do not reach, and those that they cut. work is how many triangles were asked.
func (p *part) swallows(bFromA mgl64.Mat4) (in bool, work int) {
	if in, work = liesIn(p.a.connected(), p.a.points, p.b, bFromA); in {
		return true, work
	}
	pieces := p.b.connected
	if p.left != nil && p.b != p.left.cut {
		pieces = func() []piece { return p.left.whole }
	}
	in, more := liesIn(pieces(), p.b.points, p.a, fold.Invert(bFromA))
	return in, work + more
}

// liesIn reports whether one of some connected pieces lies in the material of b; see lies. work is how many triangles were asked.
func liesIn(pieces []piece, points []vec, b *shape, bFromA mgl64.Mat4) (in bool, work int) {
	if b.whole != nil {
		b = b.whole
	}
	if !b.closed {
		return false, 0
	}
	room := b.bounds()
	for _, p := range pieces {
		work++
		if moved := placedBox(&p.box, bFromA); !room.meets(&moved) {
			continue
		}
		in, asked := b.holds(fold.Apply(bFromA, points[p.point]))
		if work += asked; in {
			return true, work
		}
	}
	return false, work
}
