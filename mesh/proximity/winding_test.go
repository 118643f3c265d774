package proximity

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
)

// sum adds the solid angles of all triangles, one after the other.
func (s soup) sum(p vec) float64 {
	w := 0.0
	for _, t := range s.tris {
		a, b, c := sub(s.points[t[0]], p), sub(s.points[t[1]], p), sub(s.points[t[2]], p)
		w += halfAngle(load(&a), load(&b), load(&c))
	}
	return w / (2 * math.Pi)
}

// welded returns s with equal points made one.
func (s soup) welded() soup {
	var out soup
	number := map[vec]int32{}
	for _, t := range s.tris {
		var u [3]int32
		for k, i := range t {
			n, ok := number[s.points[i]]
			if !ok {
				n = out.point(s.points[i])
				number[s.points[i]] = n
			}
			u[k] = n
		}
		out.tris = append(out.tris, u)
	}
	return out
}

func TestWinding(t *testing.T) {
	cube := block(vec{0, 0, 0}, vec{10, 10, 10}, 9).welded()
	hollow := cube.with(block(vec{2, 2, 2}, vec{8, 8, 8}, 5).welded().flipped())
	twice := cube.with(block(vec{5, 1, 1}, vec{15, 9, 9}, 4).welded())
	open := cube
	open.tris = cube.tris[:len(cube.tris)-2*81] // the side z = 10 is missing
	flat := cube
	flat.tris = append(slices.Clone(cube.tris), [3]int32{0, 0, 1}, [3]int32{5, 5, 5}) // triangles without area, which enclose nothing
	centre, near := vec{5, 5, 5}, vec{1, 1, 1}
	cases := []struct {
		name string
		s    soup
		p    vec
		want float64
	}{
		{"inside", cube, centre, 1}, {"outside", cube, vec{11, 5, 5}, 0}, {"far", cube, vec{1e4, 5, 5}, 0},
		{"beside a corner", cube, vec{-1e-6, -1e-6, -1e-6}, 0}, {"within a corner", cube, vec{1e-6, 1e-6, 1e-6}, 1},
		{"looking inward", cube.flipped(), centre, -1}, {"beside triangles without area", flat, centre, 1},
		{"in the cavity", hollow, centre, 0}, {"in its wall", hollow, near, 1},
		{"where two overlap", twice, vec{7, 5, 5}, 2}, {"in one of two", twice, vec{14, 5, 5}, 1},
		{"one side open, middle", open, centre, 5.0 / 6}, // each side of a cube covers a sixth of all around its middle
		{"one side open, over the opening", open, vec{5, 5, 10}, 0.5},
		{"nothing", soup{}, centre, 0},
	}
	for _, c := range cases {
		s := c.s.surface()
		if got := s.Winding(c.p); !close2(got, c.want, 1e-9) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
		inside, sure := s.Inside(c.p)
		if inside != (math.Abs(c.want) > 0.5) && c.want != 0.5 || sure != (c.want == math.Round(c.want)) {
			t.Errorf("%s: inside %v, sure %v", c.name, inside, sure)
		}
	}
	for _, c := range []struct {
		s    soup
		want int
	}{{cube, 0}, {flat, 0}, {twice, 0}, {open, 4 * 9}, {soup{}, 0}, {random(rand.New(rand.NewPCG(1, 2)), 50, 1), 150}} {
		if got := c.s.surface().OpenEdges(); got != c.want {
			t.Errorf("%d open edges, want %d", got, c.want)
		}
	}
}

// Fans to the rims against the plain sum, on closed, open, torn and turned surfaces.
func TestWindingAgainstSum(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	torn := ball(4, 60).welded()
	for i := range torn.tris {
		if k := r.IntN(len(torn.tris)); i%9 == 0 {
			torn.tris[i] = torn.tris[k] // some are missing, some twice
		}
	}
	m := tumble(r, 3)
	surfaces := []soup{
		ball(4, 60).welded(), ball(4, 60), torn, pipe(3, 0, 5, -4, 4, 70, 40), random(r, 900, 2),
		block(vec{-4, -3, -2}, vec{4, 3, 2}, 30).welded().moved(m), board5k().welded(), board5k(),
	}
	inside := 0
	for n, s := range surfaces {
		prepared := s.surface()
		lo, hi := s.points[0], s.points[0]
		for _, p := range s.points {
			for k := range 3 {
				lo[k], hi[k] = min(lo[k], p[k]), max(hi[k], p[k])
			}
		}
		for range 60 {
			var p vec
			for k := range 3 {
				p[k] = lo[k] - 1 + (hi[k]-lo[k]+2)*r.Float64()
			}
			want := s.sum(p)
			if got := prepared.Winding(p); !close2(got, want, 1e-9) {
				t.Fatalf("surface %d at %v: %v, the sum %v", n, p, got, want)
			}
			if want > 0.5 {
				inside++
			}
		}
	}
	if inside < 50 {
		t.Errorf("only %d points inside: the test tests nothing", inside)
	}
}

// A small hole does not change the verdict away from it.
func TestWindingAtHole(t *testing.T) {
	s := ball(4, 60).welded()
	s.tris = s.tris[:len(s.tris)-1]
	p := s.surface()
	for _, c := range []struct {
		at   vec
		want bool
	}{{vec{0, 0, 0}, true}, {vec{2, 0, -1}, true}, {vec{4.5, 0, 0}, false}} {
		if inside, sure := p.Inside(c.at); inside != c.want || !sure {
			t.Errorf("%v: inside %v, sure %v", c.at, inside, sure)
		}
	}
}

func BenchmarkWinding(b *testing.B) {
	for _, c := range []struct {
		name string
		s    func() soup
	}{{"100k", house100k}, {"1M", house1m}} {
		var s *Surface
		b.Run(c.name, func(b *testing.B) {
			if s == nil {
				s = c.s().welded().moved(mgl64.Ident4()).surface()
				s.OpenEdges()
			}
			for b.Loop() {
				s.Winding(vec{3, 2, 1})
			}
		})
	}
}
