package sheet

import (
	"math"

	"foldfit/export/draw"
	"foldfit/fold/flat"
	"foldfit/mesh"
)

// Size of a section's picture in mm; words stand below it.
const (
	cutWidth  = 62.0
	cutHeight = 40.0
)

// sections draws the sections through the worst gaps side by side; nil where there are none.
func (p *page) sections(width float64) *block {
	if len(p.cuts) == 0 {
		return nil
	}
	b := p.newBlock("sections", "sections through the worst gaps")
	b.heading(flat.Pt{}, "Sections through the worst gaps", "measured in three dimensions; letters as in the folded views")
	x, y, low := 0.0, -4.0, -4.0
	for i := range p.cuts {
		part := p.section(&p.cuts[i])
		size := part.size()
		if x > 0 && x+size.X > width {
			x, y = 0, low-3
		}
		b.add(part.at(flat.Pt{X: x, Y: y}).Items...)
		x += size.X + 4
		low = min(low, y-size.Y)
	}
	return b
}

// section draws one section: what it cuts hatched, the gap as a dimension, and what it says.
func (p *page) section(c *cut) *block {
	b := p.newBlock("", "")
	look := clamp(6*max(math.Abs(c.gap.Gap), c.gap.Required, 0.3), 2, 60)
	k := scaleFor(look, look, cutWidth, cutHeight)
	window := flat.Box{Min: flat.Pt{X: -cutWidth / 2, Y: -cutHeight / 2}, Max: flat.Pt{X: cutWidth / 2, Y: cutHeight / 2}}
	for i, list := range [][]mesh.Mesh{p.solid.bodies, p.solid.walls} {
		for n := range list {
			pen, lean := draw.Plate, 1.0
			if i == 1 || list[n].Name == c.gap.Between[1] {
				lean = -1
			}
			if i == 1 {
				pen = draw.Thin
			}
			b.cutBody(&list[n], c, k, window, pen, lean)
		}
	}
	b.add(draw.Closed(draw.Fine, "", draw.Rectangle(window)))
	value, required := p.words.gap(c.gap.Gap, c.gap.Required)
	p.dimension(b, c, k, value)
	lines := p.face.Wrap(draw.Cut(c.gap.Between[0], 40)+" to "+draw.Cut(c.gap.Between[1], 40), draw.SizeSmall, cutWidth)
	words := "gap " + value + ", required " + required
	if c.gap.Gap < 0 {
		words = "overlap " + value[1:] + ", required gap " + required
	}
	lines = append([]string{c.letter + ", " + ratio(k) + ": " + words + " " + p.words.unit()}, lines...)
	b.write(flat.Pt{X: window.Min.X, Y: window.Min.Y - step}, draw.SizeSmall, left, lines...)
	return b
}

// cutBody draws what a section cuts of a body, inside the window.
func (b *block) cutBody(m *mesh.Mesh, c *cut, k float64, window flat.Box, pen draw.Pen, lean float64) {
	r := slice(m, c.origin, c.camera)
	for i, l := range r {
		for n, e := range l {
			r[i][n] = flat.Line(e.P.Mul(k), e.Q.Mul(k))
		}
	}
	if len(r) == 0 || !r.Box().Meets(window) {
		return
	}
	var border, inside [][2]flat.Pt
	for _, e := range r.Edges() {
		if s, ok := clip([2]flat.Pt{e.P, e.Q}, window); ok {
			border = append(border, s)
		}
	}
	for _, h := range hatch(r, 1.7, lean, window) {
		if s, ok := clip(h, window); ok {
			inside = append(inside, s)
		}
	}
	b.add(draw.Segments(inside, draw.HatchLine), draw.Segments(border, pen))
}

// clip returns the part of a line that lies in a box.
func clip(l [2]flat.Pt, b flat.Box) ([2]flat.Pt, bool) {
	lo, hi := within(l, b)
	if lo >= hi {
		return l, false
	}
	d := l[1].Sub(l[0])
	return [2]flat.Pt{l[0].Add(d.Mul(lo)), l[0].Add(d.Mul(hi))}, true
}

// dimension draws the gap between its two points, with its value beside it on a white ground.
func (p *page) dimension(b *block, c *cut, k float64, value string) {
	at := func(i int) flat.Pt {
		q, _ := c.camera.project(c.gap.At[i].Sub(c.origin))
		return q.Mul(k)
	}
	from, to := at(0), at(1)
	if from.Dist(to) > 0.05 {
		b.arrowed(from, to)
	}
	for _, q := range []flat.Pt{from, to} {
		b.add(draw.Closed(draw.Pen{}, draw.Black, draw.Circle(q, 0.4)))
	}
	u := to.Sub(from).Unit().Left()
	if u == (flat.Pt{}) {
		u = flat.Pt{X: 1}
	}
	if u.X < 0 {
		u = u.Mul(-1)
	}
	w := p.face.Width(value, draw.SizeNormal)
	mid := from.Mid(to).Add(flat.Pt{X: u.X * (w/2 + 3), Y: u.Y * 5})
	ground := flat.Box{Min: flat.Pt{X: mid.X - w/2 - 0.6, Y: mid.Y - 1.9}, Max: flat.Pt{X: mid.X + w/2 + 0.6, Y: mid.Y + 1.9}}
	b.add(draw.Closed(draw.Pen{}, draw.White, draw.Rectangle(ground)))
	b.write(flat.Pt{X: mid.X, Y: mid.Y - 0.36*draw.SizeNormal}, draw.SizeNormal, centre, value)
}
