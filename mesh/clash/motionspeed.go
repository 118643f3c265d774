package clash

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
)

// linkKind says how a link moves what hangs on it.
type linkKind int8

const (
	linkSelf    linkKind = iota // a bend's own body, against its near flat
	linkStation                 // what stands on a bend's tangent plane at a station, against the near flat
	linkHinge                   // what lies beyond a bend, against the near flat
	linkLegs                    // what goes along the legs of a step, against the housing
)

// link is one part of the way from an actor to the housing that may move.
type link struct {
	kind    linkKind
	bend    int
	station float64 // of linkStation
	mover   int     // of linkLegs
	flat    int     // of linkHinge: the flat beyond
	back    bool    // of linkSelf and linkStation: against the far flat instead
}

// same reports whether two links are one.
func (l link) same(o link) bool {
	return l.kind == o.kind && l.bend == o.bend && l.mover == o.mover && l.kind >= linkHinge
}

// wayOf returns the links from a mount to the housing; self says that the actor is the bend itself.
func wayOf(t *fold.Tree, m mount, self bool) []link {
	var out []link
	flat := m.flat
	switch {
	case self:
		out = append(out, link{kind: linkSelf, bend: m.bend})
	case m.bend >= 0:
		out = append(out, link{kind: linkStation, bend: m.bend, station: m.station})
		flat = t.Bends[m.bend].Parent
	}
	for flat >= 0 {
		f := &t.Flats[flat]
		if f.Far {
			out = append(out, link{kind: linkHinge, bend: f.Bend, flat: flat})
			flat = t.Bends[f.Bend].Parent
			continue
		}
		flat = f.Parent
	}
	return append(out, link{kind: linkLegs, mover: fold.TheBoard})
}

// apart returns what of two ways is not common to both: only that moves one actor against the other. A bend's body, or what
// stands on it, against something beyond that bend is seen from the far side, where both hang together. under is the link on
// which both hang, nil for the housing.
func apart(a, b []link) (x, y []link, under *link) {
	for len(a) > 0 && len(b) > 0 && a[len(a)-1].same(b[len(b)-1]) {
		under = &a[len(a)-1]
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	if x, y, ok := fromFar(a, b); ok {
		return x, y, &b[len(b)-1]
	}
	if y, x, ok := fromFar(b, a); ok {
		return x, y, &a[len(a)-1]
	}
	return a, b, under
}

// fromFar is apart where the first way is one bend's and the second one leads over it.
func fromFar(a, b []link) (x, y []link, ok bool) {
	if len(a) != 1 || len(b) == 0 || a[0].kind >= linkHinge || b[len(b)-1].kind != linkHinge || b[len(b)-1].bend != a[0].bend {
		return nil, nil, false
	}
	l := a[0]
	l.back = true
	return []link{l}, b[:len(b)-1], true
}

// pace bounds how what hangs on links moves in the frame under them, per unit of progress, for as long as the step's motion goes
// on as it does (within one leg).
type pace struct {
	speed  float64 // mm: how far any point gets from where it is now
	turn   float64 // radians
	change float64 // mm, by progress squared: how fast its velocity changes
}

// speed bounds how fast any point of an actor moves along the links, in mm per unit of progress: at any progress t of the leg no
// point is farther than speed times |t - at| from where it is now.
//
// For one link after the other, from the actor outward: the others beyond it, being rigid motions, keep the distance between
// where a point is and where it was; so what each link adds is how far it takes the point from its present place alone, and
// the sum bounds the whole. Its summands:
//
//   - A bend turned by phi over its width w takes its tangent line at arc length s along the integral of (cos, sin)(phi u/w)
//     over u from 0 to s, whose derivative by phi is at most s^2/(2w); and turns what stands there at s/w of the hinge's rate
//     about that line, at a distance r that stays. In all (s/w)(s/2 + r): w/2 + r for what lies beyond. For the bend itself
//     s is its largest station and r the larger height of its faces; a mesh between its points moves no more than they.
//   - A leg shifts by its length, and turns about an axis through a point that it carries along, at a distance that stays.
func (n *instant) speed(a *actor, links []link) float64 {
	return n.pace(a, links, anyHalf).speed
}

// anyHalf asks for a pace of which only the speed and the turning matter.
const anyHalf = -1

// pace bounds how an actor moves along the links: its speed as above, the others up to a progress of half from now.
//
// The velocity of a point that moves in a frame which turns changes by its own change there, by twice the turning times its own
// speed (Coriolis), and by what the frame alone does to it: at distances that meanwhile may be larger by what the links further
// in have moved it. Alone, a bend's tangent line at s changes its velocity by the second derivative of the integral above, at
// most s^3/(3 w^2), and what turns about an axis by its distance times the square of the rate.
func (n *instant) pace(a *actor, links []link, half float64) pace {
	k := len(links)
	switch {
	case k == 0:
		return pace{}
	case a.number >= len(n.paces) || links[0] != a.way[0]: // seen from the far side of a bend
		return n.pacesOf(a, links, half)[k-1]
	}
	kept := n.paces[a.number].Load()
	if kept == nil || len(kept.sums) < k || half != anyHalf && half != kept.half {
		kept = &paces{max(half, 0), n.pacesOf(a, a.way[:min(2*k, len(a.way))], max(half, 0))}
		n.paces[a.number].Store(kept)
	}
	return kept.sums[k-1]
}

// paces are those of an actor along its way, link by link, up to a progress of half: all pairs of the actor share them.
type paces struct {
	half float64
	sums []pace
}

// pacesOf returns the pace of an actor along the first link, the first two, and so on.
func (n *instant) pacesOf(a *actor, links []link, half float64) []pace {
	var sum pace
	out := make([]pace, len(links))
	corners := n.corners(a)
	velocity := 0.0 // bounded all through the interval
	for i := range links {
		p := n.paceOf(&links[i], a, corners)
		farther := sum.speed * half
		sum.change += p.change + float64(p.turn*p.turn*farther) + float64(2*p.turn*velocity)
		velocity += p.speed + float64(p.turn*farther)
		sum.speed += p.speed
		sum.turn += p.turn
		out[i] = sum
	}
	return out
}

// corners returns those of the actor's box, in the housing's frame.
func (n *instant) corners(a *actor) (out [8]vec) {
	m, b := n.housingFromOwn(a), n.as(a).box
	for k := range out {
		p := b.lo
		for i := range 3 {
			if k>>i&1 == 1 {
				p[i] = b.hi[i]
			}
		}
		out[k] = fold.Apply(m, p)
	}
	return out
}

// paceOf returns what one link adds; corners are those of a box around the actor.
func (n *instant) paceOf(l *link, a *actor, corners [8]vec) pace {
	if l.kind == linkLegs {
		return n.legPace(l, corners)
	}
	t := n.w.tree
	b := &t.Bends[l.bend]
	rate := n.w.rate(n.step, b.Hinge)
	if rate == 0 {
		return pace{}
	}
	switch l.kind {
	case linkSelf:
		first, last := a.skin.Stations[0], a.skin.Stations[len(a.skin.Stations)-1]
		arc := max(last, -first, 0)
		if l.back {
			arc = max(b.Width-first, last-b.Width, 0)
		}
		return bendPace(b, rate, arc, reachOf(b))
	case linkStation:
		arc := l.station
		if l.back {
			arc = b.Width - arc
		}
		housingFromFlat := n.state.HousingFromBoard.Mul4(n.state.Folded.BoardFromStation(l.bend, l.station))
		x := axisAt(b, l.station, housingFromFlat)
		return bendPace(b, rate, math.Abs(arc), x.reach(corners))
	}
	return bendPace(b, rate, b.Width, n.axes[l.flat].reach(corners))
}

// reachOf returns how far a bend's faces lie from its neutral surface, mm.
func reachOf(b *fold.Bend) float64 {
	return max(math.Abs(b.Faces[0]-b.Height), math.Abs(b.Faces[1]-b.Height))
}

// bendPace is the pace of what stands at an arc length from the tangent line that is at rest, up to reach from the neutral
// surface there, as the hinge turns at a rate: see speed and pace.
func bendPace(b *fold.Bend, rate, arc, reach float64) pace {
	turn := rate * arc / b.Width
	return pace{turn * (arc/2 + reach), turn, turn * turn * (arc/3 + reach)}
}

// axis is a line along a hinge through the neutral surface, in the housing's frame.
type axis struct{ on, along vec }

// axisAt returns the one at a station of a bend; housingFromFlat is the motion of the tangent plane there.
func axisAt(b *fold.Bend, station float64, housingFromFlat mgl64.Mat4) axis {
	on := vec{b.Origin.X + station*b.Dir.X, b.Origin.Y + station*b.Dir.Y, b.Height}
	return axis{fold.Apply(housingFromFlat, on), fold.Turn(housingFromFlat, vec{-b.Dir.Y, b.Dir.X, 0})}
}

// reach returns the largest distance of points from the axis. Being a convex function, it bounds all between the points.
func (x *axis) reach(points [8]vec) float64 {
	most := 0.0
	for _, p := range points {
		c := cross(sub(p, x.on), x.along)
		most = max(most, dot(c, c))
	}
	return math.Sqrt(most)
}

// legPace returns what the leg of a step adds for what goes along it.
func (n *instant) legPace(l *link, corners [8]vec) pace {
	m := &n.w.program.Steps[n.step]
	leg, u := m.LegAt(n.at)
	if leg == nil || m.Mover != l.mover {
		return pace{}
	}
	legs := float64(len(m.Legs))
	way := leg.To.Move.Sub(leg.From.Move)
	if leg.Angle == 0 {
		return pace{speed: way.Len() * legs}
	}
	pivot := n.w.program.Pivot(l.mover).Add(leg.From.Move).Add(way.Mul(u))
	most := 0.0
	for _, p := range corners {
		most = max(most, length(cross(sub(p, pivot), leg.Axis)))
	}
	turn := math.Abs(leg.Angle) * (math.Pi / 180)
	return pace{(way.Len() + turn*most) * legs, turn * legs, turn * turn * most * legs * legs}
}

// rate returns how fast a hinge turns in a step, radians per unit of progress.
func (w *sweeper) rate(step, hinge int) float64 {
	m := &w.program.Steps[step]
	return math.Abs(m.To[hinge]-m.From[hinge]) * (math.Pi / 180)
}
