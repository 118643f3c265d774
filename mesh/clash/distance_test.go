package clash

import (
	"math"
	"math/rand/v2"
	"testing"
)

func close2(a, b, eps float64) bool { return math.Abs(a-b) <= eps }

// off returns by how much p lies off triangle t: the excess of the areas that p spans with the three edges, and of p's
// distances from the ends of the longest edge for a triangle without area.
func off(p vec, t *tri) float64 {
	sum, rim := -length(t.normal()), math.Inf(1)
	for i := range 3 {
		a, b := t[i], t[(i+1)%3]
		part := tri{p, a, b}
		sum += length(part.normal())
		rim = min(rim, length(sub(p, a))+length(sub(p, b))-length(sub(a, b)))
	}
	if length(t.normal()) == 0 {
		return max(sum, rim)
	}
	return sum
}

// bruteDistance compares all triangles with all.
func bruteDistance(a, b *shape) float64 {
	best := math.Inf(1)
	for i := range a.tris {
		p := a.tri(int32(i))
		for j := range b.tris {
			q := b.tri(int32(j))
			d, _, _ := triDistance(&p, &q, math.Inf(1))
			best = min(best, d)
		}
	}
	return best
}

func TestDistanceAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	solids := []solid{block(-3, -2, -0.4, 3, 2, 0.4), rod(24, 2, 7, -2, 2), tube(16, 1.5, 2, -1, 1), block(-1, -1, -1, 1, 1, 1).with(rod(5, 1, 0, 2, 5))}
	for n := range 60 {
		sa, sb := solids[n%4].moved(tumble(r, 4)), solids[n/4%4].moved(tumble(r, 4))
		a, b := sa.shape(), sb.shape()
		want := bruteDistance(a, b)
		got, ok := distance(a, b, math.Inf(1))
		back, _ := distance(b, a, math.Inf(1))
		if !ok || !close2(got.d, want, 2*tie) || !close2(back.d, want, 2*tie) {
			t.Fatalf("pair %d: %v, swapped %v, brute force %v", n, got.d, back.d, want)
		}
		if !close2(length(sub(got.x, got.y)), got.d, 1e-12) {
			t.Fatalf("pair %d: points %v apart, distance %v", n, length(sub(got.x, got.y)), got.d)
		}
		if want > 0 {
			if _, ok := distance(a, b, want*0.999); ok {
				t.Fatalf("pair %d: found below %v", n, want*0.999)
			}
			// Moving one body along the witness by a little more or less than the gap flips the verdict.
			d := unit(sub(got.y, got.x))
			for _, eps := range []float64{-1e-6, 1e-6} {
				m, _ := distance(sa.moved(shift(along(vec{}, got.d+eps, d))).shape(), b, math.Inf(1))
				if (m.d == 0) != (eps > 0) || m.d > 1.0001e-6 {
					t.Fatalf("pair %d: gap %v moved by %v more leaves %v", n, got.d, eps, m.d)
				}
			}
		}
	}
}

func TestDistanceKnown(t *testing.T) {
	bore := tube(64, 5, 7, -10, 10)
	cases := []struct {
		name string
		a, b solid
		want float64
	}{
		{"plates over each other", block(0, 0, 0, 30, 20, 1), block(5, 5, 1.05, 40, 40, 2), 0.05},
		{"plates side by side", block(0, 0, 0, 30, 20, 1), block(30.3, 0, 0, 40, 20, 1), 0.3},
		{"corner to corner", block(0, 0, 0, 1, 1, 1), block(3, 3, 2, 4, 4, 4), 3},
		{"faces touch", block(0, 0, 0, 1, 1, 1), block(1, 0, 0, 2, 1, 1), 0},
		{"the same", block(0, 0, 0, 1, 1, 1), block(0, 0, 0, 1, 1, 1), 0},
		{"peg in a bore", rod(64, 4, 0, -12, 12), bore, math.Cos(math.Pi / 64)},
		{"inside a cavity", block(4, 4, 4, 6, 6, 6), block(0, 0, 0, 10, 10, 10).with(block(1, 1, 1, 9, 9, 9).inward()), 3},
	}
	for _, c := range cases {
		n, ok := distance(c.a.shape(), c.b.shape(), math.Inf(1))
		if !ok || !close2(n.d, c.want, 2*tie) {
			t.Errorf("%s: %v, want %v", c.name, n.d, c.want)
		}
	}
}

func TestDistanceEmpty(t *testing.T) {
	if _, ok := distance(solid{}.shape(), block(0, 0, 0, 1, 1, 1).shape(), math.Inf(1)); ok {
		t.Error("found a distance to nothing")
	}
}
