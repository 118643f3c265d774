package clash

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// sheet is a closed plate from (0, 0, z) to (x, y, z+h), each face cut into n by n cells, its faces waved by up to wave.
func sheet(n int, x, y, z, h, wave float64) solid {
	var s solid
	at := func(k, i, j int) int32 { return int32(k*(n+1)*(n+1) + i*(n+1) + j) }
	for k := range 2 {
		for i := range n + 1 {
			for j := range n + 1 {
				u, v := float64(i)/float64(n), float64(j)/float64(n)
				dz := wave * math.Sin(37*u) * math.Cos(29*v)
				s.points = append(s.points, vec{x * u, y * v, z + h*float64(k) + dz})
			}
		}
	}
	quad := func(a, b, c, d int32) { s.tris = append(s.tris, [3]int32{a, b, c}, [3]int32{a, c, d}) }
	for i := range n {
		for j := range n {
			quad(at(1, i, j), at(1, i+1, j), at(1, i+1, j+1), at(1, i, j+1))
			quad(at(0, i, j), at(0, i, j+1), at(0, i+1, j+1), at(0, i+1, j))
		}
		quad(at(0, i, 0), at(0, i+1, 0), at(1, i+1, 0), at(1, i, 0))
		quad(at(0, i+1, n), at(0, i, n), at(1, i, n), at(1, i+1, n))
		quad(at(0, 0, i+1), at(0, 0, i), at(1, 0, i), at(1, 0, i+1))
		quad(at(0, n, i), at(0, n, i+1), at(1, n, i+1), at(1, n, i))
	}
	return s
}

func BenchmarkBuild(b *testing.B) {
	for _, n := range []int{100, 500} {
		s := sheet(n, 120, 80, 0, 2, 0.3)
		b.Run(fmt.Sprintf("%d", len(s.tris)), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s.shape()
			}
		})
	}
}

func BenchmarkDistance(b *testing.B) {
	plate := sheet(100, 60, 40, 0, 0.8, 0)
	floor := sheet(240, 120, 80, -2, 2, 0)
	rough := sheet(240, 120, 80, -2, 2, 0.01)
	bore, bend := tube(2000, 10.05, 12, -20, 20), rod(1500, 10, 0, -15, 15)
	cases := []struct {
		name string
		a, b solid
	}{
		{"flat 0.05 over a floor", plate.shifted(20, 20, 0.05), floor},
		{"flat 3 over a floor", plate.shifted(20, 20, 3), floor},
		{"0.05 over a rough floor", plate.shifted(20, 20, 0.06), rough},
		{"rod in a bore", bend, bore},
	}
	for _, c := range cases {
		b.Run(strings.ReplaceAll(c.name, " ", "_"), func(b *testing.B) {
			x, y := c.a.shape(), c.b.shape()
			for b.Loop() { // a new query each time, as in a check
				distance(x, y, math.Inf(1))
			}
		})
	}
}

func BenchmarkPenetration(b *testing.B) {
	plate := sheet(50, 60, 40, 0, 0.8, 0)
	floor := sheet(120, 120, 80, -2, 2, 0)
	cases := []struct {
		name string
		a, b solid
	}{
		{"plate in a floor", plate.shifted(20.1, 20.1, -0.3), floor},
		{"tilted plate in a floor", plate.moved(shift(vec{20, 20, 1})), floor},
		{"swallowed", block(30, 30, -1.5, 31, 31, -1), floor},
	}
	cases[1].a = plate.moved(tilt(3)).shifted(20, 20, -0.3)
	for _, c := range cases {
		b.Run(strings.ReplaceAll(c.name, " ", "_"), func(b *testing.B) {
			x, y := c.a.shape(), c.b.shape()
			for b.Loop() {
				if _, ok := penetration(x, y, plenty); !ok {
					b.Fatal("no overlap")
				}
			}
		})
	}
}

func BenchmarkCheck(b *testing.B) {
	for _, clearance := range []float64{0, 5} {
		b.Run(fmt.Sprintf("clearance_%v", clearance), func(b *testing.B) {
			a := board(b, beacon+fmt.Sprintf("clearance: {board: %[1]v, components: %[1]v, enclosure: %[1]v}\n", clearance), 0.01)
			floor := sheet(100, 120, 80, -3, 2, 0)
			w := wall("floor", 0, 0, 0, 1, 1, 1)
			w.Mesh.Points, w.Mesh.Triangles, w.Mesh.Normals = floor.points, floor.tris, nil
			for b.Loop() {
				Check(a, []Wall{w, wall("lid", 3, 3, 4, 20, 20, 5)})
			}
		})
	}
}

// Four seats on a finely meshed housing, in three postures; prepared walls keep their search trees.
func BenchmarkSeats(b *testing.B) {
	for _, n := range []int{50, 300} {
		floor := sheet(n, 60, 40, -4, 1, 0).shifted(-5, -5, 0)
		for _, at := range bosses {
			floor = floor.with(rod(n/2, 3, 0, -3, 0).shifted(at[0], at[1], 0))
		}
		w := wall("tray", 0, 0, 0, 1, 1, 1)
		w.Mesh.Points, w.Mesh.Triangles, w.Mesh.Normals = floor.points, floor.tris, nil
		a := board(b, plate(0, ""), 0.01)
		a.Folded.Tree.Design.Seats = cornerSeats(nil)
		for i, walls := range [][]Wall{{w}, Prepare([]Wall{w})} {
			b.Run(fmt.Sprintf("%d_triangles_%s", len(floor.tris), []string{"read", "prepared"}[i]), func(b *testing.B) {
				for b.Loop() {
					for range 3 {
						if r := Check(a, walls); len(r.Findings) > 0 {
							b.Fatal(rules(r))
						}
					}
				}
			})
		}
	}
}
