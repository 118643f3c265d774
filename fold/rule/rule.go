package rule

import (
	"math"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

// Rule is one design rule. What is said of it here stands in the findings, in the list of rules and in the documents.
type Rule struct {
	ID       string
	Title    string               // what is asked, one line
	Why      string               // what goes wrong otherwise
	Limit    func(Profile) string // how much is asked, in words, under a profile
	Source   string               // where the limit comes from and how far to trust it
	How      Method               // how the figure that is held against the limit comes about
	Severity finding.Severity     // the usual one; a finding may be graver and says so
	Tightest bool                 // of several findings about one set of names (in postures, in the bends of a hinge) only the worst is reported
	Check    func(Board) []finding.Finding
}

// Board is what a rule looks at: a divided board and, if it has a folded shape, the posture judged.
type Board struct {
	Tree    *fold.Tree
	Folded  *fold.Folded // nil where bend areas overlap
	Posture string       // "folded" or a posture's name
	shapes  *shapes      // of the flex, worked out once by CheckPostures; nil: worked out when asked for
}

// All returns every rule that this package checks, in the order of their names.
func All() []Rule {
	return []Rule{
		bendBeyondNeck, bendFreeEnd, bendLife, bendOnRigid, bendOverlap, bendRatio, bendStackup, bendStrain,
		componentInBend,
		coreContinuous,
		cutoutEndInBend,
		dynamicFoil,
		dynamicLayers,
		dynamicPlating,
		insideCorner, loopOpen, loosePlies, springback,
		stackBalance,
		stiffenerFace, targetMissed, unitsDoubtful,
	}
}

// Check applies every rule to one posture and returns the findings, worst first. Folded may be nil: the rules of the flat
// board still run.
func Check(t *fold.Tree, f *fold.Folded, posture string) []finding.Finding {
	return CheckPostures([]Board{{Tree: t, Folded: f, Posture: posture}})
}

// hinge returns the design's hinge of a bend.
func (b Board) hinge(bend *fold.Bend) *fold.Hinge { return &b.Tree.Design.Hinges[bend.Hinge] }

// angle returns the angle of a bend in degrees: in the posture judged, or its hinge's own where nothing is folded.
func (b Board) angle(bend *fold.Bend) float64 {
	if b.Folded == nil {
		return b.hinge(bend).Angle
	}
	return b.Folded.Angles[bend.Hinge]
}

// radiusFor returns the inside radius to write at a bend's hinge for a bend area of that width, mm. A bend thinner than the
// hinge's thickest has a wider inside radius than the one written.
func (b Board) radiusFor(bend *fold.Bend, width float64) float64 {
	h := b.hinge(bend)
	concave := b.Tree.Hinges[bend.Hinge].NeutralRadius - h.Radius
	return width/math.Abs(h.Angle*math.Pi/180) - concave
}

// slack is the relative amount by which a limit may be missed and still counts as met.
const slack = 1e-9

// under reports whether value misses the lower limit.
func under(value, limit float64) bool { return value < limit-slack*math.Abs(limit) }

// over reports whether value misses the upper limit.
func over(value, limit float64) bool { return value > limit+slack*math.Abs(limit) }

// touch is the depth in mm up to which one area may reach into another unnoticed.
const touch = 0.001

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
	return deepest(b, flat.Intersect(b.Region, flat.Region{area}))
}

// deepest returns how far the piece of a bend that reaches farthest across it does so, in mm, with a point of it.
func deepest(b *fold.Bend, pieces []flat.Region) (float64, flat.Pt) {
	deepest, where := 0.0, flat.Pt{}
	for _, r := range pieces {
		if lo, hi := span(b, r); hi-lo > deepest {
			deepest, where = hi-lo, r.Inside()
		}
	}
	return deepest, where
}
