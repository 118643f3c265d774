package rule

import (
	"fmt"
	"slices"

	"foldfit/fold"
	"foldfit/fold/bending"
	"foldfit/fold/finding"
	"foldfit/fold/stackup"
)

// NotChecked returns what the rules about radius, strain, life and springback could not judge of a board, and why: flex left
// to a free shape that is not known, and hinges whose stack-up or cycles do not tell enough. In the order of the hinges.
func NotChecked(t *fold.Tree) []finding.Unchecked {
	var out list
	b := Board{Tree: t}
	for hi := range t.Hinges {
		h := &t.Design.Hinges[hi]
		if h.Use == "dynamic" && h.Cycles == 0 && len(t.Hinges[hi].Bends) > 0 {
			out.add("life", h.Name, "no `cycles` are given")
		}
		if h.Use != "dynamic" && (h.Cycles > 0 || h.Between != nil) && len(t.Hinges[hi].Bends) > 0 {
			out.add("life", h.Name, "`cycles` and `between` count only with `use: dynamic`")
		}
		b.notStood(&out, hi)
		for _, i := range t.Hinges[hi].Bends {
			b.notShaped(&out, i)
			b.notKnown(&out, i)
		}
	}
	return append(out, dynamicFoils(t)...)
}

// freeShape names a free shape that is not known: the bend's radius hangs on it. All else that is listed here does not touch the fit.
const freeShape = "free shape"

// endOfRange names the end of a working range at which no gap is measured.
const endOfRange = "gaps at the end of the working range"

// list collects what was not checked, once for each reason.
type list []finding.Unchecked

func (l *list) add(what, hinge, why string) {
	name := "hinge:" + hinge
	k := slices.IndexFunc(*l, func(u finding.Unchecked) bool { return u.What == what && u.Why == why })
	switch {
	case k < 0:
		*l = append(*l, finding.Unchecked{What: what, On: []string{name}, Why: why, Aside: what != freeShape && what != endOfRange})
	case !slices.Contains((*l)[k].On, name):
		(*l)[k].On = append((*l)[k].On, name)
	}
}

// notStood adds a working hinge if an end of its range is no end shape, so that no gap is measured there. Flat is: the layout.
func (b Board) notStood(out *list, hi int) {
	h := &b.Tree.Design.Hinges[hi]
	if h.Use != "dynamic" || h.Between == nil || len(b.Tree.Hinges[hi].Bends) == 0 {
		return
	}
	from, to := bending.Ends(h)
	for _, end := range []float64{from, to} {
		stood := end == 0
		for _, name := range b.Tree.PostureNames() {
			angles, err := b.Tree.PostureAngles(name)
			stood = stood || err == nil && angles[hi] == end
		}
		if !stood {
			out.add(endOfRange, h.Name, fmt.Sprintf("the range reaches %s degrees, and no posture stands there: its gaps were not measured; add one to `postures`", short(end*h.Written, 2)))
		}
	}
}

// notShaped adds bend i if it is left to a free shape that is not known at an angle at which it is judged.
func (b Board) notShaped(out *list, i int) {
	bend := &b.Tree.Bends[i]
	d := b.work(i).drawn
	if !d.Free || !b.Tree.Foldable {
		return
	}
	if !d.Held {
		out.add(freeShape, b.hinge(bend).Name, "`formed: free`, but the board ends or another bend comes before a rigid or stiffened edge holds the flex on both sides; the drawn radius was judged")
		return
	}
	for _, a := range b.angles(bend.Hinge) {
		if !d.At(a).Shaped {
			out.add(freeShape, b.hinge(bend).Name, "`formed: free`, but no shape was found between the rigid edges: the flex is too short or too taut there; the drawn radius was judged")
		}
	}
}

// notKnown adds what the stack-up of bend i does not tell.
func (b Board) notKnown(out *list, i int) {
	h, s := b.hinge(&b.Tree.Bends[i]), b.work(i).drawn.Stack
	foils, known := bending.Foils(s)
	why := noFoil(s)
	if why == "" && known && formed(h.Formed) && slices.ContainsFunc(foils, func(f stackup.Foil) bool { return f.Yield == 0 }) {
		out.add("springback", h.Name, "the yield stress of a foil in stack-up "+s.Name+" is not known")
	}
	if formed(h.Formed) && why != "" {
		out.add("springback", h.Name, why)
	}
	if h.Use != "dynamic" {
		return
	}
	switch {
	case h.Cycles > 0 && why != "":
		out.add("life", h.Name, why)
	case h.Cycles > 0 && len(s.Plies) > 0:
		out.add("life", h.Name, "stack-up "+s.Name+" has loose plies, whose life is not computed")
	}
	_, _, overridden := override(b.Tree.Design, "bend-strain")
	strain, _ := b.flex(i), 0
	_, measured := strain.Copper()
	_, limited := bending.Elongation(s, strain.Side(), "dynamic")
	switch {
	case !measured && why != "", !limited && !overridden && why != "":
		out.add("copper strain", h.Name, why)
	case known && !limited && !overridden:
		out.add("copper strain", h.Name, "no allowed elongation is quoted for a foil of stack-up "+s.Name+" in dynamic use; `limits: {bend-strain: PERCENT}` gives one")
	}
}

// noFoil says why the foils of a stack-up are not known, "" where they are, or where there is no copper at all.
func noFoil(s stackup.Stackup) string {
	_, known := bending.Foils(s)
	_, copper := s.CopperReach()
	switch {
	case known, !s.Plain && !copper:
		return ""
	case s.Plain:
		return fmt.Sprintf("stack-up %s is given by its thickness alone", s.Name)
	}
	return fmt.Sprintf("the kind of foil of a copper layer in stack-up %s is not known", s.Name)
}
