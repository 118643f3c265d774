package clash

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/mesh"
)

// member is a body or a wall that takes part in a check.
type member struct {
	name   string
	kind   fold.Kind
	body   *fold.Body // nil for a wall
	index  int        // in the tree's bodies; -1 for a wall
	closed bool
	stored bool       // a wall from a file, whose coordinates have 24 bits
	mesh   *mesh.Mesh // triangles, normals and chord
	points []vec      // housing frame
	flat   []vec      // the same points in flat coordinates; nil for a wall
	box    box
	place  finding.Place
	means  [][2]bool // by exception of the design: whether its first and its second name mean this body
	rank   int       // who moves out of the way: the lower, the more easily

	folded, unfolded *shape // made when first asked for
}

// bodyMember returns a body of the board as a member.
func bodyMember(t *fold.Tree, housingFromBoard mgl64.Mat4, b *mesh.Body) *member {
	body := &t.Bodies[b.Source]
	m := &member{name: body.Name, kind: body.Kind, body: body, index: b.Source, closed: true, mesh: &b.Mesh, flat: b.Flat, box: emptyBox()}
	m.points = make([]vec, len(b.Points))
	for i, p := range b.Points {
		m.points[i] = fold.Apply(housingFromBoard, p)
		m.box = m.box.with(m.points[i])
	}
	m.place, m.rank = origin(t, body)
	return m
}

// wallMember returns a piece of the enclosure as a member.
func wallMember(w *Wall) *member {
	m := &member{name: w.Mesh.Name, kind: fold.KindEnclosure, index: -1, closed: w.Closed, mesh: &w.Mesh,
		points: w.Mesh.Points, box: emptyBox(), rank: 5}
	if w.Piece != nil {
		m.name, m.stored, m.place = "enclosure:"+w.Piece.Name, w.Piece.Mesh != "", w.Piece.Place
	}
	for _, p := range m.points {
		m.box = m.box.with(p)
	}
	return m
}

// origin returns where the design speaks of a body, and its rank.
func origin(t *fold.Tree, b *fold.Body) (finding.Place, int) {
	d := t.Design
	switch b.Kind {
	case fold.KindComponent:
		return d.Components[b.Source].Place, 0
	case fold.KindStiffener:
		return d.Stiffeners[b.Source].Place, 1
	case fold.KindBend:
		return d.Hinges[t.Bends[b.Bend].Hinge].Place, 2
	case fold.KindSection:
		return d.Sections[b.Source].Place, 3
	}
	return d.Where.Flex, 4
}

// shape returns the member's surface in the housing's frame.
func (m *member) shape() *shape {
	if m.folded == nil {
		m.folded = newShape(m.points, m.mesh.Triangles, m.closed)
	}
	return m.folded
}

// flatShape returns the body's surface in the flat state: the same triangles in flat coordinates.
func (m *member) flatShape() *shape {
	if m.unfolded == nil {
		m.unfolded = newShape(m.flat, m.mesh.Triangles, m.closed)
	}
	return m.unfolded
}

// flatAt returns where in the flat a point of triangle id of a body lies, nil for a wall and for a cut face.
func (m *member) flatAt(id int32, p vec) *[2]float64 {
	if m.flat == nil || id < 0 {
		return nil
	}
	t := m.mesh.Triangles[id]
	a, u, v := m.points[t[0]], sub(m.points[t[1]], m.points[t[0]]), sub(m.points[t[2]], m.points[t[0]])
	n := cross(u, v)
	n2 := dot(n, n)
	if n2 == 0 {
		return &[2]float64{m.flat[t[0]][0], m.flat[t[0]][1]}
	}
	d := sub(p, a)
	s, r := dot(cross(d, v), n)/n2, dot(cross(u, d), n)/n2
	o := m.flat[t[0]]
	q := along(along(o, s, sub(m.flat[t[1]], o)), r, sub(m.flat[t[2]], o))
	return &[2]float64{q[0], q[1]}
}

// chordAt returns by how much the surface may be off at a point: the chord error of the mesh, 0 where all triangles at
// the point belong to planes.
func (m *member) chordAt(p vec) float64 {
	if m.mesh.Chord == 0 {
		return 0
	}
	s := m.shape()
	for _, i := range s.around(box{p, p}.grow(1e-7)) {
		if t := s.tri(i); onTriangle(p, &t) && m.curved(i) {
			return m.mesh.Chord
		}
	}
	return 0
}

// onTriangle reports whether p lies on t within rounding.
func onTriangle(p vec, t *tri) bool {
	d, _, _ := triDistance(&tri{p, p, p}, t, math.Inf(1))
	return d <= 1e-7
}

const (
	sameNormal = 1 - 1e-9 // cosine above which a corner's normal is that of the face
	sharpest   = 0.5      // cosine between the faces of a surface that is meant to be smooth: up to 60 degrees
)

// curved reports whether triangle i of the folded shape stands for part of a curved surface: its corners' normals are not
// its own. Without normals, one that meets a neighbour at an angle of up to 60 degrees counts as curved.
func (m *member) curved(i int32) bool {
	s := m.shape()
	t := s.tri(i)
	n := unit(t.normal())
	if m.mesh.Normals != nil {
		own := unit(flatNormal(m.mesh, s.ids[i]))
		for _, c := range m.mesh.Normals[s.ids[i]] {
			if dot(c, own) < sameNormal {
				return true
			}
		}
		return false
	}
	for k := range 3 {
		middle := along(t[k], 0.5, sub(t[(k+1)%3], t[k]))
		for _, j := range s.around(box{middle, middle}.grow(1e-7)) {
			if q := s.tri(j); onTriangle(middle, &q) {
				if c := dot(unit(q.normal()), n); c < sameNormal && c > sharpest {
					return true
				}
			}
		}
	}
	return false
}

// flatNormal returns the normal of a mesh's triangle from its points, in the frame of the mesh.
func flatNormal(m *mesh.Mesh, id int32) vec {
	t := m.Triangles[id]
	f := tri{m.Points[t[0]], m.Points[t[1]], m.Points[t[2]]}
	return f.normal()
}
