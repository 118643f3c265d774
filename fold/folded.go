package fold

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/flat"
)

// Folded is a board at given hinge angles: where each flat stands and where each point of a bend goes. Immutable.
type Folded struct {
	Tree   *Tree
	Angles []float64 // by hinge, degrees, + toward top
	flats  []mgl64.Mat4
	free   []*FreeFlex // by bend: those that are no cylinders; nil for none
}

// Angles returns each hinge's own angle in degrees, + toward top: the folded posture.
func (t *Tree) Angles() []float64 {
	out := make([]float64, len(t.Design.Hinges))
	for i, h := range t.Design.Hinges {
		out[i] = h.Angle
	}
	return out
}

// Partial returns the folded posture's angles times fraction (0 = flat, 1 = folded).
func (t *Tree) Partial(fraction float64) []float64 {
	out := t.Angles()
	for i := range out {
		out[i] *= fraction
	}
	return out
}

// leastRadius is the smallest inside radius (mm) that a posture may ask of a bend.
const leastRadius = 0.01

// Place folds the board to the given angles (one for each hinge, degrees, + toward top). Flat coordinates go to board
// coordinates by the product of the hinge motions on the path from the base, exact to rounding; all angles zero give the
// identity bit for bit. An angle that leaves a bend an inside radius under 0.01 mm, an angle for a hinge that makes no
// bend, or a board that is not foldable is an error.
func (t *Tree) Place(angles []float64) (*Folded, error) {
	if !t.Foldable {
		return nil, fmt.Errorf("the board has no folded shape: bend areas overlap")
	}
	if len(angles) != len(t.Design.Hinges) {
		return nil, fmt.Errorf("%d angles for %d hinges", len(angles), len(t.Design.Hinges))
	}
	for i, a := range angles {
		if err := t.checkAngle(i, a); err != nil {
			return nil, err
		}
	}
	f := &Folded{Tree: t, Angles: angles, flats: make([]mgl64.Mat4, len(t.Flats))}
	for i, fl := range t.Flats {
		switch {
		case fl.Parent < 0:
			f.flats[i] = mgl64.Ident4()
		case !fl.Far:
			f.flats[i] = f.flats[fl.Parent]
		default:
			b := &t.Bends[fl.Bend]
			f.flats[i] = clean(f.flats[b.Parent].Mul4(b.NearFromStation(angles[b.Hinge], b.Width)))
		}
	}
	return f, nil
}

// checkAngle refuses an angle that hinge i cannot take.
func (t *Tree) checkAngle(i int, a float64) error {
	h := &t.Design.Hinges[i]
	switch {
	case math.IsNaN(a) || math.IsInf(a, 0):
		return fmt.Errorf("hinge %s: the angle is not a number", h.Name)
	case h.Angle == 0 && a != 0:
		return fmt.Errorf("hinge %s has angle 0 and makes no bend: it cannot be set to %g degrees", h.Name, a)
	}
	for _, bi := range t.Hinges[i].Bends {
		b := &t.Bends[bi]
		if most := b.MostAngle(a); math.Abs(a) > most {
			return fmt.Errorf("bend %s at %g degrees leaves an inside radius under %g mm; at most %.2f degrees fit its width of %.4f mm",
				b.Name, a, leastRadius, most, b.Width)
		}
	}
	return nil
}

// Concave returns the distance from the neutral surface to the face that is concave at an angle of this sign, in mm.
func (b *Bend) Concave(angle float64) float64 {
	if angle >= 0 {
		return b.Faces[1] - b.Height
	}
	return b.Height - b.Faces[0]
}

// RadiusAt returns the inside radius in mm at the given angle; infinite when flat.
func (b *Bend) RadiusAt(angle float64) float64 {
	if angle == 0 {
		return math.Inf(1)
	}
	return b.Width/math.Abs(radians(angle)) - b.Concave(angle)
}

// MostAngle returns the largest angle of the same sign, in degrees without sign, that keeps an inside radius of 0.01 mm.
func (b *Bend) MostAngle(sign float64) float64 {
	return b.Width / (b.Concave(sign) + leastRadius) * (180 / math.Pi)
}

// NearFromStation returns the rigid motion, in flat coordinates, of the flex's tangent plane at arc length s into the bend
// (0 <= s <= Width) relative to the near flat, when the hinge stands at angle. At s = Width it is the far flats' motion.
// Written so that angle 0 gives the identity bit for bit (GEOMETRY F3).
func (b *Bend) NearFromStation(angle, s float64) mgl64.Mat4 {
	return b.nearFrom(s, b.cylinder(angle, s))
}

// tangent is where the neutral surface of a bend runs at one station, seen along the hinge: across from the near tangent
// line, up from the near flat's neutral surface (mm), and how far it has turned there (degrees, + toward top).
type tangent struct{ x, z, turned float64 }

// cylinder returns the tangent of the drawn cylinder at arc length s.
func (b *Bend) cylinder(angle, s float64) tangent {
	turned := angle
	if s != b.Width {
		turned = angle * s / b.Width
	}
	return tangent{s * sinc(turned), s * versine(turned), turned}
}

// nearFrom returns the motion that takes the flat's tangent plane at arc length s to a tangent.
func (b *Bend) nearFrom(s float64, at tangent) mgl64.Mat4 {
	sn, cs := sinCos(at.turned)
	sg, zs, d := b.Dir.Dot(b.Origin), b.Height, b.Dir
	along := float64((1-cs)*sg) + float64(sn*zs) + (at.x - float64(s*cs))
	up := float64((1-cs)*zs) - float64(sn*sg) + (at.z - float64(s*sn))
	m := mgl64.Ident4()
	m.SetRow(0, mgl64.Vec4{1 - float64((1-cs)*d.X*d.X), -float64((1 - cs) * d.X * d.Y), -float64(sn * d.X), float64(d.X * along)})
	m.SetRow(1, mgl64.Vec4{-float64((1 - cs) * d.X * d.Y), 1 - float64((1-cs)*d.Y*d.Y), -float64(sn * d.Y), float64(d.Y * along)})
	m.SetRow(2, mgl64.Vec4{float64(sn * d.X), float64(sn * d.Y), cs, up})
	return clean(m)
}

// clean removes negative zeros, which would end in files.
func clean(m mgl64.Mat4) mgl64.Mat4 {
	for i := range m {
		m[i] += 0.0
	}
	return m
}

// Station returns the arc length s of a flat point into the bend, in mm: 0 on the near tangent line, Width on the far one.
func (b *Bend) Station(p flat.Pt) float64 { return p.Sub(b.Origin).Dot(b.Dir) }

// BoardFromFlat returns the rigid motion of flat i: flat coordinates to board coordinates.
func (f *Folded) BoardFromFlat(i int) mgl64.Mat4 { return f.flats[i] }

// BoardFromStation returns the motion of the tangent plane at arc length s of bend i: flat to board coordinates.
func (f *Folded) BoardFromStation(i int, s float64) mgl64.Mat4 {
	b := &f.Tree.Bends[i]
	return f.flats[b.Parent].Mul4(b.nearFrom(s, f.tangent(i, s)))
}

// BendPoint returns where the material point (p, z) of bend i goes, in board coordinates; exact for a cylinder (GEOMETRY F2),
// for a free shape as good as its solution (1e-9 of its length).
func (f *Folded) BendPoint(i int, p flat.Pt, z float64) mgl64.Vec3 {
	b := &f.Tree.Bends[i]
	s := b.Station(p)
	at := f.tangent(i, s)
	sn, cs := sinCos(at.turned)
	h := z - b.Height
	x := at.x - float64(h*sn)
	up := at.z + float64(h*cs)
	q := p.Add(b.Dir.Mul(x - s))
	return Apply(f.flats[b.Parent], mgl64.Vec3{q.X, q.Y, b.Height + up})
}

// BodyMotion returns the rigid motion of a body that does not bend (flat to board coordinates): its flat's, or for a
// component in a bend area that of the tangent plane at its place.
func (f *Folded) BodyMotion(body *Body) mgl64.Mat4 {
	if body.Bend >= 0 {
		return f.BoardFromStation(body.Bend, f.Tree.Bends[body.Bend].Station(body.At))
	}
	return f.flats[body.Flat]
}

// HousingFromBoard returns the design's placement: board coordinates to the housing's frame. The identity without one.
func (t *Tree) HousingFromBoard() mgl64.Mat4 {
	p := t.Design.Place
	m := mgl64.Translate3D(0, 0, -t.datumHeight())
	return clean(RigidMotion(p.Turn, p.Move).Mul4(m))
}

// datumHeight returns z of the face that the placement names: of the base section, else of the stack at the base point.
func (t *Tree) datumHeight() float64 {
	lv := t.BaseLevel()
	switch t.Design.Place.Datum {
	case "bottom":
		return lv.Bottom
	case "top":
		return lv.Top
	}
	return 0
}

// RigidMotion returns the motion that turns about the fixed x, then y, then z axis (degrees), then moves. Quarter turns
// are exact.
func RigidMotion(turn [3]float64, move mgl64.Vec3) mgl64.Mat4 {
	sx, cx := sinCos(turn[0])
	sy, cy := sinCos(turn[1])
	sz, cz := sinCos(turn[2])
	rx := mgl64.Mat4{1, 0, 0, 0, 0, cx, sx, 0, 0, -sx, cx, 0, 0, 0, 0, 1}
	ry := mgl64.Mat4{cy, 0, -sy, 0, 0, 1, 0, 0, sy, 0, cy, 0, 0, 0, 0, 1}
	rz := mgl64.Mat4{cz, sz, 0, 0, -sz, cz, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1}
	m := rz.Mul4(ry).Mul4(rx)
	m.SetCol(3, mgl64.Vec4{move[0], move[1], move[2], 1})
	return clean(m)
}

// Apply returns m p for a point. Exact products, no division by w.
func Apply(m mgl64.Mat4, p mgl64.Vec3) mgl64.Vec3 {
	return mgl64.Vec3{
		float64(m[0]*p[0]) + float64(m[4]*p[1]) + float64(m[8]*p[2]) + m[12],
		float64(m[1]*p[0]) + float64(m[5]*p[1]) + float64(m[9]*p[2]) + m[13],
		float64(m[2]*p[0]) + float64(m[6]*p[1]) + float64(m[10]*p[2]) + m[14],
	}
}

// Turn returns m applied to a direction: the rotation without the shift.
func Turn(m mgl64.Mat4, d mgl64.Vec3) mgl64.Vec3 {
	return mgl64.Vec3{
		float64(m[0]*d[0]) + float64(m[4]*d[1]) + float64(m[8]*d[2]),
		float64(m[1]*d[0]) + float64(m[5]*d[1]) + float64(m[9]*d[2]),
		float64(m[2]*d[0]) + float64(m[6]*d[1]) + float64(m[10]*d[2]),
	}
}

// Invert returns the inverse of a rigid motion (transposed rotation).
func Invert(m mgl64.Mat4) mgl64.Mat4 {
	inv := mgl64.Ident4()
	for r := range 3 {
		for c := range 3 {
			inv[c*4+r] = m[r*4+c]
		}
	}
	p := Turn(inv, mgl64.Vec3{m[12], m[13], m[14]})
	inv[12], inv[13], inv[14] = -p[0], -p[1], -p[2]
	return clean(inv)
}
