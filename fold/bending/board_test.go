package bending

import (
	"math"
	"slices"
	"testing"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// near demands a value within an absolute tolerance.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.12g, want %.12g", what, got, want)
	}
}

// laminate returns a stack-up of layers "PI 25" from the top: P polyimide, A adhesive, C rolled copper, each with its um.
func laminate(kinds string, um ...float64) stackup.Stackup {
	s := stackup.Stackup{Name: "flex"}
	for i, k := range kinds {
		l := stackup.Layer{Thickness: um[i] / 1000, Coverage: 1}
		switch k {
		case 'P':
			l.Material, l.Modulus = "polyimide", 2.5
		case 'A':
			l.Material, l.Modulus = "adhesive", 0.5
		case 'C':
			l.Material, l.Modulus, l.Copper = "copper-ra", 117, true
			s.CopperLayers++
		}
		s.Layers = append(s.Layers, l)
	}
	return s
}

// The worked stacks, inside face first: bent toward the top, that face is inside.
var (
	stackA = laminate("PACPCAP", 25, 25, 18, 25, 18, 25, 25)
	stackB = laminate("PACAP", 25, 13, 18, 25, 25)
	stackC = laminate("PC", 25, 35)
)

// turned returns a stack-up turned over.
func turned(s stackup.Stackup) stackup.Stackup {
	s.Layers = slices.Clone(s.Layers)
	slices.Reverse(s.Layers)
	return s
}

// strip returns a strip of flex 10 wide between two rigid sections 20 long, with run-outs beside one hinge.
func strip(t *testing.T, s stackup.Stackup, angle, radius, nearRun, farRun float64, change ...func(*fold.Hinge)) *fold.Tree {
	t.Helper()
	side := stackup.Top
	if angle < 0 {
		side = stackup.Bottom
	}
	width := (radius + s.Inner(side)) * math.Abs(angle) * math.Pi / 180
	rect := func(x0, x1 float64) flat.Loop { l, _ := flat.Rect(x0, 0, x1, 10, 0); return l }
	end := 20 + nearRun + width + farRun
	mid := 20 + nearRun + width/2
	hard := stackup.Stackup{Name: "hard", Rigid: true, Layers: []stackup.Layer{{Thickness: 0.8, Modulus: 22}}}
	h := fold.Hinge{Name: "n", Line: [2]flat.Pt{{X: mid}, {X: mid, Y: 10}}, Angle: angle, Radius: radius, Written: 1}
	for _, c := range change {
		c(&h)
	}
	d := &fold.Design{Outline: rect(0, end+20), Flex: "flex", Stackups: []stackup.Stackup{s, hard}, Hinges: []fold.Hinge{h},
		Sections: []fold.Section{{Name: "a", Stackup: "hard", Area: rect(0, 20)}, {Name: "b", Stackup: "hard", Area: rect(end, end+20)}}}
	tree, problems := fold.Divide(d)
	if problems != nil {
		t.Fatal(problems)
	}
	if !tree.Foldable || len(tree.Bends) != 1 {
		t.Fatalf("%d bends", len(tree.Bends))
	}
	return tree
}

// free leaves a hinge's flex to itself.
func free(h *fold.Hinge) { h.Formed = "free" }
