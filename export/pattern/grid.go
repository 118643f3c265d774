package pattern

import (
	"math"
	"slices"

	"foldfit/fold/flat"
)

// line is a straight piece of something drawn.
type line [2]flat.Pt

// chord is how far, in mm, the lines that stand for an arc may lie beside it.
const chord = 0.05

// grid finds the edges near a place. They come in as lines of cell length at most, so that each lies in few cells.
type grid struct {
	cell  float64
	edges []flat.Edge
	lines []line
	owner []int32 // by line: its edge
	cells map[[2]int][]int32
}

// newGrid returns a grid for a drawing about as large as b.
func newGrid(b flat.Box) *grid {
	return &grid{cell: max(4, b.Min.Dist(b.Max)/200), cells: map[[2]int][]int32{}}
}

// add enters edges.
func (g *grid) add(edges ...flat.Edge) {
	for _, e := range edges {
		g.edges = append(g.edges, e)
		p := e.P
		for _, q := range e.Points(chord) {
			g.addLine(p, q)
			p = q
		}
	}
}

// addLine enters a chord of the edge that came last.
func (g *grid) addLine(a, b flat.Pt) {
	n := max(1, int(math.Ceil(a.Dist(b)/g.cell)))
	for i := range n {
		l := line{a.Add(b.Sub(a).Mul(float64(i) / float64(n))), a.Add(b.Sub(a).Mul(float64(i+1) / float64(n)))}
		g.each(l.box(), func(c [2]int) bool {
			g.cells[c] = append(g.cells[c], int32(len(g.lines)))
			return true
		})
		g.lines = append(g.lines, l)
		g.owner = append(g.owner, int32(len(g.edges)-1))
	}
}

// each visits the cells that b touches until visit returns false.
func (g *grid) each(b flat.Box, visit func([2]int) bool) {
	for i := int(math.Floor(b.Min.X / g.cell)); float64(i)*g.cell <= b.Max.X; i++ {
		for j := int(math.Floor(b.Min.Y / g.cell)); float64(j)*g.cell <= b.Max.Y; j++ {
			if !visit([2]int{i, j}) {
				return
			}
		}
	}
}

// any reports whether test holds for the index of a line near b.
func (g *grid) any(b flat.Box, test func(i int32) bool) bool {
	found := false
	g.each(b, func(c [2]int) bool {
		found = slices.ContainsFunc(g.cells[c], test)
		return !found
	})
	return found
}

// covers reports whether a line passes through b.
func (g *grid) covers(b flat.Box) bool {
	return g.any(b, func(i int32) bool { return g.lines[i].enters(b) })
}

// crosses reports whether a line crosses l.
func (g *grid) crosses(l line) bool {
	return g.any(l.box(), func(i int32) bool { return l.crosses(g.lines[i]) })
}

// on reports whether p lies on an edge.
func (g *grid) on(p flat.Pt) bool {
	return g.any(around(p, 4*chord, 4*chord), func(i int32) bool { return onEdge(g.edges[g.owner[i]], p) })
}

func (l line) box() flat.Box { return flat.EmptyBox().With(l[0]).With(l[1]) }

// enters reports whether a part of l lies inside b.
func (l line) enters(b flat.Box) bool {
	length := l[0].Dist(l[1])
	if length == 0 {
		return b.Min.X < l[0].X && l[0].X < b.Max.X && b.Min.Y < l[0].Y && l[0].Y < b.Max.Y
	}
	lo, hi := inside(l[0], l[1].Sub(l[0]).Mul(1/length), b)
	return max(lo, 0) < min(hi, length)
}

// crosses reports whether l and m have a point in common.
func (l line) crosses(m line) bool {
	d, e := l[1].Sub(l[0]), m[1].Sub(m[0])
	a, b := d.Cross(m[0].Sub(l[0])), d.Cross(m[1].Sub(l[0]))
	c, f := e.Cross(l[0].Sub(m[0])), e.Cross(l[1].Sub(m[0]))
	return (a > 0) != (b > 0) && (c > 0) != (f > 0)
}
