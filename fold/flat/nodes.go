package flat

import "math"

// nodes gives one identity to all points within Snap of each other; the first comer's coordinates stay. So nodes are
// farther than Snap apart.
type nodes struct {
	pts  []Pt
	cell map[[2]int64][]int
}

const nodeCell = 4 * Snap

func newNodes() *nodes { return &nodes{cell: map[[2]int64][]int{}} }

// id returns the node nearest to p, made if there is none within Snap.
func (n *nodes) id(p Pt) int {
	x, y := p.X/nodeCell, p.Y/nodeCell
	cx, cy := int64(math.Floor(x)), int64(math.Floor(y))
	x0, x1 := cx+int64(math.Round(x-float64(cx)))-1, cx+int64(math.Round(x-float64(cx)))
	y0, y1 := cy+int64(math.Round(y-float64(cy)))-1, cy+int64(math.Round(y-float64(cy)))
	best, far := -1, Snap
	for kx := x0; kx <= x1; kx++ { // Snap is under half a cell: the nearer neighbours do
		for ky := y0; ky <= y1; ky++ {
			for _, i := range n.cell[[2]int64{kx, ky}] {
				if d := n.pts[i].Dist(p); d <= far {
					best, far = i, d
				}
			}
		}
	}
	if best >= 0 {
		return best
	}
	n.pts = append(n.pts, p)
	n.cell[[2]int64{cx, cy}] = append(n.cell[[2]int64{cx, cy}], len(n.pts)-1)
	return len(n.pts) - 1
}
