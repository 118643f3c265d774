package stackup

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Worked stacks bent to 1 mm: strain of the copper's faces and of the outer film, %, from the transformed section
// (computed apart from this code).
func TestWorkedStrains(t *testing.T) {
	for _, c := range []struct {
		name                string
		s                   Stackup
		inner, outer, faces float64
		copperInside        int // index of the innermost and outermost copper layer
		copperOutside       int
	}{
		{"A", stackA(), -2.8228, 2.8228, 7.4503, 2, 4},
		{"B", stackB(), -0.8982, 0.8203, 5.5940, 2, 2},
		{"C", stackC(), -1.6361, 1.7227, 1.7227, 1, 1},
	} {
		b := must[Bent](t, c.name)(c.s.Strains(Top, 1))
		near(t, c.name+" inner copper face", 100*b.Layers[c.copperInside].Inner, c.inner, 0.00006)
		near(t, c.name+" outer copper face", 100*b.Layers[c.copperOutside].Outer, c.outer, 0.00006)
		near(t, c.name+" outside face", 100*b.Convex, c.faces, 0.00006)
	}
}

// The copper strain of stack A at the ratios of the trade, %: what the rule of thumb asks for (computed apart).
func TestStrainAtRatios(t *testing.T) {
	s := stackA()
	for ratio, want := range map[float64]float64{6: 2.914, 10: 1.804, 12: 1.516, 20: 0.924, 24: 0.773} {
		b := must[Bent](t, "A")(s.Strains(Bottom, ratio*s.Thickness()))
		near(t, "A", 100*must[float64](t, "copper")(b.Copper()), want, 0.0006)
	}
	b := must[Bent](t, "A")(s.Strains(Bottom, 100*s.Thickness()))
	near(t, "A at 100 t", 100*must[float64](t, "copper")(b.Copper()), 0.1885, 0.00006)
}

// A sheet given by its thickness alone: t/(2R + t), 4.76 % at 10 t and 7.69 % at 6 t.
func TestPlainSheet(t *testing.T) {
	s := Stackup{Plain: true, CopperLayers: -1, Layers: []Layer{{Thickness: 0.2, Modulus: 1}}}
	for ratio, want := range map[float64]float64{10: 4.76, 6: 7.69} {
		b := must[Bent](t, "plain")(s.Strains(Top, ratio*0.2))
		near(t, "plain", 100*b.Convex, want, 0.006)
		relative(t, "plain", b.Convex, 0.2/(2*ratio*0.2+0.2), 1e-14)
		near(t, "plain", b.Concave, -b.Convex, 1e-15)
		if _, ok := b.Copper(); ok {
			t.Error("copper in a plain sheet")
		}
	}
}

// Turned over and bent toward the other side, every layer has the strain it had; neighbours share that of their face.
func TestTurnedOverStrains(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 500 {
		s := random(r)
		radius, n := 5*r.Float64(), len(s.Layers)
		a := must[Bent](t, "as made")(s.Strains(Top, radius))
		b := must[Bent](t, "turned over")(turned(s).Strains(Bottom, radius))
		relative(t, "neutral radius", a.NeutralRadius, b.NeutralRadius, 1e-13)
		near(t, "concave", a.Concave, b.Concave, 1e-12)
		near(t, "convex", a.Convex, b.Convex, 1e-12)
		for i, l := range a.Layers {
			m := b.Layers[n-1-i]
			near(t, "inner", l.Inner, m.Inner, 1e-12)
			near(t, "outer", l.Outer, m.Outer, 1e-12)
			if l.Copper != m.Copper {
				t.Error("copper moved")
			}
			if i > 0 {
				near(t, "common face", l.Inner, a.Layers[i-1].Outer, 1e-13)
			}
		}
		near(t, "first face", a.Layers[0].Inner, a.Concave, 1e-13)
		near(t, "last face", a.Layers[n-1].Outer, a.Convex, 1e-13)
	}
}

// A second way: the length of a fibre laid around the cylinder, in small steps, against its length in the flat.
func TestStrainIsStretch(t *testing.T) {
	s, radius, angle := stackB(), 0.7, 2.0
	b := must[Bent](t, "B")(s.Strains(Top, radius))
	depth := 0.0
	for _, l := range b.Layers[:4] {
		depth += s.Layers[0].Thickness
		s.Layers = s.Layers[1:]
		const n = 20000
		length := 0.0
		for i := range n {
			a0, a1 := angle*float64(i)/n, angle*float64(i+1)/n
			x0, y0 := (radius+depth)*math.Sin(a0), (radius+depth)*math.Cos(a0)
			length += math.Hypot((radius+depth)*math.Sin(a1)-x0, (radius+depth)*math.Cos(a1)-y0)
		}
		flat := angle * b.NeutralRadius
		near(t, "stretch", length/flat-1, l.Outer, 1e-8)
	}
}

func TestStrainsOfNonsense(t *testing.T) {
	for _, radius := range []float64{-1, math.NaN(), math.Inf(-1)} {
		if _, ok := stackA().Strains(Top, radius); ok {
			t.Errorf("strains at radius %v", radius)
		}
	}
	if _, ok := (Stackup{}).Strains(Top, 1); ok {
		t.Error("strains in nothing")
	}
	flat := must[Bent](t, "flat")(stackA().Strains(Bottom, math.Inf(1)))
	if c, ok := flat.Copper(); !ok || c != 0 || flat.Convex != 0 {
		t.Errorf("flat: %+v", flat)
	}
}
