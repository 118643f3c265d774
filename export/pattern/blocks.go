package pattern

import (
	"fmt"
	"math"
	"strings"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
)

// What can be folded of paper, in mm: a part lower or narrower than this cannot.
const (
	blockLow    = 1.0
	blockNarrow = 2.0
	blockFoot   = 4.0 // width of what is glued, at most
)

// block is a component's body to fold up: a box, or a drum where it has a diameter.
type block struct {
	name           string
	width, depth   float64
	diameter, high float64
}

// leftOut holds the names of components without a net, by the reason.
type leftOut struct{ small, large, unknown []string }

// words says what is left out; "" for nothing.
func (l leftOut) words() string {
	var out []string
	for _, r := range []struct {
		why   string
		names []string
	}{{"Too small to fold: ", l.small}, {"Too large for the page: ", l.large}, {"Height not known: ", l.unknown}} {
		if len(r.names) > 0 {
			out = append(out, r.why+strings.Join(r.names, ", ")+".")
		}
	}
	return strings.Join(out, " ")
}

// blocks returns the components' bodies. A box that begins above the board reaches down to it.
func blocks(d *fold.Design) (out []block, without leftOut) {
	for i := range d.Components {
		c := &d.Components[i]
		about := short(c.Name) + " " + sideName(c.Side)
		var list []block
		switch {
		case c.Diameter > 0 && c.Height != nil:
			list = []block{{about, 0, 0, c.Diameter, *c.Height + c.Standoff}}
		case c.Size != nil && c.Height != nil:
			list = []block{{about, c.Size[0], c.Size[1], 0, *c.Height + c.Standoff}}
		case len(c.Boxes) > 0:
			for k, b := range c.Boxes {
				list = append(list, block{fmt.Sprintf("%s.%d %s", short(c.Name), k+1, sideName(c.Side)), math.Abs(b[3] - b[0]), math.Abs(b[4] - b[1]), 0, max(b[2], b[5]) + c.Standoff})
			}
		default:
			without.unknown = append(without.unknown, about)
		}
		for _, b := range list {
			if b.high < blockLow || b.diameter == 0 && min(b.width, b.depth) < blockNarrow || b.diameter > 0 && b.diameter < blockNarrow {
				without.small = append(without.small, b.name)
				continue
			}
			out = append(out, b)
		}
	}
	return out, without
}

// blockPages returns the components to cut out, fold up and glue on the mock-up.
func blockPages(t *fold.Tree, o Options, f *draw.Face) []*draw.Sheet {
	list, without := blocks(t.Design)
	if len(t.Design.Components) == 0 {
		return nil
	}
	w := words{t.Design.Units}
	s := &shelves{next: func() *leaf {
		p := newLeaf(t, o, f, "components to fold up, heights in "+w.unit())
		p.write("how", []writing{{"Cut along the solid lines, fold along the dash-dotted ones, away from you. Glue the corner tabs behind the walls and the feet, turned inward, on the footprint.", draw.SizeSmall}}, &p.room)
		p.room.Max.Y -= gap
		return p
	}}
	s.open()
	for _, b := range list {
		n := b.net()
		words := b.name + ", h " + w.length(b.high, 0)
		size := n.box.Max.Sub(n.box.Min)
		label := around(n.face.Min.Mid(n.face.Max), f.Width(words, draw.SizeSmall), draw.SizeSmall)
		if face := n.face.Grow(-1); label.Join(face) != face { // no room: below the net
			d := flat.Pt{X: n.box.Min.X - label.Min.X, Y: n.box.Min.Y - 1 - label.Max.Y}
			label = flat.Box{Min: label.Min.Add(d), Max: label.Max.Add(d)}
			size = flat.Pt{X: max(size.X, label.Max.X-label.Min.X), Y: size.Y + 1 + draw.SizeSmall}
		}
		if !s.put(size, func(p flat.Pt) draw.Group { return n.group(p, label, words) }) {
			without.large = append(without.large, b.name)
		}
	}
	s.say(without.words())
	return s.out
}

// net is a body laid flat: what to cut, what to fold.
type net struct {
	cuts  []flat.Loop
	folds [][2]flat.Pt
	box   flat.Box
	face  flat.Box // that can be seen when it is folded: its top, or the wall of a drum
}

// net returns the net of a block.
func (b block) net() net {
	n := b.drum()
	if b.diameter == 0 {
		n = b.crate()
	}
	n.box = flat.EmptyBox()
	for _, l := range n.cuts {
		n.box = n.box.Join(l.Box())
	}
	return n
}

// group draws a net with the upper left corner of its box at p, and words in a box that lies as to the net.
func (n net) group(p flat.Pt, label flat.Box, words string) draw.Group {
	g := draw.Group{ID: "block", Title: words, Items: []draw.Item{draw.Closed(draw.Plate, "", n.cuts...)}}
	for _, l := range n.folds {
		g.Items = append(g.Items, draw.Segment(l[0], l[1], draw.Fine.Dashed(draw.Mountain, l[0].Dist(l[1]))))
	}
	g.Items = append(g.Items, draw.InBox(label, draw.SizeSmall, []string{words}, words))
	return g.Move(flat.Pt{X: p.X - n.box.Min.X, Y: p.Y - n.box.Max.Y})
}

// crate returns the net of an open box: its top, four walls with feet, and tabs at the ends of two walls. One quarter of the border
// is written down; the others are its mirror images.
func (b block) crate() net {
	w, d, h := b.width/2, b.depth/2, b.high
	foot := min(blockFoot, 0.8*min(w, d))
	tab := min(blockFoot, 0.8*h)
	bevel := min(tab, h) / 3
	quarter := []flat.Pt{ // from the middle of the right foot up and round to the middle of the upper one
		{X: w + h + foot, Y: d - foot/2}, {X: w + h, Y: d}, {X: w, Y: d},
		{X: w + tab, Y: d + bevel}, {X: w + tab, Y: d + h - bevel}, {X: w, Y: d + h}, {X: w - foot/2, Y: d + h + foot},
	}
	var border []flat.Pt
	for q := range 4 {
		sx, sy := []float64{1, -1, -1, 1}[q], []float64{1, 1, -1, -1}[q]
		for i := range quarter {
			p := quarter[i]
			if q%2 == 1 {
				p = quarter[len(quarter)-1-i]
			}
			border = append(border, flat.Pt{X: p.X * sx, Y: p.Y * sy})
		}
	}
	out := net{cuts: []flat.Loop{draw.Polygon(border...)}, face: around(flat.Pt{}, b.width, b.depth)}
	for _, s := range []float64{-1, 1} {
		out.folds = append(out.folds,
			[2]flat.Pt{{X: -w, Y: s * d}, {X: w, Y: s * d}}, [2]flat.Pt{{X: s * w, Y: -d}, {X: s * w, Y: d}},
			[2]flat.Pt{{X: -w, Y: s * (d + h)}, {X: w, Y: s * (d + h)}}, [2]flat.Pt{{X: s * (w + h), Y: -d}, {X: s * (w + h), Y: d}},
			[2]flat.Pt{{X: -w, Y: s * d}, {X: -w, Y: s * (d + h)}}, [2]flat.Pt{{X: w, Y: s * d}, {X: w, Y: s * (d + h)}})
	}
	return out
}

// drum returns the net of a cylinder: its wall with a tab at one end and teeth above and below, and its top.
func (b block) drum() net {
	long, h := math.Pi*b.diameter, b.high
	tooth := min(blockFoot, b.diameter/3)
	teeth := max(6, int(long/4))
	step := long / float64(teeth)
	border := []flat.Pt{{}}
	for i := range teeth {
		x := float64(i) * step
		border = append(border, flat.Pt{X: x + step/2, Y: -tooth}, flat.Pt{X: x + step})
	}
	bevel := min(blockFoot, h) / 3
	border = append(border, flat.Pt{X: long + blockFoot, Y: bevel}, flat.Pt{X: long + blockFoot, Y: h - bevel}, flat.Pt{X: long, Y: h})
	for i := range teeth {
		x := long - float64(i)*step
		border = append(border, flat.Pt{X: x - step/2, Y: h + tooth}, flat.Pt{X: x - step, Y: h})
	}
	top := draw.Circle(flat.Pt{X: b.diameter / 2, Y: h + tooth + 2 + b.diameter/2}, b.diameter/2)
	return net{
		cuts:  []flat.Loop{draw.Polygon(border...), top},
		face:  flat.Box{Max: flat.Pt{X: long, Y: h}},
		folds: [][2]flat.Pt{{{}, {X: long}}, {{Y: h}, {X: long, Y: h}}, {{X: long}, {X: long, Y: h}}},
	}
}
