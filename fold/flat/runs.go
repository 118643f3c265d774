package flat

import (
	"cmp"
	"slices"
)

// run is a stretch of border: edges end to end, from a node to a node, that meet no other run between.
type run struct {
	edges    []Edge
	a, b     int // how often the border of each region follows it; below zero: against its direction
	from, to int // nodes; -1 for a loop that has none yet
}

// runsOf returns the loops of r as runs.
func runsOf(r Region, a, b int) []run {
	var out []run
	for _, l := range r {
		out = append(out, run{l, a, b, -1, -1})
	}
	return out
}

func countEdges(runs []run) int {
	n := 0
	for _, r := range runs {
		n += len(r.edges)
	}
	return n
}

// reversed returns r run backwards.
func (r run) reversed() run { return run{Loop(r.edges).Rev(), -r.a, -r.b, r.to, r.from} }

// cutAt is a place to cut an edge: a parameter strictly inside it, and the node there.
type cutAt struct {
	t    float64
	node int
}

// cut cuts runs at the points where their edges meet within tol: edges up to number split with those from there on, or with
// split 0 all with all. It returns the runs between and by how much edges were bent (mm).
func (n *nodes) cut(runs []run, split int, tol float64) (out []run, bent float64) {
	c := cutting{nodes: n, tol: tol, edges: make([]Edge, 0, countEdges(runs))}
	for _, r := range runs {
		c.first = append(c.first, len(c.edges))
		c.edges = append(c.edges, r.edges...)
	}
	c.meetAll(split)
	if split > 0 {
		c.meetTouching(runs)
	}
	c.findNodes(runs)
	for i, r := range runs {
		out = c.apart(out, r, c.first[i])
	}
	return out, c.bent
}

// cutting is the work on one round of cuts.
type cutting struct {
	nodes *nodes
	tol   float64
	edges []Edge
	first []int  // of each run: its first edge
	meets [][]Pt // of each edge: where it meets others
	start []int  // of each edge: the node at its P, -1 if it is not cut there
	cuts  [][]cutAt
	bent  float64
}

// meetAll fills in where edges meet.
func (c *cutting) meetAll(split int) {
	c.meets = make([][]Pt, len(c.edges))
	visit := func(i, j int) {
		for _, p := range meet(&c.edges[i], &c.edges[j], c.tol) {
			c.meets[i] = append(c.meets[i], p)
			c.meets[j] = append(c.meets[j], p)
		}
	}
	if split == 0 {
		selfPairs(c.edges, visit)
		return
	}
	pairs(c.edges[:split], c.edges[split:], func(i, j int) { visit(i, split+j) })
}

// meetTouching adds the corners that two loops of one region share: where holes touch each other or the border, an overlay
// may part what hung together.
func (c *cutting) meetTouching(runs []run) {
	for from := 0; from < len(runs); {
		to, large := from, from
		for ; to < len(runs) && runs[to].a == runs[from].a; to++ {
			if len(runs[to].edges) > len(runs[large].edges) {
				large = to
			}
		}
		if to > from+1 {
			c.meetTwice(runs, from, to, large)
		}
		from = to
	}
}

// meetTwice does this for the runs from-to, of which number large has the most edges.
func (c *cutting) meetTwice(runs []run, from, to, large int) {
	loops := map[Pt]int{} // how many have this corner; of the large one only corners that others have
	for i := from; i < to; i++ {
		for k := range runs[i].edges {
			if i != large {
				loops[runs[i].edges[k].P]++
			}
		}
	}
	for k := range runs[large].edges {
		if p := runs[large].edges[k].P; loops[p] > 0 {
			loops[p]++
		}
	}
	for i := from; i < to; i++ {
		for k := range runs[i].edges {
			if p := runs[i].edges[k].P; loops[p] > 1 {
				c.meets[c.first[i]+k] = append(c.meets[c.first[i]+k], p)
			}
		}
	}
}

// findNodes gives the meeting points their nodes: first the ends of edges, which then keep their places.
func (c *cutting) findNodes(runs []run) {
	c.start, c.cuts = make([]int, len(c.edges)), make([][]cutAt, len(c.edges))
	for e := range c.start {
		c.start[e] = -1
	}
	for i, r := range runs {
		if r.from >= 0 {
			c.start[c.first[i]] = r.from
		}
		for k := range r.edges {
			c.cutEnds(&r, c.first[i], k)
		}
	}
	for e, ps := range c.meets {
		for _, p := range ps {
			if t, ok := c.edges[e].on(p, c.tol); ok && t > 0 && t < 1 {
				c.cuts[e] = append(c.cuts[e], cutAt{t, c.nodes.id(p)})
			}
		}
		slices.SortStableFunc(c.cuts[e], func(p, q cutAt) int { return cmp.Compare(p.t, q.t) })
	}
}

// cutEnds makes nodes at the ends of edge k of a run whose edges begin at first, where that edge meets others.
func (c *cutting) cutEnds(r *run, first, k int) {
	for _, p := range c.meets[first+k] {
		t, ok := c.edges[first+k].on(p, c.tol)
		v := k
		switch {
		case !ok || t > 0 && t < 1:
			continue
		case t == 1 && k+1 < len(r.edges):
			v = k + 1
		case t == 1 && r.from >= 0:
			continue // the run's last node
		case t == 1:
			v = 0
		}
		if c.start[first+v] < 0 {
			c.start[first+v] = c.nodes.id(c.edges[first+v].P)
		}
	}
}

// apart appends the runs into which r, whose edges begin at first, is cut.
func (c *cutting) apart(out []run, r run, first int) []run {
	begin := len(out)
	cur := run{a: r.a, b: r.b, from: c.start[first]}
	for k := range r.edges {
		e, end := c.edges[first+k], r.to
		if k+1 < len(r.edges) {
			end = c.start[first+k+1]
		} else if r.from < 0 {
			end = c.start[first]
		}
		p, q, t := c.snap(e.P, c.start[first+k]), c.snap(e.Q, end), 0.0
		for _, cut := range c.cuts[first+k] {
			at := c.snap(e.At(cut.t), cut.node)
			cur.edges = append(cur.edges, e.Part(t, cut.t, p, at))
			out, cur = cur.closeAt(out, cut.node)
			p, t = at, cut.t
		}
		cur.edges = append(cur.edges, e.Part(t, 1, p, q))
		if end >= 0 {
			out, cur = cur.closeAt(out, end)
		}
	}
	if len(cur.edges) == 0 {
		return out
	}
	if len(out) == begin { // a loop that meets nothing
		cur.from = c.nodes.id(r.edges[0].P)
		cur.to = cur.from
		return append(out, cur)
	}
	return c.joinEnds(out, begin, cur)
}

// joinEnds puts the tail of a loop that is not cut at its first point before the part that begins there.
func (c *cutting) joinEnds(out []run, begin int, tail run) []run {
	for i := begin; i < len(out); i++ {
		if out[i].from < 0 {
			out[i].edges = append(tail.edges, out[i].edges...)
			out[i].from = tail.from
			if out[i].isNothing() {
				out = slices.Delete(out, i, i+1)
			}
			return out
		}
	}
	panic("flat: a loop was cut but has no first part")
}

// closeAt ends a run at a node and appends it, unless it has shrunk to nothing; it also returns the run that begins there.
func (r run) closeAt(out []run, node int) ([]run, run) {
	r.to = node
	if !r.isNothing() {
		out = append(out, r)
	}
	return out, run{a: r.a, b: r.b, from: node}
}

// isNothing reports whether a run does not leave the surroundings of its node.
func (r run) isNothing() bool { return r.from == r.to && Loop(r.edges).Len() <= 10*Snap }

// snap returns where p goes if there is a node for it.
func (c *cutting) snap(p Pt, node int) Pt {
	if node < 0 {
		return p
	}
	c.bent = max(c.bent, p.Dist(c.nodes.pts[node]))
	return c.nodes.pts[node]
}

// merged makes one run of single edges that lie on each other within Snap, and leaves out those that cancel.
func merged(runs []run) []run {
	at := map[[2]int][]int{}
	var out []run
	for _, r := range runs {
		if len(r.edges) > 1 {
			out = append(out, r)
			continue
		}
		key := [2]int{min(r.from, r.to), max(r.from, r.to)}
		twin := -1
		for _, k := range at[key] {
			if out[k].edges[0].Mid().Dist(r.edges[0].Mid()) <= Snap {
				twin = k
				break
			}
		}
		if twin < 0 {
			at[key] = append(at[key], len(out))
			out = append(out, r)
			continue
		}
		t := &out[twin]
		if t.from != r.from || t.from == t.to && t.edges[0].Sweep*r.edges[0].Sweep < 0 {
			r.a, r.b = -r.a, -r.b
		}
		t.a, t.b = t.a+r.a, t.b+r.b
	}
	return slices.DeleteFunc(out, func(r run) bool { return r.a == 0 && r.b == 0 })
}
