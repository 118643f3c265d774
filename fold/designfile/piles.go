package designfile

import (
	"foldfit/fold/stackup"
)

// ply is a sheet of a pile of loose ones.
type ply struct {
	*laminate
	name string
}

// pile fills l with loose sheets and the air between them.
func (b *builder) pile(l *laminate, in *stack) bool {
	l.gap = in.Gap.v
	for i, t := range in.Plies {
		p := b.stack(t.s)
		what, hint := "", ""
		switch {
		case t.at == nil || p.bad && !p.busy:
			return false
		case p.busy:
			what, hint = "is a ply of itself", "name the stack-ups of the single sheets"
		case p.rigid:
			what, hint = "is rigid, and loose sheets bend", "name flexible stack-ups"
		case len(p.plies) > 0:
			what, hint = "consists of loose sheets itself", "name the single sheets"
		}
		if what != "" {
			b.add(t.at, b.where()+": "+t.s+" "+what, hint)
			return false
		}
		if i > 0 && l.gap > 0 {
			l.sheets = append(l.sheets, sheet{Layer: stackup.Layer{Material: stackup.Air, Thickness: l.gap, Coverage: 1}})
		}
		l.sheets = append(l.sheets, p.sheets...)
		l.plies = append(l.plies, ply{p, t.s})
	}
	if !b.fewEnough(len(l.sheets), in.key("plies")) {
		return false
	}
	l.embeds = l.made("").Embeds
	return true
}

// filler is the built-in material, or the design's own of that name, that fills what is hollow between plies inside a rigid
// stack-up.
const filler = "adhesive"

// filled returns the sheets of a pile that runs on through a rigid stack-up, without those of the roles to leave, and the
// thickness of what is left out below them. Gaps and what is left out between two plies are filled there: the plies keep
// their heights.
func (b *builder) filled(pile *laminate, in *layer, leave map[string]bool) (kept []sheet, below float64, ok bool) {
	m, known := b.material(filler)
	if !known {
		return nil, 0, false // told where it is written
	}
	most := 0.0
	for i, p := range pile.plies {
		r, torn := outer(p.sheets, leave)
		if !b.holds(p.name, r, torn, in) {
			return nil, 0, false
		}
		if space := below + pile.gap + r.above; i > 0 && space > 0 {
			kept = append(kept, sheet{Layer: stackup.Layer{Material: m.Name, Thickness: space, Modulus: m.Modulus, Coverage: 1}})
			most = max(most, space)
		}
		kept, below = append(kept, r.kept...), r.below
	}
	if most > 0 {
		b.notes = append(b.notes, b.where()+": what is hollow between the sheets of "+in.Stackup.s+", up to "+trim(most)+" mm, counts as filled with "+filler)
	}
	return kept, below, true
}
