package mesh

import (
	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
)

// Mesh is a named triangle surface. Points are welded by identity: neighbours share indices. Triangles run
// counter-clockwise seen from outside.
type Mesh struct {
	Name      string
	Kind      fold.Kind
	Points    []mgl64.Vec3
	Triangles [][3]int32
	Normals   [][3]mgl64.Vec3 // unit normals at the corners of each triangle, smooth over arcs and cylinders; may be nil
	Chord     float64         // largest distance between the mesh and the true surface, mm
}

// Body is the mesh of one body of a folded board. The embedded Mesh stands in board coordinates.
type Body struct {
	Mesh
	Source      int             // index in Tree.Bodies
	Flat        []mgl64.Vec3    // the same points in flat coordinates
	FlatNormals [][3]mgl64.Vec3 // the same normals in flat coordinates
	Stations    []float64       // bends only: arc lengths from the near tangent line, rising, first 0 (or the least the body has; below 0 in the run-out of a free shape)
	Station     []int32         // bends only: for each point the index of its station
}

// Assembly is a folded board as meshes, one for each of its bodies, in the order of Tree.Bodies.
type Assembly struct {
	Folded *fold.Folded
	Chord  float64
	Bodies []Body
}
