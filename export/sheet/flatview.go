package sheet

import (
	"math"

	"foldfit/export/draw"
	"foldfit/export/report"
	"foldfit/fold"
	"foldfit/fold/flat"
)

// Room about the flat board in mm: what dimensions and words take on each side.
const (
	flatTop    = 17.0 // heading and overall width
	flatRight  = 17.0 // overall height
	flatBottom = 27.0 // ordinates along x, legend
)

// flatView is the flat board being drawn, seen from the top side, its lower left corner at the origin.
type flatView struct {
	*block
	tree  *fold.Tree
	plan  report.Schedule
	from  flat.Pt // flat coordinates of the origin
	k     float64 // scale
	box   flat.Box
	along [2][]*ordinate // dimensions along x and along y
}

// newFlatView prepares the flat board for a room of that size: its dimensions and its scale.
func (p *page) newFlatView(size flat.Pt) *flatView {
	v := &flatView{block: p.newBlock("flat", "flat board"), tree: p.run.Tree, plan: p.plan}
	board := v.tree.Board.Box()
	v.from = board.Min
	v.ordinates(board)
	span := board.Max.Sub(board.Min)
	v.k = scaleFor(span.X, span.Y, size.X-v.sideRoom()-flatRight, size.Y-flatTop-flatBottom)
	v.box = flat.Box{Max: span.Mul(v.k)}
	return v
}

// flatView draws the flat board into a room of that size.
func (p *page) flatView(size flat.Pt) *block {
	v := p.newFlatView(size)
	p.scales = append(p.scales, ratio(v.k)+" flat")
	v.areas()
	v.bends()
	v.add(draw.Closed(draw.Outline, "", v.loops(v.tree.Board)...))
	v.keep(flat.Region(v.loops(v.tree.Board)).Edges())
	v.datum()
	missing := v.dimensions(size.X, v.sideRoom())
	v.overall()
	v.oblique()
	v.parts()
	v.names()
	v.captions(missing)
	return v.block
}

// at returns where a flat point stands in the drawing.
func (v *flatView) at(q flat.Pt) flat.Pt { return q.Sub(v.from).Mul(v.k) }

// loops returns flat loops as they are drawn.
func (v *flatView) loops(r flat.Region) []flat.Loop {
	out := make([]flat.Loop, len(r))
	for i, l := range r {
		for _, e := range l {
			e.P, e.Q, e.C, e.R = v.at(e.P), v.at(e.Q), v.at(e.C), e.R*v.k
			out[i] = append(out[i], e)
		}
	}
	return out
}

// areas draws what lies in the board: rigid sections hatched, stiffeners and components in outline.
func (v *flatView) areas() {
	d := v.tree.Design
	v.add(draw.Closed(draw.Pen{}, draw.White, v.loops(v.tree.Board)...))
	for i := range d.Sections {
		for _, r := range flat.Intersect(v.tree.Board, flat.Region{d.Sections[i].Area.CCW()}) {
			loops := v.loops(r)
			if d.RigidSection(d.Sections[i].Name) {
				v.add(draw.Segments(hatch(loops, 3.2, 1, flat.Region(loops).Box()), draw.HatchLine))
			}
			v.add(draw.Closed(draw.Fine, "", loops...))
		}
	}
	for i := range d.Stiffeners {
		for _, r := range flat.Intersect(v.tree.Board, flat.Region{d.Stiffeners[i].Area.CCW()}) {
			v.outline(r, d.Stiffeners[i].Side)
		}
	}
	for i := range d.Components {
		for _, l := range d.Components[i].Footprint() {
			v.outline(flat.Region{l}, d.Components[i].Side)
		}
	}
}

// outline draws the border of something that lies on a side of the board; on the far side it is dashed.
func (v *flatView) outline(r flat.Region, side fold.Side) {
	for _, l := range v.loops(r) {
		pen := draw.Fine
		if side == fold.Bottom {
			pen = pen.DashedRound(draw.Hidden, l.Len())
		}
		v.add(draw.Closed(pen, "", l))
		v.keep(l)
	}
}

// bends draws the bend areas: tinted, thin tangent lines, and a centre line dashed where it folds toward the reader.
func (v *flatView) bends() {
	for i := range v.tree.Bends {
		b := &v.tree.Bends[i]
		v.add(draw.Closed(draw.Pen{}, draw.Film, v.loops(b.Region)...))
	}
	for _, l := range v.tangents() {
		v.segment(l, draw.Fine)
	}
	for i := range v.tree.Bends {
		b := &v.tree.Bends[i]
		pattern := draw.Valley
		if v.tree.Design.Hinges[b.Hinge].Angle < 0 {
			pattern = draw.Mountain
		}
		for _, l := range b.Lines {
			v.segment(l, draw.Plate.Dashed(pattern, v.k*l[0].Dist(l[1])))
		}
	}
}

// tangents returns the borders of the bend areas; where these overlap, so that there are no bends, those of the schedule.
func (v *flatView) tangents() [][2]flat.Pt {
	var out [][2]flat.Pt
	if !v.tree.Foldable {
		for _, h := range v.plan.Hinges {
			out = append(out, h.Tangents[:]...)
		}
		return out
	}
	for i := range v.tree.Bends {
		b := &v.tree.Bends[i]
		out = append(append(out, stationLines(b, 0)...), stationLines(b, b.Width)...)
	}
	return out
}

// segment draws a straight line of the flat.
func (v *flatView) segment(l [2]flat.Pt, pen draw.Pen) {
	p, q := v.at(l[0]), v.at(l[1])
	v.add(draw.Segment(p, q, pen))
	v.lines = append(v.lines, [2]flat.Pt{p, q})
}

// stationLines returns where the board lies along the line at arc length s of a bend; on a tangent line just inside it.
func stationLines(b *fold.Bend, s float64) [][2]flat.Pt {
	const inside = 1e-4
	u := b.Dir.Left()
	base := b.Origin.Add(b.Dir.Mul(s))
	probe := b.Origin.Add(b.Dir.Mul(clamp(s, inside, b.Width-inside)))
	var out [][2]flat.Pt
	for _, t := range b.Region.Stretches(probe, u) {
		out = append(out, [2]flat.Pt{base.Add(u.Mul(t[0])), base.Add(u.Mul(t[1]))})
	}
	return out
}

// datum draws the mark from which everything is measured: a circle with two black quarters. Off the drawing it is left to the words.
func (v *flatView) datum() {
	const r = 1.8
	c := v.at(v.tree.Design.Datum)
	if !v.box.Grow(8).Meets(flat.Box{Min: c, Max: c}) {
		return
	}
	v.add(draw.Closed(draw.Thin, draw.White, draw.Circle(c, r)))
	for _, a := range []float64{1, -1} {
		x, y := flat.Pt{X: c.X + a*r, Y: c.Y}, flat.Pt{X: c.X, Y: c.Y + a*r}
		v.add(draw.Closed(draw.Pen{}, draw.Black, flat.Loop{flat.Line(c, x), {P: x, Q: y, C: c, R: r, Sweep: math.Pi / 2}, flat.Line(y, c)}))
	}
	v.taken = append(v.taken, flat.Box{Min: c, Max: c}.Grow(r))
}

// parts writes the names of components that have room inside their footprint, which other words then keep out of.
func (v *flatView) parts() {
	d := v.tree.Design
	for i := range d.Components {
		for _, l := range d.Components[i].Footprint() {
			if v.inside(flat.Region{l}, []string{draw.Cut(d.Components[i].Name, 24)}) {
				break
			}
		}
	}
	for i := range d.Components {
		v.taken = append(v.taken, flat.Region(v.loops(d.Components[i].Footprint())).Box())
	}
}

// names writes the names of sections and stiffeners where there is room inside them.
func (v *flatView) names() {
	d := v.tree.Design
	for i := range d.Sections {
		s := &d.Sections[i]
		kind := "flex "
		if d.RigidSection(s.Name) {
			kind = "rigid "
		}
		lines := []string{draw.Cut(s.Name, 24), kind + v.words.thickness(v.tree.Levels[s.Stackup].Top-v.tree.Levels[s.Stackup].Bottom)}
		for _, r := range flat.Intersect(v.tree.Board, flat.Region{s.Area.CCW()}) {
			if v.inside(r, lines) || v.inside(r, lines[:1]) {
				break
			}
		}
	}
	for i := range d.Stiffeners {
		for _, r := range flat.Intersect(v.tree.Board, flat.Region{d.Stiffeners[i].Area.CCW()}) {
			if v.inside(r, []string{draw.Cut(d.Stiffeners[i].Name, 24)}) {
				break
			}
		}
	}
}

// inside writes words within an area, at the nearest place to its middle that has room.
func (v *flatView) inside(r flat.Region, lines []string) bool {
	area := flat.Region(v.loops(r))
	box := area.Box()
	mid := box.Min.Mid(box.Max)
	w, h := v.face.Size(lines, draw.SizeSmall)
	var tries []flat.Pt
	for _, d := range spiral(box) {
		c := mid.Add(d)
		ok := true
		for _, q := range []flat.Pt{{X: -w / 2, Y: -h / 2}, {X: w / 2, Y: -h / 2}, {X: w / 2, Y: h / 2}, {X: -w / 2, Y: h / 2}} {
			ok = ok && area.Contains(c.Add(q))
		}
		if ok {
			tries = append(tries, c)
		}
	}
	return v.place(draw.SizeSmall, lines, tries)
}

// spiral returns points about the middle of a box, the nearest first, on a lattice of at most 21 x 21.
func spiral(b flat.Box) []flat.Pt {
	const most = 10
	size := b.Max.Sub(b.Min)
	dx, dy := max(1, size.X/(2*most)), max(1, size.Y/(2*most))
	var out []flat.Pt
	for ring := 0; ring <= most; ring++ {
		for i := -ring; i <= ring; i++ {
			for k := -ring; k <= ring; k++ {
				if max(i, -i, k, -k) == ring {
					out = append(out, flat.Pt{X: float64(i) * dx, Y: float64(k) * dy})
				}
			}
		}
	}
	return out
}

// captions writes what the view shows, at which scale, and how to read its lines.
func (v *flatView) captions(missing bool) {
	box := v.block.box()
	v.heading(flat.Pt{X: box.Min.X, Y: box.Max.Y + 4}, "Flat, seen from the top side", ratio(v.k))
	lines := v.face.Wrap("Tinted: bend areas between their tangent lines. Centre line dashed: folds toward top, to the reader; "+
		"dash-dotted: toward bottom. Hatched: rigid. Dashed outlines: on the bottom side.", draw.SizeSmall, max(120, box.Max.X-box.Min.X))
	if missing {
		lines = append(lines, "Not all positions have room here: the bend schedule has them.")
	}
	v.write(flat.Pt{X: box.Min.X, Y: box.Min.Y - 5}, draw.SizeSmall, left, lines...)
}
