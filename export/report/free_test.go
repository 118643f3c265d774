package report

import (
	"math"
	"testing"

	"foldfit/fold"
	"foldfit/fold/elastica"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// uBoard is two rigid sections beside a neck of the given length with one fold back in its middle: t 0.2, inside radius 1.4,
// so that the neutral surfaces are 3 mm apart.
func uBoard(t *testing.T, neck float64) Run {
	t.Helper()
	rect := func(x0, x1 float64) flat.Loop { l, _ := flat.Rect(x0, 0, x1, 10, 0); return l }
	layers := func(v float64) []stackup.Layer { return []stackup.Layer{{Thickness: v, Modulus: 1}} }
	mid := 20 + neck/2
	d := &fold.Design{Outline: rect(0, 40+neck), Flex: "flex",
		Stackups: []stackup.Stackup{{Name: "flex", Layers: layers(0.2), CopperLayers: 1}, {Name: "hard", Rigid: true, Layers: layers(0.8)}},
		Sections: []fold.Section{{Name: "a", Stackup: "hard", Area: rect(0, 20)}, {Name: "b", Stackup: "hard", Area: rect(20+neck, 40+neck)}},
		Hinges:   []fold.Hinge{{Name: "n", Line: [2]flat.Pt{{X: mid}, {X: mid, Y: 10}}, Angle: 180, Radius: 1.4, Written: 1}}}
	tree, ps := fold.Divide(d)
	if ps != nil {
		t.Fatal(ps)
	}
	return Run{Tree: tree}
}

// freeOf returns the free shape of a board's first hinge as the results give it.
func freeOf(r Run) *freeShape { return r.document().Hinges[0].Free }

// A U that is held only at level clamps, 3 mm apart on the neutral surface, against the symmetric elastica.
func TestFreeShapeOfAU(t *testing.T) {
	const gap = 3.0
	for _, neck := range []float64{math.Pi / 2 * gap, 6, 2.18844 * gap} {
		f := freeOf(uBoard(t, neck))
		if f == nil {
			t.Fatalf("neck %g: none", neck)
		}
		want, err := elastica.ClampedU(gap, neck)
		if err != nil {
			t.Fatal(err)
		}
		neutral, _ := want.MinRadius()
		radius := neutral - 0.1
		if math.Abs(float64(f.Radius)-radius) > 1e-6 || math.Abs(float64(f.OfDrawn)-radius/1.4) > 1e-6 {
			t.Errorf("neck %g: %+v, want radius %.7f", neck, *f, radius)
		}
	}
	// a neck as long as the bend area leaves no slack: the free shape is the drawn one
	if f := freeOf(uBoard(t, math.Pi/2*gap)); math.Abs(float64(f.OfDrawn)-1) > 1e-6 || math.Abs(float64(f.Wider)) > 1e-6 {
		t.Errorf("no slack: %+v", *f)
	}
}
