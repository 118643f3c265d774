package mesh

import (
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
		if len(ring) > 2 {
			poly = append(poly, ring)
		}
	}
	return poly.apart()
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

// area returns the polygon's area in mm2.
func (poly polygon) area() float64 {
	sum := 0.0
	for _, l := range poly.points() {
		sum += loopArea(l)
	}
	return sum
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
	slices.SortStableFunc(rays, func(a, b ray) int { return sign(a.angle - b.angle) })
	for i, r := range rays {
		if r.leaves == rays[(i+1)%len(rays)].leaves {
			return
		}
	}
	for i, r := range rays {
		if r.leaves {
			next[rays[(i+1)%len(rays)].side] = r.side
		}
	}
}

// rings follows next from side to side and returns the closed rings, by their first side.
func rings(sides []side, next []int) polygon {
	var out polygon
	used := make([]bool, len(sides))
	for i := range sides {
		var ring []side
		for k := i; !used[k]; k = next[k] {
			used[k] = true
			ring = append(ring, sides[k])
		}
		if len(ring) > 0 {
			out = append(out, ring)
		}
	}
	return out
}
