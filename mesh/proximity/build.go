package proximity

import (
	"math"
	"slices"
	"sync"
	"sync/atomic"
)

// share has a list of n worked through in stretches, at once if there are several.
func share(n, stretch int, do func(from, to int)) {
	if n <= stretch {
		do(0, n)
		return
	}
	var all sync.WaitGroup
	for from := 0; from < n; from += stretch {
		all.Go(func() { do(from, min(n, from+stretch)) })
	}
	all.Wait()
}

// items returns the triangles to be sorted, those with three points that have finite coordinates, and the normals of all.
func (s *Surface) items() ([]item, []normal) {
	items, normals := make([]item, len(s.tris)), make([]normal, len(s.tris))
	lo, steps := s.grid()
	var some atomic.Bool
	share(len(items), alone, func(from, to int) {
		for i := from; i < to; i++ {
			if items[i], normals[i] = s.item(int32(i), lo, steps); items[i][3] < 0 {
				some.Store(true)
			}
		}
	})
	if some.Load() {
		items = slices.DeleteFunc(items, func(x item) bool { return x[3] < 0 })
	}
	return items, normals
}

// item returns a triangle to be sorted, on a grid for the sums of three points, and its normal; number -1 means that it is none.
func (s *Surface) item(i int32, lo xyz, steps float64) (item, normal) {
	p, q, r, ok := corners(s.points, &s.tris[i])
	if !ok {
		return item{3: -1}, normal{}
	}
	c, n := p.add(q).add(r), q.sub(p).cross(r.sub(p))
	if s.turned {
		c, n = s.frame.spin(c), s.frame.spin(n)
	}
	c = c.sub(lo)
	return item{int32(c.x * steps), int32(c.y * steps), int32(c.z * steps), i | facing(n)<<numberBits}, normalOf(n)
}

// corners returns the points of a triangle; ok is false if they are not in the list, or one is not finite.
func corners(points []vec, t *[3]int32) (p, q, r xyz, ok bool) {
	n := uint(len(points))
	a, b, c := uint(t[0]), uint(t[1]), uint(t[2])
	if a >= n || b >= n || c >= n {
		return p, q, r, false
	}
	p, q, r = load(&points[a]), load(&points[b]), load(&points[c])
	return p, q, r, p.finite() && q.finite() && r.finite()
}

// grid returns the corner and the steps per mm of a grid for the sums of three points.
func (s *Surface) grid() (lo xyz, steps float64) {
	b := s.bounds()
	if s.turned {
		b = s.frame.around(&b)
	}
	d := b.hi.sub(b.lo)
	size := 3 * max(d.x, d.y, d.z)
	if !(size > 0) || math.IsInf(size, 0) {
		return b.lo, 0
	}
	return xyz{3 * b.lo.x, 3 * b.lo.y, 3 * b.lo.z}, gridSteps / size
}

// bounds returns the box around all finite points, or around the triangles if those are few.
func (s *Surface) bounds() box {
	all := emptyBox()
	if 3*len(s.tris) < len(s.points) {
		for i := range s.tris {
			if p, q, r, ok := corners(s.points, &s.tris[i]); ok {
				all.with(p)
				all.with(q)
				all.with(r)
			}
		}
		return all
	}
	for i := range s.points {
		if p := load(&s.points[i]); p.finite() {
			all.with(p)
		}
	}
	return all
}

// around returns a box around another one after a motion.
func (m *rigid) around(b *box) box {
	out := emptyBox()
	for i := range 8 {
		p := b.lo
		if i&1 != 0 {
			p.x = b.hi.x
		}
		if i&2 != 0 {
			p.y = b.hi.y
		}
		if i&4 != 0 {
			p.z = b.hi.z
		}
		out.with(m.carry(p))
	}
	return out
}

// facing returns the class of a triangle: the axis that its normal follows most, and the sign.
func facing(n xyz) int32 {
	x, y, z := math.Abs(n.x), math.Abs(n.y), math.Abs(n.z)
	k, along := int32(4), n.z
	if x >= y && x >= z {
		k, along = 0, n.x
	} else if y >= z {
		k, along = 2, n.y
	}
	if along < 0 {
		k++
	}
	return k
}

// way is which way the triangles under a node face: the sum of their normals, and the sum of the lengths that its children's
// sums have.
type way struct {
	sum   xyz
	total float64
}

// mostlyOneWay is the least length of a mean normal that is worth a slab; of a half cylinder it is 0.64.
const mostlyOneWay = 0.7

// stack makes the levels of boxes, from the leaves up to a single one.
func (s *Surface) stack() {
	var below []way // of the nodes of the level
	for nodes := s.leafCount(); nodes > 0; {
		level, above := make([]group, (nodes+wide-1)/wide), make([]way, (nodes+wide-1)/wide)
		share(len(level), alone/(wide*leafSize), func(from, to int) {
			for i := from; i < to; i++ {
				if below == nil {
					above[i] = s.ground(&level[i], int32(i)*wide)
				} else {
					children := s.levels[len(s.levels)-1]
					above[i] = level[i].raise(children[i*wide:min(len(children), (i+1)*wide)], below[i*wide:])
				}
			}
		})
		s.levels = append(s.levels, level)
		if nodes == 1 {
			break
		}
		nodes, below = len(level), above
	}
}

// ground fills a group of the lowest level, given its first leaf.
func (s *Surface) ground(g *group, leaf int32) way {
	var w way
	for j := range wide {
		i := int(leaf) + j
		if i >= s.leafCount() {
			g.empty(j)
			continue
		}
		first, end := s.leaf(int32(i))
		if first == end {
			g.empty(j)
			continue
		}
		n := s.fill(g, j, s.ids[first:end])
		w.sum = w.sum.add(n)
		w.total += n.length()
	}
	return w
}

// fill sets the box and the slab of a leaf and returns the sum of its normals.
func (s *Surface) fill(g *group, j int, ids []int32) xyz {
	var points [3 * leafSize]xyz
	b, n, count := emptyBox(), xyz{}, 0
	for _, id := range ids {
		t := &s.tris[id]
		p, q, r := load(&s.points[t[0]]), load(&s.points[t[1]]), load(&s.points[t[2]])
		if s.turned {
			p, q, r = s.frame.spin(p), s.frame.spin(q), s.frame.spin(r)
		}
		n = n.add(q.sub(p).cross(r.sub(p)))
		b.lo = xyz{min(b.lo.x, p.x, q.x, r.x), min(b.lo.y, p.y, q.y, r.y), min(b.lo.z, p.z, q.z, r.z)}
		b.hi = xyz{max(b.hi.x, p.x, q.x, r.x), max(b.hi.y, p.y, q.y, r.y), max(b.hi.z, p.z, q.z, r.z)}
		points[count], points[count+1], points[count+2] = p, q, r
		count += 3
	}
	g.set(j, &b)
	u := n.unit()
	g.n[j] = u.vec()
	c := u.dot(xyz{g.x[j], g.y[j], g.z[j]})
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range points[:count] {
		h := u.dot(p)
		lo, hi = min(lo, h), max(hi, h)
	}
	g.lo[j], g.hi[j] = lo-c, hi-c
	return n
}

// raise fills a group with the boxes and slabs around some groups, given the ways that these face.
func (g *group) raise(below []group, ways []way) way {
	var w way
	for j := range wide {
		if j >= len(below) {
			g.empty(j)
			continue
		}
		b := below[j].box()
		g.set(j, &b)
		l := ways[j].sum.length()
		w.sum = w.sum.add(ways[j].sum)
		w.total += l
		if l > ways[j].total*mostlyOneWay {
			g.cover(j, &below[j], ways[j].sum.unit())
		} else {
			g.hi[j] = g.size(int32(j))
			g.lo[j] = -g.hi[j]
		}
	}
	return w
}

// cover sets the slab of node j along n so that it holds those of all its children in o.
func (g *group) cover(j int, o *group, n xyz) {
	g.n[j] = n.vec()
	g.lo[j], g.hi[j] = math.Inf(1), math.Inf(-1)
	for k := range wide {
		if o.dx[k] < 0 {
			continue
		}
		h := n.dot(xyz{o.x[k] - g.x[j], o.y[k] - g.y[j], o.z[k] - g.z[j]})
		lo, hi := span(n, xyz{o.dx[k], o.dy[k], o.dz[k]}, load(&o.n[k]), o.lo[k], o.hi[k])
		g.lo[j], g.hi[j] = min(g.lo[j], h+lo), max(g.hi[j], h+hi)
	}
}
