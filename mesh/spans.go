package mesh

import "foldfit/fold/flat"

// span is a piece of the sweep line inside the area, between edges low and high; its chain runs from link bottom to link
// top, last being the link made last.
type span struct {
	low, high         int32
	bottom, top, last int32

	parent, left, right *span // in the tree
	rank                uint32
}

// spanTree keeps spans from bottom to top in a treap: a search tree in that order and a heap by rank, which keeps it flat
// (Seidel and Aragon, Randomized Search Trees, 1996). Ranks come from a fixed series, so that every run is alike.
type spanTree struct {
	root *span
	seed uint32
}

// find returns the span that v lies in and true, or the next one below v (nil for none) and false. Where v lies on an edge,
// the edges that leave v decide.
func (t *spanTree) find(s *sweep, v int32) (*span, bool) {
	var below *span
	for sp := t.root; sp != nil; {
		switch {
		case s.side(v, s.next[sp.high], sp.high) > 0:
			below, sp = sp, sp.right
		case s.side(v, sp.low, s.next[sp.low]) < 0:
			sp = sp.left
		default:
			return sp, true
		}
	}
	return below, false
}

// side returns on which side of the edge from left end l to right end r the point v lies whose edges both run to the
// right: +1 above, -1 below.
func (s *sweep) side(v, l, r int32) int {
	low, high := s.fork(v)
	for _, p := range [3]flat.Pt{s.at[v], low, high} {
		if o := orient(s.at[l], s.at[r], p); o != 0 {
			return o
		}
	}
	return 0
}

// insert puts n just above the span below; nil puts it lowest.
func (t *spanTree) insert(n, below *span) {
	t.seed = t.seed*1664525 + 1013904223
	n.rank = t.seed ^ t.seed>>16
	switch {
	case t.root == nil:
		t.root = n
		return
	case below != nil && below.right == nil:
		below.right, n.parent = n, below
	default:
		next := t.root
		if below != nil {
			next = below.right
		}
		for next.left != nil {
			next = next.left
		}
		next.left, n.parent = n, next
	}
	for n.parent != nil && n.rank < n.parent.rank {
		t.lift(n)
	}
}

// remove takes n out of the tree.
func (t *spanTree) remove(n *span) {
	for n.left != nil || n.right != nil {
		if n.right == nil || n.left != nil && n.left.rank < n.right.rank {
			t.lift(n.left)
		} else {
			t.lift(n.right)
		}
	}
	t.hang(n.parent, n, nil)
	n.parent = nil
}

// lift turns n up into its parent's place.
func (t *spanTree) lift(n *span) {
	p := n.parent
	t.hang(p.parent, p, n)
	if p.left == n {
		p.left = n.right
		if p.left != nil {
			p.left.parent = p
		}
		n.right = p
	} else {
		p.right = n.left
		if p.right != nil {
			p.right.parent = p
		}
		n.left = p
	}
	p.parent = n
}

// hang puts n (or nothing) under parent in the place of old.
func (t *spanTree) hang(parent, old, n *span) {
	switch {
	case parent == nil:
		t.root = n
	case parent.left == old:
		parent.left = n
	default:
		parent.right = n
	}
	if n != nil {
		n.parent = parent
	}
}
