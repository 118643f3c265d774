package stackup

import (
	"math"
	"testing"
)

// laminate builds a stack-up from thicknesses in um; copper marks the copper layers.
func laminate(thick, modulus []float64) Stackup {
	s := Stackup{CopperLayers: 0}
	for i := range thick {
		s.Layers = append(s.Layers, Layer{Thickness: thick[i] / 1000, Modulus: modulus[i], Copper: modulus[i] > 100})
	}
	return s
}

// The strains are the outer copper strains of two laminates bent to an inside radius of 1 mm, worked by hand from the
// transformed section (E: polyimide 2.5, adhesive 0.5, copper 117 GPa): 2.8228 % and, for the one-sided laminate with
// its first layer inside, 0.8982 %.
func TestCopperReach(t *testing.T) {
	a := laminate([]float64{25, 25, 18, 25, 18, 25, 25}, []float64{2.5, .5, 117, 2.5, 117, .5, 2.5})
	b := laminate([]float64{25, 25, 18, 13, 25}, []float64{2.5, .5, 117, .5, 2.5}) // bottom layer inside
	for _, c := range []struct {
		name   string
		s      Stackup
		strain float64
	}{{"two-sided", a, 0.028228}, {"one-sided", b, 0.008982}} {
		reach, ok := c.s.CopperReach()
		if !ok {
			t.Fatalf("%s: no copper found", c.name)
		}
		if got := reach / (1 + c.s.Neutral()); math.Abs(got-c.strain) > 1e-6 {
			t.Errorf("%s: copper strain %.6f, want %.6f", c.name, got, c.strain)
		}
	}
}

func TestCopperReachUnknown(t *testing.T) {
	plain := Stackup{Plain: true, CopperLayers: 2, Layers: []Layer{{Thickness: 0.2, Modulus: 1}}}
	film := Stackup{Layers: []Layer{{Thickness: 0.05, Modulus: 2.5}}}
	for _, s := range []Stackup{plain, film, {}} {
		if _, ok := s.CopperReach(); ok {
			t.Errorf("%+v: copper strain claimed to be known", s)
		}
	}
}
