package clash

import (
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
	wall   *Wall      // nil for a body
	stored bool       // a wall from a file, whose coordinates have 24 bits
	grows  float64    // mm, taken off every gap to a wall
	mesh   *mesh.Mesh // triangles, normals and chord
	points []vec      // housing frame

	housingFromMesh mgl64.Mat4 // the frame of the mesh's normals

	flat  []vec // the same points in flat coordinates; nil for a wall
	box   box
	place finding.Place
	means [][2]bool // by exception of the design: whether its first and its second name mean this body
	rank  int       // who moves out of the way: the lower, the more easily

	folded, unfolded *shape // made when first asked for
}

// bodyMember returns a body of the board as a member.
func bodyMember(t *fold.Tree, housingFromBoard mgl64.Mat4, b *mesh.Body) *member {
	body := &t.Bodies[b.Source]
	m := &member{name: body.Name, kind: body.Kind, body: body, index: b.Source, closed: true, mesh: &b.Mesh,
		housingFromMesh: housingFromBoard, flat: b.Flat, box: emptyBox()}
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
	m := &member{name: w.name(), kind: fold.KindEnclosure, index: -1, closed: w.Closed, wall: w, mesh: &w.Mesh,
		housingFromMesh: mgl64.Ident4(), points: w.Mesh.Points, box: emptyBox(), rank: 5}
	if w.Piece != nil {
		m.stored, m.grows, m.place = w.Piece.Mesh != "", w.Piece.Grows, w.Piece.Place
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
	switch {
	case m.folded != nil:
	case m.wall != nil:
		m.folded = m.wall.surface()
	default:
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
