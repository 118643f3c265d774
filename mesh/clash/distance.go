package clash

import "math"

// tie is how much nearer (mm) a pair must be to be worth looking for: it makes the many equal distances between parallel
// faces end the search at once, and bounds the error of a distance.
const tie = 1e-9

// near is the nearest pair of points of two shapes: their triangles in the leaves' order, and their distance.
type near struct {
	a, b int32
	x, y vec
	d    float64
}

// distance returns the nearest points of two shapes, not more than 1e-9 mm farther apart than the true minimum; 0 and a
// common point if the surfaces meet. A surface inside the other's material is at the distance of the surfaces. ok is
// false if they are limit or more apart.
//
// Branch and bound over both trees: the nearer pair of children first, pairs whose boxes are no nearer than the best left out.
func distance(a, b *shape, limit float64) (n near, ok bool) {
	if len(a.nodes) == 0 || len(b.nodes) == 0 {
		return n, false
	}
	s := &search{a: a, b: b, best: near{d: limit}}
	s.bound()
	s.visit(0, 0, a.nodes[0].box.distance2(&b.nodes[0].box))
	return s.best, s.found
}

// search is the state of one distance query.
type search struct {
	a, b  *shape
	best  near
	found bool
	cut   float64 // boxes this far apart or farther, squared, are of no interest
}

// bound sets cut from the best distance.
func (s *search) bound() {
	d := s.best.d
	if s.found {
		d -= tie
	}
	if d <= 0 {
		s.cut = 0
		return
	}
	s.cut = d * d
}

// visit searches a pair of nodes whose boxes are d2 apart, squared.
func (s *search) visit(i, j int32, d2 float64) {
	if d2 >= s.cut && !math.IsInf(s.cut, 1) {
		return
	}
	na, nb := &s.a.nodes[i], &s.b.nodes[j]
	switch {
	case na.right == 0 && nb.right == 0:
		s.leaves(na, nb)
	case nb.right == 0 || na.right != 0 && na.box.size() >= nb.box.size():
		l, r := s.a.nodes[i+1].box.distance2(&nb.box), s.a.nodes[na.right].box.distance2(&nb.box)
		if l <= r {
			s.visit(i+1, j, l)
			s.visit(na.right, j, r)
		} else {
			s.visit(na.right, j, r)
			s.visit(i+1, j, l)
		}
	default:
		l, r := s.b.nodes[j+1].box.distance2(&na.box), s.b.nodes[nb.right].box.distance2(&na.box)
		if l <= r {
			s.visit(i, j+1, l)
			s.visit(i, nb.right, r)
		} else {
			s.visit(i, nb.right, r)
			s.visit(i, j+1, l)
		}
	}
}

// leaves compares all triangles of two leaves.
func (s *search) leaves(na, nb *node) {
	for i := na.first; i < na.first+na.count; i++ {
		p := s.a.tri(i)
		pb := emptyBox().with(p[0]).with(p[1]).with(p[2])
		if pb.distance2(&nb.box) >= s.cut && !math.IsInf(s.cut, 1) {
			continue
		}
		for j := nb.first; j < nb.first+nb.count; j++ {
			q := s.b.tri(j)
			if d, x, y := triDistance(&p, &q, s.best.d); d < s.best.d {
				s.best, s.found = near{i, j, x, y, d}, true
				s.bound()
			}
		}
	}
}
