package clash

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"foldfit/fold"
	"foldfit/fold/tolerance"
	"foldfit/mesh"
)

// ofMesh makes walls pieces of the design that were read from files.
func ofMesh(d *fold.Design, walls ...Wall) []Wall {
	for i := range walls {
		walls[i].Piece.Mesh = walls[i].Piece.Name + ".stl"
		d.Enclosure = append(d.Enclosure, *walls[i].Piece)
	}
	return walls
}

// worthOf returns what a gap is worth.
func worthOf(t *testing.T, f *fold.Folded, g *Gap) *tolerance.Worth {
	t.Helper()
	w, err := tolerance.Of(f, tolerance.Measured{Between: g.Between, At: g.At, Gap: g.Gap, Low: g.Low, Way: g.Way, Faces: g.Faces})
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// checkSlopes folds a board again with each hinge a little off either way, and compares how the gap of a pair changes with its
// derivatives.
func checkSlopes(t *testing.T, name string, a *mesh.Assembly, walls []Wall, g *Gap) (seen int) {
	t.Helper()
	const step = 1e-3 // degrees, and mm
	tree := a.Folded.Tree
	w := worthOf(t, a.Folded, g)
	if w.Unsure != "" {
		t.Errorf("%s: %s", name, w.Unsure)
	}
	for i := range tree.Design.Hinges {
		for k, sign := range []float64{1, -1} {
			for _, line := range []bool{false, true} {
				off := make([]tolerance.Shift, len(tree.Design.Hinges))
				want := w.Gains[i].Angle[k]
				off[i].Angle = sign * step
				if line {
					off[i] = tolerance.Shift{Line: sign * step}
					want = 10 * w.Gains[i].Line[k]
				}
				f, err := tolerance.Folded(tree, a.Folded.Angles, off)
				if err != nil {
					continue
				}
				b, err := mesh.Skin(f, a.Chord)
				if err != nil {
					t.Fatal(err)
				}
				after, ok := pairGap(b, walls, g.Between)
				if !ok {
					continue // a line that moved divides the board otherwise
				}
				seen++
				if got := (after - g.Gap) / step; !close2(got, want, 0.003+0.02*math.Abs(want)) {
					t.Errorf("%s, hinge %d, line %v, way %v: %v - %v gains %v, told %v of %d pairs", name, i, line, sign, g.Between[0], g.Between[1], got, want, w.Pairs)
				}
			}
		}
	}
	return seen
}

// pairGap measures the gap between two named bodies.
func pairGap(a *mesh.Assembly, walls []Wall, names [2]string) (float64, bool) {
	c := newChecker(a, walls, "folded")
	for _, p := range c.pairs("enclosure") {
		if min(p.a.name, p.b.name) == names[0] && max(p.a.name, p.b.name) == names[1] {
			r, ok := c.read(&p, p.a, p.b, math.Inf(1))
			return r.gap, ok
		}
	}
	return 0, false
}

// A wing that stands parallel to a housing's face, or to an edge of it, gains and loses by the corner that comes nearest,
// whatever the triangles of the mesh.
func TestWorthAtMeshes(t *testing.T) {
	wing := "sections: {wing: {stackup: plate, area: {rect: [40, 0, 60, 10]}}}\n"
	fine := sheet(20, 30, 30, -0.5, 1, 0).moved(fold.RigidMotion([3]float64{0, 90, 0}, vec{36, -8, 28}))
	slab := wall("shell", 36, -8, 0, 38, 20, 30)
	far := wall("shell", 46, -8, 0, 48, 20, 30)
	net := wall("shell", 0, 0, 0, 1, 1, 1)
	net.Mesh.Points, net.Mesh.Triangles, net.Mesh.Normals = fine.points, fine.tris, nil
	ridge := wall("shell", -3, -8, -3, 3, 20, 3)
	ridge.Mesh = ridge.Mesh.Place(fold.RigidMotion([3]float64{0, 45, 0}, vec{40, 0, 16}))
	for _, c := range []struct {
		name  string
		w     Wall
		angle float64
		pairs int // at least
	}{
		{"face to face", slab, 90, 5}, {"fine face", net, 90, 5}, {"ridge along the wing", ridge, 90, 3}, {"edge before a face", far, 80, 3},
	} {
		a := board(t, strip(c.angle, 1.5, wing), 0.001)
		walls := ofMesh(a.Folded.Tree.Design, c.w)
		g := find(Check(a, walls), "section:wing", "enclosure:shell")
		if g == nil {
			t.Fatalf("%s: no gap to the wing", c.name)
		}
		if seen := checkSlopes(t, c.name, a, walls, g); seen != 4 {
			t.Errorf("%s: %d slopes", c.name, seen)
		}
		if w := worthOf(t, a.Folded, g); w.Pairs < c.pairs {
			t.Errorf("%s: %d pairs, %v", c.name, w.Pairs, w.Gains[0])
		}
	}
}

// Boards at random, chains of oblique hinges, before housings at random.
func TestWorthAtRandom(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 5))
	seen := 0
	for n := range 10 {
		a := board(t, chain(r), 0.002)
		shell := wall("shell", 0, 0, 0, 1, 1, 1)
		s := []solid{block(-8, -6, -1, 8, 6, 1), rod(5, 4, 0, -3, 3), sheet(4, 12, 12, 0, 1, 0.5)}[n%3].moved(tumble(r, 25))
		shell.Mesh.Points, shell.Mesh.Triangles, shell.Mesh.Normals = s.points, s.tris, nil
		walls := ofMesh(a.Folded.Tree.Design, shell)
		for _, g := range Check(a, walls).Gaps {
			if g.Kind == "enclosure" && g.Gap > 0.01 {
				seen += checkSlopes(t, fmt.Sprintf("board %d", n), a, walls, &g)
			}
		}
	}
	if seen < 50 {
		t.Errorf("%d slopes test too little", seen)
	}
}
