package rule

import (
	"fmt"
	"math"

	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

var insideCorner = Rule{
	ID:       "inside-corner",
	Title:    "inside corners of the flex are rounded",
	Why:      "Flex tears from sharp inside corners.",
	Limit:    func(p Profile) string { return fmt.Sprintf("a radius of %g mm", p.InsideCorner) },
	Source:   "common practice, as commonly quoted from fabricators: inside radius of 0.75 to 1 mm",
	How:      measured("radius of the arc between two edges that turn by more than 20 degrees into the board; 0 where there is none", "outline and cutouts"),
	Severity: finding.Advice,
	Check:    checkInsideCorner,
}

const (
	leastCorner = 0.75  // mm, the usual limit
	sharpTurn   = 20.0  // degrees of turn from which a corner counts
	besideRigid = 0.1   // mm from a rigid section's edge within which the rigid section takes the load
	roundEnd    = 170.0 // an arc that turns so far is a hole or a slot's round end, not a corner
)

func checkInsideCorner(b Board) []finding.Finding {
	var out []finding.Finding
	limit, whose := b.cornerLimit()
	for k, l := range b.Tree.Board {
		for i, e := range l {
			next := l[(i+1)%len(l)]
			p, radius, ok := insideCornerAt(e, next, limit)
			if !ok || b.Tree.Design.RigidNear(p, besideRigid) {
				continue
			}
			out = append(out, finding.Finding{
				Severity: finding.Advice, At: at(p), Place: b.placeOfLoop(k), Source: whose,
				Value: finding.Number(radius), Limit: finding.Number(limit), Unit: "mm",
				Message: fmt.Sprintf("inside corner of the flex at %s %s; a radius of %s is asked for", b.say().Spot(p), b.roundness(radius), b.say().Length(limit)),
				Hint:    fmt.Sprintf("round it with %s or more (third number of the point), or leave copper round it as a tear stop", b.say().Up(limit)),
			})
		}
	}
	return out
}

// roundness says how round a corner is.
func (b Board) roundness(radius float64) string {
	if radius == 0 {
		return "is sharp"
	}
	return "has radius " + b.say().Length(radius)
}

// placeOfLoop returns where the design speaks of a loop of the board: 0 is the outline, the others are the cutouts.
func (b Board) placeOfLoop(k int) finding.Place {
	w := &b.Tree.Design.Where
	if k > 0 && k <= len(w.Cutouts) {
		return w.Cutouts[k-1]
	}
	return w.Outline
}

// insideCornerAt looks at the corner between two edges, or at the second edge when it is an arc: an inside corner (the
// board turns right, material on its left) with too small a radius.
func insideCornerAt(e, next flat.Edge, limit float64) (flat.Pt, float64, bool) {
	if next.Sweep < 0 && -next.Sweep < roundEnd*math.Pi/180 && -next.Sweep > sharpTurn*math.Pi/180 && under(next.R, limit) {
		return next.Mid(), next.R, true
	}
	d, t := e.Tangent(1), next.Tangent(0)
	turn := math.Atan2(d.Cross(t), d.Dot(t)) * 180 / math.Pi
	return e.Q, 0, turn < -sharpTurn
}
