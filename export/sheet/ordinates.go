package sheet

import (
	"cmp"
	"math"
	"slices"

	"foldfit/export/draw"
	"foldfit/fold/flat"
)

// ordinate is one running dimension from the datum, along x or along y.
type ordinate struct {
	slot
	value float64  // flat coordinate along its axis, mm
	start float64  // flat coordinate across, where its extension line begins
	names []string // hinges whose centre line lies there
	rank  int      // 0: the board's ends, 1: centre lines, 2: tangent lines; the highest are left out first
	words []string // what is written
}

// straight is how far (mm) the ends of a line may be off for it to count as parallel to an axis.
const straight = 1e-6

// ordinates collects the dimensions of the board's ends and of every hinge line that is parallel to an axis.
func (v *flatView) ordinates(board flat.Box) {
	for axis := range 2 {
		lo, hi := pick(board.Min, axis), pick(board.Max, axis)
		v.ordinate(axis, lo, pick(board.Min, 1-axis), 0, "")
		v.ordinate(axis, hi, pick(board.Min, 1-axis), 0, "")
		for i := range v.plan.Hinges {
			h := &v.plan.Hinges[i]
			lines := [][2]flat.Pt{h.Centre, h.Tangents[0], h.Tangents[1]}
			if math.Abs(pick(h.Centre[0], axis)-pick(h.Centre[1], axis)) > straight {
				continue
			}
			for n, l := range lines {
				name := ""
				if n == 0 {
					name = h.Name
				}
				v.ordinate(axis, pick(l[0], axis), min(pick(l[0], 1-axis), pick(l[1], 1-axis)), min(n+1, 2), name)
			}
		}
		slices.SortStableFunc(v.along[axis], func(a, b *ordinate) int { return cmp.Compare(a.value, b.value) })
		for _, o := range v.along[axis] {
			o.words = append([]string{v.words.length(o.value - pick(v.tree.Design.Datum, axis))}, o.names...)
		}
	}
}

// ordinate adds a dimension, or what is new of it to one that stands at the same place.
func (v *flatView) ordinate(axis int, value, start float64, rank int, name string) {
	i := slices.IndexFunc(v.along[axis], func(o *ordinate) bool { return math.Abs(o.value-value) <= straight })
	if i < 0 {
		i = len(v.along[axis])
		v.along[axis] = append(v.along[axis], &ordinate{value: value, start: start, rank: rank})
	}
	o := v.along[axis][i]
	o.start, o.rank = min(o.start, start), min(o.rank, rank)
	if name != "" {
		o.names = append(o.names, draw.Cut(name, 16))
	}
}

// pick returns the coordinate of p along an axis: 0 for x, 1 for y.
func pick(p flat.Pt, axis int) float64 {
	if axis == 0 {
		return p.X
	}
	return p.Y
}

// sideRoom returns how much room the dimensions along y take at the left of the board.
func (v *flatView) sideRoom() float64 {
	w := 0.0
	for _, o := range v.along[1] {
		w = max(w, v.face.Width(sideWords(o), draw.SizeSmall))
	}
	return w + 11
}

// sideWords returns what a dimension along y says, in one line.
func sideWords(o *ordinate) string {
	out := ""
	for _, n := range o.names {
		out += n + " "
	}
	return out + o.words[0]
}

// dimensions draws the running dimensions and reports whether some had no room; roomX is the width of the view, side what its left
// margin takes.
func (v *flatView) dimensions(roomX, side float64) (missing bool) {
	spare := max(0, (roomX-side-flatRight-v.box.Max.X)/2)
	below := v.row(0, -side-spare, v.box.Max.X+flatRight+spare, func(o *ordinate) float64 {
		w, _ := v.face.Size(o.words, draw.SizeSmall)
		return w + 2*room
	})
	beside := v.row(1, -3, v.box.Max.Y+6, func(*ordinate) float64 { return step })
	for _, o := range below {
		v.below(o)
	}
	for _, o := range beside {
		v.beside(o)
	}
	return len(below) < len(v.along[0]) || len(beside) < len(v.along[1])
}

// row sets as many of an axis's dimensions side by side as have room: all, else those without tangent lines, else the ends.
func (v *flatView) row(axis int, lo, hi float64, width func(*ordinate) float64) []*ordinate {
	for most := 2; most >= 0; most-- {
		var list []*ordinate
		var slots []*slot
		for _, o := range v.along[axis] {
			if o.rank <= most {
				o.want, o.width = (o.value-pick(v.from, axis))*v.k, width(o)
				list, slots = append(list, o), append(slots, &o.slot)
			}
		}
		if spread(slots, lo, hi) {
			return list
		}
	}
	return nil
}

// Lengths of a dimension's line in mm: from the board to where it turns, and from there to its words.
const (
	reach = 3.0
	turn  = 4.0
)

// below draws a dimension along x.
func (v *flatView) below(o *ordinate) {
	y0 := (o.start-v.from.Y)*v.k - 0.8
	v.line(draw.Fine, o.want, min(y0, -0.8), o.want, -reach)
	if y0 > -0.8 {
		v.line(draw.Fine, o.want, y0, o.want, -0.8)
	}
	v.line(draw.Fine, o.want, -reach, o.at, -reach-turn)
	v.lines = append(v.lines, [2]flat.Pt{{X: o.want, Y: y0}, {X: o.want, Y: -reach}})
	v.write(flat.Pt{X: o.at, Y: -reach - turn - 0.6 - draw.Rise*draw.SizeSmall}, draw.SizeSmall, centre, o.words...)
}

// beside draws a dimension along y.
func (v *flatView) beside(o *ordinate) {
	x0 := (o.start-v.from.X)*v.k - 0.8
	v.line(draw.Fine, x0, o.want, -reach, o.want)
	v.line(draw.Fine, -reach, o.want, -reach-turn, o.at)
	v.lines = append(v.lines, [2]flat.Pt{{X: x0, Y: o.want}, {X: -reach, Y: o.want}})
	v.write(flat.Pt{X: -reach - turn - 0.6, Y: o.at - 0.36*draw.SizeSmall}, draw.SizeSmall, right, sideWords(o))
}

// overall draws the board's width above it and its height to the right.
func (v *flatView) overall() {
	w, h := v.box.Max.X, v.box.Max.Y
	const off = 6.0
	for _, x := range []float64{0, w} {
		v.line(draw.Fine, x, h+0.8, x, h+off+1.5)
	}
	v.arrowed(flat.Pt{Y: h + off}, flat.Pt{X: w, Y: h + off})
	v.write(flat.Pt{X: w / 2, Y: h + off + 1}, draw.SizeSmall, centre, v.words.length(w/v.k))
	for _, y := range []float64{0, h} {
		v.line(draw.Fine, w+0.8, y, w+off+1.5, y)
	}
	v.arrowed(flat.Pt{X: w + off}, flat.Pt{X: w + off, Y: h})
	v.write(flat.Pt{X: w + off + 1, Y: h/2 - 0.36*draw.SizeSmall}, draw.SizeSmall, left, v.words.length(h/v.k))
}

// arrowed draws a dimension line with an arrow at each end; where it is short they point inward from outside.
func (b *block) arrowed(p, q flat.Pt) {
	const long, wide = 2.5, 0.45
	u := q.Sub(p).Unit()
	in := 1.0
	if p.Dist(q) < 2.5*long {
		in = -1
		b.add(draw.Segment(p.Sub(u.Mul(2*long)), p, draw.Fine), draw.Segment(q, q.Add(u.Mul(2*long)), draw.Fine))
	}
	b.add(draw.Segment(p, q, draw.Fine))
	for i, tip := range []flat.Pt{p, q} {
		back := u.Mul(long * in)
		if i == 1 {
			back = back.Mul(-1)
		}
		side := u.Left().Mul(wide)
		b.add(draw.Closed(draw.Pen{}, draw.Black, draw.Polygon(tip, tip.Add(back).Add(side), tip.Add(back).Sub(side)).CCW()))
	}
	b.lines = append(b.lines, [2]flat.Pt{p, q})
}

// oblique names the hinges whose lines are parallel to no axis, at an end of their line: the schedule has their ends. So are the bends that
// a hinge makes beside its first.
func (v *flatView) oblique() {
	for i := range v.plan.Hinges {
		h := &v.plan.Hinges[i]
		d := h.Centre[1].Sub(h.Centre[0])
		if min(math.Abs(d.X), math.Abs(d.Y)) > straight {
			v.flag(draw.Cut(h.Name, 24), v.at(h.Centre[0]), v.at(h.Centre[1]))
		}
	}
}

// flag writes a name near one of the ends of a line, with a leader to it: off the board if that can be.
func (v *flatView) flag(name string, p, q flat.Pt) {
	board := flat.Region(v.loops(v.tree.Board))
	u := q.Sub(p).Unit()
	w, h := v.face.Size([]string{name}, draw.SizeSmall)
	for _, off := range []bool{true, false} {
		for long := 3.0; long < 40; long += 1.5 {
			for _, end := range [2]ray{{q, u}, {p, u.Mul(-1)}} {
				for _, degrees := range []float64{0, 30, -30, 60, -60, 90, -90} {
					tip := end.at.Add(turned(end.u, degrees).Mul(long))
					mid := end.beyond(tip, w, h)
					if off && board.Contains(mid) || v.struck(end.at, tip) || !v.place(draw.SizeSmall, []string{name}, []flat.Pt{mid}) {
						continue
					}
					v.add(draw.Segment(end.at, tip, draw.Fine))
					v.lines = append(v.lines, [2]flat.Pt{end.at, tip})
					return
				}
			}
		}
	}
}

// struck reports whether a leader would run through words.
func (v *flatView) struck(p, q flat.Pt) bool {
	for _, t := range v.taken {
		if crosses([2]flat.Pt{p, q}, t) {
			return true
		}
	}
	return false
}

// ray is an end of a line, and the direction out of it.
type ray struct{ at, u flat.Pt }

// beyond returns the middle of words of a size that stand beyond the tip of a leader from the ray's point.
func (r ray) beyond(tip flat.Pt, w, h float64) flat.Pt {
	d := tip.Sub(r.at).Unit()
	return tip.Add(flat.Pt{X: math.Copysign(w/2+0.8, d.X), Y: math.Copysign(h/2, d.Y) * min(1, 2*math.Abs(d.Y))})
}

// turned returns u turned counter-clockwise.
func turned(u flat.Pt, degrees float64) flat.Pt {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return flat.Pt{X: u.X*cos - u.Y*sin, Y: u.X*sin + u.Y*cos}
}
