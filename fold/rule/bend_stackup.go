package rule

import (
	"fmt"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

var bendStackup = Rule{
	ID:       "bend-stackup",
	Title:    "one flexible stack-up runs through a bend",
	Why:      "Where the stack-up changes inside a bend the stiffness jumps and the radius is not the drawn one; the body is computed with the stack-up under the hinge line.",
	Limit:    always("not at all"),
	Source:   "common practice, no source; the depth is computed",
	How:      measured("how far the other stack-up reaches into the bend area, across it", "sections, hinge line, width of the bend area"),
	Severity: finding.Advice,
	Tightest: true,
	Check:    checkBendStackup,
}

func checkBendStackup(b Board) []finding.Finding {
	var out []finding.Finding
	d := b.Tree.Design
	for i := range b.Tree.Bends {
		bend := &b.Tree.Bends[i]
		left := []flat.Region{bend.Region} // what no section covers
		for _, s := range d.Sections {
			left = outside(left, s.Area)
			if d.RigidSection(s.Name) || s.Stackup == bend.Stackup {
				continue
			}
			depth, where := deepest(bend, flat.Intersect(bend.Region, flat.Region{s.Area}))
			out = append(out, b.changing(bend, "section:"+s.Name, fmt.Sprintf("section %s (stack-up %s)", s.Name, s.Stackup), depth, where)...)
		}
		if d.Flex != bend.Stackup {
			depth, where := deepest(bend, left)
			out = append(out, b.changing(bend, "stackup:"+d.Flex, "stack-up "+d.Flex, depth, where)...)
		}
	}
	return out
}

// changing reports another stack-up inside a bend.
func (b Board) changing(bend *fold.Bend, name, words string, depth float64, where flat.Pt) []finding.Finding {
	if depth <= touch {
		return nil
	}
	h := b.hinge(bend)
	return []finding.Finding{{
		Severity: finding.Advice, On: []string{"hinge:" + h.Name, name}, At: at(where), Place: h.Place,
		Value: finding.Number(depth), Limit: finding.Number(0), Unit: "mm",
		Message: fmt.Sprintf("%s reaches %s into the bend area of %s, which is computed with stack-up %s", words, b.say().Length(depth), bend.Name, bend.Stackup),
		Hint:    "let the stack-ups change at a tangent line, or one of them cover the whole bend area",
	}}
}

// outside returns what an area leaves of pieces.
func outside(pieces []flat.Region, area flat.Loop) []flat.Region {
	var out []flat.Region
	for _, r := range pieces {
		out = append(out, flat.Subtract(r, flat.Region{area})...)
	}
	return out
}
