package clash

import (
	"cmp"
	"slices"
)

const (
	mostNormals = 8 // of each body, taken as directions
	mostRidges  = 5 // of each body, taken for cross products
	mostLooks   = 20000
	mostSamples = 4000     // triangles whose normals are looked at
	sameTurn    = 1 - 1e-9 // cosine above which two directions are one
	nextTurn    = 1 - 5e-4 // cosine above which a way downhill from one leads to the other: 1.8 degrees
)

// directions returns the directions in which a way out is sought, most likely ones first: the axes, the normals of both
// bodies' faces (largest first, those that cross before others), the mean normals of the crossing faces, and the cross
// products of the edges that cross. All in both senses.
func (m *mover) directions() []vec {
	var as, bs []int32
	for _, p := range m.cross {
		as, bs = append(as, p[0]), append(bs, p[1])
	}
	as, bs = distinct(as), distinct(bs)
	d := &directions{}
	for k := range 3 {
		var axis vec
		axis[k] = 1
		d.both(axis)
	}
	for _, n := range m.b.normals(bs).largest(mostNormals) {
		d.both(n)
	}
	for _, n := range m.a.normals(as).largest(mostNormals) {
		d.both(n)
	}
	for _, n := range m.a.normals(thinned(m.a.around(m.a.bounds()))).largest(mostNormals) {
		d.both(n)
	}
	reach := m.a.bounds()
	for _, n := range m.b.normals(thinned(m.b.around(reach.grow(reach.size())))).largest(mostNormals) {
		d.both(n)
	}
	na, nb := m.a.mean(as), m.b.mean(bs)
	d.both(na)
	d.both(nb)
	d.both(sub(nb, na))
	for _, u := range m.a.ridges(as) {
		for _, v := range m.b.ridges(bs) {
			d.both(cross(u, v))
		}
	}
	return d.list
}

// distinct sorts a list and drops repeats.
func distinct(list []int32) []int32 {
	slices.Sort(list)
	return slices.Compact(list)
}

// thinned returns a long list with only every so many of its entries.
func thinned(list []int32) []int32 {
	step := len(list)/mostSamples + 1
	out := list[:0]
	for i := 0; i < len(list); i += step {
		out = append(out, list[i])
	}
	return out
}

// directions collects unit directions that lie well apart.
type directions struct{ list []vec }

// both adds d and its opposite, unless d is next to nothing.
func (l *directions) both(d vec) {
	if length(d) > 1e-6 {
		l.add(unit(d))
		l.add(unit(along(vec{}, -1, d)))
	}
}

func (l *directions) add(d vec) {
	for _, e := range l.list {
		if dot(d, e) > nextTurn {
			return
		}
	}
	l.list = append(l.list, d)
}

// normals are distinct unit normals of triangles, weighted by area.
type normals struct {
	dir    []vec
	weight []float64
	latest int // the one that was last added to: neighbours often share it
}

// mostKinds is how many normals of a curved surface are kept apart.
const mostKinds = 100

// normals returns the distinct normals of the given triangles; of a curved surface the first of them.
func (s *shape) normals(tris []int32) *normals {
	n := &normals{}
	for _, i := range tris {
		t := s.tri(i)
		d := t.normal()
		area := length(d)
		if area > 0 {
			n.add(along(vec{}, 1/area, d), area)
		}
	}
	return n
}

func (n *normals) add(d vec, weight float64) {
	if len(n.dir) > 0 && dot(d, n.dir[n.latest]) > sameTurn {
		n.weight[n.latest] += weight
		return
	}
	for i, e := range n.dir {
		if dot(d, e) > sameTurn {
			n.weight[i] += weight
			n.latest = i
			return
		}
	}
	if len(n.dir) < mostKinds {
		n.latest = len(n.dir)
		n.dir, n.weight = append(n.dir, d), append(n.weight, weight)
	}
}

// largest returns the k directions of greatest weight.
func (n *normals) largest(k int) []vec {
	order := make([]int, len(n.dir))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Or(cmp.Compare(n.weight[j], n.weight[i]), cmp.Compare(i, j)) })
	var out []vec
	for _, i := range order[:min(k, len(order))] {
		out = append(out, n.dir[i])
	}
	return out
}

// mean returns the mean normal of the given triangles weighted by area; zero for none.
func (s *shape) mean(tris []int32) vec {
	var sum vec
	for _, i := range tris {
		t := s.tri(i)
		sum = along(sum, 1, t.normal())
	}
	return unit(sum)
}

// around returns the triangles of the leaves that meet a box, at most mostLooks or so.
func (s *shape) around(b box) []int32 {
	var out []int32
	var visit func(i int32)
	visit = func(i int32) {
		n := &s.nodes[i]
		if here := n.box(); len(out) >= mostLooks || !here.meets(&b) {
			return
		}
		if n.right != 0 {
			visit(i + 1)
			visit(n.right)
			return
		}
		for k := range n.count {
			out = append(out, s.at(n.first+k))
		}
	}
	if len(s.nodes) > 0 {
		visit(0)
	}
	return out
}

// ridges returns the distinct directions of the longest edges at which two of the given triangles meet at an angle.
func (s *shape) ridges(tris []int32) []vec {
	first := map[[2]int32]int32{} // the triangle that ran along this edge before
	found := &normals{}
	for _, i := range tris {
		for k := range 3 {
			from, to := s.tris[i][k], s.tris[i][(k+1)%3]
			j, ok := first[[2]int32{to, from}]
			first[[2]int32{from, to}] = i
			if !ok {
				continue
			}
			p, q := s.tri(i), s.tri(j)
			if dot(unit(p.normal()), unit(q.normal())) > sameTurn {
				continue
			}
			edge := sub(s.points[to], s.points[from])
			if edge[0] < 0 || edge[0] == 0 && (edge[1] < 0 || edge[1] == 0 && edge[2] < 0) {
				edge = along(vec{}, -1, edge)
			}
			if l := length(edge); l > 0 {
				found.add(unit(edge), l)
			}
		}
	}
	return found.largest(mostRidges)
}
