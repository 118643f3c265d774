package report

import (
	"fmt"
	"math"
	"strings"

	"foldfit/fold"
)

// folds says in words what each hinge does.
func (p *page) folds(r Run) {
	if len(r.Tree.Design.Hinges) == 0 {
		p.list("Folds", []string{"none: the design has no hinges"})
		return
	}
	p.section("Folds")
	for i := range r.Tree.Design.Hinges {
		p.item(r.hingeWords(i, p.speech))
	}
	if r.anyFree() {
		p.item("free: the least inside radius that the flex takes when only its rigid or stiffened edges hold it, placed as drawn (elastica, computed); not used in the findings")
	}
}

// hingeWords describes hinge i: "wing folds 180 deg toward top about neck: inside radius 1.50, width 5.03 mm, ratio 7.5; line
// (32.00, 0.00) to (32.00, 10.00)", the line in flat coordinates.
func (r Run) hingeWords(i int, s speech) string {
	h, info := &r.Tree.Design.Hinges[i], &r.Tree.Hinges[i]
	b := r.worstBend(i)
	if b == nil {
		return h.Name + " stays flat: its angle is 0"
	}
	who, verb := "the free end", " folds "
	if names := r.moving(i); len(names) > 0 {
		who = together(names)
		if len(names) > 1 {
			verb = " fold "
		}
	}
	out := fmt.Sprintf("%s%s%s deg toward %s about %s: inside radius %s, width %s, ratio %s", who, verb,
		short(math.Abs(h.Angle), 2), toward(h), h.Name, s.length(h.Radius), s.size(info.Width), short(ratio(b), 1))
	out += fmt.Sprintf("; line %s to %s", s.point(info.Line[0].X, info.Line[0].Y), s.point(info.Line[1].X, info.Line[1].Y))
	if info.Moved != 0 {
		out += fmt.Sprintf(", moved by %s %s onto an edge", fixed(math.Abs(info.Moved)/s.units.Length(), 5), s.unit())
	}
	return out + r.freeWords(i, s)
}

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
