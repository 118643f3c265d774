package stackup

import "math"

// Balance says how far a laminate is from being its own mirror image in its mid-plane. An unbalanced one warps with heat,
// and bends at another radius one way than the other. Zero is balance.
type Balance struct {
	Copper    float64 // mean height of the copper above the mid-plane over half the thickness, -1 to 1, + toward the top; weighed by thickness and coverage
	Stiffness float64 // the same for the neutral surface: 2 K - 1 seen from the bottom face
	Thickness float64 // mm, the largest difference between a layer and its mirror image
	Mirrored  bool    // each layer has the material, thickness and coverage of its mirror image (to 1e-9)
}

// Balance returns the measures of symmetry of a laminate, and whether they are known: false for a stack-up given by its
// thickness alone, without thickness, or of loose plies, each of which warps by itself. Copper is 0 where there is none. Definitions of ours; geometry alone, hence exact.
func (s Stackup) Balance() (Balance, bool) {
	t := s.Thickness()
	if s.Plain || len(s.Plies) > 0 || !positive(t) {
		return Balance{}, false
	}
	b := Balance{Stiffness: (2*s.Neutral() - t) / t, Mirrored: true}
	amount, moment, y := 0.0, 0.0, t
	for i, l := range s.Layers {
		if c := share(s.Layers, i) * l.Thickness; c > 0 {
			amount += c
			moment += c * (y - l.Thickness/2 - t/2)
		}
		y -= l.Thickness
		m := s.Layers[len(s.Layers)-1-i]
		b.Thickness = max(b.Thickness, math.Abs(l.Thickness-m.Thickness))
		b.Mirrored = b.Mirrored && alike(l, m) && math.Abs(l.Coverage-m.Coverage) <= 1e-9
	}
	if amount > 0 {
		b.Copper = moment / amount / (t / 2)
	}
	return b, true
}

// Continuous returns how many of the copper layers of a flexible stack-up run on through a rigid one, and how many it has;
// not known if either is given by its thickness alone or a pile of loose plies. They run on where a run of neighbouring layers of the flex, copper and
// at least one layer beside it, is found in the rigid stack-up with the same materials and thicknesses; covers may stop at
// its edge. Of several such runs the one with the most copper counts. A flex of copper alone is compared as it is.
func Continuous(flex, rigid Stackup) (run, of int, known bool) {
	if flex.Plain || rigid.Plain || len(flex.Plies) > 0 || len(rigid.Plies) > 0 || len(flex.Layers) == 0 || len(rigid.Layers) == 0 {
		return 0, 0, false
	}
	for _, l := range flex.Layers {
		if l.Copper {
			of++
		}
	}
	for i := range flex.Layers {
		for j := range rigid.Layers {
			copper, others := 0, 0
			for k := 0; i+k < len(flex.Layers) && j+k < len(rigid.Layers) && alike(flex.Layers[i+k], rigid.Layers[j+k]); k++ {
				if flex.Layers[i+k].Copper {
					copper++
				} else {
					others++
				}
			}
			if others > 0 || of == len(flex.Layers) {
				run = max(run, copper)
			}
		}
	}
	return run, of, true
}

// alike reports whether two layers are of one material and thickness.
func alike(a, b Layer) bool {
	return a.Material == b.Material && a.Copper == b.Copper && math.Abs(a.Thickness-b.Thickness) <= 1e-9*max(a.Thickness, b.Thickness)
}
