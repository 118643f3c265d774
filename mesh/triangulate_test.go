package mesh

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"foldfit/fold/flat"
)

// checkTriangles tests all that makes triangles a triangulation: the promised count, every corner of positive turn (or in
// line, if flatAllowed), the loops' edges once each, all other edges in pairs, the loops' area.
func checkTriangles(t *testing.T, loops [][]flat.Pt, tris [][3]int32, flatAllowed bool) {
	t.Helper()
	if want := wantedTriangles(loops); len(tris) != want {
		t.Fatalf("%d triangles, want %d", len(tris), want)
	}
	at := slices.Concat(loops...)
	edges := map[[2]int32]int{}
	sum := 0.0
	for _, c := range tris {
		p, q, r := at[c[0]], at[c[1]], at[c[2]]
		if o := orient(p, q, r); o < 0 || o == 0 && !flatAllowed {
			t.Fatalf("triangle %v %v %v has turn %d", p, q, r, o)
		}
		sum += q.Sub(p).Cross(r.Sub(p)) / 2
		for k := range 3 {
			edges[[2]int32{c[k], c[(k+1)%3]}]++
		}
	}
	want, size := 0.0, 0.0
	first := int32(0)
	for _, l := range loops {
		a := loopArea(l)
		want, size = want+a, size+math.Abs(a)
		for i := range int32(len(l)) {
			e := [2]int32{first + i, first + (i+1)%int32(len(l))}
			if edges[e] != 1 || edges[[2]int32{e[1], e[0]}] != 0 {
				t.Fatalf("edge %v of a loop occurs %d times, reversed %d", e, edges[e], edges[[2]int32{e[1], e[0]}])
			}
			delete(edges, e)
		}
		first += int32(len(l))
	}
	for e, n := range edges {
		if n != 1 || edges[[2]int32{e[1], e[0]}] != 1 {
			t.Fatalf("edge %v is open", e)
		}
	}
	if math.Abs(sum-want) > 1e-11*(1+size) {
		t.Fatalf("area %.15g, want %.15g", sum, want)
	}
}

func triangulate(t *testing.T, loops [][]flat.Pt, flatAllowed bool) {
	t.Helper()
	tris, err := Triangulate(loops)
	if err != nil {
		t.Fatal(err)
	}
	checkTriangles(t, loops, tris, flatAllowed)
}

// star returns a star-shaped polygon of n points about c, radius r (1 - wild) to r.
func star(rnd *rand.Rand, c flat.Pt, r, wild float64, n int) []flat.Pt {
	var l []flat.Pt
	for i := range n {
		a := 2 * math.Pi * (float64(i) + 0.8*rnd.Float64()) / float64(n)
		d := r * (1 - wild*rnd.Float64())
		l = append(l, flat.Pt{X: c.X + d*math.Cos(a), Y: c.Y + d*math.Sin(a)})
	}
	return l
}

func reversed(l []flat.Pt) []flat.Pt {
	l = slices.Clone(l)
	slices.Reverse(l)
	return l
}

// ring returns a polygon of n points on a circle with waves.
func ring(c flat.Pt, r, wave float64, waves, n int) []flat.Pt {
	var l []flat.Pt
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		d := r + wave*math.Sin(a*float64(waves))
		l = append(l, flat.Pt{X: c.X + d*math.Cos(a), Y: c.Y + d*math.Sin(a)})
	}
	return l
}

func TestTriangulateShapes(t *testing.T) {
	square := []flat.Pt{{}, {X: 4}, {X: 4, Y: 4}, {Y: 4}}
	hole := func(pts ...flat.Pt) []flat.Pt { return pts }
	for _, c := range []struct {
		name  string
		loops [][]flat.Pt
		flat  bool
	}{
		{"triangle", [][]flat.Pt{{{}, {X: 1}, {Y: 1}}}, false},
		{"square", [][]flat.Pt{square}, false},
		{"many in line on all sides", [][]flat.Pt{subdivide(square, 50)}, false},
		{"oblique with many in line", [][]flat.Pt{subdivide([]flat.Pt{{}, {X: 3, Y: 1}, {X: 2, Y: 4}, {X: -1, Y: 3}}, 32)}, false},
		{"sliver 1e-9", [][]flat.Pt{{{}, {X: 100}, {X: 100, Y: 1e-9}, {Y: 1e-9}}}, false},
		{"oblique sliver 1e-9, subdivided", [][]flat.Pt{subdivide([]flat.Pt{{}, {X: 64, Y: 32}, {X: 64, Y: 32 + 1e-9}, {Y: 1e-9}}, 16)}, false},
		{"hole", [][]flat.Pt{square, hole(flat.Pt{X: 1, Y: 1}, flat.Pt{X: 2, Y: 3}, flat.Pt{X: 3, Y: 1})}, false},
		{"hole 1e-9 from the edge", [][]flat.Pt{square, hole(flat.Pt{X: 1, Y: 1e-9}, flat.Pt{X: 1, Y: 1}, flat.Pt{X: 3, Y: 1e-9})}, false},
		{"two holes share a point", [][]flat.Pt{square, hole(flat.Pt{X: 1, Y: 1}, flat.Pt{X: 1, Y: 2}, flat.Pt{X: 2, Y: 2}),
			hole(flat.Pt{X: 2, Y: 2}, flat.Pt{X: 3, Y: 3}, flat.Pt{X: 3, Y: 2})}, true},
		{"two holes begin at one point", [][]flat.Pt{square, hole(flat.Pt{X: 1, Y: 2}, flat.Pt{X: 3, Y: 3.5}, flat.Pt{X: 3, Y: 3}),
			hole(flat.Pt{X: 1, Y: 2}, flat.Pt{X: 3, Y: 1}, flat.Pt{X: 3, Y: 0.5})}, true},
		{"two holes end at one point", [][]flat.Pt{square, hole(flat.Pt{X: 3, Y: 2}, flat.Pt{X: 1, Y: 3}, flat.Pt{X: 1, Y: 3.5}),
			hole(flat.Pt{X: 3, Y: 2}, flat.Pt{X: 1, Y: 0.5}, flat.Pt{X: 1, Y: 1})}, true},
		{"hole touches a corner", [][]flat.Pt{square, hole(flat.Pt{}, flat.Pt{X: 1, Y: 2}, flat.Pt{X: 2, Y: 1})}, true},
		{"hole touches an edge", [][]flat.Pt{square, hole(flat.Pt{X: 2, Y: 0}, flat.Pt{X: 1, Y: 2}, flat.Pt{X: 3, Y: 2})}, true},
		{"hole touches the left edge", [][]flat.Pt{square, hole(flat.Pt{X: 0, Y: 2}, flat.Pt{X: 2, Y: 3}, flat.Pt{X: 2, Y: 1})}, true},
		{"hole spans from edge to edge", [][]flat.Pt{square, hole(flat.Pt{X: 0, Y: 2}, flat.Pt{X: 2, Y: 4}, flat.Pt{X: 4, Y: 2}, flat.Pt{X: 2, Y: 0})}, true},
		{"outline pinched at a point", [][]flat.Pt{{{}, {X: 2, Y: 2}, {X: 4}, {X: 4, Y: 4}, {X: 2, Y: 2}, {Y: 4}}}, true},
	} {
		t.Run(c.name, func(t *testing.T) { triangulate(t, c.loops, c.flat) })
	}
}

// subdivide puts n points in line on each edge; exact where the edges are multiples of n.
func subdivide(l []flat.Pt, n int) []flat.Pt {
	var out []flat.Pt
	for i, p := range l {
		q := l[(i+1)%len(l)]
		for k := range n {
			f := float64(k) / float64(n)
			out = append(out, flat.Pt{X: p.X + f*(q.X-p.X), Y: p.Y + f*(q.Y-p.Y)})
		}
	}
	return out
}

func TestTriangulateRandomHoles(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 3000 {
		loops := [][]flat.Pt{ring(flat.Pt{X: 5, Y: 5}, 20, 3*rnd.Float64(), 1+rnd.IntN(20), 3+rnd.IntN(80))}
		if len(loops[0]) < 60 {
			loops[0] = star(rnd, flat.Pt{X: 5, Y: 5}, 20, 0.9, max(5, len(loops[0])))
		} else {
			for i := range 3 {
				for j := range 3 {
					if rnd.IntN(3) > 0 {
						c := flat.Pt{X: float64(5 * i), Y: float64(5 * j)}
						loops = append(loops, reversed(star(rnd, c, 2.45, rnd.Float64(), 3+rnd.IntN(30))))
					}
				}
			}
		}
		triangulate(t, loops, false)
	}
}

// blot returns the loops of a random set of unit cells. Where cells meet corner to corner the loops run through either way,
// by chance, or (apart) so that each corner encloses nothing but area. All touching and all points in line are exact.
func blot(rnd *rand.Rand, size int, apart bool) [][]flat.Pt {
	full := map[[2]int]bool{}
	for x := range size {
		for y := range size {
			full[[2]int{x, y}] = rnd.IntN(3) > 0
		}
	}
	type edge struct{ x, y, dx, dy int }
	var edges []edge
	for x := range size {
		for y := range size {
			for _, d := range [4][2]int{{0, -1}, {1, 0}, {0, 1}, {-1, 0}} {
				if full[[2]int{x, y}] && !full[[2]int{x + d[0], y + d[1]}] {
					c := map[[2]int][2]int{{0, -1}: {0, 0}, {1, 0}: {1, 0}, {0, 1}: {1, 1}, {-1, 0}: {0, 1}}[d]
					edges = append(edges, edge{x + c[0], y + c[1], -d[1], d[0]})
				}
			}
		}
	}
	left := map[edge]bool{}
	for _, e := range edges {
		left[e] = true
	}
	var loops [][]flat.Pt
	for _, e := range edges {
		var l []flat.Pt
		for left[e] {
			delete(left, e)
			l = append(l, flat.Pt{X: float64(e.x), Y: float64(e.y)})
			x, y := e.x+e.dx, e.y+e.dy
			turns := []edge{{x, y, -e.dy, e.dx}, {x, y, e.dx, e.dy}, {x, y, e.dy, -e.dx}}
			if !apart && rnd.IntN(2) == 0 {
				slices.Reverse(turns)
			}
			for _, n := range turns {
				if left[n] {
					e = n
					break
				}
			}
		}
		if l != nil {
			loops = append(loops, l)
		}
	}
	return loops
}

func TestTriangulateTouching(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for i := range 4000 {
		apart := i%3 == 0
		loops := blot(rnd, 2+rnd.IntN(8), apart)
		if len(loops) == 0 {
			continue
		}
		a, b, c, d := 1.0, 0.0, 0.0, 1.0
		switch i % 4 {
		case 1:
			a, b, c, d = 3, 1, 1, 2 // exact shear
		case 2:
			a, b, c, d = 0.25, -1, 1, 7
		case 3:
			a, b, c, d = 0, -1, 1, 0
		}
		for _, l := range loops {
			for k, p := range l {
				l[k] = flat.Pt{X: a*p.X + b*p.Y, Y: c*p.X + d*p.Y}
			}
		}
		triangulate(t, loops, !apart)
	}
}

// Turned by any angle, points in line are in line only to rounding and loops that touched cross by as much.
func TestTriangulateTouchingRounded(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	for range 2000 {
		loops := blot(rnd, 2+rnd.IntN(8), false)
		if len(loops) == 0 {
			continue
		}
		s, c := math.Sincos(2 * math.Pi * rnd.Float64())
		for _, l := range loops {
			for k, p := range l {
				l[k] = flat.Pt{X: 100 + c*p.X - s*p.Y, Y: -50 + s*p.X + c*p.Y}
			}
		}
		tris, err := Triangulate(loops)
		if err != nil {
			t.Fatal(err)
		}
		if len(tris) != wantedTriangles(loops) {
			t.Fatal("count")
		}
	}
}

// comb returns a comb of n teeth.
func comb(n int, slant float64) []flat.Pt {
	l := []flat.Pt{{X: float64(2*n) - 1, Y: -1}}
	for i := n - 1; i >= 0; i-- {
		x := float64(2 * i)
		l = append(l, flat.Pt{X: x + 1 + slant, Y: 50}, flat.Pt{X: x + slant, Y: 50})
		if i > 0 {
			l = append(l, flat.Pt{X: x, Y: 0}, flat.Pt{X: x - 1, Y: 0})
		}
	}
	return append(l, flat.Pt{Y: -1})
}

// spiral returns a strip wound up n times.
func spiral(turns float64, n int) []flat.Pt {
	var in, out []flat.Pt
	for i := range n {
		a := 2 * math.Pi * turns * float64(i) / float64(n)
		s, c := math.Sincos(a)
		out = append(out, flat.Pt{X: (5 + a) * c, Y: (5 + a) * s})
		in = append(in, flat.Pt{X: (2 + a) * c, Y: (2 + a) * s})
	}
	slices.Reverse(in)
	return append(out, in...)
}

func TestTriangulateLarge(t *testing.T) {
	swap := func(l []flat.Pt) []flat.Pt {
		for i, p := range l {
			l[i] = flat.Pt{X: -p.Y, Y: p.X}
		}
		return l
	}
	for name, loops := range map[string][][]flat.Pt{
		"comb":            {comb(500, 0)},
		"slanted comb":    {comb(500, 7)},
		"lying comb":      {swap(comb(500, 0))},
		"lying slanted":   {swap(comb(500, 7))},
		"spiral":          {spiral(12, 3000)},
		"needle star":     {star(rand.New(rand.NewPCG(7, 7)), flat.Pt{}, 50, 0.999, 4000)},
		"wavy 10k":        wavy10k(),
		"many in line":    {subdivide([]flat.Pt{{}, {X: 4096}, {X: 4096, Y: 1024}, {Y: 1024}}, 1024)},
		"400 holes":       holes400(),
		"line of squares": squares(200),
	} {
		t.Run(name, func(t *testing.T) { triangulate(t, loops, false) })
	}
}

func wavy10k() [][]flat.Pt { return [][]flat.Pt{ring(flat.Pt{}, 50, 0.5, 700, 10000)} }

func holes400() [][]flat.Pt {
	loops := [][]flat.Pt{{{}, {X: 100}, {X: 100, Y: 100}, {Y: 100}}}
	for i := range 20 {
		for j := range 20 {
			loops = append(loops, reversed(ring(flat.Pt{X: 2.5 + 5*float64(i), Y: 2.5 + 5*float64(j)}, 2, 0, 1, 24)))
		}
	}
	return loops
}

// squares returns a bar with n square holes in a row: many points on two lines.
func squares(n int) [][]flat.Pt {
	loops := [][]flat.Pt{{{}, {X: 2*float64(n) + 1}, {X: 2*float64(n) + 1, Y: 3}, {Y: 3}}}
	for i := range n {
		x := float64(2*i + 1)
		loops = append(loops, []flat.Pt{{X: x, Y: 1}, {X: x, Y: 2}, {X: x + 1, Y: 2}, {X: x + 1, Y: 1}})
	}
	return loops
}

func TestTriangulateRefuses(t *testing.T) {
	square := []flat.Pt{{}, {X: 4}, {X: 4, Y: 4}, {Y: 4}}
	for name, loops := range map[string][][]flat.Pt{
		"clockwise outline":       {reversed(square)},
		"crosses itself":          {{{}, {X: 4, Y: 4}, {X: 4}, {Y: 4}}},
		"figure of eight":         {{{}, {X: 2, Y: 0}, {X: 2, Y: 3}, {X: 4, Y: 3}, {X: 4, Y: 1}, {X: 0, Y: 1}}},
		"hole outside":            {square, {{X: 6, Y: 1}, {X: 6, Y: 2}, {X: 7, Y: 1}}},
		"hole half outside":       {square, {{X: 3, Y: 1}, {X: 3, Y: 2}, {X: 7, Y: 1}}},
		"hole counter-clockwise":  {square, {{X: 1, Y: 1}, {X: 2, Y: 1}, {X: 1, Y: 2}}},
		"holes overlap":           {square, {{X: 1, Y: 1}, {X: 1, Y: 3}, {X: 3, Y: 3}, {X: 3, Y: 1}}, {{X: 2, Y: 2}, {X: 2, Y: 3.5}, {X: 3.5, Y: 3.5}, {X: 3.5, Y: 2}}},
		"a point twice":           {{{}, {}, {X: 4}, {X: 4, Y: 4}}},
		"two points":              {{{}, {X: 4}}},
		"not a number":            {{{}, {X: 4}, {X: 4, Y: math.NaN()}}},
		"infinite":                {{{}, {X: 4}, {X: 4, Y: math.Inf(1)}}},
		"outline overlaps itself": {{{}, {X: 5}, {X: 5, Y: 3}, {X: 1, Y: 3}, {X: 1, Y: 1}, {X: 3, Y: 1}, {X: 3, Y: 5}, {Y: 5}}},
	} {
		t.Run(name, func(t *testing.T) {
			if tris, err := Triangulate(loops); err == nil {
				t.Fatalf("%d triangles and no error", len(tris))
			}
		})
	}
}

func TestTriangulateSame(t *testing.T) {
	a, err := Triangulate(holes400())
	if err != nil {
		t.Fatal(err)
	}
	b, _ := Triangulate(holes400())
	if !slices.Equal(a, b) {
		t.Fatal("two runs differ")
	}
}

// FuzzTriangulate reads loops of small whole numbers: whatever comes, the answer is an error or a triangulation.
func FuzzTriangulate(f *testing.F) {
	for _, loops := range [][][]flat.Pt{{{{}, {X: 4}, {X: 4, Y: 4}, {Y: 4}}, {{X: 1, Y: 1}, {X: 1, Y: 2}, {X: 2, Y: 1}}}, {comb(4, 2)}, squares(3)} {
		var data []byte
		for _, l := range loops {
			for _, p := range l {
				data = append(data, byte(int8(p.X)), byte(int8(p.Y)))
			}
			data = append(data, 0x80, 0)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		loops := [][]flat.Pt{nil}
		for len(data) >= 2 && len(data) < 400 {
			if data[0] == 0x80 {
				loops = append(loops, nil)
			} else {
				last := &loops[len(loops)-1]
				*last = append(*last, flat.Pt{X: float64(int8(data[0])), Y: float64(int8(data[1]))})
			}
			data = data[2:]
		}
		tris, err := Triangulate(slices.DeleteFunc(loops, func(l []flat.Pt) bool { return l == nil }))
		if err == nil && len(tris) > 0 {
			checkTriangles(t, slices.DeleteFunc(loops, func(l []flat.Pt) bool { return l == nil }), tris, true)
		}
	})
}

func BenchmarkTriangulate10k(b *testing.B) {
	loops := wavy10k()
	for b.Loop() {
		if _, err := Triangulate(loops); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTriangulate(b *testing.B) {
	for _, c := range []struct {
		name  string
		loops [][]flat.Pt
	}{{"400holes", holes400()}, {"comb10k", [][]flat.Pt{comb(2500, 0)}},
		{"wavy50k", [][]flat.Pt{ring(flat.Pt{}, 50, 0.5, 700, 50000)}},
		{"line8k", [][]flat.Pt{subdivide([]flat.Pt{{}, {X: 4.1, Y: 1.3}, {X: 3, Y: 5}, {X: -1.1, Y: 3.7}}, 2000)}}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Triangulate(c.loops); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
