package flat

import "math"

// Tolerances of the flat board, by name (mm).
const (
	// Snap: points and lines closer than this coincide. Rounding of coordinates up to Far stays three orders below it.
	Snap = 1e-6
	// Far is the largest coordinate that is accepted; at 1e5 mm rounding is 1.5e-11 mm.
	Far = 1e5
	// flattest is the largest radius of an arc; about a centre farther off, points of the arc would round by more than 1e-9 mm.
	flattest = 1e6
)

// Pt is a point or a direction in the flat, in mm. Its zero value is the origin.
type Pt struct{ X, Y float64 }

// Add returns p + q.
func (p Pt) Add(q Pt) Pt { return Pt{p.X + q.X, p.Y + q.Y} }

// Sub returns p - q.
func (p Pt) Sub(q Pt) Pt { return Pt{p.X - q.X, p.Y - q.Y} }

// Mul returns p scaled by k. The conversions here and below keep products from being fused with sums, so that every machine
// agrees.
func (p Pt) Mul(k float64) Pt { return Pt{float64(p.X * k), float64(p.Y * k)} }

// Dot returns the scalar product.
func (p Pt) Dot(q Pt) float64 { return float64(p.X*q.X) + float64(p.Y*q.Y) }

// Cross returns the z component of p x q: positive when q is to the left of p.
func (p Pt) Cross(q Pt) float64 { return float64(p.X*q.Y) - float64(p.Y*q.X) }

// Len returns the length of p.
func (p Pt) Len() float64 { return math.Hypot(p.X, p.Y) }

// Dist returns the distance between p and q.
func (p Pt) Dist(q Pt) float64 { return p.Sub(q).Len() }

// Unit returns p with length 1; the zero vector stays zero.
func (p Pt) Unit() Pt {
	l := p.Len()
	if l == 0 {
		return Pt{}
	}
	return Pt{p.X / l, p.Y / l}
}

// Left returns p turned by a quarter turn counter-clockwise, exactly.
func (p Pt) Left() Pt { return Pt{-p.Y, p.X} }

// Mid returns the point half way between p and q.
func (p Pt) Mid(q Pt) Pt { return Pt{(p.X + q.X) / 2, (p.Y + q.Y) / 2} }

// Box is an axis-parallel rectangle; Min > Max means empty.
type Box struct{ Min, Max Pt }

// EmptyBox returns a box that contains nothing.
func EmptyBox() Box {
	return Box{Pt{math.Inf(1), math.Inf(1)}, Pt{math.Inf(-1), math.Inf(-1)}}
}

// With returns the smallest box that holds b and p.
func (b Box) With(p Pt) Box {
	return Box{Pt{min(b.Min.X, p.X), min(b.Min.Y, p.Y)}, Pt{max(b.Max.X, p.X), max(b.Max.Y, p.Y)}}
}

// Join returns the smallest box that holds both.
func (b Box) Join(c Box) Box { return b.With(c.Min).With(c.Max) }

// Grow returns b enlarged by d on every side.
func (b Box) Grow(d float64) Box {
	return Box{Pt{b.Min.X - d, b.Min.Y - d}, Pt{b.Max.X + d, b.Max.Y + d}}
}

// Meets reports whether the two closed boxes have a point in common.
func (b Box) Meets(c Box) bool {
	return b.Min.X <= c.Max.X && c.Min.X <= b.Max.X && b.Min.Y <= c.Max.Y && c.Min.Y <= b.Max.Y
}

// holds reports whether p lies in the closed box.
func (b Box) holds(p Pt) bool {
	return b.Min.X <= p.X && p.X <= b.Max.X && b.Min.Y <= p.Y && p.Y <= b.Max.Y
}
