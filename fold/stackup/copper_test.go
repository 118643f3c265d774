package stackup

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The strains are the outer copper strains of two laminates bent to an inside radius of 1 mm, worked by hand from the
// transformed section (E: polyimide 2.5, adhesive 0.5, copper 117 GPa): 2.8228 % and, for the one-sided laminate with
// its first layer inside, 0.8982 %.
func TestCopperReach(t *testing.T) {
	for _, c := range []struct {
		name   string
		s      Stackup
		strain float64
	}{{"two-sided", stackA(), 0.028228}, {"one-sided", stackB(), 0.008982}} {
		reach, ok := c.s.CopperReach()
		if !ok {
			t.Fatalf("%s: no copper found", c.name)
		}
		near(t, c.name, reach/(1+c.s.Inner(Top)), c.strain, 1e-6)
	}
}

func TestCopperReachUnknown(t *testing.T) {
	plain := Stackup{Plain: true, CopperLayers: 2, Layers: []Layer{{Thickness: 0.2, Modulus: 1}}}
	film := Stackup{Layers: []Layer{{Thickness: 0.05, Modulus: 2.5}}}
	etched := Stackup{Layers: Mix([]Layer{{Thickness: 0.05, Modulus: 2.5, Coverage: 1}, {Thickness: 0.018, Modulus: 117, Copper: true}})}
	held := Stackup{Rigid: true, Layers: []Layer{{Material: "copper-ra", Thickness: 0.035, Modulus: 117, Copper: true, Coverage: 1}, {Thickness: 0.2, Modulus: 1, Coverage: 1}}}
	for _, s := range []Stackup{plain, film, etched, held, {}} {
		if _, ok := s.CopperReach(); ok {
			t.Errorf("%+v: copper strain claimed to be known", s)
		}
		if _, ok := s.CopperRadius(Top, 0.01); ok {
			t.Errorf("%+v: least radius claimed to be known", s)
		}
	}
	for _, limit := range []float64{0, -0.1, math.NaN(), math.Inf(1)} {
		if _, ok := stackA().CopperRadius(Top, limit); ok {
			t.Errorf("a radius for the limit %v", limit)
		}
		if _, ok := stackA().FilmRadius(Top, limit); ok {
			t.Errorf("a film radius for the limit %v", limit)
		}
	}
}

// The least radius and the strain are each other's inverse, on either side, and reach and strains say the same.
func TestRadiusAndStrainAreInverse(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 1000 {
		s := random(r)
		radius := 0.01 + 10*r.Float64()
		for _, side := range []Side{Top, Bottom} {
			b := must[Bent](t, "strains")(s.Strains(side, radius))
			strain := must[float64](t, "copper")(b.Copper())
			relative(t, "radius for the copper", must[float64](t, "radius")(s.CopperRadius(side, strain)), radius, 1e-9)
			relative(t, "radius for the film", must[float64](t, "radius")(s.FilmRadius(side, b.Convex)), radius, 1e-9)
			reach, _ := s.CopperReach()
			relative(t, "reach", reach/b.NeutralRadius, strain, 1e-9)
		}
	}
}

// Where even a sharp fold keeps a limit, the least radius is 0.
func TestNoRadiusNeeded(t *testing.T) {
	if r, ok := stackC().CopperRadius(Top, 0.9); !ok || r != 0 {
		t.Errorf("%v %v", r, ok)
	}
	sharp := must[Bent](t, "sharp fold")(stackC().Strains(Top, 0))
	if c, ok := sharp.Copper(); !ok || c > 0.9 {
		t.Errorf("%v %v", c, ok)
	}
}
