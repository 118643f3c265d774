package flat

import (
	"math/rand/v2"
	"slices"
	"testing"
)

func TestHull(t *testing.T) {
	square := []Pt{{0, 0}, {2, 0}, {2, 2}, {0, 2}}
	got := Hull([]Pt{{1, 1}, {2, 2}, {0, 0}, {1, 0}, {0, 2}, {2, 0}, {0, 0}, {0.5, 1.9}})
	if !slices.Equal(got, square) {
		t.Errorf("%v, want %v", got, square)
	}
	if got := Hull([]Pt{{0, 0}, {1, 1}, {2, 2}}); !slices.Equal(got, []Pt{{0, 0}, {2, 2}}) {
		t.Errorf("points in line: %v", got)
	}
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		var ps []Pt
		for range 3 + r.IntN(40) {
			ps = append(ps, Pt{float64(r.IntN(9)), float64(r.IntN(9))})
		}
		h := Hull(ps)
		for i, p := range h {
			q := h[(i+1)%len(h)]
			for _, x := range ps {
				if q.Sub(p).Cross(x.Sub(p)) < 0 {
					t.Fatalf("%v lies outside %v - %v", x, p, q)
				}
			}
		}
	}
}
