package clash

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/mesh/proximity"
)

// when is a moment of a program: a step and the progress in it.
type when struct {
	step int
	at   float64
}

var (
	before = when{step: -1}
	never  = when{step: math.MaxInt}
)

// less reports whether m comes before o.
func (m when) less(o when) bool { return m.step < o.step || m.step == o.step && m.at < o.at }

// track is a pair that is followed through a program.
type track struct {
	pair
	number         int
	kind           int // in kinds
	a, b           *actor
	linksA, linksB []link   // what of their ways is not common
	under          *link    // on which both hang, nil for the housing
	required       float64  // in motion: what the pair must keep, at most
	proof          float64  // the gap that must be proven: required, or a little less than a gap of its own that it keeps
	quiet          bool     // its gaps are none of the smallest of their kind
	guards         bool     // it is one more of the pair of a track before, see besideSeat
	presses        bool     // it guards how deep a body presses into its seats, see pressing
	away           []vec    // in a's frame, unit: where it could go that presses into a seat which gives way
	flat           *float64 // gap in the flat state of two bodies of the board, when it was asked for

	fixed  []part   // what of both is compared, if that is always the same; nil: see partsAt
	whole  bool     // all of both is compared
	hard   [2]int32 // the triangles that last kept an interval from being bounded by straight lines
	turned bool     // a bend turns by more than 180 degrees: parts depend on the angle

	firstClear, lastClear when // moments at which the pair was seen clear
	atStart, atEnd        bool // in contact where the check at rest speaks
	contacts              []when
	worst                 *sighting // of gaps that are too small
}

// limitTo lowers what the pair must keep to a gap that it has where the check at rest speaks, or in the flat. Since it may have
// that gap for long, it is proven only to Resolution that it does not come nearer; but contact is told from none.
func (t *track) limitTo(gap float64) {
	t.required = min(t.required, gap)
	t.proof = min(t.proof, max(gap-Resolution, min(gap, 0)))
}

// countsFrom reports whether a gap, or any larger one, counts among the smallest of its kind: of two bodies of the board only
// what folding has brought Nearer does.
func (t *track) countsFrom(gap float64) bool {
	return !t.quiet && (t.flat == nil || gap < *t.flat-Nearer)
}

// clearAt notes that the pair was clear at a moment.
func (t *track) clearAt(m when) {
	if m.less(t.firstClear) {
		t.firstClear = m
	}
	if t.lastClear.less(m) {
		t.lastClear = m
	}
}

// sighting is a gap that was measured too small.
type sighting struct {
	when
	gap float64
}

// part is two surfaces to compare, in the frames of a and b.
type part struct {
	a, b  *shape
	query *proximity.Query
	open  bool  // whether a lies inside b cannot be told from this part
	left  *rest // b is a shape of which columns leave this, or what they cut; nil: all of b is compared
}

// against returns the parts to compare with what columns leave of a shape.
func (r *rest) against(a *shape, open bool) []part {
	return []part{{a: a, b: r.of, open: open, left: r}, {a: a, b: r.cut, open: open, left: r}}
}

// over returns the triangles of b that are not compared.
func (p *part) over() proximity.Mask {
	if p.left == nil || p.b != p.left.of {
		return nil
	}
	return p.left.taken
}

// ask returns a query between both surfaces.
func (p *part) ask() *proximity.Query {
	q := proximity.NewQuery(p.a.surface(), p.b.surface())
	if over := p.over(); over != nil {
		q.PassOver(nil, over)
	}
	return q
}

// empty reports whether there is nothing to compare.
func (p *part) empty() bool {
	return p.a != nil && len(p.a.tris) == 0 || p.b != nil && len(p.b.tris) == 0 || p.left != nil && p.left.empty()
}

// divide finds out which parts of a pair are compared; false if none ever are.
func (w *sweeper) divide(t *track) bool {
	if t.rel != atTangent {
		t.whole = true
		return true
	}
	for _, a := range []*actor{t.a, t.b} {
		t.turned = t.turned || a.bends() && math.Abs(w.tight[w.tree.Bends[a.body.Bend].Hinge]) > 180
	}
	if t.turned {
		return true
	}
	bend, other := t.a, t.b
	if !bend.bends() {
		bend, other = other, bend
	}
	if other.bends() {
		return false // neither turns so far that it comes behind the line between them
	}
	into, _ := w.check.beyond(bend.body, w.check.tangentFlat(bend.body, other.body))
	front := other.part(into)
	if front == nil {
		return false
	}
	shared(front)
	t.fixed = []part{{b: front}}
	if other == t.a {
		t.fixed = []part{{a: front}}
	}
	return true
}

// partsAt returns what of a pair is compared at a moment. most says by how much hinges are taken to be bent where that
// matters, by hinge in degrees; nil for as they are.
func (w *sweeper) partsAt(n *instant, t *track, most []float64) []part {
	switch {
	case t.turned:
		return w.turnedParts(n, t, most)
	case t.whole && (t.a.bends() || t.b.bends()):
		return []part{{a: n.form(t.a), b: n.form(t.b)}}
	case t.whole && t.fixed == nil:
		t.fixed = []part{{a: n.form(t.a), b: n.form(t.b)}}
	}
	if !t.a.bends() && !t.b.bends() {
		return t.rigid()
	}
	out := slices.Clone(t.fixed)
	for i := range out {
		if out[i].a == nil {
			out[i].a = n.form(t.a)
		}
		if out[i].b == nil {
			out[i].b = n.form(t.b)
		}
	}
	return out
}

// empty reports whether there is nothing to compare: seats leave nothing.
func (t *track) empty() bool {
	return t.fixed != nil && !slices.ContainsFunc(t.fixed, func(p part) bool { return !p.empty() })
}

// rigid returns the parts of two bodies that keep their form, with the queries that are kept for them.
func (t *track) rigid() []part {
	for i := range t.fixed {
		if p := &t.fixed[i]; p.query == nil {
			p.query = p.ask()
		}
	}
	return t.fixed
}

// turnedParts is partsAt for a bend of more than 180 degrees and its neighbour.
func (w *sweeper) turnedParts(n *instant, t *track, most []float64) []part {
	c := w.checkAt(n)
	if most != nil {
		f := *c.folded
		f.Angles = most
		c.folded = &f
	}
	n.form(t.a)
	n.form(t.b)
	var out []part
	for _, p := range c.tangentParts(n.as(t.a), n.as(t.b)) {
		out = append(out, part{a: p[0], b: p[1]})
	}
	return out
}

// moved returns a shape after a rigid motion.
func moved(s *shape, m mgl64.Mat4) *shape {
	points := make([]vec, len(s.points))
	for i, p := range s.points {
		points[i] = fold.Apply(m, p)
	}
	out := newShape(points, s.tris, s.closed)
	out.ids = s.ids
	if s.whole != nil {
		out.whole = moved(s.whole, m)
	}
	return out
}

// flatGap returns the gap in the flat state, infinite for a pair with a wall. A bend and its neighbour meet there.
func (t *track) flatGap() float64 {
	if t.flat == nil {
		gap := math.Inf(1)
		if t.a.body != nil && t.b.body != nil {
			if r, ok := measure(t.a.solidForm(), t.b.solidForm(), math.Inf(1)); ok {
				gap = r.gap
			}
		}
		t.flat = &gap
	}
	return *t.flat
}
