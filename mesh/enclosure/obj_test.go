package enclosure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"foldfit/mesh"
)

// cubeOBJ is a cube of quads in every way to name a corner.
const cubeOBJ = `v 0 0 0 1.0
v 10 0 0 0.5 0.5 0.5
v 10 10 0
v 0 10 0 # a corner
vt 0 0
vn 0 0 1
g walls
v 0 0 10
v 10 0 10
v 10 10 \
  10
v 0 10 10
usemtl steel
f 4/1 3/1/1 2//1 1
o top
f -4 -3 -2 -1
s off
f 1 2 6 5
f 2 3 7 6
f 3 4 8 7 # a face
f 4 1 \
 5 8
`

func TestOBJ(t *testing.T) {
	for name, src := range map[string]string{
		"plain": cubeOBJ, "CRLF": strings.ReplaceAll(cubeOBJ, "\n", "\r\n"), "old line ends": strings.ReplaceAll(strings.ReplaceAll(cubeOBJ, "\\\n", ""), "\n", "\r"),
		"byte order mark": "\xef\xbb\xbf" + cubeOBJ, "no last line end": strings.TrimSpace(cubeOBJ),
	} {
		m, h := read(t, "a.obj", []byte(src), 1)
		if h.Line() != "12 triangles, 1 shell, closed" || len(m.Points) != 8 || !near(volume(m.Points, m.Triangles), 1000) || len(h.Notes) != 0 {
			t.Errorf("%s: %s, %d points, volume %g, %q", name, h.Line(), len(m.Points), volume(m.Points, m.Triangles), h.Notes)
		}
	}
}

// ring returns a star's face with n tips, tipped by 30 degrees about x, as OBJ from its corner start on, and its area.
func ring(n, start int) (string, float64) {
	var b strings.Builder
	s, c := math.Sincos(math.Pi / 6)
	flat, last := 0.0, [2]float64{}
	var first [2]float64
	for i := range 2 * n {
		r := 10.0
		if i%2 == 1 {
			r = 3
		}
		y, x := math.Sincos(math.Pi * float64(i) / float64(n))
		p := [2]float64{r * x, r * y}
		fmt.Fprintf(&b, "v %.12g %.12g %.12g\n", p[0], c*p[1], s*p[1])
		if i == 0 {
			first = p
		} else {
			flat += (last[0]*p[1] - last[1]*p[0]) / 2
		}
		last = p
	}
	flat += (last[0]*first[1] - last[1]*first[0]) / 2
	b.WriteString("f")
	for i := range 2 * n {
		fmt.Fprintf(&b, " %d", (start+i)%(2*n)+1)
	}
	return b.String() + "\n", flat
}

// A face that is not convex keeps its area, its corners and its direction, wherever it begins and however it stands.
func TestOBJConcaveFaces(t *testing.T) {
	for n := 3; n < 9; n++ {
		for start := range 2 {
			src, want := ring(n, start)
			m, h := read(t, "a.obj", []byte(src), 1)
			if !near(area(m), want) || len(m.Triangles) != 2*n-2 || len(m.Points) != 2*n || h.Open != 2*n {
				t.Errorf("%d tips from %d: area %g, want %g, %s", n, start, area(m), want, h.Line())
			}
			for _, tri := range m.Triangles {
				a, b, c := m.Points[tri[0]], m.Points[tri[1]], m.Points[tri[2]]
				if normal := b.Sub(a).Cross(c.Sub(a)); normal[2] <= 0 {
					t.Errorf("%d tips: a triangle is turned over", n)
				}
			}
		}
	}
	m, h := read(t, "a.obj", []byte("v 0 0 0\nv 9 9 0\nv 9 0 0\nv 0 8 0\nf 1 2 3 4\n"), 1) // a bow tie
	if len(m.Triangles) == 0 || len(h.Notes) != 1 || !strings.Contains(h.Notes[0], "1 face whose sides cross") {
		t.Errorf("%q", h.Notes)
	}
	if _, h = read(t, "a.obj", []byte(cubeOBJ+"l 1 2\np 3\n"), 1); len(h.Notes) != 1 || !strings.Contains(h.Notes[0], "2 statements") {
		t.Errorf("%q", h.Notes)
	}
}

func TestOBJErrors(t *testing.T) {
	three := "v 0 0 0\nv 9 0 0\nv 0 9 0\n"
	for name, c := range map[string]struct {
		src   string
		words []string
	}{
		"no faces":         {three, []string{"no faces"}},
		"two corners":      {three + "f 1 2\n", []string{"line 4", "2 corners"}},
		"index 0":          {three + "f 0 1 2\n", []string{"line 4", `"0"`}},
		"index too large":  {three + "f 1 2 4\n", []string{"line 4", `"4"`, "3 stand before"}},
		"index too low":    {three + "f 1 2 -4\n", []string{"line 4", `"-4"`}},
		"huge index":       {three + "f 1 2 99999999999999\n", []string{"line 4"}},
		"no number":        {three + "f 1 2 x\n", []string{"line 4", `"x"`}},
		"two coordinates":  {"v 1 2\n" + three, []string{"line 1", "end of the"}},
		"not a number":     {"v 1 2 nan\n", []string{"line 1", `"nan"`}},
		"hexadecimal":      {"# a\nv 1 2 0x3\n", []string{"line 2", `"0x3"`}},
		"after a long one": {"v 0 \\\n 0 0\nv x 0 0\n", []string{"line 3", `"x"`}},
		"too far":          {"v 0 0 0\nv 9e9 0 0\nv 0 9 0\nf 1 2 3\n", []string{"triangle 1", "units"}},
		"no area":          {"v 0 0 0\nv 1 0 0\nv 2 0 0\nf 1 2 3\n", []string{"no area"}},
	} {
		wrong(t, name, "a.obj", []byte(c.src), c.words...)
	}
}

func FuzzOBJ(f *testing.F) {
	f.Add([]byte(cubeOBJ))
	star, _ := ring(5, 1)
	f.Add([]byte(star))
	f.Add(objOf(tetra(1, 2, 3)))
	f.Add([]byte("v 0 0 0\nv 9 9 0\nv 9 0 0\nv 0 8 0\nf 1 2 3 4\nf 1 1 2 2 3 -1"))
	f.Fuzz(func(t *testing.T, src []byte) {
		r, err := readOBJ(src)
		var m mesh.Mesh
		var h Health
		if err == nil {
			m, h, err = r.finish("m", 1)
		}
		promises(t, m, h, err)
	})
}
