package flat

import (
	"math"
	"slices"
)

// Contains reports whether p is inside r (left of its edges), by the exact winding number; points within Snap of an edge
// may go either way.
func (r Region) Contains(p Pt) bool {
	turns := 0.0
	for _, l := range r {
		for _, e := range l {
			turns += e.angleAt(p)
		}
	}
	return turns > math.Pi
}

// Contains reports whether p is inside the counter-clockwise loop l.
func (l Loop) Contains(p Pt) bool { return Region{l}.Contains(p) }

// angleAt returns the angle in radians under which e is seen from z, positive counter-clockwise.
func (e Edge) angleAt(z Pt) float64 {
	a, b := e.P.Sub(z), e.Q.Sub(z)
	ang := math.Atan2(a.Cross(b), a.Dot(b))
	if !e.IsArc() {
		return ang
	}
	chord := e.Q.Sub(e.P)
	side := chord.Cross(z.Sub(e.P))
	turn := math.Copysign(1, e.Sweep)
	inCircle := z.Dist(e.C) < e.R
	switch {
	case inCircle && math.Abs(side) <= 1e-12*e.R*chord.Len():
		if z.Sub(e.P).Dot(chord) < 0 || z.Sub(e.Q).Dot(chord) > 0 {
			return ang // on the chord's line but beyond its ends: cannot be inside the circle, kept for safety
		}
		return math.Pi * turn
	case inCircle && side*turn < 0 && ang*turn < 0:
		return ang + 2*math.Pi*turn // between chord and arc
	}
	return ang
}

// Stretches returns the maximal open intervals of the endless line through a along the unit vector u that lie in the
// interior of r, as arc lengths from a, rising. Intervals that run along an edge, or that only touch an arc, are none.
func (r Region) Stretches(a, u Pt) [][2]float64 {
	var at []float64
	var along [][2]float64
	n := u.Left()
	for _, l := range r {
		for _, e := range l {
			ts, on := e.onLine(a, u, n)
			at = append(at, ts...)
			if on {
				along = append(along, [2]float64{min(ts[0], ts[1]), max(ts[0], ts[1])})
			}
		}
	}
	slices.Sort(at)
	var out [][2]float64
	for i := 1; i < len(at); i++ {
		lo, hi := at[i-1], at[i]
		mid := (lo + hi) / 2
		if hi-lo <= Snap || slices.ContainsFunc(along, func(s [2]float64) bool { return s[0] < mid && mid < s[1] }) {
			continue
		}
		if r.Contains(a.Add(u.Mul(mid))) {
			out = append(out, [2]float64{lo, hi})
		}
	}
	return out
}

// onLine returns where e meets the line through a along u (arc lengths from a), and whether e is straight and runs along
// it; then exactly its two ends are returned.
func (e Edge) onLine(a, u, n Pt) ([]float64, bool) {
	var ts []float64
	p, q := math.Abs(e.P.Sub(a).Dot(n)) <= Snap, math.Abs(e.Q.Sub(a).Dot(n)) <= Snap
	if p {
		ts = append(ts, e.P.Sub(a).Dot(u))
	}
	if q {
		ts = append(ts, e.Q.Sub(a).Dot(u))
	}
	if !e.IsArc() && p && q {
		return ts, true
	}
	for _, t := range e.crossLine(a, n, 0) {
		ts = append(ts, e.At(t).Sub(a).Dot(u))
	}
	return ts, false
}

// crossLine returns the parameters, strictly inside e and rising, at which e meets the line (p-a).n = off; ends of e that
// lie on the line within Snap are not among them. A tangent within Snap counts once.
func (e Edge) crossLine(a, n Pt, off float64) []float64 {
	if !e.IsArc() {
		d0, d1 := e.P.Sub(a).Dot(n)-off, e.Q.Sub(a).Dot(n)-off
		if math.Abs(d0) <= Snap || math.Abs(d1) <= Snap || (d0 > 0) == (d1 > 0) {
			return nil
		}
		return []float64{d0 / (d0 - d1)}
	}
	var out []float64
	foot := a.Add(n.Mul(off))
	for _, p := range lineCircle(foot, n.Left(), e.C, e.R) {
		if t, ok := e.on(p); ok && t > 0 && t < 1 {
			out = append(out, t)
		}
	}
	slices.Sort(out)
	return out
}

// Inside returns a point well inside r: the middle of the longest stretch among some lines across it. The zero point for
// an empty region.
func (r Region) Inside() Pt {
	b := r.Box()
	best, at := 0.0, Pt{}
	for i := range 9 {
		y := b.Min.Y + (b.Max.Y-b.Min.Y)*(float64(i)+0.53)/9.07
		for _, s := range r.Stretches(Pt{0, y}, Pt{1, 0}) {
			if s[1]-s[0] > best {
				best, at = s[1]-s[0], Pt{(s[0] + s[1]) / 2, y}
			}
		}
		x := b.Min.X + (b.Max.X-b.Min.X)*(float64(i)+0.53)/9.07
		for _, s := range r.Stretches(Pt{x, 0}, Pt{0, 1}) {
			if s[1]-s[0] > best {
				best, at = s[1]-s[0], Pt{x, (s[0] + s[1]) / 2}
			}
		}
	}
	return at
}

// Near reports whether p lies on e within Snap.
func (e Edge) Near(p Pt) bool {
	_, ok := e.on(p)
	return ok
}

// Distance returns the distance in mm of p from the border of l.
func (l Loop) Distance(p Pt) float64 {
	best := math.Inf(1)
	for _, e := range l {
		best = min(best, e.distance(p))
	}
	return best
}

// distance returns the distance of p from e.
func (e Edge) distance(p Pt) float64 {
	ends := min(p.Dist(e.P), p.Dist(e.Q))
	if e.IsArc() {
		v := p.Sub(e.C)
		if e.param(math.Atan2(v.Y, v.X)) < 1 {
			return math.Abs(v.Len() - e.R)
		}
		return ends
	}
	d := e.Q.Sub(e.P)
	if t := p.Sub(e.P).Dot(d) / d.Dot(d); t > 0 && t < 1 {
		return math.Abs(p.Sub(e.P).Cross(d)) / d.Len()
	}
	return ends
}
