package rule

import (
	"fmt"
	"math"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

// Rule is one design rule.
type Rule struct {
	ID       string
	Title    string           // one line
	Why      string           // what goes wrong otherwise
	Source   string           // where the limit comes from and how far to trust it
	Severity finding.Severity // the usual one; a finding may be graver and says so
	Check    func(Board) []finding.Finding
}

// Board is what a rule looks at: a divided board and, if it has a folded shape, the posture judged.
type Board struct {
	Tree    *fold.Tree
	Folded  *fold.Folded // nil where bend areas overlap
	Posture string       // "folded" or a posture's name
}

// All returns every rule, in the order of their names.
func All() []Rule {
	return []Rule{
		bendBeyondNeck, bendFreeEnd, bendOnRigid, bendOverlap, bendRatio, bendStackup,
		componentInBend, cutoutEndInBend, insideCorner, loopOpen, stiffenerFace, unitsDoubtful,
	}
}

// Check applies every rule and returns the findings, worst first. Folded may be nil: the rules of the flat board still run.
func Check(t *fold.Tree, f *fold.Folded, posture string) []finding.Finding {
	var out []finding.Finding
	b := Board{Tree: t, Folded: f, Posture: posture}
	for _, r := range All() {
		for _, one := range r.Check(b) {
			one.Rule, one.Source = r.ID, r.Source
			out = append(out, one)
		}
	}
	finding.Sort(out)
	return out
}

// slack is the relative amount by which a limit may be missed and still counts as met.
const slack = 1e-9

// under reports whether value misses the lower limit.
func under(value, limit float64) bool { return value < limit-slack*math.Abs(limit) }

// over reports whether value misses the upper limit.
func over(value, limit float64) bool { return value > limit+slack*math.Abs(limit) }

// touch is the depth in mm up to which one area may reach into another unnoticed.
const touch = 0.001

// hinge returns the design's hinge of a bend.
func (b Board) hinge(bend *fold.Bend) *fold.Hinge { return &b.Tree.Design.Hinges[bend.Hinge] }

// at returns a flat point as a finding's place.
func at(p flat.Pt) *[2]float64 { return &[2]float64{p.X, p.Y} }

// mm prints a length for messages: the contract's sensible digits, 0.01 mm, small values to 0.0001.
func mm(v float64) string {
	switch a := math.Abs(v); {
	case a != 0 && a < 0.01:
		return fmt.Sprintf("%.4f mm", v)
	case a < 0.1:
		return fmt.Sprintf("%.3f mm", v)
	}
	return fmt.Sprintf("%.2f mm", v)
}

// span returns the least and the largest station of a region in a bend, mm from the near tangent line.
func span(b *fold.Bend, r flat.Region) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, e := range r.Edges() {
		for _, p := range append(e.Points(1e-3), e.P) {
			s := b.Station(p)
			lo, hi = min(lo, s), max(hi, s)
		}
	}
	return lo, hi
}

// depthIn returns how far an area reaches across a bend, in mm, with a point of the deepest part; 0 where it does not.
func depthIn(b *fold.Bend, area flat.Loop) (float64, flat.Pt) {
	deepest, where := 0.0, flat.Pt{}
	for _, r := range flat.Intersect(b.Region, flat.Region{area}) {
		if lo, hi := span(b, r); hi-lo > deepest {
			deepest, where = hi-lo, r.Inside()
		}
	}
	return deepest, where
}

// words returns how a bend bends, for messages: "toward top".
func words(angle float64) string {
	if angle < 0 {
		return "toward bottom"
	}
	return "toward top"
}
