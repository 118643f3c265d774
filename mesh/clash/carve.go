package clash

import (
	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// plane bounds a half space: points p with n . p <= d are inside.
type plane struct {
	n vec
	d float64
}

// above returns how far p lies outside.
func (h *plane) above(p vec) float64 { return dot(h.n, p) - h.d }

// column is a convex prism over a part of the flat, from a height outward without end. Its planes stand in the housing's
// frame.
type column []*plane

// newColumn returns the column between lines of the flat, from height z outward on a side.
func newColumn(lines []border, side fold.Side, z float64, housingFromFlat mgl64.Mat4) column {
	var c column
	for _, l := range lines {
		c = append(c, &plane{vec{l.n.X, l.n.Y, 0}, l.d})
	}
	c = append(c, &plane{vec{0, 0, -side.Sign()}, -side.Sign() * z})
	shift := vec{housingFromFlat[12], housingFromFlat[13], housingFromFlat[14]}
	for i := range c {
		c[i].n = fold.Turn(housingFromFlat, c[i].n)
		c[i].d += dot(c[i].n, shift)
	}
	return c
}

// linesOf returns the lines around a convex polygon.
func linesOf(pts []flat.Pt) []border {
	var out []border
	for i, p := range pts {
		if d := pts[(i+1)%len(pts)].Sub(p).Unit(); d != (flat.Pt{}) {
			n := flat.Pt{X: d.Y, Y: -d.X}
			out = append(out, border{n, n.Dot(p)})
		}
	}
	return out
}

// at returns the planes of the column that pass through a box, none if the box lies wholly inside; ok is false if it lies
// wholly outside.
func (c column) at(b *box) (near column, ok bool) {
	near = c
	for i, h := range c {
		nearest, farthest := b.hi, b.lo
		for k := range 3 {
			if h.n[k] > 0 {
				nearest[k], farthest[k] = b.lo[k], b.hi[k]
			}
		}
		switch {
		case h.above(nearest) > 0:
			return nil, false
		case h.above(farthest) > 0:
			if len(near) < len(c) {
				near = append(near, h)
			}
		case len(near) == len(c):
			near = append(make(column, 0, len(c)-1), c[:i]...)
		}
	}
	return near, true
}

// inColumn calls visit for each triangle in a leaf that the column may reach, with the planes that pass through the leaf.
func (s *shape) inColumn(c column, visit func(i int32, near column)) {
	s.inColumns([]column{c}, func(i int32, near []column) { visit(i, near[0]) })
}

// inColumns calls visit for each triangle in a leaf that one of the columns may reach, with those that may; see
// reaching.
func (s *shape) inColumns(columns []column, visit func(i int32, near []column)) {
	var walk func(i int32, columns []column)
	walk = func(i int32, columns []column) {
		n := &s.nodes[i]
		b := n.box()
		near := reaching(columns, &b)
		switch {
		case len(near) == 0:
		case n.right != 0:
			walk(i+1, near)
			walk(n.right, near)
		default:
			for k := range n.count {
				visit(s.at(n.first+k), near)
			}
		}
	}
	if len(s.nodes) > 0 {
		walk(0, columns)
	}
}

// reaching returns those of the columns that may reach a box, each with the planes that pass through it.
func reaching(columns []column, b *box) []column {
	var near []column
	for _, c := range columns {
		if c, ok := c.at(b); ok {
			near = append(near, c)
		}
	}
	return near
}

// next returns the node after the subtree at i.
func (s *shape) next(i int32) int32 {
	for s.nodes[i].right != 0 {
		i = s.nodes[i].right
	}
	return i + 1
}

// without returns the surface without what lies in the columns, their borders with it. It is left open; what lies in its
// material is decided by the whole shape. Parts of triangles keep the numbers of those they were cut from.
func (s *shape) without(columns []column) *shape {
	c := &carver{from: s, columns: columns, points: s.points[:len(s.points):len(s.points)], made: map[cutEdge]int32{}}
	c.nodes = make([]node, 0, len(s.nodes))
	c.tris, c.ids = make([][3]int32, 0, len(s.tris)), make([]int32, 0, len(s.tris))
	if len(s.nodes) > 0 {
		c.visit(0, columns)
	}
	out := &shape{points: c.points, tris: c.tris, ids: c.ids, nodes: c.nodes, closed: s.closed, whole: s}
	out.refit()
	return out
}

// solid returns the shape to move where this one overlaps another: itself, or of a part that columns left, the whole. What
// of that lies in the columns meets nothing, since the other shape has nothing there; but whether it lies in the other's
// material is asked of the part alone.
func (s *shape) solid() *shape {
	if s.whole == nil {
		return s
	}
	out := *s.whole
	out.points, out.pieces = s.points, s.connected()
	return &out
}

// cutEdge is an edge from the lower to the higher point, and the plane that divides it.
type cutEdge struct {
	i, k  int32
	plane *plane
}

// carver collects what columns leave of a shape, in the order of its tree.
type carver struct {
	from    *shape
	columns []column
	points  []vec
	nodes   []node
	tris    [][3]int32
	ids     []int32
	made    map[cutEdge]int32
	id      int32 // of the triangle that is being cut
}

// visit copies a subtree; near are the columns that may reach it.
func (c *carver) visit(i int32, near []column) {
	n := c.from.nodes[i]
	b := n.box()
	left := reaching(near, &b)
	at := len(c.nodes)
	c.nodes = append(c.nodes, n)
	if n.right != 0 {
		c.visit(i+1, left)
		c.nodes[at].right = int32(len(c.nodes))
		c.visit(n.right, left)
		return
	}
	c.nodes[at].first = int32(len(c.tris))
	for k := n.first; k < n.first+n.count; k++ {
		i := c.from.at(k)
		t := c.from.tris[i]
		c.id = c.from.id(i)
		if len(left) == 0 {
			c.tris, c.ids = append(c.tris, t), append(c.ids, c.id)
			continue
		}
		c.cut(t[:], left)
	}
	c.nodes[at].count = int32(len(c.tris)) - c.nodes[at].first
}

// cut keeps the parts of a convex polygon that lie outside all of the columns.
func (c *carver) cut(ring []int32, columns []column) {
	if len(columns) == 0 {
		c.keep(ring)
		return
	}
	col, rest := columns[0], columns[1:]
	for _, h := range col {
		if lo, hi := c.extent(ring, h); lo >= 0 && hi > 0 {
			c.cut(ring, rest) // beside this column
			return
		}
	}
	for _, h := range col {
		if _, hi := c.extent(ring, h); hi <= 0 {
			continue
		}
		outside, inside := c.divide(ring, h)
		c.cut(outside, rest)
		if ring = inside; len(ring) < 3 {
			return
		}
	}
}

// keep adds a convex polygon as a fan; triangles without area are left out.
func (c *carver) keep(ring []int32) {
	for k := 2; k < len(ring); k++ {
		t := tri{c.points[ring[0]], c.points[ring[k-1]], c.points[ring[k]]}
		if n := t.normal(); dot(n, n) > 0 {
			c.tris, c.ids = append(c.tris, [3]int32{ring[0], ring[k-1], ring[k]}), append(c.ids, c.id)
		}
	}
}

// height returns how far point k lies outside a plane; within rounding of it 0.
func (c *carver) height(k int32, h *plane) float64 {
	d := h.above(c.points[k])
	if d > -hair && d < hair {
		return 0
	}
	return d
}

// extent returns the least and the greatest height of a polygon's points.
func (c *carver) extent(ring []int32, h *plane) (lo, hi float64) {
	lo = c.height(ring[0], h)
	hi = lo
	for _, k := range ring[1:] {
		d := c.height(k, h)
		lo, hi = min(lo, d), max(hi, d)
	}
	return lo, hi
}

// divide returns the two parts of a polygon beside a plane. New points are the same for both triangles at an edge.
func (c *carver) divide(ring []int32, h *plane) (outside, inside []int32) {
	for i, from := range ring {
		to := ring[(i+1)%len(ring)]
		a, b := c.height(from, h), c.height(to, h)
		if a >= 0 {
			outside = append(outside, from)
		}
		if a <= 0 {
			inside = append(inside, from)
		}
		if a < 0 && b > 0 || a > 0 && b < 0 {
			p := c.between(from, to, h)
			outside, inside = append(outside, p), append(inside, p)
		}
	}
	return outside, inside
}

// between returns the point where an edge passes a plane.
func (c *carver) between(i, k int32, h *plane) int32 {
	if i > k {
		i, k = k, i
	}
	key := cutEdge{i, k, h}
	if p, ok := c.made[key]; ok {
		return p
	}
	a, b := h.above(c.points[i]), h.above(c.points[k])
	p := int32(len(c.points))
	c.points = append(c.points, along(c.points[i], a/(a-b), sub(c.points[k], c.points[i])))
	c.made[key] = p
	return p
}
