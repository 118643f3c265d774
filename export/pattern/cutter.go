package pattern

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
)

// The layers of a drawing for a machine, in the order in which it should work: what is cut comes last, the outline after its
// cutouts, so that nothing moves before all else is done.
const (
	LayerCheck = "check" // two lines of 100 mm along x and y, to measure
	LayerMark  = "mark"  // tangent lines, section borders, stiffeners, footprints, datum
	LayerText  = "text"  // writing as single strokes, and its leaders
	LayerScore = "score" // the centre line of every fold
	LayerCut   = "cut"   // cutouts, then the outline: closed paths
)

// Layers returns the names of a machine's layers in their order.
func Layers() []string { return []string{LayerCheck, LayerMark, LayerText, LayerScore, LayerCut} }

// hairline is the width in mm of all lines in a page for a machine.
const hairline = 0.05

// checkLength is how long the lines to measure are, in mm.
const checkLength = 100.0

// WriteDXF writes one side of the flat board as a DXF drawing in mm for a cutter or plotter, with the layers of Layers: solid lines
// and arcs, no fills, no hatching, no line twice. Coordinates are rounded to 1e-6 mm and are those of the design, x the other
// way when seen from the bottom. Paper, Correct, Both and Colours do not count. Errors are those of Write.
func WriteDXF(w io.Writer, t *fold.Tree, o Options) error {
	f, err := ready(t)
	if err == nil && o.Crease {
		o.sheet, err = stretched(t)
	}
	if err != nil {
		return err
	}
	return draw.WriteDXF(w, machine(t, o, f))
}

// CheckColours returns what keeps colours from being used: a name that is no layer, or a colour not written as #rrggbb.
func CheckColours(colours map[string]string) error {
	names := make([]string, 0, len(colours))
	for name := range colours {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		switch c := colours[name]; {
		case !slices.Contains(Layers(), name):
			return fmt.Errorf("%q is no layer: one of %s", name, strings.Join(Layers(), ", "))
		case len(c) != 7 || c[0] != '#' || strings.Trim(strings.ToLower(c[1:]), "0123456789abcdef") != "":
			return fmt.Errorf("%q is no colour for the layer %s: write it as #rrggbb", c, name)
		}
	}
	return nil
}

// machineSheet returns the layers as groups of a page as large as they are: hairlines, black where no colour is asked for.
func machineSheet(t *fold.Tree, o Options, f *draw.Face) *draw.Sheet {
	box := flat.EmptyBox()
	out := &draw.Sheet{Title: name(t) + ": flat pattern for a cutter, side " + sideName(o.Side)}
	for _, l := range machine(t, o, f) {
		pen := draw.Pen{Width: hairline, Ink: draw.Ink(cmp.Or(o.Colours[l.Name], "#000000"))}
		g := draw.Group{ID: l.Name}
		for _, r := range l.Runs {
			box = box.Join(flat.Loop(r.Edges).Box())
			g.Items = append(g.Items, draw.Item{Runs: []draw.Run{r}, Pen: pen})
		}
		if l.Name == LayerText { // strokes are many: one path
			g.Items = []draw.Item{{Runs: l.Runs, Pen: pen}}
		}
		out.Groups = append(out.Groups, g)
	}
	out.Box = wholeBox(box.Grow(margin))
	return out
}

// wholeBox returns b grown to whole millimetres.
func wholeBox(b flat.Box) flat.Box {
	return flat.Box{Min: flat.Pt{X: math.Floor(b.Min.X), Y: math.Floor(b.Min.Y)}, Max: flat.Pt{X: math.Ceil(b.Max.X), Y: math.Ceil(b.Max.Y)}}
}

// machine returns the layers of one side. Where two layers have a line in common it belongs to the one that cuts deeper.
func machine(t *fold.Tree, o Options, f *draw.Face) []draw.Layer {
	s := survey(t, o)
	l := label(s, f, false)
	drawn := newOnce(s.board.Box())
	layers := map[string][]draw.Run{}
	layers[LayerCut] = s.cuts(drawn)
	for _, h := range s.hinges {
		if h.bent {
			layers[LayerScore] = append(layers[LayerScore], drawn.lines(h.centre)...)
		}
	}
	layers[LayerMark] = s.marks(drawn)
	layers[LayerText] = machineText(t, o, f, s, l)
	corner := checkCorner(l)
	for _, u := range []flat.Pt{{X: checkLength}, {Y: checkLength}} {
		layers[LayerCheck] = append(layers[LayerCheck], draw.Run{Edges: []flat.Edge{flat.Line(corner, corner.Add(u))}})
	}
	var out []draw.Layer
	for _, name := range Layers() {
		out = append(out, draw.Layer{Name: name, Runs: layers[name]})
	}
	return out
}

// cuts returns the board's borders, what lies within before what lies about it.
func (s *scene) cuts(o once) []draw.Run {
	loops := slices.Clone(s.board)
	slices.SortStableFunc(loops, func(a, b flat.Loop) int { return cmp.Compare(sign(a.Area()), sign(b.Area())) })
	return o.loops(loops...)
}

// sign returns -1 for a cutout's border, 1 for another.
func sign(area float64) int {
	if area < 0 {
		return -1
	}
	return 1
}

// marks returns what is drawn but not cut, each line once.
func (s *scene) marks(o once) []draw.Run {
	var out []draw.Run
	for _, b := range s.strips {
		out = append(out, o.lines(b.tangents)...)
	}
	for _, h := range s.hinges {
		if !h.bent {
			out = append(out, o.lines(h.centre)...)
		}
	}
	for _, list := range [][]patch{s.sections, s.stiffeners} {
		for _, p := range list {
			for _, r := range p.pieces {
				out = append(out, o.loops(r...)...)
			}
		}
	}
	for _, p := range s.parts {
		out = append(out, o.loops(p.loops...)...)
	}
	if s.datumOnPage() {
		c, x, y := s.datum, flat.Pt{X: datumReach}, flat.Pt{Y: datumReach}
		out = append(out, o.loops(draw.Circle(c, datumReach/2))...)
		out = append(out, o.lines([][2]flat.Pt{{c.Sub(x), c.Add(x)}, {c.Sub(y), c.Add(y)}})...)
	}
	return out
}

// checkCorner returns where the lines to measure meet: beside all that is drawn.
func checkCorner(l *labels) flat.Pt {
	return flat.Pt{X: l.extent.Min.X - gap, Y: l.extent.Min.Y - gap}
}

// machineText returns all labels with their leaders, and what the drawing is, as strokes.
func machineText(t *fold.Tree, o Options, f *draw.Face, s *scene, l *labels) []draw.Run {
	var out []draw.Run
	for _, tag := range l.all() {
		if len(tag.leader) > 0 {
			out = append(out, draw.Run{Edges: []flat.Edge{flat.Line(tag.leader[0], tag.leader[1])}})
		}
		out = append(out, f.Strokes(draw.InBox(tag.box, tag.size, tag.lines, "").Text)...)
	}
	corner := checkCorner(l)
	rows := []string{
		fmt.Sprintf("x and y lines: %g mm. Side %s up.", checkLength, sideName(o.Side)),
		name(t) + o.creasedWords() + ", lengths in " + words{t.Design.Units}.unit(),
		o.madeBy(),
	}
	if missing := s.unlabelled(l); len(missing) > 0 {
		rows = append(rows, "Parts without room for a label, "+strings.Join(missing, "; "))
	}
	y := corner.Y - 2
	for _, row := range rows {
		lines := f.Wrap(row, draw.SizeSmall, max(checkLength, l.extent.Max.X-corner.X))
		text := draw.InBox(flat.Box{Min: flat.Pt{X: corner.X}, Max: flat.Pt{Y: y}}, draw.SizeSmall, lines, "").Text
		out = append(out, f.Strokes(text)...)
		y -= draw.SizeSmall * draw.Leading * float64(len(lines))
	}
	return out
}

// creasedWords says that a drawing is for creasing; "" where it is not.
func (o Options) creasedWords() string {
	if o.sheet == nil {
		return ""
	}
	return ", drawn for creasing"
}

// all returns the labels that found a place.
func (l *labels) all() []*tag {
	var out []*tag
	for _, list := range [][]*tag{l.hinges, l.strips, l.sections, l.stiffeners, l.plain, l.parts, {l.datum}} {
		for _, t := range list {
			if t != nil {
				out = append(out, t)
			}
		}
	}
	return out
}
