package mesh

import (
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

func boxMesh(boxes [][6]float64) Mesh {
	b := unionOfBoxes(boxes)
	return Mesh{Name: "boxes", Points: b.points, Triangles: b.triangles, Normals: b.normals}
}

func TestUnionOfBoxes(t *testing.T) {
	for _, c := range []struct {
		name         string
		boxes        [][6]float64
		volume, area float64
		euler        int
	}{
		{"one", [][6]float64{{0, 0, 0, 1, 2, 3}}, 6, 22, 2},
		{"corners swapped", [][6]float64{{1, 2, 3, 0, 0, 0}}, 6, 22, 2},
		{"side by side", [][6]float64{{0, 0, 0, 1, 2, 3}, {1, 0, 0, 2, 2, 3}}, 12, 32, 2},
		{"side by side to rounding", [][6]float64{{0, 0, 0, 0.1 + 0.2, 1, 1}, {0.3, 0, 0, 0.6, 1, 1}}, 0.6, 4.4, 2},
		{"one in another", [][6]float64{{0, 0, 0, 9, 9, 9}, {2, 2, 2, 3, 3, 3}}, 729, 486, 2},
		{"crossing", [][6]float64{{0, 1, 1, 3, 2, 2}, {1, 0, 1, 2, 3, 2}, {1, 1, 0, 2, 2, 3}}, 7, 30, 2},
		{"apart", [][6]float64{{0, 0, 0, 1, 1, 1}, {2, 0, 0, 3, 1, 1}}, 2, 12, 4},
		{"along an edge", [][6]float64{{0, 0, 0, 1, 1, 1}, {1, 1, 0, 2, 2, 1}}, 2, 12, 4},
		{"at a corner", [][6]float64{{0, 0, 0, 1, 1, 1}, {1, 1, 1, 2, 2, 2}}, 2, 12, 4},
		{"frame", [][6]float64{{0, 0, 0, 3, 1, 1}, {0, 2, 0, 3, 3, 1}, {0, 0, 0, 1, 3, 1}, {2, 0, 0, 3, 3, 1}}, 8, 32, 0},
		{"hollow", [][6]float64{{0, 0, 0, 3, 3, 1}, {0, 0, 2, 3, 3, 3}, {0, 0, 0, 1, 3, 3}, {2, 0, 0, 3, 3, 3}, {0, 0, 0, 3, 1, 3}, {0, 2, 0, 3, 3, 3}}, 26, 60, 4},
		{"diagonal posts between plates", [][6]float64{{0, 0, 0, 2, 2, 1}, {0, 0, 2, 2, 2, 3}, {0, 0, 0, 1, 1, 3}, {1, 1, 0, 2, 2, 3}}, 10, 36, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := boxMesh(c.boxes)
			if err := m.Check(); err != nil {
				t.Fatal(err)
			}
			near(t, "volume", m.Volume(), c.volume, 1e-12)
			near(t, "area", m.Area(), c.area, 1e-12)
			if e := euler(m); e != c.euler {
				t.Errorf("Euler characteristic %d, want %d", e, c.euler)
			}
		})
	}
}

func TestUnionOfRandomBoxes(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 1))
	for range 1500 {
		var boxes [][6]float64
		full := map[[3]int]bool{}
		for range 1 + rnd.IntN(7) {
			var b [6]float64
			for k := range 3 {
				b[k] = float64(rnd.IntN(4))
				b[k+3] = b[k] + float64(1+rnd.IntN(2))
			}
			boxes = append(boxes, b)
			for x := b[0]; x < b[3]; x++ {
				for y := b[1]; y < b[4]; y++ {
					for z := b[2]; z < b[5]; z++ {
						full[[3]int{int(x), int(y), int(z)}] = true
					}
				}
			}
		}
		area := 0
		for c := range full {
			for k := range 3 {
				for _, d := range [2]int{-1, 1} {
					n := c
					n[k] += d
					if !full[n] {
						area++
					}
				}
			}
		}
		m := boxMesh(boxes)
		if err := m.Check(); err != nil {
			t.Fatal(err, boxes)
		}
		near(t, "volume", m.Volume(), float64(len(full)), 1e-9)
		near(t, "area", m.Area(), float64(area), 1e-9)
	}
}

// A connector of two boxes, turned by 90 degrees on a flat that stands at an angle of 90: its box is where it must be.
func TestBoxesPlaced(t *testing.T) {
	tree := bendTree(flat.Region{rect(0, 0, 1, 1)}, flat.Pt{}, flat.Pt{X: 1}, 1, 90, [2]float64{-0.1, 0.1}, 0)
	tree.Bodies = []fold.Body{{Name: "component:J1", Kind: fold.KindComponent, Flat: -1, Bend: 0, At: flat.Pt{X: 1, Y: 5}, Turn: 90,
		Boxes: [][6]float64{{-1, -2, 0.1, 1, 2, 1.1}, {1, -2, 0.1, 3, 2, 0.6}}}}
	b := skin(t, tree, 1, 0.01).Bodies[0]
	if err := b.Check(); err != nil {
		t.Fatal(err)
	}
	near(t, "volume", b.Volume(), 12, 1e-12)
	low, high := Mesh{Points: b.Flat}.Box()
	for k, want := range [6]float64{-1, 4, 0.1, 3, 8, 1.1} {
		near(t, "box in the flat", [6]float64{low[0], low[1], low[2], high[0], high[1], high[2]}[k], want, 1e-12)
	}
	f := tree.Bends[0].Width / (math90) // neutral radius: the tangent plane at s = w stands at x = rho, z = rho
	low, high = b.Box()
	for k, want := range [6]float64{f - 1.1, 4, f - 2, f - 0.1, 8, f + 2} {
		near(t, "box on the board", [6]float64{low[0], low[1], low[2], high[0], high[1], high[2]}[k], want, 1e-12)
	}
	if n := b.Normals[0][0]; n.Sub(fold.Turn(tree.Bends[0].NearFromStation(90, 1), b.FlatNormals[0][0])).Len() > 1e-15 {
		t.Error("normals do not turn with the body")
	}
}

const math90 = 1.5707963267948966

func TestMeasures(t *testing.T) {
	m := boxMesh([][6]float64{{1, 2, 3, 2, 4, 6}})
	low, high := m.Box()
	if low != (mgl64.Vec3{1, 2, 3}) || high != (mgl64.Vec3{2, 4, 6}) {
		t.Errorf("box %v %v", low, high)
	}
	moved := m.Place(fold.RigidMotion([3]float64{30, -70, 200}, mgl64.Vec3{5, 6, 7}))
	near(t, "volume moved", moved.Volume(), m.Volume(), 1e-12)
	near(t, "area moved", moved.Area(), m.Area(), 1e-12)
	if err := moved.Check(); err != nil {
		t.Error(err)
	}
	for i, tr := range moved.Triangles {
		n := moved.Points[tr[1]].Sub(moved.Points[tr[0]]).Cross(moved.Points[tr[2]].Sub(moved.Points[tr[0]])).Normalize()
		if n.Sub(moved.Normals[i][0]).Len() > 1e-12 {
			t.Fatalf("normal %v of a face with normal %v", moved.Normals[i][0], n)
		}
	}
	if (Mesh{}).Volume() != 0 || (Mesh{}).Area() != 0 {
		t.Error("an empty mesh has no volume and no area")
	}
}

func TestCheckRefuses(t *testing.T) {
	for name, spoil := range map[string]func(m *Mesh){
		"open":         func(m *Mesh) { m.Triangles = m.Triangles[1:] },
		"turned over":  func(m *Mesh) { m.Triangles[0][0], m.Triangles[0][1] = m.Triangles[0][1], m.Triangles[0][0] },
		"inside out":   func(m *Mesh) { m.insideOut() },
		"twice":        func(m *Mesh) { m.Triangles = append(m.Triangles, m.Triangles...) },
		"no triangle":  func(m *Mesh) { m.Triangles[0][0] = m.Triangles[0][1] },
		"out of range": func(m *Mesh) { m.Triangles[0][0] = 99 },
		"negative":     func(m *Mesh) { m.Triangles[0][0] = -1 },
		"not a number": func(m *Mesh) { m.Points[0][0] /= m.Points[0][0] },
		"empty":        func(m *Mesh) { *m = Mesh{} },
	} {
		m := boxMesh([][6]float64{{0, 0, 0, 1, 1, 1}})
		if spoil(&m); m.Check() == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func (m *Mesh) insideOut() {
	for i := range m.Triangles {
		m.Triangles[i][0], m.Triangles[i][1] = m.Triangles[i][1], m.Triangles[i][0]
	}
}
