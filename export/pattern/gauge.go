package pattern

import (
	"math"
	"strings"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
)

// A gauge's tip is cut by hand: below the least radius it is too thin, above the most too large for a page; in mm.
const (
	gaugeLeast = 0.5
	gaugeMost  = 60.0
)

// gauge is a half round of a hinge's inside radius on a card with its name.
type gauge struct {
	radius float64
	names  []string
}

// gauges returns one gauge for each inside radius, in the order of the hinges.
func gauges(d *fold.Design) []gauge {
	var out []gauge
next:
	for i := range d.Hinges {
		h := &d.Hinges[i]
		if h.Angle == 0 {
			continue
		}
		for k := range out {
			if math.Abs(out[k].radius-h.Radius) < 1e-6 {
				out[k].names = append(out[k].names, short(h.Name))
				continue next
			}
		}
		out = append(out, gauge{h.Radius, []string{short(h.Name)}})
	}
	return out
}

// gaugePages returns the gauges to cut out.
func gaugePages(t *fold.Tree, o Options, f *draw.Face) []*draw.Sheet {
	w := words{t.Design.Units}
	list := gauges(t.Design)
	if len(list) == 0 {
		return nil
	}
	s := &shelves{next: func() *leaf {
		p := newLeaf(t, o, f, "gauges for the inside radii, r in "+w.unit())
		p.write("how", []writing{{"Glue to card and cut out. The round tip lies in the inside of a fold without light beside it when the board's flex has the radius that is written on the card.", draw.SizeSmall}}, &p.room)
		p.room.Max.Y -= gap
		return p
	}}
	s.open()
	var without []string
	for _, g := range list {
		words := append([]string{"r " + w.length(g.radius, 2)}, f.Wrap(strings.Join(g.names, ", "), draw.SizeSmall, g.width()-4)...)
		if len(words) > 5 {
			words = append(words[:4], "…")
		}
		ok := g.radius >= gaugeLeast && g.radius <= gaugeMost && s.put(g.size(len(words)), func(p flat.Pt) draw.Group { return g.group(p, words) })
		if !ok {
			without = append(without, words[0]+" ("+strings.Join(g.names, ", ")+")")
		}
	}
	if len(without) > 0 {
		s.say("Too small or too large for a gauge of card: " + strings.Join(without, "; ") + ".")
	}
	return s.out
}

// width returns how wide the card is: room for a word, or for the half round.
func (g gauge) width() float64 { return max(2*g.radius, 36) }

// body returns how high the card is without its tip.
func (g gauge) body(lines int) float64 { return 5 + float64(lines)*draw.SizeSmall*draw.Leading }

// neck returns how far the tip stands out before it becomes round.
func (g gauge) neck() float64 { return min(8, 2+g.radius) }

// size returns the box of the card.
func (g gauge) size(lines int) flat.Pt {
	return flat.Pt{X: g.width(), Y: g.body(lines) + g.neck() + g.radius}
}

// group draws the card with the upper left corner of its box at p.
func (g gauge) group(p flat.Pt, words []string) draw.Group {
	size, body, r := g.size(len(words)), g.body(len(words)), g.radius
	low := flat.Pt{X: p.X, Y: p.Y - size.Y}
	mid := p.X + size.X/2
	centre := flat.Pt{X: mid, Y: low.Y + body + g.neck()}
	right, left := flat.Pt{X: mid + r, Y: centre.Y}, flat.Pt{X: mid - r, Y: centre.Y}
	loop := flat.Loop{{P: right, Q: left, C: centre, R: r, Sweep: math.Pi}}
	at := left
	for _, q := range []flat.Pt{{X: left.X, Y: low.Y + body}, {X: p.X, Y: low.Y + body}, low, {X: p.X + size.X, Y: low.Y}, {X: p.X + size.X, Y: low.Y + body}, {X: right.X, Y: low.Y + body}, right} {
		if q != at {
			loop = append(loop, flat.Line(at, q))
			at = q
		}
	}
	out := draw.Group{ID: "gauge", Title: words[0], Items: []draw.Item{draw.Closed(draw.Plate, "", loop)}}
	for i, line := range words {
		out.Items = append(out.Items, write(flat.Pt{X: p.X + 2, Y: low.Y + body - 2 - float64(i)*draw.SizeSmall*draw.Leading}, draw.SizeSmall, line))
	}
	return out
}
