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
	case e.isLong():
		s, c := math.Sincos(e.start() + float64(e.Sweep*t))
		return Pt{e.C.X + float64(e.R*c), e.C.Y + float64(e.R*s)}
	}
	half := e.Sweep / 2 // the chord to the point is the whole chord scaled and turned
	k := math.Sin(half*t) / math.Sin(half)
	return e.P.Add(e.Q.Sub(e.P).turned(half * (t - 1)).Mul(k))
}

// isLong reports whether e turns so far that its chord is no good measure of it.
func (e Edge) isLong() bool { return math.Abs(e.Sweep) > 4 }

// turned returns p turned counter-clockwise by a (radians).
func (p Pt) turned(a float64) Pt {
	s, c := math.Sincos(a)
	return Pt{float64(p.X*c) - float64(p.Y*s), float64(p.X*s) + float64(p.Y*c)}
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
	switch {
	case !e.IsArc():
		return e.Q.Sub(e.P).Unit()
	case e.isLong():
		s, c := math.Sincos(e.start() + float64(e.Sweep*t))
		return Pt{-s, c}.Mul(math.Copysign(1, e.Sweep))
	}
	return e.Q.Sub(e.P).Unit().turned(e.Sweep * (t - 0.5))
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

// Moment returns the edge's share of the enclosed area, half the integral of x dy - y dx, exact but for rounding, which
// grows with the distance from the origin (Loop.Area measures from a point of the loop).
func (e Edge) Moment() float64 { return e.momentAbout(Pt{}) }

// momentAbout returns the area swept by the ray from o to the point that runs along e.
func (e Edge) momentAbout(o Pt) float64 {
	m := e.P.Sub(o).Cross(e.Q.Sub(o)) / 2
	if e.IsArc() {
		m += float64(float64(e.R*e.R) / 2 * lessSine(e.Sweep))
	}
	return m
}

// lessSine returns a - sin a without cancellation for small a.
func lessSine(a float64) float64 {
	if math.Abs(a) > 0.3 {
		return a - math.Sin(a)
	}
	q := a * a
	sum := 1.0
	for _, d := range [4]float64{110, 72, 42, 20} { // Taylor's series, from its end
		sum = 1 - float64(q/d*sum)
	}
	return a * q / 6 * sum
}

// Part returns the piece of e between parameters t0 < t1, with the given end points, which the caller may have snapped.
func (e Edge) Part(t0, t1 float64, p, q Pt) Edge {
	return Edge{P: p, Q: q, C: e.C, R: e.R, Sweep: e.Sweep * (t1 - t0)}.fitted()
}

// fitted returns e with a circle that goes through its ends, which were snapped: the nearest one to that of e. An arc that
// is straight to within a thousandth of Snap becomes a line.
func (e Edge) fitted() Edge {
	if !e.IsArc() || e.isLong() {
		return e
	}
	chord := e.Q.Sub(e.P)
	length := chord.Len()
	slack := 5e-11 + 1e-15*e.R
	switch {
	case math.Abs(e.P.Dist(e.C)-e.R) <= slack && math.Abs(e.Q.Dist(e.C)-e.R) <= slack:
	case math.Abs(math.Tan(e.Sweep/4))*length/2 <= Snap/1000:
		return Line(e.P, e.Q)
	case length < 100*Snap: // its direction is not to be trusted: keep the angle
		s, c := math.Sincos(e.Sweep / 2)
		e.C, e.R = e.P.Mid(e.Q).Add(chord.Left().Mul(c/(2*s))), math.Abs(length/(2*s))
		return e
	default:
		n := chord.Left().Mul(1 / length)
		m := e.P.Mid(e.Q)
		e.C = m.Add(n.Mul(e.C.Sub(m).Dot(n)))
		e.R = (e.P.Dist(e.C) + e.Q.Dist(e.C)) / 2
	}
	u, v := e.P.Sub(e.C), e.Q.Sub(e.C)
	turn := math.Remainder(math.Atan2(u.Cross(v), u.Dot(v))-e.Sweep, 2*math.Pi)
	if math.Abs(turn)*e.R <= slack {
		return e
	}
	if e.Sweep+turn == 0 || (e.Sweep+turn)*e.Sweep < 0 {
		return Line(e.P, e.Q)
	}
	e.Sweep += turn
	return e
}

// Box returns the bounding box of e, exact.
func (e Edge) Box() Box {
	b := EmptyBox().With(e.P).With(e.Q)
	if !e.IsArc() {
		return b
	}
	for _, d := range [4]Pt{{e.R, 0}, {0, e.R}, {-e.R, 0}, {0, -e.R}} {
		if p := e.C.Add(d); e.bulges(p) {
			b = b.With(p)
		}
	}
	return b
}

// bulges reports whether a point lies on the side of the chord on which the arc e runs. A point of the circle that does
// lies on the arc.
func (e Edge) bulges(p Pt) bool { return e.Q.Sub(e.P).Cross(p.Sub(e.P))*e.Sweep < 0 }

// param returns the parameter of an arc at polar angle a about its centre; values above 1 lie off the arc.
func (e Edge) param(a float64) float64 {
	turn := 2 * math.Pi / math.Abs(e.Sweep)
	t := (a - e.start()) / e.Sweep
	return t - float64(math.Floor(t/turn)*turn)
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
