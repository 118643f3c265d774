package gltf

import (
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	lib "github.com/qmuntal/gltf"

	"foldfit/fold"
	"foldfit/mesh/clash"
)

// hidden is the scale of a node that is absent at rest. The animation scales to 0, which the encoder cannot write for a
// node at rest.
const hidden = 1e-9

// carriage is the node that takes an enclosure piece along its path.
type carriage struct{ piece, node int }

// veil is a node that is not there all the time.
type veil struct {
	node    int
	changes []change
}

// addHousing adds the enclosure's pieces: those that ride on the board below what they ride on, the others below `housing`.
func (b *builder) addHousing() error {
	for i := range b.Walls {
		if err := b.addWall(&b.Walls[i]); err != nil {
			return err
		}
	}
	return nil
}

// addWall adds one piece. What is absent, and stays so, is left out. A piece that comes or goes has its node in the middle
// of its box: scaled to nothing there it widens nobody's view. One with a path hangs on a node `path:NAME` at its pivot.
func (b *builder) addWall(w *clash.Wall) error {
	piece := b.pieceOf(w)
	var changes []change
	if piece >= 0 {
		var err error
		if changes, err = b.presence(b.plan, piece); err != nil {
			return err
		}
	}
	housingFromPiece, there := b.standing(w)
	shows := slices.ContainsFunc(changes, func(c change) bool { return c.there })
	if !there && !shows {
		return nil
	}
	m, middle := w.Mesh, mgl64.Vec3{}
	if changes != nil {
		middle = middleOf(m.Points)
		m = m.Place(atPoint(middle.Mul(-1)))
	}
	name := wallName(w)
	s, err := checked(name, m.Points, m.Triangles, m.Normals)
	if err != nil {
		return err
	}
	parent, parentFromPiece := b.carrier(w, housingFromPiece)
	n := &lib.Node{Name: name, Extras: wallExtras(w), Mesh: lib.Index(b.addMesh(name, b.primitive(s, lookEnclosure)))}
	stand(n, parentFromPiece.Mul4(motion(atPoint(middle))))
	if !there {
		n.Scale = [3]float64{hidden, hidden, hidden}
	}
	node := b.addNode(parent, n)
	if changes != nil {
		b.veils = append(b.veils, veil{node, changes})
	}
	return nil
}

// carrier returns the node that a piece hangs on and where that node's frame has it, in glTF's axes and metres.
func (b *builder) carrier(w *clash.Wall, housingFromPiece mgl64.Mat4) (node int, parentFromPiece mgl64.Mat4) {
	p := w.Piece
	switch {
	case p != nil && p.On != "":
		return b.flats[b.tree.FlatOfSection(p.On)], mgl64.Ident4()
	case p != nil && p.Follows != nil:
		return b.follower(p.Follows)
	}
	if b.housing == noNode {
		root := &lib.Node{Name: "housing"}
		stand(root, motion(b.sceneFromHousing))
		b.housing = b.addNode(noNode, root)
	}
	piece := b.pieceOf(w)
	if piece < 0 || !b.moves(piece) {
		return b.housing, motion(housingFromPiece)
	}
	pivot := b.Program.Pivot(piece)
	path := &lib.Node{Name: "path:" + p.Name}
	stand(path, motion(housingFromPiece.Mul4(atPoint(pivot))))
	node = b.addNode(b.housing, path)
	b.carriages = append(b.carriages, carriage{piece, node})
	return node, motion(atPoint(pivot.Mul(-1)))
}

// follower returns the joint that a piece turns with; where its hinge makes no bend, the flat there.
func (b *builder) follower(f *fold.Follow) (node int, parentFromPiece mgl64.Mat4) {
	h := slices.IndexFunc(b.tree.Design.Hinges, func(h fold.Hinge) bool { return h.Name == f.Hinge })
	if bends := b.tree.Hinges[h].Bends; len(bends) > 0 {
		r := b.rig(bends[0])
		j := b.jointAt(r, f.Share*r.bend.Width)
		return j.node, fold.Invert(r.flatFromJoint(j.s))
	}
	line := b.tree.Design.Hinges[h].Line
	host := slices.IndexFunc(b.tree.Flats, func(fl fold.Flat) bool { return fl.Region.Contains(line[0].Mid(line[1])) })
	return b.flats[max(host, 0)], mgl64.Ident4()
}

// moves reports whether the animation takes a piece along a path.
func (b *builder) moves(piece int) bool {
	return slices.ContainsFunc(b.plan, func(s span) bool { return len(s.motion.Legs) > 0 && s.motion.Mover == piece })
}

// pieceOf returns the number of a wall's piece in the design, -1 for none.
func (b *builder) pieceOf(w *clash.Wall) int {
	if w.Piece == nil {
		return -1
	}
	return slices.IndexFunc(b.tree.Design.Enclosure, func(p fold.Piece) bool { return p.Name == w.Piece.Name })
}

// standing returns where a wall stands in the scene's posture; false for one that is not there.
func (b *builder) standing(w *clash.Wall) (housingFromPiece mgl64.Mat4, there bool) {
	if i := b.pieceOf(w); i >= 0 {
		return b.moment.Pieces[i].HousingFromPiece, b.moment.Pieces[i].Present
	}
	s := fold.PieceState{Present: true, HousingFromPiece: mgl64.Ident4()}
	if w.Piece != nil {
		s = atRest(b.moment, w.Piece)
	}
	return s.HousingFromPiece, s.Present
}

// atRest returns where a piece stands that no step moves; what rides on nothing that exists is absent.
func atRest(s *fold.State, p *fold.Piece) fold.PieceState {
	boardFromPiece, err := s.Folded.BoardFromPiece(p)
	out := fold.PieceState{Present: err == nil, HousingFromPiece: mgl64.Ident4()}
	if p.On != "" || p.Follows != nil {
		out.HousingFromPiece = s.HousingFromBoard.Mul4(boardFromPiece)
	}
	return out
}

// wallName returns the body name of an enclosure piece.
func wallName(w *clash.Wall) string {
	if w.Piece == nil {
		return w.Mesh.Name
	}
	return string(fold.KindEnclosure) + ":" + w.Piece.Name
}

// middleOf returns the middle of the box around points.
func middleOf(points []mgl64.Vec3) mgl64.Vec3 {
	if len(points) == 0 {
		return mgl64.Vec3{}
	}
	box := bounds{points[0], points[0]}
	for _, p := range points {
		box.add(p)
	}
	return box.low.Add(box.high).Mul(0.5)
}

// atPoint returns the shift that takes the origin to p.
func atPoint(p mgl64.Vec3) mgl64.Mat4 { return mgl64.Translate3D(p[0], p[1], p[2]) }
