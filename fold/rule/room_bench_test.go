package rule

import (
	"fmt"
	"testing"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// BenchmarkRoom asks for the least radius of one of many hinges: the whole outline is cut for it.
func BenchmarkRoom(b *testing.B) {
	const n = 200
	d := board(pts(0, 0, 10*n, 0, 10*n, 10, 0, 10))
	d.Hinges = nil
	for i := range n {
		x := 10 * float64(i)
		section(fmt.Sprint("s", i), "thick", rect(x, 0, x+4, 10))(d)
		d.Hinges = append(d.Hinges, fold.Hinge{Name: fmt.Sprint("h", i), Line: [2]flat.Pt{{X: x + 7, Y: -1}, {X: x + 7, Y: 11}}, Angle: 45, Radius: 2, Written: 1})
	}
	tree, problems := fold.Divide(d)
	if problems != nil {
		b.Fatal(problems)
	}
	for b.Loop() {
		if _, ok := LeastRadius(tree, n/2); !ok {
			b.Fatal("none")
		}
	}
}
