package clash

import "foldfit/mesh/proximity"

// node is a box of a tree. Nodes are stored depth first: the left child follows its parent.
type node struct {
	box          box
	right        int32 // the right child; 0 in a leaf
	first, count int32 // a leaf's triangles
}

// shape is a triangle surface made ready for queries: its triangles in a binary tree of boxes.
type shape struct {
	points []vec
	tris   [][3]int32 // in the order of the leaves
	ids    []int32    // for each of tris its number in the list that the shape was made from, see renumber
	nodes  []node
	closed bool // inside and outside can be told apart
	pieces []piece
	home   []int32            // of each point the number of its piece, -1 if it is not used; nil before pieces are known, and if there is only one
	fast   *proximity.Surface // for distances; of a part made when first asked for
	places []int32            // of fast's triangles in the leaves' order; nil if they stand in it
	whole  *shape             // the shape that this is a part of, whose material counts; nil for one that is whole itself
}

// newShape sorts triangles into a tree as proximity does: compact, and balanced whatever the mesh. The points are shared
// with the caller. O(n log n).
func newShape(points []vec, tris [][3]int32, closed bool) *shape {
	s := &shape{points: points, closed: closed, fast: proximity.New(points, tris, 0)}
	order, starts := s.fast.Leaves()
	s.ids, s.tris, s.places = order, make([][3]int32, len(order)), make([]int32, len(tris))
	for i, id := range order {
		s.tris[i], s.places[id] = tris[id], int32(i)
	}
	s.nodes = make([]node, 0, 2*len(starts))
	s.grow(starts)
	s.refit()
	return s
}

// renumber gives the triangles the numbers that the list from which the shape was made has for them.
func (s *shape) renumber(list []int32) {
	ids := make([]int32, len(s.ids)) // the old ones are the surface's
	for i, k := range s.ids {
		ids[i] = list[k]
	}
	s.ids = ids
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
	if leaves == 1 {
		return
	}
	s.grow(starts[:half+1])
	s.nodes[at].right = int32(len(s.nodes))
	s.grow(starts[half:])
}

// refit computes all boxes from the points; children come after their parents.
func (s *shape) refit() {
	for i := len(s.nodes) - 1; i >= 0; i-- {
		n := &s.nodes[i]
		if n.right != 0 {
			n.box = s.nodes[i+1].box.join(s.nodes[n.right].box)
			continue
		}
		n.box = emptyBox()
		for _, t := range s.tris[n.first : n.first+n.count] {
			for _, p := range t {
				n.box = n.box.with(s.points[p])
			}
		}
	}
}

// surface returns the shape ready for distances.
func (s *shape) surface() *proximity.Surface {
	if s.fast == nil {
		s.fast = proximity.New(s.points, s.tris, 0)
	}
	return s.fast
}

// place returns where triangle i of surface stands in the leaves' order.
func (s *shape) place(i int32) int32 {
	if s.places == nil {
		return i
	}
	return s.places[i]
}

// tri returns triangle i of the leaves' order.
func (s *shape) tri(i int32) tri {
	t := s.tris[i]
	return tri{s.points[t[0]], s.points[t[1]], s.points[t[2]]}
}

// bounds returns the box around the shape.
func (s *shape) bounds() box {
	if len(s.nodes) == 0 {
		return emptyBox()
	}
	return s.nodes[0].box
}

// pairs calls leaf for each pair of leaves of a and b that only meeting boxes lead to.
func pairs(a, b *shape, meet func(a, b *box) bool, leaf func(a, b *node)) {
	if len(a.nodes) == 0 || len(b.nodes) == 0 {
		return
	}
	var visit func(i, j int32)
	visit = func(i, j int32) {
		na, nb := &a.nodes[i], &b.nodes[j]
		switch {
		case !meet(&na.box, &nb.box):
		case na.right == 0 && nb.right == 0:
			leaf(na, nb)
		case nb.right == 0 || na.right != 0 && na.box.size() >= nb.box.size():
			visit(i+1, j)
			visit(na.right, j)
		default:
			visit(i, j+1)
			visit(i, nb.right)
		}
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
