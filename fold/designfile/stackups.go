package designfile

import (
	"fmt"

	"go.yaml.in/yaml/v4"

	"foldfit/fold/stackup"
)

// laminate is a stack-up with the stack-ups in it laid open.
type laminate struct {
	sheets []sheet // top to bottom
	embeds []stackup.Embed
	plies  []ply   // of a pile, top to bottom
	gap    float64 // between its plies, mm
	rigid  bool
	short  bool // layers of what runs on in it stop at its edge
	plain  bool // given by its thickness alone
	bad    bool // it could not be read, or something in it; told already
	busy   bool // being laid open: naming it now is a circle
}

// sheet is a layer before copper is mixed with what fills its gaps.
type sheet struct {
	stackup.Layer
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
		s := l.made(e.Name)
		s.Lip, s.Place, s.Progressive = e.It.Lip.v, b.place(e.Key), e.It.Lengths.s == "progressive"
		s.CopperLayers = b.copperLayers(&e.It, e.Name, s.CopperLayers)
		d.Stackups = append(d.Stackups, s)
	}
	b.notes = append(b.notes, b.nearRoles()...)
}

// made returns the stack-up of this name as far as its layers say it.
func (l *laminate) made(name string) stackup.Stackup {
	if len(l.plies) == 0 {
		return stackup.Stackup{Name: name, Rigid: l.rigid, Plain: l.plain, Embeds: l.embeds, Layers: layers(l.sheets), CopperLayers: counted(l.sheets)}
	}
	plies := make([]stackup.Stackup, len(l.plies))
	for i, p := range l.plies {
		plies[i] = p.made(p.name)
	}
	s := stackup.Loose(plies, l.gap, false)
	s.Name = name
	return s
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
	b.lip(l, &e.It)
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
		l.plain = true
		l.sheets = []sheet{{Layer: stackup.Layer{Thickness: in.Thickness.v, Modulus: 1, Coverage: 1}, copper: copper}}
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
		case e.Of.at != nil && !in.failed("rigid"):
			blocks[i] = b.embedSome(l, e)
		case e.Material.at != nil:
			blocks[i] = b.sheet(e)
		default:
			blocks[i].bad = true
		}
		ok, l.short = ok && !blocks[i].bad, l.short || blocks[i].short
	}
	b.path = b.path[:len(b.path)-2]
	n := 0
	for _, k := range blocks {
		n += len(k.sheets)
	}
	return ok && b.fewEnough(n, in.key("layers")) && l.stacked(blocks) && b.onceOnly(l, in)
}

// lip checks that layers stop at the edge of a stack-up that says how far they run on under it.
func (b *builder) lip(l *laminate, in *stack) {
	if in.Lip.at == nil || !l.rigid || l.bad || l.short {
		return
	}
	b.add(in.key("lip"), b.where()+": nothing that runs on in it stops at its edge, so there is nothing to reach under it by a lip of "+trim(in.Lip.v),
		"name the layers that stop there, as in layers: [{stackup: NAME, without: [coverlay]}, ...], or leave lip out")
}

// Stack-ups in stack-ups can grow without bound; real ones have some 60 layers.
const (
	maxSheets    = 500
	maxAllSheets = 200_000
)

// fewEnough checks how many layers a stack-up has, told at this key.
func (b *builder) fewEnough(n int, at *yaml.Node) bool {
	b.sheets += n
	if n <= maxSheets && b.sheets <= maxAllSheets {
		return true
	}
	b.add(at, fmt.Sprintf("%s has %d layers with those of the stack-ups in it, at most %d are read", b.where(), n, maxSheets), "")
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
			b.add(in.key("layers"), b.where()+": "+e.Stackup+" runs through it twice", "let it run through once, or make a stack-up of the loose sheets, {plies: ["+e.Stackup+", "+e.Stackup+"]}, and let that run through")
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
	out := laminate{sheets: kept, short: inner.short || in.Without != nil, bad: !ok}
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
	if len(inner.plies) > 0 {
		return b.filled(inner, in, leave)
	}
	rest, torn := outer(inner.sheets, leave)
	return rest.kept, rest.below, b.holds(in.Stackup.s, rest, torn, in)
}

// rest is what is left of sheets when outer ones are taken off.
type rest struct {
	kept         []sheet
	above, below float64 // thickness of those taken off, mm
}

// outer takes the sheets with these roles off; torn reports whether one lies between others.
func outer(sheets []sheet, leave map[string]bool) (r rest, torn bool) {
	for _, s := range sheets {
		switch out := s.Role != "" && leave[s.Role]; {
		case out && len(r.kept) == 0:
			r.above += s.Thickness
		case out:
			r.below += s.Thickness
		default:
			torn = torn || r.below > 0
			r.kept = append(r.kept, s)
		}
	}
	return r, torn
}

// holds tells what is wrong with what is left of a named stack-up.
func (b *builder) holds(name string, r rest, torn bool, in *layer) bool {
	switch {
	case torn:
		b.add(in.key("without"), b.where()+": leaving out "+enumerateTexts(in.Without)+" would tear "+name+" apart between its layers", "leave out outer layers only")
	case len(r.kept) == 0:
		b.add(in.key("without"), b.where()+": nothing of "+name+" is left", "keep at least one layer")
	}
	return !torn && len(r.kept) > 0
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
