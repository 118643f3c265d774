package gltf

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
	lib "github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"
)

// surface is a triangle mesh as glTF stores it: one normal a vertex, hence a point of the mesh once for each of the
// normals that its corners have.
type surface struct {
	points, normals [][3]float32
	origin          []int32 // for each vertex the point of the mesh it stands for
	indices         []uint32
}

// split makes a surface of points in mm and board axes. Without normals each point is one vertex, and readers shade the
// triangles flat. Triangles that name a point twice are left out: they have no area and close nothing.
func split(points []mgl64.Vec3, triangles [][3]int32, normals [][3]mgl64.Vec3) surface {
	s := surface{indices: make([]uint32, 0, 3*len(triangles))}
	vertices := chains{first: make([]int32, len(points))}
	for i, t := range triangles {
		if t[0] == t[1] || t[1] == t[2] || t[2] == t[0] {
			continue
		}
		for c, p := range t {
			if normals == nil {
				s.indices = append(s.indices, uint32(vertices.only(&s, p)))
				continue
			}
			s.indices = append(s.indices, uint32(vertices.find(&s, p, cornerNormal(normals[i][c], points, t))))
		}
	}
	s.points = make([][3]float32, len(s.origin))
	for v, p := range s.origin {
		s.points[v] = single(metres(points[p]))
	}
	return s
}

// chains finds the vertices already made for a point; numbers count from 1, 0 ends a chain.
type chains struct{ first, next []int32 }

// only returns the vertex of point p, new if need be, where none has a normal.
func (c *chains) only(s *surface, p int32) int32 {
	if c.first[p] == 0 {
		s.origin = append(s.origin, p)
		c.first[p] = int32(len(s.origin))
	}
	return c.first[p] - 1
}

// find returns the vertex of point p with normal n, new if need be.
func (c *chains) find(s *surface, p int32, n [3]float32) int32 {
	for v := c.first[p]; v != 0; v = c.next[v-1] {
		if s.normals[v-1] == n {
			return v - 1
		}
	}
	s.origin = append(s.origin, p)
	s.normals = append(s.normals, n)
	c.next = append(c.next, c.first[p])
	c.first[p] = int32(len(s.origin))
	return c.first[p] - 1
}

// cornerNormal returns a unit normal in glTF's axes: n, or where n is none the triangle's own, or straight up.
func cornerNormal(n mgl64.Vec3, points []mgl64.Vec3, t [3]int32) [3]float32 {
	if math.Abs(n.Len()-1) <= 1e-3 {
		return single(axes(n.Mul(1 / n.Len())))
	}
	a := points[t[0]]
	n = points[t[1]].Sub(a).Cross(points[t[2]].Sub(a))
	if l := n.Len(); l > 0 && !math.IsInf(l, 0) {
		return single(axes(n.Mul(1 / l)))
	}
	return [3]float32{0, 1, 0}
}

// primitive stores a surface and returns the primitive that draws it.
func (b *builder) primitive(s surface, l look) *lib.Primitive {
	p := &lib.Primitive{
		Attributes: lib.PrimitiveAttributes{lib.POSITION: modeler.WritePosition(b.doc, s.points)},
		Indices:    lib.Index(b.indices(s.indices, len(s.points))),
		Material:   lib.Index(b.material(l)),
	}
	if s.normals != nil {
		p.Attributes[lib.NORMAL] = modeler.WriteNormal(b.doc, s.normals)
	}
	return p
}

// indices stores vertex numbers in the smallest type that never needs its own largest value, which glTF keeps for itself.
func (b *builder) indices(list []uint32, vertices int) int {
	if vertices > math.MaxUint16 {
		return modeler.WriteIndices(b.doc, list)
	}
	short := make([]uint16, len(list))
	for i, v := range list {
		short[i] = uint16(v)
	}
	return modeler.WriteIndices(b.doc, short)
}

// addMesh adds a mesh of the given primitives and returns its number.
func (b *builder) addMesh(name string, primitives ...*lib.Primitive) int {
	b.doc.Meshes = append(b.doc.Meshes, &lib.Mesh{Name: name, Primitives: primitives})
	return len(b.doc.Meshes) - 1
}

// checked splits a mesh and refuses one that cannot be written.
func checked(name string, points []mgl64.Vec3, triangles [][3]int32, normals [][3]mgl64.Vec3) (surface, error) {
	if !finite(points) {
		return surface{}, fmt.Errorf("%s: a corner of its mesh is not a number", name)
	}
	s := split(points, triangles, normals)
	if len(s.indices) == 0 {
		return surface{}, fmt.Errorf("%s: its mesh has no triangles", name)
	}
	return s, nil
}
