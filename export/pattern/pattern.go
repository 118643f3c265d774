package pattern

import (
	"cmp"
	"errors"
	"io"
	"math"
	"slices"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// Options says how a pattern is made. The zero value prints the top side.
type Options struct {
	Side    fold.Side // the side that is printed: seen from the bottom, x runs the other way
	Hash    string    // of the design, printed as it is; "" prints none
	Version string    // of foldfit, printed as it is; "" prints none
}

// Write writes the flat board as one true-scale SVG page, in mm, as small as the drawing allows. Outline, cutouts, bend
// areas and sections are exact to the 1e-4 mm to which coordinates are rounded. A fold toward the reader has a dashed
// centre line, one away from the reader a dash-dotted one. A board whose bend areas overlap is drawn all the same. The
// same tree and options give the same bytes. A tree without an outline is an error, and so is a failing w.
func Write(w io.Writer, t *fold.Tree, o Options) error {
	if t == nil || t.Design == nil || len(t.Board) == 0 {
		return errors.New("there is no board to draw: it has no outline")
	}
	f, err := newFace()
	if err != nil {
		return err
	}
	return writeSVG(w, compose(t, o, f), f)
}

// compose makes the page.
func compose(t *fold.Tree, o Options, f *face) *sheet {
	s := survey(t, o.Side)
	l := label(s, f)
	d := &drawing{scene: s, labels: l}
	groups := d.groups()
	return furnish(t, o, f, s, l, groups)
}

// labels holds where the scene's labels went, index for index; nil where there was no room.
type labels struct {
	sections, stiffeners, plain, parts, strips, hinges []*tag
	datum                                              *tag
	boxes                                              []flat.Box // all of them
	extent                                             flat.Box   // of board, parts, labels and leaders
}

// Letter sizes in order of preference.
var (
	wantNormal = []float64{sizeNormal, sizeSmall}
	wantSmall  = []float64{sizeSmall}
)

// label finds a place for every label: first those that want to stand in their own small area, then the hinges' at the
// board's edge, then the rest.
func label(s *scene, f *face) *labels {
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
		l.plain[i] = fd.inPatch(&s.plain[i])
	}
	fd.folds(s, l)
	for i := range s.parts {
		if l.parts[i] == nil {
			l.parts[i] = fd.byPart(&s.parts[i])
		}
	}
	fd.rest(s.sections, l.sections)
	fd.rest(s.stiffeners, l.stiffeners)
	l.boxes = fd.boxes
	l.extent = fd.extent(s)
	return l
}

// newField enters everything that labels must keep clear of.
func newField(s *scene, f *face) *field {
	fd := &field{face: f, board: s.board, drawn: newGrid(s.board.Box())}
	fd.drawn.addEdges(s.board.Edges())
	for _, list := range [][]patch{s.sections, s.stiffeners} {
		for _, p := range list {
			for _, r := range p.pieces {
				fd.drawn.addEdges(r.Edges())
			}
		}
	}
	for _, p := range s.parts {
		for _, l := range p.loops {
			fd.drawn.addEdges(l)
			fd.taken = append(fd.taken, flat.Region{l})
		}
	}
	for _, b := range s.strips {
		for _, list := range [][][2]flat.Pt{b.centre, b.tangents} {
			for _, c := range list {
				fd.drawn.add(c[0], c[1])
			}
		}
		if len(b.area) > 0 {
			fd.taken = append(fd.taken, b.area)
		}
	}
	for _, h := range s.hinges {
		for _, c := range h.centre {
			fd.drawn.add(c[0], c[1])
		}
	}
	return fd
}

// datum places the datum's word beside its mark.
func (f *field) datum(s *scene) *tag {
	if !s.datumOnPage() {
		return nil
	}
	b := around(s.datum, 2*datumReach, 2*datumReach)
	f.drawn.addEdges(rectangle(b))
	w := wish{lines: []string{"datum"}, words: "datum", sizes: wantSmall}
	t, ok := f.beside(w, b)
	if !ok {
		t, ok = f.flagged(w, []anchor{{s.datum, flat.Pt{X: -1, Y: -1}.Unit()}}, rules{far: 30, over: true})
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
	t, ok := f.within(wish{[]string{p.label}, p.label, wantSmall}, flat.Region{p.loops[0]}, true)
	return found(t, ok)
}

// byPart places a component's label next to its footprint or on a short leader; nil when it is too crowded there.
func (f *field) byPart(p *part) *tag {
	if len(p.loops) == 0 {
		return nil
	}
	w := wish{[]string{p.label}, p.label, wantSmall}
	b := flat.EmptyBox()
	for _, l := range p.loops {
		b = b.Join(l.Box())
	}
	t, ok := f.beside(w, b)
	if !ok {
		from := []anchor{{b.Min.Mid(b.Max), flat.Pt{X: 1}}, {b.Min.Mid(b.Max), flat.Pt{X: -1}}}
		t, ok = f.flagged(w, from, rules{far: 25, over: true, dot: true})
	}
	return found(t, ok)
}

// inPatch places a label inside the largest piece of its area that has room.
func (f *field) inPatch(p *patch) *tag {
	words := p.words()
	for _, r := range p.bySize() {
		for _, lines := range [][]string{p.lines, {words}} {
			if t, ok := f.within(wish{lines, words, wantNormal}, r, false); ok {
				return &t
			}
		}
	}
	return nil
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
		at := p.bySize()[0].Inside()
		from := []anchor{{at, flat.Pt{Y: 1}}, {at, flat.Pt{Y: -1}}}
		r := rules{far: b.Min.Dist(b.Max)/2 + 30, off: true, over: true, dot: true}
		t, ok := f.flagged(w, from, r)
		if !ok {
			t = f.aside(w, at, true)
		}
		tags[i] = &t
	}
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
	for _, r := range []rules{{far: far, off: true}, {far: far, off: true, over: true}, {far: far, over: true}} {
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
