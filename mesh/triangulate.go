package mesh

import (
	"fmt"
	"math"

	"foldfit/fold/flat"
)

// Triangulate returns triangles that fill the area to the left of the loops: outer loops counter-clockwise, holes
// clockwise, each point once. The numbers count the points of all loops one after the other. Every point is used and no
// edge is left open: edges of the loops occur once in their own direction, all others once in each. n points with h holes in
// o outer loops give n + 2h - 2o triangles, counter-clockwise.
//
// Loops may touch at points. A triangle has no area only where it must: its corners are in line and the loops touch there.
// Orientation is exact. Loops that cross, overlap or run the wrong way round are an error, unless no triangle is turned over
// by more than flat.Snap (mm). The result depends on nothing but the points. Time n log n.
func Triangulate(loops [][]flat.Pt) ([][3]int32, error) {
	s, err := newSweep(loops)
	if err != nil {
		return nil, err
	}
	if err := s.run(); err != nil {
		return nil, err
	}
	if want := wantedTriangles(loops); len(s.out) != want {
		return nil, fmt.Errorf("the loops cross: %d triangles instead of %d", len(s.out), want)
	}
	for _, t := range s.out {
		if d := s.overturned(t); d > flat.Snap {
			return nil, fmt.Errorf("the loops cross near (%.6g, %.6g)", s.at[t[0]].X, s.at[t[0]].Y)
		}
	}
	return s.out, nil
}

// wantedTriangles returns n + 2h - 2o.
func wantedTriangles(loops [][]flat.Pt) int {
	count := 0
	for _, l := range loops {
		count += len(l)
		if loopArea(l) > 0 {
			count -= 2
		} else {
			count += 2
		}
	}
	return count
}

// loopArea returns the area inside a polygon, positive for a counter-clockwise one.
func loopArea(l []flat.Pt) float64 {
	sum := 0.0
	for i := 1; i+1 < len(l); i++ {
		sum += l[i].Sub(l[0]).Cross(l[i+1].Sub(l[0]))
	}
	return sum / 2
}

// overturned returns by how many mm a triangle is turned over: its height if it runs clockwise, else 0.
func (s *sweep) overturned(t [3]int32) float64 {
	a, b, c := s.at[t[0]], s.at[t[1]], s.at[t[2]]
	if orient(a, b, c) >= 0 {
		return 0
	}
	return math.Abs(b.Sub(a).Cross(c.Sub(a))) / max(a.Dist(b), b.Dist(c), c.Dist(a))
}
