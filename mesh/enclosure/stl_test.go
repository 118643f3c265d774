package enclosure

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/mesh"
)

// soup returns the corners of a mesh's triangles, three each.
func soup(m mesh.Mesh) []mgl64.Vec3 {
	var out []mgl64.Vec3
	for _, t := range m.Triangles {
		for _, k := range t {
			out = append(out, m.Points[k])
		}
	}
	return out
}

// binarySTL writes corners as a binary file. The stored normals are nonsense on purpose.
func binarySTL(header string, corners []mgl64.Vec3) []byte {
	out := make([]byte, 80, 84+50*len(corners)/3)
	copy(out, header)
	out = binary.LittleEndian.AppendUint32(out, uint32(len(corners)/3))
	for i := 0; i < len(corners); i += 3 {
		for range 3 {
			out = binary.LittleEndian.AppendUint32(out, math.Float32bits(float32(math.NaN())))
		}
		for _, p := range corners[i : i+3] {
			for k := range 3 {
				out = binary.LittleEndian.AppendUint32(out, math.Float32bits(float32(p[k])))
			}
		}
		out = append(out, 0, 0)
	}
	return out
}

// textSTL writes corners as a text file with the given number format.
func textSTL(name, number string, corners []mgl64.Vec3) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "solid %s\n", name)
	for i := 0; i < len(corners); i += 3 {
		b.WriteString(" facet normal 0 nan 1\n  outer loop\n")
		for _, p := range corners[i : i+3] {
			fmt.Fprintf(&b, "   vertex "+number+" "+number+" "+number+"\n", p[0], p[1], p[2])
		}
		b.WriteString("  endloop\n endfacet\n")
	}
	fmt.Fprintf(&b, "endsolid %s\n", name)
	return b.Bytes()
}

func box(x0, y0, z0, x1, y1, z1 float64) mesh.Mesh {
	return Box("box", mgl64.Vec3{x0, y0, z0}, mgl64.Vec3{x1, y1, z1})
}

func reversed(corners []mgl64.Vec3) []mgl64.Vec3 {
	out := append([]mgl64.Vec3(nil), corners...)
	for i := 0; i < len(out); i += 3 {
		out[i], out[i+1] = out[i+1], out[i]
	}
	return out
}

func TestBoxIsClosed(t *testing.T) {
	m := Box("tray", mgl64.Vec3{3, -1, 2}, mgl64.Vec3{1, 4, 2.5}) // corners in no order
	_, _, h := assemble(slices.Clone(m.Points), slices.Clone(m.Triangles), 1)
	if !h.Closed || h.Shells != 1 || h.Triangles != 12 || h.Open+h.Overused+h.Twisted+h.Degenerate != 0 {
		t.Errorf("health %+v", h)
	}
	if v := volume(m.Points, m.Triangles); math.Abs(v-2*5*0.5) > 1e-12 {
		t.Errorf("volume %v, want 5", v)
	}
	for i, tri := range m.Triangles {
		a, b, c := m.Points[tri[0]], m.Points[tri[1]], m.Points[tri[2]]
		if n := b.Sub(a).Cross(c.Sub(a)).Normalize(); n.Sub(m.Normals[i][0]).Len() > 1e-12 {
			t.Errorf("triangle %d: normal %v, stored %v", i, n, m.Normals[i][0])
		}
	}
}

// threes returns triangles by the numbers of their corners.
func threes(numbers []int32) [][3]int32 {
	out := make([][3]int32, len(numbers)/3)
	for i := range out {
		out[i] = [3]int32(numbers[3*i:])
	}
	return out
}

// The same box in every dialect comes out the same.
func TestReadSTLDialects(t *testing.T) {
	want := box(-1, 0, 2, 3.5, 1.25, 8)
	c := soup(want)
	text := string(textSTL("a tray with spaces", "%.9E", c))
	two := textSTL("", "%g", c[:18])
	two = append(two, textSTL("second", "%g", c[18:])...)
	cases := map[string][]byte{
		"binary":                 binarySTL("made by hand", c),
		"binary named solid":     binarySTL("solid facet normal", c),
		"binary, zeros behind":   append(binarySTL("", c), make([]byte, 428)...),
		"binary, newline behind": append(binarySTL("", c), "\r\n"...),
		"text":                   []byte(text),
		"upper case":             []byte(strings.ToUpper(text)),
		"byte order mark, CRLF":  []byte("\xef\xbb\xbf" + strings.ReplaceAll(text, "\n", "\r\n")),
		"old line ends":          []byte(strings.ReplaceAll(text, "\n", "\r")),
		"two solids":             two,
		"rounded numbers":        textSTL("", "%.3f", c),
	}
	for name, src := range cases {
		m, h, err := ReadSTL("tray", src, 1)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if !h.Closed || h.Triangles != 12 || h.Shells != 1 || len(m.Points) != 8 || m.Name != "tray" {
			t.Errorf("%s: %v, %d points", name, h.Line(), len(m.Points))
		}
		if v := volume(m.Points, m.Triangles); math.Abs(v-4.5*1.25*6) > 1e-9 {
			t.Errorf("%s: volume %v", name, v)
		}
	}
}

func TestReadSTLScale(t *testing.T) {
	m, h, err := ReadSTL("a", binarySTL("", soup(box(0, 0, 0, 1, 2, 3))), 25.4)
	if err != nil || math.Abs(volume(m.Points, m.Triangles)-6*25.4*25.4*25.4) > 1e-9 {
		t.Errorf("volume %v, %v", volume(m.Points, m.Triangles), err)
	}
	if want := (mgl64.Vec3{25.4, 50.8, 3 * 25.4}); h.Box[1].Sub(want).Len() > 1e-12 {
		t.Errorf("box %v, want %v", h.Box[1], want)
	}
}

// counts returns only the counts of a health.
func counts(h Health) Health {
	h.Box, h.Format, h.Unit, h.UnitFrom, h.Grain, h.Notes = [2]mgl64.Vec3{}, "", "", "", 0, nil
	return h
}

func TestReadSTLHealth(t *testing.T) {
	a, b := soup(box(0, 0, 0, 1, 1, 1)), soup(box(3, 0, 0, 5, 1, 1))
	both := append(append([]mgl64.Vec3(nil), a...), b...)
	hollow := append(soup(box(0, 0, 0, 5, 5, 5)), reversed(soup(box(1, 1, 1, 4, 4, 4)))...)
	twist := append([]mgl64.Vec3(nil), a...)
	twist[0], twist[1] = twist[1], twist[0]
	corner := append(soup(box(0, 0, 0, 1, 1, 1)), soup(box(1, 1, 0, 2, 2, 1))...) // they share an edge
	needles := append(append([]mgl64.Vec3(nil), a...), a[0], a[1], a[1], a[0], a[0].Add(a[1]).Mul(0.5), a[1])
	cases := []struct {
		name    string
		corners []mgl64.Vec3
		want    Health
	}{
		{"two boxes", both, Health{Triangles: 24, Shells: 2, Closed: true}},
		{"inside out", reversed(both), Health{Triangles: 24, Shells: 2, Closed: true, Inverted: 2}},
		{"cavity", hollow, Health{Triangles: 24, Shells: 2, Closed: true, Nested: 1, Cavities: 1}},
		{"lid off", a[6:], Health{Triangles: 10, Shells: 1, Open: 4}},
		{"one face turned", twist, Health{Triangles: 12, Shells: 1, Closed: true, Turned: 1}},
		{"repeated face", append(append([]mgl64.Vec3(nil), a...), a[1], a[2], a[0]), Health{Triangles: 12, Shells: 1, Closed: true, Duplicates: 1}},
		{"common edge", corner, Health{Triangles: 24, Shells: 1, Overused: 1, Closed: true}},
		{"no area", needles, Health{Triangles: 12, Shells: 1, Open: 2, Overused: 1, Degenerate: 2}},
	}
	for _, c := range cases {
		m, h, err := ReadSTL("m", binarySTL("", c.corners), 1)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		h = counts(h)
		if !reflect.DeepEqual(h, c.want) {
			t.Errorf("%s: %+v, want %+v", c.name, h, c.want)
		}
		if h.Closed && volume(m.Points, m.Triangles) <= 0 {
			t.Errorf("%s: volume %v", c.name, volume(m.Points, m.Triangles))
		}
	}
}

// A crack filled by a needle is closed although the needle is dropped.
func TestNeedleFillsCrack(t *testing.T) {
	c := soup(box(0, 0, 0, 2, 2, 2))
	a, b, apex := c[0], c[1], c[2]
	mid := a.Add(b).Mul(0.5)
	split := append([]mgl64.Vec3{a, mid, apex, mid, b, apex, a, b, mid}, c[3:]...)
	_, h, err := ReadSTL("m", binarySTL("", split), 1)
	if err != nil || !h.Closed || h.Degenerate != 1 || h.Triangles != 13 {
		t.Errorf("%+v, %v", h, err)
	}
}

// Corners that rounding has pulled apart are welded only if that closes the mesh.
func TestWeldNear(t *testing.T) {
	c := soup(box(0, 0, 0, 100, 100, 100))
	for i := range c {
		c[i] = c[i].Add(mgl64.Vec3{1e-4 * float64(i%3), -1e-4 * float64(i%2), 0})
	}
	m, h, err := ReadSTL("m", textSTL("", "%.9g", c), 1)
	if err != nil || !h.Closed || len(m.Points) != 8 {
		t.Errorf("%v, %d points, %v", h, len(m.Points), err)
	}
	c[0] = c[0].Add(mgl64.Vec3{0, 0, 0.1}) // too far: a real hole
	if _, h, _ = ReadSTL("m", textSTL("", "%.9g", c), 1); h.Closed || h.Open == 0 {
		t.Errorf("a hole of 0.1 mm was welded: %v", h)
	}
}

func TestReadSTLErrors(t *testing.T) {
	c := soup(box(0, 0, 0, 1, 1, 1))
	good := binarySTL("", c)
	text := string(textSTL("a", "%g", c))
	lying := append([]byte(nil), good...)
	lying[80] = 11
	more := append([]byte(nil), good...)
	more[83] = 0x7f
	nan := append([]mgl64.Vec3(nil), c...)
	nan[4][1] = math.NaN()
	far := append([]mgl64.Vec3(nil), c...)
	far[5][2] = 2e5
	cases := []struct {
		name  string
		src   []byte
		scale float64
		want  []string
	}{
		{"empty", nil, 1, []string{"empty"}},
		{"noise", []byte("hello"), 1, []string{"not an STL file"}},
		{"no triangles", good[:84], 1, []string{"12 triangles", "684 bytes", "has 84"}},
		{"counts none", make([]byte, 84), 1, []string{"byte 80", "no triangles"}},
		{"cut short", good[:len(good)-1], 1, []string{"684 bytes", "has 683"}},
		{"counts too few", lying, 1, []string{"11 triangles", "50 bytes follow"}},
		{"counts too many", more, 1, []string{"byte 80", "triangles"}},
		{"not a number", binarySTL("", nan), 1, []string{"byte 162", "triangle 2"}},
		{"too far", binarySTL("", far), 1, []string{"triangle 2", "z = 2e+05", "units"}},
		{"too far by scale", good, 1e6, []string{"units"}},
		{"scale 0", good, 0, []string{"unit"}},
		{"all degenerate", binarySTL("", []mgl64.Vec3{c[0], c[0], c[1]}), 1, []string{"no area"}},
		{"text without facets", []byte("solid a\nendsolid a\n"), 1, []string{"no triangles"}},
		{"text cut short", []byte(text[:len(text)-11]), 1, []string{"line 86", "cut short"}},
		{"bad number", []byte(strings.Replace(text, "vertex 0", "vertex 0x1", 1)), 1, []string{"line 4", `"0x1"`}},
		{"infinite", []byte(strings.Replace(text, "vertex 0", "vertex inf", 1)), 1, []string{"line 4", `"inf"`}},
		{"overflow", []byte(strings.Replace(text, "vertex 0", "vertex 1e999", 1)), 1, []string{"line 4", "1e999"}},
		{"four corners", []byte(strings.Replace(text, "endloop", "vertex 1 1 1\nendloop", 1)), 1, []string{"line 7", "endloop"}},
		{"stray word", []byte(strings.Replace(text, "facet", "face", 1)), 1, []string{"line 2", `"face"`}},
		{"nested solid", []byte("solid a\n" + text), 1, []string{"line 2", `"solid"`}},
		{"number missing", []byte("solid\nfacet normal 0 0 1 outer loop vertex 1 2"), 1, []string{"line 2", "end of the file"}},
	}
	for _, c := range cases {
		_, _, err := ReadSTL("m", c.src, c.scale)
		if err == nil {
			t.Errorf("%s: no error", c.name)
			continue
		}
		for _, w := range c.want {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%s: %q does not say %q", c.name, err, w)
			}
		}
		if len(err.Error()) > 200 {
			t.Errorf("%s: %d characters long", c.name, len(err.Error()))
		}
	}
}

func TestHealthLine(t *testing.T) {
	_, h, _ := ReadSTL("m", binarySTL("", soup(box(0, 0, 0, 20, 10, 5))), 1)
	if got, want := h.Line(), "12 triangles, 1 shell, closed"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	h = Health{Triangles: 12840, Shells: 1, Open: 37, Overused: 1060, Twisted: 1, Degenerate: 2, Trailing: 1, Turned: 1, Inverted: 3}
	want := "12 840 triangles, 1 shell, 37 open edges, 1 060 edges with more than two triangles, 1 edge where outside changes: " +
		"inside and outside cannot be told apart; dropped 2 without area, 0 repeated; 1 triangle faced the wrong way, turned; 3 shells inside out, turned; " +
		"1 byte at the end ignored"
	if h.Line() != want {
		t.Errorf("%q, want %q", h.Line(), want)
	}
}

// volume returns the signed volume of a mesh's triangles.
func volume(points []mgl64.Vec3, tris [][3]int32) float64 {
	v := 0.0
	for _, t := range tris {
		a, b, c := points[t[0]].Sub(points[0]), points[t[1]].Sub(points[0]), points[t[2]].Sub(points[0])
		v += a.Dot(b.Cross(c)) / 6
	}
	return v
}

// torus returns the corners of a torus of about n triangles, coordinates rounded as a file rounds them.
func torus(n int) []mgl64.Vec3 {
	u := int(math.Sqrt(float64(n))) / 2 * 2
	v := n / 2 / u
	at := func(i, j int) mgl64.Vec3 {
		s, c := math.Sincos(2 * math.Pi * float64(i%u) / float64(u))
		ss, cc := math.Sincos(2 * math.Pi * float64(j%v) / float64(v))
		return mgl64.Vec3{(30 + 9*cc) * c, (30 + 9*cc) * s, 9 * ss}
	}
	var out []mgl64.Vec3
	for i := range u {
		for j := range v {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			out = append(out, a, b, c, a, c, d)
		}
	}
	return out
}

func TestReadSTLTorus(t *testing.T) {
	m, h, err := ReadSTL("torus", binarySTL("", torus(20000)), 1)
	if err != nil || !h.Closed || h.Shells != 1 || h.Degenerate+h.Duplicates > 0 {
		t.Fatalf("%v, %v", h, err)
	}
	if euler := len(m.Points) - len(m.Triangles)/2; euler != 0 {
		t.Errorf("Euler number %d, want 0 for a torus", euler)
	}
	if want := 2 * math.Pi * math.Pi * 30 * 81; math.Abs(volume(m.Points, m.Triangles)/want-1) > 2e-3 {
		t.Errorf("volume %v, want about %v (Pappus)", volume(m.Points, m.Triangles), want)
	}
}

// Whatever comes in, the answer is an error or a mesh that keeps its promises.
func FuzzReadSTL(f *testing.F) {
	c := soup(box(0, 0, 0, 1, 2, 3))
	f.Add(binarySTL("", c), 1.0)
	f.Add(binarySTL("solid ", c[:9]), 25.4)
	f.Add(textSTL("a b", "%g", c), 1.0)
	f.Add(textSTL("", "%.2e", c[:9]), 0.001)
	f.Add([]byte("SOLID\nFACET NORMAL 0 0 1 OUTER LOOP VERTEX 1 2 3"), 1.0)
	f.Add(append(binarySTL("", reversed(c)), 0, 0, 0), 1.0)
	f.Fuzz(func(t *testing.T, src []byte, scale float64) {
		m, h, err := ReadSTL("m", src, scale)
		if err != nil {
			if len(err.Error()) > 300 {
				t.Errorf("long error: %d", len(err.Error()))
			}
			return
		}
		if h.Triangles != len(m.Triangles) || h.Triangles == 0 || h.Shells == 0 {
			t.Errorf("%+v for %d triangles", h, len(m.Triangles))
		}
		for _, tri := range m.Triangles {
			if tri[0] == tri[1] || tri[1] == tri[2] || tri[2] == tri[0] {
				t.Errorf("degenerate %v", tri)
			}
			for _, k := range tri {
				if p := m.Points[k]; !(p.Len() < 1e6) {
					t.Errorf("point %v", p)
				}
			}
		}
		if h.Closed && volume(m.Points, m.Triangles) < 0 {
			t.Errorf("inside out: %v", volume(m.Points, m.Triangles))
		}
	})
}
