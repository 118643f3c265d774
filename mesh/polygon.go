package mesh

import (
	"cmp"
	"math"
	"slices"

	"foldfit/fold/flat"
)

// polygon is a region with its arcs cut into chords: closed rings, the area to the left of their sides, each point once.
type polygon [][]side

// side is a straight side of a polygon from p to the next side's p. The outward unit normals at its two ends are those of
// the true edge: radial where it is an arc.
type side struct {
	p   flat.Pt
	out [2]flat.Pt
}

// cut returns the region as a polygon whose chords deviate from its arcs by at most chord (mm). An arc gives the same
// points, bit for bit, from whichever end it is run. Edges shorter than flat.Snap are left out. Where rings touch at a
// point they are joined anew there, so that no corner has a part of the boundary inside.
func cut(r flat.Region, chord float64) polygon {
	var poly polygon
	for _, l := range r {
		var ring []side
		for _, e := range l {
			if !vanishes(e) {
				ring = append(ring, sides(e, chord)...)
			}
		}
		if ring = unfold(ring); ring != nil {
			poly = append(poly, ring)
		}
	}
	return poly.apart()
}

// unfold takes out sides without length, and sides that run to a point and straight back. A ring that is nothing else is
// gone.
func unfold(ring []side) []side {
	var out []side
	for _, s := range ring {
		switch n := len(out); {
		case n > 0 && out[n-1].p == s.p:
			out = out[:n-1]
		case n > 1 && out[n-2].p == s.p:
			out = out[:n-2]
		}
		out = append(out, s)
	}
	for len(out) > 2 {
		switch n := len(out); {
		case out[n-1].p == out[0].p:
			out = out[:n-1]
		case out[n-2].p == out[0].p:
			out = out[:n-2]
		case out[n-1].p == out[1].p:
			out = out[1 : n-1]
		default:
			return out
		}
	}
	return nil
}

// vanishes reports whether an edge is too short to have two ends.
func vanishes(e flat.Edge) bool {
	return e.Len() <= flat.Snap || e.P == e.Q && math.Abs(e.Sweep) < math.Pi
}

// sides returns an edge as sides of a polygon.
func sides(e flat.Edge, chord float64) []side {
	if !e.IsArc() {
		n := outward(e.Q.Sub(e.P).Unit())
		return []side{{e.P, [2]flat.Pt{n, n}}}
	}
	pts := arcPoints(e, chord)
	out := make([]side, len(pts)-1)
	for i := range out {
		out[i] = side{pts[i], [2]flat.Pt{radial(e, pts[i]), radial(e, pts[i+1])}}
	}
	return out
}

// arcPoints returns the points of an arc from P to Q, both with it.
func arcPoints(e flat.Edge, chord float64) []flat.Pt {
	if before(e.Q, e.P) {
		pts := arcPoints(e.Rev(), chord)
		slices.Reverse(pts)
		return pts
	}
	return append([]flat.Pt{e.P}, e.Points(chord)...)
}

// outward returns the normal to the right of a direction.
func outward(d flat.Pt) flat.Pt { return flat.Pt{X: d.Y, Y: -d.X} }

// radial returns the outward unit normal of an arc at its point p.
func radial(e flat.Edge, p flat.Pt) flat.Pt {
	n := p.Sub(e.C).Unit()
	if e.Sweep < 0 {
		return flat.Pt{X: -n.X, Y: -n.Y}
	}
	return n
}

// sagitta returns the largest distance between the arcs of r and their chords, in mm.
func sagitta(r flat.Region, chord float64) float64 {
	most := 0.0
	for _, l := range r {
		for _, e := range l {
			if e.IsArc() && !vanishes(e) {
				n := flat.Chords(e.R, math.Abs(e.Sweep), chord)
				most = max(most, e.R*(1-math.Cos(e.Sweep/float64(2*n))))
			}
		}
	}
	return most
}

// points returns the rings' points.
func (poly polygon) points() [][]flat.Pt {
	out := make([][]flat.Pt, len(poly))
	for i, ring := range poly {
		for _, s := range ring {
			out[i] = append(out[i], s.p)
		}
	}
	return out
}

// apart joins the rings anew at each point that several corners share.
func (poly polygon) apart() polygon {
	sides := slices.Concat(poly...)
	next := make([]int, 0, len(sides))
	for _, ring := range poly {
		first := len(next)
		for i := range ring {
			next = append(next, first+(i+1)%len(ring))
		}
	}
	corners := map[flat.Pt][]int{} // sides that begin at a point
	for i, s := range sides {
		corners[s.p] = append(corners[s.p], i)
	}
	if len(corners) == len(sides) {
		return poly
	}
	prev := make([]int, len(sides))
	for i, n := range next {
		prev[n] = i
	}
	for i, s := range sides {
		if list := corners[s.p]; len(list) > 1 && list[0] == i {
			rejoin(sides, next, prev, list)
		}
	}
	return rings(sides, next)
}

// ray is a side seen from a point that it leaves or reaches.
type ray struct {
	side   int
	leaves bool
	angle  float64
}

// rejoin lets each side that reaches a point go on with the side that leaves it next clockwise; the area lies between. Where
// the rays do not alternate (sides that overlap) all stays as it was.
func rejoin(sides []side, next, prev, leaving []int) {
	var rays []ray
	at := sides[leaving[0]].p
	for _, i := range leaving {
		for _, r := range []ray{{side: i, leaves: true}, {side: prev[i]}} {
			d := sides[r.side].p.Sub(at)
			if r.leaves {
				d = sides[next[i]].p.Sub(at)
			}
			r.angle = math.Atan2(d.Y, d.X)
			rays = append(rays, r)
		}
	}
	if alternate(rays, true) || alternate(rays, false) {
		for i, r := range rays {
			if r.leaves {
				next[rays[(i+1)%len(rays)].side] = r.side
			}
		}
	}
}

// alternate sorts rays counter-clockwise and reports whether leaving and reaching ones alternate. Of two that lie on each
// other the leaving one comes first if leaves is set: then what is between them counts as area, else as a gap.
func alternate(rays []ray, leaves bool) bool {
	slices.SortStableFunc(rays, func(a, b ray) int {
		switch {
		case a.angle != b.angle:
			return cmp.Compare(a.angle, b.angle)
		case a.leaves == b.leaves:
			return 0
		case a.leaves == leaves:
			return -1
		}
		return 1
	})
	for i, r := range rays {
		if r.leaves == rays[(i+1)%len(rays)].leaves {
			return false
		}
	}
	return true
}

// rings follows next from side to side and returns the closed rings, by their first side;
// there and back is no ring.
func rings(sides []side, next []int) polygon {
	var out polygon
	used := make([]bool, len(sides))
	for i := range sides {
		var ring []side
		for k := i; !used[k]; k = next[k] {
			used[k] = true
			ring = append(ring, sides[k])
		}
		if len(ring) > 2 {
			out = append(out, ring)
		}
	}
	return out
}
