package pattern

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
)

// machineLayers returns the layers of a board by name.
func machineLayers(t testing.TB, tree *fold.Tree, o Options) map[string][]draw.Run {
	t.Helper()
	f, err := draw.NewFace()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]draw.Run{}
	for _, l := range machine(tree, o, f) {
		out[l.Name] = l.Runs
	}
	return out
}

// What is cut is the board: closed paths, its cutouts first, of the same area; what is scored are the centre lines, at their length;
// the two lines of the check layer measure 100 mm.
func TestMachineDrawsTheBoard(t *testing.T) {
	for _, b := range boards {
		tree := divide2(t, b.make(t))
		for _, side := range sides {
			l := machineLayers(t, tree, Options{Side: side})
			area, outer := 0.0, false
			for _, r := range l[LayerCut] {
				a := flat.Loop(r.Edges).Area()
				if !r.Closed || outer && a < 0 {
					t.Errorf("%s: a path to cut is open, or a cutout comes after the outline", b.name)
				}
				outer = outer || a > 0
				area += a
			}
			if math.Abs(area-tree.Board.Area()) > 1e-6*tree.Board.Area() || len(l[LayerCut]) != len(tree.Board) {
				t.Errorf("%s: %d paths cut %v mm2 out, the board has %d of %v", b.name, len(l[LayerCut]), area, len(tree.Board), tree.Board.Area())
			}
			scored, want := 0.0, 0.0
			for _, r := range l[LayerScore] {
				scored += flat.Loop(r.Edges).Len()
			}
			for _, bend := range tree.Bends {
				for _, c := range bend.Lines {
					want += c[0].Dist(c[1])
				}
			}
			if tree.Foldable && math.Abs(scored-want) > 1e-6 {
				t.Errorf("%s: %v mm are scored, the centre lines measure %v", b.name, scored, want)
			}
			if c := l[LayerCheck]; len(c) != 2 || c[0].Edges[0].Len() != 100 || c[1].Edges[0].Len() != 100 {
				t.Errorf("%s: check lines %+v", b.name, c)
			}
		}
	}
}

// divide2 divides a board that may have no folded shape.
func divide2(t testing.TB, d *fold.Design) *fold.Tree {
	t.Helper()
	tree, _ := fold.Divide(d)
	return tree
}

// No stretch of what is cut, scored or marked lies on another: points along every edge lie on no other edge.
func TestMachineDrawsNothingTwice(t *testing.T) {
	for _, b := range boards {
		if b.name == "dense" {
			continue
		}
		l := machineLayers(t, divide2(t, b.make(t)), Options{})
		var edges []flat.Edge
		for _, name := range []string{LayerCut, LayerScore, LayerMark} {
			for _, r := range l[name] {
				edges = append(edges, r.Edges...)
			}
		}
		for i, e := range edges {
			for k, m := range edges {
				if i == k || !e.Box().Grow(1e-3).Meets(m.Box().Grow(1e-3)) {
					continue
				}
				if together(e, m) {
					t.Errorf("%s: %v to %v lies on %v to %v", b.name, e.P, e.Q, m.P, m.Q)
				}
			}
		}
	}
}

// together reports whether a stretch of e lies on m: two points of e near each other that do.
func together(e, m flat.Edge) bool {
	const step = 1.0 / 64
	for s := step / 2; s < 1; s += step {
		if flat.Loop([]flat.Edge{m}).Distance(e.At(s)) < 1e-6 && flat.Loop([]flat.Edge{m}).Distance(e.At(s+step/3)) < 1e-6 {
			return true
		}
	}
	return false
}

// The page for a machine has hairlines only: one width, no dashes, no fills, no letters as outlines, black unless a colour is asked for.
func TestMachinePage(t *testing.T) {
	tree, page := shown(t, beacon(t), Options{Cutter: true, Colours: map[string]string{LayerCut: "#ff0000"}})
	var names []string
	for _, k := range page.kids {
		if k.name == "g" {
			names = append(names, k.id)
		}
	}
	if !slices.Equal(names, Layers()) {
		t.Errorf("groups %v, want %v", names, Layers())
	}
	page.walk(func(n *node) {
		if n.name != "path" {
			return
		}
		if n.attr["fill"] != "" || n.attr["stroke-dasharray"] != "" || n.attr["stroke-width"] != "0.05" {
			t.Errorf("a path with %v", n.attr)
		}
	})
	for id, want := range map[string]string{LayerCut: "#ff0000", LayerScore: "#000000", LayerText: "#000000"} {
		if got := page.find(t, id).kids[0].attr["stroke"]; got != want {
			t.Errorf("%s is %s, want %s", id, got, want)
		}
	}
	if len(page.find(t, LayerCut).kids) != len(tree.Board) {
		t.Error("every path to cut should be a path of its own")
	}
}

// The drawing reads the same from the bottom with x the other way, and the same call gives the same bytes.
func TestDXFOfBothSides(t *testing.T) {
	tree := divide(t, beacon(t))
	var top, again, bottom bytes.Buffer
	for _, x := range []struct {
		w *bytes.Buffer
		o Options
	}{{&top, Options{}}, {&again, Options{}}, {&bottom, Options{Side: fold.Bottom}}} {
		if err := WriteDXF(x.w, tree, x.o); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(top.Bytes(), again.Bytes()) || bytes.Equal(top.Bytes(), bottom.Bytes()) {
		t.Error("two drawings of one side differ, or those of two sides do not")
	}
	if err := WriteDXF(&top, &fold.Tree{}, Options{}); err == nil {
		t.Error("a tree without a board was written")
	}
	a, b := machineLayers(t, tree, Options{}), machineLayers(t, tree, Options{Side: fold.Bottom})
	boxA, boxB := flat.Loop(a[LayerCut][len(a[LayerCut])-1].Edges).Box(), flat.Loop(b[LayerCut][len(b[LayerCut])-1].Edges).Box()
	if math.Abs(boxA.Min.X+boxB.Max.X) > 1e-9 || math.Abs(boxA.Max.X+boxB.Min.X) > 1e-9 {
		t.Errorf("from the bottom the board spans %v, from the top %v", boxB, boxA)
	}
}

func TestColourWords(t *testing.T) {
	for _, bad := range []map[string]string{{"cuts": "#ff0000"}, {"cut": "red"}, {"cut": "#ff00"}, {"cut": "#ff00zz"}, {"": ""}, {"cut": "url(#x)"}} {
		if err := CheckColours(bad); err == nil {
			t.Errorf("%v was taken", bad)
		}
		if err := Write(&bytes.Buffer{}, divide(t, strip80(t)), Options{Cutter: true, Colours: bad}); err == nil {
			t.Errorf("%v was drawn", bad)
		}
	}
	if err := CheckColours(map[string]string{"cut": "#Ff0000", "text": "#0f0f0f"}); err != nil {
		t.Error(err)
	}
	if err := CheckColours(map[string]string{"b": "", "a": ""}); err == nil || !strings.HasPrefix(err.Error(), `"a"`) {
		t.Errorf("not the first name in order: %v", err)
	}
}
