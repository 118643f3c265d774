package flat

import (
	"cmp"
	"slices"
)

// pairs calls visit for every pair of edges, one of each list, whose boxes come within Snap, in a fixed order.
func pairs(as, bs []Edge, visit func(i, j int)) {
	boxA, boxB := boxes(as), boxes(bs)
	near, of := make([]Box, 0, len(bs)), make([]int, 0, len(bs)) // those that come near the other list at all
	allA, allB := joined(boxA), joined(boxB)
	for i, b := range boxA {
		if b.Meets(allB) {
			near, of = append(near, b), append(of, i)
		}
	}
	split := len(near)
	for j, b := range boxB {
		if b.Meets(allA) {
			near, of = append(near, b), append(of, j)
		}
	}
	if split == 0 || split == len(near) {
		return
	}
	boxPairs(near, split, func(i, j int) { visit(of[i], of[j]) })
}

// selfPairs calls visit for every two edges i < j of a list whose boxes come within Snap, in a fixed order.
func selfPairs(es []Edge, visit func(i, j int)) { boxPairs(boxes(es), 0, visit) }

// boxes returns the edges' bounding boxes, grown by Snap.
func boxes(es []Edge) []Box {
	out := make([]Box, len(es))
	for i := range es {
		out[i] = es[i].Box().Grow(Snap)
	}
	return out
}

// joined returns the box of all boxes.
func joined(bs []Box) Box {
	all := EmptyBox()
	for _, b := range bs {
		all = all.Join(b)
	}
	return all
}

// boxPairs calls visit(i, j) for all boxes that meet with i < split <= j; with split 0 for all i < j. A line sweeps over
// them in the direction in which they are shorter; a box is compared with those that the line is in.
func boxPairs(bs []Box, split int, visit func(i, j int)) {
	lo := func(i int) float64 { return bs[i].Min.X }
	hi := func(i int) float64 { return bs[i].Max.X }
	if lieFlat(bs) {
		lo = func(i int) float64 { return bs[i].Min.Y }
		hi = func(i int) float64 { return bs[i].Max.Y }
	}
	var open [2][]int // boxes that the line is in, of the first and of the second list
	for _, i := range rising(len(bs), lo) {
		mine, other := 1, 1
		if i < split {
			mine = 0
		} else if split > 0 {
			other = 0
		}
		still := open[other][:0]
		for _, j := range open[other] {
			if hi(j) < lo(i) {
				continue
			}
			still = append(still, j)
			if bs[i].Meets(bs[j]) {
				visit(min(i, j), max(i, j))
			}
		}
		open[other] = still
		open[mine] = append(open[mine], i)
	}
}

// rising returns the numbers below n in rising order of value, equal ones as they are.
func rising(n int, value func(i int) float64) []int {
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		if c := cmp.Compare(value(i), value(j)); c != 0 {
			return c
		}
		return i - j
	})
	return order
}

// lieFlat reports whether the boxes are, beside their common box, wider than high.
func lieFlat(bs []Box) bool {
	all := EmptyBox()
	w, h := 0.0, 0.0
	for _, b := range bs {
		all = all.Join(b)
		w, h = w+b.Max.X-b.Min.X, h+b.Max.Y-b.Min.Y
	}
	return float64(w*(all.Max.Y-all.Min.Y)) > float64(h*(all.Max.X-all.Min.X))
}
