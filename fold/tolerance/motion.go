package tolerance

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// Motion is how a point moves in the board frame when one hinge is off its place.
type Motion struct {
	Angle mgl64.Vec3 // mm for each degree that the angle is more toward the top; the bend area keeps its width
	Line  mgl64.Vec3 // mm for each mm that the line lies along its normal; the width is kept, and all beyond moves
}

// Normal returns the unit normal of hinge i's line in the flat, along which a shift of the line counts as positive: to the left
// of its canonical direction, in which x grows (or y, where x does not change). Written line and base have no part in it.
func Normal(t *fold.Tree, i int) flat.Pt {
	l := t.Hinges[i].Line
	return l[1].Sub(l[0]).Unit().Left()
}

// Motions returns the motion of a point for each hinge, exact to rounding; zero for hinges that do not move it. At a tangent
// line the motion with the line of a point off the neutral surface is that of the side on which the point was taken:
// beyond it the material turns, on the flat it does not.
func (p Point) Motions(f *fold.Folded) []Motion {
	out := make([]Motion, len(f.Tree.Design.Hinges))
	for _, v := range p.velocities(f, p.path(f.Tree), 0) {
		out[v.hinge].Angle = out[v.hinge].Angle.Add(v.Angle)
		out[v.hinge].Line = out[v.hinge].Line.Add(v.Line)
	}
	return out
}

// Place returns where the point stands in the board frame, with the board at f's angles.
func (p Point) Place(f *fold.Folded) mgl64.Vec3 { return p.placed(f.Tree, f.Angles, nil) }

// step is one bend on the way from the base to a point, as far as the station at which the way leaves it.
type step struct {
	bend    int
	station float64
	stays   bool
}

// path returns the bends between the base and the point, the base's first.
func (p Point) path(t *fold.Tree) []step {
	var out []step
	fl := p.Flat
	if p.Bend >= 0 {
		out = append(out, step{p.Bend, p.Station, p.Stays})
		fl = t.Bends[p.Bend].Parent
	}
	for fl >= 0 && t.Flats[fl].Parent >= 0 {
		at := &t.Flats[fl]
		if at.Far {
			out = slices.Insert(out, 0, step{at.Bend, t.Bends[at.Bend].Width, true})
		}
		fl = t.Bends[at.Bend].Parent
	}
	return out
}

// common returns how many steps two paths begin with alike: bends that move both points as one.
func common(a, b []step) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}

// velocity is what one step adds to a point's motion.
type velocity struct {
	hinge int
	Motion
}

// velocities returns what each step of the point's path from number first on adds to its motion.
func (p Point) velocities(f *fold.Folded, path []step, first int) []velocity {
	t, place := f.Tree, p.Place(f)
	var out []velocity
	m := mgl64.Ident4()
	for i, s := range path {
		b := &t.Bends[s.bend]
		local := b.NearFromStation(f.Angles[b.Hinge], s.station)
		if i >= first {
			at := fold.Apply(fold.Invert(m), place)
			angle, line := twists(b, f.Angles[b.Hinge], s, local)
			sign := b.Dir.Dot(Normal(t, b.Hinge))
			out = append(out, velocity{b.Hinge, Motion{
				Angle: fold.Turn(m, angle.at(at)).Mul(math.Pi / 180),
				Line:  fold.Turn(m, line.at(at)).Mul(math.Copysign(1, sign)),
			}})
		}
		m = m.Mul4(local)
	}
	return out
}

// twist is the motion of a rigid body: it turns about a point, which moves.
type twist struct{ spin, pivot, moves mgl64.Vec3 }

// at returns the velocity of the body's point at p.
func (w *twist) at(p mgl64.Vec3) mgl64.Vec3 { return w.moves.Add(w.spin.Cross(p.Sub(w.pivot))) }

// twists returns the twist of the tangent plane of a bend at a station, in the near flat's frame: for each radian of the
// angle, and for each mm of the line from near to far. nearFromStation is the plane's motion. The plane turns about the
// place of its neutral surface. Material that keeps its place while the line moves on comes nearer to the tangent line
// and loses its share of the turn.
func twists(b *fold.Bend, degrees float64, s step, nearFromStation mgl64.Mat4) (angle, line twist) {
	d, up := mgl64.Vec3{b.Dir.X, b.Dir.Y, 0}, mgl64.Vec3{0, 0, 1}
	axis := d.Cross(up)
	foot := b.Origin.Add(b.Dir.Mul(s.station))
	pivot := fold.Apply(nearFromStation, mgl64.Vec3{foot.X, foot.Y, b.Height})
	turned := fold.Turn(nearFromStation, d)
	share := s.station / b.Width
	phi := degrees * (math.Pi / 180) * share
	sinc, ver := slopes(phi, turned.Dot(up), turned.Dot(d))
	angle = twist{axis.Mul(share), pivot, d.Mul(s.station * share * sinc).Add(up.Mul(s.station * share * ver))}
	line = twist{pivot: pivot, moves: d.Sub(turned)}
	if !s.stays {
		line.spin = axis.Mul(-degrees * (math.Pi / 180) / b.Width)
	}
	return angle, line
}

// slopes returns the derivatives of sin(a)/a and (1-cos a)/a at a (radians), given its sine and cosine; a series below 0.2,
// good to rounding.
func slopes(a, sin, cos float64) (sinc, versine float64) {
	if math.Abs(a) >= 0.2 {
		return (cos - sin/a) / a, (sin - (1-cos)/a) / a
	}
	q := a * a
	sinc = -a * (1./3 - q*(1./30-q*(1./840-q*(1./45360-q/3991680))))
	versine = 1./2 - q*(1./8-q*(1./144-q*(1./5760-q*(1./403200-q/43545600))))
	return sinc, versine
}

// placed returns where the point stands in the board frame at the given angles, with each hinge's line moved as far as said.
// The material of a bend keeps its place in the flat: what the bend area moves past lies flat, or turned by all of the
// angle. A point of a flat stays with its flat.
func (p Point) placed(t *fold.Tree, angles []float64, moved []Shift) mgl64.Vec3 {
	m := mgl64.Ident4()
	for _, s := range p.path(t) {
		b, at := t.Bends[s.bend], s.station
		if moved != nil {
			by := moved[b.Hinge].Line * math.Copysign(1, b.Dir.Dot(Normal(t, b.Hinge)))
			b.Origin = b.Origin.Add(b.Dir.Mul(by))
			if !s.stays {
				at = min(max(at-by, 0), b.Width)
			}
		}
		m = m.Mul4(b.NearFromStation(angles[b.Hinge], at))
	}
	return fold.Apply(m, mgl64.Vec3{p.At.X, p.At.Y, p.Z})
}
