package stl

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/mesh"
)

// facet is one record of a binary STL.
type facet struct {
	Normal  [3]float32
	Corners [3][3]float32
	Word    uint16
}

// read is a strict reader of binary STL.
func read(t testing.TB, data []byte) []facet {
	t.Helper()
	if len(data) < 84 || bytes.HasPrefix(data, []byte("solid")) {
		t.Fatalf("no binary STL: %d bytes", len(data))
	}
	n := binary.LittleEndian.Uint32(data[80:])
	if len(data) != 84+50*int(n) {
		t.Fatalf("%d bytes for %d facets", len(data), n)
	}
	list := make([]facet, n)
	if err := binary.Read(bytes.NewReader(data[84:]), binary.LittleEndian, list); err != nil {
		t.Fatal(err)
	}
	return list
}

// tetra returns a closed tetrahedron with legs a, b, c along the axes from p; its volume is abc/6.
func tetra(name string, p mgl64.Vec3, a, b, c float64) mesh.Mesh {
	return mesh.Mesh{
		Name:      name,
		Points:    []mgl64.Vec3{p, p.Add(mgl64.Vec3{a, 0, 0}), p.Add(mgl64.Vec3{0, b, 0}), p.Add(mgl64.Vec3{0, 0, c})},
		Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}},
	}
}

func TestRoundTrip(t *testing.T) {
	meshes := []mesh.Mesh{tetra("one", mgl64.Vec3{0.1, 0.2, 0.3}, 3, 4, 5), tetra("two", mgl64.Vec3{-100, 50, 7}, 1, 1, 2)}
	var buf bytes.Buffer
	if err := Write(&buf, meshes); err != nil {
		t.Fatal(err)
	}
	list := read(t, buf.Bytes())
	if len(list) != 8 {
		t.Fatalf("%d facets", len(list))
	}
	edges := map[[2][3]float32]int{}
	volume := 0.0
	for i, f := range list {
		m := meshes[i/4]
		for k, c := range f.Corners {
			p := m.Points[m.Triangles[i%4][k]]
			if c != [3]float32{float32(p[0]), float32(p[1]), float32(p[2])} {
				t.Errorf("facet %d corner %d at %v, want %v", i, k, c, p)
			}
			edges[[2][3]float32{c, f.Corners[(k+1)%3]}]++
		}
		a, b, c := wide(f.Corners[0]), wide(f.Corners[1]), wide(f.Corners[2])
		volume += a.Dot(b.Cross(c)) / 6
		if n := b.Sub(a).Cross(c.Sub(a)).Normalize(); n.Sub(wide(f.Normal)).Len() > 1e-5 {
			t.Errorf("facet %d: normal %v, want %v", i, f.Normal, n)
		}
		if f.Word != 0 {
			t.Errorf("facet %d: attribute %d", i, f.Word)
		}
	}
	for e, n := range edges {
		if n != 1 || edges[[2][3]float32{e[1], e[0]}] != 1 {
			t.Errorf("edge %v is open", e)
		}
	}
	if want := 3*4*5/6.0 + 1*1*2/6.0; math.Abs(volume-want) > 1e-4 {
		t.Errorf("volume %g, want %g", volume, want)
	}
}

func wide(p [3]float32) mgl64.Vec3 {
	return mgl64.Vec3{float64(p[0]), float64(p[1]), float64(p[2])}
}

func TestWithoutAreaTheNormalIsZero(t *testing.T) {
	m := mesh.Mesh{Points: []mgl64.Vec3{{1, 1, 1}, {2, 2, 2}, {3, 3, 3}}, Triangles: [][3]int32{{0, 1, 2}, {0, 0, 1}}}
	var buf bytes.Buffer
	if err := Write(&buf, []mesh.Mesh{m}); err != nil {
		t.Fatal(err)
	}
	for _, f := range read(t, buf.Bytes()) {
		if f.Normal != [3]float32{} {
			t.Errorf("normal %v", f.Normal)
		}
	}
}

func TestRefusals(t *testing.T) {
	bad := tetra("section:main", mgl64.Vec3{}, 1, 1, 1)
	bad.Points[2][1] = math.NaN()
	huge := tetra("section:main", mgl64.Vec3{1e300, 0, 0}, 1, 1, 1)
	for _, c := range []struct {
		meshes []mesh.Mesh
		want   string
	}{
		{nil, "no triangles"},
		{[]mesh.Mesh{{Name: "empty"}}, "no triangles"},
		{[]mesh.Mesh{tetra("ok", mgl64.Vec3{}, 1, 1, 1), bad}, "section:main"},
		{[]mesh.Mesh{huge}, "section:main"},
	} {
		var buf bytes.Buffer
		if err := Write(&buf, c.meshes); err == nil || !strings.Contains(err.Error(), c.want) || buf.Len() > 0 {
			t.Errorf("error %v with %d bytes, want %q", err, buf.Len(), c.want)
		}
	}
}

// brokenPipe takes n bytes and fails from then on.
type brokenPipe struct{ n int }

var errPipe = errors.New("pipe broke")

func (p *brokenPipe) Write(b []byte) (int, error) {
	if p.n -= len(b); p.n < 0 {
		return 0, errPipe
	}
	return len(b), nil
}

func TestWriteErrorsAreTold(t *testing.T) {
	meshes := make([]mesh.Mesh, 1000)
	for i := range meshes {
		meshes[i] = tetra("m", mgl64.Vec3{}, 1, 1, 1)
	}
	for n := 0; n < 84+50*4000; n += 50000 {
		if err := Write(&brokenPipe{n}, meshes); !errors.Is(err, errPipe) {
			t.Errorf("broken after %d bytes: error %v", n, err)
		}
	}
}

// Whatever the corners are, either the file reads back to the same corners or nothing is written.
func FuzzWrite(f *testing.F) {
	f.Add(0.0, 1.0, -2.0, 1e-30, uint8(0))
	f.Add(1e39, math.NaN(), math.Inf(1), math.Copysign(0, -1), uint8(3))
	f.Add(3.4028235e38, -3.4028235e38, 1e-46, 5e-324, uint8(17))
	f.Fuzz(func(t *testing.T, a, b, c, d float64, pick uint8) {
		m := mesh.Mesh{Name: "m", Points: []mgl64.Vec3{{a, b, c}, {b, c, d}, {c, d, a}, {d, a, b}}}
		m.Triangles = [][3]int32{{int32(pick & 3), int32(pick >> 2 & 3), int32(pick >> 4 & 3)}}
		var buf bytes.Buffer
		if err := Write(&buf, []mesh.Mesh{m}); err != nil {
			if buf.Len() > 0 {
				t.Fatalf("%v after %d bytes", err, buf.Len())
			}
			return
		}
		got := read(t, buf.Bytes())[0]
		for k, i := range m.Triangles[0] {
			p := m.Points[i]
			if got.Corners[k] != [3]float32{float32(p[0]), float32(p[1]), float32(p[2])} {
				t.Fatalf("corner %v, want %v", got.Corners[k], p)
			}
		}
		if l := wide(got.Normal).Len(); l != 0 && math.Abs(l-1) > 1e-6 {
			t.Fatalf("normal %v", got.Normal)
		}
	})
}

func BenchmarkWrite(b *testing.B) {
	meshes := make([]mesh.Mesh, 50000)
	for i := range meshes {
		meshes[i] = tetra("m", mgl64.Vec3{float64(i)}, 1, 1, 1)
	}
	b.SetBytes(84 + 50*4*50000)
	for b.Loop() {
		var buf bytes.Buffer
		if err := Write(&buf, meshes); err != nil {
			b.Fatal(err)
		}
	}
}
