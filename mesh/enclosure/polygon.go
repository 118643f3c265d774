package enclosure

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/flat"
	"foldfit/mesh"
)

// mostCorners is the largest number of corners of a face that is not convex; larger ones are fanned as if they were.
const mostCorners = 20_000

// polygonCutter cuts polygons in space into triangles. Its buffers are used again.
type polygonCutter struct {
	crossed int // polygons that could not be cut, and were fanned
	ring    []int32
	flat    []flat.Pt
}

// triangles appends the triangles of a polygon to tris: a fan where the polygon is convex seen along its normal, else a
// triangulation of what is seen. Corners that repeat the one before are left out. The triangles keep every corner.
func (c *polygonCutter) triangles(tris [][3]int32, points []mgl64.Vec3, corners []int32) [][3]int32 {
	ring := c.ring[:0]
	for i, k := range corners {
		if k != corners[(i+1)%len(corners)] {
			ring = append(ring, k)
		}
	}
	c.ring = ring
	if len(ring) > 3 && !c.convex(points, ring) {
		parts, err := c.cut(ring)
		if err == nil {
			for _, t := range parts {
				tris = append(tris, [3]int32{ring[t[0]], ring[t[1]], ring[t[2]]})
			}
			return tris
		}
		c.crossed++
	}
	for i := 1; i+1 < len(ring); i++ {
		tris = append(tris, [3]int32{ring[0], ring[i], ring[i+1]})
	}
	return tris
}

// cut triangulates the flattened ring.
func (c *polygonCutter) cut(ring []int32) ([][3]int32, error) {
	if len(ring) > mostCorners {
		return nil, fmt.Errorf("%d corners", len(ring))
	}
	return mesh.Triangulate([][]flat.Pt{c.flat})
}

// convex flattens the ring along the axis nearest to its normal, counter-clockwise, and reports whether a fan from its
// first corner turns no triangle over.
func (c *polygonCutter) convex(points []mgl64.Vec3, ring []int32) bool {
	var n mgl64.Vec3 // twice the area seen along each axis
	first := points[ring[0]]
	for i := 1; i+1 < len(ring); i++ {
		n = n.Add(points[ring[i]].Sub(first).Cross(points[ring[i+1]].Sub(first)))
	}
	away := 0
	for k := range 3 {
		if math.Abs(n[k]) > math.Abs(n[away]) {
			away = k
		}
	}
	u, v := (away+1)%3, (away+2)%3
	if n[away] < 0 {
		u, v = v, u
	}
	c.flat = c.flat[:0]
	for _, k := range ring {
		c.flat = append(c.flat, flat.Pt{X: points[k][u], Y: points[k][v]})
	}
	for i := 1; i+1 < len(c.flat); i++ {
		if c.flat[i].Sub(c.flat[0]).Cross(c.flat[i+1].Sub(c.flat[0])) <= 0 {
			return false
		}
	}
	return true
}
