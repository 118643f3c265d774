package mesh

import (
	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
)

// Moved returns m after a rigid motion; triangles are shared with m, points and normals are new.
func (m Mesh) Moved(motion mgl64.Mat4) Mesh {
	out := m
	out.Points = make([]mgl64.Vec3, len(m.Points))
	for i, p := range m.Points {
		out.Points[i] = fold.Apply(motion, p)
	}
	if m.Normals == nil {
		return out
	}
	out.Normals = make([][3]mgl64.Vec3, len(m.Normals))
	for i, n := range m.Normals {
		out.Normals[i] = [3]mgl64.Vec3{fold.Turn(motion, n[0]), fold.Turn(motion, n[1]), fold.Turn(motion, n[2])}
	}
	return out
}
