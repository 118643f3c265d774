package enclosure

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"foldfit/mesh"
)

// allocated returns how many MB a function allocates in all, garbage counted: more than it holds at any time.
func allocated(f func()) float64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return float64(after.TotalAlloc-before.TotalAlloc) / (1 << 20)
}

// A read takes little more than the mesh that comes of it: 100 bytes a triangle, garbage counted, for a closed mesh.
func TestReadAllocates(t *testing.T) {
	src := binarySTL("", torus(200_000))
	triangles := 0
	mb := allocated(func() { _, h := read(t, "a.stl", src, 1); triangles = h.Triangles })
	if most := 100 * float64(triangles) / (1 << 20); mb > most {
		t.Errorf("%d triangles took %.1f MB, want at most %.1f", triangles, mb, most)
	}
}

// Small files that ask for much are refused for a limit that the message names, before memory is spent on them.
func TestBombsAllocateLittle(t *testing.T) {
	o := object3MFOf(1, box(0, 0, 0, 1, 1, 1))
	grid := tetra(30, 20, 10)
	for len(grid.Triangles) < 30_000 {
		grid.Triangles = append(grid.Triangles, grid.Triangles...)
	}
	nodes := `{"children":[1` + numbered(",%d", 2, 100) + `]}` + strings.Repeat(`,{"mesh":0}`, 100)
	for _, c := range []struct {
		name, file string
		src        []byte
		word       string
		most       float64 // MB
	}{
		{"copies in glTF", "a.glb", glbOf(grid, nodes), "copies of objects", 20},
		{"copies in 3MF", "a.3mf", threeMF(model3MF("inch", object3MFOf(1, grid), strings.Repeat(`<item objectid="1"/>`, 100))), "copies of objects", 30},
		{"endless elements", "a.3mf", threeMF(model3MF("inch", o+strings.Repeat("<a/>", mostElements+1), "")), "8000000 elements", 50},
		{"packed air", "a.3mf", threeMF(model3MF("inch", o+strings.Repeat(" ", leastPacked+8<<20), "")), "unpacks to more than", 20},
	} {
		if mb := allocated(func() { wrong(t, c.name, c.file, c.src, c.word) }); mb > c.most {
			t.Errorf("%s: a file of %d bytes took %.1f MB, want at most %.0f", c.name, len(c.src), mb, c.most)
		}
	}
}

// numbered returns a pattern filled in with the numbers from one to another.
func numbered(pattern string, from, to int) string {
	var b strings.Builder
	for i := from; i <= to; i++ {
		fmt.Fprintf(&b, pattern, i)
	}
	return b.String()
}

// Primitives that share their positions take them once.
func TestGLBSharedPositions(t *testing.T) {
	points, numbers := weldSame(torus(20_000), 1)
	m := mesh.Mesh{Points: points, Triangles: distinct(threes(numbers))}
	text := strings.Replace(string(gltfOf(m, `{"mesh":0}`)), `"indices":1}`, `"indices":1}`+strings.Repeat(`,{"attributes":{"POSITION":0},"indices":1}`, 20), 1)
	var h Health
	if mb := allocated(func() { _, h = read(t, "a.gltf", []byte(text), 0) }); mb > 60 {
		t.Errorf("21 primitives over %d points took %.1f MB, want at most 60", len(m.Points), mb)
	}
	if h.Triangles != len(m.Triangles) || h.Duplicates != 20*len(m.Triangles) || !h.Closed {
		t.Errorf("%s", h.Line())
	}
}

// A mesh with very many open edges is read, and the notes say that no cracks were looked for.
func TestTooManyOpenEdges(t *testing.T) {
	h := Health{Open: mostLoose + 1}
	h.tell()
	if len(h.Notes) != 1 || !strings.Contains(h.Notes[0], "2 000 001 open edges, too many") {
		t.Errorf("%q", h.Notes)
	}
	h = Health{Open: mostLoose}
	if h.tell(); len(h.Notes) != 0 {
		t.Errorf("%q", h.Notes)
	}
}
