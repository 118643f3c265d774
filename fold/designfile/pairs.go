package designfile

import (
	"regexp"
	"strings"

	"foldfit/fold"
)

// clearance fills the required distances.
func (b *builder) clearance() {
	in := b.file.Clearance
	if in == nil {
		return
	}
	c := &b.design.Clearance
	c.Board, c.Components, c.Enclosure = in.Board.v, in.Components.v, in.Enclosure.v
	if in.form == nil || in.failed("pairs") {
		return
	}
	b.path = []step{{key: b.file.key("clearance")}, {key: in.key("pairs")}, {}}
	for i := range in.Pairs {
		b.path[2].i = i
		p := &in.Pairs[i]
		first, second := b.bodyName(p.Between[0]), b.bodyName(p.Between[1])
		if first && second {
			c.Pairs = append(c.Pairs, fold.Pair{Between: [2]string{p.Between[0].s, p.Between[1].s}, Gap: p.Gap.v, Because: p.Because.s, Place: b.place(p.at)})
		}
	}
	b.path = nil
}

var (
	subName = regexp.MustCompile(`\.[0-9]+$`)
	flatN   = regexp.MustCompile(`^flat-[0-9]+$`)
)

// bodyName checks that t can name a body: * matches anything; a bare name must belong to one kind only. Names of flats
// are known only once the board is divided, so that flex: takes any name of a section or stiffener, and flat-N.
func (b *builder) bodyName(t text) bool {
	kind, name, prefixed := strings.Cut(t.s, ":")
	if !prefixed {
		kind, name = "", t.s
	}
	if strings.Contains(name, "*") {
		return true
	}
	name = subName.ReplaceAllString(name, "")
	f := &b.file
	kinds := []struct {
		kind  fold.Kind
		names []string
	}{
		{fold.KindSection, names(f.Sections)}, {fold.KindBend, names(f.Hinges)}, {fold.KindComponent, names(f.Components)},
		{fold.KindStiffener, names(f.Stiffeners)}, {fold.KindEnclosure, names(f.Enclosure)},
		{fold.KindFlex, append(names(f.Sections), names(f.Stiffeners)...)},
	}
	var all, fits []string
	for _, k := range kinds {
		if kind != "" && kind != string(k.kind) || kind == "" && k.kind == fold.KindFlex {
			continue
		}
		all = append(all, k.names...)
		if contains(k.names, name) || k.kind == fold.KindFlex && flatN.MatchString(name) {
			fits = append(fits, string(k.kind)+":"+name)
		}
	}
	switch {
	case len(fits) == 1 || kind == "" && flatN.MatchString(name):
		return true
	case len(fits) > 1:
		b.add(t.at, b.where()+": the name "+show(t.s)+" fits several bodies", "write "+alternatives(fits))
		return false
	}
	what := "body"
	if kind != "" {
		what = kind
	}
	return b.known(text{at: t.at, s: name}, b.where(), what, all, "there are")
}
