package mesh

import (
	"errors"

	"foldfit/fold"
)

// Skin returns the meshes of all bodies of a folded board; no point of a mesh's surface is farther than chord (mm) from
// the true surface and the other way round.
func Skin(f *fold.Folded, chord float64) (*Assembly, error) { return nil, errors.New("not written yet") }
