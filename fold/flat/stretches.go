package flat

import (
	"cmp"
	"math"
	"slices"
)

// Stretches returns the maximal open intervals of the endless line through a along the unit vector u that lie in the
// interior of r, as arc lengths from a, rising. Intervals that run along an edge are none; where an edge only touches the
// line one interval ends and the next begins. Points within Snap of the line lie on it. Cost: one step an edge.
func (r Region) Stretches(a, u Pt) [][2]float64 {
	var ms []lineMark
	for _, l := range r {
		ms = l.lineMarks(ms, a, u)
	}
	slices.SortStableFunc(ms, func(p, q lineMark) int { return cmp.Compare(p.at, q.at) })
	var out [][2]float64
	above, below := 0, 0
	for i, m := range ms {
		if i > 0 && above > 0 && below > 0 && m.at-ms[i-1].at > Snap {
			out = append(out, [2]float64{ms[i-1].at, m.at})
		}
		above, below = above+m.above, below+m.below
	}
	return out
}

// lineMark is a place where a border meets a line, and how the winding numbers of the two sides of the line change there:
// just above the line (to the left of its direction) and just below.
type lineMark struct {
	at           float64
	above, below int
}

// lineMarks appends where l meets the line through a along u. The loop is followed piece by piece; a piece lies above (1),
// on (0) or below (-1) the line. Going up takes the area, which is on the left of the edges, away from what comes next.
func (l Loop) lineMarks(ms []lineMark, a, u Pt) []lineMark {
	n := u.Left()
	side, start := 0, 0
	for i := range l {
		e := &l[i]
		t := 0.0
		cuts := e.crossLine(a, n, 0)
		for k := range len(cuts) + 1 {
			t1 := 1.0
			if k < len(cuts) {
				t1 = cuts[k]
			}
			next := e.sideOfLine(a, n, t, t1)
			p := e.At(t).Sub(a)
			if i+k == 0 {
				start = next
			} else if next != side || math.Abs(p.Dot(n)) <= Snap {
				ms = append(ms, markOf(p.Dot(u), side, next))
			}
			side, t = next, t1
		}
	}
	if len(l) == 0 {
		return ms
	}
	if p := l[0].P.Sub(a); start != side || math.Abs(p.Dot(n)) <= Snap {
		ms = append(ms, markOf(p.Dot(u), side, start))
	}
	return ms
}

// markOf returns the mark of a border that changes from one side of the line to another at arc length t.
func markOf(t float64, from, to int) lineMark {
	b := func(v bool) int {
		if v {
			return 1
		}
		return 0
	}
	return lineMark{t, b(from > 0) - b(to > 0), b(from >= 0) - b(to >= 0)}
}

// sideOfLine returns on which side of the line through a with normal n the piece t0-t1 of e lies, 0 for along it. The
// piece does not cross the line, so its point farthest from it decides.
func (e *Edge) sideOfLine(a, n Pt, t0, t1 float64) int {
	far := 0.0
	for _, t := range [3]float64{t0, (t0 + t1) / 2, t1} {
		if t != t0 && t != t1 && !e.IsArc() {
			continue
		}
		if d := e.At(t).Sub(a).Dot(n); math.Abs(d) > math.Abs(far) {
			far = d
		}
	}
	switch {
	case far > Snap:
		return 1
	case far < -Snap:
		return -1
	}
	return 0
}

// crossLine returns the parameters, strictly inside e and rising, at which e meets the line (p-a).n = off; ends of e that
// lie on the line within Snap are not among them. A tangent within Snap counts once.
func (e *Edge) crossLine(a, n Pt, off float64) []float64 {
	if !e.IsArc() {
		d0, d1 := e.P.Sub(a).Dot(n)-off, e.Q.Sub(a).Dot(n)-off
		if math.Abs(d0) <= Snap || math.Abs(d1) <= Snap || (d0 > 0) == (d1 > 0) {
			return nil
		}
		return []float64{d0 / (d0 - d1)}
	}
	if math.Abs(e.C.Sub(a).Dot(n)-off) > e.R+Snap {
		return nil
	}
	var out []float64
	foot := a.Add(n.Mul(off))
	ps, count := lineCircle(foot, n.Left(), e.C, e.R, Snap)
	for _, p := range ps[:count] {
		if t, ok := e.on(p, Snap); ok && t > 0 && t < 1 {
			out = append(out, t)
		}
	}
	slices.Sort(out)
	return out
}
