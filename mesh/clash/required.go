package clash

import (
	"math"
	"slices"
	"strings"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// kindOf returns the class of a pair: enclosure if one is a piece of it, else components if one is a component, else board.
func kindOf(a, b *member) string {
	switch {
	case a.kind == fold.KindEnclosure || b.kind == fold.KindEnclosure:
		return "enclosure"
	case a.kind == fold.KindComponent || b.kind == fold.KindComponent:
		return "components"
	}
	return "board"
}

// classOf returns the clearance of a kind.
func classOf(c *fold.Clearance, kind string) float64 {
	switch kind {
	case "enclosure":
		return c.Enclosure
	case "components":
		return c.Components
	}
	return c.Board
}

// pairRule returns the index of the exception for a pair, -1 for none. Of several the one with the fewest * wins, of
// these the first.
func (c *checker) pairRule(a, b *member) int {
	best, least := -1, math.MaxInt
	for i, p := range c.tree.Design.Clearance.Pairs {
		if a.means[i][0] && b.means[i][1] || a.means[i][1] && b.means[i][0] {
			if stars := strings.Count(p.Between[0]+p.Between[1], "*"); stars < least {
				best, least = i, stars
			}
		}
	}
	return best
}

// meanings returns for each exception whether its first and its second name mean this body.
func meanings(pairs []fold.Pair, name string) [][2]bool {
	out := make([][2]bool, len(pairs))
	for i, p := range pairs {
		out[i] = [2]bool{fold.NameMatches(p.Between[0], name), fold.NameMatches(p.Between[1], name)}
	}
	return out
}

// sides returns the groups of flats that a body belongs to: its flat's, or those on both sides of its bend.
func (c *checker) sides(b *fold.Body) []int {
	if b.Bend < 0 {
		return []int{c.group[b.Flat]}
	}
	var out []int
	bend := &c.tree.Bends[b.Bend]
	for _, f := range slices.Concat(bend.Near, bend.Far) {
		out = append(out, c.group[f])
	}
	return out
}

// arch returns the distance between the two ends of the inside face of a bend, 2 R sin(angle/2), up to 180 degrees: how near
// flats joined by it come by design. The smallest of the bends that alone lie between the two bodies; infinite if there
// is none. Of a free shape it is that of the drawn bend, which is where the flats stand (see freeArch).
func (c *checker) arch(a, b *fold.Body) float64 {
	least := c.freeArch(a, b)
	as, bs := c.sides(a), c.sides(b)
	if slices.ContainsFunc(as, func(g int) bool { return slices.Contains(bs, g) }) {
		return least
	}
	joins := func(groups []int, flats []int) bool {
		return len(flats) > 0 && slices.Contains(groups, c.group[flats[0]])
	}
	for i := range c.tree.Bends {
		bend := &c.tree.Bends[i]
		if joins(as, bend.Near) && joins(bs, bend.Far) || joins(bs, bend.Near) && joins(as, bend.Far) {
			least = min(least, c.archOf(i))
		}
	}
	return least
}

// rounding returns the difference (mm) up to which a gap counts as the required one. Inside the board it is Snap. A wall
// from an STL file has coordinates of 24 bits, so that a wall drawn exactly at the limit may stand a little nearer.
func rounding(a, b *member) float64 {
	slack := flat.Snap
	for _, m := range []*member{a, b} {
		if m.stored {
			far := 0.0
			for k := range 3 {
				far = max(far, math.Abs(m.box.lo[k]), math.Abs(m.box.hi[k]))
			}
			slack += far / (1 << 24)
		}
	}
	return slack
}
