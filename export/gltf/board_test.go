package gltf

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
	"foldfit/mesh"
)

// Whole boards, divided and meshed as foldfit does it. All of them are ours.

func loop(t testing.TB, xy ...float64) flat.Loop {
	t.Helper()
	var items []flat.Vertex
	for i := 0; i < len(xy); i += 2 {
		items = append(items, flat.Vertex{P: flat.Pt{X: xy[i], Y: xy[i+1]}})
	}
	l, errs := flat.Build(items)
	if errs != nil {
		t.Fatal(errs)
	}
	return l
}

func circle(x, y, d float64) flat.Loop {
	l, _ := flat.Circle(flat.Pt{X: x, Y: y}, d)
	return l
}

func hinge(name string, x0, y0, x1, y1, angle, radius float64) fold.Hinge {
	return fold.Hinge{Name: name, Line: [2]flat.Pt{{X: x0, Y: y0}, {X: x1, Y: y1}}, Angle: angle, Radius: radius, Written: 1}
}

// design returns a board of flex 0.2 thick, its neutral surface a little off the middle, with the given areas rigid.
func design(outline flat.Loop, hinges []fold.Hinge, rigid ...flat.Loop) *fold.Design {
	flex := stackup.Stackup{Name: "flex", CopperLayers: -1, Layers: []stackup.Layer{
		{Thickness: 0.12, Modulus: 2.5}, {Thickness: 0.03, Modulus: 117}, {Thickness: 0.05, Modulus: 2.5}}}
	board := stackup.Stackup{Name: "board", Rigid: true, CopperLayers: -1, Layers: []stackup.Layer{{Thickness: 1, Modulus: 20}}}
	d := &fold.Design{Name: "test", Outline: outline, Flex: "flex", Loop: fold.DefaultLoop, Hinges: hinges, Stackups: []stackup.Stackup{flex, board}}
	for i, area := range rigid {
		d.Sections = append(d.Sections, fold.Section{Name: string(rune('a' + i)), Stackup: "board", Area: area})
	}
	return d
}

func designs(t testing.TB) map[string]*fold.Design {
	height := 1.2
	strip := design(loop(t, 0, 0, 60, 0, 60, 12, 0, 12), []fold.Hinge{hinge("neck", 30, -1, 30, 13, 180, 1.5)},
		loop(t, 0, 0, 20, 0, 20, 12, 0, 12), loop(t, 40, 0, 60, 0, 60, 12, 40, 12))
	strip.Cutouts = []flat.Loop{circle(30, 6, 2), circle(5, 6, 3.2)}
	strip.Components = []fold.Component{
		{Name: "U1", At: flat.Pt{X: 12, Y: 6}, Turn: 45, Size: &[2]float64{4, 4}, Height: &height},
		{Name: "R1", At: flat.Pt{X: 29, Y: 2}, Turn: 10, Size: &[2]float64{0.6, 0.3}, Height: &height, Side: fold.Bottom},
		{Name: "C1", At: flat.Pt{X: 50, Y: 6}, Diameter: 4, Height: &height, Side: fold.Bottom},
	}
	strip.Stiffeners = []fold.Stiffener{{Name: "pad", Side: fold.Bottom, Material: "polyimide", Thickness: 0.2, Area: loop(t, 34, 2, 38, 2, 38, 8, 34, 8)}}
	chain := design(loop(t, 0, 0, 90, 0, 90, 20, 0, 20), []fold.Hinge{
		hinge("a", 18, -2, 24, 22, 70, 1.4), hinge("b", 45, 25, 40, -5, -115, 2), hinge("c", 68, 0, 70, 20, 200, 0.8)})
	placed := *strip
	placed.Base = fold.Base{Section: "b"}
	placed.Place = fold.Placement{Datum: "bottom", Turn: [3]float64{90, 30, -20}, Move: mgl64.Vec3{40, -25, 8}}
	comb := design(loop(t, 0, 0, 40, 0, 40, 8, 15, 8, 15, 12, 40, 12, 40, 20, 0, 20), []fold.Hinge{hinge("palm", 15.2, -1, 15.2, 21, 90, 1.5)})
	frame := design(loop(t, 0, 0, 60, 0, 60, 40, 0, 40), []fold.Hinge{hinge("pair", 30, -1, 30, 41, 120, 1.5)})
	frame.Cutouts = []flat.Loop{loop(t, 10, 10, 50, 10, 50, 30, 10, 30)}
	free := design(loop(t, 0, 0, 40, 0, 40, 10, 0, 10), []fold.Hinge{hinge("end", 39.5, -1, 39.5, 11, 90, 1.5)})
	return map[string]*fold.Design{"strip": strip, "chain": chain, "placed": &placed, "comb": comb, "frame": frame, "free": free}
}

// skinned divides, folds and meshes a design.
func skinned(t testing.TB, d *fold.Design, chord float64) *mesh.Assembly {
	t.Helper()
	tree, problems := fold.Divide(d)
	if problems != nil {
		t.Fatal(problems)
	}
	f, err := tree.Place(tree.Angles())
	if err != nil {
		t.Fatal(err)
	}
	a, err := mesh.Skin(f, chord)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestWholeBoards(t *testing.T) {
	for name, d := range designs(t) {
		t.Run(name, func(t *testing.T) {
			a := skinned(t, d, 0.01)
			r := written(t, Scene{Assembly: a})
			checkMotion(t, r, a, a.Folded.Tree.HousingFromBoard())
			checkClosed(t, r, a, mgl64.Ident4())
			checkTold(t, r, a)
			if n := len(r.doc.Meshes); n != len(a.Folded.Tree.Bodies) {
				t.Errorf("%d meshes for %d bodies", n, len(a.Folded.Tree.Bodies))
			}
		})
	}
}

// checkTold compares what the file tells of each body with what its shape shows, within what the chord allows.
func checkTold(t *testing.T, r reader, a *mesh.Assembly) {
	t.Helper()
	for i := range a.Bodies {
		b := &a.Bodies[i]
		tb := &a.Folded.Tree.Bodies[b.Source]
		x := r.doc.Nodes[r.meshNode(b.Name)].Extras.(map[string]any)
		told, shown := x["volume_mm3"].(float64), meshVolume(b.Points, b.Triangles)
		if math.Abs(told-shown) > 0.01*told {
			t.Errorf("%s: %g mm3 told, %g shown", b.Name, told, shown)
		}
		if math.Abs(told-tb.Volume) > 1e-5 {
			t.Errorf("%s: %g mm3 told, %g exact", b.Name, told, tb.Volume)
		}
		if x["name"] != b.Name || x["kind"] != string(tb.Kind) {
			t.Errorf("%s: extras %v", b.Name, x)
		}
	}
}

// Random chains of oblique bends to both sides, some with a hole in a bend, anywhere in the housing.
func TestRandomBoards(t *testing.T) {
	made := 0
	for seed := range uint64(25) {
		d := randomDesign(t, rand.New(rand.NewPCG(seed, 1)))
		tree, problems := fold.Divide(d)
		if problems != nil || !tree.Foldable {
			continue
		}
		made++
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			a := skinned(t, d, 0.02)
			r := written(t, Scene{Assembly: a})
			checkMotion(t, r, a, tree.HousingFromBoard())
			checkClosed(t, r, a, mgl64.Ident4())
		})
	}
	if made < 20 {
		t.Errorf("only %d boards could be made", made)
	}
}

func randomDesign(t *testing.T, random *rand.Rand) *fold.Design {
	within := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	var hinges []fold.Hinge
	for i, x := range []float64{20, 50, 80} {
		x += within(-3, 3)
		hinges = append(hinges, hinge(fmt.Sprintf("h%d", i), x+within(-2, 2), -2, x+within(-2, 2), 22, within(-300, 300), within(0.2, 2)))
	}
	d := design(loop(t, 0, 0, 110, 0, 110, 20, 0, 20), hinges, loop(t, 0, 0, 10, 0, 10, 20, 0, 20))
	if random.IntN(2) == 0 {
		d.Cutouts = []flat.Loop{circle(20+30*float64(random.IntN(3)), within(6, 14), within(1, 5))}
	}
	d.Place = fold.Placement{
		Turn: [3]float64{within(-180, 180), within(-90, 90), within(-180, 180)},
		Move: mgl64.Vec3{within(-50, 50), within(-50, 50), within(-50, 50)},
	}
	return d
}
