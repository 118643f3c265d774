package sheet

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/export/report"
	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
	"foldfit/mesh/enclosure"
)

// strip is a board 60 by 20 of plain flex 0.2 thick, folded by an angle about x = 30; with angle 0 it stays flat.
func strip(t testing.TB, angle float64) *fold.Design {
	t.Helper()
	outline, _ := flat.Rect(0, 0, 60, 20, 0)
	d := &fold.Design{Name: "strip", Outline: outline, Flex: "film", Loop: fold.DefaultLoop, Datum: flat.Pt{X: 5, Y: -2},
		Stackups: []stackup.Stackup{{Name: "film", Plain: true, Layers: []stackup.Layer{{Thickness: 0.2, Modulus: 1}}, CopperLayers: -1}}}
	if angle != 0 {
		d.Hinges = []fold.Hinge{{Name: "neck", Line: [2]flat.Pt{{X: 30, Y: -1}, {X: 30, Y: 21}}, Angle: angle, Written: 1, Radius: 2}}
	}
	return d
}

// pageOf composes the sheet of a design without a check.
func pageOf(t testing.TB, d *fold.Design) *page {
	t.Helper()
	tree, problems := fold.Divide(d)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	f, err := tree.Place(tree.Angles())
	if err != nil {
		t.Fatal(err)
	}
	p, err := compose(report.Run{Tree: tree, Folded: f, Posture: fold.FoldedPosture}, nil, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// cubeBoard is a part 10 x 10 x 10 of which the board is far too small to be seen beside it.
func cubeBoard(t testing.TB) *page {
	t.Helper()
	d := strip(t, 0)
	d.Outline, _ = flat.Rect(-0.01, -0.01, 0.01, 0.01, 0)
	high := 10.0
	d.Components = []fold.Component{{Name: "cube", Size: &[2]float64{10, 10}, Height: &high}}
	return pageOf(t, d)
}

// TestCube counts the edges of a cube that are seen: nine of twelve from a corner, four from a face, all at their full length.
func TestCube(t *testing.T) {
	p := cubeBoard(t)
	for i, want := range []struct{ edges, length float64 }{{4, 10}, {4, 10}, {4, 10}, {9, 10 * math.Sqrt(2./3)}} {
		pic := p.shots[i]
		found := 0.0
		for _, run := range pic.edges {
			if l := run[0].Dist(run[len(run)-1]); math.Abs(l-want.length) < 0.05 {
				found++
			} else if l > 0.5 {
				t.Errorf("%s: a line of %.3f", pic.name, l)
			}
		}
		if found != want.edges {
			t.Errorf("%s: %v edges, want %v", pic.name, found, want.edges)
		}
	}
}

// TestHidden compares what the screen hides with the plain question of every triangle, for random points.
func TestHidden(t *testing.T) {
	p := pageOf(t, strip(t, 150))
	rng := rand.New(rand.NewPCG(1, 2))
	for _, c := range []camera{fromFront, fromTop, fromRight, isometric} {
		s := newScreen(c, p.solid.bodies)
		hidden := 0
		for range 2000 {
			pt, depth := c.project(mgl64.Vec3{rng.Float64() * 35, rng.Float64() * 20, rng.Float64()*6 - 1})
			want := false
			for i := range s.covers {
				k := &s.covers[i]
				want = want || k.holds(pt) && k.base+pt.Sub(k.at).Dot(k.slope) > depth+k.behind
			}
			if got := s.hides(pt, depth); got != want {
				t.Fatalf("%v at %v: hidden %v, want %v", c.toward, pt, got, want)
			}
			if want {
				hidden++
			}
		}
		if hidden == 0 {
			t.Errorf("nothing is hidden from %v", c.toward)
		}
	}
}

// TestSilhouette: from the front a bend shows its true profile: the outer lines of the side view lie where neutral radius and half the
// thickness put them.
func TestSilhouette(t *testing.T) {
	p := pageOf(t, strip(t, 180))
	side := p.shots[2] // from the right: the bend is seen from outside, its height is twice the outer radius
	want := 2*(2+0.1) + 0.2
	if got := extent(side).Y; math.Abs(got-want) > 2*chord {
		t.Errorf("height of the folded strip %v, want %v", got, want)
	}
	top := p.shots[1]
	if got, want := extent(top).X, 30-math.Pi*2.1/2+2.2; math.Abs(got-want) > 2*chord {
		t.Errorf("length of the folded strip %v, want %v", got, want)
	}
}

// TestSliceArea: a plane through a box cuts its rectangle, whatever way the plane is turned about an edge's direction; a plane across
// a folded strip cuts the area that the flat strip has there.
func TestSliceArea(t *testing.T) {
	box := enclosure.Box("box", mgl64.Vec3{1, 2, 3}, mgl64.Vec3{5, 8, 6})
	for _, degrees := range []float64{0, 10, 30, 36} {
		turn := fold.RigidMotion([3]float64{0, degrees, 0}, mgl64.Vec3{})
		c := camera{fold.Turn(turn, mgl64.Vec3{1, 0, 0}), mgl64.Vec3{0, 1, 0}, fold.Turn(turn, mgl64.Vec3{0, 0, 1})}
		got := slice(&box, mgl64.Vec3{3, 5, 4.5}, c).Area()
		want := 6 * min(4/math.Cos(degrees*math.Pi/180), 3/math.Sin(degrees*math.Pi/180+1e-300))
		if math.Abs(got-want) > 1e-9*want {
			t.Errorf("turned by %v: area %v, want %v", degrees, got, want)
		}
	}
	p := pageOf(t, strip(t, 135))
	sum := 0.0
	for i := range p.solid.bodies {
		sum += slice(&p.solid.bodies[i], mgl64.Vec3{0, 7.5, 0}, camera{mgl64.Vec3{1, 0, 0}, mgl64.Vec3{0, 0, 1}, mgl64.Vec3{0, -1, 0}}).Area()
	}
	if want := 60 * 0.2; math.Abs(sum-want) > 60*chord {
		t.Errorf("area of the cut through the folded strip %v, want %v", sum, want)
	}
}

// TestSliceHole: a hole in a body is a hole in its section.
func TestSliceHole(t *testing.T) {
	d := strip(t, 0)
	hole, _ := flat.Circle(flat.Pt{X: 30, Y: 10}, 6)
	d.Cutouts = []flat.Loop{hole}
	p := pageOf(t, d)
	level := slice(&p.solid.bodies[0], mgl64.Vec3{}, camera{mgl64.Vec3{1, 0, 0}, mgl64.Vec3{0, 1, 0}, mgl64.Vec3{0, 0, 1}})
	if want := 60*20 - 9*math.Pi; len(level) != 2 || math.Abs(level.Area()-want) > 6*math.Pi*chord {
		t.Errorf("%d loops of area %v, want %v", len(level), level.Area(), want)
	}
}

// TestOutlines: a box has the twelve edges of a box, from wherever it is seen.
func TestOutlines(t *testing.T) {
	box := enclosure.Box("box", mgl64.Vec3{0, 0, 0}, mgl64.Vec3{1, 2, 3})
	for _, c := range []camera{fromFront, isometric} {
		if n := len(outlines(box, seams(box), c.toward)); n != 12 {
			t.Errorf("%d lines from %v", n, c.toward)
		}
	}
}

// TestSpread: slots keep their order, touch at most, stay in the row, and move as little as they must.
func TestSpread(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		row := make([]*slot, 1+rng.IntN(12))
		for i := range row {
			row[i] = &slot{want: rng.Float64() * 100, width: 2 + rng.Float64()*6}
		}
		if !spread(row, 0, 100) {
			t.Fatal("no room")
		}
		for i, s := range row {
			if s.at-s.width/2 < -1e-9 || s.at+s.width/2 > 100+1e-9 {
				t.Fatalf("slot %d at %v leaves the row", i, s.at)
			}
			if i > 0 && row[i-1].at+row[i-1].width/2 > s.at-s.width/2+1e-9 {
				t.Fatalf("slots %d and %d overlap", i-1, i)
			}
		}
	}
	alone := &slot{want: 40, width: 5}
	if spread([]*slot{alone}, 0, 100); alone.at != 40 {
		t.Errorf("a slot with room moved to %v", alone.at)
	}
	if spread([]*slot{{want: 1, width: 6}, {want: 2, width: 6}}, 0, 10) {
		t.Error("12 mm of slots in a row of 10")
	}
}
