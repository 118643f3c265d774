package proximity

import (
	"math"
	"math/rand/v2"
	"testing"
)

func close2(a, b, eps float64) bool { return math.Abs(a-b) <= eps }

func TestTriangleDistance(t *testing.T) {
	base := Triangle{{0, 0, 0}, {4, 0, 0}, {0, 4, 0}}
	cases := []struct {
		name string
		q    Triangle
		want float64
	}{
		{"corner over face", Triangle{{1, 1, 2}, {1, 1.5, 5}, {2, 1, 5}}, 2},
		{"corner under face", Triangle{{1, 1, -2}, {1, 1.5, -5}, {2, 1, -5}}, 2},
		{"corner beside edge", Triangle{{2, -3, 0}, {1, -5, 1}, {3, -5, 1}}, 3},
		{"corner to corner", Triangle{{-3, -4, 0}, {-5, -5, 1}, {-6, -5, -1}}, 5},
		{"edges crossed", Triangle{{1, -1, -2}, {1, -1, 2}, {1, -5, 0}}, 1},
		{"edges crossed in the air", Triangle{{5, -1, 1}, {5, 5, 1}, {9, 2, 4}}, math.Sqrt2},
		{"faces parallel", Triangle{{0, 0, 0.25}, {0, 4, 0.25}, {4, 0, 0.25}}, 0.25},
		{"same plane, apart", Triangle{{5, 0, 0}, {6, 0, 0}, {6, 1, 0}}, 1},
		{"same plane, overlapping", Triangle{{1, 1, 0}, {6, 1, 0}, {6, 2, 0}}, 0},
		{"same plane, one in the other", Triangle{{1, 1, 0}, {1.5, 1, 0}, {1, 1.5, 0}}, 0},
		{"the same", base, 0},
		{"common edge", Triangle{{0, 0, 0}, {4, 0, 0}, {0, 0, 4}}, 0},
		{"common corner", Triangle{{0, 0, 0}, {-1, 0, 1}, {0, -1, 1}}, 0},
		{"corner on face", Triangle{{1, 1, 0}, {1, 1, 4}, {1, 2, 4}}, 0},
		{"pierced", Triangle{{1, 1, -1}, {1, 1, 1}, {1, 2, 1}}, 0},
		{"slides past", Triangle{{2.5, 2.5, -1}, {2.5, 2.5, 1}, {5, 5, 0}}, math.Sqrt2 / 2},
		{"needle over face", Triangle{{1, 1, 1}, {1, 1, 3}, {1, 1, 2}}, 1},
		{"needle through face", Triangle{{1, 1, -1}, {1, 1, 3}, {1, 1, 2}}, 0},
		{"point over face", Triangle{{1, 1, 3}, {1, 1, 3}, {1, 1, 3}}, 3},
		{"point on face", Triangle{{1, 1, 0}, {1, 1, 0}, {1, 1, 0}}, 0},
	}
	r := rand.New(rand.NewPCG(1, 2))
	for _, c := range cases {
		for turn := range 3 {
			p, q := base, c.q
			m := rigidOf(tumble(r, 10))
			for k := range 3 {
				if turn > 0 {
					p[k], q[k] = m.apply(base[(k+turn)%3]), m.apply(c.q[k])
				}
			}
			d, x, y := TriangleDistance(&p, &q, math.Inf(1))
			e, y2, x2 := TriangleDistance(&q, &p, math.Inf(1))
			if !close2(d, c.want, 1e-12) || !close2(e, c.want, 1e-12) || !close2(length(sub(x, y)), d, 1e-12) || !close2(length(sub(x2, y2)), e, 1e-12) {
				t.Errorf("%s, turn %d: %v and %v, points %v %v, want %v", c.name, turn, d, e, x, y, c.want)
			}
			if off(x, &p) > 1e-9 || off(y, &q) > 1e-9 {
				t.Errorf("%s: nearest points %v %v do not lie on the triangles", c.name, x, y)
			}
			f, g := faceOf(&p), faceOf(&q)
			if f.touches(&g) != (c.want == 0) || g.touches(&f) != (c.want == 0) {
				t.Errorf("%s, turn %d: touching is wrong", c.name, turn)
			}
		}
	}
}

// off returns by how much p lies off triangle t: the excess of the areas that p spans with the three edges, and of p's
// distances from the ends of the longest edge for a triangle without area.
func off(p vec, t *Triangle) float64 {
	sum, rim := -length(t.Normal()), math.Inf(1)
	for i := range 3 {
		a, b := t[i], t[(i+1)%3]
		part := Triangle{p, a, b}
		sum += length(part.Normal())
		rim = min(rim, length(sub(p, a))+length(sub(p, b))-length(sub(a, b)))
	}
	if length(t.Normal()) == 0 {
		return max(sum, rim)
	}
	return sum
}

// Random pairs against points spread over both, a way that shares no code with the distance.
func TestTriangleDistanceSampled(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	at := func(s float64) vec { return vec{s * r.Float64(), s * r.Float64(), s * r.Float64()} }
	for n := range 300 {
		p := Triangle{at(2), at(2), at(2)}
		q := Triangle{at(2), at(2), at(2)}
		if n%3 == 0 {
			q[1] = along(q[0], 1, sub(p[1], p[0])) // parallel edges
		}
		d, x, y := TriangleDistance(&p, &q, math.Inf(1))
		const steps = 24
		near := math.Inf(1)
		for _, u := range spread(&p, steps) {
			for _, v := range spread(&q, steps) {
				near = min(near, length(sub(u, v)))
			}
		}
		if d > near+1e-12 || near-d > 2*2*math.Sqrt(3)*2/steps {
			t.Fatalf("distance %v, sampled %v: %v %v", d, near, p, q)
		}
		if !close2(length(sub(x, y)), d, 1e-12) {
			t.Fatalf("points are %v apart, distance %v", length(sub(x, y)), d)
		}
		if dl, _, _ := TriangleDistance(&p, &q, d*1.01+1e-9); !close2(dl, d, 1e-12) {
			t.Fatalf("with a limit %v, without %v", dl, d)
		}
	}
}

// spread returns points all over a triangle.
func spread(t *Triangle, n int) []vec {
	var out []vec
	for i := range n + 1 {
		for j := range n + 1 - i {
			out = append(out, along(along(t[0], float64(i)/float64(n), sub(t[1], t[0])), float64(j)/float64(n), sub(t[2], t[0])))
		}
	}
	return out
}
