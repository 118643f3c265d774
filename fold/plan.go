package fold

import (
	"fmt"
	"math"
	"slices"

	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

// Named tolerances of hinges (mm).
const (
	reach  = 0.01  // a written line that ends short by so much still reaches the edge
	shift  = 0.001 // a tangent line this near to an edge is laid onto it
	settle = 0.003 // by how much at most the ends of a tangent line move when it takes an edge's direction
)

// stretch is one interval of a hinge's endless line inside the board.
type stretch struct {
	lo, hi  float64 // arc lengths along the line
	covered bool
	stackup string // flexible stack-up under its longest part
}

// plan is a hinge made ready for cutting: its strip, in canonical direction, and the stretches of its line.
type plan struct {
	hinge     int
	strip     flat.Strip
	stretches []stretch
	rho       float64
	moved     float64
}

// canonical returns the line's points and unit direction so that x grows (or y, where x does not change): the written
// direction means nothing.
func canonical(line [2]flat.Pt) (a, u flat.Pt, length float64) {
	a, b := line[0], line[1]
	length = a.Dist(b)
	dx := b.X - a.X
	if dx < 0 && math.Abs(dx) > 1e-9*length || math.Abs(dx) <= 1e-9*length && b.Y < a.Y {
		a, b = b, a
	}
	return a, b.Sub(a).Unit(), length
}

// planHinge works out width and strip of hinge i, or says why the hinge cannot be.
func (dv *divider) planHinge(i int) (plan, []finding.Problem) {
	h := &dv.d.Hinges[i]
	problem := func(what, hint string) []finding.Problem {
		return []finding.Problem{{Place: h.Place, What: "hinge " + h.Name + ": " + what, Hint: hint}}
	}
	a, u, length := canonical(h.Line)
	switch {
	case length <= flat.Snap:
		return plan{}, problem("the line has no length", "give two different points")
	case h.Radius < leastRadius:
		return plan{}, problem(fmt.Sprintf("the inside radius %s is under %g mm", flat.Num(h.Radius), leastRadius), "give the radius of the concave face; a crease has no shape")
	}
	p := plan{hinge: i, strip: flat.Strip{At: a, U: u}}
	side := 0.0
	if h.Tangent {
		side = p.strip.Across(h.Into)
		if math.Abs(side) <= flat.Snap {
			return plan{}, problem(fmt.Sprintf("the point into %v lies on the tangent line", h.Into), "name a point on the side on which the bend area lies")
		}
	}
	if !dv.widen(&p, h, length, math.Copysign(1, side)) {
		return plan{}, problem("the line does not cross the board", "move it, or extend it, so that it runs through the board's inside")
	}
	if w := 2 * p.strip.Half; w < shift {
		return plan{}, problem(fmt.Sprintf("the bend area would be only %.6f mm wide", w), "a larger angle or radius makes a bend; angle 0 makes none")
	}
	if ps := dv.coverage(h, p, length); ps != nil {
		return plan{}, ps
	}
	dv.layOnEdge(&p)
	return p, nil
}

// widen sets stretches, neutral radius and width. A tangent line's centre line depends on the width, which depends on the
// stack-ups under the centre line: repeated until it stands still.
func (dv *divider) widen(p *plan, h *Hinge, length, side float64) bool {
	written := p.strip.At
	for range 6 {
		p.stretches = dv.stretches(p.strip, length)
		if !slices.ContainsFunc(p.stretches, func(s stretch) bool { return s.covered }) && !h.Tangent {
			return false
		}
		rho := h.Radius + dv.concave(p.stretches, h.Angle)
		half := rho * math.Abs(radians(h.Angle)) / 2
		if rho == p.rho {
			break
		}
		p.rho, p.strip.Half = rho, half
		if h.Tangent {
			p.strip.At = written.Add(p.strip.U.Left().Mul(side * half))
		}
	}
	return slices.ContainsFunc(p.stretches, func(s stretch) bool { return s.covered })
}

// stretches returns the stretches of the strip's centre line, with those marked that the written line (from At, that
// long) enters.
func (dv *divider) stretches(s flat.Strip, length float64) []stretch {
	var out []stretch
	for _, iv := range dv.board.Stretches(s.At, s.U) {
		out = append(out, stretch{lo: iv[0], hi: iv[1],
			covered: min(iv[1], length)-max(iv[0], 0) > flat.Snap,
			stackup: dv.stackupAlong(s, iv)})
	}
	return out
}

// stackupAlong returns the flexible stack-up under most of the interval.
func (dv *divider) stackupAlong(s flat.Strip, iv [2]float64) string {
	best, most := "", 0.0
	share := map[string]float64{}
	for _, part := range dv.splitBySections(s, iv) {
		name := dv.d.flexUnder(s.At.Add(s.U.Mul((part[0] + part[1]) / 2)))
		share[name] += part[1] - part[0]
		if share[name] > most+flat.Snap {
			best, most = name, share[name]
		}
	}
	return best
}

// splitBySections cuts the interval where section borders cross the line.
func (dv *divider) splitBySections(s flat.Strip, iv [2]float64) [][2]float64 {
	at := []float64{iv[0], iv[1]}
	for _, sec := range dv.d.Sections {
		for _, in := range (flat.Region{sec.Area}).Stretches(s.At, s.U) {
			for _, t := range in {
				if t > iv[0]+flat.Snap && t < iv[1]-flat.Snap {
					at = append(at, t)
				}
			}
		}
	}
	slices.Sort(at)
	var out [][2]float64
	for i := 1; i < len(at); i++ {
		if at[i]-at[i-1] > flat.Snap {
			out = append(out, [2]float64{at[i-1], at[i]})
		}
	}
	return out
}

// concave returns the largest distance from the neutral surface to the concave face among the stack-ups under the covered
// stretches (all stretches while none is covered): one neutral radius serves the whole hinge.
func (dv *divider) concave(ss []stretch, angle float64) float64 {
	most := 0.0
	any := slices.ContainsFunc(ss, func(s stretch) bool { return s.covered })
	names := []string{}
	for _, s := range ss {
		if s.covered || !any {
			names = append(names, s.stackup)
		}
	}
	if len(names) == 0 {
		if ref := dv.d.reference(); ref != nil {
			names = append(names, ref.Name)
		}
	}
	for _, name := range names {
		lv := dv.levels[name]
		if angle > 0 {
			most = max(most, lv.Top-lv.Neutral)
		} else {
			most = max(most, lv.Neutral-lv.Bottom)
		}
	}
	return most
}

// coverage refuses a written line that enters a stretch without covering it.
func (dv *divider) coverage(h *Hinge, p plan, length float64) []finding.Problem {
	var out []finding.Problem
	for _, s := range p.stretches {
		short := max(0, -s.lo) // at the start of the line
		if s.lo >= -reach {
			short = 0
		}
		over := 0.0
		if s.hi > length+reach {
			over = s.hi - length
		}
		if !s.covered || short+over == 0 {
			continue
		}
		from, to := p.strip.At.Add(p.strip.U.Mul(s.lo)), p.strip.At.Add(p.strip.U.Mul(s.hi))
		out = append(out, finding.Problem{Place: h.Place,
			What: fmt.Sprintf("hinge %s: the line ends inside the board: of the stretch from %v to %v it leaves %.4f uncovered", h.Name, from, to, short+over),
			Hint: fmt.Sprintf("extend the line by %.4f, or shorten it by %.4f so that it does not enter this stretch", short+over, min(s.hi, length)-max(s.lo, 0))})
	}
	return out
}

// layOnEdge lays a tangent line of the strip on an edge beside it: at first by a shift alone, and where that leaves no clean
// division by settling, which also turns.
func (dv *divider) layOnEdge(p *plan) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, s := range p.stretches {
		lo, hi = min(lo, s.lo), max(hi, s.hi)
	}
	if dv.settling {
		dv.settleOnEdge(p, lo, hi)
	} else {
		dv.shiftOnEdge(p)
	}
	for side := -1.0; side <= 1; side += 2 {
		at := p.strip.At.Add(p.strip.U.Left().Mul(side * p.strip.Half))
		dv.lines = append(dv.lines, flat.Line(at.Add(p.strip.U.Mul(lo)), at.Add(p.strip.U.Mul(hi))))
	}
}

// shiftOnEdge moves the strip by the smallest shift that lays a tangent line on a straight edge of outline, cutout, section
// or an earlier hinge's tangent line, where one is within 0.001 mm: designs with rounded numbers then leave no fins.
func (dv *divider) shiftOnEdge(p *plan) {
	best := math.Inf(1)
	for side := -1.0; side <= 1; side += 2 {
		off := side * p.strip.Half
		for _, e := range dv.lines {
			d0, d1 := p.strip.Across(e.P)-off, p.strip.Across(e.Q)-off
			if move := (d0 + d1) / 2; math.Abs(d0) <= shift && math.Abs(d1) <= shift && e.Len() > reach && math.Abs(move) < math.Abs(best) {
				best = move
			}
		}
	}
	if !math.IsInf(best, 0) {
		p.moved = best
		p.strip.At = p.strip.At.Add(p.strip.U.Left().Mul(best))
	}
}

// settleOnEdge moves the strip so that a tangent line lies on such an edge and turns it into that edge's direction where
// both are not quite parallel. Two corners of the board near the ends of the tangent line count as an edge: the side of a
// hub from which an arm of full width leaves. Of several edges one that it lies on already wins, then the one beside which
// it runs longest.
func (dv *divider) settleOnEdge(p *plan, lo, hi float64) {
	longest, moved, laid := reach, 0.0, p.strip
	for side := -1.0; side <= 1; side += 2 {
		off := side * p.strip.Half
		for _, e := range append(dv.gate(p.strip, off, lo, hi), dv.lines...) {
			d0, d1 := p.strip.Across(e.P)-off, p.strip.Across(e.Q)-off
			if math.Abs(d0) > shift || math.Abs(d1) > shift {
				continue
			}
			along := beside(p.strip, e, lo, hi)
			if max(math.Abs(d0), math.Abs(d1)) <= flat.Snap && along > reach {
				along = math.Inf(1)
			}
			if along > longest+flat.Snap {
				longest, moved, laid = along, (d0+d1)/2, laidOn(p.strip, e, off, lo, hi)
			}
		}
	}
	p.moved, p.strip = moved, laid
}

// gate returns the segment between the outermost corners of the board that lie within shift of the tangent line at distance
// off and beside the stretches from lo to hi; nothing if there are not two.
func (dv *divider) gate(s flat.Strip, off, lo, hi float64) []flat.Edge {
	margin := max(reach, (hi-lo)/10)
	var from, to flat.Pt
	first, last := math.Inf(1), math.Inf(-1)
	for _, l := range dv.board {
		for _, e := range l {
			t := s.Along(e.P)
			if math.Abs(s.Across(e.P)-off) > shift || t < lo-margin || t > hi+margin {
				continue
			}
			if t < first {
				first, from = t, e.P
			}
			if t > last {
				last, to = t, e.P
			}
		}
	}
	if last-first <= reach {
		return nil
	}
	return []flat.Edge{flat.Line(from, to)}
}

// beside returns how far an edge along the strip counts: the length over which it lies beside the board between lo and hi,
// before any that lies beyond.
func beside(s flat.Strip, e flat.Edge, lo, hi float64) float64 {
	a, b := s.Along(e.P), s.Along(e.Q)
	if over := min(max(a, b), hi) - max(min(a, b), lo); over > reach {
		return flat.Far + over
	}
	return e.Len()
}

// laidOn returns the strip with its tangent line at distance off laid on edge e, which is within shift of it. Unless both
// are parallel within flat.Snap, it takes the edge's direction, if that moves no point of the tangent line between lo and
// hi by more than settle.
func laidOn(s flat.Strip, e flat.Edge, off, lo, hi float64) flat.Strip {
	d0, d1 := s.Across(e.P)-off, s.Across(e.Q)-off
	shifted := s
	shifted.At = s.At.Add(s.U.Left().Mul((d0 + d1) / 2))
	if math.Abs(d0-d1) <= flat.Snap {
		return shifted
	}
	u := e.Q.Sub(e.P).Unit()
	if u.Dot(s.U) < 0 {
		u = u.Mul(-1)
	}
	turned := flat.Strip{At: e.P.Sub(u.Left().Mul(off)), U: u, Half: s.Half}
	turned.At = turned.At.Add(u.Mul(s.At.Sub(turned.At).Dot(u)))
	tangent := s.At.Add(s.U.Left().Mul(off))
	for _, t := range []float64{lo, hi} {
		if math.Abs(turned.Across(tangent.Add(s.U.Mul(t)))-off) > settle {
			return shifted
		}
	}
	return turned
}
