package proximity

import (
	"math"
	"sync"

	"github.com/go-gl/mathgl/mgl64"
)

// Surface is a triangle surface made ready for queries. It does not change, so several queries may share it.
type Surface struct {
	points []vec
	tris   [][3]int32
	ids    []int32 // numbers of tris, in the order of the leaves
	starts []uint8 // of ids, where in its block each leaf starts; the end of the last comes last
	chord  float64
	frame  rigid     // a turn, from the frame of points to that of the boxes
	turned bool      // the two differ
	levels [][]group // of each level the boxes; the children of node i are the nodes 8 i to 8 i + 7 of the level below

	rims *rims // made when a winding number is first asked for
	once sync.Once
}

// group holds the boxes of eight nodes with one parent, their middles and half their sizes; and for each the slab across
// the way that its triangles face: between the heights lo and hi over the box's middle along the unit normal n. A place
// without a node has the size none; triangles that face all ways have no slab, and the normal zero. The nodes of the lowest
// level are the leaves, each a few triangles that face about the same way.
type group struct {
	x, y, z, dx, dy, dz [wide]float64
	n                   [wide]vec
	lo, hi              [wide]float64
}

// none is the half size of an empty box: less than nothing, so that it is far from everything.
const none = -1e100

// New returns the surface of some triangles. triangles hold indices into points; both are shared with the caller and must
// stay as they are. chord (mm) is how far the true surface may lie from the triangles, for Nearest.Low. Triangles that
// name no points of the list, or points with coordinates that are no numbers or beyond 1e40, are left out; the others keep
// their numbers. At most 2^28 are taken. Coordinates should not exceed 1e5 mm: beyond, rounding is no longer small against Tolerance. Takes
// O(n log n) time and keeps about 33 bytes a triangle.
func New(points []mgl64.Vec3, triangles [][3]int32, chord float64) *Surface {
	s := &Surface{points: points, tris: triangles[:min(len(triangles), int(numberMask)+1)], chord: chord}
	s.frame = frameOf(points, s.tris)
	s.turned = s.frame != still
	s.ids, s.starts = order(s.items())
	s.stack()
	return s
}

// leaf returns where in the order of the leaves one starts and ends.
func (s *Surface) leaf(i int32) (first, end int32) {
	block := i / room * blockSize
	first, end = block+int32(s.starts[i]), block+int32(s.starts[i+1])
	return first, max(first, end)
}

// leafCount returns the number of leaves, empty ones included.
func (s *Surface) leafCount() int { return max(0, len(s.starts)-1) }

// tri returns the corners of a triangle by its place in the order of the leaves.
func (s *Surface) tri(i int32) Triangle {
	t := &s.tris[s.ids[i]]
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
	starts = make([]int32, s.leafCount()+1)
	for i := range s.leafCount() {
		starts[i], starts[i+1] = s.leaf(int32(i))
	}
	return s.ids, starts
}
