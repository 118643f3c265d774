package enclosure

import (
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
)

// join puts soups together.
func join(soups ...[]mgl64.Vec3) []mgl64.Vec3 { return slices.Concat(soups...) }

// Shells within shells, shells inside out, single triangles turned: found, counted, mended.
func TestShells(t *testing.T) {
	a := soup(box(0, 0, 0, 10, 10, 10))
	in := soup(box(3, 3, 3, 6, 6, 6))
	core := soup(box(4, 4, 4, 5, 5, 5))
	side := soup(box(10, 2, 2, 12, 4, 4)) // touches a side of the first
	under := soup(box(2, 2, -3, 4, 4, 0))
	above := soup(box(2, 2, 10, 4, 4, 13))
	one := slices.Clone(a)
	one[3], one[4] = one[4], one[3]
	cases := []struct {
		name    string
		corners []mgl64.Vec3
		want    Health
		volume  float64
	}{
		{"cavity", join(a, reversed(in)), Health{Triangles: 24, Shells: 2, Nested: 1, Cavities: 1, Closed: true}, 1000 - 27},
		{"cavity, inside out", join(reversed(a), in), Health{Triangles: 24, Shells: 2, Nested: 1, Cavities: 1, Inverted: 2, Closed: true}, 1000 - 27},
		{"solid in solid", join(a, in), Health{Triangles: 24, Shells: 2, Nested: 1, Closed: true}, 1000 + 27},
		{"solid in cavity", join(core, a, reversed(in)), Health{Triangles: 36, Shells: 3, Nested: 2, Cavities: 1, Closed: true}, 1000 - 27 + 1},
		{"side by side, one inside out", join(a, reversed(soup(box(20, 0, 0, 22, 1, 1)))), Health{Triangles: 24, Shells: 2, Inverted: 1, Closed: true}, 1002},
		{"touching ones are not nested", join(a, side, under, above), Health{Triangles: 48, Shells: 4, Closed: true}, 1000 + 8 + 12 + 12},
		{"one triangle turned", one, Health{Triangles: 12, Shells: 1, Turned: 1, Closed: true}, 1000},
		{"all but one turned", reversed(one), Health{Triangles: 12, Shells: 1, Turned: 1, Inverted: 1, Closed: true}, 1000},
		{"faces on either side", join(a, reversed(a)), Health{Triangles: 24, Shells: 1, Overused: 18, TwoSided: 1}, -1},
		{"faces on either side, and a sound one", join(a, reversed(a), core, soup(box(20, 0, 0, 22, 1, 1))), Health{Triangles: 48, Shells: 3, Overused: 18, TwoSided: 1}, -1},
		{"a tub with faces on either side", join(a[6:], reversed(a[6:])), Health{Triangles: 20, Shells: 1, Overused: 13, TwoSided: 1}, -1},
		{"a thin film", soup(box(0, 0, 0, 100, 100, 1e-4)), Health{Triangles: 12, Shells: 1, Closed: true}, 1},
		{"a fine wire", soup(box(0, 0, 0, 1000, 0.01, 0.01)), Health{Triangles: 12, Shells: 1, Closed: true}, 0.1},
		{"an open lid beside", join(a, soup(box(20, 0, 0, 22, 1, 1))[6:]), Health{Triangles: 22, Shells: 2, Open: 4}, -1},
		{"an open one does not hide one inside out", join(reversed(a), soup(box(20, 0, 0, 22, 1, 1))[6:]), Health{Triangles: 22, Shells: 2, Open: 4, Inverted: 1}, -1},
	}
	for _, c := range cases {
		m, h := read(t, "a.stl", binarySTL("", c.corners), 1)
		if got := counts(h); got.Line() != c.want.Line() || got.Nested != c.want.Nested || got.Cavities != c.want.Cavities {
			t.Errorf("%s: %+v", c.name, got)
		}
		if v := volume(m.Points, m.Triangles); c.volume > 0 && !near(v, c.volume) {
			t.Errorf("%s: volume %g, want %g", c.name, v, c.volume)
		}
		if solid := h.Nested - h.Cavities; solid > 0 && (c.name == "cavity" || len(h.Notes) != 1) {
			t.Errorf("%s: %q", c.name, h.Notes)
		}
	}
}

// Where very many shells lie within each other it is not looked how; then all turn or none, and a note says so.
func TestTooManyShells(t *testing.T) {
	var all []mgl64.Vec3
	for i := range 3300 { // 5.4 million pairs
		s := float64(i+1) / 100
		all = append(all, soup(box(-s, -s, -s, s, s, s))...)
	}
	for _, inside := range []bool{false, true} {
		want := 0
		if inside {
			all, want = reversed(all), 3300
		}
		m, h := read(t, "a.stl", binarySTL("", all), 1)
		if !h.Unnested || h.Nested != 0 || h.Inverted != want || len(h.Notes) != 1 || volume(m.Points, m.Triangles) < 0 {
			t.Errorf("%d turned, %q", h.Inverted, h.Notes)
		}
	}
}

// Whether a shell lies within a torus is no matter of boxes: a ball in the hole is outside, one in the tube inside.
func TestNestTorus(t *testing.T) {
	ring := torus(20_000) // 30 and 9 mm, about z
	for _, c := range []struct {
		at     float64
		nested int
	}{{0, 0}, {30, 1}, {25, 1}, {-30, 1}, {14, 0}} {
		ball := soup(box(c.at-1, -1, -1, c.at+1, 1, 1))
		for turn := range 3 { // from every corner of the box
			ball = append(ball[3*turn:], ball[:3*turn]...)
			_, h := read(t, "a.stl", binarySTL("", join(ball, ring)), 1)
			if h.Nested != c.nested || h.Shells != 2 || !h.Closed {
				t.Errorf("at %g: %d nested, %s", c.at, h.Nested, h.Line())
			}
		}
	}
}

// A Moebius strip has no outside: nothing is turned, and its twist is counted.
func TestMoebius(t *testing.T) {
	points := []mgl64.Vec3{{10, 0, -1}, {10, 0, 1}, {-5, 9, -1}, {-5, 9, 1}, {-5, -9, 0}, {-7, -11, 0.5}}
	strip := [][4]int32{{0, 1, 3, 2}, {2, 3, 5, 4}, {4, 5, 0, 1}}
	var tris [][3]int32
	for _, q := range strip {
		tris = append(tris, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	_, _, h := assemble(points, tris, 1)
	if h.Turned != 0 || h.Twisted != 1 || h.Open != 6 || h.Closed {
		t.Errorf("%s", h.Line())
	}
	if want := "6 triangles, 1 shell, 6 open edges, 1 edge where outside changes: inside and outside cannot be told apart"; h.Line() != want {
		t.Errorf("%q", h.Line())
	}
}
