package gltf

import (
	"fmt"
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/mesh/clash"
)

// gapNodes returns the names of the nodes below `gaps`.
func gapNodes(r reader) (names []string) {
	for _, n := range r.doc.Nodes {
		if n.Name == "gaps" {
			for _, c := range n.Children {
				names = append(names, r.doc.Nodes[c].Name)
			}
		}
	}
	return names
}

// barEnds returns the middles of both ends of the bar that a gap's line begins with, the end near p first.
func barEnds(points []mgl64.Vec3, p mgl64.Vec3) (a, b mgl64.Vec3) {
	middle := mgl64.Vec3{}
	for _, q := range points[:8] {
		middle = middle.Add(q.Mul(1.0 / 8))
	}
	for _, q := range points[:8] {
		if q.Sub(middle).Dot(p.Sub(middle)) > 0 {
			a = a.Add(q.Mul(0.25))
		} else {
			b = b.Add(q.Mul(0.25))
		}
	}
	return a, b
}

// Each judged gap has a line from one of its points to the other, in the housing's frame, that says what it is.
func TestGapsAreDrawn(t *testing.T) {
	st := oblique3()
	st.place = fold.Placement{Turn: [3]float64{20, -35, 130}, Move: mgl64.Vec3{12, -7, 30}}
	gaps := append(someGaps(), clash.Gap{Between: [2]string{"component:U1", "section:b"}, Kind: "components", Gap: 0.412, Required: 0.3, Judged: true,
		Posture: "folded", At: [2]mgl64.Vec3{{10, 3, 2}, {10.2, 3.1, 2.346}}})
	for _, boardFrame := range []bool{false, true} {
		s := Scene{Assembly: st.assembly(t), Walls: someWalls(), Gaps: gaps, BoardFrame: boardFrame}
		toHousing := mgl64.Ident4()
		if boardFrame {
			toHousing = s.Assembly.Folded.Tree.HousingFromBoard()
		}
		r := written(t, s)
		want := []string{"gap: section:a - enclosure:tray -0.001 mm", "gap: section:a - enclosure:tray 0.10 mm",
			"gap: section:a - enclosure:tray -0.20 mm", "gap: component:U1 - section:b 0.41 mm"}
		names := gapNodes(r)
		if !slices.Equal(names, want) {
			t.Fatalf("%q", names)
		}
		for i, k := range []int{3, 4, 5, 7} {
			g := &gaps[k]
			n := r.doc.Nodes[r.meshNode(names[i])]
			x := n.Extras.(map[string]any)
			if x["gap_mm"] != g.Gap || x["required_mm"] != g.Required || x["posture"] != g.Posture || fmt.Sprint(x["between"]) != fmt.Sprint(g.Between) {
				t.Errorf("%s: %v", n.Name, x)
			}
			var points []mgl64.Vec3
			for _, p := range r.shape(n.Name, -1).points {
				points = append(points, fold.Apply(toHousing, p))
			}
			a, b := barEnds(points, g.At[0])
			if a.Sub(g.At[0]).Len() > 1e-4 || b.Sub(g.At[1]).Len() > 1e-4 {
				t.Errorf("%s: runs from %v to %v", n.Name, a, b)
			}
			look := r.doc.Materials[*r.doc.Meshes[*n.Mesh].Primitives[0].Material].Name
			if short := g.Rule != ""; short != (look == "gap too small") || short != (len(points) == 40) {
				t.Errorf("%s: looks like %q, %d points", n.Name, look, len(points))
			}
		}
	}
}

// Gap lines wait for the end of the animation, and stay a second; at rest they are there. The marks of contacts wait with
// them for the end of a sequence.
func TestGapsAppearAtTheEnd(t *testing.T) {
	s, _ := assembled(t)
	s.Gaps = []clash.Gap{{Between: [2]string{"a", "b"}, Gap: 0.1, Required: 0.2, Judged: true, Rule: "clearance", At: [2]mgl64.Vec3{{20, 5, 9}, {20, 5, 9.1}}},
		{Between: [2]string{"a", "c"}, Gap: -0.1, Judged: true, Rule: "contact"}}
	for _, program := range []*fold.Program{nil, s.Program} {
		s.Program = program
		r := written(t, s)
		last := 0.0
		for _, x := range r.doc.Animations[0].Samplers {
			times, _ := r.floats(x.Input)
			last = max(last, times[len(times)-1])
		}
		for time, there := range map[float64]bool{0: false, last - 1.01: false, last - 1: true, last: true, -1: true} {
			low, high := spread(r.shape("gap: a - b 0.10 mm", time).points)
			if (high.Sub(low).Len() > 0.05) != there {
				t.Errorf("at %g s of %g: %v big", time, last, high.Sub(low))
			}
			low, high = spread(r.shape("contact-1", time).points)
			if (high.Sub(low).Len() > 0.05) != (there || program == nil) {
				t.Errorf("at %g s of %g: a contact is %v big", time, last, high.Sub(low))
			}
		}
	}
}

// A gap line stays close to the scene: it widens its box by one hundredth at most.
func TestGapsWidenLittle(t *testing.T) {
	a := oblique3().assembly(t)
	b, err := newBuilder(Scene{Assembly: a})
	if err != nil {
		t.Fatal(err)
	}
	box := b.bounds()
	size := box.high.Sub(box.low).Len()
	for _, at := range [][2]mgl64.Vec3{{box.low, box.low}, {box.high, box.high.Sub(mgl64.Vec3{0, 0.001, 0})}, {box.low, box.high}} {
		line := gapLine(&clash.Gap{At: at, Rule: "clearance"}, size)
		low, high := spread(line.points)
		for k := range 3 {
			if low[k] < box.low[k]-0.015*size || high[k] > box.high[k]+0.015*size || !finite(line.points) {
				t.Errorf("gap at %v: from %v to %v, the scene from %v to %v", at, low, high, box.low, box.high)
			}
		}
	}
}

// A label has as many decimals as tell the gap from what is required, and names the seat.
func TestGapLabels(t *testing.T) {
	for want, g := range map[string]clash.Gap{
		"gap: a - b 0.20 mm":                {Gap: 0.2, Required: 0.2},
		"gap: a - b 0.1996 mm":              {Gap: 0.1996, Required: 0.2},
		"gap: a - b 0.000 mm":               {Gap: -0.0004, Required: 0.2},
		"gap: a - b 0.035 mm":               {Gap: 0.034835, Required: 0.2},
		"gap: a - b 0.00 mm":                {Required: 0.2},
		"gap at seat boss-1: a - b 0.30 mm": {Gap: 0.3, Seat: "boss-1"},
	} {
		g.Between = [2]string{"a", "b"}
		if got := gapName(&g); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
