package designfile

import (
	"fmt"

	"foldfit/fold/stackup"
)

// laminate is a stack-up with the stack-ups in it laid open.
type laminate struct {
	sheets []sheet // top to bottom
	embeds []stackup.Embed
	plies  []*laminate // of loose sheets, top to bottom
	rigid  bool
	bad    bool // it could not be read, or something in it; told already
	busy   bool // being laid open: naming it now is a circle
}

// sheet is a layer before copper is mixed with what fills its gaps.
type sheet struct {
	stackup.Layer
	plain  bool
	copper int // copper layers in it, -1 = not known
}

// stackups fills the stack-ups, each laid open to its layers.
func (b *builder) stackups() {
	b.stacks = map[string]*laminate{}
	b.entries = map[string]*entry[stack]{}
	for i := range b.file.Stackups {
		b.entries[b.file.Stackups[i].Name] = &b.file.Stackups[i]
	}
	d := b.design
	for _, e := range b.file.Stackups {
		l := b.stack(e.Name)
		if l.bad {
			d.Incomplete = true
			continue
		}
		s := stackup.Stackup{Name: e.Name, Rigid: l.rigid, Plain: l.plain(), Embeds: l.embeds,
			Layers: layers(l.sheets), Lip: e.It.Lip.v, Place: b.place(e.Key)}
		for i, p := range l.plies {
			s.Plies = append(s.Plies, stackup.Stackup{Name: e.It.Plies[i].s, Plain: p.plain(), Layers: layers(p.sheets), CopperLayers: counted(p.sheets)})
		}
		s.Gap, s.Progressive = e.It.Gap.v, e.It.Lengths.s == "progressive"
		s.CopperLayers = b.copperLayers(&e.It, e.Name, counted(l.sheets))
		d.Stackups = append(d.Stackups, s)
	}
}

// copperLayers returns the number of copper layers: as given, else as counted; both must agree.
func (b *builder) copperLayers(in *stack, name string, counted int) int {
	given := in.CopperLayers
	switch {
	case given.at == nil:
		return counted
	case counted >= 0 && int(given.v) != counted && in.Thickness.at == nil:
		b.add(given.at, fmt.Sprintf("stackups.%s says %d copper layers, its layers have %d", name, int(given.v), counted), "leave copper-layers out, it is counted")
		b.design.Incomplete = true
	}
	return int(given.v)
}

// counted returns how many copper layers sheets have, -1 where one does not say.
func counted(sheets []sheet) int {
	n := 0
	for _, t := range sheets {
		if t.copper < 0 {
			return -1
		}
		n += t.copper
	}
	return n
}

// plain reports whether a flexible stack-up is given by thickness alone, or consists of loose sheets that are. A rigid one that
// holds such flex is not plain.
func (l *laminate) plain() bool {
	for _, p := range l.plies {
		if p.plain() {
			return true
		}
	}
	return len(l.sheets) == 1 && l.sheets[0].plain
}

// stack returns the named stack-up laid open, made once. A name that could not be read gives a bad one.
func (b *builder) stack(name string) *laminate {
	if l := b.stacks[name]; l != nil {
		return l
	}
	l := &laminate{busy: true}
	b.stacks[name] = l
	e := b.entries[name]
	if e == nil || e.It.form == nil {
		l.bad, l.busy = true, false
		return l
	}
	path := b.path
	b.path = []step{{key: b.file.key("stackups")}, {key: e.Key}}
	l.rigid = e.It.Rigid.on
	l.bad = !b.layOpen(l, &e.It) || !e.OK
	b.path = path
	l.busy = false
	return l
}

// layOpen fills the sheets and embeds of l.
func (b *builder) layOpen(l *laminate, in *stack) bool {
	switch {
	case in.Of.at != nil:
		return b.arm(l, in)
	case in.Plies != nil:
		return b.pile(l, in)
	case in.Layers == nil:
		copper := -1
		if in.CopperLayers.at != nil {
			copper = int(in.CopperLayers.v)
		}
		l.sheets = []sheet{{Layer: stackup.Layer{Thickness: in.Thickness.v, Modulus: 1, Coverage: 1}, plain: true, copper: copper}}
		return true
	}
	ok := true
	blocks := make([]laminate, len(in.Layers))
	b.path = append(b.path, step{key: in.key("layers")}, step{})
	for i := range in.Layers {
		b.path[len(b.path)-1].i = i
		switch e := &in.Layers[i]; {
		case e.Stackup.at != nil && !in.failed("rigid"):
			blocks[i] = b.embed(l, e)
		case e.Material.at != nil:
			blocks[i] = b.sheet(e)
		default:
			blocks[i].bad = true
		}
		ok = ok && !blocks[i].bad
	}
	b.path = b.path[:len(b.path)-2]
	return ok && b.fewEnough(blocks, in) && l.stacked(blocks) && b.onceOnly(l, in)
}

// Stack-ups in stack-ups can grow without bound; real ones have some 60 layers.
const (
	maxSheets    = 500
	maxAllSheets = 200_000
)

// fewEnough checks how many layers the blocks have together.
func (b *builder) fewEnough(blocks []laminate, in *stack) bool {
	n := 0
	for _, k := range blocks {
		n += len(k.sheets)
	}
	b.sheets += n
	if n <= maxSheets && b.sheets <= maxAllSheets {
		return true
	}
	b.add(in.key("layers"), fmt.Sprintf("%s has %d layers with those of the stack-ups in it, at most %d are read", b.where(), n, maxSheets), "")
	return false
}

// stacked lays blocks, given from top to bottom, on each other; embeds count from the bottom of them all.
func (l *laminate) stacked(blocks []laminate) bool {
	for _, k := range blocks {
		l.sheets = append(l.sheets, k.sheets...)
	}
	y := 0.0
	for i := len(blocks) - 1; i >= 0; i-- {
		for _, e := range blocks[i].embeds {
			l.embeds = append(l.embeds, stackup.Embed{Stackup: e.Stackup, Bottom: y + e.Bottom})
		}
		y += thickness(blocks[i].sheets)
	}
	return true
}

// onceOnly checks that no stack-up runs through l twice.
func (b *builder) onceOnly(l *laminate, in *stack) bool {
	seen := map[string]bool{}
	for _, e := range l.embeds {
		if seen[e.Stackup] {
			b.add(in.key("layers"), b.where()+": "+e.Stackup+" runs through it twice", "let it run through once; loose sheets are a stack-up of their own, with plies")
			return false
		}
		seen[e.Stackup] = true
	}
	return true
}

// sheet returns the block of a single layer.
func (b *builder) sheet(in *layer) laminate {
	m, ok := b.material(in.Material.s)
	if !ok {
		return laminate{bad: true}
	}
	s := sheet{Layer: stackup.Layer{Material: m.Name, Role: in.Role.s, Thickness: in.Thickness.v, Modulus: m.Modulus, Coverage: 1, Copper: m.Copper}}
	if m.Copper {
		s.copper = 1
	}
	if in.Coverage.at != nil {
		s.Coverage = in.Coverage.v
	}
	return laminate{sheets: []sheet{s}}
}

// embed returns the block of another stack-up that runs on through outer, without the layers that stop at its edge. Its
// embeds count from the bottom of the block; a flexible stack-up's own bottom lies lower where its lowest layers are left
// out.
func (b *builder) embed(outer *laminate, in *layer) laminate {
	name := in.Stackup.s
	if !outer.rigid {
		b.add(in.Stackup.at, b.where()+": only a rigid stack-up can hold another one", "write rigid: true, or the layers themselves")
		return laminate{bad: true}
	}
	inner := b.stack(name)
	switch {
	case inner.busy:
		b.add(in.Stackup.at, b.where()+": "+name+" holds itself", "a stack-up cannot run through itself: take one of the entries out")
		return laminate{bad: true}
	case inner.bad:
		return laminate{bad: true}
	}
	kept, below, ok := b.without(inner, in)
	out := laminate{sheets: kept, bad: !ok}
	if !inner.rigid { // what an arm belongs to does not run on with it
		out.embeds = append(out.embeds, stackup.Embed{Stackup: name, Bottom: -below})
		return out
	}
	for _, e := range inner.embeds {
		out.embeds = append(out.embeds, stackup.Embed{Stackup: e.Stackup, Bottom: e.Bottom - below})
	}
	return out
}

// without returns the sheets of inner that are kept, and the thickness of those left out below them.
func (b *builder) without(inner *laminate, in *layer) (kept []sheet, below float64, ok bool) {
	leave := map[string]bool{}
	for _, t := range in.Without {
		if !b.hasRole(inner, t) {
			return nil, 0, false
		}
		leave[t.s] = true
	}
	gap := false // layers were left out below something kept
	for _, s := range inner.sheets {
		switch {
		case s.Role != "" && leave[s.Role]:
			gap = len(kept) > 0
			below += s.Thickness
		case gap:
			b.add(in.key("without"), b.where()+": leaving out "+enumerateTexts(in.Without)+" would tear "+in.Stackup.s+" apart between its layers", "leave out outer layers only")
			return nil, 0, false
		default:
			kept, below = append(kept, s), 0
		}
	}
	if len(kept) == 0 {
		b.add(in.key("without"), b.where()+": nothing of "+in.Stackup.s+" is left", "keep at least one layer")
	}
	return kept, below, len(kept) > 0
}

// hasRole reports whether a layer of inner has this role; otherwise that is a problem.
func (b *builder) hasRole(inner *laminate, t text) bool {
	var roles []string
	for _, s := range inner.sheets {
		if s.Role == t.s && t.s != "" {
			return true
		}
		if s.Role != "" && !contains(roles, s.Role) {
			roles = append(roles, s.Role)
		}
	}
	hint := meant(t.s, roles, "its roles:")
	if hint == "" {
		hint = "none of its layers has a role"
	}
	b.add(t.at, b.where()+": no layer has the role "+show(t.s), hint)
	return false
}

// layers returns the sheets' layers with effective moduli, copper mixed with what fills its gaps.
func layers(sheets []sheet) []stackup.Layer {
	out := make([]stackup.Layer, len(sheets))
	for i, s := range sheets {
		out[i] = s.Layer
	}
	return stackup.Mix(out)
}

// thickness returns the sum of the sheets' thicknesses in mm.
func thickness(sheets []sheet) float64 {
	t := 0.0
	for _, s := range sheets {
		t += s.Thickness
	}
	return t
}

func enumerateTexts(list []text) string {
	var words []string
	for _, t := range list {
		words = append(words, show(t.s))
	}
	return enumerate(words, 6)
}
