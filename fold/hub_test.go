package fold

import (
	"fmt"
	"math"
	"testing"

	"foldfit/fold/flat"
)

// rounded returns v with so many decimals.
func rounded(v float64, decimals int) float64 {
	k := math.Pow(10, float64(decimals))
	return math.Round(v*k) / k
}

// fullHub is a regular polygon with an arm of full width on every side, all coordinates rounded: where the arms leave there is
// no edge, only corners. Hinges by their middle lines, or by tangent lines through the rounded corners.
func fullHub(sides, decimals int, turn float64, tangent bool) spec {
	r := func(p flat.Pt) flat.Pt { return flat.Pt{X: rounded(p.X, decimals), Y: rounded(p.Y, decimals)} }
	corner := func(i int) flat.Pt {
		s, c := math.Sincos(turn + 2*math.Pi*float64(i)/float64(sides))
		return r(flat.Pt{X: 20 * c, Y: 20 * s})
	}
	out := spec{base: flat.Pt{}}
	for i := range sides {
		p, q := corner(i), corner(i+1)
		n := q.Sub(p).Unit().Left().Mul(-1)
		for _, v := range []flat.Pt{p, r(p.Add(n.Mul(25))), r(q.Add(n.Mul(25)))} {
			out.outline = append(out.outline, flat.Vertex{P: v})
		}
		a, b := r(p.Add(n.Mul(w9/2))), r(q.Add(n.Mul(w9/2)))
		h := hinge(fmt.Sprintf("h%d", i), a.X, a.Y, b.X, b.Y)
		if tangent {
			h.Line, h.Tangent, h.Into = [2]flat.Pt{p, q}, true, p.Mid(q).Add(n)
		}
		out.hinges = append(out.hinges, h)
	}
	return out
}

// Hubs with hand-rounded numbers fold, at any angle.
func TestRoundedHubsFold(t *testing.T) {
	for _, sides := range []int{3, 4, 5, 6, 8} {
		for decimals := 3; decimals <= 9; decimals++ {
			for _, turn := range []float64{0.1, 0.77, 1.234} {
				for _, tangent := range []bool{false, true} {
					tree := fullHub(sides, decimals, turn, tangent).divide(t)
					if !tree.Foldable || len(tree.Flats) != sides+1 || len(tree.Bends) != sides {
						t.Errorf("%d sides, %d decimals, turned %g, tangent %v: foldable %v, %d flats, %d bends",
							sides, decimals, turn, tangent, tree.Foldable, len(tree.Flats), len(tree.Bends))
					}
				}
			}
		}
	}
}
