package designfile

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// bigBoard returns a realistic big design: an outline of n points with two long edges, components, hinges and a
// layered stack-up.
func bigBoard(points, components int) string {
	var s strings.Builder
	s.WriteString(layered[:strings.Index(layered, "  outer:")])
	fmt.Fprintf(&s, "base: {at: [0, 0]}\nhinges:\n")
	for i := range 20 {
		fmt.Fprintf(&s, "  h%d: {line: [[%d, -200], [%d, 200]], angle: %d, radius: 1.5, toward: bottom, formed: bench}\n", i, 8*i-80, 8*i-80, 5*i)
	}
	s.WriteString("components:\n")
	for i := range components {
		fmt.Fprintf(&s, "  U%d: {side: top, at: [%.3f, %.3f], size: [1.6, 0.8, 0.9], turn: %d, mass: 0.02}\n", i, float64(i%50)-25, float64(i/50)-5, i%4*90)
	}
	out := s.String()
	var o strings.Builder
	o.WriteString("outline:\n")
	for i := range points {
		a := 2 * math.Pi * float64(i) / float64(points)
		r := 100 + math.Sin(60*a)
		fmt.Fprintf(&o, "  - [%.6f, %.6f]\n", r*math.Cos(a), r*math.Sin(a))
	}
	return strings.Replace(out, "outline: {rect: [0, 0, 40, 10]}\n", o.String(), 1)
}

func TestBigBoard(t *testing.T) {
	d := parse(t, bigBoard(10000, 500))
	if len(d.Outline) != 10000 || len(d.Components) != 500 || len(d.Hinges) != 20 {
		t.Errorf("%d edges, %d components, %d hinges", len(d.Outline), len(d.Components), len(d.Hinges))
	}
}

// A big board: 10 000 outline points, 500 components.
func BenchmarkParse(b *testing.B) {
	src := []byte(bigBoard(10000, 500))
	b.SetBytes(int64(len(src)))
	b.ReportAllocs()
	for b.Loop() {
		if _, _, problems := Parse("x.yaml", src, Options{}); len(problems) > 0 {
			b.Fatal(tell(problems))
		}
	}
}

// The same without the YAML parser: what reading nodes costs.
func BenchmarkRead(b *testing.B) {
	root := loaded(b, []byte(bigBoard(10000, 500)))
	b.ReportAllocs()
	for b.Loop() {
		readForm(root)
	}
}

// A usual board.
func BenchmarkParseSmall(b *testing.B) {
	src := read(b, "good/full.yaml")
	b.ReportAllocs()
	for b.Loop() {
		Parse("x.yaml", src, Options{})
	}
}
