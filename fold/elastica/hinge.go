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
	At      float64 // arc length where it is
	Back    float64 // least radius where it bends against the angle; infinite if it nowhere does
	OfDrawn float64 // Radius as a part of the drawn one
	Wider   float64 // how much further the loop reaches than the drawn arc, in the direction from the arc's centre to its middle
}

// Free returns the shape of least energy between the clamps of the drawn bend, with the drawn length; a relative 1e-9 as in
// Clamps.Solve. Without run-outs it is the drawn arc, exactly. Errors: an angle of 0 or beyond 360 degrees, a radius not above 0, run-outs below
// 0, numbers that are not finite, and the rare loop near a full turn between run-outs so long that Clamps finds no rest.
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
	f.Radius, f.At = shape.MinRadius()
	f.Back, _ = shape.MinRadiusToward(-1)
	f.OfDrawn = f.Radius / h.Radius
	s, c := math.Sincos(h.turn() / 2)
	drawn := h.Near*s + h.Radius*(1-c)
	reach, _ := shape.Reach(h.Angle/2 - 90)
	f.Wider = reach - drawn
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
	arc := h.Radius * math.Abs(h.turn())
	side := math.Copysign(1, h.Angle)
	return Clamps{
		X: h.Near + side*h.Radius*s + h.Far*c, Y: side*h.Radius*(1-c) + h.Far*s,
		Turn: h.Angle, Length: h.Near + arc + h.Far,
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
		return nil, c.check()
	}
	drawn := newStrip(p.elements(), func(s float64) float64 {
		return max(0, min(p.turn, (s*c.Length-h.Near)/h.Radius))
	})
	for _, r := range p.rests(fewStarts, drawn) {
		if r = r.sharpened(p.goal); r != nil {
			return newShape(c, r), nil
		}
	}
	return c.solve(manyStarts)
}
