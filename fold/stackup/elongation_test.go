package stackup

import (
	"math"
	"testing"
)

// The elongation formula with hand-worked values, um. The form for one layer was read in a copy, that for two is recalled.
func TestElongationFormula(t *testing.T) {
	one := func(c float64) Stackup {
		return laminate([]float64{25, 25, c, 25, 25}, []float64{ePI, eGlue, eCu, eGlue, ePI})
	}
	two := func(d, c float64) Stackup {
		return laminate([]float64{25, 25, c, d, c, 25, 25}, []float64{ePI, eGlue, eCu, ePI, eCu, eGlue, ePI})
	}
	for _, c := range []struct {
		name   string
		s      Stackup
		eb     float64
		want   float64
		within float64
	}{
		{"one layer of 35", one(35), 0.16, 41.875, 1e-9},
		{"one layer of 35", one(35), 0.10, 107.5, 1e-9},
		{"one layer of 35", one(35), 0.003, 5765.8, 0.05},
		{"one layer of 18", one(18), 0.16, -2.75, 1e-9},
		{"one layer of 18", one(18), 0.10, 31.0, 1e-9},
		{"one layer of 18", one(18), 0.003, 2941.0, 0.05},
		{"two of 18", two(25, 18), 0.16, 110.1, 0.05},
		{"two of 18", two(25, 18), 0.10, 224.5, 0.05},
		{"two of 18", two(25, 18), 0.003, 10086.2, 0.05},
		{"two of 35", two(50, 35), 0.16, 265, 1e-9},
		{"two of 35", two(50, 35), 0.10, 490, 1e-9},
		{"two of 35", two(50, 35), 0.003, 19890, 1e-7},
	} {
		for _, side := range []Side{Top, Bottom} { // all symmetric
			e := must[Elongation](t, c.name)(c.s.ElongationRadius(side, c.eb))
			near(t, c.name+" quoted", 1000*e.Quoted, c.want, c.within)
			near(t, c.name+" model", e.Model, max(0, e.Quoted), 1e-9) // the formula's assumption holds by symmetry
		}
	}
}

// Where the films pull the neutral surface out of the copper, quoted and model part; either side has its own cover.
func TestElongationOfLopsidedStack(t *testing.T) {
	s := stackB()
	a := must[Elongation](t, "thin cover inside")(s.ElongationRadius(Top, 0.003))
	b := must[Elongation](t, "thick cover inside")(s.ElongationRadius(Bottom, 0.003))
	near(t, "thin cover", 1000*a.Quoted, 9*(1/0.003-1)-38, 1e-9)
	near(t, "thick cover", 1000*b.Quoted, 9*(1/0.003-1)-50, 1e-9)
	if a.Model < a.Quoted+0.1 || b.Model < b.Quoted+0.1 {
		t.Errorf("quoted is not the lower: %+v %+v", a, b)
	}
	bare := must[Elongation](t, "copper inside")(stackC().ElongationRadius(Bottom, 0.10))
	near(t, "copper inside", 1000*bare.Quoted, 17.5*9, 1e-9)
	uneven := laminate([]float64{25, 18, 50, 35, 25}, []float64{ePI, eCu, ePI, eCu, ePI})
	near(t, "the thicker of two", 1000*must[Elongation](t, "uneven")(uneven.ElongationRadius(Top, 0.10)).Quoted, 60*9-25, 1e-9)
}

func TestElongationUnknown(t *testing.T) {
	three := laminate([]float64{18, 25, 18, 25, 18}, []float64{eCu, ePI, eCu, ePI, eCu})
	plain := Stackup{Plain: true, CopperLayers: 1, Layers: []Layer{{Thickness: 0.1, Modulus: 1}}}
	for _, s := range []Stackup{three, plain, laminate([]float64{25}, []float64{ePI}), {}} {
		if _, ok := s.ElongationRadius(Top, 0.1); ok {
			t.Errorf("%+v: claimed to be known", s)
		}
	}
	for _, eb := range []float64{0, -1, 1, 16, math.NaN()} {
		if _, ok := stackA().ElongationRadius(Top, eb); ok {
			t.Errorf("elongation %v", eb)
		}
	}
}
