package designfile

import (
	"slices"
	"strconv"

	"go.yaml.in/yaml/v4"

	"foldfit/fold/stackup"
)

// arm fills l with the layers of another stack-up that run on in an arm.
func (b *builder) arm(l *laminate, in *stack) bool {
	some, ok := b.some(in.Of, in.Keep, in.key("keep"))
	l.sheets, l.embeds = some.sheets, some.embeds
	return ok && b.fewEnough(len(l.sheets), in.key("keep"))
}

// embedSome returns the block of some layers of another stack-up that run on through outer.
func (b *builder) embedSome(outer *laminate, in *layer) laminate {
	if !outer.rigid {
		b.add(in.Of.at, b.where()+": only a rigid stack-up can hold layers of another one", "write rigid: true, or make an arm with the keys of and keep in the place of layers")
		return laminate{bad: true}
	}
	some, ok := b.some(in.Of, in.Keep, in.key("keep"))
	some.bad, some.short = !ok, true
	return some
}

// some returns the layers of the stack-up that of names which keep (written at the key at) lists, and where the whole of it
// lies.
func (b *builder) some(of text, keep []text, at *yaml.Node) (laminate, bool) {
	whole := b.stack(of.s)
	what, hint := "", "name a flexible stack-up that has layers"
	switch {
	case whole.busy:
		what, hint = of.s+" keeps layers of itself", "name the stack-up that has all layers"
	case whole.bad || keep == nil:
		return laminate{}, false
	case len(whole.plies) > 0:
		what, hint = of.s+" consists of loose sheets", "name the stack-up of one of its sheets"
	case whole.plain:
		what = of.s + " is given by its thickness alone: it has no layers to choose from"
	case whole.rigid:
		what = of.s + " is rigid: layers are kept of a flexible stack-up"
	}
	if what != "" {
		b.add(of.at, b.where()+": "+what, hint)
		return laminate{}, false
	}
	s := whole.made(of.s)
	kept, ok := b.kept(s, keep)
	if !ok {
		return laminate{}, false
	}
	arm, err := s.Keep(kept)
	if err != nil {
		b.add(at, b.where()+": "+err.Error(), "list the layers between as well, or fewer layers that lie on each other")
		return laminate{}, false
	}
	first := slices.Min(kept)
	return laminate{sheets: whole.sheets[first : first+len(kept)], embeds: arm.Embeds}, true
}

// kept returns the layers that numbers and roles name, from 0; it tells of layers that are not there or named twice.
func (b *builder) kept(s stackup.Stackup, names []text) (out []int, ok bool) {
	for _, t := range names {
		list, what, hint := layersNamed(s, t)
		for _, i := range list {
			if slices.Contains(out, i) {
				what, hint = "layer "+strconv.Itoa(i+1)+" of "+s.Name+" is kept twice", "name every layer once, by number or by role"
			}
		}
		if what != "" {
			b.add(t.at, b.where()+": "+what, hint)
		}
		if what != "" || t.at == nil {
			return nil, false
		}
		out = append(out, list...)
	}
	return out, true
}

// layersNamed returns the layers of a number or role, or what is wrong with it. A number in quotes is a role.
func layersNamed(s stackup.Stackup, t text) (list []int, what, hint string) {
	if t.at == nil {
		return nil, "", ""
	}
	if isNumber(t.at) {
		n, err := strconv.ParseFloat(t.s, 64)
		if err != nil || n < 1 || n > float64(len(s.Layers)) {
			return nil, s.Name + " has no layer " + t.s, "it has " + strconv.Itoa(len(s.Layers)) + ", counted from 1 at the top"
		}
		return []int{int(n) - 1}, "", ""
	}
	list, err := s.WithRoles(t.s)
	if err != nil {
		return nil, err.Error(), "layers are also named by number, counted from 1 at the top"
	}
	return list, "", ""
}
