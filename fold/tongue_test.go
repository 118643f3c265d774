package fold

import (
	"math"
	"strings"
	"testing"

	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// tongue is a plate of 40 x 40 with a tongue 20 wide cut free by a slot 1 wide that begins at x = from; the hinge line at
// x = 20 crosses the tongue. Its near tangent line is at 20 - w/2.
func tongue(from float64, hs ...Hinge) spec {
	u, errs := flat.Build(pts(from, 9, 37, 9, 37, 31, from, 31, from, 30, 36, 30, 36, 10, from, 10))
	if errs != nil {
		panic(errs[0].What)
	}
	if len(hs) == 0 {
		hs = []Hinge{hinge("n", 20, 9.5, 20, 30.5)}
	}
	return one(box(0, 0, 40, 40), hs...).holes(u)
}

// Numbers from the independent prototype.
func TestTongueInAPlate(t *testing.T) {
	near0 := 20 - w9/2
	for _, c := range []struct{ from, plate float64 }{{near0, 1198.3540}, {near0 - 2, 1194.3540}} {
		tree := tongue(c.from).divide(t)
		if got := tree.shape(t); got != "n 1-1 | 2 flats, 0 loops" {
			t.Fatal(got)
		}
		near(t, "bend", tree.Bends[0].Area, 50.2655, 5e-5)
		near(t, "plate", tree.Flats[0].Area, c.plate, 5e-5)
		near(t, "tongue", tree.Flats[1].Area, 294.8673, 5e-5)
	}
	if got := tongue(near0 + 0.5).problems(t); !strings.Contains(got, "1 of 3 stretches") {
		t.Error(got)
	}
	if got := tongue(20.5).problems(t); !strings.Contains(got, "extend") {
		t.Error(got)
	}
	across := tongue(near0, hinge("n", 20, -1, 20, 41)).divide(t)
	if got := across.shape(t); !strings.HasPrefix(got, "n 1-1, n.2 1-1, n.3 1-1 | 3 flats") {
		t.Error(got)
	}
	for _, c := range across.place(t, 1).Closures() {
		near(t, "closes", c.Off, 0, 1e-12)
	}
}

func TestFramesWithTwoLines(t *testing.T) {
	crossing := frame(hinge("a", 30, -1, 30, 41), hinge("b", -1, 20, 61, 20, -90))
	worst := Closure{}
	for _, c := range crossing.divide(t).place(t, 1).Closures() {
		if c.Off > worst.Off {
			worst = c
		}
	}
	near(t, "crossing lines, turned", worst.Turn, 120, 1e-9)
	near(t, "crossing lines, open", worst.Off, 29.97, 5e-3)
	parallel := frame(hinge("a", 25, -1, 25, 41), hinge("b", 35, -1, 35, 41)).divide(t)
	for _, c := range parallel.place(t, 1).Closures() {
		near(t, "parallel lines close", c.Off, 0, 1e-12)
	}
}

// Two flex levels, 0 and 0.5, under one hinge line of a frame do not close: 0.5 sqrt 2 at a right angle.
func TestTwoLevelsUnderOneLine(t *testing.T) {
	d := frame(hinge("a", 30, -1, 30, 41)).design(t)
	d.Stackups = append(d.Stackups, stackup.Stackup{Name: "upper", Layers: plain(0.2)},
		stackup.Stackup{Name: "both", Rigid: true, Layers: plain(0.7), Embeds: []stackup.Embed{{Stackup: "flex"}, {Stackup: "upper", Bottom: 0.5}}})
	d.Sections = []Section{{Name: "arm", Stackup: "upper", Area: rect(10, 30, 50, 41)}}
	tree, ps := Divide(d)
	if ps != nil {
		t.Fatal(ps)
	}
	near(t, "open", tree.place(t, 1).Closures()[0].Off, math.Sqrt2/2, 1e-9)
}

// Three square wings on a triangle, hinges drawn on the hub's edges: the bend areas overlap at each corner.
func TestTriangleHub(t *testing.T) {
	const side = 30.0
	h := side * math.Sqrt(3) / 2
	p := []flat.Pt{{}, {X: side}, {X: side / 2, Y: h}}
	var outline []flat.Vertex
	var onEdge, beside []Hinge
	for i := range 3 {
		a, b := p[i], p[(i+1)%3]
		out := b.Sub(a).Unit().Left().Mul(-1)
		outline = append(outline, flat.Vertex{P: a}, flat.Vertex{P: a.Add(out.Mul(20))}, flat.Vertex{P: b.Add(out.Mul(20))})
		n := hinge(string(rune('a'+i)), a.X, a.Y, b.X, b.Y)
		onEdge = append(onEdge, n)
		n.Tangent, n.Into = true, a.Mid(b).Add(out)
		beside = append(beside, n)
	}
	base := flat.Pt{X: side / 2, Y: h / 3}
	tree := spec{outline: outline, hinges: onEdge, base: base}.divide(t)
	if len(tree.Overlaps) != 3 {
		t.Fatalf("%d overlaps", len(tree.Overlaps))
	}
	for _, o := range tree.Overlaps {
		near(t, "overlap", o.Area, 4.5586, 5e-5)
	}
	if tree := (spec{outline: outline, hinges: beside, base: base}).divide(t); len(tree.Flats) != 4 || len(tree.Overlaps) != 0 {
		t.Errorf("tangent lines on the edges: %d flats, %d overlaps", len(tree.Flats), len(tree.Overlaps))
	}
}
