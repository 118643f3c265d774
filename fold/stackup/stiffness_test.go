package stackup

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Worked stacks, inside face first (E: polyimide 2.5, adhesive 0.5, copper 117 GPa), computed apart from this code: height
// of the neutral surface above the inside face, um; K; EI/b, N.mm.
func TestWorkedStacks(t *testing.T) {
	half := stackB()
	half.Layers[2].Coverage = 0.5
	for i := range half.Layers {
		if half.Layers[i].Modulus == eGlue {
			half.Layers[i].Role = "adhesive"
		}
	}
	half.Layers = Mix(half.Layers)
	for _, c := range []struct {
		name       string
		s          Stackup
		inside     Side
		neutral, k float64
		stiffness  float64 // 0 = none given
	}{
		{"A", stackA(), Top, 80.500, 0.5000, 2.6960},
		{"B", stackB(), Top, 47.408, 0.4472, 0.28061},
		{"B reversed", stackB(), Bottom, 58.592, 0.5528, 0.28061},
		{"B half covered", half, Top, 47.764, 0.4506, 0.25198},
		{"C", stackC(), Top, 42.049, 0.7008, 0},
		{"C, copper inside", stackC(), Bottom, 17.951, 0.2992, 0},
	} {
		near(t, c.name+" neutral surface", 1000*c.s.Inner(c.inside), c.neutral, 0.0006)
		near(t, c.name+" K", c.s.Inner(c.inside)/c.s.Thickness(), c.k, 0.00006)
		if c.stiffness > 0 {
			relative(t, c.name+" stiffness", must[float64](t, c.name)(c.s.Stiffness()), c.stiffness, 3e-5)
		}
	}
}

// The force in a bent laminate is zero, to 1e-12 of its parts.
func TestForcesBalance(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 2000 {
		s := random(r)
		b := must[Bent](t, "strains")(s.Strains(Side(r.IntN(2)), 10*r.Float64()))
		force, parts := 0.0, 0.0
		for i, l := range s.Layers {
			f := l.Modulus * l.Thickness * (b.Layers[i].Inner + b.Layers[i].Outer) / 2
			force += f
			parts += l.Modulus * l.Thickness * max(math.Abs(b.Concave), b.Convex)
		}
		near(t, "force", force/parts, 0, 1e-12)
	}
}

// Two more ways to the stiffness: the moment of the stresses, and twice the strain energy over curvature squared, both
// integrated through the thickness in many steps.
func TestStiffnessBySummation(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 50 {
		s := random(r)
		ei := must[float64](t, "stiffness")(s.Stiffness())
		b := must[Bent](t, "strains")(s.Strains(Top, 1))
		moment, energy := 0.0, 0.0
		for i, l := range s.Layers {
			from, to := b.Layers[i].Inner*b.NeutralRadius, b.Layers[i].Outer*b.NeutralRadius
			moment += integrate(from, to, func(h float64) float64 { return 1000 * l.Modulus * h / b.NeutralRadius * h })
			energy += integrate(from, to, func(h float64) float64 { return 500 * l.Modulus * math.Pow(h/b.NeutralRadius, 2) })
		}
		relative(t, "moment", moment, must[float64](t, "moment")(HoldingMoment(ei, b.NeutralRadius, 1)), 1e-12)
		relative(t, "energy", 2*energy*b.NeutralRadius*b.NeutralRadius, ei, 1e-12)
		over := must[float64](t, "stiffness")(turned(s).Stiffness())
		relative(t, "turned over", over, ei, 1e-12)
	}
}

// One sheet: E t^3/12. Cutting a layer in two changes nothing.
func TestStiffnessOfOneSheet(t *testing.T) {
	one := laminate([]float64{120}, []float64{3})
	three := laminate([]float64{20, 70, 30}, []float64{3, 3, 3})
	for _, s := range []Stackup{one, three} {
		relative(t, "sheet", must[float64](t, "sheet")(s.Stiffness()), 3000*0.12*0.12*0.12/12, 1e-14)
		near(t, "middle", s.Neutral(), 0.06, 1e-16)
	}
}

// The moment grows with the width, and so does the force; a layer of 1 GPa in a flexible stack-up is a layer like others.
func TestWidths(t *testing.T) {
	near(t, "moment", must[float64](t, "moment")(HoldingMoment(2.5, 2, 8)), 10, 1e-14)
	one, eight := must[float64](t, "force")(SqueezingForce(2.5, 2, 1)), must[float64](t, "force")(SqueezingForce(2.5, 2, 8))
	near(t, "force", eight, 8*one, 1e-12)
	must[float64](t, "1 GPa")(laminate([]float64{100}, []float64{1}).Stiffness())
}

func TestStiffnessUnknown(t *testing.T) {
	plain := Stackup{Plain: true, Layers: []Layer{{Thickness: 0.2, Modulus: 1}}}
	air := Stackup{Layers: []Layer{{Thickness: 0.2}}}
	bad := laminate([]float64{25}, []float64{math.NaN()})
	held := Stackup{Rigid: true, Layers: []Layer{{Material: "fr4", Thickness: 0.3, Modulus: 22}, {Thickness: 0.2, Modulus: 1}}}
	for _, s := range []Stackup{plain, air, bad, held, {}} {
		if _, ok := s.Stiffness(); ok {
			t.Errorf("%+v: stiffness claimed to be known", s)
		}
	}
}

// Copper that covers nothing is its filler, copper that covers all is copper; between, stiffness only rises.
func TestStiffnessAndCoverage(t *testing.T) {
	at := func(c float64) Stackup {
		return Stackup{Layers: Mix([]Layer{{Material: "polyimide", Thickness: 0.025, Modulus: ePI}, {Material: "adhesive", Thickness: 0.013, Modulus: eGlue},
			{Material: "copper-ra", Thickness: 0.018, Modulus: eCu, Copper: true, Coverage: c},
			{Material: "adhesive", Thickness: 0.025, Modulus: eGlue}, {Material: "polyimide", Thickness: 0.025, Modulus: ePI}})}
	}
	film := laminate([]float64{25, 56, 25}, []float64{ePI, eGlue, ePI})
	relative(t, "none", must[float64](t, "none")(at(0).Stiffness()), must[float64](t, "film")(film.Stiffness()), 1e-13)
	relative(t, "all", must[float64](t, "all")(at(1).Stiffness()), must[float64](t, "B")(stackB().Stiffness()), 1e-13)
	before := 0.0
	for c := 0.0; c <= 1; c += 1.0 / 64 {
		ei := must[float64](t, "part")(at(c).Stiffness())
		if ei <= before {
			t.Errorf("coverage %v: %v after %v", c, ei, before)
		}
		before = ei
	}
}

// The force of a U between plates from the integral of sqrt(sin t), 2.3962804695 (classic two-point bending: its constant
// 1.198 is half of it), and from the Gamma function.
func TestSqueezingForce(t *testing.T) {
	sum := integrate(0, 1, func(u float64) float64 { // t = pi u^2 (3 - 2u): flat ends, where the root is steep
		return math.Sqrt(max(0, math.Sin(math.Pi*u*u*(3-2*u)))) * math.Pi * 6 * u * (1 - u)
	})
	near(t, "integral", sum, 2.3962804695, 1e-9)
	near(t, "half its square", sum*sum/2, squeeze, 1e-8)
	near(t, "Gamma", math.Pi*math.Pow(math.Gamma(0.75)/math.Gamma(1.25), 2)/2, squeeze, 1e-14)
	near(t, "to five digits", squeeze, 2.87108, 5e-6)
	// stack A in a neutral gap of 3.16 mm, 10 mm wide
	near(t, "force", must[float64](t, "force")(SqueezingForce(2.6960, 3.16, 10)), 2.87108*2.6960/(3.16*3.16)*10, 1e-5)
}

func TestMomentsOfNonsense(t *testing.T) {
	for _, bad := range [][3]float64{{0, 1, 1}, {1, 0, 1}, {1, 1, -1}, {math.NaN(), 1, 1}, {1, math.Inf(1), 1}} {
		if _, ok := HoldingMoment(bad[0], bad[1], bad[2]); ok {
			t.Errorf("a moment of %v", bad)
		}
		if _, ok := SqueezingForce(bad[0], bad[1], bad[2]); ok {
			t.Errorf("a force of %v", bad)
		}
	}
	near(t, "plane strain", PlaneStrain(Poisson), 1.131, 0.0005)
	for _, nu := range []float64{-1, 0.51, 1, math.NaN()} {
		if !math.IsNaN(PlaneStrain(nu)) {
			t.Errorf("plane strain for %v", nu)
		}
	}
}
