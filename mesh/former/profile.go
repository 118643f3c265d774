package former

import (
	"math"
	"slices"

	"foldfit/fold/flat"
)

// profile is a block across the hinge, counter-clockwise polygons in its own x and y: the body with nose and flanks, the
// finger above the near flank, what lies between them, and the outline of all three.
type profile struct {
	body, finger, slot, stem []flat.Pt
	page                     []flat.Pt // convex, where the writing goes on the body's upper end
	right                    flat.Pt   // the direction of its lines
}

// profile draws the block with the near tangent line at the origin. The body's back is set in from each flank at a right
// angle, so that all of the body lies between the flanks' ends.
func (s *Spec) profile(chord float64) profile {
	a := s.Angle * (math.Pi / 180)
	sn, cs := math.Sincos(a)
	nose := flat.Edge{P: flat.Pt{X: s.Radius * sn, Y: s.Radius * (cs - 1)}, C: flat.Pt{Y: -s.Radius}, R: s.Radius, Sweep: a}
	end := nose.P.Add(flat.Pt{X: cs, Y: -sn}.Mul(s.Far))
	near, d := flat.Pt{X: -s.Near}, s.back()
	first, last := flat.Pt{X: -s.Near, Y: -d}, end.Add(flat.Pt{X: -sn, Y: -cs}.Mul(d))
	body := []flat.Pt{near, first}
	if s.Style == Foot {
		body = append(body, s.foot().corners()...)
	}
	if last.Dist(first) > 1e-6 {
		body = append(body, last)
	}
	body = append(body, end, nose.P)
	body = append(body, nose.Points(chord)...)
	p := profile{body: body, stem: body, page: body, right: flat.Pt{X: 1}}
	if s.Style == Foot {
		f := s.foot()
		p.page, p.right = f.corners(), f.right.Unit()
	}
	if s.Slot > 0 {
		g, top := s.Slot, s.Slot+finger
		p.slot = []flat.Pt{near, {}, {Y: g}, {X: -s.Near, Y: g}}
		p.finger = []flat.Pt{{X: -s.Near, Y: g}, {Y: g}, {Y: top}, {X: -s.Near, Y: top}}
		p.stem = append(slices.Clone(body), flat.Pt{Y: g}, flat.Pt{Y: top}, flat.Pt{X: -s.Near, Y: top}, flat.Pt{X: -s.Near, Y: g})
	}
	if s.Mirrored {
		p = profile{mirrored(p.body), mirrored(p.finger), mirrored(p.slot), mirrored(p.stem), mirrored(p.page), flat.Pt{X: p.right.X, Y: -p.right.Y}}
	}
	return p
}

// deepest returns how far the body may be set in from both flanks before its back vanishes.
func (s *Spec) deepest() float64 {
	return s.Radius + min(s.Near, s.Far)/math.Tan(s.Angle*(math.Pi/360))
}

// back returns how far it is set in.
func (s *Spec) back() float64 {
	if s.Style == Foot {
		return max(s.Inside+2*clear, Wall)
	}
	return min(depth, s.deepest())
}

// foot is a rectangle at a right angle to the line that halves the angle between the flats: a corner and two sides.
type foot struct{ at, right, up flat.Pt }

// The foot's sizes in mm: around the writing, the narrowest waist above it, the farthest from where the flats' planes meet.
const (
	rim         = 2.0
	waist       = 2.0
	leastFoot   = 16.0
	farthest    = 30.0
	footWriting = 5.0 // em
)

// foot returns the foot for the writing of a block that is not mirrored; nil where the flats leave no room for one.
func (s *Spec) foot() *foot {
	half := s.Angle * (math.Pi / 360)
	sn, cs := math.Sincos(half)
	d := s.back()
	if 2*(s.deepest()-d)*sn < waist || cs < 1e-3 {
		return nil
	}
	wide := 0.0
	for _, line := range s.lines() {
		wide = max(wide, 0.75*footWriting*float64(len([]rune(line))))
	}
	wide = max(leastFoot, wide+2*rim)
	apex := flat.Pt{X: s.Radius * math.Tan(half)}
	down := max((s.Inside+2*clear+wide/2*sn)/cs, (max(s.Near, s.Far)+apex.X)*sn+d*cs+Wall) // from there to the foot's upper side
	if down > farthest {
		return nil
	}
	right, up := flat.Pt{X: cs, Y: -sn}, flat.Pt{X: sn, Y: cs}
	high := 2.4*footWriting + 2*rim
	at := apex.Sub(up.Mul(down + high)).Sub(right.Mul(wide / 2))
	return &foot{at, right.Mul(wide), up.Mul(high)}
}

// corners returns the foot's corners, counter-clockwise from the upper left one.
func (f *foot) corners() []flat.Pt {
	return []flat.Pt{f.at.Add(f.up), f.at, f.at.Add(f.right), f.at.Add(f.right).Add(f.up)}
}

// mirrored returns a polygon with x reversed, again counter-clockwise.
func mirrored(l []flat.Pt) []flat.Pt {
	out := make([]flat.Pt, len(l))
	for i, p := range l {
		out[len(l)-1-i] = flat.Pt{X: 0 - p.X, Y: p.Y}
	}
	return out
}

// box returns the smallest box around points.
func box(points []flat.Pt) flat.Box {
	b := flat.EmptyBox()
	for _, p := range points {
		b = b.With(p)
	}
	return b
}
