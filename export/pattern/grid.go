package pattern

import (
	"math"

	"foldfit/fold/flat"
)

// line is a straight piece of something drawn.
type line [2]flat.Pt

// grid finds the lines near a place. Lines are cut to cell length when they come in, so that each lies in few cells.
type grid struct {
	cell  float64
	lines []line
	cells map[[2]int][]int32
}

// newGrid returns a grid for a drawing about as large as b.
func newGrid(b flat.Box) *grid {
	return &grid{cell: max(4, b.Min.Dist(b.Max)/200), cells: map[[2]int][]int32{}}
}

func (g *grid) add(a, b flat.Pt) {
	n := max(1, int(math.Ceil(a.Dist(b)/g.cell)))
	for i := range n {
		l := line{a.Add(b.Sub(a).Mul(float64(i) / float64(n))), a.Add(b.Sub(a).Mul(float64(i+1) / float64(n)))}
		g.each(l.box(), func(c [2]int) bool {
			g.cells[c] = append(g.cells[c], int32(len(g.lines)))
			return true
		})
		g.lines = append(g.lines, l)
	}
}

// addEdges adds edges; arcs as chords that deviate by 0.05 mm at most.
func (g *grid) addEdges(edges []flat.Edge) {
	for _, e := range edges {
		p := e.P
		for _, q := range e.Points(0.05) {
			g.add(p, q)
			p = q
		}
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

// any reports whether test holds for a line near b.
func (g *grid) any(b flat.Box, test func(line) bool) bool {
	found := false
	g.each(b, func(c [2]int) bool {
		for _, i := range g.cells[c] {
			if test(g.lines[i]) {
				found = true
				return false
			}
		}
		return true
	})
	return found
}

// covers reports whether a line passes through b.
func (g *grid) covers(b flat.Box) bool { return g.any(b, func(l line) bool { return l.enters(b) }) }

// crosses reports whether a line crosses l.
func (g *grid) crosses(l line) bool { return g.any(l.box(), l.crosses) }

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
