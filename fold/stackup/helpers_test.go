package stackup

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Moduli in GPa of the worked stacks.
const (
	ePI, eGlue, eCu = 2.5, 0.5, 117.0
)

// laminate builds a stack-up from thicknesses in um, top to bottom; moduli above 100 are copper, without a word on coverage.
func laminate(thick, modulus []float64) Stackup {
	s := Stackup{}
	for i := range thick {
		s.Layers = append(s.Layers, Layer{Thickness: thick[i] / 1000, Modulus: modulus[i], Copper: modulus[i] > 100})
	}
	return s
}

// The worked stacks of the tests, inside face first: bent toward the top, that face is inside.
func stackA() Stackup {
	return laminate([]float64{25, 25, 18, 25, 18, 25, 25}, []float64{ePI, eGlue, eCu, ePI, eCu, eGlue, ePI})
}
func stackB() Stackup {
	return laminate([]float64{25, 13, 18, 25, 25}, []float64{ePI, eGlue, eCu, eGlue, ePI})
}
func stackC() Stackup { return laminate([]float64{25, 35}, []float64{ePI, eCu}) }

// turned returns the stack-up turned over.
func turned(s Stackup) Stackup {
	s.Layers = slices.Clone(s.Layers)
	slices.Reverse(s.Layers)
	return s
}

// random returns a laminate of 1 to 12 layers, moduli over four decades, one copper layer at least.
func random(r *rand.Rand) Stackup {
	n := 1 + r.IntN(12)
	s := Stackup{Name: "random", Layers: make([]Layer, n)}
	for i := range s.Layers {
		s.Layers[i] = Layer{Thickness: 0.005 + 0.2*r.Float64(), Modulus: math.Pow(10, 4*r.Float64()-1.5), Coverage: 1}
	}
	l := &s.Layers[r.IntN(n)]
	l.Copper, l.Modulus = true, eCu
	return s
}

// near fails unless got is want to the absolute tolerance.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.10g, want %.10g", what, got, want)
	}
}

// relative fails unless got is want to the relative tolerance.
func relative(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	near(t, what, got, want, tol*math.Abs(want))
}

// must returns a value that has to be known.
func must[T any](t *testing.T, what string) func(T, bool) T {
	return func(v T, known bool) T {
		t.Helper()
		if !known {
			t.Fatalf("%s: not known", what)
		}
		return v
	}
}

// integrate returns the integral of f from a to b by Simpson's rule with 2000 steps.
func integrate(a, b float64, f func(float64) float64) float64 {
	const n = 2000
	sum, h := f(a)+f(b), (b-a)/n
	for i := 1; i < n; i++ {
		sum += float64(2+2*(i%2)) * f(a+float64(i)*h)
	}
	return sum * h / 3
}
