package elastica

import "math"

// shoot integrates k' = Px sin t - Py cos t from a clamp at the origin over a length: classical Runge-Kutta with n and 2n steps,
// extrapolated. It shares nothing with the package but the equation.
func shoot(k float64, force vec, length float64, n int) Point {
	a, b := rungeKutta(k, force, length, n), rungeKutta(k, force, length, 2*n)
	for i := range b {
		b[i] += (b[i] - a[i]) / 15
	}
	return Point{S: length, X: b[0], Y: b[1], Heading: b[2] * 180 / math.Pi, Curvature: b[3]}
}

func rungeKutta(k float64, p vec, length float64, n int) [4]float64 {
	slope := func(v [4]float64) [4]float64 {
		s, c := math.Sincos(v[2])
		return [4]float64{c, s, v[3], p[0]*s - p[1]*c}
	}
	plus := func(v, d [4]float64, f float64) [4]float64 {
		for i := range v {
			v[i] += f * d[i]
		}
		return v
	}
	h := length / float64(n)
	v := [4]float64{0, 0, 0, k}
	for range n {
		a := slope(v)
		b := slope(plus(v, a, h/2))
		c := slope(plus(v, b, h/2))
		d := slope(plus(v, c, h))
		for i := range v {
			v[i] += h / 6 * (a[i] + 2*b[i] + 2*c[i] + d[i])
		}
	}
	return v
}
