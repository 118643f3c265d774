package clash

import (
	"math"
	"slices"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// relation says how two members are compared.
type relation int

const (
	untested  relation = iota // bodies that lie in or on each other by design
	layout                    // they never move relative to each other: measured, never judged
	whole                     // everything of both
	atTangent                 // a bend and its neighbours at a tangent line: only parts, see tangentParts
)

// moveAlike numbers the flats by what moves together: flats on one side of a bend have one motion, and so have the flats
// that several bends of one hinge carry from flats of one motion (the fingers of a comb).
func moveAlike(t *fold.Tree) []int {
	group := make([]int, len(t.Flats))
	for i := range group {
		group[i] = i
	}
	merge := func(side []int) (changed bool) {
		for _, f := range side {
			from, to := max(group[f], group[side[0]]), min(group[f], group[side[0]])
			for i := range group {
				if group[i] == from && from != to {
					group[i], changed = to, true
				}
			}
		}
		return changed
	}
	for _, b := range t.Bends {
		merge(b.Near)
		merge(b.Far)
	}
	for changed := true; changed; {
		changed = false
		for i := range t.Bends {
			for k := range t.Bends[:i] {
				if oneCylinder(t, group, i, k) {
					dir := t.Bends[i].Dir
					a, b := sidesOf(&t.Bends[i], dir), sidesOf(&t.Bends[k], dir)
					changed = merge(append(slices.Clone(a[0]), b[0]...)) || changed
					changed = merge(append(slices.Clone(a[1]), b[1]...)) || changed
				}
			}
		}
	}
	return group
}

// sidesOf returns the flats on both sides of a bend, first those against the given direction.
func sidesOf(b *fold.Bend, dir flat.Pt) [2][]int {
	if b.Dir.Dot(dir) < 0 {
		return [2][]int{b.Far, b.Near}
	}
	return [2][]int{b.Near, b.Far}
}

// oneCylinder reports whether two bends lie on one cylinder: they belong to one hinge, lie at one height, and their flats
// on one side move together.
func oneCylinder(t *fold.Tree, group []int, i, k int) bool {
	a, b := &t.Bends[i], &t.Bends[k]
	if a.Hinge != b.Hinge || a.Height != b.Height {
		return false
	}
	sa, sb := sidesOf(a, a.Dir), sidesOf(b, a.Dir)
	for side := range 2 {
		if len(sa[side]) > 0 && len(sb[side]) > 0 && group[sa[side][0]] == group[sb[side][0]] {
			return true
		}
	}
	return false
}

// relate returns how two members are compared.
func (c *checker) relate(a, b *member) relation {
	switch {
	case a.body == nil && b.body == nil:
		return untested
	case a.body == nil || b.body == nil:
		return whole
	case a.body.Flat >= 0 && a.body.Flat == b.body.Flat:
		return onOneFlat(a.body, b.body)
	case a.body.Flat >= 0 && b.body.Flat >= 0 && c.group[a.body.Flat] == c.group[b.body.Flat]:
		return layout
	case a.body.Bend >= 0 && b.body.Bend >= 0 && a.kind == fold.KindBend && b.kind == fold.KindBend && oneCylinder(c.tree, c.group, a.body.Bend, b.body.Bend):
		return layout // pieces of one rolled sheet
	case c.rides(a.body, b.body):
		return layout // it stands on the bend: a matter of the rules
	case c.tangentFlat(a.body, b.body) >= 0:
		return atTangent
	}
	return whole
}

// rides reports whether one body is a component whose place is in the area of the other, a bend. On the run-out of a free shape
// it is drawn where the flat would be; where the flex takes it nobody knows.
func (c *checker) rides(a, b *fold.Body) bool {
	if a.Kind != fold.KindComponent {
		a, b = b, a
	}
	return a.Kind == fold.KindComponent && b.Kind == fold.KindBend && (a.Bend == b.Bend || c.isFree(b) && b.Region.Contains(a.At))
}

// onOneFlat compares bodies of one flat: the board's own lie on and beside each other by design, and a component stands on
// what does not rise above its seat.
func onOneFlat(a, b *fold.Body) relation {
	if a.Kind != fold.KindComponent {
		a, b = b, a
	}
	switch {
	case a.Kind != fold.KindComponent:
		return untested
	case b.Kind == fold.KindComponent:
		return layout
	case a.Side == fold.Top && b.Faces[1] <= a.Seat+flat.Snap, a.Side == fold.Bottom && b.Faces[0] >= a.Seat-flat.Snap:
		return untested
	}
	return layout
}

// tangentFlat returns the flat at whose tangent line a bend meets the other body: a flat's body that is no component, or
// another bend across a flat of area 0. -1 if they are no such pair.
func (c *checker) tangentFlat(a, b *fold.Body) int {
	if a.Kind != fold.KindBend {
		a, b = b, a
	}
	if a.Kind != fold.KindBend {
		return -1
	}
	joins := func(body *fold.Body, f int) bool {
		bend := &c.tree.Bends[body.Bend]
		return slices.Contains(bend.Near, f) || slices.Contains(bend.Far, f)
	}
	switch {
	case b.Kind == fold.KindBend:
		for f := range c.tree.Flats {
			if len(c.tree.Flats[f].Region) == 0 && joins(a, f) && joins(b, f) {
				return f
			}
		}
	case b.Kind != fold.KindComponent:
		bend := &c.tree.Bends[a.Bend]
		for _, f := range slices.Concat(bend.Near, bend.Far) {
			if c.group[f] == c.group[b.Flat] {
				return f
			}
		}
	}
	return -1
}

// beyond returns how far (mm, in the flat) a flat point lies beyond the tangent line between bend and flat f, into the
// bend's side of it, and from where on the bend may lie behind that line: for a cylinder where it has turned by 180 degrees
// from there; infinite if it never does. A free shape has its clamp for a tangent line.
func (c *checker) beyond(bend *fold.Body, f int) (beyond func(vec) float64, half float64) {
	b := &c.tree.Bends[bend.Bend]
	near := slices.Contains(b.Near, f)
	half = math.Inf(1)
	if angle := math.Abs(c.folded.Angles[b.Hinge]); c.isFree(bend) {
		half = c.returns(bend, near)
	} else if angle > 180*(1+1e-9) {
		half = b.Width * 180 / angle
	}
	from, to := c.folded.Span(bend.Bend)
	return func(p vec) float64 {
		s := b.Station(flat.Pt{X: p[0], Y: p[1]})
		if near {
			return s - from
		}
		return to - s
	}, half
}

// tangentParts returns which parts of a bend and its neighbour can meet. What lies behind the tangent line is safe from the
// bend until that has turned by more than 180 degrees from the line, since till then it stays in front of it (a free shape
// until it first comes behind the clamp's plane, whatever it has turned); what lies in front of the line (a plate round a tongue) is not. Behind the line of one of two bends that share it lies the other.
// The parts are in the order of a and b.
func (c *checker) tangentParts(a, b *member) [][2]*shape {
	if a.kind != fold.KindBend {
		swapped := c.tangentParts(b, a)
		for i, p := range swapped {
			swapped[i] = [2]*shape{p[1], p[0]}
		}
		return swapped
	}
	f := c.tangentFlat(a.body, b.body)
	intoA, halfA := c.beyond(a.body, f)
	pastA := a.part(func(p vec) float64 { return intoA(p) - halfA })
	if b.kind == fold.KindBend {
		intoB, halfB := c.beyond(b.body, f)
		pastB := b.part(func(p vec) float64 { return intoB(p) - halfB })
		return present([2]*shape{pastA, b.shape()}, [2]*shape{a.shape(), pastB})
	}
	behind := b.part(func(p vec) float64 { return -intoA(p) })
	front := b.part(intoA)
	return present([2]*shape{pastA, behind}, [2]*shape{a.shape(), front})
}

// present returns the pairs of which neither part is missing.
func present(list ...[2]*shape) [][2]*shape {
	return slices.DeleteFunc(list, func(p [2]*shape) bool { return p[0] == nil || p[1] == nil })
}
