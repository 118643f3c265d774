package elastica_test

import (
	"fmt"

	"foldfit/fold/elastica"
)

// A U of neutral radius 1.58 between two rigid boards, each a millimetre from where the drawn bend begins.
func ExampleHinge_Free() {
	free, err := elastica.Hinge{Angle: 180, Radius: 1.58, Near: 1, Far: 1}.Free()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("free: %.2f of drawn, loop %.2f mm wider\n", free.OfDrawn, free.Wider)
	// Output: free: 0.83 of drawn, loop 0.08 mm wider
}

// Boards 3.0 apart, flex 0.16 thick, pressed between plates with nothing to hold its ends.
func ExampleTwoPlates() {
	u, err := elastica.TwoPlates(3.0 + 0.16)
	if err != nil {
		fmt.Println(err)
		return
	}
	inside := u.MinRadius - 0.16/2
	fmt.Printf("drawn at %.1f thicknesses, sits at %.1f\n", 1.5/0.16, inside/0.16)
	// Output: drawn at 9.4 thicknesses, sits at 7.7
}

// A strip 12 long between clamps 10 apart, of which the far one looks a right angle to the left.
func ExampleClamps_Solve() {
	shape, err := elastica.Clamps{X: 8, Y: 6, Turn: 90, Length: 12}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	radius, at := shape.MinRadius()
	fmt.Printf("least radius %.3f, %.3f along\n", radius, at)
	_, err = elastica.Clamps{X: 8, Y: 6, Turn: 90, Length: 9}.Solve()
	fmt.Println(err)
	// Output:
	// least radius 4.221, 6.801 along
	// the clamps are 10 apart, the strip is only 9 long: it is 1 too short
}
