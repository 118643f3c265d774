package clash

import (
	"math"

	"foldfit/mesh/proximity"
)

// node is a box of a tree, rounded outward to 32-bit numbers, which halves the memory of a big housing. Nodes are stored depth
// first: the left child follows its parent.
type node struct {
	lo, hi       [3]float32
	right        int32 // the right child; 0 in a leaf
	first, count int32 // a leaf's places in the shape's order
}

// leafMost is the number of triangles up to which neighbouring leaves of proximity's tree make one leaf here.
const leafMost = 4

// shape is a triangle surface made ready for queries: its triangles in a binary tree of boxes.
type shape struct {
	points []vec
	tris   [][3]int32
	order  []int32 // the numbers of tris by the leaves of the tree; nil if they stand in that order
	ids    []int32 // for each of tris its number in the mesh, -1 on a cut face; nil if they are the mesh's
	nodes  []node
	closed bool // inside and outside can be told apart
	box    box  // around all triangles
	pieces []piece
	home   []int32            // of each point the number of its piece, -1 if it is not used; nil before pieces are known, and if there is only one
	fast   *proximity.Surface // for distances; of a part made when first asked for
	whole  *shape             // the shape that this is a part of, whose material counts; nil for one that is whole itself
}

// newShape sorts triangles into a tree as proximity does: compact, and balanced whatever the mesh. Points and triangles are
// shared with the caller. O(n log n).
func newShape(points []vec, tris [][3]int32, closed bool) *shape {
	s := &shape{points: points, tris: tris, closed: closed, fast: proximity.New(points, tris, 0)}
	order, starts := s.fast.Leaves()
	s.order = order
	s.nodes = make([]node, 0, len(tris)/leafMost*3+1)
	s.grow(starts)
	s.refit()
	return s
}

// grow appends the subtree over leaves, given where each of them starts and the last one ends.
func (s *shape) grow(starts []int32) {
	leaves := len(starts) - 1
	if leaves < 1 || starts[leaves] == starts[0] {
		return
	}
	half := 1
	for half*2 < leaves {
		half *= 2
	}
	if leaves > 1 && (starts[half] == starts[0] || starts[half] == starts[leaves]) { // nothing in one half
		s.grow(starts[:half+1])
		s.grow(starts[half:])
		return
	}
	at := len(s.nodes)
	s.nodes = append(s.nodes, node{first: starts[0], count: starts[leaves] - starts[0]})
	if leaves == 1 || s.nodes[at].count <= leafMost {
		return
	}
	s.grow(starts[:half+1])
	s.nodes[at].right = int32(len(s.nodes))
	s.grow(starts[half:])
}

// refit computes all boxes from the points; children come after their parents.
func (s *shape) refit() {
	s.box = emptyBox()
	for i := len(s.nodes) - 1; i >= 0; i-- {
		n := &s.nodes[i]
		if n.right != 0 {
			n.join(&s.nodes[i+1], &s.nodes[n.right])
			continue
		}
		b := emptyBox()
		for k := n.first; k < n.first+n.count; k++ {
			for _, p := range s.tris[s.at(k)] {
				b = b.with(s.points[p])
			}
		}
		for k := range 3 {
			n.lo[k], n.hi[k] = -above(-b.lo[k]), above(b.hi[k])
		}
		s.box = s.box.join(b)
	}
}

// join makes n hold two others.
func (n *node) join(a, b *node) {
	for k := range 3 {
		n.lo[k], n.hi[k] = min(a.lo[k], b.lo[k]), max(a.hi[k], b.hi[k])
	}
}

// above returns the least 32-bit number that is not below v.
func above(v float64) float32 {
	f := float32(v)
	if float64(f) < v {
		f = math.Nextafter32(f, float32(math.Inf(1)))
	}
	return f
}

// box returns the box around the triangles of a node.
func (n *node) box() box {
	return box{vec{float64(n.lo[0]), float64(n.lo[1]), float64(n.lo[2])}, vec{float64(n.hi[0]), float64(n.hi[1]), float64(n.hi[2])}}
}

// size is a measure for which of two nodes to divide.
func (n *node) size() float64 {
	b := n.box()
	return b.size()
}

// at returns the number of the triangle at a place in the order of the leaves.
func (s *shape) at(place int32) int32 {
	if s.order == nil {
		return place
	}
	return s.order[place]
}

// id returns the number of triangle i in the mesh; -1 on a cut face.
func (s *shape) id(i int32) int32 {
	if s.ids == nil {
		return i
	}
	return s.ids[i]
}

// surface returns the shape ready for distances.
func (s *shape) surface() *proximity.Surface {
	if s.fast == nil {
		s.fast = proximity.New(s.points, s.tris, 0)
	}
	return s.fast
}

// tri returns triangle i.
func (s *shape) tri(i int32) tri {
	t := &s.tris[i]
	return tri{s.points[t[0]], s.points[t[1]], s.points[t[2]]}
}

// bounds returns the box around the shape.
func (s *shape) bounds() box { return s.box }

// pairs calls leaf for each pair of leaves of a and b that only meeting boxes lead to, until it returns false.
func pairs(a, b *shape, meet func(a, b *box) bool, leaf func(a, b *node) (more bool)) {
	if len(a.nodes) == 0 || len(b.nodes) == 0 {
		return
	}
	var boxA, boxB box
	var visit func(i, j int32) bool
	visit = func(i, j int32) bool {
		na, nb := &a.nodes[i], &b.nodes[j]
		boxA, boxB = na.box(), nb.box()
		switch {
		case !meet(&boxA, &boxB):
			return true
		case na.right == 0 && nb.right == 0:
			return leaf(na, nb)
		case nb.right == 0 || na.right != 0 && boxA.size() >= boxB.size():
			return visit(i+1, j) && visit(na.right, j)
		}
		return visit(i, j+1) && visit(i, nb.right)
	}
	visit(0, 0)
}

// piece is a part of a shape that hangs together: its lowest point, and its box.
type piece struct {
	point int32
	box   box
}

// connected returns the pieces of a shape, in the order of their lowest points.
func (s *shape) connected() []piece {
	if s.pieces != nil {
		return s.pieces
	}
	root := make([]int32, len(s.points))
	for i := range root {
		root[i] = int32(i)
	}
	find := func(i int32) int32 {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	used := make([]bool, len(s.points))
	for _, t := range s.tris {
		for _, k := range t {
			used[k] = true
			a, b := find(t[0]), find(k)
			root[max(a, b)] = min(a, b)
		}
	}
	number := make([]int32, len(s.points))
	for i := range s.points {
		if !used[i] {
			number[i] = -1
			continue
		}
		r := find(int32(i))
		if int(r) == i {
			number[i] = int32(len(s.pieces))
			s.pieces = append(s.pieces, piece{r, emptyBox()})
		}
		number[i] = number[r]
		p := &s.pieces[number[r]]
		p.box = p.box.with(s.points[i])
	}
	if len(s.pieces) > 1 {
		s.home = number
	}
	return s.pieces
}

// pieceAt returns the number of the piece that a point belongs to, once the pieces are known.
func (s *shape) pieceAt(point int32) int32 {
	if s.home == nil {
		return 0
	}
	return s.home[point]
}
