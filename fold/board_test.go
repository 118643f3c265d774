package fold

import (
	"math"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// spec is a board in few words, for tests. Lists keep their order.
type spec struct {
	outline []flat.Vertex
	cutouts []flat.Loop
	flex    [2]float64 // z of the faces; zero = -0.1, 0.1
	layers  []stackup.Layer
	areas   []area
	hinges  []Hinge
	base    any // flat.Pt, section name or nil
}

// area is a section with the faces of its stack-up, mm from z = 0.
type area struct {
	name   string
	loop   flat.Loop
	rigid  bool
	thick  float64
	embeds []stackup.Embed
}

func pts(xy ...float64) []flat.Vertex {
	var out []flat.Vertex
	for i := 0; i < len(xy); i += 2 {
		out = append(out, flat.Vertex{P: flat.Pt{X: xy[i], Y: xy[i+1]}})
	}
	return out
}

func box(x0, y0, x1, y1 float64) []flat.Vertex { return pts(x0, y0, x1, y0, x1, y1, x0, y1) }

func rect(x0, y0, x1, y1 float64) flat.Loop {
	l, _ := flat.Rect(x0, y0, x1, y1, 0)
	return l
}

func disc(x, y, d float64) flat.Loop {
	l, _ := flat.Circle(flat.Pt{X: x, Y: y}, d)
	return l
}

// hinge returns a hinge; the rest is angle and radius, 90 and 1.5 where not given.
func hinge(name string, x0, y0, x1, y1 float64, rest ...float64) Hinge {
	h := Hinge{Name: name, Line: [2]flat.Pt{{X: x0, Y: y0}, {X: x1, Y: y1}}, Angle: 90, Radius: 1.5, Written: 1}
	if len(rest) > 0 {
		h.Angle = rest[0]
	}
	if len(rest) > 1 {
		h.Radius = rest[1]
	}
	return h
}

func plain(thick float64) []stackup.Layer { return []stackup.Layer{{Thickness: thick, Modulus: 1}} }

// design makes the Design of a spec.
func (s spec) design(t testing.TB) *Design {
	t.Helper()
	outline, errs := flat.Build(s.outline)
	if errs != nil {
		t.Fatalf("outline: %v", errs)
	}
	layers := s.layers
	if layers == nil {
		layers = plain(0.2)
		if s.flex != [2]float64{} {
			layers = plain(s.flex[1] - s.flex[0])
		}
	}
	d := &Design{Name: "test", Outline: outline, Cutouts: s.cutouts, Flex: "flex", Loop: DefaultLoop, Hinges: s.hinges,
		Stackups: []stackup.Stackup{{Name: "flex", Layers: layers, CopperLayers: -1}}}
	for _, a := range s.areas {
		d.Stackups = append(d.Stackups, stackup.Stackup{Name: a.name + "-stack", Rigid: a.rigid, Layers: plain(a.thick), Embeds: a.embeds, CopperLayers: -1})
		d.Sections = append(d.Sections, Section{Name: a.name, Stackup: a.name + "-stack", Area: a.loop})
	}
	switch b := s.base.(type) {
	case flat.Pt:
		d.Base.Point = &b
	case string:
		d.Base.Section = b
	}
	return d
}

// divide divides a spec that must be usable.
func (s spec) divide(t testing.TB) *Tree {
	t.Helper()
	tree, ps := Divide(s.design(t))
	if len(ps) > 0 {
		t.Fatalf("input problems: %v", ps)
	}
	checkArea(t, tree)
	return tree
}

// problems divides a spec that must be refused and returns the reasons as one text.
func (s spec) problems(t testing.TB) string {
	t.Helper()
	tree, ps := Divide(s.design(t))
	if len(ps) == 0 || tree != nil {
		t.Fatalf("accepted, but must be refused")
	}
	var out []string
	for _, p := range ps {
		out = append(out, p.What+" | "+p.Hint)
	}
	return strings.Join(out, "\n")
}

// checkArea demands that the pieces add up to the board, to 1e-9 relative.
func checkArea(t testing.TB, tree *Tree) {
	t.Helper()
	if !tree.Foldable {
		return
	}
	sum := 0.0
	for _, f := range tree.Flats {
		sum += f.Area
	}
	for _, b := range tree.Bends {
		sum += b.Area
	}
	if all := tree.Board.Area(); math.Abs(sum-all) > 1e-9*all {
		t.Errorf("pieces add up to %.12f of %.12f mm2", sum, all)
	}
	bodies := 0.0
	for _, b := range tree.Bodies {
		if b.Kind == KindSection || b.Kind == KindFlex || b.Kind == KindBend {
			bodies += b.Area
		}
	}
	if all := tree.Board.Area(); math.Abs(bodies-all) > 1e-9*all {
		t.Errorf("bodies add up to %.12f of %.12f mm2", bodies, all)
	}
}

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

// place folds to the design's angles times fraction.
func (tr *Tree) place(t testing.TB, fraction float64) *Folded {
	t.Helper()
	f, err := tr.Place(tr.Partial(fraction))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// image returns where the material point (x, y, z) goes.
func (f *Folded) image(t testing.TB, x, y, z float64) mgl64.Vec3 {
	t.Helper()
	p := flat.Pt{X: x, Y: y}
	for i, b := range f.Tree.Bends {
		if b.Region.Contains(p) {
			return f.BendPoint(i, p, z)
		}
	}
	for i, fl := range f.Tree.Flats {
		if len(fl.Region) > 0 && regionHolds(fl.Region, p) {
			return Apply(f.flats[i], mgl64.Vec3{x, y, z})
		}
	}
	t.Fatalf("(%g, %g) is off the board", x, y)
	return mgl64.Vec3{}
}

// nearVec compares points to 1e-8 mm, the tenth decimal of a reference rounded there included.
func nearVec(t testing.TB, what string, got, want mgl64.Vec3) {
	t.Helper()
	if got.Sub(want).Len() > 1e-9 {
		t.Errorf("%s = %.10f, want %.10f", what, got, want)
	}
}

// nearRows compares the upper three rows of a motion with a list of 12 numbers.
func nearRows(t testing.TB, what string, m mgl64.Mat4, tol float64, want ...float64) {
	t.Helper()
	for i, w := range want {
		if got := m.At(i/4, i%4); math.Abs(got-w) > tol {
			t.Errorf("%s row %d column %d = %.10f, want %.10f", what, i/4, i%4, got, w)
		}
	}
}

// flatAt returns the number of the flat that holds p.
func (tr *Tree) flatAt(t testing.TB, x, y float64) int {
	t.Helper()
	for i, f := range tr.Flats {
		if len(f.Region) > 0 && f.Region.Contains(flat.Pt{X: x, Y: y}) {
			return i
		}
	}
	t.Fatalf("no flat at (%g, %g)", x, y)
	return -1
}
