package report

import (
	"fmt"
	"math"

	"foldfit/fold"
	"foldfit/fold/elastica"
)

// freeShape is what the flex of a bend does when it is held only at its rigid or stiffened edges, placed as drawn.
type freeShape struct {
	Radius  num `json:"radius"`   // least inside radius anywhere, either way, mm
	OfDrawn num `json:"of_drawn"` // that over the drawn inside radius
	Wider   num `json:"wider"`    // how much further the loop reaches than the drawn arc, mm; below 0: less far
}

// free returns the free shape of a hinge's tightest bend; nil where it does not apply: an edge or another bend comes before
// a rigid or stiffened edge, or no such shape was found. Elastica of an even strip between clamps, to about 1e-9.
func (r Run) free(hinge int) *freeShape {
	var worst *freeShape
	for _, i := range r.Tree.Hinges[hinge].Bends {
		near, far, held := r.Tree.RunOuts(i)
		if !held || !r.Tree.Foldable {
			continue
		}
		if f := freeOf(&r.Tree.Bends[i], r.Tree.Design.Hinges[hinge].Angle, near, far); f != nil && (worst == nil || f.OfDrawn < worst.OfDrawn) {
			worst = f
		}
	}
	return worst
}

// freeOf returns the free shape of one bend with its run-outs.
func freeOf(b *fold.Bend, angle, near, far float64) *freeShape {
	inner, outer := b.Concave(angle), b.Concave(-angle)
	f, err := elastica.Hinge{Angle: math.Abs(angle), Radius: b.InsideRadius + inner, Near: near, Far: far}.Free()
	if err != nil {
		return nil
	}
	along, _ := f.MinRadiusToward(1)
	against, _ := f.MinRadiusToward(-1)
	least := min(along-inner, against-outer)
	if least <= 0 || math.IsInf(least, 0) {
		return nil
	}
	return &freeShape{num(least), num(least / b.InsideRadius), num(f.Wider)}
}

// freeWords says what the flex does of itself: "; free: 0.85 of drawn (1.87 mm), loop 0.090 mm wider"; "" where that does not
// apply.
func (r Run) freeWords(hinge int, s speech) string {
	f := r.free(hinge)
	if f == nil {
		return ""
	}
	way := "wider"
	if f.Wider < 0 {
		way = "narrower"
	}
	return fmt.Sprintf("; free: %.2f of drawn (%s), loop %s %s", float64(f.OfDrawn), s.size(float64(f.Radius)), s.size(math.Abs(float64(f.Wider))), way)
}

// anyFree reports whether a free shape is said of any hinge.
func (r Run) anyFree() bool {
	for i := range r.Tree.Design.Hinges {
		if r.free(i) != nil {
			return true
		}
	}
	return false
}
