package clash

import (
	"fmt"
	"math"
	"testing"

	"foldfit/fold"
)

// cone is a frustum of 48 sides from z 0 to h.
func cone(t *testing.T, low, high, h, chord float64) Wall {
	s := rod(48, 1, 0, 0, h)
	for i, p := range s.points {
		d := low
		if p[2] > 0 {
			d = high
		}
		s.points[i] = vec{d * p[0], d * p[1], p[2]}
	}
	w := wall("boss", 0, 0, 0, 1, 1, 1)
	w.Mesh.Points, w.Mesh.Triangles, w.Mesh.Normals, w.Mesh.Chord = s.points, s.tris, nil, chord
	return w
}

// The lower bound takes off the chord where a curved surface is near, not where planes are, rims and all.
func TestLowIsExactBetweenPlanes(t *testing.T) {
	at := func(w Wall, x, y, z float64) Wall {
		w.Mesh = w.Mesh.Place(shift(vec{x, y, z}))
		return w
	}
	for _, name := range []string{"boss", "drafted boss"} {
		foot := map[string]float64{"boss": 3, "drafted boss": 3.2}[name]
		for _, gap := range []float64{0, 0.1} {
			r := Check(board(t, plate(gap, ""), 0.01), []Wall{at(cone(t, foot, 3, 5, 0.02), 10, 10, -5)})
			if g := find(r, "enclosure:boss", "section:main"); g == nil || !close2(g.Gap, gap, 1e-9) || !close2(g.Low, g.Gap, 1e-9) {
				t.Errorf("%s, %v under a plane: %+v", name, gap, g)
			}
		}
	}
	r := Check(board(t, plate(0, ""), 0.01), []Wall{at(cone(t, 3, 3, 5, 0.02), 43.1, 10, -2)}) // beside the board's edge
	if g := find(r, "enclosure:boss", "section:main"); g == nil || !close2(g.Gap, 0.1, 0.01) || !close2(g.Gap-g.Low, 0.02, 1e-4) {
		t.Errorf("a round side at a plane: %+v", g)
	}
	// A round board on a floor: flat faces again, whatever its border; beside a wall its border counts.
	round := "outline: [[0, 5], {arc: [10, 5], via: [5, 0]}, {arc: [0, 5], via: [5, 10]}]\nstackups: {film: {thickness: 0.2}}\nflex: film\nplace: {datum: bottom}\n"
	a := board(t, round, 0.05)
	r = Check(a, []Wall{wall("floor", -20, -20, -1, 20, 20, 0)})
	if g := find(r, "enclosure:floor", "flex:flat-1"); g == nil || g.Gap != 0 || g.Low != 0 {
		t.Errorf("on a floor: %+v", g)
	}
	a.Folded.Tree.Design.Place.Turn = [3]float64{0, 0, 7.5} // not to have a corner nearest
	r = Check(a, []Wall{wall("side", 20, -20, -1, 40, 20, 5)})
	c, s := math.Cos(7.5*math.Pi/180), math.Sin(7.5*math.Pi/180)
	want := 20 - (5*c - 5*s + 5)
	if g := find(r, "enclosure:side", "flex:flat-1"); g == nil || g.Gap < want-1e-9 || g.Gap > want+0.05 || g.Low > want || g.Low < want-0.05 || g.Low == g.Gap {
		t.Errorf("beside a wall: %+v, want %v", g, want)
	}
}

// The bound holds: it is never above the true distance from a cylinder, seen from anywhere.
func TestLowIsABound(t *testing.T) {
	const n, radius = 24, 3.0
	chord := radius * (1 - math.Cos(math.Pi/n))
	c := cone(t, radius, radius, 5, chord)
	for i := range 200 {
		s, k := math.Sincos(float64(i) * 0.7)
		d, z := radius+0.02+0.01*float64(i%7), -0.4+6*float64(i%13)/12
		p := vec{d * k, d * s, z}
		m := wallMember(&c)
		probe := newShape([]vec{p}, [][3]int32{{0, 0, 0}}, false)
		near, ok := distance(probe, m.shape(), math.Inf(1))
		if !ok {
			t.Fatal("no distance")
		}
		low := near.d - m.chordAt(near.y, unit(sub(near.x, near.y)))
		side := max(0, d-radius)
		up := max(0, z-5, -z)
		if exact := math.Hypot(side, up); low > exact+1e-9 || low < exact-2*chord {
			t.Errorf("at %v: bound %v, true %v, mesh %v", p, low, exact, near.d)
		}
	}
}

// Where flat faces touch, the way out is their normal.
func TestTouchTellsTheWay(t *testing.T) {
	r := Check(board(t, plate(0, ""), 0.01), []Wall{wall("floor", 5, 5, -3, 12, 12, 0)})
	expect(t, "on a floor", r, "clearance section:main enclosure:floor")
	says(t, r, "move section:main by 0.2 mm along +z")
	if g := find(r, "enclosure:floor", "section:main"); g.Gap != 0 {
		t.Errorf("%+v", g)
	}
	a := board(t, plate(0, ""), 0.01)
	for turn := 10.0; turn < 90; turn += 10 { // where corners are rounded
		a.Folded.Tree.Design.Place.Turn = [3]float64{turn, 0, 0}
		floor := wall("floor", 5, 5, -3, 12, 12, 0)
		floor.Mesh = floor.Mesh.Place(fold.RigidMotion([3]float64{turn, 0, 0}, vec{}))
		s, c := math.Sincos(turn * math.Pi / 180)
		says(t, Check(a, []Wall{floor}), fmt.Sprintf("by 0.2 mm along (0.00, %.2f, %.2f)", -s, c))
	}
}
