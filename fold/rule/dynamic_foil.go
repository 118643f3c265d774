package rule

import (
	"fmt"

	"foldfit/fold/finding"
	"foldfit/fold/stackup"
)

var dynamicFoil = Rule{
	ID:    "dynamic-foil",
	Title: "flex that keeps moving has rolled annealed copper, or a foil grade tested for it",
	Why: "The grains of electrodeposited foil stand upright and its ductility is lower: it cracks earlier under small strains repeated often. " +
		"Grades differ widely, so it is a question for the fabricator.",
	Limit:    always("no electrodeposited foil in the bend of a hinge in dynamic use, unless its grade is tested"),
	Source:   "of seven electrodeposited grades tested beside rolled foil two matched it (1999, read in abstract); ductility 0.1 to 0.4 against 0.65, as commonly quoted (recalled, not checked)",
	Severity: finding.Query,
	How: Method{
		Formula: "count of layers of copper-ed; plating and etched copper (coverage 0) do not count",
		Inputs:  "the stack-up under the hinge line",
		Source:  "a definition of ours",
		Trust:   "exact for the stack-up as written; which foil is laminated is the fabricator's to say",
	},
	Check: checkDynamicFoil,
}

func checkDynamicFoil(b Board) []finding.Finding {
	var out []finding.Finding
	for _, m := range b.moving(deposited) {
		f := m.finding(b, finding.Query, 0)
		f.Message = fmt.Sprintf("bend %s keeps moving, and %s of its copper is electrodeposited foil (copper-ed)", m.bend.Name, counted(int(m.value), "layer"))
		f.Hint = "ask the fabricator for rolled annealed foil (copper-ra) there, or for a grade tested in flexing: of seven such grades two matched rolled foil"
		out = append(out, f)
	}
	return out
}

// deposited returns how many layers of electrodeposited foil there are; plating is a rule of its own.
func deposited(s stackup.Stackup) float64 {
	n := 0.0
	for _, l := range s.Layers {
		if laid(l) && l.Material == "copper-ed" && l.Role != platingRole {
			n++
		}
	}
	return n
}

// counted prints a number with its noun: "1 layer", "2 layers".
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
