package fold

import (
	"math"

	"foldfit/fold/flat"
)

// RunOuts returns how far the flex runs on straight from bend i's tangent lines to the next rigid or stiffened edges, in mm,
// measured along the bend's normal through the middle of its longest stretch. ok is false where one of the two is missing:
// the board ends, or another bend comes first.
func (t *Tree) RunOuts(i int) (near, far float64, ok bool) {
	b := &t.Bends[i]
	longest := b.Lines[0]
	for _, l := range b.Lines {
		if l[0].Dist(l[1]) > longest[0].Dist(longest[1]) {
			longest = l
		}
	}
	mid := longest[0].Mid(longest[1])
	s := b.Station(mid)
	near, okNear := t.runOut(i, mid.Sub(b.Dir.Mul(s)), b.Dir.Mul(-1))
	far, okFar := t.runOut(i, mid.Add(b.Dir.Mul(b.Width-s)), b.Dir)
	return near, far, okNear && okFar
}

// runOut returns the distance from p along u to what holds the flex.
func (t *Tree) runOut(bend int, p, u flat.Pt) (float64, bool) {
	holds := math.Inf(1)
	for _, s := range t.Design.Sections {
		if t.Design.RigidSection(s.Name) {
			holds = min(holds, ahead(flat.Region{s.Area}, p, u))
		}
	}
	for _, s := range t.Design.Stiffeners {
		holds = min(holds, ahead(flat.Region{s.Area}, p, u))
	}
	end := 0.0 // of the board, from p on
	for _, in := range t.Board.Stretches(p, u) {
		if in[0] <= flat.Snap && in[1] > flat.Snap {
			end = in[1]
		}
	}
	for k := range t.Bends {
		if k != bend && ahead(t.Bends[k].Region, p, u) < holds {
			return 0, false
		}
	}
	return holds, holds < end
}

// ahead returns the distance from p along u to a region, 0 inside it, infinite where it does not lie ahead.
func ahead(r flat.Region, p, u flat.Pt) float64 {
	least := math.Inf(1)
	for _, in := range r.Stretches(p, u) {
		if in[1] > flat.Snap {
			least = min(least, max(0, in[0]))
		}
	}
	return least
}
