package gltf

import (
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/bending"
	"foldfit/mesh"
)

// A scene with free shapes stands as its assembly does, with everything on it, and does not move.
func TestFreeShapes(t *testing.T) {
	for _, name := range []string{"strip", "placed"} {
		drawn := skinned(t, designs(t)[name], 0.01)
		free, kept := bending.Relax(drawn.Folded, func(int) bool { return true })
		if len(kept) > 0 {
			t.Fatal(kept)
		}
		a, err := mesh.Skin(free, 0.01)
		if err != nil {
			t.Fatal(err)
		}
		r := written(t, Scene{Assembly: a})
		place := a.Folded.Tree.HousingFromBoard()
		compare(t, r, a, -1, 2e-5, func(b *mesh.Body) []mgl64.Vec3 { return applied(place, b.Points) })
		checkClosed(t, r, a, mgl64.Ident4())
		checkTold(t, r, a)
		if len(r.doc.Animations) > 0 {
			t.Errorf("%s: the scene moves", name)
		}
		x := r.doc.Nodes[r.meshNode("bend:neck")].Extras.(map[string]any)
		if x["shape"] != "free" || x["inside_radius_mm"] != nil {
			t.Errorf("%s: the file says %v of its free bend", name, x)
		}
	}
}
