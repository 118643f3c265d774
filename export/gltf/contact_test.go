package gltf

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	lib "github.com/qmuntal/gltf"

	"foldfit/fold"
	"foldfit/mesh"
	"foldfit/mesh/clash"
)

// box returns a closed box as a wall's mesh.
func box(name string, low, high mgl64.Vec3) mesh.Mesh {
	var b bars
	mid := low.Add(high).Mul(0.5)
	b.bar(mgl64.Vec3{mid[0], mid[1], -1}, mgl64.Vec3{mid[0], mid[1], 1}, 1)
	for i, p := range b.points {
		for k := range 3 {
			if p[k] < mid[k] && k < 2 || k == 2 && p[k] < 0 {
				p[k] = low[k]
			} else {
				p[k] = high[k]
			}
		}
		b.points[i] = p
	}
	return mesh.Mesh{Name: name, Kind: fold.KindEnclosure, Points: b.points, Triangles: b.triangles}
}

func someWalls() []clash.Wall {
	return []clash.Wall{
		{Piece: &fold.Piece{Name: "tray", Role: "housing"}, Mesh: box("enclosure:tray", mgl64.Vec3{-5, -5, -3}, mgl64.Vec3{50, 25, -1}), Closed: true},
		{Mesh: box("enclosure:cell", mgl64.Vec3{2, 2, 1}, mgl64.Vec3{10, 10, 4})},
	}
}

func someGaps() []clash.Gap {
	pair := func(gap, required float64, judged bool, rule string) clash.Gap {
		return clash.Gap{Between: [2]string{"section:a", "enclosure:tray"}, Gap: gap, Required: required, Judged: judged, Rule: rule,
			At: [2]mgl64.Vec3{{30, 4, 5}, {30.5, 4, 5}}}
	}
	return []clash.Gap{
		pair(-0.5, 0.2, true, "contact"),      // contact
		pair(-0.4, 0, false, ""),              // the layout's business
		pair(-0.3, 0, true, "contact"),        // contact
		pair(-0.0005, 0.1, true, "clearance"), // touching
		pair(0.1, 0.2, true, "clearance"),     // too near, no contact
		pair(-0.2, -0.2, true, ""),            // overlap that the design allows
		pair(-0.25, -0.2, true, "contact"),    // more than it allows: contact
	}
}

func TestContactsAreMarked(t *testing.T) {
	a := oblique3()
	a.place = fold.Placement{Turn: [3]float64{20, -35, 130}, Move: mgl64.Vec3{12, -7, 30}}
	for _, boardFrame := range []bool{false, true} {
		s := Scene{Assembly: a.assembly(t), Walls: someWalls(), Gaps: someGaps(), BoardFrame: boardFrame}
		r := written(t, s)
		toHousing := mgl64.Ident4()
		if boardFrame {
			toHousing = s.Assembly.Folded.Tree.HousingFromBoard()
		}
		for i, depth := range []float64{0.5, 0.3, 0.25} {
			name := fmt.Sprintf("contact-%d", i+1)
			x := r.doc.Nodes[r.meshNode(name)].Extras.(map[string]any)
			if x["depth_mm"] != depth || fmt.Sprint(x["between"]) != "[section:a enclosure:tray]" {
				t.Errorf("%s: extras %v", name, x)
			}
			// The octahedron is the mark's first 12 bars; its middle is the middle of the two nearest points.
			sum := mgl64.Vec3{}
			for _, p := range r.shape(name, -1).points[:12*8] {
				sum = sum.Add(fold.Apply(toHousing, p))
			}
			if mid := sum.Mul(1.0 / (12 * 8)); mid.Sub(mgl64.Vec3{30.25, 4, 5}).Len() > 1e-3 {
				t.Errorf("%s stands at %v", name, mid)
			}
		}
		for _, n := range r.doc.Nodes {
			if n.Name == "contact-4" {
				t.Error("a fourth mark")
			}
		}
	}
}

func TestNoContactsNoMarks(t *testing.T) {
	r := written(t, Scene{Assembly: oblique3().assembly(t), Gaps: someGaps()[3:6]})
	for _, n := range r.doc.Nodes {
		if n.Name == "contacts" {
			t.Error("marks without a contact")
		}
	}
}

// However many contacts there are, the marks stay few and the file tells the rest.
func TestMarksAreLimited(t *testing.T) {
	gaps := make([]clash.Gap, 5000)
	for i := range gaps {
		gaps[i] = clash.Gap{Gap: -1, Judged: true, Rule: "contact"}
	}
	r := written(t, Scene{Assembly: oblique3().assembly(t), Gaps: gaps})
	for _, n := range r.doc.Nodes {
		if n.Name == "contacts" {
			x := n.Extras.(map[string]any)
			if x["count"] != 5000.0 || x["marked"] != 99.0 || len(n.Children) != 99 {
				t.Errorf("%v, %d marks", x, len(n.Children))
			}
			return
		}
	}
	t.Error("no marks")
}

func TestWallsStandInTheHousing(t *testing.T) {
	st := oblique3()
	st.place = fold.Placement{Turn: [3]float64{20, -35, 130}, Move: mgl64.Vec3{12, -7, 30}}
	a := st.assembly(t)
	for _, boardFrame := range []bool{false, true} {
		r := written(t, Scene{Assembly: a, Walls: someWalls(), BoardFrame: boardFrame})
		sceneFromHousing := mgl64.Ident4()
		if boardFrame {
			sceneFromHousing = fold.Invert(a.Folded.Tree.HousingFromBoard())
		}
		for _, w := range someWalls() {
			s := r.shape(w.Mesh.Name, -1)
			if len(s.points) != len(w.Mesh.Points) || s.normals != nil {
				t.Fatalf("%s: %d vertices, normals %v", w.Mesh.Name, len(s.points), s.normals)
			}
			// Vertices come in the order in which the triangles first name them.
			for k, i := range s.triangles {
				want := fold.Apply(sceneFromHousing, w.Mesh.Points[w.Mesh.Triangles[k/3][k%3]])
				if s.points[i].Sub(want).Len() > 1e-5 {
					t.Fatalf("%s: corner %d at %v, want %v", w.Mesh.Name, k, s.points[i], want)
				}
			}
		}
		m := r.doc.Materials[*r.doc.Meshes[*r.doc.Nodes[r.meshNode("enclosure:tray")].Mesh].Primitives[0].Material]
		if m.AlphaMode != lib.AlphaBlend || !m.DoubleSided {
			t.Error("the enclosure hides the board")
		}
	}
}

// Strokes of digits are closed bars whose faces look outward, wherever they point.
func TestBarsAreClosed(t *testing.T) {
	for _, to := range []mgl64.Vec3{{1, 0, 0}, {0, 2, 0}, {0, 0, -3}, {1, 1, 1}, {-1, 0.1, 0}} {
		var b bars
		at := mgl64.Vec3{3, 4, 5}
		b.bar(at, at.Add(to), 0.5)
		if v := meshVolume(b.points, b.triangles); math.Abs(v-to.Len()) > 1e-12 {
			t.Errorf("bar along %v: volume %g, want %g", to, v, to.Len())
		}
	}
}

// Ten digits, ten pictures; seen from each side the number reads from left to right.
func TestDigits(t *testing.T) {
	seen := map[string]bool{}
	for d := range 10 {
		seen[fmt.Sprint(digitStrokes[d])] = true
	}
	if len(seen) != 10 {
		t.Errorf("%d different digits", len(seen))
	}
	for side := range 4 {
		var one, ten bars
		one.digits("1", mgl64.Vec3{}, side, 1, 1, 0.01)
		ten.digits("10", mgl64.Vec3{}, side, 1, 1, 0.01)
		shift := ten.points[0].Sub(one.points[0]) // the 1 of 10 stands to the left of a lone 1
		outward := one.points[0].Add(one.points[6])
		outward[2] = 0
		right := mgl64.Vec3{0, 0, 1}.Cross(outward)
		if shift.Dot(right) >= 0 {
			t.Errorf("side %d: tens stand on the right", side)
		}
	}
}

// A triangle that names a point twice is left out; the rest stays closed. Large meshes get wide indices.
func TestSplit(t *testing.T) {
	m := box("b", mgl64.Vec3{0, 0, 0}, mgl64.Vec3{1, 1, 1})
	m.Triangles = append(m.Triangles, [3]int32{2, 2, 5})
	if s := split(m.Points, m.Triangles, nil); len(s.indices) != 36 || len(s.points) != 8 {
		t.Errorf("%d indices, %d vertices", len(s.indices), len(s.points))
	}
	for _, n := range []int{65535, 65536, 65537} {
		var wall mesh.Mesh
		for i := range n - 2 {
			wall.Triangles = append(wall.Triangles, [3]int32{int32(i), int32(i + 1), int32(i + 2)})
		}
		for i := range n {
			wall.Points = append(wall.Points, mgl64.Vec3{float64(i % 2), float64(i) / 100, 0})
		}
		r := written(t, Scene{Assembly: oblique3().assembly(t), Walls: []clash.Wall{{Piece: &fold.Piece{Name: "big"}, Mesh: wall}}})
		p := r.doc.Meshes[len(r.doc.Meshes)-1].Primitives[0]
		largest := 0
		for _, i := range r.integers(*p.Indices) {
			largest = max(largest, i)
		}
		wide := r.doc.Accessors[*p.Indices].ComponentType == lib.ComponentUint
		if largest != n-1 || wide != (n > 65535) {
			t.Errorf("%d vertices: largest index %d, wide %v", n, largest, wide)
		}
	}
	var buf bytes.Buffer
	if err := Write(&buf, Scene{Assembly: oblique3().assembly(t), Walls: []clash.Wall{{Mesh: mesh.Mesh{Name: "enclosure:none"}}}}); err == nil {
		t.Error("an empty wall was written")
	}
}
