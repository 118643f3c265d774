package former

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// board is a strip with two rigid sections on either side of one bend.
type board struct {
	angle, radius float64
	near, far     float64 // straight flex beside the bend; 0 = 3
	slant         float64 // by how much the ends of the hinge line are moved, to either side
	wings         float64 // by how much the sections are wider than the flex, on either side
	parts         float64 // height of the components that stand on both sections, inside the bend; 0 = none
	reversed      bool    // the base is the section that else comes last
	formed        string
	layers        []stackup.Layer
}

// rect returns the loop of a rectangle.
func rect(x0, y0, x1, y1 float64) flat.Loop {
	l, _ := flat.Rect(x0, y0, x1, y1, 0)
	return l
}

// strip builds the board: sections 15 long, flex 10 wide and 0.2 thick unless layers say otherwise.
func strip(t testing.TB, s board) *fold.Tree {
	t.Helper()
	flex := stackup.Stackup{Name: "flex", CopperLayers: -1, Layers: []stackup.Layer{{Thickness: 0.2, Modulus: 1}}}
	if s.layers != nil {
		flex.Layers = s.layers
	}
	if s.near == 0 {
		s.near, s.far = 3, 3
	}
	side, inside := fold.Top, stackup.Top
	if s.angle < 0 {
		side, inside = fold.Bottom, stackup.Bottom
	}
	width := (s.radius + flex.Inner(inside)) * math.Abs(s.angle) * math.Pi / 180
	from, w := 15+s.near, s.wings
	to := from + width + s.far
	end := to + 15
	outline, _ := flat.Build([]flat.Vertex{{P: flat.Pt{X: 0, Y: -w}}, {P: flat.Pt{X: 15, Y: -w}}, {P: flat.Pt{X: 15}}, {P: flat.Pt{X: to}}, {P: flat.Pt{X: to, Y: -w}},
		{P: flat.Pt{X: end, Y: -w}}, {P: flat.Pt{X: end, Y: 10 + w}}, {P: flat.Pt{X: to, Y: 10 + w}}, {P: flat.Pt{X: to, Y: 10}}, {P: flat.Pt{X: 15, Y: 10}},
		{P: flat.Pt{X: 15, Y: 10 + w}}, {P: flat.Pt{X: 0, Y: 10 + w}}})
	if w == 0 {
		outline = rect(0, 0, end, 10)
	}
	d := &fold.Design{Outline: outline, Flex: "flex", Loop: fold.DefaultLoop,
		Stackups: []stackup.Stackup{flex, {Name: "hard", Rigid: true, Layers: []stackup.Layer{{Thickness: 0.8, Modulus: 22}}, CopperLayers: -1}},
		Hinges:   []fold.Hinge{{Name: "neck", Line: [2]flat.Pt{{X: from + width/2 - s.slant}, {X: from + width/2 + s.slant, Y: 10}}, Angle: s.angle, Radius: s.radius, Written: 1, Formed: s.formed}},
		Sections: []fold.Section{{Name: "a", Stackup: "hard", Area: rect(0, -w, 15, 10+w)}, {Name: "b", Stackup: "hard", Area: rect(to, -w, end, 10+w)}},
		Base:     fold.Base{Section: "a"}}
	if s.reversed {
		d.Base.Section = "b"
	}
	for i, x := range []float64{7, end - 7} {
		if s.parts > 0 {
			d.Components = append(d.Components, fold.Component{Name: "U" + string(rune('1'+i)), Side: side, At: flat.Pt{X: x, Y: 5}, Size: &[2]float64{10, 8}, Height: &s.parts})
		}
	}
	tree, problems := fold.Divide(d)
	if problems != nil || !tree.Foldable || len(tree.Bends) != 1 {
		t.Fatalf("no board: %v", problems)
	}
	return tree
}

// blocks builds all blocks of a board; there must be n.
func blocks(t testing.TB, tree *fold.Tree, o Options, n int) []Block {
	t.Helper()
	specs, refused := Specs(tree, o)
	if len(specs) != n {
		t.Fatalf("%d blocks, want %d; refused: %v", len(specs), n, refused)
	}
	var out []Block
	for _, s := range specs {
		b, err := Build(s, dash, chord)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, b)
	}
	return out
}

// dash is a pen for tests that writes two strokes for each word.
func dash(line string, size float64) [][2]flat.Pt {
	wide := 0.6 * size * float64(len([]rune(line)))
	return [][2]flat.Pt{{{}, {X: wide}}, {{X: wide / 2}, {X: wide / 2, Y: 0.7 * size}}}
}

// chord is the chord of the tests' noses.
const chord = 0.01

// shapes are boards of all kinds of blocks.
var shapes = map[string]board{
	"30": {angle: 30, radius: 3}, "90": {angle: 90, radius: 1}, "90 bottom": {angle: -90, radius: 1, wings: 4}, "90 parts": {angle: 90, radius: 2, near: 6, far: 5, parts: 1.5},
	"120 tall parts": {angle: 120, radius: 2, parts: 4, wings: 3}, "135": {angle: 135, radius: 0.6, near: 2, far: 7, reversed: true}, "180": {angle: 180, radius: 1.5, wings: 5, parts: 1},
	"180 bottom": {angle: -180, radius: 2, near: 9, far: 1.2}, "short": {angle: 90, radius: 1, near: 1.2, far: 1.2}, "wide": {angle: 100, radius: 12, near: 30, far: 20}, "5": {angle: 5, radius: 20},
	"slanted": {angle: 60, radius: 2, near: 6, far: 6, slant: 2, wings: 3}, "slanted back": {angle: -180, radius: 2, near: 7, far: 7, slant: -2},
	"bar": {angle: 90, radius: 2, wings: 70, parts: 4},
}

// depthIn returns how deep a point lies in a closed mesh: the distance to its surface if a ray to one side crosses it an odd number of
// times, else 0.
func depthIn(m []([3]mgl64.Vec3), p mgl64.Vec3) float64 {
	ray := mgl64.Vec3{0.8017, 0.3419, 0.4902}
	odd, least := false, math.Inf(1)
	for _, t := range m {
		if meets(t, p, ray) {
			odd = !odd
		}
	}
	if !odd {
		return 0
	}
	for _, t := range m {
		least = min(least, distanceTo(t, p))
	}
	return least
}

// meets reports whether a ray from p crosses a triangle.
func meets(t [3]mgl64.Vec3, p, ray mgl64.Vec3) bool {
	e, f, s := t[1].Sub(t[0]), t[2].Sub(t[0]), p.Sub(t[0])
	h := ray.Cross(f)
	det := e.Dot(h)
	if math.Abs(det) < 1e-12 {
		return false
	}
	u, q := s.Dot(h)/det, s.Cross(e)
	v := ray.Dot(q) / det
	return u >= 0 && v >= 0 && u+v <= 1 && f.Dot(q)/det > 0
}

// distanceTo returns the distance from p to a triangle: to its plane where the foot lies within, else to a side.
func distanceTo(t [3]mgl64.Vec3, p mgl64.Vec3) float64 {
	n := t[1].Sub(t[0]).Cross(t[2].Sub(t[0]))
	within, least := true, math.Inf(1)
	for k := range 3 {
		a, b := t[k], t[(k+1)%3]
		within = within && n.Dot(b.Sub(a).Cross(p.Sub(a))) >= 0
		d := b.Sub(a)
		f := max(0, min(1, p.Sub(a).Dot(d)/d.Dot(d)))
		least = min(least, p.Sub(a.Add(d.Mul(f))).Len())
	}
	if within {
		return math.Abs(p.Sub(t[0]).Dot(n.Normalize()))
	}
	return least
}
