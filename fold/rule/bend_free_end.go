package rule

import (
	"fmt"
	"math"

	"foldfit/fold/finding"
)

var bendFreeEnd = Rule{
	ID:       "bend-free-end",
	Title:    "a bend has a flat on both sides",
	Why:      "Where the board ends inside a bend area nothing takes hold of it: the end does not reach its angle and springs open.",
	Limit:    always("the hinge's whole angle"),
	Source:   "geometry (computed)",
	How:      measured("angle x length of bend area that the board reaches / its width", "outline, hinge line, width of the bend area"),
	Severity: finding.Warning,
	Tightest: true,
	Check:    checkFreeEnd,
}

// leastFlat is how much in mm must be left of the board beyond a bend to be a flat rather than what rounding leaves.
const leastFlat = 0.005

func checkFreeEnd(b Board) []finding.Finding {
	var out []finding.Finding
	if !b.Tree.Foldable {
		return nil
	}
	for i := range b.Tree.Bends {
		bend := &b.Tree.Bends[i]
		if len(bend.Far) > 0 {
			continue
		}
		h := b.hinge(bend)
		full := math.Abs(h.Angle)
		reached := full * min(bend.Reach, bend.Width) / bend.Width
		lacks := bend.Width - bend.Reach + leastFlat
		out = append(out, finding.Finding{
			Severity: finding.Warning, On: []string{"hinge:" + h.Name}, At: at(bend.Middle()), Place: h.Place,
			Value: finding.Number(reached), Limit: finding.Number(full), Unit: "deg",
			Message: fmt.Sprintf("bend %s ends free: the board ends after %.2f of its %s degrees, no flat lies beyond", bend.Name, reached, short(full, 2)),
			Hint:    fmt.Sprintf("move the hinge line into the board by more than %s, or lengthen the board there by as much%s", b.say().Up(lacks), b.smaller(bend, lacks)),
		})
	}
	return out
}
