package designfile

import (
	"strconv"

	"foldfit/fold/stackup"
)

// arm fills l with the layers of another stack-up that run on in an arm.
func (b *builder) arm(l *laminate, in *stack) bool {
	name := in.Of.s
	whole := b.stack(name)
	switch {
	case whole.busy:
		b.add(in.Of.at, b.where()+": "+name+" keeps layers of itself", "name the stack-up that has all layers")
		return false
	case whole.bad || in.Keep == nil:
		return false
	case len(whole.plies) > 0:
		b.add(in.Of.at, b.where()+": "+name+" consists of loose sheets", "name one of its sheets as the arm's stack-up")
		return false
	}
	s := stackup.Stackup{Name: name, Rigid: whole.rigid, Plain: whole.plain(), Layers: layers(whole.sheets)}
	kept, ok := b.kept(s, in.Keep)
	if !ok {
		return false
	}
	arm, err := s.Keep(kept)
	if err != nil {
		b.add(in.key("keep"), b.where()+": "+err.Error(), "foldfit needs neighbouring layers of a flexible stack-up with layers: say which by number from the top, or by role")
		return false
	}
	first := kept[0]
	for _, k := range kept {
		first = min(first, k)
	}
	l.sheets = whole.sheets[first : first+len(arm.Layers)]
	l.embeds = arm.Embeds
	return true
}

// kept returns the layers that numbers and roles name, each once.
func (b *builder) kept(s stackup.Stackup, names []text) (out []int, ok bool) {
	seen := map[int]bool{}
	add := func(list ...int) {
		for _, i := range list {
			if !seen[i] {
				out = append(out, i)
			}
			seen[i] = true
		}
	}
	for _, t := range names {
		if n, err := strconv.Atoi(t.s); err == nil {
			if seen[n-1] {
				b.add(t.at, b.where()+": layer "+t.s+" of "+s.Name+" is kept twice", "name every layer once, by number or by role")
				return nil, false
			}
			add(n - 1)
			continue
		}
		list, err := s.WithRoles(t.s)
		if err != nil {
			b.add(t.at, b.where()+": "+err.Error(), "layers are also named by number, counted from 1 at the top")
			return nil, false
		}
		add(list...)
	}
	return out, true
}

// pile fills l with loose sheets and the air between them.
func (b *builder) pile(l *laminate, in *stack) bool {
	plain := 0
	for i, t := range in.Plies {
		p := b.stack(t.s)
		switch {
		case t.at == nil || p.bad && !p.busy:
			return false
		case p.busy:
			b.add(t.at, b.where()+": "+t.s+" is a ply of itself", "name the stack-ups of the single sheets")
			return false
		case p.rigid:
			b.add(t.at, b.where()+": "+t.s+" is rigid, and loose sheets bend", "name flexible stack-ups")
			return false
		case len(p.plies) > 0:
			b.add(t.at, b.where()+": "+t.s+" consists of loose sheets itself", "name the single sheets")
			return false
		}
		if p.plain() {
			plain++
		}
		if i > 0 && in.Gap.v > 0 {
			l.sheets = append(l.sheets, sheet{Layer: stackup.Layer{Material: stackup.Air, Thickness: in.Gap.v}})
		}
		l.sheets = append(l.sheets, p.sheets...)
		l.plies = append(l.plies, p)
	}
	if plain > 0 && plain < len(in.Plies) {
		b.add(in.key("plies"), b.where()+": some sheets have layers, others are given by thickness alone: which are stiffer is not known", "give layers to all of them, or to none")
		return false
	}
	return true
}
