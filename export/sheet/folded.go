package sheet

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/export/draw"
	"foldfit/fold/flat"
)

// picture is a view of the folded board in lines on the page, at full size.
type picture struct {
	name           string
	camera         camera
	edges, tangent [][]flat.Pt
	around         [][]flat.Pt // the enclosure
	box            flat.Box
}

// Distances between the folded views, and what is written below each, in mm.
const (
	viewGap     = 8.0
	viewCaption = 6.0
)

// arrangement is where the folded views go: corner or column for the isometric one, and their scales.
type arrangement struct {
	column  bool    // the isometric view has a column of its own, else the corner over the side view
	k, iso  float64 // scales
	columns float64 // mm, width of the front view's column
	good    float64 // the larger the better
}

// arrange finds the larger of the two arrangements of the folded views in a room.
func (p *page) arrange(size flat.Pt) arrangement {
	front, top, side, iso := extent(p.shots[0]), extent(p.shots[1]), extent(p.shots[2]), extent(p.shots[3])
	first := max(front.X, top.X)
	high := size.Y - 2*viewCaption - viewGap - 6
	var best arrangement
	for i := range 2 {
		a := arrangement{column: i == 1}
		if a.column {
			a.k = scaleFor(first+side.X, max(front.Y, side.Y)+top.Y, 0.6*size.X-viewGap, high)
			a.iso = scaleFor(iso.X, iso.Y, size.X-(first+side.X)*a.k-2*viewGap, size.Y-viewCaption-6)
		} else {
			a.k = scaleFor(first+side.X, max(front.Y, side.Y)+top.Y, size.X-viewGap, high)
			a.iso = scaleFor(iso.X, iso.Y, size.X-first*a.k-viewGap, size.Y-6-2*viewCaption-viewGap-max(front.Y, side.Y)*a.k)
		}
		a.columns = first * a.k
		a.good = 2*math.Log(a.k) + math.Log(a.iso)
		if i == 0 || a.good > best.good+1e-9 {
			best = a
		}
	}
	return best
}

// foldedViews draws the folded board into a room of that size: top over front, the right side beside the front, and the isometric view in the
// corner between or to the right.
func (p *page) foldedViews(size flat.Pt) *block {
	b := p.newBlock("folded", "folded board")
	a := p.arrange(size)
	front, top, side, iso := extent(p.shots[0]).Mul(a.k), extent(p.shots[1]).Mul(a.k), extent(p.shots[2]).Mul(a.k), extent(p.shots[3]).Mul(a.iso)
	upper := -6 - top.Y
	at := flat.Pt{X: a.columns + viewGap}
	if a.column {
		at.X += side.X + viewGap
		at.Y = -6 - max(iso.Y, min(top.Y+viewCaption+viewGap+max(front.Y, side.Y), (iso.Y+top.Y+viewCaption+viewGap+max(front.Y, side.Y))/2))
	} else {
		upper = -6 - max(top.Y, iso.Y)
		at.Y = upper
	}
	lower := upper - viewCaption - viewGap - max(front.Y, side.Y)
	more := ""
	if len(p.solid.walls) > 0 {
		more = "thin grey: enclosure; not in the isometric view"
	}
	b.heading(flat.Pt{}, "Folded board, posture "+p.run.Posture, more)
	p.view(b, p.shots[1], a.k, flat.Pt{Y: upper})
	p.view(b, p.shots[0], a.k, flat.Pt{Y: lower})
	p.view(b, p.shots[2], a.k, flat.Pt{X: a.columns + viewGap, Y: lower})
	p.view(b, p.shots[3], a.iso, at)
	p.scales = append(p.scales, ratio(a.k)+" folded")
	return b
}

// extent returns the size of a picture.
func extent(p *picture) flat.Pt { return p.box.Max.Sub(p.box.Min) }

// picture finds the lines of a view.
func (p *page) picture(name string, c camera, surroundings bool) *picture {
	out := &picture{name: name, camera: c, box: flat.EmptyBox()}
	for _, m := range p.solid.bodies {
		for _, q := range m.Points {
			at, _ := c.project(q)
			out.box = out.box.With(at)
		}
	}
	size := extent(out)
	pace := max(size.X, size.Y) / 400
	s := newScreen(c, p.solid.bodies)
	seen := map[[4]int64]bool{}
	for _, line := range p.solid.curves(c.toward) {
		for _, run := range s.visible(c, line, pace) {
			run = tidy(run, size)
			if len(run) < 2 || twice(seen, run) {
				continue
			}
			if line.smooth {
				out.tangent = append(out.tangent, run)
			} else {
				out.edges = append(out.edges, run)
			}
		}
	}
	if surroundings {
		p.surround(out, seen)
	}
	return out
}

// surround adds the outlines of the enclosure, which hide nothing.
func (p *page) surround(out *picture, seen map[[4]int64]bool) {
	s := p.solid
	for i, m := range s.walls {
		if len(s.seams) == i {
			s.seams = append(s.seams, seams(m))
		}
		for _, line := range outlines(m, s.seams[i], out.camera.toward) {
			a, _ := out.camera.project(line.points[0])
			b, _ := out.camera.project(line.points[1])
			if run := tidy([]flat.Pt{a, b}, extent(out)); len(run) == 2 && !twice(seen, run) {
				out.around = append(out.around, run)
				out.box = out.box.With(a).With(b)
			}
		}
	}
}

// tidy drops points of a chain that lie on one another; a chain shorter than a thousandth of the picture is none.
func tidy(run []flat.Pt, size flat.Pt) []flat.Pt {
	least := max(size.X, size.Y) / 4000
	out := run[:1:1]
	for i, q := range run[1:] {
		if q.Dist(out[len(out)-1]) > least {
			out = append(out, q)
		} else if i == len(run)-2 && len(out) > 1 {
			out[len(out)-1] = q
		}
	}
	return out
}

// twice reports whether a straight line was drawn before, and remembers it.
func twice(seen map[[4]int64]bool, run []flat.Pt) bool {
	if len(run) != 2 {
		return false
	}
	grid := func(v float64) int64 { return int64(v*1e4 + 0.5) }
	key := [4]int64{grid(run[0].X), grid(run[0].Y), grid(run[1].X), grid(run[1].Y)}
	back := [4]int64{key[2], key[3], key[0], key[1]}
	found := seen[key] || seen[back]
	seen[key] = true
	return found
}

// view draws a picture with its lower left corner at a point, and its name and scale below it.
func (p *page) view(b *block, pic *picture, k float64, at flat.Pt) {
	place := func(q flat.Pt) flat.Pt { return q.Sub(pic.box.Min).Mul(k).Add(at) }
	grey := draw.Fine
	grey.Ink = draw.Slate
	for _, set := range []struct {
		runs [][]flat.Pt
		pen  draw.Pen
	}{{pic.around, grey}, {pic.tangent, draw.HatchLine}, {pic.edges, draw.Plate}} {
		it := draw.Item{Pen: set.pen}
		for _, run := range set.runs {
			var r draw.Run
			for i := 0; i+1 < len(run); i++ {
				r.Edges = append(r.Edges, flat.Line(place(run[i]), place(run[i+1])))
			}
			it.Runs = append(it.Runs, r)
		}
		if len(it.Runs) > 0 {
			b.add(it)
		}
	}
	size := extent(pic).Mul(k)
	b.reach = b.reach.With(at).With(at.Add(size))
	b.write(flat.Pt{X: at.X, Y: at.Y - 4.5}, draw.SizeSmall, left, pic.name+", "+ratio(k))
	if pic.name != "isometric" {
		p.letters(b, pic, place)
	}
}

// letters marks where the sections were made: a small circle at the gap, the line along which the section's plane is seen where it is
// seen edge-on, and the section's letter.
func (p *page) letters(b *block, pic *picture, place func(flat.Pt) flat.Pt) {
	for _, set := range [][][]flat.Pt{pic.edges, pic.around} {
		for _, run := range set {
			for i := 0; i+1 < len(run); i++ {
				b.lines = append(b.lines, [2]flat.Pt{place(run[i]), place(run[i+1])})
			}
		}
	}
	for _, c := range p.cuts {
		q, _ := pic.camera.project(c.origin)
		q = place(q)
		b.taken = append(b.taken, flat.Box{Min: q, Max: q}.Grow(1))
	}
	for _, c := range p.cuts {
		q, _ := pic.camera.project(c.origin)
		q = place(q)
		b.add(draw.Closed(draw.Thin, "", draw.Circle(q, 1)))
		if math.Abs(c.camera.toward.Dot(pic.camera.toward)) < 1e-6 {
			b.trace(q, c.camera.toward.Cross(pic.camera.toward), pic.camera)
		}
		b.letter(c.letter, q)
	}
}

// trace draws the line along which a section's plane is seen, on both sides of a point.
func (b *block) trace(q flat.Pt, along mgl64.Vec3, c camera) {
	u, _ := c.project(along)
	pen := draw.Thin
	pen.Dash = []float64{3, 0.8, 0.4, 0.8}
	for _, s := range []float64{1, -1} {
		p := [2]flat.Pt{q.Add(u.Mul(s)), q.Add(u.Mul(s * 6))}
		b.add(draw.Segment(p[0], p[1], pen))
		b.lines = append(b.lines, p)
	}
}

// letter writes a section's letter near its point: clear of all lines if that can be, else on a white ground.
func (b *block) letter(name string, q flat.Pt) {
	var tries []flat.Pt
	for _, r := range []float64{3, 4.5, 6, 8, 10, 13} {
		for _, degrees := range []float64{45, 135, -45, -135, 27, 153, -27, -153, 90, 0, -90, 180} {
			tries = append(tries, q.Add(turned(flat.Pt{X: r}, degrees)))
		}
	}
	lines := b.lines
	for range 2 {
		i := slices.IndexFunc(tries, func(t flat.Pt) bool { return b.place(draw.SizeNormal, []string{name}, []flat.Pt{t}) })
		if i >= 0 {
			if tries[i].Dist(q) > 3 {
				b.add(draw.Segment(q.Add(tries[i].Sub(q).Unit()), tries[i].Add(q.Sub(tries[i]).Unit().Mul(2)), draw.Fine))
			}
			break
		}
		b.lines = nil // no place is clear of lines: then clear of words
	}
	b.lines = lines
}
