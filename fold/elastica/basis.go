package elastica

import "math"

// degree is that of the heading's polynomial on each element of a strip; gauss the number of points of every quadrature.
// An element is a straight piece of heading plus bubbles, which vanish at its ends.
const (
	degree  = 8
	gauss   = 10
	locals  = degree + 1 // two ends, then the bubbles
	bubbles = degree - 1
)

// point is a place of the element [-1, 1] with the values of the local functions there.
type point struct {
	at, weight float64
	value      [locals]float64
}

// points are the Gauss-Legendre points of the element.
var points = gaussPoints()

// shapes returns the local functions at t: the two straight ones, then the integrals of the Legendre polynomials P1..P7 from
// -1 to t, scaled so that their slopes are orthonormal on [-1, 1].
func shapes(t float64) (v [locals]float64) {
	v[0], v[1] = (1-t)/2, (1+t)/2
	before, here := 1.0, t
	for j := 1; j <= bubbles; j++ {
		n := float64(j)
		next := ((2*n+1)*t*here - n*before) / (n + 1)
		v[1+j] = (next - before) / math.Sqrt(2*(2*n+1))
		before, here = here, next
	}
	return v
}

// legendre returns P_n and its slope at t, |t| < 1.
func legendre(n int, t float64) (p, slope float64) {
	before, here := 1.0, t
	for j := 1; j < n; j++ {
		k := float64(j)
		before, here = here, ((2*k+1)*t*here-k*before)/(k+1)
	}
	return here, float64(n) * (before - t*here) / (1 - t*t)
}

// gaussPoints finds the roots of P_gauss by Newton's method.
func gaussPoints() (out [gauss]point) {
	for i := range out {
		t := -math.Cos(math.Pi * (float64(i) + 0.75) / (gauss + 0.5))
		for range 8 {
			p, slope := legendre(gauss, t)
			t -= p / slope
		}
		_, slope := legendre(gauss, t)
		out[i] = point{at: t, weight: 2 / ((1 - t*t) * slope * slope), value: shapes(t)}
	}
	return out
}
