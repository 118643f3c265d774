package designfile

import (
	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/finding"
)

// theBoard is the word that stands for the board among what moves. A piece of that name is written enclosure:board.
const theBoard = "board"

// conditions: only the board goes into a piece.
func (s *stage) conditions(r *reader) bool {
	if s.key("into") == nil || s.Move.at == nil || s.Move.s == theBoard {
		return true
	}
	r.add(s.key("into"), r.inside()+"into counts only together with move: board, got move: "+show(s.Move.s), "leave into out: whatever else moves just goes along its path")
	return false
}

func (*stage) schema() []any {
	return []any{ifThen(has("into"), property("move", map[string]any{"const": theBoard}))}
}

// sequence fills the steps. What they do one after the other is judged once every step, hinge and piece could be read.
func (b *builder) sequence() {
	if b.file.key("sequence") == nil {
		return
	}
	b.design.Where.Sequence = b.placeOf("sequence")
	complete := !b.file.failed("sequence") && len(b.design.Hinges) == len(b.file.Hinges) && len(b.design.Enclosure) == len(b.file.Enclosure)
	for i := range b.file.Sequence {
		in := &b.file.Sequence[i]
		b.path = []step{{key: b.file.key("sequence")}, {i: i}}
		if in.form == nil {
			continue
		}
		if s, ok := b.stage(in); ok {
			b.design.Sequence = append(b.design.Sequence, s)
			continue
		}
		complete = false
	}
	b.path = nil
	for _, p := range b.design.SequenceProblems(complete) {
		b.note(p)
	}
}

// note notes a problem that was found in what has been read.
func (r *reader) note(p finding.Problem) {
	if r.full() {
		r.more++
		return
	}
	r.problems = append(r.problems, p)
}

// stage turns a step as read into the design's. It returns false where something of it could not be read.
func (b *builder) stage(in *stage) (fold.Step, bool) {
	s := fold.Step{Name: in.Name.s, Place: b.place(in.at)}
	ok := in.doesOneThing()
	for _, bad := range in.bad {
		ok = ok && !bad
	}
	switch {
	case !ok:
	case in.Bend != nil:
		s.Bend, ok = b.bends(in)
	case in.Move.at != nil:
		ok = b.moves(in, &s)
	case in.Add != nil:
		s.Add, ok = b.pieces(in.Add)
	case in.Remove != nil:
		s.Remove, ok = b.pieces(in.Remove)
	}
	return s, ok
}

// doesOneThing reports whether just one verb was given, with no key that belongs to another.
func (s *stage) doesOneThing() bool {
	verbs := 0
	for _, verb := range []string{"bend", "move", "add", "remove"} {
		if s.key(verb) != nil {
			verbs++
		}
	}
	moves := s.key("move") != nil
	return verbs == 1 && (s.key("bend") != nil || s.key("to") == nil) && (moves || s.key("path") == nil && s.key("into") == nil)
}

// pieces returns the bare names of enclosure pieces; false where one could not be read.
func (b *builder) pieces(in *pieceList) ([]string, bool) {
	all := in.All
	if in.One.at != nil {
		all = []text{in.One}
	}
	var names []string
	for _, t := range all {
		_, name := splitName(t.s)
		if !b.has(pieceNames.kind, name) {
			return nil, false
		}
		names = append(names, name)
	}
	return names, len(names) > 0
}

// moves fills what a step moves, and its path.
func (b *builder) moves(in *stage, s *fold.Step) bool {
	b.path = append(b.path, step{key: in.key("move")})
	s.Board = in.Move.s == theBoard
	if _, name := splitName(in.Move.s); !s.Board {
		if !b.isMover(in.Move, name) || !b.has(pieceNames.kind, name) {
			return false
		}
		s.Piece = name
	}
	if in.Into.at != nil {
		if !s.Board {
			return false // told by conditions
		}
		if _, s.Into = splitName(in.Into.s); !b.has(pieceNames.kind, s.Into) {
			return false
		}
	}
	for i := range in.Path {
		s.Path = append(s.Path, fold.Offset{Turn: values3(in.Path[i].Turn), Move: mgl64.Vec3(values3(in.Path[i].Move))})
	}
	return len(s.Path) > 0
}

// isMover reports whether name, written as t, is an enclosure piece; the hint for another name knows the board as well.
func (b *builder) isMover(t text, name string) bool {
	x := b.names[pieceNames.key]
	if x.holds(name) {
		return true
	}
	return b.isOneOf(t, name, &index{what: x.what, list: append([]string{theBoard}, x.list...), broken: x.broken})
}

// bends returns the hinges that a step bends and the angles that they end at, each in its own written sense.
func (b *builder) bends(in *stage) ([]fold.HingeAngle, bool) {
	all := in.Bend.All
	if in.Bend.One.at != nil {
		all = []text{in.Bend.One}
	}
	var out []fold.HingeAngle
	for _, t := range all {
		h := b.hingeNamed(t.s)
		if h == nil {
			return nil, false
		}
		out = append(out, fold.HingeAngle{Hinge: h.Name, Angle: h.Angle})
	}
	if in.To == nil {
		return out, len(out) > 0
	}
	b.path = append(b.path, step{key: in.key("to")})
	if one := in.To.One; one.at != nil {
		if len(out) != 1 {
			b.add(one.at, b.where()+" gives one angle for "+plural(len(out), "hinge"), "say which is meant, {"+out[0].Hinge+": "+trim(one.v)+"}")
			return nil, false
		}
		out[0].Angle = 0 + b.hingeNamed(out[0].Hinge).Written*one.v
	}
	return out, b.stopAt(in.To.Each, out)
}

// stopAt replaces the angles of the hinges that are named. It returns false where the step does not bend one of them.
func (b *builder) stopAt(each dict[number], out []fold.HingeAngle) bool {
	ok := true
	for _, a := range each {
		bent := false
		for i := range out {
			if out[i].Hinge == a.Name {
				bent, out[i].Angle = true, 0+b.hingeNamed(a.Name).Written*a.It.v
			}
		}
		if !bent {
			b.add(a.Key, b.where()+" names the hinge "+a.Name+", which this step does not bend", "add it to bend, or leave it out here")
			ok = false
		}
	}
	return ok
}

// hingeNamed returns the design's hinge of this name, nil where it could not be read.
func (b *builder) hingeNamed(name string) *fold.Hinge {
	for i := range b.design.Hinges {
		if b.design.Hinges[i].Name == name {
			return &b.design.Hinges[i]
		}
	}
	return nil
}
