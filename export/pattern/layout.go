package pattern

import (
	"math"
	"strings"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
)

// Distances on the page, in mm. Printers leave 4 to 6 mm blank: 10 mm is safe.
const (
	margin    = 10.0
	square    = 50.0
	gap       = 7.0 // between drawing and what surrounds it
	barWords  = 14.0
	leastWide = 130.0
	pitch     = 6.0 // of the legend's rows
	sample    = 16.0
)

// page lays the parts of the sheet under each other in one column: title, drawing, legend with the check square, notes.
// The two scale bars frame drawing and legend to the left and below.
type page struct {
	face        *draw.Face
	scene       *scene
	ruler       ruler
	left, right float64 // borders of the column
	corner      flat.Pt // where the two bars meet
	groups      []draw.Group
	top, low    float64 // how far up and down the page is used
}

// writing is a line of some size.
type writing struct {
	words string
	size  float64
}

// furnish puts everything that is not the board around the drawing and returns the whole sheet.
func furnish(t *fold.Tree, o Options, f *draw.Face, s *scene, l *labels, drawn []draw.Group, more ...writing) *draw.Sheet {
	p := &page{face: f, scene: s, ruler: o.ruler()}
	rods := rodTable(t, o)
	if o.apart {
		rods = nil
	}
	p.place(l.extent, rods)
	p.title(append(titleRows(t, o), more...))
	p.legend()
	p.square(words{t.Design.Units})
	p.bars()
	p.rods(rods, rodWords(t, o))
	p.notes(t, o, l)
	box := flat.Box{
		Min: flat.Pt{X: p.corner.X - barWords - margin, Y: math.Floor(p.low - margin)},
		Max: flat.Pt{X: p.right + gap + margin, Y: math.Ceil(p.top + margin)},
	}
	return &draw.Sheet{
		Box:    box,
		Title:  name(t) + ": flat pattern at true scale, printed side " + sideName(o.Side),
		Groups: append(append([]draw.Group{blank(box)}, drawn...), p.groups...),
	}
}

// place fixes the column and the bars about the drawing e. Where the drawing is low, room is left so that the upright bar
// ends below the title.
func (p *page) place(e flat.Box, rods table) {
	width := max(leastWide, e.Max.X-e.Min.X)
	if len(rods) > 1 {
		_, wide := rods.columns(p.face)
		width = max(width, wide)
	}
	p.left = math.Floor(e.Min.X + (e.Max.X-e.Min.X-width)/2)
	p.right = math.Ceil(p.left + width)
	p.corner.X = p.left - gap
	p.top = e.Max.Y + gap
	p.low = math.Floor(e.Min.Y)
	if slack := p.ruler.length + gap - (p.top - p.low + gap + square + gap); slack > 0 {
		p.low -= math.Ceil(slack)
	}
	p.corner.Y = p.low - gap - square - gap
}

// name returns what the board is called.
func name(t *fold.Tree) string {
	for _, n := range []string{t.Design.Title.Name, t.Design.Name} {
		if n = draw.Plain(n); n != "" {
			return n
		}
	}
	return "Board"
}

// titleRows returns what stands above the drawing.
func titleRows(t *fold.Tree, o Options) []writing {
	var about []string
	ti := t.Design.Title
	for _, a := range [][2]string{{"", ti.Number}, {"revision ", ti.Revision}, {"", ti.Company}, {"drawn ", ti.Drawn}, {"", ti.Date}} {
		if v := draw.Plain(a[1]); v != "" {
			about = append(about, a[0]+v)
		}
	}
	rows := []writing{{name(t), draw.SizeTitle}}
	if len(about) > 0 {
		rows = append(rows, writing{strings.Join(about, ", "), draw.SizeNormal})
	}
	side := "printed side: TOP (component side up)"
	if o.Side == fold.Bottom {
		side = "printed side: BOTTOM (seen from below, left and right are swapped)"
	}
	rows = append(rows, writing{side, draw.SizeNormal})
	if o.sheet != nil {
		rows = append(rows, writing{"Drawn for creasing: bend areas are longer than on the board.", draw.SizeNormal})
	}
	if !t.Foldable {
		rows = append(rows, writing{"Bend areas overlap: this board has no folded shape. It is drawn as it is written.", draw.SizeNormal})
	}
	return rows
}

func (p *page) add(g draw.Group) { p.groups = append(p.groups, g) }

// write returns the item for one line whose upper left corner is at.
func write(at flat.Pt, size float64, words string) draw.Item {
	return draw.InBox(flat.Box{Min: flat.Pt{X: at.X, Y: at.Y}, Max: at}, size, []string{words}, words)
}

// title writes rows above the drawing, upwards from its upper border.
func (p *page) title(rows []writing) {
	var lines []writing
	for _, r := range rows {
		for _, line := range p.face.Wrap(r.words, r.size, p.right-p.left) {
			lines = append(lines, writing{line, r.size})
			p.top += r.size * draw.Leading
		}
	}
	g := draw.Group{ID: "title"}
	y := p.top
	for _, r := range lines {
		g.Items = append(g.Items, write(flat.Pt{X: p.left, Y: y}, r.size, r.words))
		y -= r.size * draw.Leading
	}
	p.add(g)
}

// bars draws the two scale bars where they meet, left and below.
func (p *page) bars() {
	p.groups = append(p.groups, p.ruler.bars(p.face, p.corner)...)
	p.low = p.corner.Y - 1 - draw.SizeSmall*(draw.Rise+draw.Sink)
}

// rods writes the bending help below the bars, if there is any.
func (p *page) rods(rods table, how []string) {
	if len(rods) < 2 {
		return
	}
	g := draw.Group{ID: "rods", Title: "bending help", Items: rods.items(p.face, flat.Pt{X: p.left, Y: p.low - gap})}
	p.low -= gap + rowHeight*float64(len(rods)) + 1
	for _, par := range how {
		for _, line := range p.face.Wrap(par, draw.SizeSmall, p.right-p.left) {
			g.Items = append(g.Items, write(flat.Pt{X: p.left, Y: p.low}, draw.SizeSmall, line))
			p.low -= draw.SizeSmall * draw.Leading
		}
		p.low--
	}
	p.add(g)
}

// legend explains the strokes that this page uses.
func (p *page) legend() {
	g := draw.Group{ID: "legend", Title: "what the strokes mean"}
	y := p.low - gap - pitch/2
	for _, e := range p.scene.entries() {
		at := flat.Pt{X: p.left, Y: y}
		g.Items = append(g.Items, e.draw(at, at.Add(flat.Pt{X: sample}))...)
		g.Items = append(g.Items, write(flat.Pt{X: at.X + sample + 3, Y: y + draw.SizeSmall*0.45}, draw.SizeSmall, e.words))
		y -= pitch
	}
	p.add(g)
}

// entry is a row of the legend.
type entry struct {
	words string
	draw  func(a, b flat.Pt) []draw.Item
}

// stroked returns a row that shows a pen.
func stroked(words string, p draw.Pen) entry {
	return entry{words, func(a, b flat.Pt) []draw.Item { return []draw.Item{draw.Segment(a, b, p)} }}
}

// entries returns the rows of the legend.
func (s *scene) entries() []entry {
	out := []entry{stroked("outline and cutouts: cut here", draw.Outline)}
	if s.rigid {
		out = append(out, entry{"rigid section", rigidSample})
	}
	if len(s.strips) > 0 {
		out = append(out,
			s.bendEntry(),
			stroked("fold toward you, "+sideName(s.valley), draw.Plate.Dashed(draw.Valley, sample)),
			stroked("fold away from you, "+sideName(1-s.valley), draw.Plate.Dashed(draw.Mountain, sample)))
	}
	if s.near {
		out = append(out, stroked("part on this side, "+sideName(s.valley), draw.Fine))
	}
	if s.remote {
		p := draw.Fine
		p.Dash = draw.Hidden
		out = append(out, stroked("part on the far side, "+sideName(1-s.valley), p))
	}
	if len(s.parts) > 0 {
		out = append(out, entry{"height above the board's face", func(a, _ flat.Pt) []draw.Item {
			return []draw.Item{write(flat.Pt{X: a.X, Y: a.Y + draw.SizeSmall*0.45}, draw.SizeSmall, "h")}
		}})
	}
	return out
}

// bendEntry returns the row of bend areas.
func (s *scene) bendEntry() entry {
	if s.creased {
		return entry{"bend area, longer than on the board", func(a, b flat.Pt) []draw.Item {
			return []draw.Item{draw.Closed(draw.Pen{}, draw.Film, draw.Rectangle(swatch(a, b)))}
		}}
	}
	return entry{"bend area between its tangent lines", bendSample}
}

// swatch returns the box of an area's sample between a and b.
func swatch(a, b flat.Pt) flat.Box {
	return flat.Box{Min: flat.Pt{X: a.X, Y: a.Y - 1.8}, Max: flat.Pt{X: b.X, Y: b.Y + 1.8}}
}

func rigidSample(a, b flat.Pt) []draw.Item {
	border := draw.Rectangle(swatch(a, b))
	lines := hatch(flat.Region{border}, flat.Pt{X: math.Sqrt2 / 2, Y: math.Sqrt2 / 2}, nil)
	return []draw.Item{draw.Segments(lines, draw.HatchLine), draw.Closed(draw.Thin, "", border)}
}

func bendSample(a, b flat.Pt) []draw.Item {
	box := swatch(a, b)
	ends := [][2]flat.Pt{{box.Min, {X: box.Max.X, Y: box.Min.Y}}, {{X: box.Min.X, Y: box.Max.Y}, box.Max}}
	return []draw.Item{draw.Closed(draw.Pen{}, draw.Film, draw.Rectangle(box)), draw.Segments(ends, draw.Thin)}
}

// square draws the 50 mm check square with what to do before cutting.
func (p *page) square(w words) {
	box := flat.Box{Min: flat.Pt{X: p.right - square, Y: p.low - gap - square}, Max: flat.Pt{X: p.right, Y: p.low - gap}}
	p.add(draw.Group{ID: "square", Title: "check square, 50 mm by 50 mm", Items: []draw.Item{draw.Closed(draw.Thin, "", draw.Rectangle(box))}})
	g := draw.Group{ID: "scale", Title: "how to print"}
	y := box.Max.Y - 4
	list := []string{
		"Print at 100 %, no fit to page.",
		"Scale 1 : 1. Measure before you cut: this square is 50 mm by 50 mm, both bars are " + p.ruler.words + " long.",
		"Lengths in " + w.unit() + ", angles in degrees, r is the inside radius.",
	}
	if len(p.scene.strips) > 0 && !p.scene.creased {
		list = append(list, "Wrap each bend area round the rod named beside it. Paper has neither the thickness nor the stiffness of the board.")
	}
	for _, par := range list {
		for _, line := range p.face.Wrap(par, draw.SizeSmall, square-8) {
			g.Items = append(g.Items, write(flat.Pt{X: box.Min.X + 4, Y: y}, draw.SizeSmall, line))
			y -= draw.SizeSmall * draw.Leading
		}
		y -= 1.5
	}
	p.add(g)
}

// notes writes what else must be said, at the foot of the page.
func (p *page) notes(t *fold.Tree, o Options, l *labels) {
	var list []string
	if missing := p.scene.unlabelled(l); len(missing) > 0 {
		list = append(list, "Parts without room for a label, "+strings.Join(missing, "; ")+".")
	}
	if !p.scene.datumOnPage() {
		w := words{t.Design.Units}
		list = append(list, "The datum lies off this page, at x "+w.length(t.Design.Datum.X, 0)+", y "+w.length(t.Design.Datum.Y, 0)+".")
	}
	list = append(list, "Made by foldfit: an aid; it does not replace the fabricator's review, the governing standards or a qualified engineer's judgement.")
	g := draw.Group{ID: "notes"}
	y := p.low - gap
	for _, par := range append(list, o.madeBy()) {
		for _, line := range p.face.Wrap(par, draw.SizeSmall, p.right-p.left) {
			g.Items = append(g.Items, write(flat.Pt{X: p.left, Y: y}, draw.SizeSmall, line))
			y -= draw.SizeSmall * draw.Leading
		}
		y -= 1
	}
	p.low = y
	p.add(g)
}

// madeBy says which program and which design a page comes from.
func (o Options) madeBy() string {
	made := strings.TrimSpace("foldfit " + draw.Plain(o.Version))
	if h := draw.Plain(o.Hash); h != "" {
		made += ", design " + h
	}
	return made
}

// unlabelled returns the parts that found no room for their label, those of one height and side together.
func (s *scene) unlabelled(l *labels) []string {
	var tails []string
	names := map[string][]string{}
	for i := range s.parts {
		p := &s.parts[i]
		if l.parts[i] != nil || len(p.loops) == 0 {
			continue
		}
		if len(names[p.tail]) == 0 {
			tails = append(tails, p.tail)
		}
		names[p.tail] = append(names[p.tail], p.name)
	}
	for i, t := range tails {
		tails[i] = t + ": " + strings.Join(names[t], ", ")
	}
	return tails
}
