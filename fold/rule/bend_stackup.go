package rule

import (
	"fmt"

	"foldfit/fold/finding"
)

var bendStackup = Rule{
	ID:       "bend-stackup",
	Title:    "one flexible stack-up runs through a bend",
	Why:      "Where the stack-up changes inside a bend the stiffness jumps and the radius is not the drawn one; the body is computed with the stack-up under the hinge line.",
	Source:   "common practice, no source; the depth is computed",
	Severity: finding.Advice,
	Check:    checkBendStackup,
}

func checkBendStackup(b Board) []finding.Finding {
	var out []finding.Finding
	d := b.Tree.Design
	for i := range b.Tree.Bends {
		bend := &b.Tree.Bends[i]
		for _, s := range d.Sections {
			if d.RigidSection(s.Name) || s.Stackup == bend.Stackup {
				continue
			}
			depth, where := depthIn(bend, s.Area)
			if depth <= touch {
				continue
			}
			h := b.hinge(bend)
			out = append(out, finding.Finding{
				Severity: finding.Advice, On: []string{"hinge:" + h.Name, "section:" + s.Name}, At: at(where), Place: h.Place,
				Value: finding.Number(depth), Limit: finding.Number(0), Unit: "mm",
				Message: fmt.Sprintf("section %s (stack-up %s) reaches %s into the bend area of %s, which is computed with stack-up %s", s.Name, s.Stackup, mm(depth), bend.Name, bend.Stackup),
				Hint:    "end the section at the tangent line, or let it cover the whole bend area",
			})
		}
	}
	return out
}
