package pattern

import (
	"foldfit/export/draw"
	"foldfit/fold/flat"
)

// ruler is a scale bar: its length, and what is written at its ticks.
type ruler struct {
	length float64 // mm
	ticks  int     // steps between the outer ticks; the middle one and the outer ones are long
	half   string
	words  string
}

// The rulers of metric papers and of those in inches.
var (
	metricRuler = ruler{100, 10, "50", "100 mm"}
	inchRuler   = ruler{101.6, 8, "2", "4 in"}
)

// ruler returns the scale bar for the paper.
func (o Options) ruler() ruler {
	if o.Paper.Inches {
		return inchRuler
	}
	return metricRuler
}

// bars draws one bar along x and one along y from a common corner, each exactly its length between the outer ticks; their
// numbers are groups of their own, so that the bars' boxes measure that length as well.
func (r ruler) bars(f *draw.Face, corner flat.Pt) []draw.Group {
	x, y := flat.Pt{X: 1}, flat.Pt{Y: 1}
	var along, up []draw.Item
	for _, m := range []struct {
		at    float64
		words string
	}{{0, "0"}, {r.length / 2, r.half}, {r.length, r.words}} {
		w := f.Width(m.words, draw.SizeSmall)
		if m.at > 0 {
			up = append(up, write(flat.Pt{X: corner.X - 1.5 - w, Y: corner.Y + m.at + draw.SizeSmall*0.45}, draw.SizeSmall, m.words))
		}
		along = append(along, write(flat.Pt{X: corner.X + m.at - w/2, Y: corner.Y - 1}, draw.SizeSmall, m.words))
	}
	return []draw.Group{
		{ID: "bar-x", Title: "scale bar, " + r.words + " along x", Items: []draw.Item{r.bar(corner, x, y)}},
		{ID: "bar-y", Title: "scale bar, " + r.words + " along y", Items: []draw.Item{r.bar(corner, y, x)}},
		{ID: "bar-x-words", Items: along}, {ID: "bar-y-words", Items: up},
	}
}

// bar draws a ruler from at along u, its ticks along v.
func (r ruler) bar(at, u, v flat.Pt) draw.Item {
	list := [][2]flat.Pt{{at, at.Add(u.Mul(r.length))}}
	for i := range r.ticks + 1 {
		tick := 1.5
		if i%(r.ticks/2) == 0 {
			tick = 3
		}
		from := at.Add(u.Mul(float64(i) * r.length / float64(r.ticks)))
		list = append(list, [2]flat.Pt{from, from.Add(v.Mul(tick))})
	}
	return draw.Segments(list, draw.Thin)
}
