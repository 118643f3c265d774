package flat

import "math"

// Contains reports whether p is inside r (left of its edges), by the exact winding number; points within Snap of an edge
// may go either way. Cost: one step an edge.
func (r Region) Contains(p Pt) bool {
	turns := 0
	for _, l := range r {
		turns += l.winding(p)
	}
	return turns > 0
}

// Contains reports whether p is inside the counter-clockwise loop l.
func (l Loop) Contains(p Pt) bool { return l.winding(p) > 0 }

// winding returns how often l runs round p, counter-clockwise.
func (l Loop) winding(p Pt) int {
	turns := 0
	for i := range l {
		turns += l[i].winding(p)
	}
	return turns
}

// winding returns what e adds to the winding number about p: its chord's crossings of the ray from p to the right, and one
// turn if p lies between chord and arc. Both ask once for the side of the chord, so that rounding cannot part them.
func (e *Edge) winding(p Pt) int {
	up, down := e.P.Y <= p.Y && p.Y < e.Q.Y, e.Q.Y <= p.Y && p.Y < e.P.Y
	if !up && !down && (e.Sweep == 0 || !e.inCircle(p)) {
		return 0
	}
	left := e.hasLeft(p)
	turns := 0
	switch {
	case up && left:
		turns = 1
	case down && !left:
		turns = -1
	}
	switch {
	case e.Sweep > 0 && !left && e.inCircle(p):
		turns++
	case e.Sweep < 0 && left && e.inCircle(p):
		turns--
	}
	return turns
}

// hasLeft reports whether p lies to the left of the chord of e; points on it count as just above.
func (e *Edge) hasLeft(p Pt) bool {
	side := e.Q.Sub(e.P).Cross(p.Sub(e.P))
	return side > 0 || side == 0 && (e.Q.Y < e.P.Y || e.Q.Y == e.P.Y && e.P.X < e.Q.X)
}

// inCircle reports whether p lies inside the circle that carries e.
func (e *Edge) inCircle(p Pt) bool {
	v := p.Sub(e.C)
	return v.Dot(v) < e.R*e.R
}

// Near reports whether p lies on e within Snap.
func (e Edge) Near(p Pt) bool {
	_, ok := e.on(p, Snap)
	return ok
}

// Inside returns a point well inside r: the middle of the longest stretch among some lines across it. A region too thin
// for any line gives a point of its border, an empty region the zero point.
func (r Region) Inside() Pt {
	best, at := 0.0, Pt{}
	if len(r) > 0 && len(r[0]) > 0 {
		at = r[0][0].Mid()
	}
	b := r.Box()
	for i := range 9 {
		f := (float64(i) + 0.53) / 9.07
		for _, line := range [2][2]Pt{{{0, b.Min.Y + (b.Max.Y-b.Min.Y)*f}, {1, 0}}, {{b.Min.X + (b.Max.X-b.Min.X)*f, 0}, {0, 1}}} {
			for _, s := range r.Stretches(line[0], line[1]) {
				if s[1]-s[0] > best {
					best, at = s[1]-s[0], line[0].Add(line[1].Mul((s[0]+s[1])/2))
				}
			}
		}
	}
	return at
}

// Distance returns the distance in mm of p from the border of l, exact to rounding; +Inf for an empty loop.
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
		if v := p.Sub(e.C); e.param(math.Atan2(v.Y, v.X)) < 1 {
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
