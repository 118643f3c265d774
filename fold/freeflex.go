package fold

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"foldfit/fold/elastica"
	"foldfit/fold/flat"
)

// FreeFlex is flex that only its clamps hold: a bend with the straight flex beside it, up to the next rigid or stiffened edges.
// Lengths mm.
type FreeFlex struct {
	Bend      int
	Near, Far float64         // run-outs: from the drawn bend's tangent lines to the clamps
	Region    flat.Region     // a piece: the bend area and its run-outs, in the flat
	Shape     *elastica.Shape // of the neutral surface, from clamp to clamp, for the hinge's angle without its sign; nil: flat
}

// bandSlack is how much other area (mm2 for each mm of the hinge line) may lie between the clamps of free flex, and how far (mm)
// the clamps of two of its bends may be apart: what rounded numbers leave beside a clamp that is drawn along the hinge line.
const bandSlack = 1e-4

// FreeFlex returns the flex that is free about bend i, without a shape. An error says why there is none that moves as one sheet
// between two straight clamps: it is not held on both sides, or something else than even flex lies between the lines.
func (t *Tree) FreeFlex(i int) (*FreeFlex, error) {
	near, far, held := t.RunOuts(i)
	if !held || !t.Foldable {
		return nil, errors.New("no rigid or stiffened edge holds it on both sides, before the board's end or the next bend")
	}
	b := &t.Bends[i]
	l := &FreeFlex{Bend: i, Near: near, Far: far}
	for _, r := range flat.Intersect(t.Board, b.band(-near, b.Width+far, t.Board)) {
		if r.Contains(b.Middle()) {
			l.Region = r
		}
	}
	length := 0.0
	for _, x := range b.Lines {
		length += x[0].Dist(x[1])
	}
	switch what := t.between(l); {
	case len(l.Region) == 0:
		return nil, errors.New("its area could not be cut out")
	case what.area > bandSlack*length:
		return nil, fmt.Errorf("%s reaches between the lines at which it is held", what.name)
	}
	return l, nil
}

// band returns the area between two stations, as long as a region is wide.
func (b *Bend) band(from, to float64, within flat.Region) flat.Region {
	box := within.Box()
	mid, reach := b.Middle(), 1.0
	for _, p := range []flat.Pt{box.Min, box.Max, {X: box.Min.X, Y: box.Max.Y}, {X: box.Max.X, Y: box.Min.Y}} {
		reach = max(reach, 1+p.Dist(mid))
	}
	s := b.Station(mid)
	lo, hi, side := mid.Add(b.Dir.Mul(from-s)), mid.Add(b.Dir.Mul(to-s)), b.Dir.Left().Mul(reach)
	a, c, d, e := lo.Sub(side), hi.Sub(side), hi.Add(side), lo.Add(side)
	return flat.Region{flat.Loop{flat.Line(a, c), flat.Line(c, d), flat.Line(d, e), flat.Line(e, a)}}
}

// share is how much of something lies in an area.
type share struct {
	name string
	area float64
}

// between returns what has the largest share of free flex and does not bend with it: bodies other than even flex, other bends
// than those of its hinge with the same clamps, and stiffeners.
func (t *Tree) between(l *FreeFlex) share {
	var most share
	add := func(name string, r flat.Region) {
		if a := join(flat.Intersect(l.Region, r)).Area(); a > most.area {
			most = share{name, a}
		}
	}
	for i := range t.Bodies {
		switch b := &t.Bodies[i]; {
		case b.Kind == KindStiffener, b.Kind == KindBend && !t.alike(l, b.Bend), boardBody(b) && !t.evenFlex(b, &t.Bends[l.Bend]):
			add(b.Name, b.Region)
		}
	}
	return most
}

// boardBody reports whether a body is a section's or the flex's share of a flat.
func boardBody(b *Body) bool { return b.Kind == KindSection || b.Kind == KindFlex }

// evenFlex reports whether a body of a flat is flexible and as thick as a bend, at its height.
func (t *Tree) evenFlex(b *Body, bend *Bend) bool {
	if b.Kind == KindSection && t.Design.RigidSection(t.Design.Sections[b.Source].Name) {
		return false
	}
	return math.Abs(b.Faces[0]-bend.Faces[0]) <= flat.Snap && math.Abs(b.Faces[1]-bend.Faces[1]) <= flat.Snap
}

// alike reports whether bend k is the free flex's own or another one of its hinge with the same clamps.
func (t *Tree) alike(l *FreeFlex, k int) bool {
	if k == l.Bend {
		return true
	}
	if a, b := &t.Bends[l.Bend], &t.Bends[k]; a.Hinge != b.Hinge || a.Stackup != b.Stackup || a.Dir.Dot(b.Dir) < 0 {
		return false
	}
	near, far, held := t.RunOuts(k)
	return held && math.Abs(near-l.Near) <= bandSlack && math.Abs(far-l.Far) <= bandSlack
}

// Relax returns the folded board with free flex in its free shapes; the flats stay where the drawn cylinders place them. Its
// tree is a copy in which the body of each such bend covers all of the free flex, in the volume of this posture, and the
// bodies of flats have lost that; a body that has nothing left is gone. Bends, flats and areas of the tree are as drawn.
// Stations of such a bend run from -Near to Width + Far.
func (f *Folded) Relax(list []*FreeFlex) *Folded {
	t := *f.Tree
	out := &Folded{Tree: &t, Angles: f.Angles, flats: f.flats, free: make([]*FreeFlex, len(t.Bends))}
	var taken []*FreeFlex
	for _, l := range list {
		own := *l
		own.Region = t.own(l, taken)
		out.free[l.Bend] = &own
		taken = append(taken, &own)
	}
	out.shareBodies(taken)
	return out
}

// own returns what of free flex belongs to its bend: all but other bends and what earlier ones have taken.
func (t *Tree) own(l *FreeFlex, taken []*FreeFlex) flat.Region {
	left := l.Region
	without := func(r flat.Region) {
		if len(flat.Intersect(left, r)) == 0 {
			return
		}
		for _, p := range flat.Subtract(left, r) {
			if p.Contains(t.Bends[l.Bend].Middle()) {
				left = p
			}
		}
	}
	for k := range t.Bends {
		if k != l.Bend {
			without(t.Bends[k].Region)
		}
	}
	for _, o := range taken {
		without(o.Region)
	}
	return left
}

// shareBodies gives the free flex to the bodies of its bends.
func (f *Folded) shareBodies(taken []*FreeFlex) {
	t := f.Tree
	old, used := t.Bodies, map[string]bool{}
	for i := range old {
		used[old[i].Name] = true
	}
	t.Bodies, t.Flats = nil, slices.Clone(t.Flats)
	for _, b := range old {
		switch {
		case b.Kind == KindBend && f.free[b.Bend] != nil:
			b.Region = f.free[b.Bend].Region
			b.Area = b.Region.Area()
			b.Volume = f.bendVolume(&b)
			t.Bodies = append(t.Bodies, b)
		case boardBody(&b):
			t.Bodies = append(t.Bodies, t.leftOf(b, taken, used)...)
		default:
			t.Bodies = append(t.Bodies, b)
		}
	}
	for i := range t.Flats {
		t.Flats[i].Bodies = nil
	}
	for i := range t.Bodies {
		if at := t.Bodies[i].Flat; at >= 0 {
			t.Flats[at].Bodies = append(t.Flats[at].Bodies, i)
		}
	}
}

// leftOf returns what free flex leaves of a flat's body: the first piece keeps its name, others get the next free number.
func (t *Tree) leftOf(b Body, taken []*FreeFlex, used map[string]bool) []Body {
	left, touched := []flat.Region{b.Region}, false
	for _, l := range taken {
		if !t.evenFlex(&b, &t.Bends[l.Bend]) || len(flat.Intersect(b.Region, l.Region)) == 0 {
			continue
		}
		touched = true
		var next []flat.Region
		for _, r := range left {
			for _, p := range flat.Subtract(r, l.Region) {
				if !isSliver(p) {
					next = append(next, p)
				}
			}
		}
		left = next
	}
	if !touched {
		return []Body{b}
	}
	var out []Body
	for i, r := range left {
		p := b
		p.Region, p.Area = r, r.Area()
		p.Volume = p.Area * (p.Faces[1] - p.Faces[0])
		for k := 1; i > 0 && used[p.Name]; k++ {
			p.Name = numbered(b.Name, k)
		}
		used[p.Name] = true
		out = append(out, p)
	}
	return out
}

// isSliver reports whether a piece is no wider than what rounded numbers leave beside a clamp.
func isSliver(r flat.Region) bool {
	around := 0.0
	for _, l := range r {
		around += l.Len()
	}
	return 2*r.Area() <= bandSlack*around
}
