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

// label finds a place for every label: first those that want to stand in their own small area, then the hinges' at the
// board's edge, then the rest.
func label(s *scene, f *draw.Face) *labels {
	l := &labels{
		sections: make([]*tag, len(s.sections)), stiffeners: make([]*tag, len(s.stiffeners)), plain: make([]*tag, len(s.plain)),
		parts: make([]*tag, len(s.parts)), strips: make([]*tag, len(s.strips)), hinges: make([]*tag, len(s.hinges)),
	}
	fd := newField(s, f)
	l.datum = fd.datum(s)
	for i := range s.parts {
		l.parts[i] = fd.inPart(&s.parts[i])
	}
	for i := range s.sections {
		l.sections[i] = fd.inPatch(&s.sections[i])
	}
	for i := range s.stiffeners {
		l.stiffeners[i] = fd.inPatch(&s.stiffeners[i])
	}
	for i := range s.plain {
		l.plain[i] = fd.inPlain(&s.plain[i])
	}
	fd.folds(s, l)
	fd.partLabels(s, l)
	fd.rest(s.sections, l.sections)
	fd.rest(s.stiffeners, l.stiffeners)
	l.boxes = fd.boxes
	l.extent = fd.extent(s)
	return l
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
	return wish{[]string{words}, words, wantSmall}
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
	words := p.words()
	forms := [][]string{p.lines, {words}}
	if len(p.lines) > 2 {
		forms = [][]string{p.lines, {p.lines[0], strings.Join(p.lines[1:], ", ")}, {words}}
	}
	for _, r := range p.bySize() {
		for _, size := range wantNormal {
			for _, lines := range forms {
				if t, ok := f.within(wish{lines, words, []float64{size}}, r, false); ok {
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

// rest places the labels of areas that had no room inside, at the end of a leader: off the board if there is room.
func (f *field) rest(list []patch, tags []*tag) {
	for i := range list {
		p := &list[i]
		if tags[i] != nil || len(p.pieces) == 0 {
			continue
		}
		w := wish{[]string{p.words()}, p.words(), wantSmall}
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
			t = f.aside(w, at[0], true)
		}
		tags[i] = &t
	}
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
// then the names of further bends of the same hinge.
func (f *field) folds(s *scene, l *labels) {
	order := make([]int, len(s.hinges))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rightmost(s.hinges[b].centre), rightmost(s.hinges[a].centre)) })
	first := map[int]bool{}
	for _, i := range order {
		h := &s.hinges[i]
		lines := h.centre
		for k := range s.strips {
			if s.strips[k].hinge == i && !first[i] {
				first[i] = true
				lines = s.strips[k].centre
			}
		}
		l.hinges[i] = f.fold(wish{[]string{h.label}, h.label, wantNormal}, lines)
	}
	seen := map[int]bool{}
	for k := range s.strips {
		b := &s.strips[k]
		if seen[b.hinge] {
			l.strips[k] = f.fold(wish{[]string{b.name}, b.name, wantSmall}, b.centre)
		}
		seen[b.hinge] = true
	}
}

// fold places a label at an end of a hinge line: off the board and without crossing anything if possible, else wherever
// there is room.
func (f *field) fold(w wish, lines [][2]flat.Pt) *tag {
	if len(lines) == 0 {
		return nil
	}
	var from []anchor
	for _, c := range lines {
		u := c[1].Sub(c[0]).Unit()
		from = append(from, anchor{c[0], u.Mul(-1)}, anchor{c[1], u})
	}
	slices.SortStableFunc(from, func(a, b anchor) int { return cmp.Compare(b.at.Y, a.at.Y) })
	b := f.board.Box()
	far := b.Min.Dist(b.Max)/3 + 30
	for _, r := range []rules{{off: true}, {off: true, cross: crossBorders}, {cross: crossBorders}, {cross: crossAll}} {
		r.far, r.skip = far, 0.2
		if t, ok := f.flagged(w, from, r); ok {
			return &t
		}
	}
	t := f.aside(w, from[0].at, false)
	return &t
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
