package rule

import (
	"fmt"

	"foldfit/fold/finding"
	"foldfit/fold/stackup"
)

var dynamicPlating = Rule{
	ID:    "dynamic-plating",
	Title: "flex that keeps moving is not plated in the bend",
	Why: "Plating for the holes adds copper that is less ductile than rolled foil, on the side away from the neutral surface: it cracks first, " +
		"and its cracks run on into the foil.",
	Limit:    always("no copper of the role `plating` in the bend of a hinge in dynamic use"),
	Source:   "common practice, no source: plate the pads only (button plating) where flex moves",
	Severity: finding.Warning,
	How: Method{
		Formula: "sum of the thicknesses of copper layers of the role plating; etched ones (coverage 0) do not count",
		Inputs:  "the stack-up under the hinge line",
		Source:  "a definition of ours",
		Trust:   "exact for the stack-up as written; plating that no layer speaks of is not seen",
	},
	Check: checkDynamicPlating,
}

// platingRole is the role of copper that is plated onto foil.
const platingRole = "plating"

func checkDynamicPlating(b Board) []finding.Finding {
	var out []finding.Finding
	for _, m := range b.moving(plated) {
		f := m.finding(b, finding.Warning, 0)
		f.Unit = "mm"
		f.Message = fmt.Sprintf("bend %s keeps moving with %s of plating on its copper", m.bend.Name, b.say().Length(m.value))
		f.Hint = fmt.Sprintf("have only the pads plated (button plating) and take the plating out of stack-up %s, which is then %s thick; plate outside the bend",
			m.stack.Name, b.say().Length(m.stack.Thickness()-m.value))
		out = append(out, f)
	}
	return out
}

// plated returns the thickness of all plating in mm.
func plated(s stackup.Stackup) float64 {
	sum := 0.0
	for _, l := range s.Layers {
		if laid(l) && l.Role == platingRole {
			sum += l.Thickness
		}
	}
	return sum
}
