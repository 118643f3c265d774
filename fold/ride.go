package fold

import (
	"fmt"

	"github.com/go-gl/mathgl/mgl64"
)

// BoardFromPiece returns the motion of an enclosure piece that moves with the board, from the flat coordinates that it is
// written in (after its own turn and move) to board coordinates: that of the flat of the section that it rides on, or of
// the flex at its share of the way through the first bend of the hinge that it follows (where the hinge makes no bend, of
// the flat there). The identity for a piece that stands by itself; an error where there is no such flat or hinge.
func (f *Folded) BoardFromPiece(p *Piece) (mgl64.Mat4, error) {
	t := f.Tree
	switch {
	case !p.rides():
		return mgl64.Ident4(), nil
	case p.On != "":
		i := t.FlatOfSection(p.On)
		if i < 0 {
			return mgl64.Ident4(), fmt.Errorf("%s rides on section %s, which has no flat", p.Name, p.On)
		}
		return f.flats[i], nil
	}
	h := t.Design.hingeNamed(p.Follows.Hinge)
	if h < 0 {
		return mgl64.Ident4(), fmt.Errorf("%s follows hinge %s, which does not exist", p.Name, p.Follows.Hinge)
	}
	if bends := t.Hinges[h].Bends; len(bends) > 0 {
		return f.BoardFromStation(bends[0], p.Follows.Share*t.Bends[bends[0]].Width), nil
	}
	line := t.Design.Hinges[h].Line
	host, _ := t.hostOf(line[0].Mid(line[1]))
	return f.flats[max(host, 0)], nil
}
