package pattern

import (
	"math"

	"foldfit/fold/flat"
)

// sheet is a page ready to be written. All coordinates are mm, y up, seen as printed; Box is the page, its borders on
// whole millimetres.
type sheet struct {
	Box    flat.Box
	Title  string
	Groups []group
}

// group is one drawing element; later groups are drawn over earlier ones.
type group struct {
	ID, Title string // either may be empty
	Items     []item
}

// item is a set of runs with one pen and one fill, or a piece of text.
type item struct {
	ID   string
	Runs []run
	Pen  pen
	Fill ink
	Text *text
}

// run is a chain of edges, each beginning where the one before ends. The closed runs of an item bound an area together:
// outer borders counter-clockwise, holes clockwise.
type run struct {
	Edges  []flat.Edge
	Closed bool
}

// ink is a colour as #rrggbb; empty means none.
type ink string

// pen is how a line is drawn: width and dash lengths (on, off, on, ...) in mm. Width 0 draws no line.
type pen struct {
	Width float64
	Ink   ink
	Dash  []float64
}

// The page's inks: near black for what is cut and read, slate for what is rigid, a film colour for what bends. No meaning
// hangs on colour alone.
const (
	black ink = "#1d2329"
	slate ink = "#8793a0"
	film  ink = "#f7ecd2"
	white ink = "#ffffff"
)

// The page's pens, wide to narrow about 2 : 1 as ISO 128-2 asks.
var (
	penOutline = pen{Width: 0.35, Ink: black}
	penPlate   = pen{Width: 0.25, Ink: black}
	penThin    = pen{Width: 0.18, Ink: black}
	penFine    = pen{Width: 0.13, Ink: black}
	penHatch   = pen{Width: 0.1, Ink: slate}
)

// Dash patterns in mm, before they are fitted to a line's length.
var (
	dashValley   = []float64{3, 1.5}
	dashMountain = []float64{6, 1.2, 0.4, 1.2}
	dashFar      = []float64{0.8, 0.5}
)

// dashed returns p with a dash pattern scaled so that a line of this length begins and ends with a whole first dash.
func (p pen) dashed(pattern []float64, length float64) pen {
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

// dashedRound returns p with a pattern scaled so that it closes on a border of this length, four dashes at least.
func (p pen) dashedRound(pattern []float64, length float64) pen {
	period := pattern[0] + pattern[1]
	k := length / (math.Max(4, math.Round(length/period)) * period)
	p.Dash = []float64{pattern[0] * k, pattern[1] * k}
	return p
}

// segment returns an item that draws the straight line from a to b.
func segment(a, b flat.Pt, p pen) item {
	return item{Runs: []run{{Edges: []flat.Edge{flat.Line(a, b)}}}, Pen: p}
}

// segments returns one item for several lines with the same pen.
func segments(list [][2]flat.Pt, p pen) item {
	it := item{Pen: p}
	for _, s := range list {
		it.Runs = append(it.Runs, run{Edges: []flat.Edge{flat.Line(s[0], s[1])}})
	}
	return it
}

// closed returns an item for the border of an area.
func closed(p pen, fill ink, loops ...flat.Loop) item {
	it := item{Pen: p, Fill: fill}
	for _, l := range loops {
		it.Runs = append(it.Runs, run{Edges: l, Closed: true})
	}
	return it
}

// circle returns the counter-clockwise circle about c as two half circles.
func circle(c flat.Pt, r float64) flat.Loop {
	a, b := flat.Pt{X: c.X + r, Y: c.Y}, flat.Pt{X: c.X - r, Y: c.Y}
	return flat.Loop{
		{P: a, Q: b, C: c, R: r, Sweep: math.Pi},
		{P: b, Q: a, C: c, R: r, Sweep: math.Pi},
	}
}

// polygon returns the closed loop of straight edges through the points.
func polygon(pts ...flat.Pt) flat.Loop {
	l := make(flat.Loop, len(pts))
	for i, p := range pts {
		l[i] = flat.Line(p, pts[(i+1)%len(pts)])
	}
	return l
}

// rectangle returns the counter-clockwise border of b.
func rectangle(b flat.Box) flat.Loop {
	return polygon(b.Min, flat.Pt{X: b.Max.X, Y: b.Min.Y}, b.Max, flat.Pt{X: b.Min.X, Y: b.Max.Y})
}

// view takes flat coordinates to those of the printed side: seen from the bottom, x runs the other way.
type view struct{ mirrored bool }

func (v view) pt(p flat.Pt) flat.Pt {
	if v.mirrored {
		p.X = 0 - p.X
	}
	return p
}

func (v view) edge(e flat.Edge) flat.Edge {
	if !v.mirrored {
		return e
	}
	return flat.Edge{P: v.pt(e.P), Q: v.pt(e.Q), C: v.pt(e.C), R: e.R, Sweep: 0 - e.Sweep}
}

// loop keeps the sense of rotation: counter-clockwise stays counter-clockwise.
func (v view) loop(l flat.Loop) flat.Loop {
	if !v.mirrored {
		return l
	}
	out := make(flat.Loop, len(l))
	for i, e := range l {
		out[i] = v.edge(e)
	}
	return out.Rev()
}

func (v view) region(r flat.Region) flat.Region {
	out := make(flat.Region, len(r))
	for i, l := range r {
		out[i] = v.loop(l)
	}
	return out
}

func (v view) lines(list [][2]flat.Pt) [][2]flat.Pt {
	out := make([][2]flat.Pt, len(list))
	for i, s := range list {
		out[i] = [2]flat.Pt{v.pt(s[0]), v.pt(s[1])}
	}
	return out
}
