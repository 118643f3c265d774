package bending

import (
	"math"

	"foldfit/fold/elastica"
)

// Free is the shape that flex takes when only its clamps hold it: the elastica of least energy between them. Lengths mm.
type Free struct {
	*elastica.Free
	Near, Far float64 // run-outs: straight flex from the drawn bend to the clamps
	Radius    float64 // least inside radius, bending either way
	OfDrawn   float64 // Radius over the drawn inside radius
	Reversed  bool    // the least radius is where the flex bends back against the angle
}

// free solves the free shape; inner and outer are the distances from the neutral surface to the face inside the bend and to
// the other. Nil where no shape was found, or where it would crease.
func (f Flex) free(inner, outer, near, far float64) *Free {
	e, err := elastica.Hinge{Angle: f.Angle, Radius: f.Drawn + inner, Near: near, Far: far}.Free()
	if err != nil {
		return nil
	}
	along, _ := e.MinRadiusToward(1)
	against, _ := e.MinRadiusToward(-1)
	out := &Free{Free: e, Near: near, Far: far, Radius: along - inner}
	if back := against - outer; back < out.Radius {
		out.Radius, out.Reversed = back, true
	}
	if !(out.Radius > 0) || math.IsInf(out.Radius, 0) {
		return nil
	}
	out.OfDrawn = out.Radius / f.Drawn
	return out
}

// Curvature returns the curvature of the neutral surface in 1/mm at s mm after the drawn bend's near tangent line (below 0: in
// the near run-out), + as the angle bends; 0 beyond the clamps.
func (f *Free) Curvature(s float64) float64 {
	if s < -f.Near || s > f.Clamps.Length-f.Near {
		return 0
	}
	return f.Shape.Curvature(s + f.Near)
}
