package stackup

import (
	"math"
	"testing"
)

func foil(t *testing.T, name string) Foil { return must[Foil](t, name)(FoilOf(name)) }

// Mean cycles by Engelmaier's relation (recalled), worked apart from this code by root search: rolled annealed foil with Df
// 0.65, Su 140 MPa, and electrodeposited with Df 0.30, Su 280 MPa, both E 117 GPa.
func TestWorkedLives(t *testing.T) {
	ra, ed := foil(t, "copper-ra"), foil(t, "copper-ed")
	for _, c := range []struct{ strain, ra, ed float64 }{
		{0.10, 28.55, 11.32}, {0.05, 94.2, 38.7}, {0.02, 478.8, 219.3}, {0.01, 1757, 971.4}, {0.005, 7277, 6254}, {0.002, 72580, 467000},
	} {
		relative(t, "rolled annealed", must[Life](t, "ra")(ra.Life(c.strain)).Cycles, c.ra, 0.0008)
		relative(t, "electrodeposited", must[Life](t, "ed")(ed.Life(c.strain)).Cycles, c.ed, 0.0015)
	}
	plastic, _ := ra.terms()
	for strain, want := range map[float64]float64{0.10: 27.09, 0.05: 86.0, 0.02: 396.1, 0.01: 1257, 0.005: 3992, 0.002: 18380} {
		relative(t, "plastic term alone", math.Exp(plastic.at(strain)), want, 0.0006)
	}
}

// Stack A from flat to a radius and back, and bare foil of 18 um to and fro over a mandrel of 2 mm (worked apart).
func TestLifeOfBends(t *testing.T) {
	ra, ed := foil(t, "copper-ra"), foil(t, "copper-ed")
	s := stackA()
	for _, c := range []struct{ radius, ra, ed float64 }{{1, 257, 112}, {10 * s.Thickness(), 578, 270}, {24 * s.Thickness(), 2922, 1820}} {
		b := must[Bent](t, "A")(s.Strains(Top, c.radius))
		strain := must[float64](t, "copper")(b.Copper())
		relative(t, "rolled annealed", must[Life](t, "ra")(ra.Life(strain)).Cycles, c.ra, 0.002)
		relative(t, "electrodeposited", must[Life](t, "ed")(ed.Life(strain)).Cycles, c.ed, 0.004)
	}
	soft := ra
	soft.Modulus = 83 // GPa, as the test method's text uses
	b := must[Bent](t, "A")(s.Strains(Top, 10*s.Thickness()))
	relative(t, "soft foil", must[Life](t, "soft")(soft.Life(must[float64](t, "copper")(b.Copper()))).Cycles, 632, 0.001)
	strain := MandrelRange(2, 0.018)
	near(t, "mandrel", strain, 0.0089597, 5e-8)
	relative(t, "mandrel", must[Life](t, "ra")(ra.Life(strain)).Cycles, 2178, 0.0003)
	relative(t, "mandrel", must[Life](t, "ed")(ed.Life(strain)).Cycles, 1262, 0.0005)
}

// Life and strain range are each other's inverse over ten decades; more strain is fewer cycles; the relation itself holds.
func TestLifeAndStrainAreInverse(t *testing.T) {
	for _, f := range append(Foils(), Foil{Ductility: 2, Strength: 1, Modulus: 300}, Foil{Ductility: 0.01, Strength: 900, Modulus: 40}) {
		before := math.Inf(1)
		for d := -5.0; d <= 0.5; d += 0.125 {
			strain := math.Pow(10, d)
			life := must[Life](t, "life")(f.Life(strain))
			relative(t, "round trip", must[float64](t, "strain")(f.StrainRange(life.Cycles)), strain, 1e-12)
			n := life.Cycles
			elastic := 0.9 * f.Strength / (1000 * f.Modulus) * math.Pow(math.Exp(f.Ductility)/0.36, 0.1785*math.Log10(1e5/n))
			relative(t, "relation", math.Pow(n, -0.6)*math.Pow(f.Ductility, 0.75)+elastic, strain, 1e-12)
			near(t, "elastic share", life.Elastic, elastic/strain, 1e-12)
			if !(n < before) || life.Low*10 != n && math.Abs(life.Low*10/n-1) > 1e-15 || life.High != 10*n {
				t.Errorf("%v: %+v after %v", strain, life, before)
			}
			before = n
		}
	}
}

// At a strain range of 0.002 strength and modulus rule the life of ED foil: a figure to be told apart.
func TestElasticShare(t *testing.T) {
	ed := foil(t, "copper-ed")
	if l := must[Life](t, "ed")(ed.Life(0.002)); l.Elastic < 0.9 {
		t.Errorf("%+v", l)
	}
	if l := must[Life](t, "ed")(ed.Life(0.02)); l.Elastic > 0.3 {
		t.Errorf("%+v", l)
	}
}

func TestLifeUnknown(t *testing.T) {
	ra := foil(t, "copper-ra")
	for _, x := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, ok := ra.Life(x); ok {
			t.Errorf("a life at %v", x)
		}
		if _, ok := ra.StrainRange(x); ok {
			t.Errorf("a strain at %v", x)
		}
		if !math.IsNaN(MandrelRange(x, 0.018)) || !math.IsNaN(MandrelRange(1, x)) {
			t.Errorf("a mandrel of %v", x)
		}
	}
	for _, f := range []Foil{{}, {Ductility: 0.3, Strength: 200}, {Strength: 200, Modulus: 117}} {
		if _, ok := f.Life(0.01); ok {
			t.Errorf("a life of %+v", f)
		}
	}
	if _, ok := FoilOf("polyimide"); ok {
		t.Error("polyimide foil")
	}
}

// Every foil belongs to a built-in copper, has that copper's modulus, and says where its figures come from.
func TestFoils(t *testing.T) {
	for _, f := range Foils() {
		m := must[Material](t, f.Material)(BuiltIn(f.Material))
		if !m.Copper || f.Modulus != m.Modulus || f.Source == "" || f.Yield > f.Strength || !(f.Ductility > 0 && f.Ductility < 1) {
			t.Errorf("%+v", f)
		}
	}
	if n := len(Foils()); n != 2 {
		t.Errorf("%d foils", n)
	}
}
