package flat

import (
	"errors"
	"math"
	"slices"
)

// nodes gives one identity to all points within Snap of each other; the first comer's coordinates stay.
type nodes struct {
	pts  []Pt
	cell map[[2]int64][]int
}

const nodeCell = 4 * Snap

func newNodes() *nodes { return &nodes{cell: map[[2]int64][]int{}} }

// id returns the node at p, made if there is none within Snap.
func (n *nodes) id(p Pt) int {
	cx, cy := int64(math.Floor(p.X/nodeCell)), int64(math.Floor(p.Y/nodeCell))
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			for _, i := range n.cell[[2]int64{cx + dx, cy + dy}] {
				if n.pts[i].Dist(p) <= Snap {
					return i
				}
			}
		}
	}
	n.pts = append(n.pts, p)
	key := [2]int64{cx, cy}
	n.cell[key] = append(n.cell[key], len(n.pts)-1)
	return len(n.pts) - 1
}

// link is a directed edge between two nodes; tag is the caller's.
type link struct {
	Edge
	from, to int
	tag      int
}

// split cuts e at the given points of it and appends the pieces, with their nodes, to out.
func (n *nodes) split(out []link, e Edge, at []Pt, tag int) []link {
	type cut struct {
		t  float64
		id int
	}
	cuts := []cut{{0, n.id(e.P)}, {1, n.id(e.Q)}}
	for _, p := range at {
		if t, ok := e.on(p); ok && t > 0 && t < 1 {
			cuts = append(cuts, cut{t, n.id(p)})
		}
	}
	slices.SortStableFunc(cuts, func(a, b cut) int { return cmpFloat(a.t, b.t) })
	length := e.Len()
	for i := 1; i < len(cuts); i++ {
		a, b := cuts[i-1], cuts[i]
		if a.id == b.id && (b.t-a.t)*length < 10*Snap {
			continue
		}
		part := e.Part(a.t, b.t, n.pts[a.id], n.pts[b.id])
		out = append(out, link{part, a.id, b.id, tag})
	}
	return out
}

// errOpen says that links do not close up: the input was not a set of region borders.
var errOpen = errors.New("flat: edges do not close up to loops")

// chain joins links, material on their left, to closed loops. Where loops touch at a node the sharpest left turn is taken,
// so that pieces that only touch come apart.
func chain(links []link) ([][]link, error) {
	start := map[int][]int{}
	for i, l := range links {
		start[l.from] = append(start[l.from], i)
	}
	used := make([]bool, len(links))
	var loops [][]link
	for i := range links {
		if used[i] {
			continue
		}
		var loop []link
		for cur := i; ; {
			used[cur] = true
			loop = append(loop, links[cur])
			next := -1
			for _, j := range start[links[cur].to] {
				if (j == i || !used[j]) && (next < 0 || moreLeft(links[cur].Edge, links[j].Edge, links[next].Edge)) {
					next = j
				}
			}
			if next < 0 {
				return nil, errOpen
			}
			if next == i {
				break
			}
			cur = next
		}
		loops = append(loops, loop)
	}
	return loops, nil
}

// moreLeft reports whether, coming in along in, turning to a is further left than turning to b.
func moreLeft(in, a, b Edge) bool {
	ta, tb := turnTo(in, a), turnTo(in, b)
	if math.Abs(ta-tb) > 1e-9 {
		return ta > tb
	}
	return a.Curvature() > b.Curvature()
}

// turnTo returns the angle turned left in (-pi, pi] when in is followed by out. A full reversal is +pi if out runs back to
// the left of in, -pi if to the right.
func turnTo(in, out Edge) float64 {
	d, t := in.Tangent(1), out.Tangent(0)
	a := math.Atan2(d.Cross(t), d.Dot(t))
	if math.Abs(a) < math.Pi-1e-9 {
		return a
	}
	if out.Curvature() <= -in.Curvature() {
		return math.Pi
	}
	return -math.Pi
}

// pieces sorts closed loops into pieces: each outer loop with the holes in it, in the order of the outer loops.
func pieces(loops [][]link) [][][]link {
	var out [][][]link
	var outers []Loop
	var holes [][]link
	for _, l := range loops {
		if edgesOf(l).Area() > 0 {
			out = append(out, [][]link{l})
			outers = append(outers, edgesOf(l))
		} else {
			holes = append(holes, l)
		}
	}
	for _, h := range holes {
		best, mid := -1, h[0].Mid()
		for i, o := range outers {
			if o.Contains(mid) && (best < 0 || o.Area() < outers[best].Area()) {
				best = i
			}
		}
		if best >= 0 {
			out[best] = append(out[best], h)
		}
	}
	return out
}

// edgesOf returns the plain loop of a chain of links.
func edgesOf(ls []link) Loop {
	out := make(Loop, len(ls))
	for i, l := range ls {
		out[i] = l.Edge
	}
	return out
}

// regionOf returns the plain region of a piece.
func regionOf(piece [][]link) Region {
	out := make(Region, len(piece))
	for i, l := range piece {
		out[i] = edgesOf(l)
	}
	return out
}
