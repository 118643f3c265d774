package report

import (
	"fmt"
	"math"
	"strings"

	"foldfit/fold"
)

// postureWords describes the postures that were checked beside the folded one: "open: lid 110 deg toward top (inside radius
// 3.10 mm), flap flat".
func (r Run) postureWords(s speech) []string {
	var out []string
	for _, name := range r.checked() {
		angles, err := r.Tree.PostureAngles(name)
		if err != nil || name == fold.FoldedPosture || name == "" {
			continue
		}
		var parts []string
		for i := range r.Tree.Design.Hinges {
			if b := r.worstBend(i); b != nil {
				parts = append(parts, r.angleWords(b, angles[i], s))
			}
		}
		out = append(out, name+": "+strings.Join(parts, ", "))
	}
	return out
}

// angleWords says how a bend stands.
func (r Run) angleWords(b *fold.Bend, angle float64, s speech) string {
	h := &r.Tree.Design.Hinges[b.Hinge]
	if angle == 0 {
		return h.Name + " flat"
	}
	side := "top"
	if angle < 0 {
		side = "bottom"
	}
	return fmt.Sprintf("%s %s deg toward %s (inside radius %s)", h.Name, short(math.Abs(angle), 2), side, s.size(b.RadiusAt(angle)))
}

// moving returns the names of the flats that hinge i carries, each once.
func (r Run) moving(i int) []string {
	var out []string
	seen := map[string]bool{}
	for _, b := range r.Tree.Hinges[i].Bends {
		for _, name := range r.flatNames(r.Tree.Bends[b].Far) {
			if !seen[name] {
				seen[name] = true
				out = append(out, name)
			}
		}
	}
	return out
}

// loops says how well joints outside the tree close.
func (p *page) loops(r Run) {
	if r.Folded == nil {
		return
	}
	closures := r.Folded.Closures()
	if len(closures) == 0 {
		return
	}
	p.section("Loops")
	limit := r.Tree.Design.Loop
	for _, c := range closures {
		p.item(p.closureWords(r.Tree, c, limit))
	}
}

func (p *page) closureWords(t *fold.Tree, c fold.Closure, limit fold.LoopLimit) string {
	return fmt.Sprintf("%s meets %s: %s and %s deg apart (limit %s and %s deg)", t.Bends[c.Bend].Name, t.Flats[c.Flat].Name,
		p.size(c.Off), fixed(c.Turn, 2), p.size(limit.Gap), short(limit.Angle, 2))
}
