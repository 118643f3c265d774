package enclosure

import (
	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/mesh"
)

// boxFaces lists the corners of each face of a box, counter-clockwise seen from outside. Bit k of a corner's number says
// whether it lies at the high end of axis k. Face 2k is the low end of axis k, face 2k+1 the high end.
var boxFaces = [6][4]int32{{0, 4, 6, 2}, {1, 3, 7, 5}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 2, 3, 1}, {4, 5, 7, 6}}

// Box returns the closed, outward oriented box between two opposite corners, in whatever order they are given. It is
// exact: its chord error is 0. A box without extent along an axis is a doubled rectangle and encloses nothing.
func Box(name string, lo, hi mgl64.Vec3) mesh.Mesh {
	m := mesh.Mesh{Name: name, Kind: fold.KindEnclosure}
	for corner := range 8 {
		var p mgl64.Vec3
		for k := range 3 {
			p[k] = min(lo[k], hi[k])
			if corner>>k&1 == 1 {
				p[k] = max(lo[k], hi[k])
			}
		}
		m.Points = append(m.Points, p)
	}
	for i, f := range boxFaces {
		var n mgl64.Vec3
		n[i/2] = float64(2*(i%2) - 1)
		m.Triangles = append(m.Triangles, [3]int32{f[0], f[1], f[2]}, [3]int32{f[0], f[2], f[3]})
		m.Normals = append(m.Normals, [3]mgl64.Vec3{n, n, n}, [3]mgl64.Vec3{n, n, n})
	}
	return m
}
