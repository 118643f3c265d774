package proximity

import (
	"cmp"
	"math"
	"slices"
)

// pair is a node of each tree, by level and number, and the least squared distance that their boxes and slabs allow.
type pair struct {
	low    float64
	a, b   int32
	la, lb int8
}

// dives is how many times the nearest open pair is followed down to the leaves before the rest is searched in order, and
// divesIn how many times if its nodes may meet: a good bound early saves most of the work, and keeping the nearest in front any
// longer costs more than it saves.
const (
	dives   = 16
	divesIn = 128
)

// descend searches the pair of trees from their tops.
func (q *Query) descend() {
	top := pair{la: int8(len(q.a.levels) - 1), lb: int8(len(q.b.levels) - 1)}
	q.todo = append(q.todo[:0], top)
	for i := 0; len(q.todo) > 0 && q.todo[0].low < q.bound && (i < dives || i < divesIn && q.todo[0].low < 0); i++ {
		e := q.pop()
		for more := true; more; {
			e, more = q.dive(e)
		}
	}
	q.todo = slices.DeleteFunc(q.todo, func(e pair) bool { return e.low >= q.bound })
	slices.SortFunc(q.todo, func(x, y pair) int { return cmp.Compare(y.low, x.low) })
	for n := len(q.todo); n > 0; n = len(q.todo) {
		e := q.todo[n-1]
		q.todo = q.todo[:n-1]
		if e.low >= q.bound {
			continue
		}
		if e.la == 0 && e.lb == 0 {
			q.leaves(e.a, e.b)
			continue
		}
		q.spread(&e)
	}
}

// dive goes from a pair to its nearest children and leaves the others on the heap; more is false at the leaves.
func (q *Query) dive(e pair) (child pair, more bool) {
	if e.la == 0 && e.lb == 0 {
		q.leaves(e.a, e.b)
		return e, false
	}
	var low [wide]float64
	first, second := q.children(&e, &low)
	best := 0
	for j := range low {
		if low[j] < low[best] {
			best = j
		}
	}
	for j := range low {
		if j != best && low[j] < q.bound {
			q.push(childOf(&e, &low, j, first, second))
		}
	}
	return childOf(&e, &low, best, first, second), low[best] < q.bound
}

// spread puts the children of a pair on the stack, the nearest on top.
func (q *Query) spread(e *pair) {
	var low [wide]float64
	first, second := q.children(e, &low)
	from := len(q.todo)
	for j := range low {
		if !(low[j] < q.bound) {
			continue
		}
		c := childOf(e, &low, j, first, second)
		q.todo = append(q.todo, c)
		k := len(q.todo) - 1
		for ; k > from && q.todo[k-1].low < c.low; k-- {
			q.todo[k] = q.todo[k-1]
		}
		q.todo[k] = c
	}
}

// childOf returns the pair with child j of the node that was divided: of a if first, of b if second.
func childOf(e *pair, low *[wide]float64, j int, first, second int8) pair {
	c := pair{low: low[j], a: e.a, b: e.b, la: e.la - first, lb: e.lb - second}
	if first == 1 {
		c.a = e.a*wide + int32(j)
	} else {
		c.b = e.b*wide + int32(j)
	}
	return c
}

// children divides the larger node of a pair and returns how far its children are from the other node, squared.
func (q *Query) children(e *pair, low *[wide]float64) (first, second int8) {
	q.count++
	ga, gb := &q.a.levels[e.la][e.a/wide], &q.b.levels[e.lb][e.b/wide]
	if e.lb > 0 && (e.la == 0 || gb.size(e.b) >= ga.size(e.a)) {
		q.fromA.move(ga, e.a, q.toB)
		q.fromA.distances(&q.b.levels[e.lb-1][e.b], low, q.bound)
		return 0, 1
	}
	q.fromB.move(gb, e.b, q.toA)
	q.fromB.distances(&q.a.levels[e.la-1][e.a], low, q.bound)
	return 1, 0
}

// distances returns the squared distances between a node and all of g; those below bound by the slabs too.
func (n *node) distances(g *group, low *[wide]float64, bound float64) {
	x, y, z, dx, dy, dz := n.c.x, n.c.y, n.c.z, n.d.x, n.d.y, n.d.z
	for i := range wide {
		a := math.Abs(x-g.x[i]) - (dx + g.dx[i])
		b := math.Abs(y-g.y[i]) - (dy + g.dy[i])
		c := math.Abs(z-g.z[i]) - (dz + g.dz[i])
		a += math.Abs(a)
		b += math.Abs(b)
		c += math.Abs(c)
		low[i] = (float64(a*a) + float64(b*b) + float64(c*c)) / 4
	}
	for i := range low {
		if low[i] < bound {
			low[i] = n.refine(g, i, low[i])
		}
	}
}

// push puts a pair on the heap.
func (q *Query) push(e pair) {
	q.todo = append(q.todo, e)
	h, i := q.todo, len(q.todo)-1
	for i > 0 && h[(i-1)/2].low > e.low {
		h[i] = h[(i-1)/2]
		i = (i - 1) / 2
	}
	h[i] = e
}

// pop takes the nearest pair off the heap.
func (q *Query) pop() pair {
	h := q.todo
	top, n := h[0], len(h)-1
	e := h[n]
	h = h[:n]
	q.todo = h
	if n == 0 {
		return top
	}
	i := 0
	for c := 1; c < n; c = 2*i + 1 {
		if c+1 < n && h[c+1].low < h[c].low {
			c++
		}
		if h[c].low >= e.low {
			break
		}
		h[i] = h[c]
		i = c
	}
	h[i] = e
	return top
}
