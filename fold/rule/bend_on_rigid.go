package rule

import (
	"fmt"
	"math"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

var bendOnRigid = Rule{
	ID:       "bend-on-rigid",
	Title:    "rigid sections and stiffeners stay out of the bend areas",
	Why:      "A rigid section or a bonded plate does not bend: the flex breaks at its edge, or the bend moves elsewhere and gets tighter.",
	Source:   "geometry (computed)",
	Severity: finding.Error,
	Check:    checkOnRigid,
}

func checkOnRigid(b Board) []finding.Finding {
	var out []finding.Finding
	d := b.Tree.Design
	for i := range b.Tree.Bends {
		bend := &b.Tree.Bends[i]
		for _, s := range d.Sections {
			if d.RigidSection(s.Name) {
				out = append(out, b.reaching(bend, "section", s.Name, s.Area)...)
			}
		}
		for _, s := range d.Stiffeners {
			out = append(out, b.reaching(bend, "stiffener", s.Name, s.Area)...)
		}
	}
	return out
}

// reaching reports a rigid area that reaches into a bend.
func (b Board) reaching(bend *fold.Bend, kind, name string, area flat.Loop) []finding.Finding {
	depth, where := depthIn(bend, area)
	if depth <= touch {
		return nil
	}
	h := b.hinge(bend)
	return []finding.Finding{{
		Severity: finding.Error, On: []string{"hinge:" + h.Name, kind + ":" + name}, At: at(where), Place: h.Place,
		Value: finding.Number(depth), Limit: finding.Number(0), Unit: "mm",
		Message: fmt.Sprintf("%s %s reaches %.4f mm into the bend area of %s, which is %.4f mm wide", kind, name, depth, bend.Name, bend.Width),
		Hint:    fmt.Sprintf("move the hinge line %.4f mm away from %s, or end %s that much earlier%s", depth, name, name, smaller(bend, h, depth)),
	}}
}

// smaller returns the inside radius at which a bend area would end depth mm earlier on either side, as another way out; ""
// where no bend of that radius could be made.
func smaller(bend *fold.Bend, h *fold.Hinge, depth float64) string {
	r := (bend.Width-2*depth)/math.Abs(h.Angle*math.Pi/180) - bend.Concave(h.Angle)
	if r < crease*bend.Thickness() {
		return ""
	}
	return fmt.Sprintf(", or lower the inside radius to %.2f mm", math.Floor(r*100+1e-6)/100)
}
