package mesh

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// spec is a board in few words, for tests.
type spec struct {
	outline  []flat.Vertex
	cutouts  []flat.Loop
	flex     [2]float64 // heights of the faces over the neutral surface; zero = -0.1, 0.1
	sections map[string]flat.Loop
	hinges   []fold.Hinge
	base     *flat.Pt
}

// pts returns the corners of a loop.
func pts(xy ...float64) []flat.Vertex {
	var out []flat.Vertex
	for i := 0; i < len(xy); i += 2 {
		out = append(out, flat.Vertex{P: flat.Pt{X: xy[i], Y: xy[i+1]}})
	}
	return out
}

func rect(x0, y0, x1, y1 float64) flat.Loop {
	l, _ := flat.Rect(x0, y0, x1, y1, 0)
	return l
}

func disc(x, y, d float64) flat.Loop {
	l, _ := flat.Circle(flat.Pt{X: x, Y: y}, d)
	return l
}

func hinge(name string, x0, y0, x1, y1, angle, radius float64) fold.Hinge {
	return fold.Hinge{Name: name, Line: [2]flat.Pt{{X: x0, Y: y0}, {X: x1, Y: y1}}, Angle: angle, Radius: radius, Written: 1}
}

// design makes the Design of a spec. Sections are rigid, 1 mm thick.
func (s spec) design(t testing.TB) *fold.Design {
	t.Helper()
	outline, errs := flat.Build(s.outline)
	if errs != nil {
		t.Fatalf("outline: %v", errs)
	}
	layers := []stackup.Layer{{Thickness: 0.2, Modulus: 1}}
	if s.flex != [2]float64{} {
		layers = asymmetric(s.flex)
	}
	d := &fold.Design{Name: "test", Outline: outline, Cutouts: s.cutouts, Flex: "flex", Loop: fold.DefaultLoop, Hinges: s.hinges,
		Stackups: []stackup.Stackup{{Name: "flex", Layers: layers, CopperLayers: -1},
			{Name: "rigid", Rigid: true, Layers: []stackup.Layer{{Thickness: 1, Modulus: 1}}, CopperLayers: -1}}}
	d.Base.Point = s.base
	for _, name := range []string{"main", "wing"} {
		if l, ok := s.sections[name]; ok {
			d.Sections = append(d.Sections, fold.Section{Name: name, Stackup: "rigid", Area: l})
		}
	}
	return d
}

// asymmetric returns layers whose faces lie at the given heights over their neutral surface: two layers of stiffness 1 and
// e with the border in the middle.
func asymmetric(faces [2]float64) []stackup.Layer {
	t := faces[1] - faces[0]
	y := -faces[0] / t // of the neutral surface: (1/4 + 3e/4) / (1 + e), bottom 1, top e
	e := (y - 0.25) / (0.75 - y)
	return []stackup.Layer{{Thickness: t / 2, Modulus: e}, {Thickness: t / 2, Modulus: 1}}
}

// divide divides a spec that must be usable.
func (s spec) divide(t testing.TB) *fold.Tree {
	t.Helper()
	tree, ps := fold.Divide(s.design(t))
	if len(ps) > 0 {
		t.Fatalf("input problems: %v", ps)
	}
	return tree
}

// skin meshes a tree at its own angles times fraction.
func skin(t testing.TB, tree *fold.Tree, fraction, chord float64) *Assembly {
	t.Helper()
	f, err := tree.Place(tree.Partial(fraction))
	if err != nil {
		t.Fatal(err)
	}
	a, err := Skin(f, chord)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// body returns the body of that name.
func (a *Assembly) body(t testing.TB, name string) *Body {
	t.Helper()
	for i := range a.Bodies {
		if a.Bodies[i].Name == name {
			return &a.Bodies[i]
		}
	}
	t.Fatalf("no body %s", name)
	return nil
}

// bendTree returns a tree of a single bend about a line through o, with that region in flat coordinates (near tangent
// line through o, normal d) and no other bodies.
func bendTree(r flat.Region, o, d flat.Pt, width, angle float64, faces [2]float64, height float64) *fold.Tree {
	b := fold.Bend{Name: "n", Region: r, Origin: o, Dir: d, Width: width, Near: []int{0}, Faces: faces, Height: height, Area: r.Area(), Reach: width}
	zb, zt := faces[0]-height, faces[1]-height
	k := angle * math.Pi / 180 / width
	return &fold.Tree{Design: &fold.Design{Hinges: []fold.Hinge{{Name: "n", Angle: angle}}}, Foldable: true,
		Hinges: []fold.HingeInfo{{Width: width, Bends: []int{0}}}, Bends: []fold.Bend{b},
		Flats: []fold.Flat{{Name: "base", Parent: -1, Bend: -1}},
		Bodies: []fold.Body{{Name: "bend:n", Kind: fold.KindBend, Flat: -1, Bend: 0, Region: r, Faces: faces, Area: b.Area,
			Volume: b.Area * ((zt - zb) - k*(zt*zt-zb*zb)/2)}}}
}

// turned returns a region turned about the origin.
func turned(r flat.Region, deg float64) flat.Region {
	m := fold.RigidMotion([3]float64{0, 0, deg}, mgl64.Vec3{})
	turn := func(p flat.Pt) flat.Pt {
		v := fold.Apply(m, mgl64.Vec3{p.X, p.Y, 0})
		return flat.Pt{X: v[0], Y: v[1]}
	}
	out := make(flat.Region, len(r))
	for i, l := range r {
		for _, e := range l {
			e.P, e.Q, e.C = turn(e.P), turn(e.Q), turn(e.C)
			out[i] = append(out[i], e)
		}
	}
	return out
}

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, tol)
	}
}

// euler returns points - edges + triangles.
func euler(m Mesh) int { return len(m.Points) - len(m.Triangles)/2 }
