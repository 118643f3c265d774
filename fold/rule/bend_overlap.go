package rule

import (
	"fmt"
	"math"

	"foldfit/fold/finding"
)

var bendOverlap = Rule{
	ID:       "bend-overlap",
	Title:    "bend areas lie beside each other",
	Why:      "A sheet cannot bend about two lines at one place; where two bend areas overlap the board has no folded shape at all.",
	Limit:    always("not at all"),
	Source:   "geometry (computed)",
	How:      measured("area that two bend areas have in common", "hinge lines and widths of both bend areas"),
	Severity: finding.Error,
	Check:    checkOverlap,
}

func checkOverlap(b Board) []finding.Finding {
	var out []finding.Finding
	for _, o := range b.Tree.Overlaps {
		one, two := &b.Tree.Bends[o.A], &b.Tree.Bends[o.B]
		h1, h2 := b.hinge(one), b.hinge(two)
		hint := fmt.Sprintf("move hinge %s or %s apart by at least %g mm, or lower an inside radius", h1.Name, h2.Name, math.Ceil(o.Depth*1e4)/1e4)
		if o.Corner {
			hint = fmt.Sprintf("both lines are drawn on edges where their bend areas should begin: move them out by w/2 = %.4f mm (%s) and %.4f mm (%s), or write them as `tangent` with `into`",
				one.Width/2, h1.Name, two.Width/2, h2.Name)
		}
		out = append(out, finding.Finding{
			Severity: finding.Error, On: []string{"hinge:" + h1.Name, "hinge:" + h2.Name}, At: at(o.At), Place: h2.Place,
			Value: finding.Number(o.Area), Limit: finding.Number(0), Unit: "mm2",
			Message: fmt.Sprintf("the bend areas of %s (%s wide) and %s (%s wide) overlap by %.3g mm2, %.3g mm deep, at %s: the board has no folded shape",
				one.Name, mm(one.Width), two.Name, mm(two.Width), o.Area, o.Depth, spot(o.At)),
			Hint: hint,
		})
	}
	return out
}
