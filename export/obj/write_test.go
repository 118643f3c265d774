package obj

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/mesh"
)

// tetra returns a closed tetrahedron with legs a, b, c along the axes from p; its volume is abc/6.
func tetra(name string, p mgl64.Vec3, a, b, c float64) mesh.Mesh {
	return mesh.Mesh{
		Name:      name,
		Points:    []mgl64.Vec3{p, p.Add(mgl64.Vec3{a, 0, 0}), p.Add(mgl64.Vec3{0, b, 0}), p.Add(mgl64.Vec3{0, 0, c})},
		Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}},
	}
}

// What is read back line by line keeps names, places and volumes; corners are counted through the file.
func TestRoundTrip(t *testing.T) {
	meshes := []mesh.Mesh{tetra("bend:neck", mgl64.Vec3{0.1, -0.2, 0.3}, 3, 4, 5), tetra("two words", mgl64.Vec3{100, 1e-9, 7}, 1, 1, 2)}
	var file bytes.Buffer
	if err := Write(&file, meshes); err != nil {
		t.Fatal(err)
	}
	var points []mgl64.Vec3
	var names []string
	volumes := map[string]float64{}
	for _, line := range strings.Split(strings.TrimSuffix(file.String(), "\n"), "\n") {
		word, rest, _ := strings.Cut(line, " ")
		var v mgl64.Vec3
		var f [3]int
		switch word {
		case "#":
		case "o":
			names = append(names, rest)
		case "v":
			if n, err := fmt.Sscan(rest, &v[0], &v[1], &v[2]); n != 3 {
				t.Fatal(line, err)
			}
			points = append(points, v)
		case "f":
			if n, err := fmt.Sscan(rest, &f[0], &f[1], &f[2]); n != 3 {
				t.Fatal(line, err)
			}
			volumes[names[len(names)-1]] += points[f[0]-1].Dot(points[f[1]-1].Cross(points[f[2]-1])) / 6
		default:
			t.Fatalf("line %q", line)
		}
	}
	if strings.Join(names, ",") != "bend:neck,two_words" || len(points) != 8 {
		t.Errorf("objects %v with %d corners", names, len(points))
	}
	if v := volumes["bend:neck"]; math.Abs(v-10) > 1e-7 {
		t.Errorf("volume %g", v)
	}
	if v := volumes["two_words"]; math.Abs(v-1.0/3) > 1e-5 {
		t.Errorf("volume %g", v)
	}
	for i, p := range points {
		if want := meshes[i/4].Points[i%4]; p.Sub(want).Len() > 1e-6 {
			t.Errorf("corner %d at %v, want %v", i, p, want)
		}
	}
}

func TestRefusals(t *testing.T) {
	bad := tetra("section:main", mgl64.Vec3{}, 1, 1, 1)
	bad.Points[2][1] = math.NaN()
	for _, c := range []struct {
		meshes []mesh.Mesh
		want   string
	}{{nil, "no triangles"}, {[]mesh.Mesh{{Name: "empty"}}, "no triangles"}, {[]mesh.Mesh{bad}, "section:main"}} {
		var file bytes.Buffer
		if err := Write(&file, c.meshes); err == nil || !strings.Contains(err.Error(), c.want) || file.Len() > 0 {
			t.Errorf("error %v with %d bytes, want %q", err, file.Len(), c.want)
		}
	}
}
