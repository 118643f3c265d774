package pattern

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"foldfit/export/draw"
	"foldfit/fold/flat"
)

// labels holds where the scene's labels went, index for index; nil where there was no room.
type labels struct {
	sections, stiffeners, plain, parts, strips, hinges []*tag
	datum                                              *tag
	boxes                                              []flat.Box // all of them
	extent                                             flat.Box   // of board, parts, labels and leaders
}

// Letter sizes in order of preference.
var (
	wantNormal = []float64{draw.SizeNormal, draw.SizeSmall}
	wantSmall  = []float64{draw.SizeSmall}
)

// label finds a place for every label. Where labels would have to stand far from what they name, they leave the card, then step and
// rod, to the bending help; terse ones always do.
func label(s *scene, f *draw.Face, terse bool) *labels {
	if !terse {
		for _, bare := range []bool{false, true} {
			if l, near := s.labelled(f, true, bare); near {
				return l
			}
		}
	}
	l, _ := s.labelled(f, false, true)
	return l
}

// labelled places the labels: first those that want to stand in their own small area, then the hinges' at the board's edge, then
// the rest; full is for hinges, bare for sections. near is false where a label of a hinge or an area found no place near.
func (s *scene) labelled(f *draw.Face, full, bare bool) (l *labels, near bool) {
	list := s.sections
	if bare {
		list = slices.Clone(list)
		for i := range list {
			list[i].card = ""
		}
	}
	l = &labels{
		sections: make([]*tag, len(s.sections)), stiffeners: make([]*tag, len(s.stiffeners)), plain: make([]*tag, len(s.plain)),
		parts: make([]*tag, len(s.parts)), strips: make([]*tag, len(s.strips)), hinges: make([]*tag, len(s.hinges)),
	}
	fd := newField(s, f)
	l.datum = fd.datum(s)
	for i := range s.parts {
		l.parts[i] = fd.inPart(&s.parts[i])
	}
	for i := range list {
		l.sections[i] = fd.inPatch(&list[i])
	}
	for i := range s.stiffeners {
		l.stiffeners[i] = fd.inPatch(&s.stiffeners[i])
	}
	for i := range s.plain {
		l.plain[i] = fd.inPlain(&s.plain[i])
	}
	near = fd.folds(s, l, full)
	fd.partLabels(s, l)
	near = fd.rest(list, l.sections) && near
	near = fd.rest(s.stiffeners, l.stiffeners) && near
	l.boxes = fd.boxes
	l.extent = fd.extent(s)
	return l, near
}

// newField enters everything that labels must keep clear of.
func newField(s *scene, f *draw.Face) *field {
	fd := &field{face: f, board: s.board, drawn: newGrid(s.board.Box()), hard: newGrid(s.board.Box())}
	fd.drawn.add(s.board.Edges()...)
	for _, list := range [][]patch{s.sections, s.stiffeners} {
		for _, p := range list {
			for _, r := range p.pieces {
				fd.drawn.add(r.Edges()...)
			}
		}
	}
	for _, p := range s.parts {
		for _, l := range p.loops {
			fd.keep(l)
			fd.taken = append(fd.taken, flat.Region{l})
		}
	}
	for _, b := range s.strips {
		fd.keepLines(b.tangents)
		if len(b.area) > 0 {
			fd.taken = append(fd.taken, b.area)
		}
	}
	for _, h := range s.hinges {
		fd.keepLines(h.centre)
	}
	return fd
}

// keep enters edges that neither labels nor leaders should cross.
func (f *field) keep(edges []flat.Edge) {
	f.drawn.add(edges...)
	f.hard.add(edges...)
}

func (f *field) keepLines(list [][2]flat.Pt) {
	for _, l := range list {
		f.keep([]flat.Edge{flat.Line(l[0], l[1])})
	}
}

// datum places the datum's word beside its mark.
func (f *field) datum(s *scene) *tag {
	if !s.datumOnPage() {
		return nil
	}
	b := around(s.datum, 2*datumReach, 2*datumReach)
	f.keep(draw.Rectangle(b))
	w := wish{lines: []string{"datum"}, words: "datum", sizes: wantSmall}
	t, ok := f.beside(w, b)
	if !ok {
		t, ok = f.flagged(w, []anchor{{s.datum, flat.Pt{X: -1, Y: -1}.Unit()}}, rules{far: 30, cross: crossAll})
	}
	if !ok {
		t = f.aside(w, s.datum, false)
	}
	return &t
}

// inPart places a component's label inside its footprint.
func (f *field) inPart(p *part) *tag {
	if len(p.loops) == 0 {
		return nil
	}
	t, ok := f.within(p.wish(), flat.Region{p.loops[0]}, true)
	return found(t, ok)
}

// crowd is up to how many components get a leader; more leaders than that would hide the board.
const crowd = 24

// partLabels places the labels that do not fit into their footprint: next to it, else, unless there are too many, on a
// leader. The rest stay without; the notes name them.
func (f *field) partLabels(s *scene, l *labels) {
	left := 0
	for i := range s.parts {
		p := &s.parts[i]
		if l.parts[i] != nil || len(p.loops) == 0 {
			continue
		}
		t, ok := f.beside(p.wish(), p.box())
		l.parts[i] = found(t, ok)
		if !ok {
			left++
		}
	}
	if left > crowd {
		return
	}
	for i := range s.parts {
		if p := &s.parts[i]; l.parts[i] == nil && len(p.loops) > 0 {
			l.parts[i] = f.onLeader(p)
		}
	}
}

// onLeader places a component's label at the end of a leader from its middle.
func (f *field) onLeader(p *part) *tag {
	b := p.box()
	mid := b.Min.Mid(b.Max)
	from := []anchor{{mid, flat.Pt{X: 1}}, {mid, flat.Pt{X: -1}}}
	r := rules{skip: mid.Dist(b.Max) + 0.1, dot: true}
	for _, try := range []rules{{far: 15, cross: crossNone}, {far: 40, cross: crossBorders}, {far: 60, cross: crossAll}} {
		r.far, r.cross = r.skip+try.far, try.cross
		if t, ok := f.flagged(p.wish(), from, r); ok {
			return &t
		}
	}
	return nil
}

// wish returns the label that a component wants.
func (p *part) wish() wish {
	words := p.name + " " + p.tail
	return wish{lines: []string{words}, words: words, sizes: wantSmall}
}

// box returns the bounding box of a component's footprint.
func (p *part) box() flat.Box {
	b := flat.EmptyBox()
	for _, l := range p.loops {
		b = b.Join(l.Box())
	}
	return b
}

// inPatch places a label inside the largest piece of its area that has room.
func (f *field) inPatch(p *patch) *tag {
	words, lines := p.words(), p.all()
	forms := [][]string{lines, {words}}
	if len(lines) > 2 {
		forms = [][]string{lines, {strings.Join(lines[:len(lines)-1], ", "), lines[len(lines)-1]}, {lines[0], strings.Join(lines[1:], ", ")}, {words}}
	}
	for _, r := range p.bySize() {
		for _, size := range wantNormal {
			for _, lines := range forms {
				if t, ok := f.within(wish{lines: lines, words: words, sizes: []float64{size}}, r, false); ok {
					return &t
				}
			}
		}
	}
	return nil
}

// inPlain places the label of a flat without a section, its name alone if there is no more room.
func (f *field) inPlain(p *patch) *tag {
	if t := f.inPatch(p); t != nil {
		return t
	}
	return f.inPatch(&patch{pieces: p.pieces, lines: p.lines[:1]})
}

// rest places the labels of areas that had no room inside, at the end of a leader: off the board if there is room. It
// returns whether all found a place that way.
func (f *field) rest(list []patch, tags []*tag) (near bool) {
	near = true
	for i := range list {
		p := &list[i]
		if tags[i] != nil || len(p.pieces) == 0 {
			continue
		}
		w := wish{lines: []string{p.words()}, words: p.words(), sizes: wantSmall}
		b := f.board.Box()
		at := f.bare(p.bySize()[0])
		var from []anchor
		for _, q := range at {
			from = append(from, anchor{q, flat.Pt{Y: 1}}, anchor{q, flat.Pt{Y: -1}})
		}
		t, ok := tag{}, false
		for _, cross := range []crossing{crossBorders, crossAll} {
			if t, ok = f.flagged(w, from, rules{far: b.Min.Dist(b.Max)/2 + 30, off: true, cross: cross, dot: true}); ok {
				break
			}
		}
		if !ok {
			t, near = f.aside(w, at[0], true), false
		}
		tags[i] = &t
	}
	return near
}

// bare returns some points of r, apart from each other, with nothing drawn or written about them, from which a leader may
// begin; at least one point.
func (f *field) bare(r flat.Region) []flat.Pt {
	const apart, most = 3, 8
	var out []flat.Pt
	at := r.Inside()
	for _, p := range f.lattice(r.Box(), 2, 2, at) {
		close := slices.ContainsFunc(out, func(q flat.Pt) bool { return q.Dist(p) < apart })
		if !close && f.free(around(p, 1, 1)) && r.Contains(p) {
			if out = append(out, p); len(out) == most {
				break
			}
		}
	}
	if len(out) == 0 {
		out = append(out, at)
	}
	return out
}

// folds places the hinges' labels, from right to left so that flags to the right of their poles make a staircase, and
// then the names of further bends of the same hinge. It returns whether all hinges' labels stand near.
func (f *field) folds(s *scene, l *labels, full bool) (near bool) {
	order := make([]int, len(s.hinges))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rightmost(s.hinges[b].centre), rightmost(s.hinges[a].centre)) })
	first := map[int]bool{}
	near = true
	for _, i := range order {
		h := &s.hinges[i]
		lines := h.centre
		for k := range s.strips {
			if s.strips[k].hinge == i && !first[i] {
				first[i] = true
				lines = s.strips[k].centre
			}
		}
		var ok bool
		l.hinges[i], ok = f.fold(h.wishes(full), lines)
		near = near && ok
	}
	f.further(s, l)
	return near
}

// further places the names of the bends of a hinge after its first.
func (f *field) further(s *scene, l *labels) {
	seen := map[int]bool{}
	for k := range s.strips {
		b := &s.strips[k]
		if seen[b.hinge] {
			l.strips[k], _ = f.fold([]wish{{lines: []string{b.name}, words: b.name, sizes: wantSmall}}, b.centre)
		}
		seen[b.hinge] = true
	}
}

// wishes returns the labels that a hinge wants, the best first: full ones have step and rod on a second line or behind.
func (h *crease) wishes(full bool) []wish {
	if h.more == "" || !full {
		return []wish{{lines: []string{h.label}, words: h.label, sizes: wantNormal}}
	}
	one := h.label + ", " + h.more
	return []wish{
		{lines: []string{h.label, h.more}, sizes: wantNormal},
		{lines: []string{one}, words: one, sizes: wantNormal},
	}
}

// nearFold is how long the leader of a hinge's label is at most where it counts as near, in mm.
const nearFold = 38.0

// fold places a label at an end of a hinge line: off the board and without crossing anything if possible, else wherever
// there is room. wishes are tried in their order near the line, then the last one far away.
func (f *field) fold(wishes []wish, lines [][2]flat.Pt) (t *tag, near bool) {
	if len(lines) == 0 {
		return nil, true
	}
	var from []anchor
	for _, c := range lines {
		u := c[1].Sub(c[0]).Unit()
		from = append(from, anchor{c[0], u.Mul(-1)}, anchor{c[1], u})
	}
	slices.SortStableFunc(from, func(a, b anchor) int { return cmp.Compare(b.at.Y, a.at.Y) })
	b := f.board.Box()
	far := b.Min.Dist(b.Max)/3 + 30
	for _, w := range wishes {
		if t, ok := f.pole(w, from, min(far, nearFold)); ok {
			return &t, true
		}
	}
	last := wishes[len(wishes)-1]
	found, ok := f.pole(last, from, far)
	if !ok {
		found = f.aside(last, from[0].at, false)
	}
	return &found, false
}

// pole places a label at the end of a leader that is at most far long.
func (f *field) pole(w wish, from []anchor, far float64) (tag, bool) {
	for _, r := range []rules{{off: true}, {off: true, cross: crossBorders}, {cross: crossBorders}, {cross: crossAll}} {
		r.far, r.skip = far, 0.2
		if t, ok := f.flagged(w, from, r); ok {
			return t, true
		}
	}
	return tag{}, false
}

// extent returns the box of everything on the board and written about it.
func (f *field) extent(s *scene) flat.Box {
	b := s.board.Box()
	for _, p := range s.parts {
		for _, l := range p.loops {
			b = b.Join(l.Box())
		}
	}
	if s.datumOnPage() {
		b = b.Join(around(s.datum, 2*datumReach, 2*datumReach))
	}
	for _, c := range f.boxes {
		b = b.Join(c)
	}
	for _, l := range f.leaders {
		b = b.With(l[0]).With(l[1])
	}
	return b
}

func found(t tag, ok bool) *tag {
	if !ok {
		return nil
	}
	return &t
}

// rightmost returns the largest x of some lines.
func rightmost(lines [][2]flat.Pt) float64 {
	x := math.Inf(-1)
	for _, l := range lines {
		x = max(x, l[0].X, l[1].X)
	}
	return x
}
