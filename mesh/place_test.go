package mesh

import (
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
)

func TestPlace(t *testing.T) {
	m := Mesh{
		Name: "a", Points: []mgl64.Vec3{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, Triangles: [][3]int32{{0, 1, 2}},
		Normals: [][3]mgl64.Vec3{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}},
	}
	got := m.Place(fold.RigidMotion([3]float64{0, 0, 90}, mgl64.Vec3{10, 0, 0}))
	if want := (mgl64.Vec3{10, 1, 0}); got.Points[0] != want {
		t.Errorf("point %v, want %v: a quarter turn about z, then 10 along x", got.Points[0], want)
	}
	if want := (mgl64.Vec3{0, 1, 0}); got.Normals[0][0] != want {
		t.Errorf("normal %v, want %v: directions are turned, not shifted", got.Normals[0][0], want)
	}
	if m.Points[0] != (mgl64.Vec3{1, 0, 0}) || got.Name != "a" || got.Triangles[0] != m.Triangles[0] {
		t.Error("the mesh itself was changed, or lost something")
	}
}
