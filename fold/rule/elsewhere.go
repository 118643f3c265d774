package rule

import (
	"slices"
	"strings"

	"foldfit/fold/finding"
)

var (
	gapMethod = Method{
		Formula: "least distance between the meshes of two bodies; where they overlap, the least shift that separates them",
		Inputs:  "the folded bodies, the housing's meshes, the chord; less what a piece may grow",
		Source:  "geometry", Trust: "exact between the meshes, which lie within the chord of the true surfaces (gap_low takes both off); nominal sizes",
	}
	motionMethod = Method{
		Formula: "distance at the middle of an interval of a step, less bounds on how far both bodies can move in it; halved until proven",
		Inputs:  "the design's `sequence`, hinges turning at constant rates, paths as written (without one all hinges together, board and parts alone, as advice); the bodies and the housing's meshes",
		Source:  "geometry: product of hinge motions, with the curvature of each bend", Trust: "certified for every moment of the written path; cylindrical bends, nominal sizes; proven to 0.01 mm: bodies together thinner than that may pass each other",
	}
	conceded = Method{
		Formula: "the finding's value against the concession's bound",
		Inputs:  "the design's `concessions` and all findings in all postures that were checked",
		Source:  "the design itself", Trust: "as far as the finding's own value",
	}
)

// The rules of gaps are checked between meshes, which this package does not know, and those about the design's own
// exceptions where those are applied. They are listed here for their words.
var elsewhere = []Rule{
	{
		ID: "clearance", Title: "bodies keep the distance that the design asks for", Severity: finding.Error,
		Why:    "Parts have tolerances, cells swell and boards move: without the gap they touch.",
		Limit:  always("the design's `clearance` for the pair; where it gives none, only contact is judged"),
		Source: "the design's own; the gap is computed",
		How:    gapMethod,
	},
	{
		ID: "clearance-unused", Title: "every exception to the clearances is for two bodies of the board", Severity: finding.Warning,
		Why:    "A misspelt name leaves the pair that was meant under the general clearance, or an exception stays when its body is gone.",
		Limit:  always("two bodies"),
		Source: "the design's own",
		How:    Method{"how many bodies the two names match", "the design's `clearance: {pairs: ...}` and the names of all bodies", "the design itself", "exact"},
	},
	{
		ID: "concession-lapsed", Title: "what was conceded has not become worse", Severity: finding.Warning,
		Why:    "A deviation was accepted down to a bound; beyond it nobody has agreed to anything, and the finding counts again.",
		Limit:  always("the concession's `down-to`"),
		Source: "the design's own concession",
		How:    conceded,
	},
	{
		ID: "concession-unbounded", Title: "a concession says down to which value", Severity: finding.Warning,
		Why:    "Without a bound it would go on accepting whatever comes.",
		Limit:  always("a `down-to`"),
		Source: "the design's own concession",
		How:    conceded,
	},
	{
		ID: "concession-unused", Title: "a concession has a finding to accept", Severity: finding.Warning,
		Why:    "It is misspelt, or the deviation is gone and nobody should be able to bring it back unseen.",
		Limit:  always("one finding"),
		Source: "the design's own concession",
		How:    conceded,
	},
	{
		ID: "contact", Title: "two bodies do not share space", Severity: finding.Error,
		Why:    "What overlaps in the computer collides on the bench.",
		Limit:  always("no overlap, or as much as a negative gap in `clearance: {pairs: ...}` allows; up to 0.001 mm counts as touching"),
		Source: "geometry (computed)",
		How:    gapMethod,
	},
	{
		ID: "clearance-in-motion", Title: "bodies keep their distance while the board is folded and put in", Severity: finding.Warning,
		Why:    "What fits at rest may brush past something on its way there.",
		Limit:  always("the pair's clearance at rest; no more than it has in the flat, at the end of the motion, or between postures also at its start; none to a jig that touches at the end of a step and is removed later"),
		Source: "the design's own; the gap is computed and certified between the moments looked at",
		How:    motionMethod,
	},
	{
		ID: "contact-in-motion", Title: "nothing collides while the board is folded and put in, nor what rides on it", Severity: finding.Error,
		Why:    "A board that fits when folded but cannot be folded or slid in is scrap.",
		Limit:  always("no overlap on the way, or as much as a seat (also one on a jig that is removed later) or a negative gap allows; up to 0.001 mm counts as touching"),
		Source: "geometry (computed)",
		How:    motionMethod,
	},
	{
		ID: "forming-room", Title: "a forming rod has room in the bend", Severity: finding.Advice,
		Why:    "Flex that is formed over a rod of twice its inside radius needs room for the rod on the concave side: parts close to the bend are in its way.",
		Limit:  always("no overlap with a rod as long as the bend area; only hinges of `formed: fabricator` or `bench` are judged"),
		Source: "common practice, no source: formed over a rod; the room is computed",
		How: Method{"distance of the rod's axis from a body, less the inside radius: the rod on the middle of the flat bend area against components, and in the bend with all other hinges flat",
			"inside radius, hinge line, the bodies of the board", "geometry", "exact between the rod and the bodies' meshes; the enclosure is not looked at"},
	},
	{
		ID: "loop-open-in-motion", Title: "arms that form a loop stay together while they are folded", Severity: finding.Warning,
		Why:    "Arms that are bent one after the other pull at what they hold together: the flex twists and stretches by about as much.",
		Limit:  always("the design's `loop`, by default 0.2 mm and 1 degree, or what the loop has at rest"),
		Source: "geometry of cylindrical bends (computed); the limit is the design's",
		How: Method{"distance and angle between the two images of a joint that closes a loop, largest over each step", "the design's `sequence`, hinges turning at constant rates", "geometry: product of hinge motions",
			"to 0.01 mm or 0.01 degrees; cylindrical bends, nominal sizes"},
	},
	{
		ID: "not-seated", Title: "the board rests where a seat says that it does", Severity: finding.Error,
		Why:    "A board that hangs above its boss is bent down by its screw, and one held by nothing moves.",
		Limit:  always("the seat's `bond` + 0.01 mm"),
		Source: "the design's own; the gap is computed",
		How:    gapMethod,
	},
}

// Documented returns every rule that a finding may name, in the order of their names. Those without a Check are checked
// elsewhere.
func Documented() []Rule {
	out := append(All(), elsewhere...)
	slices.SortFunc(out, func(a, b Rule) int { return strings.Compare(a.ID, b.ID) })
	return out
}
