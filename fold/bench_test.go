package fold

import (
	"fmt"
	"math"
	"testing"

	"foldfit/fold/flat"
)

// sawtooth returns an outline of 100 x 50 mm with n vertices, most of them teeth along its long sides.
func sawtooth(n int) []flat.Vertex {
	k := (n - 4) / 2
	out := pts(0, 0)
	for i := range k {
		out = append(out, pts(100*(float64(i)+0.5)/float64(k), 0.1*float64(i%2))...)
	}
	out = append(out, pts(100, 0, 100, 50)...)
	for i := range k {
		out = append(out, pts(100*(1-(float64(i)+0.5)/float64(k)), 50-0.1*float64(i%2))...)
	}
	return append(out, pts(0, 50)...)
}

func benchDivide(b *testing.B, d *Design) {
	for b.Loop() {
		if tree, ps := Divide(d); ps != nil || !tree.Foldable {
			b.Fatal(ps)
		}
	}
}

// A dense imported outline: 10000 vertices, three hinges, five sections.
func BenchmarkDivide10000(b *testing.B) {
	s := spec{outline: sawtooth(10000), base: "a"}
	for i, x := range []float64{20, 45, 80} {
		s.hinges = append(s.hinges, hinge(string(rune('x'+i)), x+1, -2, x-1, 52))
	}
	for i, x := range [][2]float64{{-1, 15}, {25, 40}, {50, 60}, {60, 70}, {85, 101}} {
		s.areas = append(s.areas, area{string(rune('a' + i)), rect(x[0], -1, x[1], 51), true, 1, nil})
	}
	benchDivide(b, s.design(b))
}

// 400 cutouts and two oblique hinges.
func BenchmarkDivide400Cutouts(b *testing.B) {
	s := spec{outline: box(0, 0, 100, 100), base: at11}
	for i := range 400 {
		s.cutouts = append(s.cutouts, disc(2.5+5*float64(i%20), 2.5+5*float64(i/20), 2))
	}
	s.hinges = []Hinge{hinge("n", -10, 15, 110, 50, 90, 2), hinge("o", -10, 55, 110, 90, 90, 2)}
	benchDivide(b, s.design(b))
}

// A large assembly: 20 hinges, 1000 components, an outline of 1000 vertices.
func BenchmarkDivide1000Components(b *testing.B) {
	s := spec{outline: sawtooth(1000), base: at11}
	for i := range 20 {
		x := 2.5 + 5*float64(i)
		s.hinges = append(s.hinges, hinge(fmt.Sprintf("h%d", i), x, -1, x, 51, 45, 1))
	}
	d := s.design(b)
	height := 1.0
	for i := range 1000 {
		at := flat.Pt{X: 5*float64(i%20) + 0.5, Y: 1 + 48*float64(i/20)/50}
		d.Components = append(d.Components, Component{Name: fmt.Sprintf("U%d", i), At: at, Size: &[2]float64{0.4, 0.4}, Height: &height, Turn: 90 * math.Mod(float64(i), 4)})
	}
	benchDivide(b, d)
}
