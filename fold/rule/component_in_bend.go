package rule

import (
	"fmt"

	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

var componentInBend = Rule{
	ID:       "component-in-bend",
	Title:    "components stay out of the bend areas",
	Why:      "Solder joints on a bend crack when it is formed, and a body that bridges the bend keeps it from bending.",
	Limit:    always("not at all"),
	Source:   "common practice, no source; the depth is computed from the body's outline",
	How:      measured("how far the body's footprint reaches into the bend area, across it", "the component's place, turn and size, hinge line, width of the bend area"),
	Severity: finding.Warning,
	Tightest: true,
	Check:    checkComponentInBend,
}

func checkComponentInBend(b Board) []finding.Finding {
	var out []finding.Finding
	for i := range b.Tree.Design.Components {
		c := &b.Tree.Design.Components[i]
		for k := range b.Tree.Bends {
			bend := &b.Tree.Bends[k]
			depth, where := 0.0, flat.Pt{}
			for _, l := range c.Footprint() {
				if d, p := depthIn(bend, l); d > depth {
					depth, where = d, p
				}
			}
			if depth <= touch {
				continue
			}
			h := b.hinge(bend)
			out = append(out, finding.Finding{
				Severity: finding.Warning, On: []string{"component:" + c.Name, "hinge:" + h.Name}, At: at(where), Place: c.Place,
				Value: finding.Number(depth), Limit: finding.Number(0), Unit: "mm",
				Message: fmt.Sprintf("component %s reaches %s into the bend area of %s, which is %s wide", c.Name, b.say().Length(depth), bend.Name, b.say().Length(bend.Width)),
				Hint:    fmt.Sprintf("move %s at least %s away from hinge %s", c.Name, b.say().Up(depth), h.Name),
			})
		}
	}
	return out
}
