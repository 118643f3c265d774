package clash

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"foldfit/mesh/enclosure"
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
		if _, sure := s.crossings(vec{}, unit(d), -1, new(int)); sure {
			t.Errorf("ray along %v passes an edge and is trusted", d)
		}
	}
	if n, sure := s.crossings(vec{0.1, 0.2, 0}, vec{0, 0, 1}, -1, new(int)); n != 1 || !sure {
		t.Errorf("%d crossings, sure %v", n, sure)
	}
	if n, sure := s.crossings(vec{0.1, 0.2, -3}, vec{0, 0, 1}, -1, new(int)); n != 0 || !sure {
		t.Errorf("%d crossings right through, sure %v", n, sure)
	}
}

// read returns a solid as a reader of files makes it: mended where it can be.
func (s solid) read(t *testing.T) (*shape, Wall) {
	var b strings.Builder
	b.WriteString("solid s\n")
	for _, c := range s.tris {
		b.WriteString("facet normal 0 0 0\nouter loop\n")
		for _, k := range c {
			p := s.points[k]
			fmt.Fprintf(&b, "vertex %v %v %v\n", p[0], p[1], p[2])
		}
		b.WriteString("endloop\nendfacet\n")
	}
	b.WriteString("endsolid s\n")
	m, h, err := enclosure.Read("s", "s.stl", []byte(b.String()), 1)
	if err != nil {
		t.Fatal(err)
	}
	w := Wall{Mesh: m, Closed: h.Closed}
	w.Mesh.Name = "enclosure:s"
	return w.surface(), w
}

// Of a housing with a fault it is told rightly what is material, or not at all: never wrongly.
func TestDefectiveHousings(t *testing.T) {
	outer, hole := block(-3, -4, -5, 40, 30, 20), block(1, 1, 1, 37, 27, 17)
	sound := outer.with(hole.inward())
	material := func(p vec) bool { return outer.holds(p) && !hole.holds(p) }
	boss := block(5, 5, -1, 9, 9, 8) // grows out of the floor, as a shell of its own
	without := solid{sound.points, slices.Delete(slices.Clone(sound.tris), 3, 4)}
	flipped := solid{sound.points, slices.Clone(sound.tris)}
	for _, i := range []int{2, 7, 15} {
		flipped.tris[i][0], flipped.tris[i][1] = flipped.tris[i][1], flipped.tris[i][0]
	}
	cases := []struct {
		name string
		s    solid
		want func(p vec) bool
		told int // percent of the points whose side is told at least
		most int
	}{
		{"sound", sound, material, 100, 100},
		{"a triangle missing", without, material, 0, 0},
		{"three triangles flipped", flipped, material, 100, 100},
		{"faces twice", solid{sound.points, append(slices.Clone(sound.tris), sound.tris[4:9]...)}, material, 100, 100},
		{"all twice", solid{sound.points, append(slices.Clone(sound.tris), sound.tris...)}, material, 100, 100},
		{"inside out", outer.inward().with(hole), material, 100, 100},
		{"cavity turned the wrong way", outer.with(hole), material, 40, 75},
		{"boss through the floor", sound.with(boss), func(p vec) bool { return material(p) || boss.holds(p) }, 100, 100},
		{"island in the cavity", sound.with(boss.shifted(0, 0, 5)), func(p vec) bool { return material(p) || boss.shifted(0, 0, 5).holds(p) }, 100, 100},
		{"boss turned the wrong way", sound.with(boss.inward()), func(p vec) bool { return material(p) || boss.holds(p) }, 100, 100},
		{"insert in the wall", sound.with(block(10, 10, -3, 12, 12, -1)), material, 99, 100},
	}
	r := rand.New(rand.NewPCG(31, 7))
	for _, c := range cases {
		s, _ := c.s.read(t)
		told := 0
		const points = 1500
		for range points {
			p := vec{-5 + 47*r.Float64(), -6 + 38*r.Float64(), -7 + 29*r.Float64()}
			if !s.closed || s.doubtful(p) {
				continue
			}
			told++
			if s.contains(p) != c.want(p) {
				t.Errorf("%s: %v is taken for material: %v", c.name, p, s.contains(p))
			}
		}
		if told*100 < c.told*points || told*100 > c.most*points {
			t.Errorf("%s: the side of %d points of %d is told", c.name, told, points)
		}
	}
}

// holds reports whether p lies in the box around s.
func (s solid) holds(p vec) bool {
	b := emptyBox()
	for _, q := range s.points {
		b = b.with(q)
	}
	return b.holds(p)
}

// A board in a cavity that is turned the wrong way: whether it lies in material is said to be unchecked, once a body, and is
// no contact; its gap to the cavity's walls is judged.
func TestBoardInDoubtfulCavity(t *testing.T) {
	cavity := func(wide float64) (solid, Wall) {
		s := block(-20, -20, -20, 80, 50, 30).with(block(-wide, -5, -5, 65, 35, 15))
		_, w := s.read(t)
		return s, w
	}
	a := board(t, plate(0, ""), 0.01)
	for _, c := range []struct {
		wide float64
		want []string
	}{{5, nil}, {0.1, []string{"clearance section:main enclosure:s"}}} {
		_, w := cavity(c.wide)
		r := Check(a, []Wall{w})
		expect(t, fmt.Sprintf("cavity %v wider", c.wide), r, c.want...)
		if len(r.Unchecked) != 1 || r.Unchecked[0].What != "inside" || r.Unchecked[0].On[0] != "section:main" {
			t.Errorf("%+v", r.Unchecked)
		}
	}
	_, sound := block(-20, -20, -20, 80, 50, 30).with(block(-5, -5, -5, 65, 35, 15).inward()).read(t)
	if r := Check(a, []Wall{sound}); len(r.Findings)+len(r.Unchecked) > 0 {
		t.Errorf("a sound cavity: %v %+v", rules(r), r.Unchecked)
	}
}
