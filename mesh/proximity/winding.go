package proximity

import (
	"cmp"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
)

// rims holds, for the nodes of the levels from 1 on, the edges around their triangles: those that no neighbour in the same
// node has the other way round. A node whose rim is not much shorter than its list of triangles has none.
type rims struct {
	from  [][]int32 // of each level for each node the start of its edges; one more at the end
	edges [][]edge
	whole []edge // of the whole surface
}

// edge runs from one point to another, with its triangle on the left.
type edge struct{ a, b int32 }

// Winding returns the winding number of the surface about p, a point in the surface's frame: the solid angles of its
// triangles (van Oosterom and Strackee, The solid angle of a plane triangle, IEEE Trans. Biomed. Eng. 30, 1983) over 4 pi.
// About a closed surface it is whole: 1 inside, 0 outside, 2 where shells overlap, -1 inside one that looks inward; about an
// open one anything. The error is rounding, below 1e-9. Points within rounding of the surface may get any value between
// those of its two sides.
//
// Triangles in a box that p is outside of may be changed for others in the box with the same rim (Jacobson, Kavan and
// Sorkine-Hornung, Robust inside-outside segmentation using generalized winding numbers, 2013), here a fan from the rim to
// the box's middle. Where neighbours share points this takes O(sqrt n) time, otherwise O(n).
func (s *Surface) Winding(p mgl64.Vec3) float64 {
	if len(s.levels) == 0 {
		return 0
	}
	w := winder{s: s, rims: s.rimsOf(), p: load(&p)}
	w.at = s.frame.spin(w.p)
	w.visit(len(s.levels)-1, 0)
	return w.sum / (2 * math.Pi)
}

// Inside reports whether p, a point in the surface's frame, lies in its material: whether its winding number is nearer to 1,
// or any other whole number but 0, than to 0. sure is false if the number is farther than 0.1 from a whole one: then p lies
// near an opening of the surface, or the surface is open altogether, and inside is only the better guess.
func (s *Surface) Inside(p mgl64.Vec3) (inside, sure bool) {
	w := s.Winding(p)
	return math.Abs(w) > 0.5, math.Abs(w-math.Round(w)) < 0.1
}

// OpenEdges returns how many edges of triangles meet no neighbour's edge that runs the other way: 0 for a closed surface
// whose triangles agree about their sides and share points.
func (s *Surface) OpenEdges() int {
	if len(s.levels) == 0 {
		return 0
	}
	return len(s.rimsOf().whole)
}

// winder is the state of one question.
type winder struct {
	s    *Surface
	rims *rims
	p    xyz
	at   xyz // p in the frame of the boxes
	sum  float64
}

// visit adds the solid angles of a node's triangles, over 2.
func (w *winder) visit(level int, i int32) {
	g, j := &w.s.levels[level][i/wide], i%wide
	switch {
	case g.dx[j] < 0:
	case level == 0:
		first, end := w.s.leaf(i)
		for k := first; k < end; k++ {
			t := w.s.tri(k)
			w.sum += halfAngle(load(&t[0]).sub(w.p), load(&t[1]).sub(w.p), load(&t[2]).sub(w.p))
		}
	case g.holds(j, w.at) || !w.fan(level, i):
		for k := range int32(wide) {
			w.visit(level-1, i*wide+k)
		}
	}
}

// fan adds the solid angles between the middle of a node's box and its rim; false means that it has no rim to use.
func (w *winder) fan(level int, i int32) bool {
	list := w.s.around(w.rims, level, i)
	if list == nil {
		return false
	}
	g, j := &w.s.levels[level][i/wide], i%wide
	back := w.s.frame.inverse()
	middle := back.spin(xyz{g.x[j], g.y[j], g.z[j]}).sub(w.p)
	for _, e := range list {
		w.sum += halfAngle(middle, load(&w.s.points[e.a]).sub(w.p), load(&w.s.points[e.b]).sub(w.p))
	}
	return true
}

// around returns the rim of a node; nil if it has none to use, empty but not nil if its triangles are closed.
func (s *Surface) around(r *rims, level int, i int32) []edge {
	if level == len(s.levels)-1 {
		if len(r.whole) > len(s.ids)/4 {
			return nil
		}
		return r.whole
	}
	from := r.from[level-1]
	if from[i] < 0 {
		return nil
	}
	end := from[i+1]
	if end < 0 {
		end = ^end
	}
	return r.edges[level-1][from[i]:end]
}

// holds reports whether box j holds p or nearly does.
func (g *group) holds(j int32, p xyz) bool {
	const margin = 1e-9
	return math.Abs(p.x-g.x[j]) <= g.dx[j]+margin && math.Abs(p.y-g.y[j]) <= g.dy[j]+margin && math.Abs(p.z-g.z[j]) <= g.dz[j]+margin
}

// halfAngle returns half the solid angle of the triangle abc seen from the origin, positive if it is seen from inside.
func halfAngle(a, b, c xyz) float64 {
	la, lb, lc := a.length(), b.length(), c.length()
	up := a.dot(b.cross(c))
	down := float64(la*lb*lc) + float64(a.dot(b)*lc) + float64(b.dot(c)*la) + float64(c.dot(a)*lb)
	return math.Atan2(up, down)
}

// rimsOf returns the rims, which are made when first asked for.
func (s *Surface) rimsOf() *rims {
	s.once.Do(func() { s.rims = s.makeRims() })
	return s.rims
}

// makeRims finds the rims level by level, each from the rims below. Unused rims are kept for that only.
func (s *Surface) makeRims() *rims {
	r := &rims{}
	below := make([][]edge, s.leafCount())
	for i := range below {
		first, end := s.leaf(int32(i))
		for _, id := range s.ids[first:end] {
			t := &s.tris[id]
			below[i] = append(below[i], edge{t[0], t[1]}, edge{t[1], t[2]}, edge{t[2], t[0]})
		}
	}
	for level := 1; level < len(s.levels); level++ {
		n := len(s.levels[level-1])
		here := make([][]edge, n)
		for i := range n {
			var list []edge
			for _, b := range below[i*wide : min(len(below), (i+1)*wide)] {
				list = append(list, b...)
			}
			here[i] = cancel(list)
		}
		r.keep(here, s.sizes(level))
		below = here
	}
	r.whole = []edge{}
	for _, b := range below {
		r.whole = append(r.whole, cancel(b)...)
	}
	return r
}

// sizes returns how many triangles the nodes of a level have.
func (s *Surface) sizes(level int) []int {
	out := make([]int, len(s.levels[level-1]))
	under := wide
	for range level - 1 {
		under *= wide
	}
	for i := range s.leafCount() {
		first, end := s.leaf(int32(i))
		out[i/under] += int(end - first)
	}
	return out
}

// keep stores the rims of a level that are short.
func (r *rims) keep(here [][]edge, sizes []int) {
	from := make([]int32, len(here)+1)
	var edges []edge
	for i, list := range here {
		from[i] = int32(len(edges))
		if len(list) > sizes[i] {
			from[i] = ^from[i]
			continue
		}
		edges = append(edges, list...)
	}
	from[len(here)] = int32(len(edges))
	r.from, r.edges = append(r.from, from), append(r.edges, edges)
}

// cancel returns what is left of edges when those that run to and fro, or from a point to itself, are taken out, sorted.
func cancel(list []edge) []edge {
	key := func(e edge) int64 { return int64(min(e.a, e.b))<<32 | int64(max(e.a, e.b)) }
	slices.SortFunc(list, func(x, y edge) int { return cmp.Or(cmp.Compare(key(x), key(y)), cmp.Compare(x.a, y.a)) })
	out := list[:0]
	for i := 0; i < len(list); {
		k, net := i, 0
		for ; k < len(list) && key(list[k]) == key(list[i]); k++ {
			if list[k].a < list[k].b {
				net++
			} else {
				net--
			}
		}
		e := edge{min(list[i].a, list[i].b), max(list[i].a, list[i].b)}
		switch {
		case e.a == e.b:
			net = 0
		case net < 0:
			e, net = edge{e.b, e.a}, -net
		}
		for range net {
			out = append(out, e)
		}
		i = k
	}
	return out
}
