package tolerance

import (
	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// arcChord is how far (mm) the points that stand for an arc may lie beside it, when corners of faces are looked for.
const arcChord = 1e-3

// shape is what of a body may hold nearest points of a parallel body: its plane faces, and straight lines besides.
type shape struct {
	faces []Face
	lines [][2]mgl64.Vec3
	known bool
}

// shapeOf returns the faces of a body in the housing's frame: exact but for arcs, see arcChord. Of a bend the straight line
// through the place, along the hinge. Not known for a piece that is a mesh, unless the caller has given faces.
func shapeOf(f *fold.Folded, name string, given []Face, place mgl64.Vec3) shape {
	if len(given) > 0 {
		return shape{faces: given, known: true}
	}
	t := f.Tree
	for i := range t.Bodies {
		if b := &t.Bodies[i]; b.Name == name {
			return bodyShape(f, i, place)
		}
	}
	p := pieceOf(t.Design, name)
	if p == nil || p.Box == nil {
		return shape{}
	}
	boardFromPiece, err := f.BoardFromPiece(p)
	if err != nil {
		return shape{}
	}
	m := fold.RigidMotion(p.Turn, p.Move)
	if p.On != "" || p.Follows != nil {
		m = t.HousingFromBoard().Mul4(boardFromPiece).Mul4(m)
	}
	lo, hi := p.Box[0], p.Box[1]
	return shape{faces: boxFaces(m, [6]float64{lo[0], lo[1], lo[2], hi[0], hi[1], hi[2]}), known: true}
}

// bodyShape returns the faces of a body of the board.
func bodyShape(f *fold.Folded, i int, place mgl64.Vec3) shape {
	t := f.Tree
	b := &t.Bodies[i]
	if b.Kind == fold.KindBend {
		return shape{lines: ruling(f, b, place), known: true}
	}
	m := t.HousingFromBoard().Mul4(f.BodyMotion(b))
	if len(b.Boxes) > 0 {
		m = m.Mul4(fold.RigidMotion([3]float64{0, 0, b.Turn}, mgl64.Vec3{b.At.X, b.At.Y, 0}))
		out := shape{known: true}
		for _, x := range b.Boxes {
			out.faces = append(out.faces, boxFaces(m, x)...)
		}
		return out
	}
	return shape{faces: prismFaces(m, b.Region, b.Faces), known: true}
}

// prismFaces returns bottom and top over a region, and its sides, placed.
func prismFaces(m mgl64.Mat4, r flat.Region, z [2]float64) []Face {
	var bottom, top Face
	var sides []Face
	for _, l := range r {
		var border [2][]mgl64.Vec3
		points := l.Points(arcChord)
		for i, p := range points {
			for k := range z {
				border[k] = append(border[k], fold.Apply(m, mgl64.Vec3{p.X, p.Y, z[k]}))
			}
			if i > 0 {
				sides = append(sides, Face{{border[0][i-1], border[0][i], border[1][i], border[1][i-1]}})
			}
		}
		last := len(points) - 1
		sides = append(sides, Face{{border[0][last], border[0][0], border[1][0], border[1][last]}})
		bottom, top = append(bottom, border[0]), append(top, border[1])
	}
	return append(sides, bottom, top)
}

// boxFaces returns the six faces of a box x0 y0 z0 x1 y1 z1, placed.
func boxFaces(m mgl64.Mat4, x [6]float64) []Face {
	l, _ := flat.Rect(min(x[0], x[3]), min(x[1], x[4]), max(x[0], x[3]), max(x[1], x[4]), 0)
	return prismFaces(m, flat.Region{l}, [2]float64{min(x[2], x[5]), max(x[2], x[5])})
}

// ruling returns the straight line on a bend through a place, along its hinge, as far as the bend area reaches; none where the
// bend is in its free shape.
func ruling(f *fold.Folded, body *fold.Body, place mgl64.Vec3) [][2]mgl64.Vec3 {
	if f.Free(body.Bend) != nil {
		return nil
	}
	housing := f.Tree.HousingFromBoard()
	b := &f.Tree.Bends[body.Bend]
	p := inBend(f, body.Bend, fold.Apply(fold.Invert(housing), place))
	m := housing.Mul4(f.BoardFromStation(body.Bend, p.Station))
	for _, in := range body.Region.Stretches(p.At, b.Dir.Left()) {
		if in[0] > flat.Snap || in[1] < -flat.Snap {
			continue
		}
		a, c := p.At.Add(b.Dir.Left().Mul(in[0])), p.At.Add(b.Dir.Left().Mul(in[1]))
		return [][2]mgl64.Vec3{{fold.Apply(m, mgl64.Vec3{a.X, a.Y, p.Z}), fold.Apply(m, mgl64.Vec3{c.X, c.Y, p.Z})}}
	}
	return nil
}
