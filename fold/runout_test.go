package fold

import (
	"testing"

	"foldfit/fold/flat"
)

func TestRunOuts(t *testing.T) {
	s := one(strip, hinge("n", 20, 0, 20, 10))
	s.areas = []area{{"a", rect(0, 0, 15, 10), true, 1, nil}, {"b", rect(28, 0, 40, 10), true, 1, nil}}
	tree := s.divide(t)
	near0, far, ok := tree.RunOuts(0)
	if !ok {
		t.Fatal("not held")
	}
	near(t, "near", near0, 5-w9/2, 1e-9)
	near(t, "far", far, 8-w9/2, 1e-9)

	s.base = flat.Pt{X: 39, Y: 1} // from the other side: swapped
	near0, far, _ = s.divide(t).RunOuts(0)
	near(t, "near, re-based", near0, 8-w9/2, 1e-9)
	near(t, "far, re-based", far, 5-w9/2, 1e-9)

	s.areas = s.areas[:1]
	s.base = at11
	if _, _, ok := s.divide(t).RunOuts(0); ok {
		t.Error("the far side ends free, but counts as held")
	}
	s.areas = append(s.areas, area{"b", rect(30, 0, 40, 10), true, 1, nil})
	s.hinges = append(s.hinges, hinge("m", 26, 0, 26, 10))
	if _, _, ok := s.divide(t).RunOuts(0); ok {
		t.Error("another bend lies between, but the flex counts as held")
	}
	slot := one(strip, hinge("n", 20, 0, 20, 10)).holes(rect(23, -0.001+1, 24, 9))
	slot.areas = []area{{"a", rect(0, 0, 15, 10), true, 1, nil}, {"b", rect(28, 0, 40, 10), true, 1, nil}}
	if _, _, ok := slot.divide(t).RunOuts(0); ok {
		t.Error("a slot lies between, but the flex counts as held")
	}
}
