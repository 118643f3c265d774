package stackup

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A steel sheet of a published teaching example, yield 300 MPa, E 210 GPa, radius 50, thickness 2 mm: the
// radius is 0.89304 of what it becomes, 55.989 mm.
func TestPublishedSheet(t *testing.T) {
	kept := must[float64](t, "sheet")(SheetSpringback(300, 210, 50, 2))
	near(t, "ratio", kept, 0.89304, 0.000005)
	near(t, "radius", 50/kept, 55.989, 0.0005)
	for _, bad := range [][4]float64{{0, 210, 50, 2}, {300, -1, 50, 2}, {300, 210, math.NaN(), 2}, {300, 210, 50, 0}} {
		if _, ok := SheetSpringback(bad[0], bad[1], bad[2], bad[3]); ok {
			t.Errorf("%v", bad)
		}
	}
	if kept, ok := SheetSpringback(300, 210, 700, 2); !ok || kept != 0 { // X = 0.5: just elastic
		t.Errorf("elastic sheet keeps %v", kept)
	}
}

// A laminate of one material is the sheet of the closed form, on either way of letting go.
func TestLaminateOfOneMaterial(t *testing.T) {
	for _, radius := range []float64{0, 0.01, 0.1, 0.5, 2, 10, 40, 1000} {
		s := laminate([]float64{10, 20, 40}, []float64{eCu, eCu, eCu})
		got := must[Springback](t, "copper")(s.Springback(Top, radius, Yield{Copper: 120}))
		want := must[float64](t, "sheet")(SheetSpringback(120, eCu, radius+0.035, 0.07))
		near(t, "elastic way back", got.Elastic, want, 1e-12)
		near(t, "retained", got.Retained, want, 1e-12)
		film := laminate([]float64{70}, []float64{eCu - 50})
		got = must[Springback](t, "film")(film.Springback(Bottom, radius, Yield{Film: 70}))
		near(t, "film", got.Retained, must[float64](t, "sheet")(SheetSpringback(70, eCu-50, radius+0.035, 0.07)), 1e-12)
	}
}

// Stack A with copper of 120 MPa, films elastic or of 69 MPa: what is kept with an elastic way back (worked apart from this
// code), and what is left when the copper may yield again (worked apart as well, fibre by fibre).
func TestWorkedSpringback(t *testing.T) {
	for _, c := range []struct{ radius, elastic, retained, clippedElastic, clippedRetained float64 }{
		{0.5, 0.744, 0.085, 0.911, 0.791}, {1, 0.727, 0.158, 0.850, 0.679}, {2, 0.693, 0.304, 0.729, 0.457}, {3, 0.658, 0.450, 0.658, 0.450}, {5, 0.589, 0.567, 0.589, 0.567},
	} {
		a := must[Springback](t, "A")(stackA().Springback(Top, c.radius, Yield{Copper: 120}))
		near(t, "elastic", a.Elastic, c.elastic, 0.0005001)
		near(t, "retained", a.Retained, c.retained, 0.0005001)
		b := must[Springback](t, "A")(stackA().Springback(Bottom, c.radius, Yield{Copper: 120, Film: PolyimideYield}))
		near(t, "elastic, films yield", b.Elastic, c.clippedElastic, 0.0005001)
		near(t, "retained, films yield", b.Retained, c.clippedRetained, 0.0005001)
	}
}

// Let go, the bend holds no moment and no force: stresses built up fibre by fibre along the whole way, to the formed
// curvature and back in small steps with the neutral surface where the forces balance. Exact for symmetric laminates up
// to the size of fibres and steps, close for others.
func TestSpringbackAgainstFibres(t *testing.T) {
	for _, c := range []struct {
		name   string
		s      Stackup
		radius float64
		y      Yield
		within float64 // of the share
	}{
		{"A", stackA(), 1, Yield{Copper: 120}, 0.001},
		{"A, films yield", stackA(), 0.7, Yield{Copper: 120, Film: PolyimideYield}, 0.001},
		{"B", stackB(), 1, Yield{Copper: 120, Film: PolyimideYield}, 0.003},
		{"C", stackC(), 0.5, Yield{Copper: 120}, 0.04},
		{"C, films yield", stackC(), 1, Yield{Copper: 120, Film: PolyimideYield}, 0.003},
		{"thin copper", laminate([]float64{50, 9}, []float64{ePI, eCu}), 1, Yield{Copper: 120}, 0.003},
	} {
		got := must[Springback](t, c.name)(c.s.Springback(Top, c.radius, c.y))
		near(t, c.name, got.Retained, stepped(c.s, 1/(c.radius+c.s.Inner(Top)), c.y), c.within)
	}
}

// stepped returns the share of curvature k kept, by following every fibre's stress there and back.
func stepped(s Stackup, k float64, y Yield) float64 {
	const steps = 400
	p := path{}
	for _, x := range s.fibres(y) {
		for i := range 60 {
			d := (x.hi - x.lo) / 60
			p.fibres = append(p.fibres, fibre{x.lo + float64(i)*d, x.lo + float64(i+1)*d, x.modulus, x.yield})
		}
	}
	p.stress = make([]float64, len(p.fibres))
	for range steps {
		p.bend(k / steps)
	}
	for left := k; ; left -= k / steps {
		before := p.moment()
		if before <= 0 {
			return left / k
		}
		p.bend(-k / steps)
		if after := p.moment(); after <= 0 {
			return (left - k/steps*before/(before-after)) / k
		}
	}
}

// path is a section on its way: fibres and the stresses they carry.
type path struct {
	fibres fibres
	stress []float64
}

// bend changes the curvature by d, at the stretch of the bottom face that keeps the force zero.
func (p *path) bend(d float64) {
	try := func(stretch float64, keep bool) float64 {
		force := 0.0
		for i, x := range p.fibres {
			v := p.stress[i] + x.modulus*(stretch+d*(x.lo+x.hi)/2)
			v = max(-x.yield, min(x.yield, v))
			force += v * (x.hi - x.lo)
			if keep {
				p.stress[i] = v
			}
		}
		return force
	}
	try(root(-1, 1, func(e float64) float64 { return try(e, false) }), true)
}

func (p *path) moment() float64 {
	m := 0.0
	for i, x := range p.fibres {
		m += p.stress[i] * (x.hi - x.lo) * (x.lo + x.hi) / 2
	}
	return m
}

// Turning over changes nothing; shares stay within 0 and 1; a symmetric laminate keeps no more than with an elastic way back.
func TestSpringbackOfAnyLaminate(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 30 {
		s, radius, y := random(r), 0.05+3*r.Float64(), Yield{Copper: 120, Film: 40 * float64(r.IntN(2))}
		a := must[Springback](t, "as made")(s.Springback(Top, radius, y))
		over := must[Springback](t, "turned over")(turned(s).Springback(Bottom, radius, y))
		near(t, "turned over", over.Retained, a.Retained, 1e-9)
		near(t, "turned over", over.Elastic, a.Elastic, 1e-9)
		s.Layers = append(s.Layers, turned(s).Layers...)
		b := must[Springback](t, "symmetric")(s.Springback(Top, radius, y))
		for _, x := range []Springback{a, b} {
			if !(x.Retained >= 0 && x.Retained <= 1 && x.Elastic >= 0 && x.Elastic <= 1) {
				t.Errorf("%+v", x)
			}
		}
		if b.Retained > b.Elastic+1e-9 {
			t.Errorf("symmetric: %+v", b)
		}
	}
}

// Copper that covers half counts half: the stresses of copper and of what fills its gaps are each their own.
func TestSpringbackAndCoverage(t *testing.T) {
	at := func(c float64) float64 {
		s := Stackup{Layers: Mix([]Layer{{Material: "polyimide", Thickness: 0.025, Modulus: ePI}, {Material: "copper-ra", Thickness: 0.018, Modulus: eCu, Copper: true, Coverage: c},
			{Material: "polyimide", Thickness: 0.025, Modulus: ePI}})}
		return must[Springback](t, "part")(s.Springback(Top, 0.5, Yield{Copper: 120, Film: PolyimideYield})).Retained
	}
	whole := must[Springback](t, "whole")(laminate([]float64{25, 18, 25}, []float64{ePI, eCu, ePI}).Springback(Top, 0.5, Yield{Copper: 120, Film: PolyimideYield})).Retained
	film := must[Springback](t, "film")(laminate([]float64{68}, []float64{ePI}).Springback(Top, 0.5, Yield{Film: PolyimideYield})).Retained
	near(t, "whole", at(1), whole, 1e-12)
	near(t, "etched", at(0), film, 1e-12)
	if half := at(0.5); !(half > min(whole, film) && half < max(whole, film)) {
		t.Errorf("half covered keeps %v, none %v, all %v", half, film, whole)
	}
}

// Copper and what fills its gaps share a layer's width: together they are as stiff as the layer and yield each with its
// share. Half a sheet of bare copper is a sheet.
func TestFibres(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	for range 100 {
		raw := random(r).Layers
		for i := range raw {
			if raw[i].Copper = r.IntN(2) == 0; raw[i].Copper {
				raw[i].Coverage = float64(r.IntN(5)) / 4
			}
		}
		s := Stackup{Layers: Mix(raw)}
		f := s.fibres(Yield{Copper: 120, Film: 69})
		for i, l := range s.Layers {
			stiff, yield := 0.0, 0.0
			for len(f) > 0 && (i == len(s.Layers)-1 || f[0].lo > (Stackup{Layers: s.Layers[i+1:]}).Thickness()-0.002) {
				stiff, yield, f = stiff+f[0].modulus, yield+f[0].yield, f[1:]
			}
			relative(t, "stiffness", stiff, 1000*l.Modulus, 1e-9)
			c := 0.0
			if l.Copper {
				c = l.Coverage
			}
			relative(t, "yield", yield, c*120+(1-c)*69, 1e-9)
		}
		if len(f) > 0 {
			t.Errorf("%d sheets too many", len(f))
		}
	}
	half := Stackup{Layers: Mix([]Layer{{Thickness: 0.07, Modulus: eCu, Copper: true, Coverage: 0.5}})}
	got := must[Springback](t, "half")(half.Springback(Top, 10, Yield{Copper: 120}))
	near(t, "half a sheet", got.Retained, must[float64](t, "sheet")(SheetSpringback(120, eCu, 10.035, 0.07)), 1e-12)
}

func TestSpringbackUnknown(t *testing.T) {
	plain := Stackup{Plain: true, Layers: []Layer{{Thickness: 0.2, Modulus: 1}}}
	if _, ok := plain.Springback(Top, 1, Yield{Copper: 120, Film: PolyimideYield}); ok {
		t.Error("a plain sheet")
	}
	for _, c := range []struct {
		radius float64
		y      Yield
	}{{-1, Yield{Copper: 120}}, {math.NaN(), Yield{Copper: 120}}, {math.Inf(1), Yield{Copper: 120}}, {1, Yield{}}, {1, Yield{Copper: -1}}, {1, Yield{Copper: 120, Film: -1}}} {
		if _, ok := stackA().Springback(Top, c.radius, c.y); ok {
			t.Errorf("%+v", c)
		}
	}
	film := must[Springback](t, "elastic film")(laminate([]float64{50}, []float64{ePI}).Springback(Top, 1, Yield{}))
	near(t, "elastic film", film.Retained, 0, 1e-12)
}

// 90 degrees finished from a flex that keeps 85 or 73 % of its angle: 106 and 124 formed (worked apart).
func TestFormingAngle(t *testing.T) {
	near(t, "85 %", must[float64](t, "85")(FormingAngle(90, 0.850)), 106, 0.5)
	near(t, "73 %", must[float64](t, "73")(FormingAngle(90, 0.727)), 124, 0.5)
	for _, bad := range [][2]float64{{90, 0}, {90, -0.1}, {90, 1.1}, {math.NaN(), 0.5}, {math.Inf(1), 0.5}, {90, math.NaN()}} {
		if _, ok := FormingAngle(bad[0], bad[1]); ok {
			t.Errorf("%v", bad)
		}
	}
}
