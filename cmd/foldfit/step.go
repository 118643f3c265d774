package main

import (
	"fmt"
	"slices"

	"foldfit/fold"
)

// pose returns the board as the call wants it, and the fraction of its angles that it has: 1 in an end shape, less on the
// way there.
func (o *foldOptions) pose(b *board) (s *shape, fraction float64, err error) {
	if !o.stepped {
		s, err = b.stand(o.posture, o.progress.value)
		return s, o.progress.value, err
	}
	if o.posture != fold.FoldedPosture {
		return nil, 0, &usage{fmt.Sprintf("--step goes through the sequence, which ends folded, not in posture %s", o.posture), "leave out --step or --posture"}
	}
	if s, err = b.atStep(o.step, o.progress.value); err != nil {
		return nil, 0, err
	}
	if slices.Equal(s.folded.Angles, b.tree.Angles()) {
		return s, 1, nil
	}
	return s, 0.5, nil
}

// atStep returns the board at a moment of the design's sequence: how far it is in a step, which count from 1.
func (b *board) atStep(step int, progress float64) (*shape, error) {
	p := sequence(b.tree)
	if p == nil {
		return nil, &usage{fmt.Sprintf("the design has no sequence, so there is no step %d", step), "write its steps under sequence:, or use --progress alone"}
	}
	if step < 1 || step > len(p.Steps) {
		return nil, &usage{fmt.Sprintf("there is no step %d, the sequence has %s", step, counted(len(p.Steps))), fmt.Sprintf("--step takes 1 to %d", len(p.Steps))}
	}
	state, err := p.State(step-1, progress)
	if err != nil {
		return nil, &usage{err.Error(), ""}
	}
	return &shape{posture: p.Posture, folded: state.Folded, form: state.Folded, walls: b.walls, state: state}, nil
}

// counted writes a number of steps.
func counted(n int) string {
	if n == 1 {
		return "1 step"
	}
	return fmt.Sprintf("%d steps", n)
}

// sequence returns the motion of the design's own sequence; nil for a design without one, or a board that has no shape.
func sequence(t *fold.Tree) *fold.Program {
	if list, _ := t.Programs(); len(list) > 0 && list[0].Written {
		return &list[0]
	}
	return nil
}

// program returns the sequence that leads to a shape: for a posture through the folded one. Nil without a sequence, for a
// board that is on its way, and where a piece rides on what is not there, which a check says.
func (s *shape) program() *fold.Program {
	list, _ := s.folded.Tree.Programs()
	i := slices.IndexFunc(list, func(p fold.Program) bool { return p.Posture == s.posture })
	if i < 0 || !list[0].Written {
		return nil
	}
	p := list[0]
	if i > 0 {
		on := list[i].Steps[0]
		on.Name = "posture " + s.posture
		p.Posture, p.Steps = s.posture, append(slices.Clone(p.Steps), on)
	}
	end, err := p.State(len(p.Steps)-1, 1)
	if err != nil || !slices.Equal(end.Folded.Angles, s.folded.Angles) {
		return nil
	}
	return &p
}
