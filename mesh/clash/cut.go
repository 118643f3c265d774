package clash

import "foldfit/fold/flat"

// part returns the closed piece of a body where side, a linear function of flat coordinates (mm), is not negative: the
// whole shape if it is so all over, nil if nowhere by more than Snap. The cut is closed by new faces; it must consist of
// convex outlines, as a cut across plates and bends does. Its triangles keep the numbers of those they were cut from; new
// faces have number -1.
func (m *member) part(side func(p vec) float64) *shape {
	c := cutter{from: m, height: make([]float64, len(m.flat)), between: map[[2]int32]int32{}}
	lowest, highest := 0.0, 0.0
	for i, p := range m.flat {
		h := side(p)
		if h > -flat.Snap && h < flat.Snap {
			h = 0
		}
		c.height[i] = h
		lowest, highest = min(lowest, h), max(highest, h)
	}
	switch {
	case highest == 0:
		return nil
	case lowest == 0:
		return m.shape()
	}
	c.points = append([]vec(nil), m.points...)
	for id, t := range m.mesh.Triangles {
		c.clip(int32(id), t, side)
	}
	c.close()
	s := newShape(c.points, c.tris, true)
	s.ids = c.ids
	return s
}

// cutter collects what is left of a body on the upper side of a cut.
type cutter struct {
	from    *member
	height  []float64 // by point: over the cut
	points  []vec
	tris    [][3]int32
	ids     []int32
	between map[[2]int32]int32 // new points by the edge that they divide
}

// clip keeps what of a triangle lies on the upper side. One that lies in the cut belongs to the side where its body is.
func (c *cutter) clip(id int32, t [3]int32, side func(vec) float64) {
	above, below := 0, 0
	for _, k := range t {
		switch {
		case c.height[k] > 0:
			above++
		case c.height[k] < 0:
			below++
		}
	}
	switch {
	case above == 0 && below == 0:
		f := c.from.flat
		face := tri{f[t[0]], f[t[1]], f[t[2]]}
		if out := along(face[0], 1, unit(face.normal())); side(out) < 0 {
			c.add(id, t)
		}
		return
	case above == 0:
		return
	case below == 0:
		c.add(id, t)
		return
	}
	var ring []int32
	for k := range 3 {
		from, to := t[k], t[(k+1)%3]
		if c.height[from] >= 0 {
			ring = append(ring, from)
		}
		if c.height[from]*c.height[to] < 0 {
			ring = append(ring, c.divide(from, to))
		}
	}
	for k := 2; k < len(ring); k++ {
		c.add(id, [3]int32{ring[0], ring[k-1], ring[k]})
	}
}

func (c *cutter) add(id int32, t [3]int32) {
	c.tris, c.ids = append(c.tris, t), append(c.ids, id)
}

// divide returns the point where an edge passes the cut, the same for both of its triangles.
func (c *cutter) divide(i, k int32) int32 {
	if i > k {
		i, k = k, i
	}
	if p, ok := c.between[[2]int32{i, k}]; ok {
		return p
	}
	p := int32(len(c.points))
	share := c.height[i] / (c.height[i] - c.height[k])
	c.points = append(c.points, along(c.points[i], share, sub(c.points[k], c.points[i])))
	c.height = append(c.height, 0)
	c.between[[2]int32{i, k}] = p
	return p
}

// close fills the open borders in the cut, each as a fan.
func (c *cutter) close() {
	next := map[int32]int32{} // the open edges' ends by their beginnings, backwards
	var order []int32
	runs := map[[2]int32]bool{}
	for _, t := range c.tris {
		for k := range 3 {
			runs[[2]int32{t[k], t[(k+1)%3]}] = true
		}
	}
	for _, t := range c.tris {
		for k := range 3 {
			from, to := t[k], t[(k+1)%3]
			if c.height[from] == 0 && c.height[to] == 0 && !runs[[2]int32{to, from}] {
				next[to] = from
				order = append(order, to)
			}
		}
	}
	for _, start := range order {
		at, ok := next[start]
		if !ok {
			continue
		}
		delete(next, start)
		for at != start {
			to, ok := next[at]
			if !ok {
				break
			}
			delete(next, at)
			if to != start {
				c.add(-1, [3]int32{start, at, to})
			}
			at = to
		}
	}
}
