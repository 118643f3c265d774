package stackup

import (
	"math/rand/v2"
	"testing"
)

// Copper counts with its share, the rest with the adhesive beside it, else the film, of two alike the softer; nothing fills
// copper between copper and air. Turning over changes nothing.
func TestMix(t *testing.T) {
	cu := Layer{Material: "copper-ra", Thickness: 0.018, Modulus: eCu, Copper: true, Coverage: 0.25}
	film, stiff := Layer{Material: "polyimide", Modulus: ePI}, Layer{Material: "polyimide-clad", Modulus: 4.8}
	glue, bond := Layer{Material: "adhesive", Modulus: eGlue}, Layer{Material: "x", Role: "bond-adhesive", Modulus: 1.75}
	for _, c := range []struct {
		layers []Layer
		at     int
		filler float64
	}{
		{[]Layer{film, cu, glue}, 1, eGlue}, {[]Layer{stiff, cu, film}, 1, ePI}, {[]Layer{film, cu, bond}, 1, 1.75}, {[]Layer{bond, cu, glue}, 1, eGlue},
		{[]Layer{cu, cu, film}, 0, 0}, {[]Layer{cu, cu, film}, 1, ePI}, {[]Layer{glue, cu}, 1, eGlue}, {[]Layer{cu}, 0, 0},
	} {
		over := turned(Stackup{Layers: c.layers}).Layers
		near(t, "mixed", Mix(c.layers)[c.at].Modulus, 0.25*eCu+0.75*c.filler, 1e-12)
		near(t, "turned over", Mix(over)[len(over)-1-c.at].Modulus, 0.25*eCu+0.75*c.filler, 1e-12)
		if c.layers[c.at] != cu {
			t.Error("the input changed")
		}
	}
}

// Unmixing gives the materials' own moduli back, but for etched copper; mixing again changes nothing.
func TestUnmix(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for range 300 {
		raw := random(r).Layers
		for i := range raw {
			if r.IntN(2) == 0 {
				raw[i].Copper, raw[i].Modulus, raw[i].Coverage = true, eCu, r.Float64()
			}
		}
		mixed := Mix(raw)
		back := unmix(mixed)
		for i, l := range Mix(back) {
			near(t, "own modulus", back[i].Modulus, raw[i].Modulus, 1e-9)
			near(t, "mixed again", l.Modulus, mixed[i].Modulus, 1e-9)
		}
	}
}

// Coverage 0 is etched copper where the modulus says so, and otherwise not given.
func TestShare(t *testing.T) {
	film := Layer{Material: "polyimide", Modulus: ePI}
	for _, c := range []struct {
		cu   Layer
		want float64
	}{
		{Layer{Copper: true, Modulus: eCu}, 1}, {Layer{Copper: true, Modulus: ePI}, 0}, {Layer{Copper: true, Modulus: 50, Coverage: 0.4}, 0.4}, {Layer{Modulus: eCu}, 0},
	} {
		if got := share([]Layer{film, c.cu, film}, 1); got != c.want {
			t.Errorf("%+v: %v, want %v", c.cu, got, c.want)
		}
	}
}
