package threemf

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/mesh"
)

// document is what a reader of the format's core looks for.
type document struct {
	XMLName xml.Name `xml:"http://schemas.microsoft.com/3dmanufacturing/core/2015/02 model"`
	Unit    string   `xml:"unit,attr"`
	Objects []struct {
		ID       int    `xml:"id,attr"`
		Type     string `xml:"type,attr"`
		Name     string `xml:"name,attr"`
		Vertices []struct {
			X float64 `xml:"x,attr"`
			Y float64 `xml:"y,attr"`
			Z float64 `xml:"z,attr"`
		} `xml:"mesh>vertices>vertex"`
		Triangles []struct {
			A int `xml:"v1,attr"`
			B int `xml:"v2,attr"`
			C int `xml:"v3,attr"`
		} `xml:"mesh>triangles>triangle"`
	} `xml:"resources>object"`
	Items []struct {
		Object int `xml:"objectid,attr"`
	} `xml:"build>item"`
}

// read opens a package the way the format says: the relation names the model, and the types cover every part.
func read(t *testing.T, data []byte) document {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	parts := map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if parts["/"+f.Name], err = io.ReadAll(r); err != nil {
			t.Fatal(err)
		}
	}
	var types struct {
		Default []struct {
			Extension   string `xml:"Extension,attr"`
			ContentType string `xml:"ContentType,attr"`
		}
	}
	var relations struct {
		Relationship []struct {
			Target string `xml:"Target,attr"`
			Type   string `xml:"Type,attr"`
		}
	}
	unpack(t, parts["/[Content_Types].xml"], &types)
	unpack(t, parts["/_rels/.rels"], &relations)
	for name := range parts {
		known := strings.HasSuffix(name, "[Content_Types].xml")
		for _, d := range types.Default {
			known = known || strings.HasSuffix(name, "."+d.Extension) && d.ContentType != ""
		}
		if !known {
			t.Errorf("the part %s has no type", name)
		}
	}
	if len(relations.Relationship) != 1 || relations.Relationship[0].Type != "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel" {
		t.Fatalf("relations %+v", relations)
	}
	var d document
	unpack(t, parts[relations.Relationship[0].Target], &d)
	return d
}

func unpack(t *testing.T, data []byte, to any) {
	t.Helper()
	if err := xml.Unmarshal(data, to); err != nil {
		t.Fatal(err)
	}
}

// tetra returns a closed tetrahedron with legs a, b, c along the axes from p; its volume is abc/6.
func tetra(name string, p mgl64.Vec3, a, b, c float64) mesh.Mesh {
	return mesh.Mesh{
		Name:      name,
		Points:    []mgl64.Vec3{p, p.Add(mgl64.Vec3{a, 0, 0}), p.Add(mgl64.Vec3{0, b, 0}), p.Add(mgl64.Vec3{0, 0, c})},
		Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}},
	}
}

// What is read back is closed and faces outwards, keeps names, places and volumes, and is built once each.
func TestRoundTrip(t *testing.T) {
	meshes := []mesh.Mesh{tetra("bend:neck.2", mgl64.Vec3{0.1, 0.2, 0.3}, 3, 4, 5), tetra(`a <"&'> b`, mgl64.Vec3{-1234.5678, 50, 7e-9}, 1, 1, 1.0/3)}
	var file bytes.Buffer
	if err := Write(&file, meshes); err != nil {
		t.Fatal(err)
	}
	d := read(t, file.Bytes())
	if d.Unit != "millimeter" || len(d.Objects) != 2 || len(d.Items) != 2 {
		t.Fatalf("unit %q, %d objects, %d items", d.Unit, len(d.Objects), len(d.Items))
	}
	for i, o := range d.Objects {
		m := meshes[i]
		if o.Name != m.Name || o.Type != "model" || d.Items[i].Object != o.ID || o.ID < 1 {
			t.Errorf("object %d is %q, item %d", o.ID, o.Name, d.Items[i].Object)
		}
		var points []mgl64.Vec3
		for k, v := range o.Vertices {
			points = append(points, mgl64.Vec3{v.X, v.Y, v.Z})
			if off := points[k].Sub(m.Points[k]).Len(); off > 1e-5 {
				t.Errorf("corner %d is %g off", k, off)
			}
		}
		edges, volume := map[[2]int]int{}, 0.0
		for _, x := range o.Triangles {
			volume += points[x.A].Dot(points[x.B].Cross(points[x.C])) / 6
			for _, e := range [][2]int{{x.A, x.B}, {x.B, x.C}, {x.C, x.A}} {
				edges[e]++
			}
		}
		for e, n := range edges {
			if n != 1 || edges[[2]int{e[1], e[0]}] != 1 {
				t.Errorf("%s: edge %v is not shared by two", o.Name, e)
			}
		}
		if want := m.Volume(); math.Abs(volume-want) > 1e-4*want {
			t.Errorf("%s: volume %g, want %g", o.Name, volume, want)
		}
	}
}

// The same meshes give the same bytes.
func TestRepeats(t *testing.T) {
	var a, b bytes.Buffer
	meshes := []mesh.Mesh{tetra("a", mgl64.Vec3{}, 1, 2, 3)}
	if err := errors.Join(Write(&a, meshes), Write(&b, meshes)); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two runs differ", err)
	}
}

func TestRefusals(t *testing.T) {
	bad := tetra("section:main", mgl64.Vec3{}, 1, 1, 1)
	bad.Points[2][1] = math.Inf(1)
	for _, c := range []struct {
		meshes []mesh.Mesh
		want   string
	}{{nil, "no triangles"}, {[]mesh.Mesh{{Name: "empty"}}, "empty: there are no triangles"}, {[]mesh.Mesh{tetra("ok", mgl64.Vec3{}, 1, 1, 1), bad}, "section:main"}} {
		var file bytes.Buffer
		if err := Write(&file, c.meshes); err == nil || !strings.Contains(err.Error(), c.want) || file.Len() > 0 {
			t.Errorf("error %v with %d bytes, want %q", err, file.Len(), c.want)
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
	meshes := make([]mesh.Mesh, 300)
	for i := range meshes {
		meshes[i] = tetra("m", mgl64.Vec3{float64(i) / 7}, 1, 1, 1)
	}
	var whole bytes.Buffer
	if err := Write(&whole, meshes); err != nil {
		t.Fatal(err)
	}
	for n := 0; n < whole.Len(); n += whole.Len() / 5 {
		if err := Write(&brokenPipe{n}, meshes); !errors.Is(err, errPipe) {
			t.Errorf("broken after %d bytes: error %v", n, err)
		}
	}
}
