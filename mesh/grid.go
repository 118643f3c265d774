package mesh

import (
	"math"

	"foldfit/fold/flat"
)

// grid finds points near a segment: points are sorted into square cells, about one a cell.
type grid struct {
	low        flat.Pt
	cell       float64
	cols, rows int
	first      []int32 // of each cell, in list
	list       []int32
}

// newGrid sorts points into cells; the numbers in a cell rise.
func newGrid(pts []flat.Pt) *grid {
	box := flat.EmptyBox()
	for _, p := range pts {
		box = box.With(p)
	}
	g := &grid{low: box.Min}
	if len(pts) == 0 {
		return g
	}
	w, h := box.Max.X-box.Min.X, box.Max.Y-box.Min.Y
	g.cell = max(math.Sqrt(w*h/float64(len(pts))), (w+h)/float64(len(pts)), flat.Snap)
	g.cols, g.rows = int(w/g.cell)+1, int(h/g.cell)+1
	g.first = make([]int32, g.cols*g.rows+1)
	g.list = make([]int32, len(pts))
	for _, p := range pts {
		g.first[g.col(p.X)+g.cols*g.row(p.Y)+1]++
	}
	for i := range g.cols * g.rows {
		g.first[i+1] += g.first[i]
	}
	free := append([]int32(nil), g.first...)
	for i, p := range pts {
		c := g.col(p.X) + g.cols*g.row(p.Y)
		g.list[free[c]] = int32(i)
		free[c]++
	}
	return g
}

// col and row return the cell at a coordinate, the nearest one outside.
func (g *grid) col(x float64) int { return min(max(0, int((x-g.low.X)/g.cell)), g.cols-1) }
func (g *grid) row(y float64) int { return min(max(0, int((y-g.low.Y)/g.cell)), g.rows-1) }

// near calls visit with the number of each point within reach of the segment from p to q, and of others close by.
func (g *grid) near(p, q flat.Pt, reach float64, visit func(i int32)) {
	if g.cols == 0 {
		return
	}
	if q.Y < p.Y {
		p, q = q, p
	}
	for row := g.row(p.Y - reach); row <= g.row(q.Y+reach); row++ {
		a, b := p, q
		if low := g.low.Y + float64(row)*g.cell - reach; low > p.Y {
			a = atHeight(p, q, low)
		}
		if high := g.low.Y + float64(row+1)*g.cell + reach; high < q.Y {
			b = atHeight(p, q, high)
		}
		from, to := g.col(min(a.X, b.X)-2*reach), g.col(max(a.X, b.X)+2*reach)
		for _, i := range g.list[g.first[row*g.cols+from]:g.first[row*g.cols+to+1]] {
			visit(i)
		}
	}
}

// atHeight returns the point of a rising segment at height y, or its nearer end.
func atHeight(p, q flat.Pt, y float64) flat.Pt {
	t := min(max(0, (y-p.Y)/(q.Y-p.Y)), 1)
	return flat.Pt{X: p.X + t*(q.X-p.X), Y: y}
}
