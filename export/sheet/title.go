package sheet

import (
	"strings"

	"foldfit/export/draw"
	"foldfit/fold/flat"
)

// Size of the title block in mm: ISO 7200 makes it 180 wide.
const (
	titleWidth  = 180.0
	titleHeight = 44.0
)

// field is a cell of the title block: where it lies, what it is and what it says.
type field struct {
	x0, x1, row float64 // row counts from the bottom, each rowHeight high
	label, text string
}

const rowHeight = titleHeight / 4

// title draws the title block. A field that the design leaves open stays empty: the page knows no date of its own.
func (p *page) title() *block {
	b := p.newBlock("title", "title block")
	t := p.run.Tree.Design.Title
	name := t.Name
	if name == "" {
		name = p.run.Tree.Design.Name
	}
	scale := strings.Join(p.scales, ", ")
	fields := []field{
		{0, 60, 3, "company", t.Company}, {60, 180, 3, "title", name},
		{0, 60, 2, "drawn by", t.Drawn}, {60, 130, 2, "number", t.Number}, {130, 150, 2, "revision", t.Revision}, {150, 180, 2, "date", t.Date},
		{0, 60, 1, "made by", strings.TrimSpace("foldfit " + p.run.Version)}, {60, 110, 1, "kind of drawing", "fold sheet"},
		{110, 150, 1, "units", p.words.unit() + ", degrees"}, {150, 180, 1, "paper, sheet", p.paper.name + ", 1 of 1"},
		{0, 60, 0, "projection", "third angle"}, {60, 110, 0, "scales", scale}, {110, 180, 0, "verdict of the check", p.verdict()},
	}
	for _, f := range fields {
		b.field(f)
	}
	b.projection(flat.Pt{X: 38, Y: rowHeight / 2})
	b.add(draw.Closed(draw.Pen{Width: 0.7, Ink: draw.Black}, "", draw.Rectangle(flat.Box{Max: flat.Pt{X: titleWidth, Y: titleHeight}})))
	return b
}

// verdict returns the check's answer with the posture it speaks of.
func (p *page) verdict() string {
	out := strings.ToUpper(string(p.run.Verdict()))
	if n := len(p.run.Postures); n > 1 {
		out += ", postures: " + strings.Join(p.run.Postures, ", ")
	}
	return out
}

// field draws a cell; what does not fit is written smaller, then cut.
func (b *block) field(f field) {
	y := f.row * rowHeight
	b.add(draw.Closed(draw.Thin, "", draw.Rectangle(flat.Box{Min: flat.Pt{X: f.x0, Y: y}, Max: flat.Pt{X: f.x1, Y: y + rowHeight}})))
	b.write(flat.Pt{X: f.x0 + 1.2, Y: y + rowHeight - 0.8 - draw.Rise*2.2}, 2.2, left, f.label)
	text, size, wide := draw.Plain(f.text), draw.SizeNormal, f.x1-f.x0-2.4
	if f.label == "title" {
		size = draw.SizeTitle
	}
	for _, size = range []float64{size, draw.SizeNormal, draw.SizeSmall} {
		if b.face.Width(text, size) <= wide {
			break
		}
	}
	for n := len([]rune(text)); n > 1 && b.face.Width(text, size) > wide; n-- {
		text = draw.Cut(text, n)
	}
	b.write(flat.Pt{X: f.x0 + 1.2, Y: y + 2}, size, left, text)
}

// projection draws the sign for third-angle views: the small end of a cone beside its view from there.
func (b *block) projection(c flat.Pt) {
	pen := draw.Thin
	b.add(draw.Closed(pen, "", draw.Circle(c, 3)), draw.Closed(pen, "", draw.Circle(c, 1.5)))
	x := c.X + 6
	b.add(draw.Closed(pen, "", draw.Polygon(flat.Pt{X: x, Y: c.Y - 1.5}, flat.Pt{X: x + 7, Y: c.Y - 3}, flat.Pt{X: x + 7, Y: c.Y + 3}, flat.Pt{X: x, Y: c.Y + 1.5})))
	axis := draw.Fine
	axis.Dash = []float64{2, 0.6, 0.3, 0.6}
	b.line(axis, c.X-4, c.Y, x+8, c.Y)
	b.line(axis, c.X, c.Y-4, c.X, c.Y+4)
}
