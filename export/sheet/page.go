package sheet

import (
	"math"
	"strconv"

	"foldfit/export/draw"
	"foldfit/export/report"
	"foldfit/fold/flat"
	"foldfit/mesh/clash"
)

// page is a fold sheet being composed.
type page struct {
	face   *draw.Face
	words  words
	run    report.Run
	plan   report.Schedule
	walls  []clash.Wall
	inputs []Input
	solid  *solid      // the folded board and its surroundings; nil where it has no folded shape
	shots  [4]*picture // front, top, right side, isometric
	cuts   []cut       // sections through the worst gaps
	paper  paper
	groups []draw.Group
	small  bool     // the flat board may be drawn smaller than it is
	scales []string // of the views, for the title block
}

// Margins of the frame in mm: ISO 5457 leaves 20 at the left for the filing edge, 10 elsewhere.
const (
	filing = 20.0
	margin = 10.0
)

// frame returns the border of the drawing space.
func (p *page) frame() flat.Box {
	return flat.Box{Min: flat.Pt{X: filing, Y: margin}, Max: flat.Pt{X: p.paper.width - margin, Y: p.paper.height - margin}}
}

// leastViews is the share of the page's height that the views have at least.
const leastViews = 0.36

// slack is what rounding may add to a length on the page, mm.
const slack = 1e-6

// layout places all parts: views above, the bend schedule below them, then stack-ups and sections beside the notes and the title
// block. It reports whether there was room; with must, notes that have none are cut short.
func (p *page) layout(must bool) bool {
	frame := p.frame()
	inner := frame.Grow(-apart)
	size := inner.Max.Sub(inner.Min)
	table := p.schedule(size.X)
	if table.size().X > size.X+slack && !must {
		return false
	}
	side := size.X - titleWidth - apart
	lower := p.lower(side)
	title := titleHeight - apart // the block stands in the frame's corner
	notes := p.notes(titleWidth-apart, 0)
	tall := max(lower.size().Y, notes.size().Y+title+apart)
	views := size.Y - table.size().Y - tall - 2*apart
	if views < leastViews*size.Y {
		if !must {
			return false
		}
		tall = max(lower.size().Y, (1-leastViews)*size.Y-table.size().Y-2*apart)
		notes = p.notes(titleWidth-apart, tall-title-apart)
		views = size.Y - table.size().Y - tall - 2*apart
	}
	if !p.small && p.flatScale(flat.Pt{X: size.X, Y: views}) < 1 {
		return false
	}
	p.border()
	p.views(flat.Box{Min: flat.Pt{X: inner.Min.X, Y: inner.Max.Y - views}, Max: inner.Max})
	top := inner.Max.Y - views - apart
	p.groups = append(p.groups, table.at(flat.Pt{X: inner.Min.X, Y: top}))
	top -= table.size().Y + apart
	p.groups = append(p.groups, lower.at(flat.Pt{X: inner.Min.X, Y: top}))
	p.groups = append(p.groups, notes.at(flat.Pt{X: frame.Max.X - titleWidth + apart/2, Y: top}))
	p.groups = append(p.groups, p.title().at(flat.Pt{X: frame.Max.X - titleWidth, Y: frame.Min.Y + titleHeight}))
	return must || lower.size().X <= side+slack
}

// views draws the flat board and the folded one.
func (p *page) views(b flat.Box) {
	if p.solid == nil {
		p.groups = append(p.groups, p.flatView(b.Max.Sub(b.Min)).centred(b))
		return
	}
	first, second := p.split(b)
	p.groups = append(p.groups, p.flatView(first.Max.Sub(first.Min)).centred(first), p.foldedViews(second.Max.Sub(second.Min)).centred(second))
}

// split shares a box out to the flat and the folded board, side by side or one over the other: so that both are as large as can be.
func (p *page) split(b flat.Box) (first, second flat.Box) {
	most := math.Inf(-1)
	size := b.Max.Sub(b.Min)
	for _, upright := range []bool{true, false} {
		for _, share := range []float64{0.52, 0.46, 0.58, 0.4, 0.64, 0.34, 0.28} {
			one, two := b, b
			if upright {
				one.Max.X, two.Min.X = b.Min.X+share*size.X-apart/2, b.Min.X+share*size.X+apart/2
			} else {
				one.Min.Y, two.Max.Y = b.Max.Y-share*size.Y+apart/2, b.Max.Y-share*size.Y-apart/2
			}
			k := p.newFlatView(one.Max.Sub(one.Min)).k
			if good := 2*math.Log(k) + p.arrange(two.Max.Sub(two.Min)).good; good > most+1e-9 {
				first, second, most = one, two, good
			}
		}
	}
	return first, second
}

// flatScale returns the scale at which the flat board is drawn in a room for both views.
func (p *page) flatScale(size flat.Pt) float64 {
	box := flat.Box{Max: size}
	if p.solid != nil {
		box, _ = p.split(box)
	}
	return p.newFlatView(box.Max.Sub(box.Min)).k
}

// centred returns the block at the top of a box, in the middle of its width.
func (b *block) centred(in flat.Box) draw.Group {
	spare := in.Max.X - in.Min.X - b.size().X
	return b.at(flat.Pt{X: in.Min.X + max(0, spare/2), Y: in.Max.Y})
}

// border draws the paper, the frame, its zones (ISO 5457: fields of 50 mm, letters from the top, numbers from the left) and the marks
// at the middle of each side.
func (p *page) border() {
	b := p.newBlock("border", "")
	w, h := p.paper.width, p.paper.height
	b.add(draw.Closed(draw.Pen{}, draw.White, draw.Rectangle(flat.Box{Max: flat.Pt{X: w, Y: h}})))
	f := p.frame()
	const band = 5.0
	b.add(draw.Closed(draw.Thin, "", draw.Rectangle(f.Grow(band))))
	for axis := range 2 {
		p.fields(b, axis, f, band)
	}
	b.add(draw.Closed(draw.Pen{Width: 0.7, Ink: draw.Black}, "", draw.Rectangle(f)))
	p.groups = append(p.groups, b.Group)
}

// fieldName returns the name of a field, counted from the top or from the left: ISO 5457 leaves out the letters I and O.
func fieldName(axis, i int) string {
	const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
	if axis == 0 {
		return strconv.Itoa(i + 1)
	}
	return letters[i%len(letters) : i%len(letters)+1]
}

// fields draws the fields along one axis, on both sides of the frame.
func (p *page) fields(b *block, axis int, f flat.Box, band float64) {
	const field = 50.0
	lo, hi := pick(f.Min, axis), pick(f.Max, axis)
	mid := [2]float64{p.paper.width / 2, p.paper.height / 2}[axis]
	n := 2 * max(1, int(math.Round((hi-lo)/2/field)))
	at := func(along, across float64) flat.Pt {
		if axis == 0 {
			return flat.Pt{X: along, Y: across}
		}
		return flat.Pt{X: across, Y: along}
	}
	for i := range n {
		from, to := mid+float64(i-n/2)*field, mid+float64(i+1-n/2)*field
		if i == 0 {
			from = lo // what is left over belongs to the outermost fields
		}
		if i == n-1 {
			to = hi
		}
		name := fieldName(axis, i)
		if axis == 1 {
			name = fieldName(axis, n-1-i)
		}
		for _, edge := range []float64{pick(f.Min, 1-axis) - band, pick(f.Max, 1-axis)} {
			if i > 0 {
				b.add(draw.Segment(at(from, edge), at(from, edge+band), draw.Thin))
			}
			c := at((from+to)/2, edge+band/2)
			b.write(flat.Pt{X: c.X, Y: c.Y - 0.36*draw.SizeSmall}, draw.SizeSmall, centre, name)
		}
	}
}
