package bending

import (
	"math"
	"testing"

	"foldfit/fold"
	"foldfit/fold/stackup"
)

// TestRangeIsDifferenceOfStrains: the strain range between two angles is, face by face, the difference of the strains there.
func TestRangeIsDifferenceOfStrains(t *testing.T) {
	for _, c := range []struct{ from, to float64 }{{0, 120}, {40, 120}, {-60, 90}, {90, 40}} {
		tree := strip(t, stackB, 120, 1.5, 1, 1)
		w := Working(tree, 0, c.from, c.to)
		ranges, ok := w.Ranges()
		if !ok {
			t.Fatal("not known")
		}
		strains := func(angle float64) []float64 { // at upper and lower face of every layer
			out := make([]float64, 2*len(stackB.Layers))
			if angle == 0 {
				return out
			}
			f := At(tree, 0, angle)
			bent, _ := f.Strains()
			for i, l := range bent.Layers {
				out[2*i], out[2*i+1] = l.Inner, l.Outer
				if f.Inside == stackup.Bottom {
					out[2*i], out[2*i+1] = l.Outer, l.Inner
				}
			}
			return out
		}
		a, b := strains(c.from), strains(c.to)
		for i, r := range ranges {
			near(t, "upper", math.Abs(r.Inner), math.Abs(b[2*i]-a[2*i]), 1e-12)
			near(t, "lower", math.Abs(r.Outer), math.Abs(b[2*i+1]-a[2*i+1]), 1e-12)
		}
	}
}

// Between two free shapes the change of curvature is at least that between the two cylinders spread over the whole flex, and from
// flat it is the sharpest curvature itself.
func TestWorkOfFreeFlex(t *testing.T) {
	tree := strip(t, stackB, 180, 2, 0.9, 0.9, free)
	f := At(tree, 0, 180)
	near(t, "from flat", Working(tree, 0, 0, 180).Change, 1/(f.Free.Radius+stackB.Inner(stackup.Top)), 1e-6)
	w := Working(tree, 0, 60, 180)
	even := 120 * math.Pi / 180 / f.Free.Clamps.Length
	if w.Change < even {
		t.Errorf("change %g, the mean is %g", w.Change, even)
	}
	near(t, "to and fro", Working(tree, 0, 180, 60).Change, w.Change, 1e-12)
	if w := Working(tree, 0, 90, 90); w.Change != 0 {
		t.Errorf("standing still: %g", w.Change)
	}
}

// Lives of stack A bent flat and back, worked apart with a ductility of 0.65, 140 MPa and 117 GPa (Engelmaier's relation as
// recalled): 257 cycles at 1 mm, 578 and 2922 at 10 and 24 times the thickness.
func TestWorkedLives(t *testing.T) {
	for radius, want := range map[float64]float64{1: 257, 1.61: 578, 24 * 0.161: 2922} {
		l, ok := Working(strip(t, stackA, 90, radius, 1, 1), 0, 0, 90).Life()
		if !ok {
			t.Fatal("not known")
		}
		near(t, "cycles", l.Cycles, want, 0.003*want)
		near(t, "band", l.High/l.Low, 100, 1e-9)
		change, ok := ChangeFor(stackA, l.Cycles)
		if !ok {
			t.Fatal("no inverse")
		}
		near(t, "inverse", change, 1/(radius+0.0805), 1e-9)
	}
	if _, ok := Working(strip(t, stackA, 90, 1, 1, 1), 0, 90, 90).Life(); ok {
		t.Error("a life of what stands still")
	}
	plain := stackup.Stackup{Name: "flex", Plain: true, CopperLayers: 2, Layers: []stackup.Layer{{Thickness: 0.161, Modulus: 1}}}
	if _, ok := Working(strip(t, plain, 90, 1, 1, 1), 0, 0, 90).Life(); ok {
		t.Error("the life of a plain sheet")
	}
}

// The angles of a work are counted as the design counts the hinge's own.
func TestEnds(t *testing.T) {
	for _, c := range []struct {
		h        fold.Hinge
		from, to float64
	}{
		{fold.Hinge{Angle: 90, Written: 1}, 0, 90},
		{fold.Hinge{Angle: -90, Written: -1}, 0, -90},
		{fold.Hinge{Angle: -90, Written: -1, Between: &[2]float64{10, 80}}, -10, -80},
		{fold.Hinge{Angle: -90, Written: 1, Between: &[2]float64{-80, 5}}, -80, 5},
	} {
		if from, to := Ends(&c.h); from != c.from || to != c.to {
			t.Errorf("%+v: %g to %g", c.h, from, to)
		}
	}
}

// One sheet keeps 1 - 3X + 4X^3 with X = Y R/(E t), a closed form of texts on sheet metal, and has to be formed further by as much.
func TestSpringOfASheet(t *testing.T) {
	s, ok := Flex{Stack: laminate("C", 100), Angle: 90, Drawn: 9.7}.Springback()
	if !ok {
		t.Fatal("not known")
	}
	near(t, "low", s.Low, 0.704, 1e-9)
	near(t, "high", s.High, 0.704, 1e-9)
	low, high, reached := s.Form(90)
	near(t, "form", low, 90/0.704, 1e-9)
	near(t, "form", high, 90/0.704, 1e-9)
	if reached != [2]bool{true, true} {
		t.Error("no former reaches it")
	}
	if _, _, reached := s.Form(200); reached[0] {
		t.Error("a former reaches beyond three quarters of a turn")
	}
	if low, _, reached := (Spring{Low: 0, High: 0}).Form(10); reached[0] || !math.IsInf(low, 1) {
		t.Error("flex that keeps nothing is formed")
	}
}

// The elongation formula of IPC-2223, as commonly quoted, equals the model for the symmetric stack A: 224.5 um at 10 %, 10086.2 um
// at 0.3 %. No figure is quoted for electrodeposited foil in dynamic use.
func TestElongation(t *testing.T) {
	for use, want := range map[string][2]float64{"install": {0.10, 0.2245}, "dynamic": {0.003, 10.0862}} {
		e, ok := Elongation(stackA, stackup.Top, use)
		if !ok || e.Quoted == nil {
			t.Fatal(use)
		}
		near(t, "limit", e.Limit, want[0], 0)
		near(t, "model", e.Radius, want[1], 1e-4)
		near(t, "quoted", *e.Quoted, want[1], 1e-4)
	}
	ed := turned(stackA)
	for i := range ed.Layers {
		if ed.Layers[i].Copper {
			ed.Layers[i].Material = "copper-ed"
		}
	}
	if _, ok := Elongation(ed, stackup.Top, "dynamic"); ok {
		t.Error("an elongation for electrodeposited foil")
	}
}
