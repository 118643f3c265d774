package sheet

import (
	"math"

	"foldfit/export/draw"
	"foldfit/fold/flat"
)

// Distances on the page in mm: between blocks, and the least between words and what is near them.
const (
	apart = 5.0
	room  = 0.7
)

// step is the distance between base lines of small writing.
const step = draw.SizeSmall * draw.Leading

// block is a part of the page being drawn, in coordinates of its own.
type block struct {
	face  *draw.Face
	words words
	draw.Group
	taken []flat.Box   // where words stand, and what they must keep clear of
	lines [][2]flat.Pt // lines that words must keep clear of
	reach flat.Box     // asked for beside what is drawn
}

// newBlock returns an empty part.
func (p *page) newBlock(id, title string) *block {
	return &block{face: p.face, words: p.words, Group: draw.Group{ID: id, Title: title}, reach: flat.EmptyBox()}
}

// add draws items.
func (b *block) add(items ...draw.Item) { b.Items = append(b.Items, items...) }

// line draws a straight line.
func (b *block) line(p draw.Pen, x0, y0, x1, y1 float64) {
	b.add(draw.Segment(flat.Pt{X: x0, Y: y0}, flat.Pt{X: x1, Y: y1}, p))
}

// Where words stand about their point.
const (
	left   = 0.0
	centre = 0.5
	right  = 1.0
)

// write draws lines of words with the base line of the first at p; align is the share of their width that lies left of p.
func (b *block) write(p flat.Pt, size, align float64, lines ...string) {
	for i, l := range lines {
		if l == "" {
			continue
		}
		at := flat.Pt{X: p.X - align*b.face.Width(l, size), Y: p.Y - float64(i)*size*draw.Leading}
		it := draw.Item{Fill: draw.Black, Text: &draw.Text{At: at, Size: size, Lines: []string{l}, Words: l}}
		b.add(it)
		b.taken = append(b.taken, it.Bounds(b.face))
	}
}

// heading writes the title of a part of the page, with an explanation behind it, and draws no line.
func (b *block) heading(p flat.Pt, words, more string) {
	b.write(p, draw.SizeNormal, left, words)
	if more != "" {
		b.write(flat.Pt{X: p.X + b.face.Width(words, draw.SizeNormal) + 3, Y: p.Y}, draw.SizeSmall, left, more)
	}
}

// box returns the box about everything drawn and asked for.
func (b *block) box() flat.Box {
	out := b.reach
	for _, it := range b.Items {
		if box := it.Bounds(b.face); box.Min.X <= box.Max.X {
			out = out.Join(box)
		}
	}
	return out
}

// size returns width and height of the block.
func (b *block) size() flat.Pt {
	box := b.box()
	return box.Max.Sub(box.Min)
}

// at returns the block with its upper left corner at p.
func (b *block) at(p flat.Pt) draw.Group {
	box := b.box()
	return b.Move(p.Sub(flat.Pt{X: box.Min.X, Y: box.Max.Y}))
}

// free reports whether words in a box would keep clear of everything entered.
func (b *block) free(box flat.Box) bool {
	wide := box.Grow(room)
	for _, t := range b.taken {
		if t.Meets(wide) {
			return false
		}
	}
	for _, l := range b.lines {
		if crosses(l, wide) {
			return false
		}
	}
	return true
}

// keep enters the edges of something drawn that words should not cross.
func (b *block) keep(edges []flat.Edge) {
	for _, e := range edges {
		from := e.P
		for _, q := range e.Points(0.1) {
			b.lines = append(b.lines, [2]flat.Pt{from, q})
			from = q
		}
	}
}

// crosses reports whether a straight line has a point in a box.
func crosses(l [2]flat.Pt, b flat.Box) bool {
	lo, hi := within(l, b)
	return lo <= hi
}

// within returns from where to where, as shares of its length, a straight line lies in a box; lo > hi where it does not.
func within(l [2]flat.Pt, b flat.Box) (lo, hi float64) {
	lo, hi = 0, 1
	d := l[1].Sub(l[0])
	for _, a := range [2][4]float64{{l[0].X, d.X, b.Min.X, b.Max.X}, {l[0].Y, d.Y, b.Min.Y, b.Max.Y}} {
		if a[1] == 0 {
			if a[0] < a[2] || a[0] > a[3] {
				return 1, 0
			}
			continue
		}
		s, t := (a[2]-a[0])/a[1], (a[3]-a[0])/a[1]
		lo, hi = max(lo, min(s, t)), min(hi, max(s, t))
	}
	return lo, hi
}

// place writes lines of words on a white ground about one of the points tried, the first with room, and reports whether there was one.
func (b *block) place(size float64, lines []string, tries []flat.Pt) bool {
	w, h := b.face.Size(lines, size)
	for _, c := range tries {
		box := flat.Box{Min: flat.Pt{X: c.X - w/2, Y: c.Y - h/2}, Max: flat.Pt{X: c.X + w/2, Y: c.Y + h/2}}
		if b.free(box) {
			b.add(draw.Closed(draw.Pen{}, draw.White, draw.Rectangle(box.Grow(0.3))))
			b.write(flat.Pt{X: c.X, Y: box.Max.Y - draw.Rise*size}, size, centre, lines...)
			return true
		}
	}
	return false
}

// hatch returns the lines at 45 degrees (leaning right with lean 1, left with -1), so far apart, that lie in an area of straight
// edges; lines that miss the window are left out.
func hatch(r flat.Region, apart, lean float64, window flat.Box) [][2]flat.Pt {
	u := flat.Pt{X: math.Sqrt2 / 2, Y: lean * math.Sqrt2 / 2}
	n := u.Left()
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range draw.Rectangle(window) {
		lo, hi = min(lo, q.P.Dot(n)), max(hi, q.P.Dot(n))
	}
	var out [][2]flat.Pt
	for off := math.Ceil(lo/apart)*apart + 0.137; off < hi; off += apart {
		for _, s := range r.Stretches(n.Mul(off), u) {
			out = append(out, [2]flat.Pt{n.Mul(off).Add(u.Mul(s[0])), n.Mul(off).Add(u.Mul(s[1]))})
		}
	}
	return out
}
