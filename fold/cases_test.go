package fold

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

var (
	w9    = 1.6 * math.Pi / 2 // width of the usual bend: t 0.2, R 1.5, 90 degrees
	strip = box(0, 0, 40, 10)
	at11  = flat.Pt{X: 1, Y: 1}
	comb  = pts(0, 0, 40, 0, 40, 8, 15, 8, 15, 12, 40, 12, 40, 20, 0, 20)
	cross = pts(0, 0, 20, 0, 20, -20, 40, -20, 40, 0, 60, 0, 60, 20, 40, 20, 40, 40, 20, 40, 20, 20, 0, 20)
)

func one(outline []flat.Vertex, hs ...Hinge) spec {
	return spec{outline: outline, hinges: hs, base: at11}
}

func (s spec) holes(ls ...flat.Loop) spec { s.cutouts = ls; return s }
func (s spec) from(base any) spec         { s.base = base; return s }

// shape says in words what a divided board is: near and far flats of each bend, number of loops.
func (tr *Tree) shape(t testing.TB) string {
	var out []string
	for _, b := range tr.Bends {
		out = append(out, fmt.Sprintf("%s %d-%d", b.Name, len(b.Near), len(b.Far)))
	}
	f := tr.place(t, 1)
	return fmt.Sprintf("%s | %d flats, %d loops", strings.Join(out, ", "), len(tr.Flats), len(f.Closures()))
}

func TestHardCases(t *testing.T) {
	n := hinge("n", 20, 0, 20, 10)
	arc := []flat.Vertex{{}, {P: flat.Pt{X: 30}}, {P: flat.Pt{X: 30, Y: 10}, Via: &flat.Pt{X: 35, Y: 5}}, {P: flat.Pt{Y: 10}}}
	slot := func(x0, x1 float64) spec {
		return one(box(0, 0, 40, 10), n).holes(rect(x0, 4, x1, 6))
	}
	for _, c := range []struct {
		name  string
		s     spec
		shape string
	}{
		{"line overshoots both ends", one(strip, hinge("n", 20, -3, 20, 14)), "n 1-1 | 2 flats, 0 loops"},
		{"ends 5e-7 short", one(strip, hinge("n", 20, 0, 20, 10-5e-7)), "n 1-1 | 2 flats, 0 loops"},
		{"ends 0.009 short", one(strip, hinge("n", 20, 0.009, 20, 9.991)), "n 1-1 | 2 flats, 0 loops"},
		{"partly along a step's edge", one(pts(0, 0, 20, 0, 20, 5, 40, 5, 40, 15, 0, 15), hinge("n", 20, 0, 20, 15)), "n 1-1 | 2 flats, 0 loops"},
		{"tangent line on the edge", one(strip, hinge("n", w9/2, 0, w9/2, 10)).from(flat.Pt{X: 20, Y: 1}), "n 1-0 | 1 flats, 0 loops"},
		{"small hole on the line", one(strip, n).holes(disc(20, 5, 1.5)), "n 1-1 | 2 flats, 0 loops"},
		{"large hole on the line", one(strip, n).holes(disc(20, 5, 6)), "n 1-1, n.2 1-1 | 2 flats, 1 loops"},
		{"line ends in a large hole", one(strip, hinge("n", 20, 0, 20, 5)).holes(disc(20, 5, 6)), "n 1-1 | 1 flats, 1 loops"},
		{"line touches a hole's arc", one(strip, n).holes(disc(23, 5, 6)), "n 1-1 | 2 flats, 0 loops"},
		{"line cuts a cap off", one(arc, hinge("n", 34, 0, 34, 10)), "n 1-0 | 1 flats, 0 loops"},
		{"slot across the strip", slot(17, 23), "n 1-1, n.2 1-1 | 2 flats, 1 loops"},
		{"slot half into the strip, open", one(pts(0, 0, 40, 0, 40, 4, 20.5, 4, 20.5, 6, 40, 6, 40, 10, 0, 10), n), "n 1-2 | 3 flats, 0 loops"},
		{"slot half into the strip, closed", slot(20, 25), "n 1-1 | 2 flats, 0 loops"},
		{"board ends inside the strip", one(box(0, 0, 21, 10), n), "n 1-0 | 1 flats, 0 loops"},
		{"tangent lines coincide", one(strip, hinge("a", 15, 0, 15, 10), hinge("b", 15+w9, 0, 15+w9, 10)), "a 1-1, b 1-1 | 3 flats, 0 loops"},
		{"tangent lines 1e-9 apart", one(strip, hinge("a", 15, 0, 15, 10), hinge("b", 15+w9+1e-9, 0, 15+w9+1e-9, 10)), "a 1-1, b 1-1 | 3 flats, 0 loops"},
		{"tangent lines 1e-9 into each other", one(strip, hinge("a", 15, 0, 15, 10), hinge("b", 15+w9-1e-9, 0, 15+w9-1e-9, 10)), "a 1-1, b 1-1 | 3 flats, 0 loops"},
		{"lines cross off the board only", one(pts(0, 0, 30, 0, 30, 10, 10, 10, 10, 30, 0, 30), hinge("a", 0, 16, 10, 16), hinge("b", 16, 0, 16, 10)), "a 1-1, b 1-1 | 3 flats, 0 loops"},
		{"comb, line in the palm", one(comb, hinge("n", 15.2, 0, 15.2, 20)), "n 1-2 | 3 flats, 0 loops"},
		{"comb, line across both arms", one(comb, hinge("n", 25, 0, 25, 20)), "n 1-1, n.2 1-1 | 3 flats, 0 loops"},
		{"same, base on an arm", one(comb, hinge("n", 25, 0, 25, 20)).from(flat.Pt{X: 39, Y: 1}), "n 1-1, n.2 1-1 | 3 flats, 0 loops"},
		{"line in the palm, base on an arm", one(comb, hinge("n", 15.2, 0, 15.2, 20)).from(flat.Pt{X: 39, Y: 1}), "n 2-1 | 3 flats, 0 loops"},
		{"frame, one line", frame(hinge("a", 30, -1, 30, 41)), "a 1-1, a.2 1-1 | 2 flats, 1 loops"},
		{"one arm of a ring", frame(hinge("a", 30, -1, 30, 10)), "a 1-1 | 1 flats, 1 loops"},
		{"angle 0", one(strip, hinge("n", 20, 0, 20, 10, 0)), " | 1 flats, 0 loops"},
		{"angle 360", one(strip, hinge("n", 20, 0, 20, 10, 360, 1)), "n 1-1 | 2 flats, 0 loops"},
		{"radius 1e4, 0.1 degree", one(strip, hinge("n", 20, 0, 20, 10, 0.1, 1e4)), "n 1-1 | 2 flats, 0 loops"},
		{"strip's side on a slot's end", one(strip, n).holes(rect(20+w9/2, 4, 25, 6)), "n 1-1 | 2 flats, 0 loops"},
		{"hole touches the tangent line inside", one(strip, n).holes(disc(20+w9/2-0.5, 5, 1)), "n 1-1 | 2 flats, 0 loops"},
		{"hole touches the tangent line outside", one(strip, n).holes(disc(20+w9/2+0.5, 5, 1)), "n 1-1 | 2 flats, 0 loops"},
		{"notch corner on the tangent line", one(pts(0, 0, 18, 0, 20+w9/2, 5, 22, 0, 40, 0, 40, 12, 0, 12), hinge("n", 20, 0, 20, 12)), "n 1-1 | 2 flats, 0 loops"},
		{"finger inside the strip, uncrossed", one(pts(0, 0, 19.9, 0, 19.9, 7, 20.2, 7, 20.2, 10, 40, 10, 40, 0, 20.3, 0, 20.3, -5, 50, -5, 50, 20, 0, 20), hinge("n", 20, 7, 20, 20)), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			tree := c.s.divide(t)
			if got := tree.shape(t); c.shape != "" && got != c.shape {
				t.Errorf("got  %s\nwant %s", got, c.shape)
			}
			for _, cl := range tree.place(t, 0).Closures() {
				if cl.Off != 0 || cl.Turn != 0 {
					t.Errorf("open when flat: %+v", cl)
				}
			}
		})
	}
}

func TestUnusableBoards(t *testing.T) {
	n := hinge("n", 20, 0, 20, 10)
	base := func(x0, x1 float64) spec {
		return spec{outline: strip, hinges: []Hinge{n}, base: "m", areas: []area{{"m", rect(x0, 0, x1, 10), false, 0.2, nil}}}
	}
	for _, c := range []struct {
		name string
		s    spec
		want []string
	}{
		{"ends 0.5 short", one(strip, hinge("n", 20, 0, 20, 9.5)), []string{"n: the line ends inside the board", "0.5000", "extend", "shorten it by 9.5000"}},
		{"on the outline's edge", one(strip, hinge("n", 0, 0, 0, 10)), []string{"does not cross the board"}},
		{"touches an arc outside", one([]flat.Vertex{{}, {P: flat.Pt{X: 30}}, {P: flat.Pt{X: 30, Y: 10}, Via: &flat.Pt{X: 35, Y: 5}}, {P: flat.Pt{Y: 10}}}, hinge("n", 35, 0, 35, 10)), []string{"does not cross the board"}},
		{"ends in a small hole", one(strip, hinge("n", 20, 0, 20, 5)).holes(disc(20, 5, 1.5)), []string{"1 of 2 stretches"}},
		{"whole board in the strip", one(box(0, 0, 4, 10), hinge("n", 2, 0, 2, 10, 90, 10)), []string{"takes up the whole board", "under 2.4465"}},
		{"one and a half arms", one(comb, hinge("n", 25, 0, 25, 15)), []string{"extend the line by 5.0000", "shorten it by 3.0000"}},
		{"one of two joined arms", one(comb, hinge("n", 15.2, 0, 15.2, 9)), []string{"1 of 2 stretches", "(15.2, 12) to (15.2, 20)"}},
		{"radius 0", one(strip, hinge("n", 20, 0, 20, 10, 180, 0)), []string{"inside radius 0 is under 0.01"}},
		{"base in the bend area", base(19, 21), []string{"base m lies in no flat"}},
		{"base point in the bend area", one(strip, n).from(flat.Pt{X: 20, Y: 5}), []string{"lies in the bend area of n"}},
		{"line in a cutout", one(strip, hinge("n", 20, 3.5, 20, 6.5)).holes(rect(15, 3, 25, 7)), []string{"does not cross the board"}},
		{"cutout touches the edge", one(strip).holes(rect(0, 4, 3, 6)), []string{"cutout 1 touches the outline"}},
		{"cutouts touch", one(strip).holes(rect(2, 4, 3, 6), rect(3, 5, 5, 7)), []string{"cutout 2 touches cutout 1"}},
		{"cutout off the board", one(strip).holes(rect(50, 4, 53, 6)), []string{"outside the outline"}},
		{"no length", one(strip, hinge("n", 20, 5, 20, 5)), []string{"no length"}},
		{"sections overlap", spec{outline: strip, areas: []area{{"a", rect(0, 0, 10, 10), true, 1, nil}, {"b", rect(8, 0, 12, 10), true, 1, nil}}}, []string{"a and b overlap by 20.0000"}},
		{"section off the board", spec{outline: strip, areas: []area{{"a", rect(50, 0, 60, 10), true, 1, nil}}}, []string{"wholly off the board"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := c.s.problems(t)
			for _, w := range c.want {
				if !strings.Contains(got, w) {
					t.Errorf("%q lacks %q", got, w)
				}
			}
		})
	}
	both := one(comb, hinge("n", 25, 0, 25, 15), hinge("m", 50, 0, 50, 15))
	if got := both.problems(t); strings.Count(got, "\n") != 1 {
		t.Errorf("not all problems at once: %s", got)
	}
}

func TestOverlappingBendAreas(t *testing.T) {
	hub := func(off float64) spec {
		return spec{outline: cross, base: flat.Pt{X: 30, Y: 10}, hinges: []Hinge{hinge("w", 20-off, 0, 20-off, 20), hinge("e", 40+off, 0, 40+off, 20), hinge("n", 20, 20+off, 40, 20+off), hinge("s", 20, -off, 40, -off)}}
	}
	for _, c := range []struct {
		name    string
		s       spec
		overlap int
	}{
		{"hub, lines on its edges", hub(0), 4},
		{"hub, tangent lines on its edges", hub(w9 / 2), 0},
		{"same, rounded to 4 decimals", hub(math.Round(w9/2*1e4) / 1e4), 0},
		{"same, rounded to 3 decimals", hub(math.Round(w9/2*1e3) / 1e3), 0},
		{"same, 1.06e-6 off", hub(w9/2 - 1.06e-6), 0},
		{"too near", one(strip, hinge("a", 15, 0, 15, 10), hinge("b", 16, 0, 16, 10)), 1},
		{"lines cross", one(box(0, 0, 40, 40), hinge("a", 20, 0, 20, 40), hinge("b", 0, 20, 40, 20)), 1},
		{"same hinge twice", one(strip, hinge("a", 20, 0, 20, 10), hinge("b", 20, 0, 20, 10)), 1},
	} {
		tree := c.s.divide(t)
		n := len(tree.Overlaps)
		if n != c.overlap || tree.Foldable != (n == 0) {
			t.Errorf("%s: %d overlaps, foldable %v, want %d", c.name, n, tree.Foldable, c.overlap)
		}
		if tree.Foldable && c.overlap == 0 && len(tree.Flats) != 5 {
			t.Errorf("%s: %d flats", c.name, len(tree.Flats))
		}
		if !tree.Foldable {
			if _, err := tree.Place(tree.Angles()); err == nil {
				t.Errorf("%s: placed without a shape", c.name)
			}
		}
	}
	if o := hub(0).divide(t).Overlaps[0]; !o.Corner || math.Abs(o.Area-0.75*w9*w9) > 1e-9 {
		t.Errorf("hub: %+v", o)
	}
	moved := hub(math.Round(w9/2*1e4) / 1e4).divide(t).Hinges[0].Moved
	near(t, "moved", math.Abs(moved), math.Abs(w9/2-math.Round(w9/2*1e4)/1e4), 1e-9)
}

func TestTangentLine(t *testing.T) {
	byLine := one(strip, hinge("n", 20+w9/2, 0, 20+w9/2, 10)).divide(t)
	h := hinge("n", 20, 10, 20, 0)
	h.Tangent, h.Into = true, flat.Pt{X: 30, Y: 3}
	byTangent := one(strip, h).divide(t)
	near(t, "same bend", byTangent.Bends[0].Origin.X, byLine.Bends[0].Origin.X, 1e-12)
	near(t, "same far flat", byTangent.Flats[1].Area, byLine.Flats[1].Area, 1e-9)
	h.Into = flat.Pt{X: 3, Y: 3}
	near(t, "other side", one(strip, h).divide(t).Bends[0].Origin.X, 20-w9, 1e-12)
	h.Into = flat.Pt{X: 20, Y: 3}
	if got := one(strip, h).problems(t); !strings.Contains(got, "lies on the tangent line") {
		t.Error(got)
	}
}

func TestOneRadiusForArmsOfTwoThicknesses(t *testing.T) {
	s := frame(hinge("a", 30, -1, 30, 41))
	s.areas = []area{{"t", rect(10, 30, 50, 40), false, 0.4, nil}}
	tree := s.divide(t)
	near(t, "rho", tree.Hinges[0].NeutralRadius, 1.7, 1e-12)
	near(t, "closes", tree.place(t, 1).Closures()[0].Off, 0, 1e-12)
	near(t, "thin arm wider", tree.Bends[0].InsideRadius, 1.6, 1e-12)
	near(t, "thick arm as asked", tree.Bends[1].InsideRadius, 1.5, 1e-12)
}

func TestParallelogram(t *testing.T) {
	tree := spec{outline: box(0, 0, 80, 40), cutouts: []flat.Loop{rect(8, 10, 72, 30)}, base: at11, hinges: []Hinge{
		hinge("a1", 15, 0, 15, 10, 90), hinge("a2", 45, 0, 45, 10, -90), hinge("b1", 30, 30, 30, 40, 90), hinge("b2", 60, 30, 60, 40, -90)}}.divide(t)
	for _, at := range []float64{0, 0.25, 0.6, 1} {
		near(t, "closes", tree.place(t, at).Closures()[0].Off, 0, 1e-12)
	}
	f, err := tree.Place([]float64{90, -90, 0, 0})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "one arm first", f.Closures()[0].Off, 42.4375, 1e-3)
}

func TestRangeOfAngles(t *testing.T) {
	tree := one(strip, hinge("n", 20, 0, 20, 10, 10)).divide(t)
	near(t, "width", tree.Bends[0].Width, 0.27925, 1e-5)
	near(t, "most", tree.Bends[0].MostAngle(1), 145.45, 0.005)
	if _, err := tree.Place([]float64{145.4}); err != nil {
		t.Error(err)
	}
	if _, err := tree.Place([]float64{-146}); err == nil || !strings.Contains(err.Error(), "145.45") {
		t.Errorf("146 degrees: %v", err)
	}
}

func TestNamesOfFlatsAndBodies(t *testing.T) {
	s := spec{outline: box(0, 0, 60, 10), base: "m", hinges: []Hinge{hinge("n", 20, 0, 20, 10), hinge("o", 40, 0, 40, 10)},
		areas: []area{{"m", rect(0, 0, 60, 10), false, 0.2, nil}}}
	tree := s.divide(t)
	var names []string
	for _, f := range tree.Flats {
		names = append(names, f.Name)
	}
	// equal shares within 1e-6 at both ends: the lower position; the middle one is smaller
	if !slices.Equal(names, []string{"m", "m.2", "m.3"}) || len(tree.Notes) != 1 {
		t.Errorf("%v %v", names, tree.Notes)
	}
	tree = one(strip, hinge("n", 20, 0, 20, 10)).from(nil).divide(t)
	if tree.Flats[0].Name != "flat-1" || tree.Flats[0].Inside.X > 20 || tree.Flats[1].Name != "flat-2" {
		t.Errorf("no base: %s", tree.Flats[0].Name)
	}
	if tree.Bodies[0].Name != "flex:flat-1" || tree.Bodies[2].Name != "bend:n" {
		t.Errorf("bodies: %s %s", tree.Bodies[0].Name, tree.Bodies[2].Name)
	}
}

func TestRigidStackAroundTheFlex(t *testing.T) {
	// a rigid stack-up lies where its embedded flex lies, here 0.3 above its bottom face
	s := spec{outline: strip, layers: stackB(), base: "m", areas: []area{{"m", rect(0, 0, 15, 10), true, 1.0, []stackup.Embed{{Stackup: "flex", Bottom: 0.3}}}}, hinges: []Hinge{hinge("n", 20, 0, 20, 10)}}
	tree := s.divide(t)
	n := stackup.Stackup{Layers: stackB()}.Neutral()
	near(t, "bottom", tree.Bodies[0].Faces[0], -n-0.3, 1e-12)
	near(t, "top", tree.Bodies[0].Faces[1], -n-0.3+1, 1e-12)
	near(t, "base", tree.BaseLevel().Bottom, -n-0.3, 1e-12)
}
