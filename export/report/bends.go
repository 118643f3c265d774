package report

import (
	"foldfit/fold"
	"foldfit/fold/rule"
)

// ratio returns a bend's inside radius over its thickness, at the design's angle.
func ratio(b *fold.Bend) float64 { return b.InsideRadius / b.Thickness() }

// worstBend returns the hinge's bend with the smallest ratio; nil where it makes no bend.
func (r Run) worstBend(hinge int) *fold.Bend {
	var worst *fold.Bend
	for _, i := range r.Tree.Hinges[hinge].Bends {
		if b := &r.Tree.Bends[i]; worst == nil || ratio(b) < ratio(worst) {
			worst = b
		}
	}
	return worst
}

// minRadius returns the smallest inside radius in mm at which no bend of the hinge has a finding above advice about its radius,
// in any posture of the design; nil where it makes no bend, or none does.
func (r Run) minRadius(hinge int) *num {
	least, ok := rule.LeastRadius(r.Tree, hinge)
	if !ok {
		return nil
	}
	return some(least)
}

// toward returns the side a hinge folds toward, in words.
func toward(h *fold.Hinge) string {
	if h.Angle < 0 || h.Angle == 0 && h.Written < 0 {
		return "bottom"
	}
	return "top"
}
