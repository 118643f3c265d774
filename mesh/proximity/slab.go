package proximity

import "math"

// node is one box of a group with its slab, moved: the box by its middle and half its size, the slab between the heights lo
// and hi over that middle along the unit normal n. The normal of a node without a slab is zero.
type node struct {
	of      *group // nil: none
	which   int32
	c, d, n xyz
	lo, hi  float64
}

// move makes x node j of g, moved by m unless that is nil; its box becomes the one around it. It does nothing if x is that
// already.
func (x *node) move(g *group, j int32, m *rigid) {
	if x.of == g && x.which == j {
		return
	}
	x.of, x.which = g, j
	j &= 7
	c, d, n := xyz{g.x[j], g.y[j], g.z[j]}, xyz{g.dx[j], g.dy[j], g.dz[j]}, load(&g.n[j])
	x.lo, x.hi = g.lo[j], g.hi[j]
	if m != nil {
		c, n = m.carry(c), m.spin(n)
		r := &m.r
		d = xyz{xyz{r[0], r[1], r[2]}.across(d), xyz{r[3], r[4], r[5]}.across(d), xyz{r[6], r[7], r[8]}.across(d)}
	}
	x.c, x.d, x.n = c, d, n
}

// across returns how far a box of half the size d reaches from its middle along a.
func (a xyz) across(d xyz) float64 {
	return float64(math.Abs(a.x)*d.x) + float64(math.Abs(a.y)*d.y) + float64(math.Abs(a.z)*d.z)
}

// span returns between which heights over the middle of a box of half the size d its triangles lie along the direction n, by
// the box and by their slab, between lo and hi along m.
//
// A point y from the middle has along n the height g (m.y) + (n - g m).y, where g = m.n.
func span(n, d, m xyz, lo, hi float64) (float64, float64) {
	side, cosine := n.across(d), m.dot(n)
	slip := n.along(-cosine, m).across(d)
	a, b := float64(cosine*lo), float64(cosine*hi)
	return max(-side, min(a, b)-slip), min(side, max(a, b)+slip)
}

// refine returns the squared distance between a node and node j of g, raised from that of the boxes to what the slabs tell.
// Nodes that may meet get less than zero, the less the farther each sticks out of the slab of the other on both sides: where
// thin slabs pass through each other, a contact is soonest found.
func (x *node) refine(g *group, j int, low float64) float64 {
	j &= 7
	d, m, n := xyz{g.dx[j], g.dy[j], g.dz[j]}, x.n, load(&g.n[j])
	way := xyz{g.x[j] - x.c.x, g.y[j] - x.c.y, g.z[j] - x.c.z}
	lo, hi := span(m, d, n, g.lo[j], g.hi[j])
	h := m.dot(way)
	over, under := h+lo-x.hi, x.lo-h-hi
	apart, through := max(over, under), min(hi-lo+under, hi-lo+over)
	lo, hi = span(n, x.d, m, x.lo, x.hi)
	h = n.dot(way)
	over, under = lo-h-g.hi[j], g.lo[j]+h-hi
	apart, through = max(apart, over, under), min(through, hi-lo+over, hi-lo+under)
	if apart > 0 {
		return max(low, float64(apart*apart))
	}
	if low == 0 {
		return -through - meet
	}
	return low
}

// meet is more than any distance within surfaces.
const meet = 1e7
