package pattern

import (
	"cmp"
	"math"
	"slices"

	"foldfit/export/draw"
	"foldfit/fold/flat"
)

// Room that a label keeps, in mm: from lines, from other labels, and from the tip of its leader.
const (
	roomLines  = 0.6
	roomLabels = 1.0
	roomLeader = 0.8
)

// tag is a label that has found its place.
type tag struct {
	box    flat.Box
	size   float64
	lines  []string
	words  string    // "" = every line is read by itself
	leader []flat.Pt // from the thing to the label; empty when the label stands at or in it
	dot    bool      // the leader begins within an area
}

// items returns what draws the tag.
func (t *tag) items() []draw.Item {
	var out []draw.Item
	if len(t.leader) > 0 {
		out = append(out, draw.Segment(t.leader[0], t.leader[1], draw.Fine))
		if t.dot {
			out = append(out, draw.Closed(draw.Pen{}, draw.Black, draw.Circle(t.leader[0], 0.3)))
		}
	}
	return append(out, draw.InBox(t.box, t.size, t.lines, t.words))
}

// field is the drawing as far as labels are concerned: where something is drawn or written already. Labels are placed one
// after the other, each at the first free place in its own order of preference, so that every run decides alike.
type field struct {
	face    *draw.Face
	board   flat.Region
	drawn   *grid         // lines that no label may cover
	hard    *grid         // those of them that leaders should not cross either: all but the borders of board and areas
	taken   []flat.Region // areas that belong to one thing alone: no other label within
	boxes   []flat.Box    // labels
	leaders []line
}

// wish is a label that looks for a place.
type wish struct {
	lines []string
	words string
	sizes []float64 // in order of preference
}

// free reports whether a label may stand in b.
func (f *field) free(b flat.Box) bool {
	if f.crowded(b) || f.drawn.covers(b.Grow(roomLines)) {
		return false
	}
	c := b.Min.Mid(b.Max)
	return !slices.ContainsFunc(f.taken, func(r flat.Region) bool { return r.Contains(c) })
}

// crowded reports whether b meets a label or a leader.
func (f *field) crowded(b flat.Box) bool {
	wide := b.Grow(roomLabels)
	return slices.ContainsFunc(f.boxes, wide.Meets) || slices.ContainsFunc(f.leaders, func(l line) bool { return l.enters(b.Grow(roomLines)) })
}

// put enters a placed label.
func (f *field) put(t tag) tag {
	f.boxes = append(f.boxes, t.box)
	if len(t.leader) > 0 {
		f.leaders = append(f.leaders, line{t.leader[0], t.leader[1]})
	}
	return t
}

// each calls try for the wish's sizes, largest first, until it finds a place.
func (f *field) each(w wish, try func(width, height float64) (tag, bool)) (tag, bool) {
	for _, size := range w.sizes {
		if t, ok := try(f.face.Size(w.lines, size)); ok {
			t.size, t.lines, t.words = size, w.lines, w.words
			return f.put(t), true
		}
	}
	return tag{}, false
}

// within places a label inside the area r, as near to its middle as can be. own means that r may be a taken area.
func (f *field) within(w wish, r flat.Region, own bool) (tag, bool) {
	b := r.Box()
	mid := b.Min.Mid(b.Max)
	return f.each(w, func(width, height float64) (tag, bool) {
		for _, p := range f.lattice(b, width, height, mid) {
			c := around(p, width, height)
			ok := f.free(c)
			if own {
				ok = !f.crowded(c) && !f.drawn.covers(c.Grow(roomLines))
			}
			if ok && r.Contains(p) {
				return tag{box: c}, true
			}
		}
		return tag{}, false
	})
}

// lattice returns middles for a label inside b, nearest to mid first.
func (f *field) lattice(b flat.Box, width, height float64, mid flat.Pt) []flat.Pt {
	free := flat.Box{Min: flat.Pt{X: b.Min.X + width/2, Y: b.Min.Y + height/2}, Max: flat.Pt{X: b.Max.X - width/2, Y: b.Max.Y - height/2}}
	if free.Min.X > free.Max.X || free.Min.Y > free.Max.Y {
		return nil
	}
	nx, ny := steps(free.Max.X-free.Min.X), steps(free.Max.Y-free.Min.Y)
	var out []flat.Pt
	for i := -nx; i <= nx; i++ {
		for j := -ny; j <= ny; j++ {
			out = append(out, flat.Pt{
				X: mid.X + (free.Max.X-free.Min.X)/2*float64(i)/float64(max(1, nx)),
				Y: mid.Y + (free.Max.Y-free.Min.Y)/2*float64(j)/float64(max(1, ny)),
			})
		}
	}
	slices.SortStableFunc(out, func(p, q flat.Pt) int { return cmp.Compare(p.Dist(mid), q.Dist(mid)) })
	return out
}

// steps returns how many steps to each side of the middle are worth trying.
func steps(span float64) int { return int(min(16, math.Ceil(span/2))) }

// around returns the box of that size about c.
func around(c flat.Pt, width, height float64) flat.Box {
	h := flat.Pt{X: width / 2, Y: height / 2}
	return flat.Box{Min: c.Sub(h), Max: c.Add(h)}
}

// beside places a label next to the box b: right, left, above, below, then at the corners; nothing is drawn between them.
func (f *field) beside(w wish, b flat.Box) (tag, bool) {
	return f.each(w, func(width, height float64) (tag, bool) {
		c, gap := b.Min.Mid(b.Max), roomLines+0.2
		dx, dy := (b.Max.X-b.Min.X+width)/2+gap, (b.Max.Y-b.Min.Y+height)/2+gap
		for _, at := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
			way := flat.Pt{X: dx * at[0], Y: dy * at[1]}
			_, edge := inside(c, way.Unit(), b)
			between := line{c.Add(way.Unit().Mul(edge + 0.05)), c.Add(way)}
			if box := around(c.Add(way), width, height); f.free(box) && !f.drawn.crosses(between) {
				return tag{box: box}, true
			}
		}
		return tag{}, false
	})
}

// anchor is where a leader may begin and the direction in which it leaves best.
type anchor struct{ at, out flat.Pt }

// crossing says which lines of the drawing a leader may cross.
type crossing int

const (
	crossNone    crossing = iota
	crossBorders          // of the board, of sections and stiffeners
	crossAll
)

// rules say what a leader may do.
type rules struct {
	far   float64 // longest leader, mm
	skip  float64 // length at its beginning that may cross anything, mm
	off   bool    // the label stands off the board
	cross crossing
	dot   bool // the leader begins within an area
}

// flagged places a label at the end of a leader: like a flag to the right or left of its tip, the cheapest free place
// first. Short leaders are cheap, turning away from the anchor's direction costs.
func (f *field) flagged(w wish, from []anchor, r rules) (tag, bool) {
	return f.each(w, func(width, height float64) (tag, bool) {
		for _, s := range flags(from, r.far) {
			l := line{s.from, s.tip}
			box := around(flat.Pt{X: s.tip.X + s.hand*(roomLeader+width/2), Y: s.tip.Y}, width, height)
			if !f.free(box) || r.off && f.board.Contains(box.Min.Mid(box.Max)) || l.enters(box) || !f.clear(l, r) {
				continue
			}
			return tag{box: box, leader: []flat.Pt{s.from, s.tip}, dot: r.dot}, true
		}
		return tag{}, false
	})
}

// clear reports whether a leader may run along l: over no label, over no other leader, and over no line that the rules
// protect.
func (f *field) clear(l line, r rules) bool {
	if slices.ContainsFunc(f.boxes, func(b flat.Box) bool { return l.enters(b.Grow(roomLines)) }) || slices.ContainsFunc(f.leaders, l.crosses) {
		return false
	}
	beyond := line{l[0].Add(l[1].Sub(l[0]).Unit().Mul(r.skip)), l[1]}
	if l[0].Dist(l[1]) <= r.skip {
		return true
	}
	switch r.cross {
	case crossNone:
		return !f.drawn.crosses(beyond)
	case crossBorders:
		return !f.hard.crosses(beyond)
	}
	return true
}

// flag is a candidate: leader from, tip, and the side (+1 right, -1 left) on which the label stands.
type flag struct {
	from, tip  flat.Pt
	hand, cost float64
}

// flags returns the candidates about the anchors, cheapest first. The label stands to the right of its pole unless the
// anchor looks to the left: flags on neighbouring poles then make a staircase instead of shutting each other in.
func flags(from []anchor, far float64) []flag {
	var out []flag
	for i, a := range from {
		for d := 4.0; d <= far; d += max(2, d/6) {
			for _, turn := range []float64{0, 30, -30, 60, -60, 90, -90, 135, -135} {
				sin, cos := math.Sincos(turn * (math.Pi / 180))
				tip := a.at.Add(flat.Pt{X: a.out.X*cos - a.out.Y*sin, Y: a.out.X*sin + a.out.Y*cos}.Mul(d))
				cost := d + math.Abs(turn)/10 + 0.5*float64(min(i, 4))
				hand := 1.0
				if a.out.X < -0.4 {
					hand = -1
				}
				out = append(out, flag{a.at, tip, hand, cost}, flag{a.at, tip, -hand, cost + 15})
			}
		}
	}
	slices.SortStableFunc(out, func(p, q flag) int { return cmp.Compare(p.cost, q.cost) })
	return out
}

// aside places a label to the right of everything drawn: the place that always exists. It takes a height at which the
// leader runs over no other label, if there is one near.
func (f *field) aside(w wish, from flat.Pt, dot bool) tag {
	all := f.board.Box()
	for _, b := range f.boxes {
		all = all.Join(b)
	}
	size := w.sizes[len(w.sizes)-1]
	width, height := f.face.Size(w.lines, size)
	tip := flat.Pt{X: all.Max.X + 6, Y: from.Y}
	for i := range 80 {
		step := float64((i + 1) / 2 * (1 - i%2*2))
		if p := (flat.Pt{X: tip.X, Y: from.Y + step*2*height}); f.clear(line{from, p}, rules{cross: crossAll}) {
			tip = p
			break
		}
	}
	box := around(flat.Pt{X: tip.X + roomLeader + width/2, Y: tip.Y}, width, height)
	return f.put(tag{box: box, size: size, lines: w.lines, words: w.words, leader: []flat.Pt{from, tip}, dot: dot})
}
