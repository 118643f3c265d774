package pattern

import (
	"fmt"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
)

// leaf is a page that helps at the bench: a title, scale bars, and a room that is filled from its upper left corner.
type leaf struct {
	face  *draw.Face
	sheet *draw.Sheet
	room  flat.Box
}

// helps returns the pages beside the drawing: the bending help where it has no place on it, the gauge, the paper components.
func helps(t *fold.Tree, o Options, f *draw.Face, apart bool) []*draw.Sheet {
	if o.Paper.Width == 0 {
		o.Paper = Papers()[0]
	}
	var out []*draw.Sheet
	if apart {
		out = append(out, rodPages(t, o, f)...)
	}
	if o.Gauge {
		out = append(out, gaugePages(t, o, f)...)
	}
	if o.Blocks {
		out = append(out, blockPages(t, o, f)...)
	}
	return out
}

// newLeaf returns an empty page.
func newLeaf(t *fold.Tree, o Options, f *draw.Face, about string) *leaf {
	box := flat.Box{Max: o.sizes()[0]}
	p := &leaf{face: f, sheet: &draw.Sheet{Box: box, Title: name(t) + ": " + about, Groups: []draw.Group{blank(box)}}}
	corner := flat.Pt{X: margin + barSide, Y: margin + barSide}
	p.room = flat.Box{Min: corner.Add(flat.Pt{X: gap, Y: gap}), Max: box.Max.Sub(flat.Pt{X: margin, Y: margin})}
	r := o.ruler()
	p.sheet.Groups = append(p.sheet.Groups, r.bars(f, corner)...)
	p.write("foot", []writing{{o.madeBy(), draw.SizeSmall}}, &flat.Box{Min: flat.Pt{X: corner.X}, Max: flat.Pt{X: p.room.Max.X, Y: corner.Y - 6.5}})
	p.write("title", []writing{
		{name(t), draw.SizeTitle}, {about, draw.SizeNormal},
		{fmt.Sprintf("Print at 100 %%, no fit to page. Measure before you cut: both bars are %s long, the square is 50 mm by 50 mm.", r.words), draw.SizeSmall},
	}, &p.room)
	p.room.Max.Y -= gap
	p.square()
	return p
}

// square draws the 50 mm check square in the lower right corner of the room.
func (p *leaf) square() {
	corner := flat.Pt{X: p.room.Max.X, Y: p.room.Min.Y}
	box := flat.Box{Min: corner.Sub(flat.Pt{X: square}), Max: corner.Add(flat.Pt{Y: square})}
	p.sheet.Groups = append(p.sheet.Groups,
		draw.Group{ID: "square", Title: "check square, 50 mm by 50 mm", Items: []draw.Item{draw.Closed(draw.Thin, "", draw.Rectangle(box))}},
		draw.Group{ID: "square-words", Items: []draw.Item{write(flat.Pt{X: box.Min.X + 4, Y: box.Max.Y - 4}, draw.SizeSmall, "50 mm by 50 mm")}})
	p.room.Min.Y = box.Max.Y + gap
}

// write fills a room from the top with rows, broken to its width, and takes away what they need.
func (p *leaf) write(id string, rows []writing, room *flat.Box) {
	g := draw.Group{ID: id}
	for _, r := range rows {
		for _, line := range p.face.Wrap(r.words, r.size, room.Max.X-room.Min.X) {
			g.Items = append(g.Items, write(flat.Pt{X: room.Min.X, Y: room.Max.Y}, r.size, line))
			room.Max.Y -= r.size * draw.Leading
		}
	}
	p.sheet.Groups = append(p.sheet.Groups, g)
}

// rodPages returns the bending help as pages, as many rows on each as fit.
func rodPages(t *fold.Tree, o Options, f *draw.Face) []*draw.Sheet {
	rods := rodTable(t, o)
	var out []*draw.Sheet
	for rest := rods[1:]; len(rest) > 0; {
		p := newLeaf(t, o, f, "bending help")
		for _, w := range rodWords(t, o) {
			p.write("how", []writing{{w, draw.SizeSmall}}, &p.room)
			p.room.Max.Y--
		}
		p.room.Max.Y -= gap
		n := min(len(rest), max(1, int((p.room.Max.Y-p.room.Min.Y)/rowHeight)-1))
		part := append(table{rods[0]}, rest[:n]...)
		p.sheet.Groups = append(p.sheet.Groups, draw.Group{ID: "rods", Title: "bending help", Items: part.items(f, flat.Pt{X: p.room.Min.X, Y: p.room.Max.Y})})
		out, rest = append(out, p.sheet), rest[n:]
	}
	return out
}

// shelves places boxes of given sizes from left to right and from the top down on pages.
type shelves struct {
	next func() *leaf // a new page
	page *leaf
	out  []*draw.Sheet
	at   flat.Pt // upper left corner of the next box
	low  float64 // where the next shelf begins
}

// open begins a page.
func (s *shelves) open() {
	s.page = s.next()
	s.out = append(s.out, s.page.sheet)
	s.at = flat.Pt{X: s.page.room.Min.X, Y: s.page.room.Max.Y}
	s.low = s.at.Y
}

// put draws a box where the next one has room; false for one that has none on an empty page.
func (s *shelves) put(size flat.Pt, draw func(corner flat.Pt) draw.Group) bool {
	room := s.page.room
	if all := room.Max.Sub(room.Min); size.X > all.X || size.Y > all.Y {
		return false
	}
	if s.at.X+size.X > room.Max.X {
		s.at = flat.Pt{X: room.Min.X, Y: s.low}
	}
	if s.at.Y-size.Y < room.Min.Y {
		s.open()
	}
	s.page.sheet.Groups = append(s.page.sheet.Groups, draw(s.at))
	s.low = min(s.low, s.at.Y-size.Y-gap)
	s.at.X += size.X + gap
	return true
}

// say writes words below all boxes, on further pages where they need them.
func (s *shelves) say(words string) {
	p := flat.Pt{X: s.page.room.Min.X, Y: s.low}
	for _, line := range s.page.face.Wrap(words, draw.SizeSmall, s.page.room.Max.X-p.X) {
		if p.Y-rowHeight < s.page.room.Min.Y {
			s.open()
			p.Y = s.low
		}
		s.page.sheet.Groups = append(s.page.sheet.Groups, draw.Group{ID: "without", Items: []draw.Item{write(p, draw.SizeSmall, line)}})
		p.Y -= draw.SizeSmall * draw.Leading
	}
}
