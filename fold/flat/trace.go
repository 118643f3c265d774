package flat

import (
	"cmp"
	"errors"
	"math"
	"slices"
)

// span is a directed way from one node to another, with the area on its left: the edges with which it leaves and arrives.
type span struct {
	from, to    int
	first, last Edge
}

// errOpen says that not as many spans leave a node as arrive: they bound no area.
var errOpen = errors.New("borders do not close")

// trace joins spans end to end to closed loops, lists of their numbers. Where several pass a node, each turns as far left
// as it can, and loops that come back to a node are parted there: no loop visits a node twice, and areas that only touch
// come apart. The order of loops and their first spans follow the order of the spans.
func trace(spans []span) ([][]int, error) {
	next, err := follow(spans)
	if err != nil {
		return nil, err
	}
	var loops [][]int
	used := make([]bool, len(spans))
	place := map[int]int{} // node -> where on the way it was left
	for i := range spans {
		if used[i] {
			continue
		}
		clear(place)
		var way []int
		for cur := i; !used[cur]; cur = next[cur] {
			used[cur] = true
			place[spans[cur].from] = len(way)
			way = append(way, cur)
			if at, ok := place[spans[cur].to]; ok {
				loops = append(loops, slices.Clone(way[at:]))
				for _, k := range way[at:] {
					delete(place, spans[k].from)
				}
				way = way[:at]
			}
		}
	}
	return loops, nil
}

// follow returns for each span the one that goes on at its end.
func follow(spans []span) ([]int, error) {
	top := 0
	for _, s := range spans {
		top = max(top, s.from+1, s.to+1)
	}
	out, in := make([][]int, top), make([][]int, top)
	for i, s := range spans {
		out[s.from] = append(out[s.from], i)
		in[s.to] = append(in[s.to], i)
	}
	next := make([]int, len(spans))
	for v := range out {
		switch {
		case len(out[v]) != len(in[v]):
			return nil, errOpen
		case len(out[v]) == 1:
			next[in[v][0]] = out[v][0]
		case len(out[v]) > 1:
			matchAt(spans, in[v], out[v], next)
		}
	}
	return next, nil
}

// matchAt sets at a node with several ways through it which one each arriving span takes: the first free one clockwise
// from where it came from, that is the sharpest left turn.
func matchAt(spans []span, in, out, next []int) {
	var es []Edge
	for _, i := range in {
		es = append(es, spans[i].last.Rev())
	}
	for _, i := range out {
		es = append(es, spans[i].first)
	}
	order := around(es)
	slices.Reverse(order) // clockwise
	taken := make([]bool, len(es))
	for step := 1; step < len(order); step++ { // neighbours first
		for k, o := range order {
			if to := order[(k+step)%len(order)]; o < len(in) && to >= len(in) && !taken[o] && !taken[to] {
				taken[o], taken[to] = true, true
				next[in[o]] = out[to-len(in)]
			}
		}
	}
}

// alike is the angle in radians under which the directions of two edges at their common point do not tell their order.
const alike = 1e-3

// around returns the numbers of edges that leave one point, in counter-clockwise order.
func around(es []Edge) []int {
	dir := make([]float64, len(es))
	order := make([]int, len(es))
	for i, e := range es {
		t := e.Tangent(0)
		dir[i], order[i] = math.Atan2(t.Y, t.X), i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(dir[i], dir[j]) })
	order = afterGap(order, dir)
	for k := 1; k < len(order); k++ {
		for m := k; m > 0; m-- {
			i, j := order[m-1], order[m]
			if apart := math.Abs(math.Remainder(dir[j]-dir[i], 2*math.Pi)); apart > alike || veer(es[i], es[j]) >= 0 {
				break
			}
			order[m-1], order[m] = j, i
		}
	}
	return order
}

// afterGap turns the order so that it begins after the largest gap between directions.
func afterGap(order []int, dir []float64) []int {
	best, widest := 0, 0.0
	for k, i := range order {
		before := dir[order[(k+len(order)-1)%len(order)]]
		if k == 0 {
			before -= 2 * math.Pi
		}
		if gap := dir[i] - before; gap > widest {
			best, widest = k, gap
		}
	}
	return slices.Concat(order[best:], order[:best])
}

// veer tells which way f leaves e, two edges that start at one point in almost the same direction: positive if f is on the
// left. Asked where they are farthest apart, since snapped edges may cross within Snap.
func veer(e, f Edge) float64 {
	far := 0.0
	for _, k := range [4]float64{0.25, 0.5, 0.75, 1} {
		if d := e.left(f.At(min(1, e.Len()/f.Len()) * k)); math.Abs(d) > math.Abs(far) {
			far = d
		}
	}
	return far
}

// left returns how far p lies to the left of the line or circle that carries e.
func (e Edge) left(p Pt) float64 {
	if e.IsArc() {
		return (e.R - p.Dist(e.C)) * math.Copysign(1, e.Sweep)
	}
	return e.Tangent(0).Cross(p.Sub(e.P))
}
