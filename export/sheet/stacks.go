package sheet

import (
	"slices"
	"strings"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// zone is an area of one make-up: its layers from top to bottom, and the height of its bottom face over z = 0 in mm.
type zone struct {
	name, where string
	layers      []stackup.Layer
	bottom      float64
	rigid       bool
	neutral     float64
}

// top returns the height of the zone's top face.
func (z *zone) top() float64 {
	h := z.bottom
	for _, l := range z.layers {
		h += l.Thickness
	}
	return h
}

// zones returns the make-ups that occur on the board: of the flex, of the sections, and of flex or section under a stiffener.
func (p *page) zones() []zone {
	d := p.run.Tree.Design
	var out []zone
	add := func(name, where string) {
		if i := slices.IndexFunc(out, func(z zone) bool { return z.name == name }); i >= 0 {
			out[i].where += ", " + where
			return
		}
		if i := slices.IndexFunc(d.Stackups, func(s stackup.Stackup) bool { return s.Name == name }); i >= 0 {
			level := p.run.Tree.Levels[name]
			out = append(out, zone{name, where, d.Stackups[i].Layers, level.Bottom, d.Stackups[i].Rigid, level.Neutral})
		}
	}
	for i := range d.Sections {
		add(d.Sections[i].Stackup, draw.Cut(d.Sections[i].Name, 24))
	}
	if d.Flex != "" {
		add(d.Flex, "all other areas")
	}
	for i := range p.run.Tree.Bends {
		b := &p.run.Tree.Bends[i]
		if !slices.ContainsFunc(out, func(z zone) bool { return z.name == b.Stackup }) {
			add(b.Stackup, "bend "+draw.Cut(b.Name, 24))
		}
	}
	return append(out, p.stiffened(out)...)
}

// stiffened returns the make-ups under stiffeners.
func (p *page) stiffened(known []zone) []zone {
	d := p.run.Tree.Design
	var out []zone
	for i := range d.Stiffeners {
		s := &d.Stiffeners[i]
		k := slices.IndexFunc(known, func(z zone) bool { return z.name == p.under(s) })
		if k < 0 {
			continue
		}
		extra := []stackup.Layer{{Material: s.Material, Role: "stiffener", Thickness: s.Thickness}}
		if s.Adhesive > 0 {
			extra = append(extra, stackup.Layer{Material: "adhesive", Thickness: s.Adhesive})
		}
		z := known[k]
		z.name, z.where = z.name+" with stiffener", draw.Cut(s.Name, 24)
		if s.Side == fold.Top {
			z.layers = append(extra, z.layers...)
		} else {
			slices.Reverse(extra)
			z.layers = append(slices.Clone(z.layers), extra...)
			z.bottom -= s.Thickness + s.Adhesive
		}
		same := func(o zone) bool {
			return o.name == z.name && slices.Equal(o.layers, z.layers) && o.bottom == z.bottom
		}
		if k := slices.IndexFunc(out, same); k >= 0 {
			out[k].where += ", " + z.where
		} else {
			out = append(out, z)
		}
	}
	return out
}

// under returns the stack-up that a stiffener is bonded to.
func (p *page) under(s *fold.Stiffener) string {
	at := flat.Region{s.Area}.Inside()
	if pieces := flat.Intersect(p.run.Tree.Board, flat.Region{s.Area.CCW()}); len(pieces) > 0 {
		at = pieces[0].Inside()
	}
	for _, sec := range p.run.Tree.Design.Sections {
		if sec.Area.CCW().Contains(at) {
			return sec.Stackup
		}
	}
	return p.run.Tree.Design.Flex
}

// Sizes of a stack-up's drawing in mm.
const (
	barWidth  = 16.0
	barHeight = 36.0 // of the highest
)

// stackups draws the make-ups side by side, all at one height, in rows of at most width.
func (p *page) stackups(width float64) *block {
	b := p.newBlock("stackups", "stack-ups")
	list := p.zones()
	if len(list) == 0 {
		b.heading(flat.Pt{}, "Stack-ups", "none")
		return b
	}
	lo, hi := list[0].bottom, list[0].top()
	for i := range list {
		lo, hi = min(lo, list[i].bottom), max(hi, list[i].top())
	}
	k := scaleFor(0, hi-lo, 1, barHeight)
	b.heading(flat.Pt{}, "Stack-ups", "sections, thickness "+ratio(k)+", width not to scale; thicknesses in "+p.words.unit()+
		"; dash-dotted: z = 0, the neutral surface of the flex")
	x, y, low := 0.0, -5.0, -5.0
	for i := range list {
		part := p.bar(&list[i], k, lo, hi)
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

// bar draws one make-up: its layers to scale between heights lo and hi, and beside them what they are.
func (p *page) bar(z *zone, k, lo, hi float64) *block {
	b := p.newBlock("", "")
	at := func(h float64) float64 { return (h - hi) * k }
	tags := make([]*slot, len(z.layers))
	words := make([]string, len(z.layers))
	h := z.top()
	for i, l := range z.layers {
		box := flat.Box{Min: flat.Pt{Y: at(h - l.Thickness)}, Max: flat.Pt{X: barWidth, Y: at(h)}}
		b.layer(l, box)
		words[i] = p.layerWords(l)
		tags[i] = &slot{want: -(box.Min.Y + box.Max.Y) / 2, width: step}
		h -= l.Thickness
	}
	need := float64(len(tags)) * step
	mid := -(at(z.top()) + at(z.bottom)) / 2
	spread(slices.Clone(tags), min(0, mid-need/2), max((hi-lo)*k, mid+need/2)+0.01)
	for i, t := range tags {
		b.line(draw.HatchLine, barWidth, -t.want, barWidth+4, -t.at)
		b.write(flat.Pt{X: barWidth + 4.6, Y: -t.at - 0.36*draw.SizeSmall}, draw.SizeSmall, left, words[i])
	}
	axis := draw.Fine
	axis.Dash = []float64{3, 0.8, 0.4, 0.8}
	b.line(axis, -2, at(0), barWidth+2, at(0))
	title := z.name + ", " + p.words.thickness(z.top()-z.bottom)
	if z.rigid {
		title += ", rigid"
	}
	y := b.box().Max.Y + 1.5
	where := p.face.Wrap(z.where, draw.SizeSmall, 60)
	b.write(flat.Pt{Y: y + float64(len(where))*step}, draw.SizeSmall, left, append([]string{title}, where...)...)
	b.reach = b.reach.With(flat.Pt{Y: at(lo)})
	return b
}

// layer draws one layer: copper black, rigid material hatched, adhesive white, films tinted.
func (b *block) layer(l stackup.Layer, box flat.Box) {
	fill := draw.Film
	switch {
	case l.Copper:
		fill = draw.Black
	case l.Material == stackup.Air || strings.Contains(l.Material, "adhesive"), strings.Contains(l.Material, "fr4"):
		fill = draw.White
	}
	b.add(draw.Closed(draw.Pen{}, fill, draw.Rectangle(box)))
	if strings.Contains(l.Material, "fr4") {
		b.add(draw.Segments(hatch(flat.Region{draw.Rectangle(box)}, 1.6, 1, box), draw.HatchLine))
	}
	b.add(draw.Closed(draw.Pen{Width: draw.HatchLine.Width, Ink: draw.Black}, "", draw.Rectangle(box)))
}

// layerWords says what a layer is: "0.018 copper-ra, 40 % covered".
func (p *page) layerWords(l stackup.Layer) string {
	out := p.words.thickness(l.Thickness) + " "
	if l.Material == "" {
		out += "sheet"
	}
	out += draw.Cut(l.Material, 20)
	if l.Role != "" && l.Role != l.Material {
		out += ", " + draw.Cut(l.Role, 20)
	}
	if l.Copper && l.Coverage < 1 {
		out += ", " + short(100*l.Coverage, 0) + " %"
	}
	return out
}

// lower draws what stands beside the notes: stack-ups, and below them sections through the worst gaps.
func (p *page) lower(width float64) *block {
	b := p.newBlock("lower", "")
	b.add(p.stackups(width).at(flat.Pt{}).Items...)
	if cuts := p.sections(width); cuts != nil {
		b.add(cuts.at(flat.Pt{Y: b.box().Min.Y - apart}).Items...)
	}
	return b
}
