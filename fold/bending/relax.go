package bending

import (
	"errors"

	"foldfit/fold"
)

// Kept is a bend that was to take its free shape and keeps the drawn cylinder.
type Kept struct {
	Bend int
	Why  string
}

// Relax returns a folded board whose bends, of the hinges that which names (indices in Design.Hinges), have the shape that flex
// takes when only its clamps hold it: the elastica of least energy between the next rigid or stiffened edges, which stay
// where the drawn cylinder places them. Bends that have no such shape keep the cylinder and are named with the reason. Free
// shapes are good to 1e-9 of their length; one costs about half a millisecond. See fold.Folded.Relax for the bodies.
func Relax(f *fold.Folded, which func(hinge int) bool) (*fold.Folded, []Kept) {
	var list []*fold.FreeFlex
	var kept []Kept
	for i := range f.Tree.Bends {
		if !which(f.Tree.Bends[i].Hinge) {
			continue
		}
		l, err := freeFlex(f, i)
		if err != nil {
			kept = append(kept, Kept{i, err.Error()})
			continue
		}
		list = append(list, l)
	}
	if len(list) == 0 {
		return f, kept
	}
	return f.Relax(list), kept
}

// freeFlex returns the free flex of bend i in its shape at the folded board's angle.
func freeFlex(f *fold.Folded, i int) (*fold.FreeFlex, error) {
	l, err := f.Tree.FreeFlex(i)
	if err != nil {
		return nil, err
	}
	angle := f.Angles[f.Tree.Bends[i].Hinge]
	if angle == 0 {
		return l, nil
	}
	free := At(f.Tree, i, angle).Free
	if free == nil {
		return nil, errors.New("no free shape was found between its clamps, or it would crease")
	}
	l.Shape = free.Shape
	return l, nil
}
