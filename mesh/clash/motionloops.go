package clash

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/finding"
)

// loop is a bend and the flat that should meet its end, at joints outside the tree.
type loop struct {
	bend, flat     int
	far            bool
	points         [][8]vec // the ends of the joints on the neutral surface, flat coordinates; each eight times
	toBend, toFlat []link   // what of the ways of both is not common

	off, turn peak       // the largest, mm and degrees
	rest      [2]float64 // the same where the check at rest speaks
}

// peak is the largest value seen, and when.
type peak struct {
	when
	value float64
}

// loopsOf returns the loops of a board.
func loopsOf(t *fold.Tree) []*loop {
	var out []*loop
	for _, j := range t.Joints {
		if j.Tree {
			continue
		}
		b := &t.Bends[j.Bend]
		var l *loop
		for _, o := range out {
			if o.bend == j.Bend && o.flat == j.Flat && o.far == j.Far {
				l = o
			}
		}
		if l == nil {
			l = &loop{bend: j.Bend, flat: j.Flat, far: j.Far}
			m := mount{flat: b.Parent, bend: -1}
			if j.Far {
				m = mount{flat: -1, bend: j.Bend, station: b.Width}
			}
			l.toBend, l.toFlat, _ = apart(wayOf(t, m, false), wayOf(t, mount{flat: j.Flat, bend: -1}, false))
			out = append(out, l)
		}
		for _, p := range [2]vec{{j.P.X, j.P.Y, b.Height}, {j.Q.X, j.Q.Y, b.Height}} {
			l.points = append(l.points, [8]vec{p, p, p, p, p, p, p, p})
		}
	}
	return out
}

// followLoops follows the loops of the board through the program, with the bounds on how far points move that serve for
// gaps, and adds a finding for each that opens beyond the design's limit and wider than at rest.
func (w *sweeper) followLoops() {
	limit := w.tree.Design.Loop
	if limit == (fold.LoopLimit{}) {
		limit = fold.DefaultLoop
	}
	last := len(w.program.Steps) - 1
	for _, l := range loopsOf(w.tree) {
		l.rest[0], l.rest[1] = w.openAt(l, w.instantAt(last, 1))
		if w.fromFolded() {
			off, turn := w.openAt(l, w.instantAt(0, 0))
			l.rest[0], l.rest[1] = max(l.rest[0], off), max(l.rest[1], turn)
		}
		allowed := fold.LoopLimit{Gap: max(limit.Gap, l.rest[0]) + 1e-9, Angle: max(limit.Angle, l.rest[1]) + 1e-9}
		for i := range w.program.Steps {
			if len(w.program.Steps[i].Legs) == 0 {
				w.followLoop(l, i, 0, 1, allowed)
			}
		}
		if l.off.value > allowed.Gap || l.turn.value > allowed.Angle {
			w.open = append(w.open, w.opened(l, limit, l.off.value > allowed.Gap))
		}
	}
}

// followLoop looks at an interval of a step and divides it, unless the loop is proven to stay within what is allowed in it or
// not to open wider than was seen by more than Resolution (mm, or degrees).
func (w *sweeper) followLoop(l *loop, step int, from, to float64, allowed fold.LoopLimit) {
	if w.ctx.Err() != nil {
		w.covered = false
		return
	}
	n := w.instantAt(step, (from+to)/2)
	if n.ready() == nil {
		w.covered = false
		return
	}
	off, turn := w.openAt(l, n)
	l.off.rise(off, when{step, n.at})
	l.turn.rise(turn, when{step, n.at})
	speed, spin := n.loopSpeed(l)
	moves, turns := speed*(to-from)/2, spin*(to-from)/2
	if off+moves <= max(allowed.Gap, l.off.value+Resolution) && turn+turns <= max(allowed.Angle, l.turn.value+Resolution) {
		return
	}
	w.followLoop(l, step, from, n.at, allowed)
	w.followLoop(l, step, n.at, to, allowed)
}

// rise keeps the larger value.
func (p *peak) rise(v float64, m when) {
	if v > p.value {
		p.value, p.when = v, m
	}
}

// openAt returns how far a loop is open at a moment: between the two places of its joints, mm, and the angle between, degrees.
func (w *sweeper) openAt(l *loop, n *instant) (off, turn float64) {
	if n.ready() == nil {
		return 0, 0
	}
	carried, own := l.frames(n)
	for _, p := range l.points {
		off = max(off, length(sub(fold.Apply(own, p[0]), fold.Apply(carried, p[0]))))
	}
	// the Frobenius norm of the difference of two rotations by an angle is sqrt(8) times the sine of half of it
	sum := 0.0
	for c := range 3 {
		for r := range 3 {
			d := own[4*c+r] - carried[4*c+r]
			sum += d * d
		}
	}
	return off, 2 * math.Asin(min(1, math.Sqrt(sum/8))) * (180 / math.Pi)
}

// frames returns the motions of the bend's end and of the flat, to board coordinates.
func (l *loop) frames(n *instant) (carried, own mgl64.Mat4) {
	f := n.state.Folded
	carried = f.BoardFromFlat(f.Tree.Bends[l.bend].Parent)
	if l.far {
		carried = f.BoardFromStation(l.bend, f.Tree.Bends[l.bend].Width)
	}
	return carried, f.BoardFromFlat(l.flat)
}

// loopSpeed bounds how fast a loop opens: mm and degrees per unit of progress.
func (n *instant) loopSpeed(l *loop) (speed, spin float64) {
	carried, own := l.frames(n)
	h := n.state.HousingFromBoard
	for _, points := range l.points {
		sum := 0.0
		for side, links := range [2][]link{l.toBend, l.toFlat} {
			corners := points
			for k := range corners {
				corners[k] = fold.Apply(h.Mul4([2]mgl64.Mat4{carried, own}[side]), corners[k])
			}
			for i := range links {
				sum += n.paceOf(&links[i], nil, corners).speed
			}
		}
		speed = max(speed, sum)
	}
	for _, links := range [2][]link{l.toBend, l.toFlat} {
		for _, x := range links {
			if x.kind != linkLegs {
				spin += n.w.rate(n.step, n.w.tree.Bends[x.bend].Hinge) * (180 / math.Pi)
			}
		}
	}
	return speed, spin
}

// opened words a loop that opens on its way.
func (w *sweeper) opened(l *loop, limit fold.LoopLimit, wide bool) finding.Finding {
	b, c := &w.tree.Bends[l.bend], w.check
	h := &w.tree.Design.Hinges[b.Hinge]
	at := b.Middle()
	f := finding.Finding{Rule: "loop-open-in-motion", Severity: w.severity(finding.Warning), On: []string{"hinge:" + h.Name, "flat:" + w.tree.Flats[l.flat].Name},
		Posture: w.program.Posture, At: &[2]float64{at.X, at.Y}, Place: h.Place,
		Hint:   "bend the hinges of both arms so that the loop stays closed, or trust the flex to take it up: it twists and stretches by about as much",
		Source: fmt.Sprintf("geometry of cylindrical bends; the limit is the design's loop, or what the loop has at rest; the largest on the way to %s or %g degrees", c.mm(Resolution), Resolution)}
	if wide {
		f.Value, f.Limit, f.Unit = finding.Number(l.off.value), finding.Number(limit.Gap), "mm"
		f.Message = fmt.Sprintf("the loop through bend %s opens %s at %s: %s is %s away from where the bend ends, %s are allowed", b.Name, w.inStep(l.off.step),
			percent(l.off.at), w.tree.Flats[l.flat].Name, c.mm(l.off.value), c.mm(limit.Gap))
		return f
	}
	f.Value, f.Limit, f.Unit = finding.Number(l.turn.value), finding.Number(limit.Angle), "deg"
	f.Message = fmt.Sprintf("the loop through bend %s opens %s at %s: %s is turned by %.2f degrees against where the bend ends, %.2f are allowed", b.Name,
		w.inStep(l.turn.step), percent(l.turn.at), w.tree.Flats[l.flat].Name, l.turn.value, limit.Angle)
	return f
}
