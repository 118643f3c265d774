package stackup

import (
	"math"
	"math/rand/v2"
	"testing"
)

// book returns a pile of random loose laminates, each with copper, 1 to 6 of them.
func book(r *rand.Rand, gap float64) Stackup {
	plies := make([]Stackup, 1+r.IntN(6))
	for i := range plies {
		plies[i] = random(r)
		plies[i].Name, plies[i].CopperLayers = string(rune('a'+r.IntN(4))), 1
	}
	return Loose(plies, gap, false)
}

// equal returns a pile of n times the same laminate.
func equal(n int, s Stackup, gap float64) Stackup {
	var plies []Stackup
	for range n {
		plies = append(plies, s)
	}
	return Loose(plies, gap, false)
}

// Layers, thickness, copper and places of a pile by hand: A of 161 um over B of 106 over A, air of 50 between.
func TestLoose(t *testing.T) {
	a, b := stackA(), stackB()
	a.Name, b.Name, a.CopperLayers, b.CopperLayers = "a", "b", 2, 1
	p := Loose([]Stackup{a, b, a}, 0.05, true)
	near(t, "thickness", p.Thickness(), 2*0.161+0.106+2*0.05, 1e-15)
	if len(p.Layers) != 7+1+5+1+7 || p.Layers[7] != (Layer{Material: Air, Thickness: 0.05, Coverage: 1}) || p.Layers[8] != b.Layers[0] || p.CopperLayers != 5 || !p.Progressive || p.Plain || p.Rigid {
		t.Errorf("%+v", p)
	}
	if len(p.Embeds) != 1 || p.Embeds[0].Stackup != "b" {
		t.Fatalf("%+v", p.Embeds)
	}
	near(t, "b over the bottom", p.Embeds[0].Bottom, 0.161+0.05, 1e-15)
	plain := Stackup{Plain: true, CopperLayers: -1, Layers: []Layer{{Thickness: 0.1, Modulus: 1}}}
	if q := Loose([]Stackup{a, plain, a}, 0, false); q.CopperLayers != -1 || !q.Plain || len(q.Layers) != 15 {
		t.Errorf("%+v", q)
	}
	if q := Loose(nil, 1, true); len(q.Layers)+len(q.Plies) != 0 || q.Gap != 0 {
		t.Errorf("%+v", q)
	}
}

// The neutral surface of a pile is the mean of those of its plies: the middle where it is its own mirror image, and for a ply
// alone its own. Turned over, it is turned over.
func TestNeutralOfPiles(t *testing.T) {
	a, b, c := stackA(), stackB(), stackC()
	near(t, "mirrored", Loose([]Stackup{b, a, turned(b)}, 0.03, false).Neutral(), (2*0.106+0.161+0.06)/2, 1e-15)
	near(t, "alone", Loose([]Stackup{b}, 0.03, false).Neutral(), b.Neutral(), 1e-15)
	near(t, "by hand", Loose([]Stackup{b, c}, 0.1, false).Neutral(), (c.Neutral()+0.06+0.1+b.Neutral())/2, 1e-15)
	p, over := Loose([]Stackup{b, a, c}, 0.1, false), Loose([]Stackup{turned(c), turned(a), turned(b)}, 0.1, false)
	near(t, "turned over", over.Inner(Top), p.Inner(Bottom), 1e-15)
}

// A ply in a pile of n equal ones is strained as one ply is at its own radius, and copper and film ask for what it asks for.
func TestStrainsInPiles(t *testing.T) {
	const n, gap, radius = 4, 0.05, 0.8
	for _, inside := range []Side{Top, Bottom} {
		s := stackB()
		p, pitch := equal(n, s, gap), s.Thickness()+gap
		b := must[Bent](t, "pile")(p.Strains(inside, radius))
		for i := range n {
			from := i
			if inside == Bottom {
				from = n - 1 - i
			}
			one := must[Bent](t, "ply")(s.Strains(inside, radius+float64(i)*pitch))
			for k, l := range one.Layers {
				if got := b.Layers[from*6+k]; math.Abs(got.Inner-l.Inner) > 1e-15 || math.Abs(got.Outer-l.Outer) > 1e-15 || got.Copper != l.Copper {
					t.Errorf("ply %d, layer %d: %+v, alone %+v", i, k, got, l)
				}
			}
		}
		if b.Layers[5] != (LayerStrain{}) {
			t.Errorf("air is strained: %+v", b.Layers[5])
		}
		// equal plies: the innermost has the least radius and asks for most
		first := must[Bent](t, "ply")(s.Strains(inside, radius))
		near(t, "copper", must[float64](t, "pile")(b.Copper()), must[float64](t, "ply")(first.Copper()), 1e-15)
		near(t, "concave", b.Concave, first.Concave, 1e-15)
		near(t, "convex", b.Convex, first.Convex, 1e-15)
		for name, f := range map[string]func(Stackup) (float64, bool){
			"copper radius": func(s Stackup) (float64, bool) { return s.CopperRadius(inside, 0.003) },
			"film radius":   func(s Stackup) (float64, bool) { return s.FilmRadius(inside, 0.03) },
			"reach":         Stackup.CopperReach,
			"elongation":    func(s Stackup) (float64, bool) { e, ok := s.ElongationRadius(inside, 0.1); return e.Quoted, ok },
		} {
			near(t, name, must[float64](t, name)(f(p)), must[float64](t, name)(f(s)), 1e-12)
		}
	}
}

// A pile of one ply is the ply, in all respects.
func TestPileOfOne(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	for range 50 {
		s, radius, side := random(r), 0.1+2*r.Float64(), Side(r.IntN(2))
		p, y := Loose([]Stackup{s}, 0.1, true), Yield{Copper: 120, Film: PolyimideYield}
		near(t, "neutral", p.Neutral(), s.Neutral(), 1e-15)
		near(t, "ratio", p.Ratio(side, radius), radius/s.Thickness(), 1e-12)
		relative(t, "stiffness", must[float64](t, "p")(p.Stiffness()), must[float64](t, "s")(s.Stiffness()), 1e-15)
		a, b := must[Bent](t, "p")(p.Strains(side, radius)), must[Bent](t, "s")(s.Strains(side, radius))
		near(t, "neutral radius", a.NeutralRadius, b.NeutralRadius, 1e-15)
		for i := range b.Layers {
			if a.Layers[i] != b.Layers[i] {
				t.Errorf("layer %d: %+v %+v", i, a.Layers[i], b.Layers[i])
			}
		}
		u, v := must[Springback](t, "p")(p.Springback(side, radius, y)), must[Springback](t, "s")(s.Springback(side, radius, y))
		near(t, "retained", u.Retained, v.Retained, 1e-12)
		near(t, "elastic", u.Elastic, v.Elastic, 1e-12)
	}
}

// Random piles against a straightforward walk through the plies, and each limit radius against the strain there.
func TestRandomPiles(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 24))
	for range 200 {
		p, radius, side := book(r, 0.1*float64(r.IntN(3))), 0.05+2*r.Float64(), Side(r.IntN(2))
		ei, ratio, copper, convex, height, neutral := 0.0, math.Inf(1), 0.0, 0.0, radius, 0.0
		for k := range p.Plies {
			i := k
			if side == Bottom {
				i = len(p.Plies) - 1 - k
			}
			s := p.Plies[i]
			b := must[Bent](t, "ply")(s.Strains(side, height))
			c, _ := b.Copper()
			copper, convex, ratio = max(copper, c), max(convex, b.Convex), min(ratio, height/s.Thickness())
			e, _ := s.Stiffness()
			ei, neutral = ei+e, neutral+(height-radius+s.Inner(side))/float64(len(p.Plies))
			height += s.Thickness() + p.Gap
		}
		b := must[Bent](t, "pile")(p.Strains(side, radius))
		got, _ := b.Copper()
		relative(t, "copper", got, copper, 1e-12)
		relative(t, "convex", b.Convex, convex, 1e-12)
		relative(t, "stiffness", must[float64](t, "pile")(p.Stiffness()), ei, 1e-12)
		relative(t, "ratio", p.Ratio(side, radius), ratio, 1e-12)
		relative(t, "neutral radius", b.NeutralRadius, radius+neutral, 1e-12)
		relative(t, "thickness", p.Pile(side).Thickness(), p.Thickness(), 1e-12)
		near(t, "height", height-p.Gap-radius, p.Thickness(), 1e-12)
		near(t, "copper radius", must[float64](t, "pile")(p.CopperRadius(side, copper)), radius, 1e-9)
		near(t, "film radius", must[float64](t, "pile")(p.FilmRadius(side, convex)), radius, 1e-9)
	}
}

// n equal plies are n times as stiff as one, and much less so than bonded ones.
func TestStiffnessOfPiles(t *testing.T) {
	s := stackA()
	one := must[float64](t, "one")(s.Stiffness())
	for _, n := range []int{2, 5, 50} {
		relative(t, "n plies", must[float64](t, "n")(equal(n, s, 0.05).Stiffness()), float64(n)*one, 1e-12)
	}
	bonded := must[float64](t, "bonded")(Stackup{Layers: equal(5, s, 0).Layers}.Stiffness())
	if bonded < 10*5*one {
		t.Errorf("bonded %v, loose %v", bonded, 5*one)
	}
}

// Plies of one cylinder each keep their own share; tied together, equal ones keep a share between those of the innermost and
// the outermost, and elastic films alone keep nothing.
func TestSpringbackOfPiles(t *testing.T) {
	s, y := stackA(), Yield{Copper: 120, Film: PolyimideYield}
	const n, gap, radius = 4, 0.05, 0.5
	p := must[Springback](t, "pile")(equal(n, s, gap).Springback(Top, radius, y))
	in := must[Springback](t, "in")(s.Springback(Top, radius, y))
	out := must[Springback](t, "out")(s.Springback(Top, radius+(n-1)*(s.Thickness()+gap), y))
	for _, c := range [][3]float64{{out.Retained, p.Retained, in.Retained}, {out.Elastic, p.Elastic, in.Elastic}} {
		if !(c[0] < c[1] && c[1] < c[2]) {
			t.Errorf("outermost, pile, innermost: %v", c)
		}
	}
	film := laminate([]float64{50}, []float64{ePI})
	near(t, "films", must[Springback](t, "films")(equal(3, film, 0.1).Springback(Top, 1, Yield{})).Retained, 0, 1e-12)
	// a stiff film beside formed copper foil pulls it open: less stays than of the foil, more than of the film
	foil := laminate([]float64{35}, []float64{eCu})
	alone := must[Springback](t, "foil")(foil.Springback(Top, 0.5, y))
	pair := must[Springback](t, "pair")(Loose([]Stackup{foil, film}, 0, false).Springback(Top, 0.5, Yield{Copper: 120}))
	if !(pair.Retained > 0 && pair.Retained < alone.Retained) {
		t.Errorf("foil %v, with film %v", alone.Retained, pair.Retained)
	}
}

// The published figures of a bookbinder from the stack-up itself: 180 degrees, inside radius 1.5, four plies of 0.12, air 0.05
// (geometry, computed apart).
func TestBookOfStackups(t *testing.T) {
	ply := laminate([]float64{51, 18, 51}, []float64{ePI, eCu, ePI})
	p := equal(4, ply, 0.05)
	for _, side := range []Side{Top, Bottom} {
		for i, want := range []float64{4.9009, 5.4350, 5.9690, 6.5031} {
			near(t, "length", p.Pile(side).Lengths(180, 1.5, 0)[i], want, 0.00005)
		}
	}
	// the drawn flat is as long as the plies are on average
	near(t, "drawn", BendAllowance(180, 1.5, p.Inner(Top)), (4.9009+5.4350+5.9690+6.5031)/4, 0.00005)
}

// Where a ply is given by its thickness alone, what rests on moduli is not known; nor is what a pile as a whole cannot have.
func TestPilesUnknown(t *testing.T) {
	plain := Stackup{Plain: true, CopperLayers: 1, Layers: []Layer{{Thickness: 0.1, Modulus: 1, Coverage: 1}}}
	p := Loose([]Stackup{stackA(), plain}, 0.05, false)
	_, a := p.Stiffness()
	_, b := p.CopperReach()
	_, c := p.CopperRadius(Top, 0.01)
	_, d := p.Springback(Top, 1, Yield{Copper: 120})
	_, e := p.ElongationRadius(Top, 0.1)
	if a || b || c || d || e {
		t.Error(a, b, c, d, e)
	}
	near(t, "ratio", p.Ratio(Top, 0.322), 2, 1e-12) // 0.322/0.161 in the first ply, 0.533/0.1 in the second
	book := equal(2, stackA(), 0.05)
	if _, ok := book.Balance(); ok {
		t.Error("a pile has a balance")
	}
	if _, _, ok := Continuous(book, book); ok {
		t.Error("a pile runs on in a pile")
	}
	if _, err := book.Keep([]int{0}); err == nil {
		t.Error("an arm of a pile")
	}
	three := laminate([]float64{9, 25, 9, 25, 9}, []float64{eCu, ePI, eCu, ePI, eCu})
	if _, ok := Loose([]Stackup{stackB(), three}, 0, false).ElongationRadius(Top, 0.1); ok {
		t.Error("three copper layers in a ply")
	}
	if _, ok := book.Strains(Top, -1); ok {
		t.Error("a negative radius")
	}
	if _, ok := (Stackup{Plies: []Stackup{{}}}).Springback(Top, 1, Yield{}); ok {
		t.Error("an empty ply")
	}
}

// Random arms against the layers taken by hand: same layers, same height of every one of them.
func TestRandomArms(t *testing.T) {
	r := rand.New(rand.NewPCG(25, 26))
	for range 200 {
		s := random(r)
		first := r.IntN(len(s.Layers))
		last := first + r.IntN(len(s.Layers)-first)
		var keep []int
		y, bottom := s.Thickness(), 0.0
		for i, l := range s.Layers {
			if y -= l.Thickness; i >= first && i <= last {
				keep, bottom = append(keep, i), y
			}
		}
		r.Shuffle(len(keep), func(i, j int) { keep[i], keep[j] = keep[j], keep[i] })
		arm, err := s.Keep(keep)
		if err != nil || len(arm.Layers) != len(keep) {
			t.Fatal(err, arm)
		}
		near(t, "height", -arm.Embeds[0].Bottom, bottom, 1e-12)
		sum, moment, y := 0.0, 0.0, bottom
		for i := last; i >= first; i-- {
			l := s.Layers[i]
			sum += l.Modulus * l.Thickness
			moment += l.Modulus * l.Thickness * (y + l.Thickness/2)
			y += l.Thickness
		}
		near(t, "neutral", bottom+arm.Neutral(), moment/sum, 1e-9)
	}
}
