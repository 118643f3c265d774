package proximity

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
)

// treeSurfaces are surfaces of all sizes and kinds for the tree.
func treeSurfaces() []soup {
	r := rand.New(rand.NewPCG(41, 42))
	same := soup{points: []vec{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, tris: make([][3]int32, 1000)}
	for i := range same.tris {
		same.tris[i] = [3]int32{0, 1, 2}
	}
	point := soup{points: []vec{{7, -3, 1e5}}, tris: make([][3]int32, 700)}
	away := mgl64.Translate3D(1e5, -1e5, 1e5)
	out := []soup{
		same, point, board5k(), house100k().moved(turned), pipe(3, 0, 6, -4, 4, 90, 70), ball(2, 40).moved(away),
		house100k().moved(away.Mul4(turned)), someSurfaces(r)[0].moved(away),
	}
	for _, n := range []int{1, 2, 4, 5, 33, 227, 228, 229, 456, 457, 2000} {
		out = append(out, random(r, n, 0.4))
	}
	return out
}

// Each triangle stands in one leaf, and lies in the box and the slab of every node above it.
func TestTree(t *testing.T) {
	for n, s := range treeSurfaces() {
		p := s.surface()
		order := slices.Clone(p.ids)
		slices.Sort(order)
		for i, id := range order {
			if int(id) != i {
				t.Fatalf("surface %d: triangle %d is missing or twice", n, i)
			}
		}
		if len(order) != len(s.tris) || len(p.levels[len(p.levels)-1]) != 1 {
			t.Fatalf("surface %d: %d triangles of %d", n, len(order), len(s.tris))
		}
		for i := range p.leafCount() {
			first, end := p.leaf(int32(i))
			for k := first; k < end; k++ {
				if c := p.tri(k); !p.covers(int32(i), &c) {
					t.Fatalf("surface %d: triangle %d sticks out of a node", n, p.ids[k])
				}
			}
		}
	}
}

// covers reports whether all nodes from a leaf up hold a triangle, to rounding.
func (s *Surface) covers(node int32, c *Triangle) bool {
	slack := 1e-10 + 1e-15*length(c[0])
	for level := range s.levels {
		g, j := &s.levels[level][node/wide], node%wide
		for k := range c {
			p := s.frame.spin(load(&c[k])).vec()
			d := sub(p, g.middle(int(j)))
			if h := dot(g.n[j], d); h < g.lo[j]-slack || h > g.hi[j]+slack || !g.holds(j, load(&p)) {
				return false
			}
		}
		node /= wide
	}
	return node == 0
}

// Leaves lists what New was given.
func TestLeaves(t *testing.T) {
	for n, s := range treeSurfaces() {
		order, starts := s.surface().Leaves()
		if len(order) != len(s.tris) || int(starts[len(starts)-1]) != len(order) || starts[0] != 0 {
			t.Fatalf("surface %d: %d triangles in %d leaves to %d", n, len(order), len(starts)-1, starts[len(starts)-1])
		}
		for i := 1; i < len(starts); i++ {
			if size := starts[i] - starts[i-1]; size < 0 || size > leafSize {
				t.Fatalf("surface %d: leaf %d has %d triangles", n, i-1, size)
			}
		}
	}
	if order, starts := New(nil, nil, 0).Leaves(); len(order) != 0 || len(starts) != 1 {
		t.Error("leaves of nothing")
	}
}

// The axes of a turned surface are found, so that boxes in that frame are thin: of exact corners to rounding, of the 24-bit
// corners of a mesh file as well as its planes tell them.
func TestFrame(t *testing.T) {
	for _, c := range []struct {
		s    soup
		sine float64
	}{
		{house100k().moved(turned), 1e-13},
		{house100k().moved(turned).rounded24(), 5e-8},
		{house100k().moved(turned.Mul4(mgl64.Translate3D(2000, 0, 0))).rounded24(), 2e-6},
	} {
		f := frameOf(c.s.points, c.s.tris)
		back := rigidOf(turned)
		m := f.after(&back) // axes to axes
		for k := range 3 {
			row := vec{math.Abs(m.r[3*k]), math.Abs(m.r[3*k+1]), math.Abs(m.r[3*k+2])}
			slices.Sort(row[:])
			if row[1] > c.sine {
				t.Errorf("axis %d is %v off", k, row[1])
			}
		}
	}
	if house := house100k(); frameOf(house.points, house.tris) != still {
		t.Error("a surface along the axes is turned")
	}
}

// Triangles with coordinates that are no numbers, or too large to reckon with, are left out.
func TestNoNumbers(t *testing.T) {
	s := ball(1, 120)
	for i := 0; i < len(s.points); i += 7 {
		s.points[i][i%3] = []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -math.MaxFloat64}[i/7%5]
	}
	var left soup
	left.points = s.points
	for _, u := range s.tris {
		if load(&s.points[u[0]]).finite() && load(&s.points[u[1]]).finite() && load(&s.points[u[2]]).finite() {
			left.tris = append(left.tris, u)
		}
	}
	other := ball(2, 30).moved(tumble(rand.New(rand.NewPCG(1, 2)), 1))
	want, hits := all(left, other)
	q := NewQuery(s.surface(), other.surface())
	if n, ok := q.Distance(math.Inf(1)); !ok || !close2(n.D, want, Tolerance) || len(q.Contacts(nil)) != len(hits) {
		t.Errorf("%v, want %v", n.D, want)
	}
}
