package elastica

import (
	"fmt"
	"math"
)

// Hinge is a bend as drawn: an arc between two straight run-outs, held where the run-outs end.
type Hinge struct {
	Angle     float64 // degrees, either sign
	Radius    float64 // of the arc, at the strip's neutral surface
	Near, Far float64 // lengths of the run-outs before and after the arc
}

// Free is what becomes of a drawn bend that nothing holds but its clamps.
type Free struct {
	*Shape          // near clamp at the origin; a positive angle bends to the left
	Radius  float64 // least radius anywhere, either way
	Where   float64 // arc length where it is
	Back    float64 // least radius where it bends against the angle; infinite if it nowhere does
	OfDrawn float64 // Radius as a part of the drawn one
	Wider   float64 // how much further it reaches than the drawn arc, from the arc's centre towards its middle; may be below 0
	Off     float64 // largest distance of any of its points from the drawn shape
}

// Free returns the shape of least energy between the clamps of the drawn bend, with the drawn length; accurate as in
// Clamps.Solve, and one of its starts is the drawn shape. Without run-outs it is the drawn arc, exactly. What keeps a distance
// above Off from the drawn shape stays clear of the free one. Errors: an angle of 0 or beyond 360 degrees, a radius not above
// 0, run-outs below 0, numbers that are not finite, and a loop of nearly a full turn between run-outs so long that Clamps
// finds no rest.
func (h Hinge) Free() (*Free, error) {
	if err := h.check(); err != nil {
		return nil, err
	}
	if h.Angle < 0 {
		h.Angle = -h.Angle
		f, err := h.Free()
		if err != nil {
			return nil, err
		}
		f.Shape = f.Shape.mirrored()
		return f, nil
	}
	shape, err := h.shape()
	if err != nil {
		return nil, err
	}
	f := &Free{Shape: shape}
	f.Radius, f.Where = shape.MinRadius()
	f.Back, _ = shape.MinRadiusToward(-1)
	f.OfDrawn = f.Radius / h.Radius
	s, c := math.Sincos(h.turn() / 2)
	drawn := h.Near*s + h.Radius*(1-c)
	reach, _ := shape.Reach(h.Angle/2 - 90)
	f.Wider = reach - drawn
	f.Off = h.off(shape)
	return f, nil
}

func (h Hinge) check() error {
	sum := h.Angle + h.Radius + h.Near + h.Far
	switch {
	case math.IsNaN(sum) || math.IsInf(sum, 0):
		return fmt.Errorf("hinge of %g degrees, radius %g, run-outs %g and %g: not all are numbers", h.Angle, h.Radius, h.Near, h.Far)
	case h.Angle == 0 || math.Abs(h.Angle) > 360:
		return fmt.Errorf("an angle of %g degrees makes no bend: it must be above 0 and at most 360", h.Angle)
	case !(h.Radius > 0):
		return fmt.Errorf("the neutral radius must be above 0, it is %g", h.Radius)
	case h.Near < 0 || h.Far < 0:
		return fmt.Errorf("run-outs of %g and %g: neither may be below 0", h.Near, h.Far)
	}
	return nil
}

// turn returns the angle in radians.
func (h Hinge) turn() float64 { return h.Angle * math.Pi / 180 }

// Clamps returns where the drawn shape puts the clamps, and the strip's length.
func (h Hinge) Clamps() Clamps {
	s, c := math.Sincos(h.turn())
	half := math.Sin(h.turn() / 2)
	side := math.Copysign(1, h.Angle)
	return Clamps{
		X: h.Near + side*h.Radius*s + h.Far*c, Y: side*h.Radius*2*half*half + h.Far*s,
		Turn: h.Angle, Length: h.Near + h.Radius*math.Abs(h.turn()) + h.Far,
	}
}

// problem is the clamps' problem, with the digits kept that small angles lose.
func (h Hinge) problem(length float64) problem {
	a := h.turn()
	s, c := math.Sincos(a / 2)
	return problem{a, goal{
		(h.Radius*lessSine(a) + h.Far*2*s*s) / length,
		(h.Radius*2*s*s + h.Far*2*s*c) / length,
	}}
}

// lessSine returns a - sin a.
func lessSine(a float64) float64 {
	if math.Abs(a) > 0.5 {
		return a - math.Sin(a)
	}
	sum, term := 0.0, a*a*a/6
	for n := 5.0; n < 20; n += 2 {
		sum += term
		term *= -a * a / (n * (n - 1))
	}
	return sum
}

// shape solves the clamps' problem from the drawn shape and a few others.
func (h Hinge) shape() (*Shape, error) {
	c := h.Clamps()
	p := h.problem(c.Length)
	if h.Near == 0 && h.Far == 0 {
		return newShape(c, &rest{strip: newStrip(coarsest, func(s float64) float64 { return p.turn * s })}), nil
	}
	if p.elements() > finest {
		return nil, c.taut()
	}
	drawn := newStrip(p.elements(), func(s float64) float64 {
		return max(0, min(p.turn, (s*c.Length-h.Near)/h.Radius))
	})
	found := p.rests(fewStarts[:1], drawn)
	if len(found) < 2 || found[1].energy() > found[0].energy()*(1+1e-9) {
		found = ranked(append(found, p.rests(fewStarts[1:])...)) // the drawn shape and the even turn came to rest apart
	}
	for _, r := range found {
		if r = r.sharpened(p.goal); r != nil {
			return newShape(c, r), nil
		}
	}
	return c.solve(manyStarts)
}

// off returns the largest distance of the shape's points from the drawn shape: sampled, then sharpened about every sample
// that may have the largest one beside it (along the strip a distance grows by no more than the way gone).
func (h Hinge) off(s *Shape) float64 {
	const samples = 128
	at := func(u float64) float64 { p := s.at(u); return h.distance(p.X, p.Y) }
	var d [samples + 1]float64
	most := 0.0
	for i := range d {
		d[i] = at(float64(i) / samples)
		most = max(most, d[i])
	}
	top, reach := most, s.Clamps.Length/samples/2
	for i := range d {
		before, after := max(i-1, 0), min(i+1, samples)
		if d[i]+reach >= top && d[i] >= d[before] && d[i] >= d[after] {
			most = max(most, highest(float64(before)/samples, float64(after)/samples, at))
		}
	}
	return most
}

// highest returns the largest value of f, which rises and then falls, between lo and hi, by golden section.
func highest(lo, hi float64, f func(float64) float64) float64 {
	const golden = 0.6180339887498949
	a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
	fa, fb := f(a), f(b)
	for range 40 {
		if fa < fb {
			lo, a, fa = a, b, fb
			b = lo + golden*(hi-lo)
			fb = f(b)
		} else {
			hi, b, fb = b, a, fa
			a = hi - golden*(hi-lo)
			fa = f(a)
		}
	}
	return max(fa, fb)
}

// distance returns the distance of a point from the drawn shape, for a positive angle. In the far run-out's frame the point
// lies as it would in the near one's of the bend walked backward and mirrored.
func (h Hinge) distance(x, y float64) float64 {
	s, c := math.Sincos(h.turn())
	dx, dy := x-h.Near, y-h.Radius
	fx, fy := c*dx+s*dy, c*dy-s*dx
	d := min(beside(dx, dy+h.Radius, h.Near), beside(-fx, fy+h.Radius, h.Far))
	turned := math.Atan2(dx, -dy)
	if turned < 0 {
		turned += 2 * math.Pi
	}
	if turned <= h.turn() {
		d = min(d, math.Abs(math.Hypot(dx, dy)-h.Radius))
	}
	return d
}

// beside returns the distance of (x, y) from the segment that runs back from the origin by a length.
func beside(x, y, length float64) float64 {
	return math.Hypot(x-max(-length, min(0, x)), y)
}
