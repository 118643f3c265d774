package clash

import (
	"math"
	"math/rand/v2"
	"testing"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// randomArea is a random star of n corners about a point, often not convex.
func randomArea(r *rand.Rand, n int, x, y, least, most float64) flat.Loop {
	var out []flat.Vertex
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.8*r.Float64()) / float64(n))
		d := least + (most-least)*r.Float64()
		out = append(out, flat.Vertex{P: flat.Pt{X: x + d*c, Y: y + d*s}})
	}
	l, _ := flat.Build(out)
	return l
}

// The convex parts of an area are convex, fill it and do not overlap; a convex area is one part.
func TestConvexParts(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	for trial := range 200 {
		area := randomArea(r, 3+trial%20, 3, -7, 1, 6)
		parts, off, err := convexParts(area)
		if err != nil || off != 0 {
			t.Fatal(err)
		}
		sum := 0.0
		for _, p := range parts {
			for i := range p {
				if a, b, c := p[i], p[(i+1)%len(p)], p[(i+2)%len(p)]; b.Sub(a).Cross(c.Sub(b)) < 0 {
					t.Fatalf("trial %d: a part is not convex at %v", trial, b)
				}
			}
			sum += inPlan(p)
		}
		if !close2(sum, area.Area(), 1e-9) {
			t.Fatalf("trial %d: parts of %v make %v", trial, area.Area(), sum)
		}
		for range 200 {
			p := flat.Pt{X: 3 + 14*(r.Float64()-0.5), Y: -7 + 14*(r.Float64()-0.5)}
			in := 0
			for _, part := range parts {
				if held(grown(part, 0), p) {
					in++
				}
			}
			if (in > 0) != area.Contains(p) && area.Distance(p) > 1e-9 {
				t.Fatalf("trial %d: %v lies in %d parts", trial, p, in)
			}
		}
	}
	for _, area := range []flat.Loop{disc(1, 2, 6), rect(0, 0, 3, 1)} {
		if parts, _, err := convexParts(area); err != nil || len(parts) != 1 {
			t.Errorf("%d parts of a convex area, %v", len(parts), err)
		}
	}
	if parts, off, _ := convexParts(disc(0, 0, 6)); off != areaChord || math.Pi*9-inPlan(parts[0]) > areaChord*6*math.Pi {
		t.Errorf("a disc is off by %v of %v", math.Pi*9-inPlan(parts[0]), off)
	}
}

// held reports whether a point lies within borders.
func held(borders []border, p flat.Pt) bool {
	for _, b := range borders {
		if b.n.Dot(p) > b.d {
			return false
		}
	}
	return true
}

// A grown part holds every point up to the distance, and none farther than that and the chord.
func TestGrown(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 1))
	for trial := range 300 {
		part := rod(3+trial%9, 2, 10*r.Float64(), 0, 1)
		ring := make([]flat.Pt, len(part.points)/2)
		for i := range ring {
			ring[i] = flat.Pt{X: part.points[i][0], Y: part.points[i][1]}
		}
		var edges flat.Loop
		for i, p := range ring {
			edges = append(edges, flat.Line(p, ring[(i+1)%len(ring)]))
		}
		d := []float64{0, 0.001, 0.02, 0.5, 5}[trial%5]
		lines := grown(ring, d)
		for range 100 {
			p := flat.Pt{X: (2*r.Float64() - 1) * (2 + 1.3*d), Y: (2*r.Float64() - 1) * (2 + 1.3*d)}
			dist := edges.Distance(p)
			if edges.Contains(p) {
				dist = 0
			}
			if in := held(lines, p); in && dist > d+areaChord || !in && dist < d-1e-12 {
				t.Fatalf("trial %d: a point %v away is inside: %v; grown by %v", trial, dist, in, d)
			}
		}
	}
}

// placed returns columns over areas of the xy plane, moved.
func placed(r *rand.Rand, areas []flat.Loop) []column {
	m := tumble(r, 3)
	var out []column
	for _, a := range areas {
		parts, _, _ := convexParts(a)
		for _, p := range parts {
			out = append(out, newColumn(grown(p, 0.3*r.Float64()), fold.Side(r.IntN(2)), 4*r.Float64()-2, m))
		}
	}
	return out
}

// inside returns how deep a point lies in the deepest of the columns, below 0 outside of all.
func inside(columns []column, p vec) float64 {
	best := math.Inf(-1)
	for _, c := range columns {
		depth := math.Inf(1)
		for i := range c {
			depth = min(depth, -c[i].above(p))
		}
		best = max(best, depth)
	}
	return best
}

// What columns leave of a surface is exactly what lies outside of them, wherever it is and however they overlap.
func TestWithout(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 2))
	for trial := range 60 {
		s := []solid{block(-4, -3, -1, 4, 3, 1), tube(16, 1, 5, -1, 1), rod(24, 3, 0, -4, 4), sheet(8, 9, 9, -1, 2, 0.3).shifted(-4, -4, 0)}[trial%4].moved(tumble(r, 1)).shape()
		var areas []flat.Loop
		for range 1 + trial%3 {
			areas = append(areas, randomArea(r, 3+r.IntN(7), 4*r.Float64()-2, 4*r.Float64()-2, 0.5, 3))
		}
		columns := placed(r, areas)
		left := s.without(columns)
		for range 300 {
			tr := s.tri(int32(r.IntN(len(s.tris))))
			u, v := r.Float64(), r.Float64()
			if u+v > 1 {
				u, v = 1-u, 1-v
			}
			p := along(along(tr[0], u, sub(tr[1], tr[0])), v, sub(tr[2], tr[0]))
			depth := inside(columns, p)
			n, ok := distance(newShape([]vec{p}, [][3]int32{{0, 0, 0}}, false), left, math.Inf(1))
			switch {
			case depth < -1e-7 && (!ok || n.d > 1e-9):
				t.Fatalf("trial %d: a point %v outside the columns is gone", trial, -depth)
			case depth > 1e-7 && ok && n.d < 1e-9:
				t.Fatalf("trial %d: a point %v inside a column is left", trial, depth)
			}
		}
		area := 0.0
		for i := range left.tris {
			tr := left.tri(int32(i))
			area += length(tr.normal()) / 2
			if id := left.ids[i]; id < 0 || int(id) >= len(s.tris) {
				t.Fatalf("trial %d: triangle %d of %d", trial, id, len(s.tris))
			}
		}
		if again := left.without(columns); math.Abs(surfaceArea(again)-area) > 1e-6 {
			t.Errorf("trial %d: cut twice %v, once %v", trial, surfaceArea(again), area)
		}
	}
}

func surfaceArea(s *shape) float64 {
	sum := 0.0
	for i := range s.tris {
		t := s.tri(int32(i))
		sum += length(t.normal()) / 2
	}
	return sum
}

// Bodies overlap beside the columns where a point of both lies outside of them, and only there.
func TestOverlapBesideColumns(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 7))
	counts := [2]int{}
	for trial := range 400 {
		plate := block(0, 0, 0, 10, 8, 1.6)
		floor := block(-2, -2, -3, 12, 10, -1)
		m := tumble(r, 5)
		var columns []column
		parts, _, _ := convexParts(randomArea(r, 3+r.IntN(6), 8*r.Float64(), 6*r.Float64(), 1, 6))
		for _, p := range parts {
			columns = append(columns, newColumn(grown(p, 0.1), fold.Bottom, 0.8, m))
		}
		farthest := math.Inf(-1) // of the points in both bodies, out of the columns
		for range 3 {            // posts on the floor, some into the board
			x, y, w, h := 9*r.Float64(), 7*r.Float64(), 0.4+r.Float64(), 0.9*r.Float64()-0.4
			floor = floor.with(block(x, y, -2, x+w, y+w, h))
			for range 500 {
				p := vec{x + w*r.Float64(), y + w*r.Float64(), h * r.Float64()}
				if h > Touch && p[0] < 10 && p[1] < 8 {
					farthest = max(farthest, -inside(columns, fold.Apply(m, p)))
				}
			}
		}
		got, ok := measure(plate.moved(m).shape().without(columns), floor.moved(m).shape().without(columns), math.Inf(1))
		switch overlap := ok && got.gap < 0; {
		case farthest > 0.01:
			counts[0]++
			if !overlap {
				t.Errorf("trial %d: a common point %v beside the columns, gap %v", trial, farthest, got.gap)
			}
		case farthest < -0.15: // no corner of a post is so much farther out than the points that were tried
			counts[1]++
			if overlap {
				t.Errorf("trial %d: all common points %v within the columns, depth %v", trial, -farthest, -got.gap)
			}
		}
	}
	if min(counts[0], counts[1]) < 60 {
		t.Errorf("the trials are one-sided: %v", counts)
	}
}
