package enclosure

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/mesh"
)

// sameMesh compares two meshes as sets of triangles, each from its least corner on, to 1e-5 mm: 32-bit metres step by 2e-6.
func sameMesh(a, b mesh.Mesh) bool {
	list := func(m mesh.Mesh) [][9]float64 {
		var out [][9]float64
		for _, t := range m.Triangles {
			var best [9]float64
			for turn := range 3 {
				var r [9]float64
				for i := range 3 {
					for k, v := range m.Points[t[(turn+i)%3]] {
						r[3*i+k] = math.Round(v*1e5)/1e5 + 0
					}
				}
				if turn == 0 || slices.Compare(r[:], best[:]) < 0 {
					best = r
				}
			}
			out = append(out, best)
		}
		slices.SortFunc(out, func(a, b [9]float64) int { return slices.Compare(a[:], b[:]) })
		return out
	}
	return slices.Equal(list(a), list(b)) && len(a.Points) == len(b.Points)
}

// Each format carries the same solid; all give the same mesh.
func TestFormatsAgree(t *testing.T) {
	for name, want := range map[string]mesh.Mesh{"box": box(-1, 0, 2, 35, 1.25, 8), "tetra": tetra(30, 20, 12.5)} {
		files := []struct {
			file, format string
			src          []byte
		}{
			{"a.stl", "binary STL", binarySTL("", soup(want))},
			{"a.stl", "text STL", textSTL("", "%.9g", soup(want))},
			{"a.obj", "OBJ", objOf(want)},
			{"a.glb", "GLB", glbOf(want, `{"mesh":0}`)},
			{"a.gltf", "glTF", gltfOf(want, `{"mesh":0}`)},
			{"a.3mf", "3MF", threeMF(model3MF("millimeter", object3MFOf(1, want), `<item objectid="1"/>`))},
		}
		for _, f := range files {
			m, h := read(t, f.file, f.src, 0)
			if !sameMesh(m, want) {
				t.Errorf("%s as %s: %v %v", name, f.format, m.Points, m.Triangles)
			}
			if h.Format != f.format || !h.Closed || h.Shells != 1 || h.Inverted+h.Turned+h.Degenerate+h.Duplicates > 0 {
				t.Errorf("%s as %s: %+v", name, f.format, h)
			}
			if !near(volume(m.Points, m.Triangles), volume(want.Points, want.Triangles)) || !near(area(m), area(want)) {
				t.Errorf("%s as %s: volume %v, area %v", name, f.format, volume(m.Points, m.Triangles), area(m))
			}
			if other, h2 := read(t, "b.obj", f.src, 0); !sameMesh(other, want) || h2.Format != f.format {
				t.Errorf("%s as %s, named OBJ: read as %s", name, f.format, h2.Format)
			}
		}
	}
}

// The unit is the file's where it has one, else the design's, else mm with a note.
func TestUnits(t *testing.T) {
	c := box(0, 0, 0, 20, 10, 5)
	inch := threeMF(model3MF("inch", object3MFOf(1, c), `<item objectid="1"/>`))
	cases := []struct {
		file       string
		src        []byte
		unit       float64
		wide       float64
		name, from string
		notes      int
	}{
		{"a.stl", binarySTL("", soup(c)), 0, 20, "mm", "assumed", 1},
		{"a.stl", binarySTL("", soup(c)), 10, 200, "cm", "asked", 0},
		{"a.obj", objOf(c), 25.4, 508, "in", "asked", 0},
		{"a.3mf", inch, 0, 508, "in", "file", 0},
		{"a.3mf", inch, 25.4, 508, "in", "file", 0},
		{"a.glb", glbOf(c, `{"mesh":0}`), 0, 20, "m", "file", 0},
		{"a.glb", glbOf(c, `{"mesh":0}`), 1000, 20, "m", "file", 0},
	}
	for _, k := range cases {
		_, h := read(t, k.file, k.src, k.unit)
		if w := h.Box[1][0] - h.Box[0][0]; !near(w, k.wide) || h.Unit != k.name || h.UnitFrom != k.from || len(h.Notes) != k.notes {
			t.Errorf("%s at %g: %g mm, %s %s, %q", k.file, k.unit, w, h.Unit, h.UnitFrom, h.Notes)
		}
	}
	_, h := read(t, "a.obj", objOf(c), 0)
	if want := "names no units and was read as mm: 20.0 x 10.0 x 5.0"; !slices.Contains(h.Notes, want) {
		t.Errorf("%q lacks %q", h.Notes, want)
	}
	for _, k := range []struct {
		src   []byte
		unit  float64
		words []string
	}{
		{inch, 1, []string{"the design says mm", "the 3MF file says inch"}},
		{glbOf(c, `{"mesh":0}`), 25.4, []string{"the design says in", "GLB files are in m"}},
		{binarySTL("", soup(c)), -1, []string{"positive"}},
		{binarySTL("", soup(c)), math.NaN(), []string{"positive"}},
	} {
		_, _, err := Read("m", "a", k.src, k.unit)
		for _, w := range k.words {
			if err == nil || !strings.Contains(err.Error(), w) {
				t.Errorf("%v does not say %q", err, w)
			}
		}
	}
}

// A size that no housing has brings a hint with the unit that would fit.
func TestSlip(t *testing.T) {
	cases := []struct {
		size, unit float64
		want       string
	}{
		{0.1, 0, "is 0.173 mm across in mm; in m it would be 173 mm: check its units"},
		{50, 1000, "is 8.66e+04 mm across in m; in mm it would be 86.6 mm: check its units"},
		{3500, 1, "is 6.06e+03 mm across in mm; in mil it would be 154 mm: check its units"},
		{1, 0, ""},
		{2000, 0, ""},
	}
	for _, c := range cases {
		_, h := read(t, "a.stl", binarySTL("", soup(box(0, 0, 0, c.size, c.size, c.size))), c.unit)
		found := ""
		for _, n := range h.Notes {
			if strings.Contains(n, "across") {
				found = n
			}
		}
		if found != c.want {
			t.Errorf("%g: %q, want %q", c.size, found, c.want)
		}
	}
}

func TestKinds(t *testing.T) {
	c := box(0, 0, 0, 20, 10, 5)
	_, h := read(t, "a.STL", objOf(c), 1)
	if len(h.Notes) != 1 || h.Notes[0] != "holds OBJ, though its name ends in .stl" {
		t.Errorf("%q", h.Notes)
	}
	if _, h = read(t, "a.bin", objOf(c), 1); len(h.Notes) != 0 {
		t.Errorf("%q", h.Notes)
	}
	wrong(t, "empty", "a.obj", nil, "empty")
	wrong(t, "noise", "a.dat", []byte("hello"), "neither", "3MF")
	wrong(t, "noise named STL", "a.stl", []byte("hello"), "not an STL file")
	wrong(t, "noise named OBJ", "a.obj", []byte("hello"), "no faces")
	wrong(t, "noise named GLB", "a.glb", []byte("hello, world, hello"), "not a GLB file")
	wrong(t, "noise named 3MF", "a.3mf", []byte("hello"), "cannot be unpacked")
	wrong(t, "STEP", "a.step", []byte("ISO-10303-21;\nHEADER;"), "STEP", "write it as")
}

// Far from the origin 32-bit numbers are coarse: the health says how much.
func TestGrain(t *testing.T) {
	for _, c := range []struct {
		at, grain float64
		note      bool
	}{
		{0, math.Exp2(4 - 23), false}, // 20 lies in 16..32, whose numbers step by 2^(4-23)
		{700, math.Exp2(9 - 23), false},
		{9000, math.Exp2(13 - 23), true},
	} {
		_, h := read(t, "a.stl", binarySTL("", soup(box(c.at, 0, 0, c.at+20, 10, 5))), 1)
		if h.Grain != c.grain || (len(h.Notes) == 1) != c.note {
			t.Errorf("at %g: grain %g, want %g, %q", c.at, h.Grain, c.grain, h.Notes)
		}
	}
	if _, h := read(t, "a.obj", objOf(box(9000, 0, 0, 9020, 10, 5)), 1); h.Grain != 0 || len(h.Notes) != 0 {
		t.Errorf("decimal text has no grain: %g %q", h.Grain, h.Notes)
	}
	for _, scale := range []float64{1, 4} { // a node's scale makes the steps larger
		nodes := `{"mesh":0,"scale":[1,1,1]}`
		if scale == 4 {
			nodes = `{"mesh":0,"scale":[4,4,4]}`
		}
		_, h := read(t, "a.glb", glbOf(box(0, 0, 0, 20, 10, 5), nodes), 0)
		if want := math.Exp2(-6-23) * 1000 * scale; !near(h.Grain/want, 1) { // 0.02 m lies in 2^-6..2^-5
			t.Errorf("grain %g, want %g", h.Grain, want)
		}
	}
}

// The result does not depend on the number of workers.
func TestWorkers(t *testing.T) {
	whole := torus(20_000)
	whole[10] = whole[10].Add(mgl64.Vec3{1e-5, 0, 0}) // and a crack
	for _, corners := range [][]mgl64.Vec3{whole, append(reversed(whole[:900]), whole[3000:]...)} {
		sameOnWorkers(t, corners)
	}
}

// sameOnWorkers welds and examines corners with one to five workers.
func sameOnWorkers(t *testing.T, corners []mgl64.Vec3) {
	t.Helper()
	points, index := weldSame(corners, 1)
	first, tris, h := assemble(slices.Clone(points), threes(index), 1)
	for workers := 2; workers <= 5; workers++ {
		p, i := weldSame(corners, workers)
		if !slices.Equal(p, points) || !slices.Equal(i, index) {
			t.Fatalf("%d workers weld otherwise", workers)
		}
		q, s, g := assemble(p, threes(i), workers)
		if !slices.Equal(q, first) || !slices.Equal(s, tris) || g.Line() != h.Line() {
			t.Fatalf("%d workers judge otherwise: %s, %s", workers, g.Line(), h.Line())
		}
	}
	if whole := len(corners) == len(torus(20_000)); h.Closed != whole || h.Shells != 1 || whole == (h.Turned > 0) {
		t.Errorf("%s", h.Line())
	}
}

// Welding is by value: 0 and -0 are one, neighbouring numbers are not.
func TestWeldSame(t *testing.T) {
	next := math.Nextafter(1, 2)
	points, index := weldSame([]mgl64.Vec3{{0, 1, 0}, {0, 1, math.Copysign(0, -1)}, {0, next, 0}, {0, 1, 0}}, 1)
	if len(points) != 2 || !slices.Equal(index, []int32{0, 0, 1, 0}) {
		t.Errorf("%v %v", points, index)
	}
}
