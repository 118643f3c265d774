package draw

import (
	"math"

	"foldfit/fold/flat"
)

// Sheet is a page ready to be written. All coordinates are mm, y up, seen as printed; Box is the page, its borders on
// whole millimetres.
type Sheet struct {
	Box    flat.Box
	Title  string
	Groups []Group
	Scale  [2]float64 // of the page when it is written, along x and y, to make up for a printer; zero means 1
}

// Size returns width and height of the page as it is written, in mm.
func (s *Sheet) Size() flat.Pt {
	size := s.Box.Max.Sub(s.Box.Min)
	if s.Scale != [2]float64{} {
		size = flat.Pt{X: size.X * s.Scale[0], Y: size.Y * s.Scale[1]}
	}
	return size
}

// Group is one drawing element; later groups are drawn over earlier ones.
type Group struct {
	ID, Title string // either may be empty
	Items     []Item
	Clip      *flat.Box // nothing is drawn outside; nil = no such border
}

// Item is a set of runs with one pen and one fill, or a piece of text.
type Item struct {
	ID   string
	Runs []Run
	Pen  Pen
	Fill Ink
	Text *Text
}

// Run is a chain of edges, each beginning where the one before ends. The closed runs of an item bound an area together:
// outer borders counter-clockwise, holes clockwise.
type Run struct {
	Edges  []flat.Edge
	Closed bool
}

// Ink is a colour as #rrggbb; empty means none.
type Ink string

// Pen is how a line is drawn: width and dash lengths (on, off, on, ...) in mm. Width 0 draws no line.
type Pen struct {
	Width float64
	Ink   Ink
	Dash  []float64
}

// The page's inks: near black for what is cut and read, slate for what is rigid, a film colour for what bends. No meaning
// hangs on colour alone.
const (
	Black Ink = "#1d2329"
	Slate Ink = "#8793a0"
	Film  Ink = "#f7ecd2"
	White Ink = "#ffffff"
)

// The page's pens, wide to narrow about 2 : 1 as ISO 128-2 asks.
var (
	Outline   = Pen{Width: 0.35, Ink: Black}
	Plate     = Pen{Width: 0.25, Ink: Black}
	Thin      = Pen{Width: 0.18, Ink: Black}
	Fine      = Pen{Width: 0.13, Ink: Black}
	HatchLine = Pen{Width: 0.1, Ink: Slate}
)

// Dash patterns in mm, before they are fitted to a line's length.
var (
	Valley   = []float64{3, 1.5}
	Mountain = []float64{6, 1.2, 0.4, 1.2}
	Hidden   = []float64{0.8, 0.5}
)

// Dashed returns p with a dash pattern scaled so that a line of this length begins and ends with a whole first dash.
func (p Pen) Dashed(pattern []float64, length float64) Pen {
	period := 0.0
	for _, d := range pattern {
		period += d
	}
	n := math.Max(1, math.Round((length-pattern[0])/period))
	k := length / (n*period + pattern[0])
	p.Dash = make([]float64, len(pattern))
	for i, d := range pattern {
		p.Dash[i] = d * k
	}
	return p
}

// DashedRound returns p with a pattern scaled so that it closes on a border of this length, four dashes at least.
func (p Pen) DashedRound(pattern []float64, length float64) Pen {
	period := pattern[0] + pattern[1]
	k := length / (math.Max(4, math.Round(length/period)) * period)
	p.Dash = []float64{pattern[0] * k, pattern[1] * k}
	return p
}

// Segment returns an item that draws the straight line from a to b.
func Segment(a, b flat.Pt, p Pen) Item {
	return Item{Runs: []Run{{Edges: []flat.Edge{flat.Line(a, b)}}}, Pen: p}
}

// Segments returns one item for several lines with the same pen.
func Segments(list [][2]flat.Pt, p Pen) Item {
	it := Item{Pen: p}
	for _, s := range list {
		it.Runs = append(it.Runs, Run{Edges: []flat.Edge{flat.Line(s[0], s[1])}})
	}
	return it
}

// Closed returns an item for the border of an area.
func Closed(p Pen, fill Ink, loops ...flat.Loop) Item {
	it := Item{Pen: p, Fill: fill}
	for _, l := range loops {
		it.Runs = append(it.Runs, Run{Edges: l, Closed: true})
	}
	return it
}

// Circle returns the counter-clockwise circle about c as two half circles.
func Circle(c flat.Pt, r float64) flat.Loop {
	a, b := flat.Pt{X: c.X + r, Y: c.Y}, flat.Pt{X: c.X - r, Y: c.Y}
	return flat.Loop{
		{P: a, Q: b, C: c, R: r, Sweep: math.Pi},
		{P: b, Q: a, C: c, R: r, Sweep: math.Pi},
	}
}

// Polygon returns the closed loop of straight edges through the points.
func Polygon(pts ...flat.Pt) flat.Loop {
	l := make(flat.Loop, len(pts))
	for i, p := range pts {
		l[i] = flat.Line(p, pts[(i+1)%len(pts)])
	}
	return l
}

// Rectangle returns the counter-clockwise border of b.
func Rectangle(b flat.Box) flat.Loop {
	return Polygon(b.Min, flat.Pt{X: b.Max.X, Y: b.Min.Y}, b.Max, flat.Pt{X: b.Min.X, Y: b.Max.Y})
}
