package elastica

import "math"

// Shape is a strip at rest between clamps. Lengths in the clamps' unit, EI = 1.
type Shape struct {
	Clamps Clamps
	Energy float64    // times EI: half the integral of the squared curvature
	Force  [2]float64 // times EI: what the far clamp pulls with, along x and y; the near clamp pulls the other way
	Moment [2]float64 // times EI: the curvature at the near and the far clamp

	strip *strip  // of length 1
	place []vec   // of its nodes
	force vec     // for length 1
	near  float64 // curvature at the near clamp for length 1
}

// Point is a place on a strip.
type Point struct {
	S         float64 // arc length from the near clamp
	X, Y      float64
	Heading   float64 // degrees, whole turns counted
	Curvature float64 // + counter-clockwise
}

func newShape(c Clamps, r *rest) *Shape {
	s := &Shape{Clamps: c, strip: r.strip, force: r.force, place: make([]vec, 1, len(r.node))}
	for e := range r.bubble {
		short, rise := r.run(e)
		at := s.place[e]
		s.place = append(s.place, vec{at[0] + (r.size() - short), at[1] + rise})
	}
	s.near = r.nearCurvature()
	l := c.Length
	s.Energy = r.energy() / l
	s.Force = [2]float64{r.force[0] / (l * l), r.force[1] / (l * l)}
	s.Moment = [2]float64{s.Curvature(0), s.Curvature(l)}
	return s
}

// nearCurvature returns the curvature at the near clamp that the energy's slope there gives: as good as the force, where the
// slope of the polynomial would be worse.
func (r *rest) nearCurvature() float64 {
	k := (r.node[1] - r.node[0]) / r.size()
	for q, a := range r.aims(0) {
		p := &points[q]
		k -= p.weight * r.size() / 2 * (r.force[0]*a.sin - r.force[1]*(1-a.versin)) * p.value[0]
	}
	return k
}

// mirrored returns the shape on the other side of the near clamp's line.
func (s *Shape) mirrored() *Shape {
	zero := &strip{node: make([]float64, len(s.strip.node)), bubble: make([][bubbles]float64, len(s.strip.bubble))}
	c := Clamps{s.Clamps.X, -s.Clamps.Y, -s.Clamps.Turn, s.Clamps.Length}
	return newShape(c, &rest{zero.plus(-1, s.strip), vec{s.force[0], -s.force[1]}})
}

// At returns the point of the strip at arc length s; the nearer end's beyond them.
func (s *Shape) At(arc float64) Point {
	return s.at(max(0, min(1, arc/s.Clamps.Length)))
}

// at is At for a strip of length 1: the node before it, and the way from there by quadrature.
func (s *Shape) at(u float64) Point {
	e, t := s.strip.find(u)
	c, v := s.strip.local(e), shapes(t)
	half := (t + 1) / 2 * s.strip.size() / 2
	p := s.place[e]
	for q := range points {
		w := points[q].weight * half
		on := shapes((t+1)/2*(points[q].at+1) - 1)
		a := aimOf(dot(&c, &on))
		p[0] += w * (1 - a.versin)
		p[1] += w * a.sin
	}
	l := s.Clamps.Length
	return Point{
		S: u * l, X: p[0] * l, Y: p[1] * l, Heading: dot(&c, &v) * 180 / math.Pi,
		Curvature: (s.near + s.force[0]*p[1] - s.force[1]*p[0]) / l,
	}
}

// Curvature returns the curvature at arc length s, + counter-clockwise; EI times it is the bending moment.
func (s *Shape) Curvature(arc float64) float64 { return s.At(arc).Curvature }

// Points returns n+1 points at equal steps of arc length, from clamp to clamp; n below 1 counts as 1.
func (s *Shape) Points(n int) []Point {
	n = max(n, 1)
	out := make([]Point, n+1)
	for i := range out {
		out[i] = s.at(float64(i) / float64(n))
	}
	return out
}

// MinRadius returns the least radius of curvature, whichever way it bends, and the arc length where it is; the first of equal
// ones. Infinite for a straight strip.
func (s *Shape) MinRadius() (radius, at float64) {
	left, atLeft := s.MinRadiusToward(1)
	right, atRight := s.MinRadiusToward(-1)
	if right < left*(1-1e-12) || right < left*(1+1e-12) && atRight < atLeft {
		return right, atRight
	}
	return left, atLeft
}

// MinRadiusToward returns the least radius where the strip bends counter-clockwise (side >= 0) or clockwise, and where;
// infinite if it nowhere does.
func (s *Shape) MinRadiusToward(side float64) (radius, at float64) {
	most := 0.0
	for _, u := range s.extremes(s.force) {
		p := s.at(u)
		if k := math.Copysign(p.Curvature, p.Curvature*side); k > most*(1+1e-12) && k*s.Clamps.Length > 1e-12 {
			most, at = k, p.S
		}
	}
	return 1 / most, at
}

// Reach returns how far the strip gets in a direction (degrees from +x), measured from the near clamp, and where.
func (s *Shape) Reach(direction float64) (distance, at float64) {
	sin, cos := math.Sincos(direction * math.Pi / 180)
	distance = math.Inf(-1)
	for _, u := range s.extremes(vec{-sin, cos}) {
		p := s.at(u)
		if d := p.X*cos + p.Y*sin; d > distance+1e-12*s.Clamps.Length {
			distance, at = d, p.S
		}
	}
	return distance, at
}

// extremes returns both ends of the strip and the places in rising order where it runs along the direction d or against it.
func (s *Shape) extremes(d vec) []float64 {
	across := func(u float64) float64 {
		sin, cos := math.Sincos(s.strip.heading(u))
		return d[0]*sin - d[1]*cos
	}
	out := []float64{0}
	n := len(s.strip.bubble) * 16
	last := across(0)
	for i := 1; i <= n; i++ {
		u := float64(i) / float64(n)
		here := across(u)
		if (here > 0) != (last > 0) {
			sign := last > 0
			out = append(out, bisect(float64(i-1)/float64(n), u, func(u float64) bool { return (across(u) > 0) == sign }))
		}
		last = here
	}
	return append(out, 1)
}
