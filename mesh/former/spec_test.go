package former

import (
	"math"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s is %.9g, want %.9g", what, got, want)
	}
}

// copper is a sheet of 0.1 mm copper, which keeps 0.704 of its angle at radius 9.7: 1 - 3X + 4X^3 with X = Y R/(E t), a closed form of
// texts on sheet metal.
var copper = []stackup.Layer{{Material: "copper-ra", Thickness: 0.1, Modulus: 117, Copper: true, Coverage: 1}}

// What is formed is formed further by what springs back, on a smaller radius: the neutral surface keeps its length. What is not
// formed, or asked for as it is, is not.
func TestSpringback(t *testing.T) {
	s := board{angle: 90, radius: 9.7, layers: copper, formed: "bench"}
	b := blocks(t, strip(t, s), Options{Springback: true}, 1)[0]
	near(t, "angle", b.Angle, 90/0.704, 1e-6)
	near(t, "length", (b.Radius+0.05)*b.Angle, (9.7+0.05)*90, 1e-9)
	near(t, "kept", b.Kept.Low, 0.704, 1e-9)
	for _, o := range []Options{{}, {Springback: true, Angles: []fold.HingeAngle{{Hinge: "neck", Angle: 90}}}} {
		b = blocks(t, strip(t, s), o, 1)[0]
		near(t, "angle", b.Angle, 90, 0)
		near(t, "radius", b.Radius, 9.7, 1e-9)
	}
	s.formed = ""
	near(t, "angle", blocks(t, strip(t, s), Options{Springback: true}, 1)[0].Angle, 90, 0)
	s.formed, s.layers = "fabricator", nil // a plain sheet, of which nothing is known
	b = blocks(t, strip(t, s), Options{Springback: true}, 1)[0]
	near(t, "angle", b.Angle, 90, 0)
	if !strings.Contains(b.Note, "copper") {
		t.Errorf("note %q", b.Note)
	}
	s = board{angle: 150, radius: 9.7, layers: copper, formed: "bench"} // 213 degrees
	b = blocks(t, strip(t, s), Options{Springback: true}, 1)[0]
	near(t, "angle", b.Angle, 150, 0)
	if !strings.Contains(b.Note, "213 degrees") {
		t.Errorf("note %q", b.Note)
	}
}

// Faces end 0.3 mm before the rigid edges and are no longer than 8 mm; the base lies beyond the board, and the slot needs a finger
// of at least a wall.
func TestFigures(t *testing.T) {
	for _, c := range []struct {
		s                 board
		style             Style
		near, far         float64
		slot, stem, width float64
	}{
		{board{angle: 90, radius: 2, near: 3, far: 5}, Foot, 2.7, 4.7, 0.3, 2, 10},
		{board{angle: 180, radius: 2, near: 3, far: 50}, Base, 2.7, 8, 0.3, 2, 10},
		{board{angle: 180, radius: 2, wings: 6}, Base, 2.7, 2.7, 0.3, 7, 10},
		{board{angle: 180, radius: 2, near: 1.2, far: 3}, Base, 0.9, 2.7, 0, 2, 10},
		{board{angle: 180, radius: 2, near: 1.2, far: 3, reversed: true}, Base, 2.7, 0.9, 0.3, 2, 10},
	} {
		b := blocks(t, strip(t, c.s), Options{}, 1)[0]
		if b.Style != c.style {
			t.Errorf("%+v: style %d", c.s, b.Style)
		}
		for _, f := range []struct {
			what      string
			got, want float64
		}{{"near", b.Near, c.near}, {"far", b.Far, c.far}, {"slot", b.Slot, c.slot}, {"stem", b.Stem, c.stem}, {"width", b.Width, c.width}} {
			near(t, f.what, f.got, f.want, 1e-9)
		}
	}
}

// Where a block cannot be, the reason names the figure and a way out.
func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		s    board
		o    Options
		want []string
	}{
		{board{angle: 90, radius: 0.3}, Options{}, []string{"radius 0.30 mm is not printable", "rod"}},
		{board{angle: 180, radius: 0.5}, Options{}, []string{"1.00 mm thick is not printable", "sheet of 1.00 mm"}},
		{board{angle: 200, radius: 2}, Options{}, []string{"200.0 degrees", "rod of 4.00 mm"}},
		{board{angle: 90, radius: 2, formed: "free"}, Options{}, []string{"formed: free"}},
		{board{angle: 90, radius: 2, near: 1, far: 3}, Options{}, []string{"too little straight flex", "1.00 mm near"}},
		{board{angle: 5, radius: 2}, Options{Angles: []fold.HingeAngle{{Hinge: "neck", Angle: 180}}}, []string{"at most"}},
	} {
		specs, refused := Specs(strip(t, c.s), c.o)
		if len(specs) > 0 || len(refused) != 1 {
			t.Errorf("%+v: %d blocks", c.s, len(specs))
			continue
		}
		for _, w := range c.want {
			if !strings.Contains(refused[0].Why, w) {
				t.Errorf("%+v: %q lacks %q", c.s, refused[0].Why, w)
			}
		}
	}
	tree := strip(t, board{angle: 90, radius: 2})
	tall := 1.0
	tree.Design.Components = []fold.Component{{Name: "R1", At: tree.Bends[0].Middle(), Size: &[2]float64{1, 1}, Height: &tall}}
	tree, _ = fold.Divide(tree.Design)
	if _, refused := Specs(tree, Options{}); len(refused) != 1 || !strings.Contains(refused[0].Why, "component:R1") {
		t.Errorf("a part on the bend: %v", refused)
	}
}

// One block serves the arms that a hinge crosses, and it is as long as the widest one asks for; its stem has room in the gap.
func TestArms(t *testing.T) {
	tree := strip(t, board{angle: 90, radius: 2, near: 5, far: 5})
	for _, gap := range []float64{1, 5} {
		b := tree.Bends[0]
		middle := b.Station(tree.Design.Hinges[0].Line[0])
		x := b.Origin.Add(b.Dir.Mul(middle)).X
		tree.Design.Cutouts = []flat.Loop{rect(x-12, 3, x+12, 3+gap)}
		split, problems := fold.Divide(tree.Design)
		if problems != nil || len(split.Bends) != 2 {
			t.Fatalf("%d bends, %v", len(split.Bends), problems)
		}
		got := blocks(t, split, Options{}, 1)[0]
		near(t, "width", got.Width, max(3, 7-gap), 1e-9)
		if len(got.Bends) != 2 || split.Bends[got.Bends[0]].Area < split.Bends[got.Bends[1]].Area || got.Name != "neck" {
			t.Errorf("%q serves %v", got.Name, got.Bends)
		}
		if hasSlot := got.Slot > 0; hasSlot != (gap > margin+clear) {
			t.Errorf("gap %g: slot %g", gap, got.Slot)
		}
	}
}
