package fold

import (
	"fmt"
	"slices"
	"strconv"

	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

// SequenceProblems returns what makes the design's sequence unusable, each problem at its step: a step that does not do
// exactly one thing, names that do not exist, pieces that ride on the board and are moved, paths that do not hang together
// or end at rest, pieces added twice or gone before they are there, hinges that no step bends or that end away from their
// own angle. With complete false, some steps could not be read: then only what each step says by itself is judged. Whether
// the board can take the angles only a Tree knows (Programs).
func (d *Design) SequenceProblems(complete bool) []finding.Problem {
	c := sequenceCheck{d: d, complete: complete}
	for c.at = range d.Sequence {
		c.step(&d.Sequence[c.at])
	}
	if complete && len(d.Sequence) > 0 {
		c.order()
	}
	return c.problems
}

// sequenceCheck collects the problems of a sequence.
type sequenceCheck struct {
	d        *Design
	complete bool
	at       int // the step that is looked at
	problems []finding.Problem
}

// problem notes what is wrong with the step that is looked at.
func (c *sequenceCheck) problem(hint, format string, args ...any) {
	label := "step " + strconv.Itoa(c.at+1)
	if !c.complete {
		label = "this step"
	}
	c.problems = append(c.problems, finding.Problem{Place: c.d.Sequence[c.at].Place, What: "sequence: " + label + " " + fmt.Sprintf(format, args...), Hint: hint})
}

// step judges what a step says by itself.
func (c *sequenceCheck) step(s *Step) {
	verbs := 0
	for _, does := range []bool{len(s.Bend) > 0, s.Board, s.Piece != "", len(s.Add) > 0, len(s.Remove) > 0} {
		if does {
			verbs++
		}
	}
	if verbs != 1 {
		c.problem("bend, move, add or remove: make a step of each", "does %d things, not one", verbs)
	}
	c.bend(s)
	for _, name := range slices.Concat(s.Add, s.Remove) {
		c.piece(name)
	}
	if s.Piece != "" && c.piece(s.Piece) {
		c.stays(s.Piece, "moves "+s.Piece)
	}
	if s.Into != "" && c.piece(s.Into) {
		c.stays(s.Into, "moves the board into "+s.Into)
	}
	if s.Into != "" && !s.Board {
		c.problem("only the board goes into a piece: leave into out", "has into without moving the board")
	}
	if s.moves() {
		c.path(s)
	}
}

// bend judges the hinges that a step bends.
func (c *sequenceCheck) bend(s *Step) {
	for i, b := range s.Bend {
		h := c.d.hingeNamed(b.Hinge)
		switch {
		case h < 0:
			c.problem("name one of the hinges", "bends the hinge %s, which does not exist", b.Hinge)
		case c.d.Hinges[h].Angle == 0:
			c.problem("give the hinge an angle, or leave it out here", "bends the hinge %s, which has angle 0 and makes no bend", b.Hinge)
		case slices.ContainsFunc(s.Bend[:i], func(o HingeAngle) bool { return o.Hinge == b.Hinge }):
			c.problem("name each hinge once", "bends the hinge %s twice", b.Hinge)
		}
	}
}

// piece reports whether the enclosure has a piece of this name.
func (c *sequenceCheck) piece(name string) bool {
	if c.d.pieceNamed(name) >= 0 {
		return true
	}
	c.problem("name one of the enclosure's pieces", "names the enclosure piece %s, which does not exist", name)
	return false
}

// stays refuses a piece that rides on the board where one is wanted that stands by itself.
func (c *sequenceCheck) stays(name, does string) {
	p := &c.d.Enclosure[c.d.pieceNamed(name)]
	switch {
	case p.On != "":
		c.problem("a piece that rides moves with its flat: leave the step out, or take `on` from the piece", "%s, which rides on %s", does, p.On)
	case p.Follows != nil:
		c.problem("a piece that follows a hinge moves with it: leave the step out, or take `follows` from the piece", "%s, which follows the hinge %s", does, p.Follows.Hinge)
	}
}

// path judges the placements of a path by themselves.
func (c *sequenceCheck) path(s *Step) {
	if len(s.Path) < 2 {
		c.problem("give the placement where it starts, and last the one at rest, {move: [0, 0, 0]}", "has a path of %d placements, at least 2 make one", len(s.Path))
		return
	}
	for i := 1; i < len(s.Path); i++ {
		switch _, sure := newLeg(s.Path[i-1], s.Path[i]); {
		case s.Path[i] == s.Path[i-1]:
			c.problem("keep one of them", "stays where it is from placement %d of its path to the next", i)
		case !sure:
			c.problem("change one number of turn at a time, or put a placement between",
				"turns half a turn from placement %d of its path to the next, and which way round is not clear", i)
		}
	}
}

// order walks through the steps and judges what each does to what the ones before have left.
func (c *sequenceCheck) order() {
	now := c.d.start()
	bent := make([]int, len(c.d.Hinges)) // the last step that bends it, counted from 1
	moved := make([]int, len(now.places))
	for c.at = range c.d.Sequence {
		s := &c.d.Sequence[c.at]
		for _, b := range s.Bend {
			if h := c.d.hingeNamed(b.Hinge); h >= 0 {
				bent[h] = c.at + 1
			}
		}
		if m, ok := c.d.mover(s); ok {
			c.goesOn(s, &now, m)
			moved[now.slot(m)] = c.at + 1
		}
		c.comesAndGoes(s, &now)
		now.take(c.d, s)
	}
	c.ends(&now, bent, moved)
}

// goesOn judges whether what a step moves is there, and stands where its path begins.
func (c *sequenceCheck) goesOn(s *Step, now *standing, mover int) {
	if mover != TheBoard && !now.present[mover] {
		c.problem("move it after the step that adds it, and before one that removes it", "moves %s, which is not there", s.Piece)
	}
	if stands := now.places[now.slot(mover)]; len(s.Path) > 0 && s.Path[0] != stands {
		c.problem("begin with the placement at which its last path ended", "moves %s from %v, but it stands at %v", s.moved(), s.Path[0], stands)
	}
}

// moved names what a step moves.
func (s *Step) moved() string {
	if s.Board {
		return "the board"
	}
	return s.Piece
}

// comesAndGoes judges the pieces that a step adds or removes.
func (c *sequenceCheck) comesAndGoes(s *Step, now *standing) {
	there := slices.Clone(now.present)
	for _, name := range s.Add {
		if i := c.d.pieceNamed(name); i >= 0 && there[i] {
			c.problem("leave it out here; a piece that a step moves or removes before any adds it is there from the start", "adds %s, which is there already", name)
		} else if i >= 0 {
			there[i] = true
		}
	}
	for _, name := range s.Remove {
		if i := c.d.pieceNamed(name); i >= 0 && !there[i] {
			c.problem("remove it after the step that adds it, and once", "removes %s, which is not there", name)
		} else if i >= 0 {
			there[i] = false
		}
	}
}

// ends judges what the last step leaves: every hinge at its own angle, all that is there at rest.
func (c *sequenceCheck) ends(end *standing, bent, moved []int) {
	for i := range c.d.Hinges {
		switch h := &c.d.Hinges[i]; {
		case bent[i] == 0 && h.Angle != 0:
			c.problems = append(c.problems, finding.Problem{Place: c.d.Where.Sequence, What: "sequence: no step bends the hinge " + h.Name,
				Hint: "a sequence starts flat: add the step {bend: [" + h.Name + "]} where it is bent"})
		case bent[i] > 0 && end.angles[i] != h.Angle:
			c.at = bent[i] - 1
			c.problem("add a later step {bend: ["+h.Name+"]}, which brings it to its own angle", "leaves the hinge %s at %s degrees, its own angle is %s",
				h.Name, flat.Num(h.Written*end.angles[i]), flat.Num(h.Written*h.Angle))
		}
	}
	for i, o := range end.places {
		board := i == len(c.d.Enclosure)
		if o == (Offset{}) || moved[i] == 0 || !board && !end.present[i] {
			continue
		}
		c.at = moved[i] - 1
		hint := "end its last path with {move: [0, 0, 0]}: offsets count from where it stands at rest"
		if !board {
			hint += "; or remove it in a later step"
		}
		c.problem(hint, "leaves %s at %v, not at rest", c.d.Sequence[c.at].moved(), o)
	}
}
