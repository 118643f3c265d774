package stackup

import "strings"

// Mix returns a copy of layers, given with the moduli of their materials, with the effective moduli that the rest of the
// package works with: copper that covers the share c of its area counts c times its own modulus and 1-c times that of what
// fills the gaps. The rule of mixtures for sheets in parallel: exact for conductors straight across the bend line, an upper
// estimate for slanted or broken ones.
func Mix(layers []Layer) []Layer {
	out := append([]Layer(nil), layers...)
	for i, l := range layers {
		if l.Copper {
			out[i].Modulus = float64(l.Coverage*l.Modulus) + float64((1-l.Coverage)*filler(layers, i))
		}
	}
	return out
}

// unmix returns a copy of layers with the moduli of their materials: Mix undone. Of an etched layer nothing is known but
// what fills it.
func unmix(layers []Layer) []Layer {
	out := append([]Layer(nil), layers...)
	for i, l := range layers {
		if l.Copper {
			out[i].Modulus, out[i].Coverage = own(layers, i), share(layers, i)
		}
	}
	return out
}

// share returns how much of the area of layer i is copper, 0 to 1. Coverage 0 means etched away where the modulus is that of
// what fills the gap, as Mix leaves it; else no coverage was written and the copper is whole.
func share(layers []Layer, i int) float64 {
	switch l := layers[i]; {
	case !l.Copper:
		return 0
	case l.Coverage == 0 && l.Modulus != filler(layers, i):
		return 1
	default:
		return l.Coverage
	}
}

// own returns the modulus of layer i's own material: for copper, that from which Mix made the effective one.
func own(layers []Layer, i int) float64 {
	e, c := layers[i].Modulus, share(layers, i)
	if c == 0 || c == 1 {
		return e
	}
	return (e - (1-c)*filler(layers, i)) / c
}

// filler returns the modulus of what fills the gaps in the copper of layer i: of the adjoining adhesive, else of the
// adjoining dielectric, in each case the softer of two, so that turning the board over changes nothing; 0 if there is
// only copper or air.
func filler(layers []Layer, i int) float64 {
	e, adhesive := 0.0, false
	for _, j := range []int{i - 1, i + 1} {
		if j < 0 || j >= len(layers) || layers[j].Copper {
			continue
		}
		l := layers[j]
		isAdhesive := strings.Contains(l.Material, "adhesive") || strings.Contains(l.Role, "adhesive")
		switch {
		case e == 0, isAdhesive && !adhesive:
			e, adhesive = l.Modulus, isAdhesive
		case isAdhesive == adhesive:
			e = min(e, l.Modulus)
		}
	}
	return e
}
