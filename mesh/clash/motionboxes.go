package clash

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
)

// boxes bounds the gaps of an interval by the boxes around both bodies.
func (s *search) boxes(p *spell, at moments) look {
	t, n := p.track, at.mid()
	var l look
	l.moves, l.off = s.driftIn(p, n)
	l.low = n.boxesApart(t) - t.b.grows - l.moves
	return l
}

// driftIn bounds how far the bodies of a track move against each other from the middle of an interval to its ends, and how far
// from straight lines between their places there.
func (s *search) driftIn(p *spell, n *instant) (moves, off float64) {
	if p.from == p.to {
		return 0, 0
	}
	half := (p.to - p.from) / 2
	a, b := n.pace(p.track.a, p.track.linksA, half), n.pace(p.track.b, p.track.linksB, half)
	return (a.speed + b.speed) * half, (a.change + b.change) * half * half / 8
}

// boxesApart returns a gap that two actors have at least: the distance between the box of each and the other's in its frame.
// Where boxes meet they say nothing, since the bodies may overlap: minus infinity.
func (n *instant) boxesApart(t *track) float64 {
	way := n.betweenBoxes(t)
	if way == (vec{}) {
		return math.Inf(-1)
	}
	return length(way)
}

// betweenBoxes returns the way from the box of b to that of a, in the housing's frame; zero where they meet.
func (n *instant) betweenBoxes(t *track) vec {
	a, b := n.housingFromOwn(t.a), n.housingFromOwn(t.b)
	x, y := &n.as(t.a).box, &n.as(t.b).box
	inB, inA := placedBox(x, fold.Invert(b).Mul4(a)), placedBox(y, fold.Invert(a).Mul4(b))
	fromB, fromA := inB.past(y), x.past(&inA)
	if dot(fromB, fromB) >= dot(fromA, fromA) {
		return fold.Turn(b, fromB)
	}
	return fold.Turn(a, fromA)
}

// past returns the shortest way from c to b, zero where they meet.
func (b *box) past(c *box) (way vec) {
	for k := range way {
		way[k] = max(b.lo[k]-c.hi[k], 0) - max(c.lo[k]-b.hi[k], 0)
	}
	return way
}

// lowOfBoxes returns how far the boxes of both bodies are apart along one direction, that between them in the middle of an
// interval, at its beginning, middle and end at least: see straight.
func (s *search) lowOfBoxes(t *track, at moments) float64 {
	way := at.mid().betweenBoxes(t)
	d := length(way)
	if d == 0 || at[0].ready() == nil || at[2].ready() == nil {
		return math.Inf(-1)
	}
	way = fold.Turn(fold.Invert(at.mid().housingFromLink(t.under)), way)
	low := d
	for _, n := range [2]*instant{at[0], at[2]} {
		base := fold.Invert(n.housingFromLink(t.under))
		ahead, _ := n.as(t.a).box.along(base.Mul4(n.housingFromOwn(t.a)), way)
		_, behind := n.as(t.b).box.along(base.Mul4(n.housingFromOwn(t.b)), way)
		low = min(low, (ahead-behind)/d)
	}
	return low - t.b.grows
}

// along returns the least and the largest height of a box after a rigid motion along a direction, in its lengths.
func (b *box) along(m mgl64.Mat4, dir vec) (low, high float64) {
	middle, half := dot(dir, fold.Apply(m, along(b.lo, 0.5, sub(b.hi, b.lo)))), 0.0
	for k := range 3 {
		half += math.Abs(dot(dir, vec{m[4*k], m[4*k+1], m[4*k+2]})) * (b.hi[k] - b.lo[k]) / 2
	}
	return middle - half, middle + half
}

// placedBox returns the box around a box after a rigid motion.
func placedBox(b *box, m mgl64.Mat4) box {
	middle := fold.Apply(m, along(b.lo, 0.5, sub(b.hi, b.lo)))
	var out box
	for r := range 3 {
		half := 0.0
		for k := range 3 {
			half += math.Abs(m[4*k+r]) * (b.hi[k] - b.lo[k]) / 2
		}
		out.lo[r], out.hi[r] = middle[r]-half, middle[r]+half
	}
	return out
}
