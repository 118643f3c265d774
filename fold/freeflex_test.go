package fold

import (
	"strings"
	"testing"

	"foldfit/fold/flat"
)

// held returns a strip 60 x 10 with plates up to x = 20 and from x = 40 on, and a bend about x = 30.
func held(more ...area) spec {
	s := one(box(0, 0, 60, 10), hinge("n", 30, -1, 30, 11)).from(flat.Pt{X: 1, Y: 1})
	s.areas = append([]area{{"main", rect(0, 0, 20, 10), true, 1, nil}, {"wing", rect(40, 0, 60, 10), true, 1, nil}}, more...)
	return s
}

// relax gives the bends that are held free shapes that lie flat: bodies alone are looked at.
func (tr *Tree) relax(t testing.TB) (*Folded, []string) {
	t.Helper()
	var list []*FreeFlex
	var why []string
	for i := range tr.Bends {
		l, err := tr.FreeFlex(i)
		if err != nil {
			why = append(why, tr.Bends[i].Name+" "+err.Error())
			continue
		}
		list = append(list, l)
	}
	return tr.place(t, 0).Relax(list), why
}

// What is free about a bend (areas by hand: the bend area of n is 2.51327 long), and what stays with the flats; areas sum up as before.
func TestFreeFlex(t *testing.T) {
	// A slot through the bend and halfway into its run-outs: two bends that share the flex beyond it.
	slot := held()
	slot.cutouts = []flat.Loop{rect(24, 4, 36, 6)}
	// Flex on the far side that is wider than the plate, and runs on past its edge.
	island := held()
	island.areas[1].loop = rect(40, 2, 60, 8)
	// A notch that leaves a tongue of flex beside the neck, past the near clamp's line: it stays with its flat.
	tongue := held()
	tongue.outline = pts(0, 0, 25, 0, 25, 2, 20, 2, 20, 3, 35, 3, 35, 0, 60, 0, 60, 10, 0, 10)
	tongue.areas[0].loop = rect(0, 2, 20, 10)
	// A clamp whose corners were rounded, so that it is not quite square to the strip.
	rounded := held()
	rounded.areas[1].loop = flat.Loop{flat.Line(flat.Pt{X: 40.00003}, flat.Pt{X: 60}), flat.Line(flat.Pt{X: 60}, flat.Pt{X: 60, Y: 10}),
		flat.Line(flat.Pt{X: 60, Y: 10}, flat.Pt{X: 39.99997, Y: 10}), flat.Line(flat.Pt{X: 39.99997, Y: 10}, flat.Pt{X: 40.00003})}
	for _, c := range []struct {
		name   string
		s      spec
		bodies string
	}{
		{"plain", held(), "section:main 200 section:wing 200 bend:n 200"},
		{"its own section", held(area{"film", rect(20, 0, 40, 10), false, 0.2, nil}), "section:main 200 section:wing 200 bend:n 200"},
		{"slot", slot, "section:main 200 section:wing 200 bend:n 165.9469 bend:n.2 10.0531"},
		{"island", island, "section:main 200 section:wing 120 flex:wing 40 flex:wing.2 40 bend:n 200"},
		{"tongue", tongue, "section:main 160 flex:main 50 section:wing 200 bend:n 155"},
		{"rounded", rounded, "section:main 200 section:wing 200 bend:n 200"},
	} {
		tree := c.s.divide(t)
		f, why := tree.relax(t)
		if len(why) > 0 {
			t.Errorf("%s: %v", c.name, why)
			continue
		}
		var got []string
		for _, b := range f.Tree.Bodies {
			got = append(got, b.Name+" "+flat.Num(b.Area))
		}
		if bodies := strings.Join(got, " "); bodies != c.bodies {
			t.Errorf("%s: bodies %s, want %s", c.name, bodies, c.bodies)
		}
		checkShares(t, c.name, tree, f.Tree)
	}
}

// Flex that is no even sheet between two straight clamps has no free shape here, and the reason is told.
func TestNoFreeFlex(t *testing.T) {
	oblique := held()
	oblique.areas[1].loop = flat.Loop{flat.Line(flat.Pt{X: 38}, flat.Pt{X: 60}), flat.Line(flat.Pt{X: 60}, flat.Pt{X: 60, Y: 10}),
		flat.Line(flat.Pt{X: 60, Y: 10}, flat.Pt{X: 42, Y: 10}), flat.Line(flat.Pt{X: 42, Y: 10}, flat.Pt{X: 38})}
	tail := held()
	tail.areas = tail.areas[:1]
	pair := held()
	pair.hinges = append(pair.hinges, hinge("m", 35, -1, 35, 11))
	for _, c := range []struct {
		name, why string
		s         spec
	}{
		{"an oblique clamp", "section:wing reaches between the lines", oblique},
		{"an ear of the plate", "section:ear reaches between the lines", held(area{"ear", rect(20, 0, 22, 3), true, 1, nil})},
		{"thicker flex", "section:thick reaches between the lines", held(area{"thick", rect(22, 0, 24, 10), false, 0.3, nil})},
		{"a tail", "no rigid or stiffened edge holds it", tail},
		{"another bend", "no rigid or stiffened edge holds it", pair},
	} {
		if _, why := c.s.divide(t).relax(t); len(why) == 0 || !strings.Contains(why[0], c.why) {
			t.Errorf("%s: %v, want %s", c.name, why, c.why)
		}
	}
	d := held().design(t)
	d.Stiffeners = []Stiffener{{Name: "pad", Side: Bottom, Thickness: 0.2, Area: rect(36, 0, 38, 3)}}
	tree, ps := Divide(d)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	if _, why := tree.relax(t); len(why) == 0 || !strings.Contains(why[0], "stiffener:pad reaches between") {
		t.Errorf("a stiffener beside: %v", why)
	}
}

// checkShares demands that the bodies of a relaxed board share its area, and that its flats list them.
func checkShares(t *testing.T, name string, drawn, relaxed *Tree) {
	t.Helper()
	was, is, listed := 0.0, 0.0, 0
	for _, b := range drawn.Bodies {
		was += b.Area
	}
	for _, b := range relaxed.Bodies {
		is += b.Area
	}
	near(t, name+": area", is, was, 1e-3)
	for i := range relaxed.Flats {
		for _, k := range relaxed.Flats[i].Bodies {
			if listed++; relaxed.Bodies[k].Flat != i {
				t.Errorf("%s: flat %d lists %s", name, i, relaxed.Bodies[k].Name)
			}
		}
	}
	if bends := len(relaxed.Bends); listed != len(relaxed.Bodies)-bends {
		t.Errorf("%s: the flats list %d of %d bodies", name, listed, len(relaxed.Bodies)-bends)
	}
}
