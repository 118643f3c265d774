package pattern

import (
	"fmt"
	"math"
	"slices"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
)

// Distances on a tile, mm.
const (
	overlap  = 10.0 // of neighbouring tiles, at least
	barSide  = 14.0 // strip for a scale bar with its words
	footer   = 56.0 // strip for the check square, the map and words
	register = 3.0  // half the size of a register mark
	mapSize  = 48.0
)

// tiling is how a drawing is cut into tiles: windows on it in rows and columns.
type tiling struct {
	options Options
	face    *draw.Face
	paper   flat.Pt // one tile's paper
	window  flat.Pt // what of the drawing it shows
	words   []flat.Box
	x, y    []float64 // left and lower borders of the windows, rising
}

// tiling chooses upright or lying paper, whichever needs fewer tiles, and where to cut so that every label is whole on some
// tile.
func (o Options) tiling(f *draw.Face, l *labels, drawn []draw.Group) tiling {
	var words []flat.Box
	for _, g := range drawn {
		for _, it := range g.Items {
			if it.Text != nil {
				words = append(words, it.Bounds(f))
			}
		}
	}
	var best tiling
	e := l.extent.Grow(2)
	for i, paper := range o.sizes() {
		tl := tiling{options: o, face: f, paper: paper, words: words,
			window: flat.Pt{X: paper.X - 2*margin - barSide, Y: paper.Y - 2*margin - barSide - footer}}
		var across, up [][2]float64
		for _, b := range words {
			across, up = append(across, [2]float64{b.Min.X, b.Max.X}), append(up, [2]float64{b.Min.Y, b.Max.Y})
		}
		tl.x = cuts(e.Min.X, e.Max.X, tl.window.X, across)
		tl.y = cuts(e.Min.Y, e.Max.Y, tl.window.Y, up)
		if i == 0 || len(tl.x)*len(tl.y) < len(best.x)*len(best.y) {
			best = tl
		}
	}
	return best
}

// cuts returns where windows of a length begin that cover lo to hi with an overlap, so that every word lies in one of them as
// a whole. A single window has the drawing in its middle.
func cuts(lo, hi, length float64, words [][2]float64) []float64 {
	if hi-lo <= length {
		return []float64{lo - (length-(hi-lo))/2}
	}
	out := []float64{lo}
	for end := lo + length; end < hi; end = out[len(out)-1] + length {
		next := end - overlap
		for _, w := range words {
			if w[0] < end && end < w[1] && w[1]-w[0] < length-overlap {
				next = min(next, w[0]-1)
			}
		}
		if next <= out[len(out)-1] {
			next = end - overlap
		}
		out = append(out, next)
	}
	return out
}

// name returns the name of the tile in a column and row: letters from the left, numbers from the top.
func (tl tiling) name(col, row int) string {
	letters := ""
	for n := col; ; n = n/26 - 1 {
		letters = string(rune('A'+n%26)) + letters
		if n < 26 {
			break
		}
	}
	return fmt.Sprintf("%s%d", letters, len(tl.y)-row)
}

// at returns the window of a tile on the drawing.
func (tl tiling) at(col, row int) flat.Box {
	p := flat.Pt{X: tl.x[col], Y: tl.y[row]}
	return flat.Box{Min: p, Max: p.Add(tl.window)}
}

// pages returns the tiles, row by row from the top.
func (tl tiling) pages(t *fold.Tree, drawn []draw.Group) []*draw.Sheet {
	var out []*draw.Sheet
	for row := len(tl.y) - 1; row >= 0; row-- {
		for col := range tl.x {
			out = append(out, tl.page(t, drawn, col, row))
		}
	}
	return out
}

// page returns one tile: its piece of the drawing in drawing coordinates, the bars beside it, and the footer.
func (tl tiling) page(t *fold.Tree, drawn []draw.Group, col, row int) *draw.Sheet {
	win := tl.at(col, row)
	box := flat.Box{Min: win.Min.Sub(flat.Pt{X: margin + barSide, Y: margin + barSide + footer}), Max: win.Max.Add(flat.Pt{X: margin, Y: margin})}
	out := &draw.Sheet{Box: box, Title: fmt.Sprintf("%s: flat pattern at true scale, tile %s", name(t), tl.name(col, row)), Groups: []draw.Group{blank(box)}}
	for _, g := range drawn {
		if w, ok := g.Window(tl.face, win); ok {
			out.Groups = append(out.Groups, w)
		}
	}
	corner := win.Min.Sub(flat.Pt{X: 3, Y: 3})
	out.Groups = append(out.Groups, tl.marks(win))
	out.Groups = append(out.Groups, tl.options.ruler().bars(tl.face, corner)...)
	foot := flat.Box{Min: box.Min.Add(flat.Pt{X: margin, Y: margin}), Max: flat.Pt{X: win.Max.X, Y: win.Min.Y - barSide}}
	out.Groups = append(out.Groups, tl.foot(t, foot, col, row)...)
	return out
}

// marks draws the window's border and the register marks in it: crosses in the middle of every overlap, the same on all tiles
// that show them, none over words.
func (tl tiling) marks(win flat.Box) draw.Group {
	g := draw.Group{ID: "register", Title: "register marks: lay crosses over crosses", Items: []draw.Item{draw.Closed(draw.HatchLine, "", draw.Rectangle(win))}}
	for _, p := range tl.crosses() {
		if b := around(p, 2*register, 2*register); win.Min.X <= b.Min.X && b.Max.X <= win.Max.X && win.Min.Y <= b.Min.Y && b.Max.Y <= win.Max.Y {
			x, y := flat.Pt{X: register}, flat.Pt{Y: register}
			g.Items = append(g.Items, draw.Segments([][2]flat.Pt{{p.Sub(x), p.Add(x)}, {p.Sub(y), p.Add(y)}}, draw.Fine))
		}
	}
	return g
}

// crosses returns the places of all register marks.
func (tl tiling) crosses() []flat.Pt {
	xs, ys := seams(tl.x, tl.window.X), seams(tl.y, tl.window.Y)
	var out []flat.Pt
	add := func(x, y float64) {
		p := flat.Pt{X: x, Y: y}
		b := around(p, 2*register, 2*register)
		if !slices.ContainsFunc(tl.words, b.Meets) {
			out = append(out, p)
		}
	}
	for _, x := range xs {
		for _, y := range append(between(tl.y, tl.window.Y), ys...) {
			add(x, y)
		}
	}
	for _, y := range ys {
		for _, x := range between(tl.x, tl.window.X) {
			add(x, y)
		}
	}
	return out
}

// seams returns the middles of the overlaps of windows that begin at these places.
func seams(starts []float64, length float64) []float64 {
	var out []float64
	for i := 1; i < len(starts); i++ {
		out = append(out, (starts[i-1]+length+starts[i])/2)
	}
	return out
}

// between returns places along each window: an eighth, three, five and seven eighths of it.
func between(starts []float64, length float64) []float64 {
	var out []float64
	for _, s := range starts {
		for k := 1.0; k < 8; k += 2 {
			out = append(out, s+k*length/8)
		}
	}
	return out
}

// foot fills the footer: words to the left, the map, the check square to the right.
func (tl tiling) foot(t *fold.Tree, b flat.Box, col, row int) []draw.Group {
	r := tl.options.ruler()
	sq := flat.Box{Min: flat.Pt{X: b.Max.X - square, Y: b.Min.Y}, Max: flat.Pt{X: b.Max.X, Y: b.Min.Y + square}}
	chart := flat.Box{Min: flat.Pt{X: sq.Min.X - mapSize - 6, Y: b.Min.Y}, Max: flat.Pt{X: sq.Min.X - 6, Y: b.Min.Y + mapSize}}
	g := draw.Group{ID: "foot"}
	y := b.Min.Y + square
	width := chart.Min.X - 6 - b.Min.X
	for _, line := range []writing{
		{name(t), draw.SizeNormal},
		{fmt.Sprintf("tile %s of %d, printed side %s", tl.name(col, row), len(tl.x)*len(tl.y), sideName(tl.options.Side)), draw.SizeNormal},
		{"Print at 100 %, no fit to page. The square is 50 mm by 50 mm, the bars are " + r.words + " long.", draw.SizeSmall},
		{"Lay the crosses of neighbouring tiles over each other, then glue.", draw.SizeSmall},
		{tl.options.madeBy(), draw.SizeSmall},
	} {
		for _, words := range tl.face.Wrap(line.words, line.size, width) {
			g.Items = append(g.Items, write(flat.Pt{X: b.Min.X, Y: y}, line.size, words))
			y -= line.size * draw.Leading
		}
		y -= 1
	}
	return []draw.Group{g, {ID: "square", Title: "check square, 50 mm by 50 mm", Items: []draw.Item{draw.Closed(draw.Thin, "", draw.Rectangle(sq))}},
		tl.chart(t, chart, func(c, r int) bool { return c == col && r == row })}
}

// chart draws the map of all tiles in a box, some of them filled; not to scale.
func (tl tiling) chart(t *fold.Tree, b flat.Box, filled func(col, row int) bool) draw.Group {
	all := tl.at(0, 0).Join(tl.at(len(tl.x)-1, len(tl.y)-1))
	size, room := all.Max.Sub(all.Min), b.Max.Sub(b.Min)
	k := min(room.X/size.X, room.Y/size.Y)
	to := func(p flat.Pt) flat.Pt { return b.Min.Add(p.Sub(all.Min).Mul(k)) }
	g := draw.Group{ID: "map", Title: "map of the tiles, not to scale"}
	for col := range tl.x {
		for row := range tl.y {
			win := tl.at(col, row)
			tile := flat.Box{Min: to(win.Min), Max: to(win.Max)}
			var fill draw.Ink
			if filled(col, row) {
				fill = draw.Film
			}
			g.Items = append(g.Items, draw.Closed(draw.Fine, fill, draw.Rectangle(tile)))
		}
	}
	for _, l := range tl.options.view().board(t) {
		var pts []flat.Pt
		for _, e := range l {
			n := max(1, int(math.Ceil(math.Abs(e.Sweep)/0.2)))
			for i := range n {
				pts = append(pts, to(e.At(float64(i)/float64(n))))
			}
		}
		g.Items = append(g.Items, draw.Closed(draw.Fine, "", draw.Polygon(pts...)))
	}
	for col := range tl.x {
		for row := range tl.y {
			words, win := tl.name(col, row), tl.at(col, row)
			corner := to(flat.Pt{X: win.Min.X, Y: win.Max.Y})
			g.Items = append(g.Items, write(flat.Pt{X: corner.X + 1, Y: corner.Y - 0.5}, draw.SizeSmall, words))
		}
	}
	return g
}

// overview returns the first page: title, the map, the legend and the notes.
func (tl tiling) overview(t *fold.Tree, s *scene, l *labels) *draw.Sheet {
	size := flat.Pt{X: min(120, tl.paper.X-80), Y: min(120, tl.paper.Y-170)}
	b := flat.Box{Max: size}
	chart := tl.chart(t, b, func(int, int) bool { return false })
	page := *l
	page.extent = flat.Box{Min: chart.Items[0].Bounds(tl.face).Min, Max: chart.Items[0].Bounds(tl.face).Min}
	for _, it := range chart.Items {
		box := it.Bounds(tl.face)
		page.extent = page.extent.Join(box)
	}
	words := fmt.Sprintf("This page: map of the %d tiles that follow, not to scale, and the legend.", len(tl.x)*len(tl.y))
	sheet := furnish(t, tl.options, tl.face, s, &page, []draw.Group{chart}, writing{words, draw.SizeNormal})
	if now := sheet.Box.Max.Sub(sheet.Box.Min); now.X <= tl.paper.X && now.Y <= tl.paper.Y {
		return centred(sheet, tl.paper)
	}
	return sheet
}
