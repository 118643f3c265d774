package clash

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestContains(t *testing.T) {
	hollow := block(0, 0, 0, 10, 10, 10).with(block(2, 2, 2, 8, 8, 8).inward())
	overlapping := block(0, 0, 0, 4, 4, 4).with(block(2, 0, 0, 6, 4, 4))
	cases := []struct {
		name string
		s    solid
		p    vec
		want bool
	}{
		{"middle", block(0, 0, 0, 1, 1, 1), vec{0.5, 0.5, 0.5}, true},
		{"outside", block(0, 0, 0, 1, 1, 1), vec{1.5, 0.5, 0.5}, false},
		{"just inside", block(0, 0, 0, 1, 1, 1), vec{0.5, 0.5, 1 - 1e-9}, true},
		{"just outside", block(0, 0, 0, 1, 1, 1), vec{0.5, 0.5, 1 + 1e-9}, false},
		{"on a diagonal of faces", block(-1, -1, -1, 1, 1, 1), vec{0, 0, 0}, true},
		{"in the wall of a hollow box", hollow, vec{5, 5, 1}, true},
		{"in the cavity", hollow, vec{5, 5, 5}, false},
		{"in the bore of a tube", tube(12, 1, 2, 0, 5), vec{0, 0, 2}, false},
		{"in the wall of a tube", tube(12, 1, 2, 0, 5), vec{0, 1.5, 2}, true},
		{"where two shells overlap", overlapping, vec{3, 2, 2}, true},
		{"inside a turned-out solid", block(0, 0, 0, 1, 1, 1).with(block(4, 0, 0, 5, 1, 1).inward()), vec{4.5, 0.5, 0.5}, true},
	}
	for _, c := range cases {
		s := c.s.shape()
		if got := s.contains(c.p); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
		if w := s.surface().Winding(c.p); (math.Abs(w) > 0.5) != c.want || math.Abs(w-math.Round(w)) > 1e-6 {
			t.Errorf("%s: winding number %v", c.name, w)
		}
	}
}

// The ray and the solid angle, which share no code, agree.
func TestContainsAgainstSolidAngle(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	s := tube(20, 1, 2, -2, 2).with(rod(7, 0.8, 3, -1, 1)).moved(tumble(r, 3)).shape()
	b := s.bounds()
	inside := 0
	for range 3000 {
		var p vec
		for k := range 3 {
			p[k] = b.lo[k] + r.Float64()*(b.hi[k]-b.lo[k])
		}
		want := s.surface().Winding(p) > 0.5
		if s.contains(p) != want {
			t.Fatalf("%v: winding number %v", p, s.surface().Winding(p))
		}
		if want {
			inside++
		}
	}
	if inside < 100 {
		t.Errorf("only %d points inside: the test tests nothing", inside)
	}
}

// A ray along an edge or through a corner is not trusted.
func TestRayAtEdge(t *testing.T) {
	s := block(-1, -1, -1, 1, 1, 1).shape()
	for _, d := range []vec{{1, 1, 1}, {0, 0, 1}, {1, 1, 0}} {
		if _, sure := s.crossings(vec{}, unit(d)); sure {
			t.Errorf("ray along %v passes an edge and is trusted", d)
		}
	}
	if n, sure := s.crossings(vec{0.1, 0.2, 0}, vec{0, 0, 1}); n != 1 || !sure {
		t.Errorf("%d crossings, sure %v", n, sure)
	}
	if n, sure := s.crossings(vec{0.1, 0.2, -3}, vec{0, 0, 1}); n != 0 || !sure {
		t.Errorf("%d crossings right through, sure %v", n, sure)
	}
}
