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

// dives is how many times the nearest open pair is followed down to the leaves before the rest is searched in order: a good
// bound early saves most of the work, and keeping the nearest in front any longer costs more than it saves.
const dives = 16

// descend searches the pair of trees from their tops.
func (q *Query) descend() {
	top := pair{la: int8(len(q.a.levels) - 1), lb: int8(len(q.b.levels) - 1)}
	q.todo = append(q.todo[:0], top)
	for i := 0; i < dives && len(q.todo) > 0 && q.todo[0].low < q.bound; i++ {
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
	ga := q.placed(e.la, e.a/wide)
	gb := &q.b.levels[e.lb][e.b/wide]
	if e.lb > 0 && (e.la == 0 || gb.size(e.b) >= ga.size(e.a)) {
		o := &q.b.levels[e.lb-1][e.b]
		ga.distances(e.a&7, o, low)
		ga.refine(int(e.a&7), o, low, q.bound)
		return 0, 1
	}
	o := q.placed(e.la-1, e.a)
	gb.distances(e.b&7, o, low)
	gb.refine(int(e.b&7), o, low, q.bound)
	return 1, 0
}

// distances returns the squared distances between box j of g and all of o.
func (g *group) distances(j int32, o *group, low *[wide]float64) {
	j &= 7
	x, y, z, dx, dy, dz := g.x[j], g.y[j], g.z[j], g.dx[j], g.dy[j], g.dz[j]
	for i := range wide {
		a := math.Abs(x-o.x[i]) - (dx + o.dx[i])
		b := math.Abs(y-o.y[i]) - (dy + o.dy[i])
		c := math.Abs(z-o.z[i]) - (dz + o.dz[i])
		a += math.Abs(a)
		b += math.Abs(b)
		c += math.Abs(c)
		low[i] = (float64(a*a) + float64(b*b) + float64(c*c)) / 4
	}
}

// placed returns boxes of a in the frame of b's.
func (q *Query) placed(level int8, i int32) *group {
	if q.asIs {
		return &q.a.levels[level][i]
	}
	if q.moved == nil {
		for _, l := range q.a.levels {
			q.moved, q.stamp = append(q.moved, make([]group, len(l))), append(q.stamp, make([]int32, len(l)))
		}
	}
	g := &q.moved[level][i]
	if q.stamp[level][i] != q.now {
		q.stamp[level][i] = q.now
		g.place(&q.a.levels[level][i], &q.boxes)
	}
	return g
}

// place sets g to the boxes around those of s after a motion.
func (g *group) place(s *group, m *rigid) {
	r, t := &m.r, &m.t
	var size [9]float64
	for i := range r {
		size[i] = math.Abs(r[i])
	}
	for j := range wide {
		x, y, z, dx, dy, dz := s.x[j], s.y[j], s.z[j], s.dx[j], s.dy[j], s.dz[j]
		g.x[j] = float64(r[0]*x) + float64(r[1]*y) + float64(r[2]*z) + t[0]
		g.y[j] = float64(r[3]*x) + float64(r[4]*y) + float64(r[5]*z) + t[1]
		g.z[j] = float64(r[6]*x) + float64(r[7]*y) + float64(r[8]*z) + t[2]
		g.n[j], g.lo[j], g.hi[j] = m.spin(load(&s.n[j])).vec(), s.lo[j], s.hi[j]
		g.dx[j] = float64(size[0]*dx) + float64(size[1]*dy) + float64(size[2]*dz)
		g.dy[j] = float64(size[3]*dx) + float64(size[4]*dy) + float64(size[5]*dz)
		g.dz[j] = float64(size[6]*dx) + float64(size[7]*dy) + float64(size[8]*dz)
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
