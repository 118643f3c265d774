package rule

import (
	"fmt"
	"math"

	"foldfit/fold"
	"foldfit/fold/bending"
	"foldfit/fold/flat"
)

// obstacle is what a bend area runs over on one of its sides.
type obstacle struct {
	what  string
	depth float64 // mm
}

// take keeps the deeper one.
func (o *obstacle) take(what string, depth float64) {
	if depth > max(o.depth, touch) {
		*o = obstacle{what, depth}
	}
}

// noRoom says after a hint that names an inside radius what its bend area would run over, and what to do about it; "" where there
// is room for it. The width is that of the radius as it is written, rounded up.
func (b Board) noRoom(i int, w written) string {
	near, far, hinge := obstacle{}, obstacle{}, b.Tree.Bends[i].Hinge
	width := b.widthOf(i, b.say().ceil(w.radius, b.say().decimals()))
	for _, k := range b.Tree.Hinges[hinge].Bends {
		n, f, _ := b.inTheWay(k, width, 0)
		near.take(n.what, n.depth)
		far.take(f.what, f.depth)
	}
	one, sense := near, 1.0 // the only obstacle, and the way from it
	if near.depth == 0 {
		one, sense = far, -1
	}
	moved := b.say().ceil(one.depth, b.say().decimals())
	switch {
	case one.depth == 0:
		return ""
	case near.depth > 0 && far.depth > 0 && width <= near.depth+far.depth:
		return fmt.Sprintf("; there is no room for that between %s and %s: move them apart, or use thinner flex", near.what, far.what)
	case near.depth > 0 && far.depth > 0:
		return fmt.Sprintf("; the neck is %s long, from %s to %s, and has no room for that: make it %s longer, or use thinner flex",
			b.say().Down(width-near.depth-far.depth), near.what, far.what, b.say().Up(near.depth+far.depth))
	case b.roomy(hinge, width, sense*moved):
		return fmt.Sprintf("; there is no room for that beside %s: move the hinge line %s away from it as well, or use thinner flex", one.what, b.say().Up(moved))
	}
	return fmt.Sprintf("; the neck has no room for that beside %s: make it %s longer on that side, or use thinner flex", one.what, b.say().Up(moved))
}

// widthOf returns the width in mm of the area of bend i for an inside radius written at its hinge: the inverse of radiusFor.
func (b Board) widthOf(i int, radius float64) float64 {
	h := b.hinge(&b.Tree.Bends[i])
	return (radius + b.Tree.Hinges[b.Tree.Bends[i].Hinge].NeutralRadius - h.Radius) * math.Abs(h.Angle*math.Pi/180)
}

// roomy reports whether bend areas of a width in mm, with the hinge line moved by so many mm toward the far side, have room in all
// bends of a hinge.
func (b Board) roomy(hinge int, width, moved float64) bool {
	for _, i := range b.Tree.Hinges[hinge].Bends {
		if near, far, within := b.inTheWay(i, width, moved); within || near.depth+far.depth > 0 {
			return false
		}
	}
	return true
}

// inTheWay returns what an area of another width for bend i would run over most on its near and on its far side: rigid sections,
// stiffeners, other bend areas, the neck's ends and the board's. within: something rigid lies inside, on neither side. The
// written line stays, but for what it is moved toward the far side. Nothing is in the way where the board cannot be cut so.
func (b Board) inTheWay(i int, width, moved float64) (near, far obstacle, within bool) {
	wide, ok := b.widened(i, width, moved)
	if !ok {
		return near, far, false
	}
	for _, s := range b.stiffIn(&wide) {
		switch s.side {
		case -1:
			near.take(s.kind+" "+s.name, s.depth)
		case 1:
			far.take(s.kind+" "+s.name, s.depth)
		default:
			within = true
		}
	}
	if n, f, _ := b.beyond(&wide); max(n, f) > neckDepth {
		near.take("the neck's end", n)
		far.take("the neck's end", f)
	}
	b.meetBends(&wide, &near, &far)
	lo, hi := span(&wide, wide.Region)
	near.take("the board's end", lo)
	if len(wide.Far) > 0 {
		far.take("the board's end", width-hi)
	}
	return near, far, within
}

// meetBends adds the areas of other hinges' bends that a widened one runs over.
func (b Board) meetBends(wide *fold.Bend, near, far *obstacle) {
	box := wide.Region.Box()
	for k := range b.Tree.Bends {
		other := &b.Tree.Bends[k]
		if other.Hinge == wide.Hinge || !box.Meets(other.Region.Box()) {
			continue
		}
		for _, both := range flat.Intersect(wide.Region, other.Region) {
			lo, hi := span(wide, both)
			if what := "the bend area of " + other.Name; lo+hi < wide.Width {
				near.take(what, hi)
			} else {
				far.take(what, wide.Width-lo)
			}
		}
	}
}

// widened returns bend i with an area of another width, its hinge line moved by so many mm toward the far side; false where the
// board cannot be cut so.
func (b Board) widened(i int, width, moved float64) (fold.Bend, bool) {
	bend := b.Tree.Bends[i]
	more := width - bend.Width
	before := float64(more * bending.NearShare(b.Tree, i)) // what the area gains on its near side
	middle := bend.Middle().Add(bend.Dir.Mul(more/2 - before + moved))
	along := bend.Dir.Left().Mul(-1)
	pieces, err := flat.NewCutter(b.Tree.Board, []flat.Strip{{At: middle, U: along, Half: width / 2}}).Pieces(0)
	if err != nil {
		return bend, false
	}
	bend.Origin, bend.Width, bend.Lines = middle.Sub(bend.Dir.Mul(width/2)), width, nil
	for _, p := range pieces {
		if !p.Region.Contains(middle) {
			continue
		}
		bend.Region = p.Region
		for _, in := range p.Region.Stretches(middle, along) {
			bend.Lines = append(bend.Lines, [2]flat.Pt{middle.Add(along.Mul(in[0])), middle.Add(along.Mul(in[1]))})
		}
		return bend, len(bend.Lines) > 0
	}
	return bend, false
}
