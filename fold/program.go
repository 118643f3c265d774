package fold

import (
	"fmt"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/finding"
)

// TheBoard stands for the board where otherwise the number of an enclosure piece says what moves.
const TheBoard = -1

// Program is a whole motion that ends at a posture: steps, one after the other. Made by Programs; never changed afterwards.
type Program struct {
	Tree    *Tree
	Posture string // the posture that it ends at
	Written bool   // the design's own sequence; false: all hinges together
	Steps   []Motion
}

// Motion is one step of a program. Every hinge turns from From to To at a constant rate; or, in a step with Legs, what Mover
// says goes along them while all else stands still. Progress runs from 0 to 1, in equal shares for each leg.
type Motion struct {
	Name     string        // as the design calls the step, "" for none
	Place    finding.Place // of the step, or of the posture
	From, To []float64     // by hinge, degrees, + toward top
	Mover    int           // with Legs: the number of an enclosure piece, or TheBoard
	Legs     []Leg
	before   standing // pieces and board at progress 0; its presence holds all through the step
}

// State is a board and its surroundings at one moment of a program.
type State struct {
	Folded           *Folded    // the board at that moment's angles
	HousingFromBoard mgl64.Mat4 // the design's placement, moved along the path
	Pieces           []PieceState
}

// PieceState is where an enclosure piece stands at one moment.
type PieceState struct {
	Present          bool       // false: no step has brought it in yet, or one has taken it away
	HousingFromPiece mgl64.Mat4 // from the coordinates after the piece's own turn and move to the housing's frame: the identity at rest
}

// Programs returns the motions of a board: first from flat to the folded posture, by the design's sequence or, without one,
// by all hinges together and with no enclosure piece present, since nothing says how they come together; then from there
// to each named posture, all hinges together, with the pieces that the sequence leaves. Postures that the board cannot take
// are left out (Place says why). The problems are those of the sequence (SequenceProblems) and angles that leave a bend no
// room; with any there are no programs, as for a board that is not foldable.
func (t *Tree) Programs() ([]Program, []finding.Problem) {
	if !t.Foldable {
		return nil, nil
	}
	problems := append(t.Design.SequenceProblems(true), t.tooTight()...)
	if len(problems) > 0 {
		return nil, problems
	}
	first, end := t.toFolded()
	out := []Program{first}
	for _, p := range t.Design.Postures {
		angles, err := t.PostureAngles(p.Name)
		for i := 0; err == nil && i < len(angles); i++ {
			err = t.checkAngle(i, angles[i])
		}
		if err == nil {
			out = append(out, Program{Tree: t, Posture: p.Name, Steps: []Motion{{Place: p.Place, From: t.Angles(), To: angles, before: end}}})
		}
	}
	return out, nil
}

// Moves reports whether anything moves in any of the program's steps.
func (p *Program) Moves() bool {
	return slices.ContainsFunc(p.Steps, func(m Motion) bool { return len(m.Legs) > 0 || !slices.Equal(m.From, m.To) })
}

// tooTight returns the problems of steps that bend a hinge further than the width of its bend area allows.
func (t *Tree) tooTight() []finding.Problem {
	var out []finding.Problem
	for i := range t.Design.Sequence {
		s := &t.Design.Sequence[i]
		for _, b := range s.Bend {
			h := t.Design.hingeNamed(b.Hinge)
			if h < 0 || t.Design.Hinges[h].Angle == 0 {
				continue // told by SequenceProblems
			}
			if err := t.checkAngle(h, b.Angle); err != nil {
				out = append(out, finding.Problem{Place: s.Place, What: fmt.Sprintf("sequence: step %d: %v", i+1, err),
					Hint: "a bend area keeps the width of its hinge's own angle; lower the step's angle, or give the hinge a larger one or a larger radius"})
			}
		}
	}
	return out
}

// toFolded returns the program to the folded posture, and where everything stands at its end.
func (t *Tree) toFolded() (Program, standing) {
	d := t.Design
	out := Program{Tree: t, Posture: FoldedPosture, Written: len(d.Sequence) > 0}
	now := d.start()
	if !out.Written {
		alone := now.clone()
		clear(alone.present)
		out.Steps = []Motion{{From: now.angles, To: t.Angles(), before: alone}}
		return out, now
	}
	for i := range d.Sequence {
		s := &d.Sequence[i]
		m := Motion{Name: s.Name, Place: s.Place, From: now.angles, before: now.clone()}
		m.Mover, _ = d.mover(s)
		for k := 1; k < len(s.Path); k++ {
			leg, _ := newLeg(s.Path[k-1], s.Path[k])
			m.Legs = append(m.Legs, leg)
		}
		now = now.clone()
		now.take(d, s)
		m.To, m.before.present = now.angles, now.present
		out.Steps = append(out.Steps, m)
	}
	return out, now
}

// LegAt returns the leg that a step goes along at a progress (0 to 1) and how far along it is, 0 to 1; nil without legs.
func (m *Motion) LegAt(progress float64) (*Leg, float64) {
	n := len(m.Legs)
	if n == 0 {
		return nil, 0
	}
	u := progress * float64(n)
	i := min(max(int(u), 0), n-1)
	return &m.Legs[i], u - float64(i)
}

// Breaks returns where the motion changes its direction: the progress at each end of a leg, from 0 to 1.
func (m *Motion) Breaks() []float64 {
	n := max(len(m.Legs), 1)
	out := make([]float64, n+1)
	for i := range out {
		out[i] = float64(i) / float64(n)
	}
	return out
}

// Angles returns the angle of each hinge at a progress from 0 to 1; exact at both ends.
func (m *Motion) Angles(progress float64) []float64 {
	out := make([]float64, len(m.From))
	for i := range out {
		out[i] = between(m.From[i], m.To[i], progress)
	}
	return out
}

// Pivot returns where the origin of a mover (an enclosure piece, or TheBoard) stands at rest, in the housing's frame: its
// legs turn about this point, which shifts along with it.
func (p *Program) Pivot(mover int) mgl64.Vec3 {
	if mover == TheBoard {
		return p.Tree.HousingFromBoard().Col(3).Vec3()
	}
	return p.Tree.Design.Enclosure[mover].Move
}

// State returns the board and its surroundings at a progress from 0 to 1 of a step, counted from 0. Exact to rounding, and
// bit for bit what Place and HousingFromBoard give where nothing is on its way. A step or progress out of range is an
// error, and so is a piece that rides on a section without a flat.
func (p *Program) State(step int, progress float64) (*State, error) {
	if step < 0 || step >= len(p.Steps) {
		return nil, fmt.Errorf("there is no step %d, the motion has %d", step+1, len(p.Steps))
	}
	if !(progress >= 0 && progress <= 1) {
		return nil, fmt.Errorf("the progress %g is not from 0 to 1", progress)
	}
	m := &p.Steps[step]
	f, err := p.Tree.Place(m.Angles(progress))
	if err != nil {
		return nil, err
	}
	rest := p.Tree.HousingFromBoard()
	out := &State{Folded: f, HousingFromBoard: rest, Pieces: make([]PieceState, len(p.Tree.Design.Enclosure))}
	if moved, still := m.motion(TheBoard, p.Pivot(TheBoard), progress); !still {
		out.HousingFromBoard = clean(moved.Mul4(rest))
	}
	for i := range out.Pieces {
		if err := out.stand(p, m, i, progress); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// stand fills where enclosure piece i stands.
func (s *State) stand(p *Program, m *Motion, i int, progress float64) error {
	piece := &p.Tree.Design.Enclosure[i]
	s.Pieces[i].Present = m.before.present[i]
	if !piece.rides() {
		s.Pieces[i].HousingFromPiece, _ = m.motion(i, p.Pivot(i), progress)
		return nil
	}
	boardFromPiece, err := s.Folded.BoardFromPiece(piece)
	s.Pieces[i].HousingFromPiece = s.HousingFromBoard.Mul4(boardFromPiece)
	return err
}

// motion returns the motion of a mover from its place at rest, where its origin is at pivot; still where it is at rest.
func (m *Motion) motion(mover int, pivot mgl64.Vec3, progress float64) (housingFromRest mgl64.Mat4, still bool) {
	if leg, u := m.LegAt(progress); leg != nil && mover == m.Mover {
		return leg.HousingFromRest(u, pivot), false
	}
	o := m.before.places[m.before.slot(mover)]
	return o.housingFromRest(pivot), o == Offset{}
}
