package clash

// leafSize is the most triangles in a leaf of a tree.
const leafSize = 4

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
	ids    []int32    // for each of tris its number in the list that the shape was made from
	nodes  []node
	closed bool // inside and outside can be told apart
	pieces []piece
	whole  *shape // the shape that this is a part of, whose material counts; nil for one that is whole itself
}

// newShape sorts triangles into a tree: each node is split at the median of its centroids along its longest axis, so the
// tree is balanced whatever the mesh. The points are shared with the caller. O(n log n).
func newShape(points []vec, tris [][3]int32, closed bool) *shape {
	s := &shape{points: points, closed: closed, ids: make([]int32, len(tris)), tris: make([][3]int32, len(tris))}
	middle := make([]vec, len(tris))
	for i, t := range tris {
		s.ids[i] = int32(i)
		for k := range 3 {
			middle[i][k] = points[t[0]][k] + points[t[1]][k] + points[t[2]][k]
		}
	}
	if len(tris) > 0 {
		s.nodes = make([]node, 0, len(tris)/2+1)
		s.split(middle, 0, len(tris))
	}
	for i, id := range s.ids {
		s.tris[i] = tris[id]
	}
	s.refit()
	return s
}

// split appends the subtree over ids[from:to].
func (s *shape) split(middle []vec, from, to int) {
	at := len(s.nodes)
	s.nodes = append(s.nodes, node{first: int32(from), count: int32(to - from)})
	if to-from <= leafSize {
		return
	}
	b := emptyBox()
	for _, id := range s.ids[from:to] {
		b = b.with(middle[id])
	}
	axis := 0
	for k := 1; k < 3; k++ {
		if b.hi[k]-b.lo[k] > b.hi[axis]-b.lo[axis] {
			axis = k
		}
	}
	half := (from + to) / 2
	partition(s.ids[from:to], half-from, func(id int32) float64 { return middle[id][axis] })
	s.split(middle, from, half)
	s.nodes[at].right = int32(len(s.nodes))
	s.split(middle, half, to)
}

// partition reorders ids so that the first k have the smallest keys (quickselect; the middle of three as pivot).
func partition(ids []int32, k int, key func(int32) float64) {
	lo, hi := 0, len(ids)-1
	for lo < hi {
		a, b, c := key(ids[lo]), key(ids[(lo+hi)/2]), key(ids[hi])
		pivot := max(min(a, b), min(max(a, b), c))
		i, j := lo, hi
		for i <= j {
			for key(ids[i]) < pivot {
				i++
			}
			for key(ids[j]) > pivot {
				j--
			}
			if i <= j {
				ids[i], ids[j] = ids[j], ids[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return
		}
	}
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

// piece is a part of a shape that hangs together: one of its points, and its box.
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
			continue
		}
		r := find(int32(i))
		if int(r) == i {
			number[i] = int32(len(s.pieces))
			s.pieces = append(s.pieces, piece{r, emptyBox()})
		}
		p := &s.pieces[number[r]]
		p.box = p.box.with(s.points[i])
	}
	return s.pieces
}
