package clash

import (
	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/mesh"
)

// Wall is an enclosure piece as a mesh: in the housing's frame, or for a piece that rides on the board (Piece.On,
// Piece.Follows) in flat coordinates until StandWall has placed it.
type Wall struct {
	Piece  *fold.Piece
	Mesh   mesh.Mesh
	Closed bool // closed and consistently oriented: inside and outside can be told apart

	stands bool // a riding piece in the housing's frame already
	ready  *readyWall
}

// readyWall is what several checks share of a wall that does not move.
type readyWall struct {
	first *mgl64.Vec3 // of the mesh it was made for: one whose points were replaced has another
	shape *shape
}

// Prepare returns the walls so that several checks share the search trees of those that stand still: for boards with
// several postures, checked one after the other. It costs nothing until a check needs a tree. The meshes must not be
// changed afterwards, only replaced.
func Prepare(walls []Wall) []Wall {
	out := make([]Wall, len(walls))
	for i, w := range walls {
		if len(w.Mesh.Points) > 0 && !w.rides() {
			w.ready = &readyWall{first: &w.Mesh.Points[0]}
		}
		out[i] = w
	}
	return out
}

// name returns the name of the wall's body: "enclosure:tray".
func (w *Wall) name() string {
	if w.Piece == nil {
		return w.Mesh.Name
	}
	return string(fold.KindEnclosure) + ":" + w.Piece.Name
}

// rides reports whether the wall moves with the board.
func (w *Wall) rides() bool { return w.Piece != nil && (w.Piece.On != "" || w.Piece.Follows != nil) }

// surface returns the wall's triangles ready for queries.
func (w *Wall) surface() *shape {
	if w.ready == nil || len(w.Mesh.Points) == 0 || w.ready.first != &w.Mesh.Points[0] {
		return newShape(w.Mesh.Points, w.Mesh.Triangles, w.Closed)
	}
	if w.ready.shape == nil {
		w.ready.shape = newShape(w.Mesh.Points, w.Mesh.Triangles, w.Closed)
	}
	return w.ready.shape
}

// StandWall returns a wall where it stands when the board is folded like f, in the housing's frame: moved with the flat of
// the section that it rides on, or with the flex at its share of the way through the first bend of the hinge that it
// follows. A wall that does not ride, or that was placed before, comes back as it is. A section without a flat is an error.
func StandWall(f *fold.Folded, w Wall) (Wall, error) {
	if !w.rides() || w.stands {
		return w, nil
	}
	m, err := housingFromPiece(f, w.Piece)
	if err != nil {
		return w, err
	}
	w.Mesh, w.stands = w.Mesh.Place(m), true
	return w, nil
}

// housingFromPiece returns the motion of a piece: the identity for one that stands in the housing, otherwise from flat
// coordinates.
func housingFromPiece(f *fold.Folded, p *fold.Piece) (mgl64.Mat4, error) {
	if p == nil || p.On == "" && p.Follows == nil {
		return mgl64.Ident4(), nil
	}
	boardFromPiece, err := f.BoardFromPiece(p)
	return f.Tree.HousingFromBoard().Mul4(boardFromPiece), err
}

// flatAt returns the flat at p, for a hinge of angle 0, which makes no bend; the base where there is none.
func flatAt(t *fold.Tree, p flat.Pt) int {
	for i := range t.Flats {
		if t.Flats[i].Region.Contains(p) {
			return i
		}
	}
	return 0
}
