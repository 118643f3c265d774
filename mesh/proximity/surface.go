package proximity

import (
	"math"
	"slices"
	"sync"

	"github.com/go-gl/mathgl/mgl64"
)

// Surface is a triangle surface made ready for queries. It does not change, so several queries may share it.
type Surface struct {
	points []vec
	tris   [][3]int32 // in the order of the leaves
	ids    []int32    // for each of tris its number in the list that the surface was made from
	chord  float64
	frame  rigid     // a turn, from the frame of points to that of the boxes
	turned bool      // the two differ
	leaves []leaf    // level 0 of the tree
	levels [][]group // of each level the boxes; the children of node i are the nodes 8 i to 8 i + 7 of the level below

	rims *rims // made when a winding number is first asked for
	once sync.Once
}

// leaf is a few triangles that face about the same way, and the slab between two planes across that way that holds them.
type leaf struct {
	n            vec // unit; zero if the triangles have no area
	lo, hi       float64
	first, count int32 // of tris
}

// group holds the boxes of eight nodes with one parent, their middles and half their sizes; and for each the slab across
// the way that its triangles face: between the heights lo and hi over the box's middle along the unit normal n. A place
// without a node has the size none; triangles that face all ways have no slab, and the normal zero.
type group struct {
	x, y, z, dx, dy, dz [wide]float64
	n                   [wide]vec
	lo, hi              [wide]float64
}

// none is the half size of an empty box: less than nothing, so that it is far from everything.
const none = -1e100

// New returns the surface of some triangles. points are shared with the caller and must stay as they are; triangles hold
// indices into points. chord (mm) is how far the true surface may lie from the triangles, for Nearest.Low. Triangles that
// name no points of the list, or points whose coordinates are not finite, are left out; the others keep their numbers. At
// most 2^28 are taken. Coordinates should not exceed 1e5 mm: beyond, rounding is no longer small against Tolerance. Takes
// O(n log n) time and about 85 bytes a triangle.
func New(points []mgl64.Vec3, triangles [][3]int32, chord float64) *Surface {
	s := &Surface{points: points, chord: chord}
	items := s.items(triangles)
	runs := order(items)
	s.tris, s.ids = make([][3]int32, len(items)), make([]int32, len(items))
	for i := range items {
		id := items[i][3] & mask
		s.ids[i], s.tris[i] = id, triangles[id]
	}
	s.leaves = make([]leaf, len(runs))
	for i, r := range runs {
		s.leaves[i] = leaf{first: r.first, count: r.count}
	}
	s.stack()
	return s
}

// items returns the triangles to be sorted, and finds the frame.
func (s *Surface) items(triangles [][3]int32) []item {
	n := int32(len(s.points))
	clean := !slices.ContainsFunc(s.points, func(p vec) bool { return !finite(p) })
	valid := func(i int32) bool { return i >= 0 && i < n && (clean || finite(s.points[i])) }
	items := make([]item, 0, len(triangles))
	for i, t := range triangles[:min(len(triangles), int(mask)+1)] {
		if valid(t[0]) && valid(t[1]) && valid(t[2]) {
			items = append(items, item{3: int32(i)})
		}
	}
	s.frame = still
	if len(items) == len(triangles) {
		s.frame = frameOf(s.points, triangles)
	}
	s.turned = s.frame != still
	lo, steps := s.grid()
	for i := range items {
		x := &items[i]
		t := &triangles[x[3]]
		f := face{p: load(&s.points[t[0]]), q: load(&s.points[t[1]]), r: load(&s.points[t[2]])}
		c, n := f.p.add(f.q).add(f.r), f.normal()
		if s.turned {
			c, n = s.frame.spin(c), s.frame.spin(n)
		}
		c = c.sub(lo)
		x[0], x[1], x[2] = int32(c.x*steps), int32(c.y*steps), int32(c.z*steps)
		x[3] |= facing(n) << numbers
	}
	return items
}

func finite(p vec) bool {
	return math.Abs(p[0]) <= math.MaxFloat64 && math.Abs(p[1]) <= math.MaxFloat64 && math.Abs(p[2]) <= math.MaxFloat64
}

// grid returns the corner and the steps per mm of a grid for the sums of three points.
func (s *Surface) grid() (lo xyz, steps float64) {
	b := emptyBox()
	for i := range s.points {
		p := load(&s.points[i])
		if s.turned {
			p = s.frame.spin(p)
		}
		if finite(s.points[i]) {
			b.with(p)
		}
	}
	d := b.hi.sub(b.lo)
	size := 3 * max(d.x, d.y, d.z)
	if !(size > 0) || math.IsInf(size, 0) {
		return b.lo, 0
	}
	return xyz{3 * b.lo.x, 3 * b.lo.y, 3 * b.lo.z}, gridSteps / size
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

// stack fills the leaves and the levels of boxes above, up to a single one.
func (s *Surface) stack() {
	n := len(s.leaves)
	if n == 0 {
		return
	}
	level := make([]group, (n+wide-1)/wide)
	facing := make([]vec, n) // sums of the normals under the nodes of a level
	var all sync.WaitGroup
	for from := 0; from < len(level); from += alone / (wide * leafSize) {
		all.Go(func() { s.ground(level, facing, from, min(len(level), from+alone/(wide*leafSize))) })
	}
	all.Wait()
	s.levels = append(s.levels, level)
	for n > 1 {
		level, facing = raise(level, facing)
		n = len(facing)
		s.levels = append(s.levels, level)
	}
}

// ground fills the leaves of some of the groups of the lowest level.
func (s *Surface) ground(level []group, facing []vec, from, to int) {
	for i := from * wide; i < to*wide; i++ {
		g, j := &level[i/wide], i%wide
		if i >= len(s.leaves) || s.leaves[i].count == 0 {
			g.empty(j)
			continue
		}
		f := &s.leaves[i]
		b := s.fill(f, &facing[i])
		g.set(j, &b)
		if g.n[j] = f.n; s.turned {
			g.n[j] = s.frame.turn(f.n)
		}
		h := dot(g.n[j], g.middle(j))
		g.lo[j], g.hi[j] = f.lo-h, f.hi-h
	}
}

// raise returns the level above one, given the sums of the normals under its nodes.
func raise(below []group, facing []vec) (level []group, above []vec) {
	n := len(below)
	level, above = make([]group, (n+wide-1)/wide), make([]vec, n)
	for i := range len(level) * wide {
		g, j := &level[i/wide], i%wide
		if i >= n {
			g.empty(j)
			continue
		}
		b := below[i].box()
		g.set(j, &b)
		total := 0.0
		for _, f := range facing[i*wide : min(len(facing), (i+1)*wide)] {
			above[i] = add(above[i], f)
			total += length(f)
		}
		if l := length(above[i]); l > total*mostlyOneWay {
			g.cover(j, &below[i], unit(above[i]))
		}
	}
	return level, above
}

// mostlyOneWay is the least length of a mean normal that is worth a slab; of a half cylinder it is 0.64.
const mostlyOneWay = 0.7

// cover sets the slab of node j along n so that it holds those of all its children in o.
func (g *group) cover(j int, o *group, n vec) {
	g.n[j] = n
	g.lo[j], g.hi[j] = math.Inf(1), math.Inf(-1)
	c := g.middle(j)
	for k := range wide {
		if o.dx[k] < 0 {
			continue
		}
		h := dot(n, sub(o.middle(k), c))
		lo, hi := o.reach(k, load(&n))
		g.lo[j], g.hi[j] = min(g.lo[j], h+lo), max(g.hi[j], h+hi)
	}
}

// fill sets the slab of a leaf and the sum of its normals, and returns its box in the surface's frame.
func (s *Surface) fill(f *leaf, sum *vec) box {
	var corners [3 * leafSize]xyz
	b, n := emptyBox(), xyz{}
	all := corners[:0]
	for i := range s.tris[f.first : f.first+f.count] {
		t := &s.tris[int(f.first)+i]
		c := face{p: load(&s.points[t[0]]), q: load(&s.points[t[1]]), r: load(&s.points[t[2]])}
		n = n.add(c.normal())
		all = append(all, c.p, c.q, c.r)
	}
	for _, p := range all {
		if s.turned {
			p = s.frame.spin(p)
		}
		b.with(p)
	}
	*sum = n.vec()
	f.n = unit(*sum)
	n = load(&f.n)
	f.lo, f.hi = math.Inf(1), math.Inf(-1)
	for _, p := range all {
		h := n.dot(p)
		f.lo, f.hi = min(f.lo, h), max(f.hi, h)
	}
	return b
}

// tri returns the corners of one of tris.
func (s *Surface) tri(i int32) Triangle {
	t := &s.tris[i]
	return Triangle{s.points[t[0]], s.points[t[1]], s.points[t[2]]}
}

// box is an axis-parallel box; lo > hi means empty.
type box struct{ lo, hi xyz }

func emptyBox() box {
	inf := math.Inf(1)
	return box{xyz{inf, inf, inf}, xyz{-inf, -inf, -inf}}
}

// with makes b hold p.
func (b *box) with(p xyz) {
	b.lo = xyz{min(b.lo.x, p.x), min(b.lo.y, p.y), min(b.lo.z, p.z)}
	b.hi = xyz{max(b.hi.x, p.x), max(b.hi.y, p.y), max(b.hi.z, p.z)}
}

// set puts a box that is not empty at place j.
func (g *group) set(j int, b *box) {
	g.x[j], g.y[j], g.z[j] = (b.lo.x+b.hi.x)/2, (b.lo.y+b.hi.y)/2, (b.lo.z+b.hi.z)/2
	g.dx[j], g.dy[j], g.dz[j] = (b.hi.x-b.lo.x)/2, (b.hi.y-b.lo.y)/2, (b.hi.z-b.lo.z)/2
}

// empty marks place j as having no node.
func (g *group) empty(j int) { g.dx[j], g.dy[j], g.dz[j] = none, none, none }

// middle returns the middle of box j.
func (g *group) middle(j int) vec { j &= 7; return vec{g.x[j], g.y[j], g.z[j]} }

// box returns the box around all of a group.
func (g *group) box() box {
	b := emptyBox()
	for j := range wide {
		if g.dx[j] < 0 {
			continue
		}
		b.with(xyz{g.x[j] - g.dx[j], g.y[j] - g.dy[j], g.z[j] - g.dz[j]})
		b.with(xyz{g.x[j] + g.dx[j], g.y[j] + g.dy[j], g.z[j] + g.dz[j]})
	}
	return b
}

// size is a measure for which of two boxes to divide.
func (g *group) size(j int32) float64 { return g.dx[j&7] + g.dy[j&7] + g.dz[j&7] }

// Leaves returns the numbers of the triangles in an order in which near ones that face the same way stand together, and
// where in it each leaf of up to four starts; the end of the last comes last. Some leaves are empty. Halved again and again
// at the greatest power of two below their number, the leaves make a balanced tree of compact parts. Neither list may be
// changed.
func (s *Surface) Leaves() (order, starts []int32) {
	starts = make([]int32, len(s.leaves)+1)
	end := int32(0)
	for i := range s.leaves {
		if starts[i] = end; s.leaves[i].count > 0 {
			end = s.leaves[i].first + s.leaves[i].count
		}
	}
	starts[len(s.leaves)] = end
	return s.ids, starts
}
