package designfile

import "foldfit/fold"

// clearance fills the required distances.
func (b *builder) clearance() {
	in := b.file.Clearance
	if in == nil || in.form == nil {
		return // not given, or not a map
	}
	c := &b.design.Clearance
	c.Board, c.Components, c.Enclosure = in.Board.v, in.Components.v, in.Enclosure.v
	if !in.has("pairs") {
		return
	}
	for _, p := range in.Pairs {
		c.Pairs = append(c.Pairs, fold.Pair{Between: [2]string{p.Between[0].s, p.Between[1].s}, Gap: p.Gap.v, Because: p.Because.s, Place: b.place(p.at)})
	}
}
