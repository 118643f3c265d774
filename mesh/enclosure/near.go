package enclosure

import "github.com/go-gl/mathgl/mgl64"

// nearby finds points close to each other by cells of a grid.
type nearby struct {
	points []mgl64.Vec3
	lo     mgl64.Vec3
	reach  float64
	first  map[[3]int32]int32 // the newest point of each cell
	older  []int32            // the one before it in the same cell, -1 for none
}

// cell returns the cell of a point moved by a distance.
func (n *nearby) cell(p mgl64.Vec3, by float64) [3]int32 {
	size := 4 * n.reach
	return [3]int32{int32((p[0] - n.lo[0] + by) / size), int32((p[1] - n.lo[1] + by) / size), int32((p[2] - n.lo[2] + by) / size)}
}

// find returns the first point within reach of point i, i itself if there is none.
func (n *nearby) find(i int32) int32 {
	p, best := n.points[i], i
	from, upto := n.cell(p, 0), n.cell(p, 2*n.reach) // all is moved by reach, so that no number is below 0
	for x := from[0]; x <= upto[0]; x++ {
		for y := from[1]; y <= upto[1]; y++ {
			for z := from[2]; z <= upto[2]; z++ {
				k, ok := n.first[[3]int32{x, y, z}]
				for ; ok && k >= 0; k = n.older[k] {
					if n.points[k].Sub(p).Len() <= n.reach {
						best = min(best, k)
					}
				}
			}
		}
	}
	return best
}

// enter makes point i one that others find.
func (n *nearby) enter(i int32) {
	at := n.cell(n.points[i], n.reach)
	n.older[i] = -1
	if k, ok := n.first[at]; ok {
		n.older[i] = k
	}
	n.first[at] = i
}

// weldNear returns for each point the first point within reach of it that is not itself welded to another. Only points at
// loose ends are looked at.
func weldNear(points []mgl64.Vec3, loose []bool, reach float64) []int32 {
	n := nearby{points: points, reach: reach, first: map[[3]int32]int32{}, older: make([]int32, len(points))}
	n.lo, _ = bounds(points)
	to := make([]int32, len(points))
	for i := range to {
		to[i] = int32(i)
		if !loose[i] {
			continue
		}
		if to[i] = n.find(int32(i)); to[i] == int32(i) {
			n.enter(int32(i))
		}
	}
	return to
}
