package rule

import (
	"fmt"

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
		hint := fmt.Sprintf("move hinge %s or %s apart by at least %s, or lower an inside radius", h1.Name, h2.Name, b.say().exactUp(o.Depth))
		if o.Corner {
			hint = fmt.Sprintf("both lines are drawn on edges where their bend areas should begin: move them out by w/2 = %s (%s) and %s (%s), or write them as `tangent` with `into`",
				b.say().finest(one.Width/2), h1.Name, b.say().finest(two.Width/2), h2.Name)
		}
		out = append(out, finding.Finding{
			Severity: finding.Error, On: []string{"hinge:" + h1.Name, "hinge:" + h2.Name}, At: at(o.At), Place: h2.Place,
			Value: finding.Number(o.Area), Limit: finding.Number(0), Unit: "mm2",
			Message: fmt.Sprintf("the bend areas of %s (%s wide) and %s (%s wide) overlap by %.3g mm2, %s deep, at %s: the board has no folded shape",
				one.Name, b.say().Length(one.Width), two.Name, b.say().Length(two.Width), o.Area, b.say().Figure(o.Depth), b.say().Spot(o.At)),
			Hint: hint,
		})
	}
	return out
}
