package mesh

import "foldfit/fold"

// SkinBody returns the mesh of body i of a folded board alone, as Skin with this chord (mm) would make it.
func SkinBody(f *fold.Folded, i int, chord float64) (*Body, error) {
	tb := &f.Tree.Bodies[i]
	r := tb.Region
	if isBoard(tb.Kind) {
		r = newJoints(f.Tree).fit(r)
	}
	b, err := skinBody(f, tb, r, chord)
	if err != nil {
		return nil, err
	}
	b.Name, b.Kind, b.Source = tb.Name, tb.Kind, i
	return b, nil
}
