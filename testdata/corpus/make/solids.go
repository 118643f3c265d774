package main

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/export/stl"
	"foldfit/mesh"
)

// box is an axis-parallel box: x0 y0 z0 x1 y1 z1.
type box [6]float64

// holds reports whether a point lies inside.
func (b box) holds(p mgl64.Vec3) bool {
	for k := range 3 {
		if p[k] < b[k] || p[k] > b[k+3] {
			return false
		}
	}
	return true
}

// solid collects triangles of one closed surface.
type solid struct {
	mesh mesh.Mesh
	at   map[mgl64.Vec3]int32
}

func newSolid(name string) *solid {
	return &solid{mesh: mesh.Mesh{Name: name}, at: map[mgl64.Vec3]int32{}}
}

func (s *solid) point(p mgl64.Vec3) int32 {
	i, ok := s.at[p]
	if !ok {
		i = int32(len(s.mesh.Points))
		s.at[p] = i
		s.mesh.Points = append(s.mesh.Points, p)
	}
	return i
}

// face adds a convex polygon, counter-clockwise seen from outside.
func (s *solid) face(ps ...mgl64.Vec3) {
	for i := 2; i < len(ps); i++ {
		s.mesh.Triangles = append(s.mesh.Triangles, [3]int32{s.point(ps[0]), s.point(ps[i-1]), s.point(ps[i])})
	}
}

// carved returns the union of the boxes to add without those to remove, as a surface on the grid of all their faces.
func carved(name string, add, remove []box) *solid {
	var cuts [3][]float64
	for _, b := range slices.Concat(add, remove) {
		for k := range 3 {
			cuts[k] = append(cuts[k], b[k], b[k+3])
		}
	}
	for k := range 3 {
		slices.Sort(cuts[k])
		cuts[k] = slices.Compact(cuts[k])
	}
	full := func(c [3]int) bool {
		var mid mgl64.Vec3
		for k := range 3 {
			if c[k] < 0 || c[k] >= len(cuts[k])-1 {
				return false
			}
			mid[k] = (cuts[k][c[k]] + cuts[k][c[k]+1]) / 2
		}
		in := func(b box) bool { return b.holds(mid) }
		return slices.ContainsFunc(add, in) && !slices.ContainsFunc(remove, in)
	}
	s := newSolid(name)
	for i := range len(cuts[0]) - 1 {
		for j := range len(cuts[1]) - 1 {
			for l := range len(cuts[2]) - 1 {
				c := [3]int{i, j, l}
				for axis := 0; full(c) && axis < 3; axis++ {
					for side := range 2 {
						next := c
						next[axis] += 2*side - 1
						if !full(next) {
							s.cellFace(cuts, c, axis, side)
						}
					}
				}
			}
		}
	}
	return s
}

// cellFace adds one side of a grid cell.
func (s *solid) cellFace(cuts [3][]float64, c [3]int, axis, side int) {
	a, b := (axis+1)%3, (axis+2)%3
	at := func(da, db int) mgl64.Vec3 {
		var p mgl64.Vec3
		p[axis], p[a], p[b] = cuts[axis][c[axis]+side], cuts[a][c[a]+da], cuts[b][c[b]+db]
		return p
	}
	if side == 1 {
		s.face(at(0, 0), at(1, 0), at(1, 1), at(0, 1))
	} else {
		s.face(at(0, 0), at(0, 1), at(1, 1), at(1, 0))
	}
}

// round returns a cylinder of n sides about the y axis between y0 and y1; its corners lie on the circle.
func round(name string, diameter, y0, y1 float64, n int) *solid {
	s := newSolid(name)
	at := func(k int, y float64) mgl64.Vec3 {
		sin, cos := math.Sincos(2 * math.Pi * float64(k%n) / float64(n))
		return mgl64.Vec3{diameter / 2 * cos, y, diameter / 2 * sin}
	}
	var low, high []mgl64.Vec3
	for k := range n {
		s.face(at(k, y0), at(k, y1), at(k+1, y1), at(k+1, y0))
		low, high = append(low, at(k, y0)), append(high, at(k, y1))
	}
	slices.Reverse(high)
	s.face(low...)
	s.face(high...)
	return s
}

// scaled returns the solid with all lengths times k.
func (s *solid) scaled(k float64) *solid {
	for i := range s.mesh.Points {
		s.mesh.Points[i] = s.mesh.Points[i].Mul(k)
	}
	return s
}

// without returns the solid without some of its triangles: a skin that is not closed.
func (s *solid) without(drop func(a, b, c mgl64.Vec3) bool) *solid {
	p := s.mesh.Points
	s.mesh.Triangles = slices.DeleteFunc(s.mesh.Triangles, func(t [3]int32) bool { return drop(p[t[0]], p[t[1]], p[t[2]]) })
	return s
}

// text returns the solid as a text STL.
func (s *solid) text() []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "solid %s\n", s.mesh.Name)
	for _, t := range s.mesh.Triangles {
		b.WriteString("  facet normal 0 0 0\n    outer loop\n")
		for _, i := range t {
			p := s.mesh.Points[i]
			fmt.Fprintf(&b, "      vertex %g %g %g\n", p[0], p[1], p[2])
		}
		b.WriteString("    endloop\n  endfacet\n")
	}
	fmt.Fprintf(&b, "endsolid %s\n", s.mesh.Name)
	return []byte(b.String())
}

// meshes returns the mesh files of the good boards.
func meshes() ([]file, error) {
	tray := carved("tray", []box{{-2.5, -2.5, 0, 42.6, 22.5, 12}}, []box{{-1, -1, 1.2, 41.1, 21, 12}, {-2.5, 4.85, 3.2, -1, 15.15, 7.15}})
	vault := carved("vault", []box{{-3, -3, -9, 43, 23, 15}}, []box{{-1.5, -1.5, -7.5, 41.5, 21.5, 13.5}})
	cell := round("cell", 18.4, -3, 62, 48)
	rod := round("rod", 5.2, -5, 25, 120)
	post := carved("post", []box{{0, 0, 0, 8, 4, 10}, {2, 0, 10, 6, 4, 14}}, nil)
	skin := carved("skin", []box{{-5, -5, -5, 65, 25, -3}}, nil).without(func(a, b, c mgl64.Vec3) bool { return max(a[2], b[2], c[2]) == -5 })
	out := []file{{"good/post.stl", post.text()}}
	for _, s := range []*solid{tray, vault.scaled(1 / 25.4), cell, rod, skin} {
		var b bytes.Buffer
		if err := stl.Write(&b, []mesh.Mesh{s.mesh}); err != nil {
			return nil, err
		}
		out = append(out, file{"good/" + s.mesh.Name + ".stl", b.Bytes()})
	}
	return out, nil
}
