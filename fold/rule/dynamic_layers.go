package rule

import (
	"fmt"

	"foldfit/fold/finding"
	"foldfit/fold/stackup"
)

var dynamicLayers = Rule{
	ID:    "dynamic-layers",
	Title: "flex that keeps moving has one copper layer, at most two",
	Why: "Only one copper layer can lie in the neutral surface. Those beside it are stretched and pressed with every cycle and crack first, " +
		"and each one more makes the flex thicker.",
	Limit: func(p Profile) string {
		return fmt.Sprintf("at most %d copper layers in the bend of a hinge in dynamic use; one is best, and more is advised against", dynamicMost(p))
	},
	Source: "continuous flexing with one or two copper layers only: IPC-2223, as commonly quoted (recalled, not read); one alone: common practice, no source",
	How: Method{
		Formula: "count of copper layers; copper on copper is one, etched copper (coverage 0) none, of loose plies the one with most counts",
		Inputs:  "the stack-up under the hinge line",
		Source:  "a definition of ours",
		Trust:   "exact for the stack-up as written",
	},
	Severity: finding.Warning,
	Check:    checkDynamicLayers,
}

// dynamicMost returns how many copper layers a profile allows in dynamic use.
func dynamicMost(p Profile) int {
	if p.Name == "strict" {
		return 1
	}
	return 2
}

func checkDynamicLayers(b Board) []finding.Finding {
	p := profileOf(b.Tree.Design.Limits)
	most := dynamicMost(p)
	var out []finding.Finding
	for _, m := range b.moving(func(s stackup.Stackup) float64 { return float64(copperSheets(s)) }) {
		switch n := int(m.value); {
		case n > most:
			f := m.finding(b, finding.Warning, float64(most))
			f.Message = fmt.Sprintf("bend %s keeps moving with %d copper layers; at most %d are asked for (profile %s)", m.bend.Name, n, most, p.Name)
			f.Hint = fmt.Sprintf("let %d of them end before the bend, or split the flex into loose plies with at most %d each", n-most, most)
			out = append(out, f)
		case n == 2:
			f := m.finding(b, finding.Advice, 1)
			f.Message = fmt.Sprintf("bend %s keeps moving with 2 copper layers; 1 in the neutral surface lives longest", m.bend.Name)
			f.Hint = "lead 1 copper layer through the bend, between films of the same thickness" + b.reachNow(m.stack)
			out = append(out, f)
		}
	}
	return out
}

// reachNow says how far copper reaches from the neutral surface, where that is known.
func (b Board) reachNow(s stackup.Stackup) string {
	reach, known := s.CopperReach()
	if !known || !layered(s) {
		return ""
	}
	return fmt.Sprintf(": it then reaches half its own thickness from the neutral surface, now it is %s", b.say().Length(reach))
}
