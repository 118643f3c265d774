package stackup

import (
	"math/rand/v2"
	"testing"
)

// A symmetric stack-up is balanced; one-sided copper leans to its side, by hand: bare clad of 25 film under 35 copper has its
// copper 12.5 above the mid-plane at 30 um.
func TestBalance(t *testing.T) {
	a := must[Balance](t, "A")(stackA().Balance())
	near(t, "copper", a.Copper, 0, 1e-12)
	near(t, "stiffness", a.Stiffness, 0, 1e-12)
	if !a.Mirrored || a.Thickness != 0 {
		t.Errorf("%+v", a)
	}
	c := must[Balance](t, "C")(stackC().Balance()) // copper at the bottom
	near(t, "copper", c.Copper, -12.5/30, 1e-12)
	near(t, "stiffness", c.Stiffness, 2*0.2992-1, 0.0001)
	near(t, "thickness", c.Thickness, 0.010, 1e-15)
	if c.Mirrored {
		t.Errorf("%+v", c)
	}
	b := must[Balance](t, "B")(stackB().Balance()) // covers 25 + 13 above, 25 + 25 below
	near(t, "copper", b.Copper, 6.0/53, 1e-12)
	near(t, "thickness", b.Thickness, 0.012, 1e-15)
}

// Coverage counts as copper does: a full layer above a half one leans by a third of their distance; etched copper is none.
func TestBalanceOfCoverage(t *testing.T) {
	at := func(top, bottom float64) Balance {
		s := Stackup{Layers: Mix([]Layer{{Thickness: 0.02, Modulus: eCu, Copper: true, Coverage: top}, {Thickness: 0.06, Modulus: ePI, Coverage: 1},
			{Thickness: 0.02, Modulus: eCu, Copper: true, Coverage: bottom}})}
		return must[Balance](t, "clad")(s.Balance())
	}
	near(t, "half", at(1, 0.5).Copper, 0.04*(1-0.5)/1.5/0.05, 1e-12)
	near(t, "etched", at(1, 0).Copper, 0.8, 1e-12)
	near(t, "none", at(0, 0).Copper, 0, 0)
	if b := at(1, 0.5); b.Mirrored || b.Thickness != 0 || b.Stiffness <= 0 {
		t.Errorf("%+v", b)
	}
	if b := at(0.5, 0.5); !b.Mirrored {
		t.Errorf("%+v", b)
	}
}

func TestBalanceTurnedOver(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for range 300 {
		s := random(r)
		a, b := must[Balance](t, "as made")(s.Balance()), must[Balance](t, "turned over")(turned(s).Balance())
		near(t, "copper", a.Copper, -b.Copper, 1e-12)
		near(t, "stiffness", a.Stiffness, -b.Stiffness, 1e-12)
		if a.Thickness != b.Thickness || a.Mirrored != b.Mirrored {
			t.Errorf("%+v %+v", a, b)
		}
	}
	if _, ok := (Stackup{}).Balance(); ok {
		t.Error("nothing is balanced")
	}
	if _, ok := (Stackup{Plain: true, Layers: []Layer{{Thickness: 1, Modulus: 1}}}).Balance(); ok {
		t.Error("a plain sheet is said to be balanced")
	}
}

// The flex's core runs on through a rigid section that holds it without its covers, whatever the coverage there; not through
// one with other copper, and half of it where one clad alone runs on.
func TestContinuous(t *testing.T) {
	s := four()
	fr4 := Layer{Material: "fr4", Thickness: 0.3, Modulus: 22, Coverage: 1}
	hold := func(layers ...Layer) Stackup {
		return Stackup{Name: "rigid", Rigid: true, Layers: append(append([]Layer{fr4}, layers...), fr4)}
	}
	fuller := append([]Layer(nil), s.Layers[2:9]...)
	fuller[0].Coverage, fuller[0].Modulus = 0.9, 105
	other := append([]Layer(nil), s.Layers[2:9]...)
	for i := range other {
		if other[i].Copper {
			other[i].Thickness = 0.035
		}
	}
	for _, c := range []struct {
		name  string
		flex  Stackup
		rigid Stackup
		run   int
		of    int
	}{
		{"core", s, hold(s.Layers[2:9]...), 4, 4}, {"with covers", s, hold(s.Layers...), 4, 4}, {"other coverage", s, hold(fuller...), 4, 4},
		{"upper clad", s, hold(s.Layers[2:5]...), 2, 4}, {"other copper", s, hold(other...), 0, 4}, {"foil of the same kind", s, hold(s.Layers[4]), 0, 4},
		{"no flex", s, hold(), 0, 4}, {"no copper", laminate([]float64{50}, []float64{ePI}), hold(), 0, 0},
		{"foil alone", laminate([]float64{35}, []float64{eCu}), Stackup{Rigid: true, Layers: []Layer{fr4, laminate([]float64{35}, []float64{eCu}).Layers[0]}}, 1, 1},
	} {
		run, of, known := Continuous(c.flex, c.rigid)
		if run != c.run || of != c.of || !known {
			t.Errorf("%s: %d of %d, %v", c.name, run, of, known)
		}
	}
	plain := Stackup{Plain: true, Layers: []Layer{{Thickness: 1, Modulus: 1}}}
	for _, p := range [][2]Stackup{{s, plain}, {plain, s}, {s, {}}, {{}, s}} {
		if _, _, known := Continuous(p[0], p[1]); known {
			t.Error("claimed to be known")
		}
	}
}
