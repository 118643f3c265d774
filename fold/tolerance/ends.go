package tolerance

import (
	"fmt"
	"math"
	"slices"

	"foldfit/fold"
)

// Shift is by how much one hinge is off: degrees, + toward top, and mm of its line along its normal (see Normal).
type Shift struct{ Angle, Line float64 }

// Tolerances returns the tolerance of each hinge of the design, degrees and mm either way; zero where none is given, and for
// a hinge of angle 0, which makes no bend.
func Tolerances(d *fold.Design) []Shift {
	out := make([]Shift, len(d.Hinges))
	for i, h := range d.Hinges {
		if h.Angle != 0 {
			out[i] = Shift{h.TolAngle, h.TolLine}
		}
	}
	return out
}

// Range is the least and the most that a gap may be, mm.
type Range struct{ Least, Most float64 }

// Linear returns the gap at the ends of the tolerances by its derivatives: all hinges off at once, each the way that counts.
// Least is lowered by what the measured gap's lower bound is below it. Where several pairs are nearest, Most is not reached
// by all of them: an upper bound.
func (w *Worth) Linear(tol []Shift) Range {
	out := Range{math.Inf(1), math.Inf(1)}
	for _, p := range w.pairs {
		off := 0.0
		for i, t := range tol {
			off += math.Abs(p.angle[i]*t.Angle) + math.Abs(p.line[i]*t.Line)
		}
		out.Least = min(out.Least, w.measured.Low-off)
		out.Most = min(out.Most, w.measured.Gap+off)
	}
	return out
}

// Exact returns the gap at the ends of the tolerances by placing the nearest points anew there, without any linearization:
// the hinges are off as for Linear, each the way that its derivative says. The true gap may be less, where other points have
// come nearer by then, never more: Folded or Ends give the boards to measure again.
func (w *Worth) Exact(tol []Shift) Range {
	out := Range{math.Inf(1), math.Inf(1)}
	for i := range w.pairs {
		p := &w.pairs[i]
		here := w.signed(p, make([]Shift, len(tol)))
		out.Least = min(out.Least, w.measured.Low+w.signed(p, p.toward(tol, -1))-here)
		out.Most = min(out.Most, w.measured.Gap+w.signed(p, p.toward(tol, 1))-here)
	}
	return out
}

// Worst returns by how much each hinge is off where the gap is least by its derivatives: for Folded, to measure again.
func (w *Worth) Worst(tol []Shift) []Shift {
	worst, least := 0, math.Inf(1)
	for i := range w.pairs {
		off := 0.0
		for k, t := range tol {
			off -= math.Abs(w.pairs[i].angle[k]*t.Angle) + math.Abs(w.pairs[i].line[k]*t.Line)
		}
		if off < least-1e-12 {
			worst, least = i, off
		}
	}
	return w.pairs[worst].toward(tol, -1)
}

// toward returns the ends of the tolerances at which the pair is farthest apart (sign 1) or nearest (-1) by its derivatives.
func (p *pair) toward(tol []Shift, sign float64) []Shift {
	out := make([]Shift, len(tol))
	for i, t := range tol {
		if p.angle[i] != 0 {
			out[i].Angle = math.Copysign(t.Angle, sign*p.angle[i])
		}
		if p.line[i] != 0 {
			out[i].Line = math.Copysign(t.Line, sign*p.line[i])
		}
	}
	return out
}

// signed returns the distance of a pair with the hinges off, below zero where the points have passed each other.
func (w *Worth) signed(p *pair, off []Shift) float64 {
	angles := slices.Clone(w.folded.Angles)
	for i := range angles {
		angles[i] += off[i].Angle
	}
	t := w.folded.Tree
	v := p.a.placed(t, angles, off).Sub(p.b.placed(t, angles, off))
	return math.Copysign(v.Len(), v.Dot(w.dir))
}

// End is a board with one hinge at an end of its tolerance, to be measured again.
type End struct {
	Hinge  int
	Off    Shift // one of the two numbers is not zero
	Folded *fold.Folded
	Err    error // why there is no such board: the bend areas overlap then, or the radius leaves no room
}

// Ends returns the boards with each hinge at the ends of its tolerances, one at a time: angle up and down, then line up and
// down, hinge after hinge. Angles are those of the posture. See Folded for what moves with a line.
func Ends(t *fold.Tree, angles []float64) []End {
	var out []End
	for i, tol := range Tolerances(t.Design) {
		for _, off := range []Shift{{Angle: tol.Angle}, {Angle: -tol.Angle}, {Line: tol.Line}, {Line: -tol.Line}} {
			if off == (Shift{}) {
				continue
			}
			all := make([]Shift, len(t.Design.Hinges))
			all[i] = off
			f, err := Folded(t, angles, all)
			out = append(out, End{i, off, f, err})
		}
	}
	return out
}

// Folded returns the board with its hinges off by so much from the given angles. Widths are those of the design's angles.
// Where a line moves the design is divided again, with its sections, stiffeners and components where they were in the flat;
// what lies where the bend area has come to bends. Bends are the drawn cylinders. A tangent line may be laid on an edge, as
// Divide does, by at most 0.003 mm.
func Folded(t *fold.Tree, angles []float64, off []Shift) (*fold.Folded, error) {
	n := len(t.Design.Hinges)
	if len(angles) != n || len(off) != n {
		return nil, fmt.Errorf("%d angles and %d shifts for %d hinges", len(angles), len(off), n)
	}
	d := *t.Design
	d.Hinges = slices.Clone(d.Hinges)
	angles = slices.Clone(angles)
	moved := false
	for i := range d.Hinges {
		angles[i] += off[i].Angle
		if off[i].Line == 0 || len(t.Hinges[i].Bends) == 0 {
			continue
		}
		moved = true
		by := Normal(t, i).Mul(off[i].Line)
		h := &d.Hinges[i]
		h.Line[0], h.Line[1], h.Into = h.Line[0].Add(by), h.Line[1].Add(by), h.Into.Add(by)
	}
	if moved {
		again, problems := fold.Divide(&d)
		if len(problems) > 0 {
			return nil, fmt.Errorf("with the line moved: %s", problems[0].What)
		}
		t = again
	}
	return t.Place(angles)
}
