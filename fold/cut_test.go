package fold

import (
	"strings"
	"testing"
)

// A board whose border cannot be divided must be refused with the hinge and the place, never answered with pieces left out.
func TestUnclearCutIsAnInputProblem(t *testing.T) {
	s := one(strip, hinge("n", 1, 0, 1, 10))
	d := s.design(t)
	d.Outline = rect(0, 0, 40, 10)[:3] // no left edge; the design file's reader never makes such a loop
	tree, ps := Divide(d)
	if tree != nil || len(ps) != 1 || !strings.Contains(ps[0].What, "hinge n: near (") || ps[0].Hint == "" {
		t.Errorf("tree %v, problems %v", tree, ps)
	}
}
