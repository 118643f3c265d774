package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"foldfit/fold"
	"foldfit/fold/flat"
)

func TestStress(t *testing.T) {
	rnd := rand.New(rand.NewPCG(77, 12))
	meshed, bad, refused := 0, 0, 0
	for range 4000 {
		s := randomBoard(rnd)
		if rnd.IntN(2) == 0 { // touching within noise
			w := 1.6 * math.Pi / 2
			x := 20 + w/2
			eps := []float64{0, 1e-9, -1e-9, 3e-7, -3e-7, 9e-7, -9e-7, 1.1e-6, -1.1e-6, 3e-6, -3e-6, 1e-5, -1e-5, 1e-4, -1e-4}
			e := func() float64 { return eps[rnd.IntN(len(eps))] }
			s = spec{outline: pts(0, 0, 40, 0, 40, 20, 0, 20), hinges: []fold.Hinge{hinge("n", 20, 0, 20, 20, 90, 1.5)}, base: &flat.Pt{X: 0.1, Y: 10}}
			for i := range 6 {
				y := 2 + 3*float64(i)
				switch rnd.IntN(4) {
				case 0:
					s.cutouts = append(s.cutouts, disc(x-0.5+e(), y, 1))
				case 1:
					s.cutouts = append(s.cutouts, disc(x+0.5+e(), y, 1))
				case 2:
					s.cutouts = append(s.cutouts, rect(x+e(), y, x+1+e(), y+1))
				case 3:
					s.cutouts = append(s.cutouts, loop(pts(x+e(), y, x-1, y+1, x-1.5, y)))
				}
			}
			if rnd.IntN(2) == 0 {
				s.sections = map[string]flat.Loop{"main": rect(-1, 5, 20-w/2+e(), 5+3*rnd.Float64()), "wing": rect(x+e(), 5+e(), 70, 12)}
			}
		}
		tree, ps := fold.Divide(s.design(t))
		if len(ps) > 0 || !tree.Foldable {
			refused++
			continue
		}
		f, err := tree.Place(tree.Partial(2*rnd.Float64() - 1))
		if err != nil {
			refused++
			continue
		}
		a, err := Skin(f, []float64{0.05, 0.01, 0.002}[rnd.IntN(3)])
		if err != nil {
			t.Log(err)
			bad++
			continue
		}
		for i := range a.Bodies {
			checkBody(t, a, i)
		}
		checkJoints(t, a)
		meshed++
	}
	t.Log(meshed, bad, refused)
}
