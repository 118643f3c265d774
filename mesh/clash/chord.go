package clash

import (
	"math"

	"foldfit/fold"
	"foldfit/mesh"
)

// chordAt returns by how much (mm) the surface may come nearer than its mesh at a point, seen from the unit direction out in
// which the other body lies: the chord error, times the cosine between out and the normals of the curved triangles there.
// Planes are exact; where a flat face that looks along out realises the distance, what falls off from its rim does not
// count. The zero direction stands for any.
func (m *member) chordAt(p, out vec) float64 {
	if m.mesh.Chord == 0 {
		return 0
	}
	s := m.shape()
	most, flat := 0.0, m.lookingAlong(p, out)
	for _, i := range m.at(p) {
		t := s.tri(i)
		switch {
		case !m.curved(i) || flat && max(dot(sub(t[0], p), out), dot(sub(t[1], p), out), dot(sub(t[2], p), out)) <= hair:
		case out == (vec{}):
			return m.mesh.Chord
		default:
			most = max(most, m.facing(i, out))
		}
	}
	return m.mesh.Chord * min(1, most)
}

// at returns the triangles of the shape at a point.
func (m *member) at(p vec) []int32 {
	var out []int32
	s := m.shape()
	for _, i := range s.around(box{p, p}.grow(1e-7)) {
		if t := s.tri(i); onTriangle(p, &t) {
			out = append(out, i)
		}
	}
	return out
}

// lookingAlong reports whether the point lies on a flat face whose normal is the given direction.
func (m *member) lookingAlong(p, out vec) bool {
	for _, n := range m.planesAt(p) {
		if dot(n, out) > sameNormal {
			return true
		}
	}
	return false
}

// planesAt returns the normals of the flat faces at a point.
func (m *member) planesAt(p vec) []vec {
	var out []vec
	s := m.shape()
	for _, i := range m.at(p) {
		if t := s.tri(i); m.mesh.Chord == 0 || !m.curved(i) {
			out = append(out, unit(t.normal()))
		}
	}
	return out
}

// facing returns the greatest cosine between a direction and the normals of triangle i, its own and those at its corners.
func (m *member) facing(i int32, out vec) float64 {
	s := m.shape()
	t := s.tri(i)
	most := dot(unit(t.normal()), out)
	if m.mesh.Normals != nil {
		for _, n := range m.mesh.Normals[s.id(i)] {
			most = max(most, dot(fold.Turn(m.housingFromMesh, n), out))
		}
	}
	return most
}

// wayFromPlane returns the normal of b's flat face where flat faces of two bodies lie on each other at the point where they
// touch: the direction that gives a more room. Zero if they touch otherwise.
func wayFromPlane(a, b *member, r *reading) vec {
	for _, n := range a.planesAt(r.x) {
		for _, o := range b.planesAt(r.y) {
			if dot(n, o) < -sameNormal {
				return o
			}
		}
	}
	return vec{}
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
		own := unit(flatNormal(m.mesh, s.id(i)))
		for _, c := range m.mesh.Normals[s.id(i)] {
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
