package clash

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/mesh/proximity"
)

// Looking at all pairs of near triangles pays where the bound on how far points move would divide the interval in many parts:
// at least worthwhile of them, for up to nearEach pairs a part and mostNear in all.
const (
	worthwhile = 4
	nearEach   = 32
	mostNear   = 1 << 16
)

// moments are those at which an interval is looked at: its beginning, middle and end.
type moments [3]*instant

// mid returns the moment in the middle.
func (m *moments) mid() *instant { return m[1] }

// straight bounds the gaps of one track in an interval by straight lines. Between two moments that lie apart by h no point is
// farther from the straight line between its places than an eighth of h squared times the bound on how fast velocities
// change (see pace). So two triangles that some direction keeps apart by d at both moments keep d in between, less that for both,
// however far they slide past each other: what moves straight, or nearly, along a wall is followed in a few intervals.
type straight struct {
	at     moments
	t      *track
	off    float64          // how far both bodies together may be off straight lines, mm
	goal   float64          // to be proven
	lifted bool             // a stands off its place
	limit  float64          // triangles that are farther apart in the middle keep goal anyway
	places [3][2]mgl64.Mat4 // of a and b at each moment, to the frame on which both hang
	bFromA mgl64.Mat4       // in the middle
	part   *part
	points [2][3][]vec // of a and b at each moment
	near   [][2]int32
	most   int // so many of them
}

// lowOfStraight returns a gap that is kept all through an interval whose gap in the middle is seen in l; false if none as large as
// the goal is proven like this. The first body is lifted meanwhile by a shift in its own frame, which may make as much of the gap.
// A lifted point's velocity changes faster by no more than the square of the turning times the lift.
func (s *search) lowOfStraight(p *spell, at moments, goal float64, l *look, lift vec) (low float64, ok bool) {
	t := p.track
	parts := l.moves / max(l.gap-goal, finest)
	if parts < worthwhile || t.turned || p.from == p.to || math.IsInf(goal, 0) {
		return 0, false
	}
	high := length(lift)
	c := straight{at: at, t: t, off: l.off, goal: goal + high, lifted: high > 0}
	more := t.room() // of what is looked at than the goal asks for
	c.limit = c.goal + more + l.moves + t.b.grows
	if c.lifted {
		half := (p.to - p.from) / 2
		turn := at.mid().pace(t.a, t.linksA, half).turn * half
		c.off += turn * turn * high / 8
		c.limit += turn * high
	}
	c.most = int(min(parts*nearEach, mostNear))
	if l.gap-c.off < goal || at[0].ready() == nil || at[2].ready() == nil {
		return 0, false
	}
	for k, n := range c.at {
		base := fold.Invert(n.housingFromLink(t.under))
		c.places[k] = [2]mgl64.Mat4{base.Mul4(n.housingFromOwn(t.a)).Mul4(mgl64.Translate3D(lift.Elem())), base.Mul4(n.housingFromOwn(t.b))}
	}
	if !c.nearestKeeps(l) {
		return 0, false
	}
	c.bFromA = fold.Invert(c.places[1][1]).Mul4(c.places[1][0])
	low = c.goal + more
	for _, part := range s.partsAt(at.mid(), t, nil) {
		if c.lifted && !part.open {
			if in, _ := part.swallows(c.bFromA); in {
				return 0, false
			}
		}
		d, ok := c.lowOf(&part)
		if !ok {
			return 0, false
		}
		low = min(low, d)
	}
	return min(low-high, l.gap), true
}

// nearestKeeps looks at the nearest points alone, which mostly tells before all triangles are asked: false if along the line
// between them they come too near. True for what is lifted, for bends, whose points do not stay in one frame, and for points that touch.
func (c *straight) nearestKeeps(l *look) bool {
	n := sub(l.x, l.y)
	d := length(n)
	if c.lifted || c.t.a.bends() || c.t.b.bends() || d <= hair {
		return true
	}
	mid := c.at.mid()
	x := fold.Apply(fold.Invert(mid.housingFromOwn(c.t.a)), l.x)
	y := fold.Apply(fold.Invert(mid.housingFromOwn(c.t.b)), l.y)
	n = fold.Turn(fold.Invert(mid.housingFromLink(c.t.under)), n)
	for k := range c.at {
		way := sub(fold.Apply(c.places[k][0], x), fold.Apply(c.places[k][1], y))
		if dot(way, n)/d-c.off-c.t.b.grows < c.goal-hair {
			return false
		}
	}
	return true
}

// housingFromLink returns where the frame that a link carries stands; nil stands for the housing.
func (n *instant) housingFromLink(l *link) mgl64.Mat4 {
	switch {
	case l == nil:
		return mgl64.Ident4()
	case l.kind == linkHinge:
		return n.state.HousingFromBoard.Mul4(n.state.Folded.BoardFromFlat(l.flat))
	}
	return n.state.HousingFromBoard
}

// lowOf bounds the gaps between the surfaces of a part; false if they are not proven to keep the goal. The pair of triangles that
// was in the way last time is asked first.
func (c *straight) lowOf(p *part) (low float64, ok bool) {
	c.part, c.points = p, [2][3][]vec{c.pointsOf(c.t.a, p.a), c.pointsOf(c.t.b, p.b)}
	h := c.t.hard
	if int(h[0]) < len(p.a.tris) && int(h[1]) < len(p.b.tris) && c.lowOfPair(h) < c.goal || !c.collect(p.a, p.b) {
		return 0, false
	}
	low = math.Inf(1)
	for _, near := range c.near {
		d := c.lowOfPair(near)
		if d < c.goal {
			c.t.hard = near
			return 0, false
		}
		low = min(low, d)
	}
	return low, true
}

// lowOfPair bounds the gaps between two triangles.
func (c *straight) lowOfPair(near [2]int32) float64 {
	var x, y [3]proximity.Triangle
	for k := range c.at {
		x[k] = placedTri(c.part.a, near[0], c.points[0][k], &c.places[k][0])
		y[k] = placedTri(c.part.b, near[1], c.points[1][k], &c.places[k][1])
	}
	return c.between(&x, &y) - c.off - c.t.b.grows
}

// collect lists the pairs of triangles that may come too near; false if there are too many to look at.
func (c *straight) collect(a, b *shape) bool {
	c.near = c.near[:0]
	limit2 := c.limit * c.limit
	few, over := true, c.part.over()
	pairs(a, b, func(x, y *box) bool {
		moved := placedBox(x, c.bFromA)
		return few && moved.distance2(y) < limit2
	}, func(na, nb *node) bool {
		for i := range na.count {
			for j := range nb.count {
				if t := b.at(nb.first + j); !over.Has(t) {
					c.near = append(c.near, [2]int32{a.at(na.first + i), t})
				}
			}
		}
		few = len(c.near) <= c.most
		return few
	})
	return few
}

// pointsOf returns the points of a part of an actor at each moment: those of a bend change.
func (c *straight) pointsOf(a *actor, s *shape) (out [3][]vec) {
	for k, n := range c.at {
		out[k] = s.points
		if a.bends() {
			out[k] = n.as(a).points
		}
	}
	return out
}

// placedTri returns a triangle of a shape, given its points and where they stand.
func placedTri(s *shape, i int32, points []vec, m *mgl64.Mat4) (out proximity.Triangle) {
	for k, p := range s.tris[i] {
		out[k] = fold.Apply(*m, points[p])
	}
	return out
}

// between returns how far two triangles are kept apart, at each of the moments, by one direction: that between their nearest
// points in the middle, or where this is not enough the normal of one of them or of two of their edges. Infinite if they are too
// far apart.
func (c *straight) between(p, q *[3]proximity.Triangle) float64 {
	d, x, y := proximity.TriangleDistance(&p[1], &q[1], c.limit)
	if d >= c.limit {
		return math.Inf(1)
	}
	best, enough := math.Inf(-1), c.goal+c.off+c.t.b.grows
	try := func(n vec) bool {
		if l := length(n); l > hair {
			along, against := heightsAlong(p, q, n)
			best = max(best, along/l, against/l)
		}
		return best >= enough
	}
	if try(sub(x, y)) || try(p[1].Normal()) || try(q[1].Normal()) || d > hair {
		return best
	}
	for i := range 9 {
		a, b := i/3, i%3
		if try(cross(sub(p[1][(a+1)%3], p[1][a]), sub(q[1][(b+1)%3], q[1][b]))) {
			break
		}
	}
	return best
}

// heightsAlong returns by how much n, and by how much its opposite, keeps p ahead of q at least, in lengths of n.
func heightsAlong(p, q *[3]proximity.Triangle, n vec) (along, against float64) {
	along, against = math.Inf(1), math.Inf(1)
	for k := range p {
		lowP, highP := extent(&p[k], n)
		lowQ, highQ := extent(&q[k], n)
		along, against = min(along, lowP-highQ), min(against, lowQ-highP)
	}
	return along, against
}

// extent returns the least and the largest height of a triangle along n.
func extent(t *proximity.Triangle, n vec) (low, high float64) {
	a, b, c := dot(t[0], n), dot(t[1], n), dot(t[2], n)
	return min(a, b, c), max(a, b, c)
}
