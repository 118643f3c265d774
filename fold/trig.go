package fold

import (
	"math"
	"slices"
)

// radians returns a in radians.
func radians(a float64) float64 { return a * (math.Pi / 180) }

// sinCos returns sine and cosine of an angle in degrees, exact at every multiple of 90.
func sinCos(deg float64) (float64, float64) {
	a := math.Mod(deg, 360)
	quarter := math.Round(a / 90)
	s, c := math.Sincos(radians(a - 90*quarter))
	switch (int(quarter)%4 + 4) % 4 {
	case 1:
		return c, -s
	case 2:
		return -s, -c
	case 3:
		return -c, s
	}
	return s, c
}

// sinc returns sin(a)/a for a in degrees, a counted in radians in the divisor; a series below 0.05 degree.
func sinc(deg float64) float64 {
	x := radians(deg)
	if math.Abs(deg) < 0.05 {
		return 1 - x*x/6 + x*x*x*x/120
	}
	s, _ := sinCos(deg)
	return s / x
}

// versine returns (1-cos a)/a for a in degrees, a counted in radians in the divisor; a series below 0.05 degree.
func versine(deg float64) float64 {
	x := radians(deg)
	if math.Abs(deg) < 0.05 {
		return x/2 - x*x*x/24 + x*x*x*x*x/720
	}
	_, c := sinCos(deg)
	return (1 - c) / x
}

// sortedUnique returns the values rising, each once.
func sortedUnique(v []float64) []float64 {
	v = slices.Clone(v)
	slices.Sort(v)
	return slices.Compact(v)
}
