package flat

import "math"

// Edge is a directed straight line or circular arc from P to Q. Sweep 0 means a line; otherwise it is the angle in
// radians from P to Q about the centre C, positive counter-clockwise, and R is the radius.
type Edge struct {
	P, Q  Pt
	C     Pt
	R     float64
	Sweep float64
}

// Line returns the straight edge from p to q.
func Line(p, q Pt) Edge { return Edge{P: p, Q: q} }

// IsArc reports whether e is curved.
func (e Edge) IsArc() bool { return e.Sweep != 0 }

// At returns the point at parameter t in [0, 1]; t = 0 and 1 give P and Q bit for bit.
func (e Edge) At(t float64) Pt {
	switch {
	case t == 0:
		return e.P
	case t == 1:
		return e.Q
	case !e.IsArc():
		return Pt{e.P.X + float64((e.Q.X-e.P.X)*t), e.P.Y + float64((e.Q.Y-e.P.Y)*t)}
	}
	s, c := math.Sincos(e.start() + e.Sweep*t)
	return Pt{e.C.X + float64(e.R*c), e.C.Y + float64(e.R*s)}
}

// start returns the polar angle of P about the centre of an arc.
func (e Edge) start() float64 { return math.Atan2(e.P.Y-e.C.Y, e.P.X-e.C.X) }

// Mid returns the point half way along e.
func (e Edge) Mid() Pt { return e.At(0.5) }

// Len returns the length of e in mm.
func (e Edge) Len() float64 {
	if e.IsArc() {
		return math.Abs(e.Sweep) * e.R
	}
	return e.P.Dist(e.Q)
}

// Tangent returns the unit direction of travel at parameter t.
func (e Edge) Tangent(t float64) Pt {
	if !e.IsArc() {
		return e.Q.Sub(e.P).Unit()
	}
	s, c := math.Sincos(e.start() + e.Sweep*t)
	if e.Sweep > 0 {
		return Pt{-s, c}
	}
	return Pt{s, -c}
}

// Curvature returns the signed curvature in 1/mm: positive when e turns left, 0 for a line.
func (e Edge) Curvature() float64 {
	switch {
	case e.Sweep > 0:
		return 1 / e.R
	case e.Sweep < 0:
		return -1 / e.R
	}
	return 0
}

// Rev returns e run backwards.
func (e Edge) Rev() Edge { return Edge{P: e.Q, Q: e.P, C: e.C, R: e.R, Sweep: -e.Sweep} }

// Moment returns the edge's share of the enclosed area, half the integral of x dy - y dx, exact.
func (e Edge) Moment() float64 {
	m := e.P.Cross(e.Q) / 2
	if e.IsArc() {
		m += float64(e.R*e.R) / 2 * (e.Sweep - math.Sin(e.Sweep))
	}
	return m
}

// Part returns the piece of e between parameters t0 < t1, with the given end points (which the caller has snapped).
func (e Edge) Part(t0, t1 float64, p, q Pt) Edge {
	return Edge{P: p, Q: q, C: e.C, R: e.R, Sweep: e.Sweep * (t1 - t0)}
}

// Box returns the exact bounding box of e.
func (e Edge) Box() Box {
	b := EmptyBox().With(e.P).With(e.Q)
	if !e.IsArc() {
		return b
	}
	for k, d := range []Pt{{1, 0}, {0, 1}, {-1, 0}, {0, -1}} {
		if t := e.param(float64(k) * math.Pi / 2); t > 0 && t < 1 {
			b = b.With(e.C.Add(d.Mul(e.R)))
		}
	}
	return b
}

// param returns the parameter of an arc at polar angle a about its centre; values above 1 lie off the arc.
func (e Edge) param(a float64) float64 {
	turn := 2 * math.Pi / math.Abs(e.Sweep)
	t := (a - e.start()) / e.Sweep
	return t - math.Floor(t/turn)*turn
}

// Points returns the points of e after P, up to and with Q, so that the chords deviate from an arc by at most chord (mm).
// Interior points are at equal steps and lie on the arc. A half circle or more gets at least two chords per half turn.
func (e Edge) Points(chord float64) []Pt {
	if !e.IsArc() {
		return []Pt{e.Q}
	}
	n := Chords(e.R, math.Abs(e.Sweep), chord)
	out := make([]Pt, 0, n)
	for i := 1; i < n; i++ {
		out = append(out, e.At(float64(i)/float64(n)))
	}
	return append(out, e.Q)
}

// Chords returns into how many equal chords an arc of radius r (mm) and sweep a (radians) must be cut so that the
// sagitta stays at or below chord (mm): at least one, and at least two for each half turn.
func Chords(r, a, chord float64) int {
	least := int(math.Ceil(a/(math.Pi/2) - 1e-9))
	if r <= 0 || chord <= 0 {
		return max(1, least)
	}
	step := math.Pi
	if chord < r {
		step = 2 * math.Acos(1-chord/r)
	}
	return max(1, least, int(math.Ceil(a/step-1e-9)))
}
