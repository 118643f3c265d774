package pattern

import (
	"fmt"
	"strconv"
	"strings"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
)

// Paper is a size to print on, mm; the zero value is a page as large as the drawing.
type Paper struct {
	Name          string
	Width, Height float64 // upright
	Inches        bool    // scale bars of 4 in instead of 100 mm
}

// Papers returns the papers that have names.
func Papers() []Paper {
	return []Paper{
		{"a4", 210, 297, false}, {"a3", 297, 420, false}, {"a2", 420, 594, false}, {"a1", 594, 841, false},
		{"letter", 215.9, 279.4, true}, {"tabloid", 279.4, 431.8, true},
	}
}

// least is the smallest side, and the smallest longer side, of a paper that has room for the scale bars, the check square and a
// piece of the board; most is the largest.
var least, most = [2]float64{190, 250}, 5000.0

// PaperOf returns the paper of a name, or of a size WxH in mm such as 600x400.
func PaperOf(word string) (Paper, error) {
	for _, p := range Papers() {
		if p.Name == strings.ToLower(word) {
			return p, nil
		}
	}
	w, h, found := strings.Cut(strings.ToLower(word), "x")
	width, errW := strconv.ParseFloat(w, 64)
	height, errH := strconv.ParseFloat(h, 64)
	if !found || errW != nil || errH != nil {
		var names []string
		for _, p := range Papers() {
			names = append(names, p.Name)
		}
		return Paper{}, fmt.Errorf("%q is no paper: one of %s, or WxH in mm such as 600x400", word, strings.Join(names, ", "))
	}
	width, height = min(width, height), max(width, height)
	if !(width >= least[0] && height >= least[1] && height <= most) {
		return Paper{}, fmt.Errorf("a paper of %s mm has no room for scale bars and check square, or is too large: from %g x %g to %g mm", word, least[0], least[1], most)
	}
	return Paper{Name: word, Width: width, Height: height}, nil
}

// pages returns the pattern on the paper that was asked for: for each side one page where the drawing fits upright or lying, else an
// overview and as few tiles as will do; then the pages that help.
func pages(t *fold.Tree, o Options, f *draw.Face) []*draw.Sheet {
	sides := []fold.Side{o.Side}
	if o.Both {
		sides = append(sides, 1-o.Side)
	}
	var out []*draw.Sheet
	var apart bool
	for _, o.Side = range sides {
		var list []*draw.Sheet
		list, apart = o.main(t, f)
		out = append(out, list...)
	}
	out = append(out, helps(t, o, f, apart)...)
	for i := range out {
		out[i] = o.scaled(out[i])
	}
	return out
}

// main returns the pages with the drawing of one side, and whether the bending help has to stand on pages of its own: it does where there is
// no room beside the drawing.
func (o Options) main(t *fold.Tree, f *draw.Face) (out []*draw.Sheet, apart bool) {
	s := survey(t, o)
	l := label(s, f, false)
	drawn := newDrawing(s, l).groups()
	if o.Paper.Width == 0 {
		return []*draw.Sheet{furnish(t, o, f, s, l, drawn)}, false
	}
	for _, terse := range []bool{false, true} {
		l, drawn := l, drawn
		if terse {
			l = label(s, f, true)
			drawn = newDrawing(s, l).groups()
		}
		for _, o.apart = range []bool{false, true} {
			sheet := furnish(t, o, f, s, l, drawn)
			for _, size := range o.sizes() {
				if box := sheet.Box.Max.Sub(sheet.Box.Min); box.X <= size.X && box.Y <= size.Y {
					return []*draw.Sheet{centred(sheet, size)}, o.apart
				}
			}
		}
	}
	tl := o.tiling(f, l, drawn)
	return append([]*draw.Sheet{tl.overview(t, s, l)}, tl.pages(t, drawn)...), true
}

// sizes returns the room of the paper upright and lying, before the printer's correction.
func (o Options) sizes() [2]flat.Pt {
	k := o.correction()
	w, h := o.Paper.Width, o.Paper.Height
	return [2]flat.Pt{{X: w / k[0], Y: h / k[1]}, {X: h / k[0], Y: w / k[1]}}
}

// correction returns the scale that makes up for what a printer does.
func (o Options) correction() [2]float64 {
	out := [2]float64{1, 1}
	for i, v := range o.Correct {
		if v > 0 {
			out[i] = o.ruler().length / v
		}
	}
	return out
}

// scaled returns a sheet with the printer's correction.
func (o Options) scaled(s *draw.Sheet) *draw.Sheet {
	if k := o.correction(); k != [2]float64{1, 1} {
		s.Scale = k
	}
	return s
}

// centred returns a sheet in the middle of a paper of that size.
func centred(s *draw.Sheet, size flat.Pt) *draw.Sheet {
	room := size.Sub(s.Box.Max.Sub(s.Box.Min)).Mul(0.5)
	box := flat.Box{Min: s.Box.Min.Sub(room), Max: s.Box.Max.Add(room)}
	out := *s
	out.Box = box
	out.Groups = append([]draw.Group{blank(box)}, s.Groups[1:]...)
	return &out
}

// blank returns the paper itself.
func blank(box flat.Box) draw.Group {
	return draw.Group{ID: "page", Items: []draw.Item{draw.Closed(draw.Pen{}, draw.White, draw.Rectangle(box))}}
}
