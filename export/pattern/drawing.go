package pattern

import (
	"math"
	"slices"
	"strings"

	"foldfit/export/draw"
	"foldfit/fold/flat"
)

// drawing turns the scene and its labels into groups.
type drawing struct {
	scene  *scene
	labels *labels
	known  *grid // the board's edge and the tangent lines
}

func newDrawing(s *scene, l *labels) *drawing {
	d := &drawing{scene: s, labels: l, known: newGrid(s.board.Box())}
	d.known.add(s.board.Edges()...)
	for _, b := range s.strips {
		for _, t := range b.tangents {
			d.known.add(flat.Line(t[0], t[1]))
		}
	}
	return d
}

// groups returns the board's drawing elements, what lies under first.
func (d *drawing) groups() []draw.Group {
	s, l := d.scene, d.labels
	var out []draw.Group
	rigid := 0
	for i := range s.sections {
		out = append(out, d.section(&s.sections[i], l.sections[i], &rigid))
	}
	for i := range s.plain {
		out = append(out, draw.Group{ID: s.plain[i].id, Title: s.plain[i].title, Items: tagItems(l.plain[i])})
	}
	for i := range s.strips {
		out = append(out, d.strip(&s.strips[i], l.strips[i]))
	}
	for i := range s.stiffeners {
		out = append(out, stiffener(&s.stiffeners[i], l.stiffeners[i]))
	}
	for i := range s.parts {
		out = append(out, component(&s.parts[i], l.parts[i]))
	}
	out = append(out, d.board())
	for i := range s.hinges {
		out = append(out, d.hinge(&s.hinges[i], l.hinges[i]))
	}
	return append(out, d.datum())
}

// board is what is cut: the outline and the cutouts, each a path of its own.
func (d *drawing) board() draw.Group {
	g := draw.Group{ID: "board", Title: "outline and cutouts"}
	it := draw.Closed(draw.Outline, "", d.scene.outline)
	it.ID = "outline"
	g.Items = append(g.Items, it)
	for i, c := range d.scene.cutouts {
		it := draw.Closed(draw.Outline, "", c)
		it.ID = "cutout-" + decimals(float64(i+1), 0, 0)
		g.Items = append(g.Items, it)
	}
	return g
}

// section is hatched where it is rigid, neighbours the other way; its borders are drawn where nothing else is.
func (d *drawing) section(p *patch, t *tag, rigid *int) draw.Group {
	g := draw.Group{ID: p.id, Title: p.title}
	if p.rigid {
		u := flat.Pt{X: math.Sqrt2 / 2, Y: math.Sqrt2 / 2}
		if *rigid%2 == 1 {
			u = u.Left()
		}
		*rigid++
		for _, r := range p.pieces {
			if lines := hatch(r, u, d.clear()); len(lines) > 0 {
				g.Items = append(g.Items, draw.Segments(lines, draw.HatchLine))
			}
		}
	}
	if it := d.border(p.pieces); len(it.Runs) > 0 {
		g.Items = append(g.Items, it)
	}
	g.Items = append(g.Items, tagItems(t)...)
	return g
}

// clear returns where hatching leaves room for writing.
func (d *drawing) clear() []flat.Box {
	out := make([]flat.Box, len(d.labels.boxes))
	for i, b := range d.labels.boxes {
		out[i] = b.Grow(0.5)
	}
	return out
}

// border returns the edges of a section that are neither the board's edge nor a tangent line, so that nothing is drawn
// twice.
func (d *drawing) border(pieces []flat.Region) draw.Item {
	it := draw.Item{Pen: draw.Thin}
	for _, r := range pieces {
		for _, e := range r.Edges() {
			if !d.known.on(e.Mid()) {
				it.Runs = append(it.Runs, draw.Run{Edges: []flat.Edge{e}})
			}
		}
	}
	return it
}

// onEdge reports whether p lies on e within 1e-5 mm, a tenth of what the page can show.
func onEdge(e flat.Edge, p flat.Pt) bool {
	const near = 1e-5
	if b := e.Box().Grow(near); p.X < b.Min.X || p.X > b.Max.X || p.Y < b.Min.Y || p.Y > b.Max.Y {
		return false
	}
	if e.IsArc() {
		return math.Abs(p.Dist(e.C)-e.R) <= near
	}
	d := e.Q.Sub(e.P).Unit()
	return math.Abs(p.Sub(e.P).Cross(d)) <= near
}

// strip is a bend area: tinted, between two thin tangent lines.
func (d *drawing) strip(b *strip, t *tag) draw.Group {
	g := draw.Group{ID: "bend-" + draw.Safe(b.name), Title: "bend area " + draw.Plain(b.name)}
	if len(b.area) > 0 {
		g.Items = append(g.Items, draw.Closed(draw.Pen{}, draw.Film, b.area...))
	}
	if len(b.tangents) > 0 {
		g.Items = append(g.Items, draw.Segments(b.tangents, draw.Thin))
	}
	g.Items = append(g.Items, tagItems(t)...)
	return g
}

// hinge is the centre line, dashed toward the reader and dash-dotted away, with its words.
func (d *drawing) hinge(h *crease, t *tag) draw.Group {
	g := draw.Group{ID: "hinge-" + h.name, Title: h.label}
	for _, c := range h.centre {
		g.Items = append(g.Items, draw.Segment(c[0], c[1], d.scene.stroke(h, c[0].Dist(c[1]))))
	}
	g.Items = append(g.Items, tagItems(t)...)
	return g
}

// stroke returns the pen for a hinge line of that length.
func (s *scene) stroke(h *crease, length float64) draw.Pen {
	p := draw.Plate
	switch {
	case !h.bent:
		return draw.Fine
	case h.toward == s.valley:
		return p.Dashed(draw.Valley, length)
	}
	return p.Dashed(draw.Mountain, length)
}

// stiffener is outlined, dashed on the far side.
func stiffener(p *patch, t *tag) draw.Group {
	g := draw.Group{ID: p.id, Title: p.title}
	for _, r := range p.pieces {
		g.Items = append(g.Items, borders(draw.Thin, p.far, r)...)
	}
	g.Items = append(g.Items, tagItems(t)...)
	return g
}

// component is a thin footprint, dashed on the far side.
func component(p *part, t *tag) draw.Group {
	return draw.Group{ID: p.id, Title: p.title, Items: append(borders(draw.Fine, p.far, p.loops), tagItems(t)...)}
}

// borders draws loops, each dashed for itself where they are on the far side.
func borders(line draw.Pen, far bool, loops []flat.Loop) []draw.Item {
	if len(loops) == 0 {
		return nil
	}
	if !far {
		return []draw.Item{draw.Closed(line, "", loops...)}
	}
	var out []draw.Item
	for _, l := range loops {
		length := 0.0
		for _, e := range l {
			length += e.Len()
		}
		out = append(out, draw.Closed(line.DashedRound(draw.Hidden, length), "", l))
	}
	return out
}

// datumReach is half the size of the datum's mark, datumFar how far off the board it is still drawn, in mm.
const (
	datumReach = 3.0
	datumFar   = 40.0
)

// datumOnPage reports whether the datum lies near enough to the board to be drawn.
func (s *scene) datumOnPage() bool {
	b := s.board.Box().Grow(datumFar)
	return b.Min.X <= s.datum.X && s.datum.X <= b.Max.X && b.Min.Y <= s.datum.Y && s.datum.Y <= b.Max.Y
}

// datum is a circle with a cross, two quarters filled.
func (d *drawing) datum() draw.Group {
	g := draw.Group{ID: "datum", Title: "datum: drawings measure from here"}
	if !d.scene.datumOnPage() {
		g.Title = "datum: off this page"
		return g
	}
	c, r := d.scene.datum, 1.6
	for _, q := range []flat.Pt{{X: 1}, {X: -1}} {
		a, b := c.Add(q.Mul(r)), c.Add(q.Left().Mul(r))
		quarter := flat.Loop{flat.Line(c, a), {P: a, Q: b, C: c, R: r, Sweep: math.Pi / 2}, flat.Line(b, c)}
		g.Items = append(g.Items, draw.Closed(draw.Pen{}, draw.Black, quarter))
	}
	x, y := flat.Pt{X: datumReach}, flat.Pt{Y: datumReach}
	g.Items = append(g.Items, draw.Closed(draw.Fine, "", draw.Circle(c, r)), draw.Segments([][2]flat.Pt{{c.Sub(x), c.Add(x)}, {c.Sub(y), c.Add(y)}}, draw.Fine))
	g.Items = append(g.Items, tagItems(d.labels.datum)...)
	return g
}

func tagItems(t *tag) []draw.Item {
	if t == nil {
		return nil
	}
	return t.items()
}

// words returns a patch's label in one line.
func (p *patch) words() string { return strings.Join(p.all(), ", ") }

// all returns a patch's label in lines.
func (p *patch) all() []string {
	if p.card == "" {
		return p.lines
	}
	return append(slices.Clip(p.lines), p.card)
}

// bySize returns the pieces, largest first.
func (p *patch) bySize() []flat.Region {
	out := slices.Clone(p.pieces)
	slices.SortStableFunc(out, func(a, b flat.Region) int {
		switch x, y := a.Area(), b.Area(); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return out
}
