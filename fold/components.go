package fold

import (
	"math"

	"foldfit/fold/flat"
)

// containsOrTouches reports whether p is inside l or within Snap of its border.
func containsOrTouches(l flat.Loop, p flat.Pt) bool {
	if l.Contains(p) {
		return true
	}
	for _, e := range l {
		if e.Near(p) {
			return true
		}
	}
	return false
}

// componentBody returns the body of component i. A part whose place is off the board is a problem unless `on` names the
// section it hangs on; a part without a known height has no body.
func (dv *divider) componentBody(i int) (Body, bool) {
	c := &dv.d.Components[i]
	st := dv.d.stackupAt(c.At)
	host, bend := dv.t.hostOf(c.At)
	if c.On != "" {
		st = dv.sectionStackup(c.On)
		host, bend = dv.flatOfSection(c.On), -1
	}
	if st == nil || host < 0 && bend < 0 {
		dv.problem(c.Place, "move it onto the board, or name the section it hangs on with `on: SECTION`", "component %s: its place %v is off the board", c.Name, c.At)
		return Body{}, false
	}
	if c.Height == nil && len(c.Boxes) == 0 {
		return Body{}, false
	}
	lv := dv.t.Levels[st.Name]
	b := Body{Name: "component:" + c.Name, Kind: KindComponent, Flat: host, Bend: bend, At: c.At, Turn: c.Turn, Side: c.Side, Source: i}
	b.Seat = lv.Top
	if c.Side == Bottom {
		b.Seat = lv.Bottom
	}
	if len(c.Boxes) > 0 {
		dv.boxBody(c, &b)
	} else {
		b.Region = c.Footprint()
		b.Faces = c.heights(b.Seat, 0, *c.Height, c.Below)
		b.Area = b.Region.Area()
		b.Volume = b.Area * (b.Faces[1] - b.Faces[0])
	}
	return b, true
}

// heights returns z of a part of a component that reaches from lo to hi away from its seat, and below into the board.
func (c *Component) heights(seat, lo, hi, below float64) [2]float64 {
	if below > 0 {
		lo = min(lo, -below-c.Standoff)
	}
	a, b := seat+c.Side.Sign()*(c.Standoff+lo), seat+c.Side.Sign()*(c.Standoff+hi)
	return [2]float64{min(a, b), max(a, b)}
}

// boxBody sets the boxes of a component's body, in z absolute, and its faces, area and volume.
func (dv *divider) boxBody(c *Component, b *Body) {
	b.Faces = [2]float64{math.Inf(1), math.Inf(-1)}
	for _, x := range c.Boxes {
		z := c.heights(b.Seat, x[2], x[5], c.Below)
		b.Boxes = append(b.Boxes, [6]float64{x[0], x[1], z[0], x[3], x[4], z[1]})
		b.Faces = [2]float64{min(b.Faces[0], z[0]), max(b.Faces[1], z[1])}
	}
	b.Area, b.Volume = unionOfBoxes(b.Boxes)
}

// Footprint returns the flat area of a component's body: the turned rectangle, the circle, or the union of its boxes'
// footprints as overlapping loops (then only good for asking what it covers).
func (c *Component) Footprint() flat.Region {
	switch {
	case c.Diameter > 0:
		l, _ := flat.Circle(c.At, c.Diameter)
		return flat.Region{l}
	case c.Size != nil:
		x, y := c.Size[0]/2, c.Size[1]/2
		return flat.Region{c.rectangle(-x, -y, x, y)}
	}
	var out flat.Region
	for _, b := range c.Boxes {
		out = append(out, c.rectangle(b[0], b[1], b[3], b[4]))
	}
	return out
}

// rectangle returns a rectangle of the component's own frame in flat coordinates.
func (c *Component) rectangle(x0, y0, x1, y1 float64) flat.Loop {
	s, k := sinCos(c.Turn)
	at := func(x, y float64) flat.Pt {
		return flat.Pt{X: c.At.X + float64(x*k) - float64(y*s), Y: c.At.Y + float64(x*s) + float64(y*k)}
	}
	p := [4]flat.Pt{at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1)}
	return flat.Loop{flat.Line(p[0], p[1]), flat.Line(p[1], p[2]), flat.Line(p[2], p[3]), flat.Line(p[3], p[0])}
}

// hostOf returns the flat or the bend that holds p, -1 for neither. Points on a border go to a flat.
func (t *Tree) hostOf(p flat.Pt) (fl, bend int) {
	for i, f := range t.Flats {
		if len(f.Region) > 0 && regionHolds(f.Region, p) {
			return i, -1
		}
	}
	for i, b := range t.Bends {
		if regionHolds(b.Region, p) {
			return -1, i
		}
	}
	return -1, -1
}

func regionHolds(r flat.Region, p flat.Pt) bool {
	for _, l := range r {
		for _, e := range l {
			if e.Near(p) {
				return true
			}
		}
	}
	return r.Contains(p)
}

// flatOfSection returns the flat with the largest share of the named section, -1 for none.
func (dv *divider) flatOfSection(name string) int {
	best, most := -1, 0.0
	for i, s := range dv.d.Sections {
		if s.Name != name {
			continue
		}
		for fi, f := range dv.t.Flats {
			if a := join(flat.Intersect(f.Region, dv.areas[i])).Area(); a > most*(1+sharesEqual) {
				best, most = fi, a
			}
		}
	}
	return best
}

// unionOfBoxes returns footprint area and volume of the union of axis-parallel boxes, exact, cell by cell of the grid of
// all their coordinates.
func unionOfBoxes(boxes [][6]float64) (area, volume float64) {
	var cuts [3][]float64
	for _, b := range boxes {
		for k := range 3 {
			cuts[k] = append(cuts[k], b[k], b[k+3])
		}
	}
	for k := range 3 {
		cuts[k] = sortedUnique(cuts[k])
	}
	for i := 1; i < len(cuts[0]); i++ {
		for j := 1; j < len(cuts[1]); j++ {
			cell := (cuts[0][i] - cuts[0][i-1]) * (cuts[1][j] - cuts[1][j-1])
			x, y := (cuts[0][i]+cuts[0][i-1])/2, (cuts[1][j]+cuts[1][j-1])/2
			height := 0.0
			for k := 1; k < len(cuts[2]); k++ {
				if z := (cuts[2][k] + cuts[2][k-1]) / 2; anyHolds(boxes, x, y, z) {
					height += cuts[2][k] - cuts[2][k-1]
				}
			}
			if height > 0 {
				area += cell
				volume += cell * height
			}
		}
	}
	return area, volume
}

func anyHolds(boxes [][6]float64, x, y, z float64) bool {
	for _, b := range boxes {
		if b[0] < x && x < b[3] && b[1] < y && y < b[4] && b[2] < z && z < b[5] {
			return true
		}
	}
	return false
}
