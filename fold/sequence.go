package fold

import (
	"slices"

	"foldfit/fold/finding"
)

// Step is one step of a sequence. It does one thing: bend hinges (Bend), move the board or an enclosure piece along Path
// (Board, Piece), add pieces or remove them.
type Step struct {
	Name   string       // "" = none
	Bend   []HingeAngle // hinges that turn together, and the angles they end at: degrees, + toward top
	Board  bool         // the board moves along Path
	Piece  string       // the enclosure piece that moves along Path
	Into   string       // the piece that the board goes into, "" = none; it is there from this step on
	Path   []Offset     // placements that are passed, the first one where it stands before
	Add    []string     // enclosure pieces that are there from this step on
	Remove []string     // enclosure pieces that are gone from this step on
	Place  finding.Place
}

// moves reports whether the step moves something along a path.
func (s *Step) moves() bool { return s.Board || s.Piece != "" }

// brings returns the pieces that are there from this step on.
func (s *Step) brings() []string {
	if s.Into != "" {
		return []string{s.Into}
	}
	return s.Add
}

// hingeNamed returns the number of the hinge of this name, -1 for none.
func (d *Design) hingeNamed(name string) int {
	return slices.IndexFunc(d.Hinges, func(h Hinge) bool { return h.Name == name })
}

// pieceNamed returns the number of the enclosure piece of this name, -1 for none.
func (d *Design) pieceNamed(name string) int {
	return slices.IndexFunc(d.Enclosure, func(p Piece) bool { return p.Name == name })
}

// standing is where everything stands between two steps of a sequence.
type standing struct {
	angles  []float64 // by hinge, degrees, + toward top
	present []bool    // by enclosure piece
	places  []Offset  // by enclosure piece, the board's last
}

// slot returns where the places of a mover (an enclosure piece, or TheBoard) are kept.
func (s *standing) slot(mover int) int {
	if mover == TheBoard {
		return len(s.places) - 1
	}
	return mover
}

// clone returns a copy that shares nothing.
func (s *standing) clone() standing {
	return standing{slices.Clone(s.angles), slices.Clone(s.present), slices.Clone(s.places)}
}

// start returns where everything stands before the first step: the board flat; a piece that a step brings in before any
// other step speaks of it absent, all others there; what moves at the first placement of its first path.
func (d *Design) start() standing {
	out := standing{make([]float64, len(d.Hinges)), make([]bool, len(d.Enclosure)), make([]Offset, len(d.Enclosure)+1)}
	for i := range d.Enclosure {
		out.present[i] = d.fromTheStart(d.Enclosure[i].Name)
	}
	for i := len(d.Sequence) - 1; i >= 0; i-- {
		if m, ok := d.mover(&d.Sequence[i]); ok && len(d.Sequence[i].Path) > 0 {
			out.places[out.slot(m)] = d.Sequence[i].Path[0]
		}
	}
	return out
}

// fromTheStart reports whether a piece is there before the first step.
func (d *Design) fromTheStart(piece string) bool {
	for i := range d.Sequence {
		s := &d.Sequence[i]
		switch {
		case slices.Contains(s.brings(), piece):
			return false
		case s.Piece == piece || slices.Contains(s.Remove, piece):
			return true
		}
	}
	return true
}

// Left reports, by enclosure piece, whether it is there when the sequence has ended: all that no step takes away, or that one
// brings back.
func (d *Design) Left() []bool {
	now := d.start()
	for i := range d.Sequence {
		now.take(d, &d.Sequence[i])
	}
	return now.present
}

// mover returns what a step moves: the number of an enclosure piece, or TheBoard; false for nothing that exists.
func (d *Design) mover(s *Step) (int, bool) {
	if s.Board {
		return TheBoard, true
	}
	i := d.pieceNamed(s.Piece)
	return i, i >= 0
}

// take carries out a step: from where everything stands before it to where it stands after.
func (s *standing) take(d *Design, step *Step) {
	for _, b := range step.Bend {
		if h := d.hingeNamed(b.Hinge); h >= 0 {
			s.angles[h] = b.Angle
		}
	}
	if m, ok := d.mover(step); ok && len(step.Path) > 0 {
		s.places[s.slot(m)] = step.Path[len(step.Path)-1]
	}
	s.setPresent(d, step.brings(), true)
	s.setPresent(d, step.Remove, false)
}

func (s *standing) setPresent(d *Design, pieces []string, there bool) {
	for _, name := range pieces {
		if i := d.pieceNamed(name); i >= 0 {
			s.present[i] = there
		}
	}
}

// rides reports whether a piece moves with the board.
func (p *Piece) rides() bool { return p.On != "" || p.Follows != nil }
