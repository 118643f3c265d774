package clash

import (
	"math"
	"math/rand/v2"
	"testing"

	"foldfit/fold"
)

func close2(a, b, eps float64) bool { return math.Abs(a-b) <= eps }

func TestTriangleDistance(t *testing.T) {
	base := tri{{0, 0, 0}, {4, 0, 0}, {0, 4, 0}}
	cases := []struct {
		name string
		q    tri
		want float64
	}{
		{"corner over face", tri{{1, 1, 2}, {1, 1.5, 5}, {2, 1, 5}}, 2},
		{"corner under face", tri{{1, 1, -2}, {1, 1.5, -5}, {2, 1, -5}}, 2},
		{"corner beside edge", tri{{2, -3, 0}, {1, -5, 1}, {3, -5, 1}}, 3},
		{"corner to corner", tri{{-3, -4, 0}, {-5, -5, 1}, {-6, -5, -1}}, 5},
		{"edges crossed", tri{{1, -1, -2}, {1, -1, 2}, {1, -5, 0}}, 1},
		{"edges crossed in the air", tri{{5, -1, 1}, {5, 5, 1}, {9, 2, 4}}, math.Sqrt2},
		{"faces parallel", tri{{0, 0, 0.25}, {0, 4, 0.25}, {4, 0, 0.25}}, 0.25},
		{"same plane, apart", tri{{5, 0, 0}, {6, 0, 0}, {6, 1, 0}}, 1},
		{"same plane, overlapping", tri{{1, 1, 0}, {6, 1, 0}, {6, 2, 0}}, 0},
		{"same plane, one in the other", tri{{1, 1, 0}, {1.5, 1, 0}, {1, 1.5, 0}}, 0},
		{"the same", base, 0},
		{"common edge", tri{{0, 0, 0}, {4, 0, 0}, {0, 0, 4}}, 0},
		{"common corner", tri{{0, 0, 0}, {-1, 0, 1}, {0, -1, 1}}, 0},
		{"corner on face", tri{{1, 1, 0}, {1, 1, 4}, {1, 2, 4}}, 0},
		{"pierced", tri{{1, 1, -1}, {1, 1, 1}, {1, 2, 1}}, 0},
		{"slides past", tri{{2.5, 2.5, -1}, {2.5, 2.5, 1}, {5, 5, 0}}, math.Sqrt2 / 2},
		{"needle over face", tri{{1, 1, 1}, {1, 1, 3}, {1, 1, 2}}, 1},
		{"needle through face", tri{{1, 1, -1}, {1, 1, 3}, {1, 1, 2}}, 0},
		{"point over face", tri{{1, 1, 3}, {1, 1, 3}, {1, 1, 3}}, 3},
	}
	r := rand.New(rand.NewPCG(1, 2))
	for _, c := range cases {
		for turn := range 3 {
			p, q := base, c.q
			m := tumble(r, 10)
			for k := range 3 {
				if turn > 0 {
					p[k], q[k] = fold.Apply(m, base[(k+turn)%3]), fold.Apply(m, c.q[k])
				}
			}
			d, x, y := triDistance(&p, &q, math.Inf(1))
			e, y2, x2 := triDistance(&q, &p, math.Inf(1))
			if !close2(d, c.want, 1e-12) || !close2(e, c.want, 1e-12) || !close2(length(sub(x, y)), d, 1e-12) || !close2(length(sub(x2, y2)), e, 1e-12) {
				t.Errorf("%s, turn %d: %v and %v, points %v %v, want %v", c.name, turn, d, e, x, y, c.want)
			}
			if off(x, &p) > 1e-9 || off(y, &q) > 1e-9 {
				t.Errorf("%s: nearest points %v %v do not lie on the triangles", c.name, x, y)
			}
		}
	}
}

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

// sampled returns the least distance from points spread over p to points spread over q: never less than the distance,
// and little more.
func sampled(p, q *tri, n int) float64 {
	best := math.Inf(1)
	spread := func(t *tri) []vec {
		var out []vec
		for i := range n + 1 {
			for j := range n + 1 - i {
				out = append(out, along(along(t[0], float64(i)/float64(n), sub(t[1], t[0])), float64(j)/float64(n), sub(t[2], t[0])))
			}
		}
		return out
	}
	ps, qs := spread(p), spread(q)
	for _, x := range ps {
		for _, y := range qs {
			best = min(best, length(sub(x, y)))
		}
	}
	return best
}

// Random pairs against points spread over both, a way that shares no code with the distance.
func TestTriangleDistanceSampled(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	at := func(s float64) vec { return vec{s * r.Float64(), s * r.Float64(), s * r.Float64()} }
	for n := range 300 {
		p := tri{at(2), at(2), at(2)}
		q := tri{at(2), at(2), at(2)}
		if n%3 == 0 {
			q[1] = along(q[0], 1, sub(p[1], p[0])) // parallel edges
		}
		d, x, y := triDistance(&p, &q, math.Inf(1))
		const steps = 24
		near := sampled(&p, &q, steps)
		if d > near+1e-12 || near-d > 2*2*math.Sqrt(3)*2/steps {
			t.Fatalf("distance %v, sampled %v: %v %v", d, near, p, q)
		}
		if !close2(length(sub(x, y)), d, 1e-12) {
			t.Fatalf("points are %v apart, distance %v", length(sub(x, y)), d)
		}
		if dl, _, _ := triDistance(&p, &q, d*1.01+1e-9); !close2(dl, d, 1e-12) {
			t.Fatalf("with a limit %v, without %v", dl, d)
		}
	}
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
