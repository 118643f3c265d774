package rule

import (
	"fmt"

	"foldfit/fold"
	"foldfit/fold/finding"
)

var loopOpen = Rule{
	ID:     "loop-open",
	Title:  "arms that form a loop meet when folded",
	Why:    "Two arms between the same parts must carry them to the same place; what stays open has to be taken up by stretch or twist of the flex.",
	Limit:  always("the design's `loop`, by default 0.2 mm and 1 degree; beyond five times that it is an error"),
	Source: "geometry (computed); the limit is the design's `loop`, by default 0.2 mm and 1 degree (common practice, no source)",
	How: Method{"distance and angle between the two places that the two ways round a loop give one joint", "hinge lines, angles and neutral radii of both arms", "geometry",
		"exact for cylinders of the nominal sizes; real flex takes up some of it"},
	Severity: finding.Warning,
	Check:    checkLoops,
}

// graveLoop is how many times its limit a loop may be open before it is an error.
const graveLoop = 5

func checkLoops(b Board) []finding.Finding {
	if b.Folded == nil {
		return nil
	}
	limit := b.Tree.Design.Loop
	if limit == (fold.LoopLimit{}) {
		limit = fold.DefaultLoop
	}
	var out []finding.Finding
	for _, c := range b.Folded.Closures() {
		wide, turned := c.Off-1e-9, c.Turn-1e-9
		if wide <= limit.Gap && turned <= limit.Angle {
			continue
		}
		bend, fl := &b.Tree.Bends[c.Bend], &b.Tree.Flats[c.Flat]
		h := b.hinge(bend)
		f := finding.Finding{
			Severity: finding.Warning, On: []string{"hinge:" + h.Name, "flat:" + fl.Name}, Posture: b.Posture, At: at(bend.Middle()), Place: h.Place,
			Value: finding.Number(c.Off), Limit: finding.Number(limit.Gap), Unit: "mm",
			Message: fmt.Sprintf("the loop through bend %s does not close: %s is %s and %.2f degrees away from where the bend ends (along the hinge %s, across %s, tilt %.2f, twist %.2f degrees)",
				bend.Name, fl.Name, b.say().Length(c.Off), c.Turn, b.say().Length(c.Along), b.say().Length(c.Across), c.Tilt, c.Twist),
			Hint: "give the hinges of both arms lines, angles and radii that carry the part to one place (one hinge line across both arms always does), or leave one arm open as a tail",
		}
		if wide <= limit.Gap {
			f.Value, f.Limit, f.Unit = finding.Number(c.Turn), finding.Number(limit.Angle), "deg"
		}
		if wide > graveLoop*limit.Gap || turned > graveLoop*limit.Angle {
			f.Severity = finding.Error
		}
		out = append(out, f)
	}
	return out
}
