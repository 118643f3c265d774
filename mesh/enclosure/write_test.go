package enclosure

import (
	"archive/zip"
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/mesh"
)

// objOf writes a mesh as OBJ text, one group.
func objOf(m mesh.Mesh) []byte {
	var b bytes.Buffer
	b.WriteString("# a housing\nmtllib none.mtl\no tray\n")
	for _, p := range m.Points {
		fmt.Fprintf(&b, "v %.9g %.9g %.9g\n", p[0], p[1], p[2])
	}
	for _, t := range m.Triangles {
		fmt.Fprintf(&b, "f %d %d %d\n", t[0]+1, t[1]+1, t[2]+1)
	}
	return b.Bytes()
}

// model3MF returns the text of a model part: resources, then items, in a unit.
func model3MF(unit, resources, items string) string {
	return `<?xml version="1.0" encoding="UTF-8"?><!-- > < a comment --><model unit="` + unit +
		`" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"><metadata name="Title">a &lt; b</metadata><resources>` +
		resources + `</resources><build>` + items + `</build></model>`
}

// object3MFOf returns an object element that holds a mesh.
func object3MFOf(id int, m mesh.Mesh) string {
	var b strings.Builder
	fmt.Fprintf(&b, "<object id=\"%d\" type=\"model\"><mesh><vertices>\n", id)
	for _, p := range m.Points {
		fmt.Fprintf(&b, "<vertex x=\"%.9g\" y=\"%.9g\" z=\"%.9g\"/>\n", p[0], p[1], p[2])
	}
	b.WriteString("</vertices><triangles>\n")
	for _, t := range m.Triangles {
		fmt.Fprintf(&b, "<triangle v1=\"%d\" v2='%d' v3=\"%d\" />\n", t[0], t[1], t[2])
	}
	b.WriteString("</triangles></mesh></object>")
	return b.String()
}

// zipped packs parts given as name, text, name, text.
func zipped(parts ...string) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(parts); i += 2 {
		w, _ := z.Create(parts[i])
		w.Write([]byte(parts[i+1]))
	}
	z.Close()
	return b.Bytes()
}

const rels = `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` +
	`<Relationship Target="/3D/a.model" Id="r0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>`

// threeMF packs a model part.
func threeMF(model string) []byte { return zipped("_rels/.rels", rels, "3D/a.model", model) }

// gltfText returns the text of a glTF file of one indexed mesh in metres, y up, at nodes given as JSON; uri names the buffer.
func gltfText(points, corners int, nodes, uri string) string {
	return fmt.Sprintf(`{"asset":{"version":"2.0"},"scene":0,"scenes":[{"nodes":[0]}],"nodes":[%s],
"meshes":[{"primitives":[{"attributes":{"POSITION":0},"indices":1}]}],
"accessors":[{"bufferView":0,"componentType":5126,"count":%d,"type":"VEC3"},{"bufferView":1,"componentType":5125,"count":%d,"type":"SCALAR"}],
"bufferViews":[{"buffer":0,"byteLength":%d},{"buffer":0,"byteOffset":%d,"byteLength":%d}],
"buffers":[{%s"byteLength":%d}]}`, nodes, points, corners, 12*points, 12*points, 4*corners, uri, 12*points+4*corners)
}

// gltfBytes returns the buffer of that text: a mesh in mm, z up, becomes one in metres, y up.
func gltfBytes(m mesh.Mesh) []byte {
	var out []byte
	for _, p := range m.Points {
		for _, v := range []float64{p[0], p[2], -p[1]} {
			out = binary.LittleEndian.AppendUint32(out, math.Float32bits(float32(v/1000)))
		}
	}
	for _, t := range m.Triangles {
		for _, k := range t {
			out = binary.LittleEndian.AppendUint32(out, uint32(k))
		}
	}
	return out
}

// glbChunks packs a text and its bytes.
func glbChunks(text string, bin []byte) []byte {
	for len(text)%4 != 0 {
		text += " "
	}
	out := []byte("glTF\x02\x00\x00\x00\x00\x00\x00\x00")
	out = binary.LittleEndian.AppendUint32(out, uint32(len(text)))
	out = append(append(out, "JSON"...), text...)
	if bin != nil {
		out = binary.LittleEndian.AppendUint32(out, uint32(len(bin)))
		out = append(append(out, "BIN\x00"...), bin...)
	}
	binary.LittleEndian.PutUint32(out[8:], uint32(len(out)))
	return out
}

// glbOf writes a mesh as GLB.
func glbOf(m mesh.Mesh, nodes string) []byte {
	return glbChunks(gltfText(len(m.Points), 3*len(m.Triangles), nodes, ""), gltfBytes(m))
}

// gltfOf writes a mesh as glTF with an embedded buffer.
func gltfOf(m mesh.Mesh, nodes string) []byte {
	uri := `"uri":"data:application/octet-stream;base64,` + base64.StdEncoding.EncodeToString(gltfBytes(m)) + `",`
	return []byte(gltfText(len(m.Points), 3*len(m.Triangles), nodes, uri))
}

// area returns the surface of a mesh.
func area(m mesh.Mesh) float64 {
	sum := 0.0
	for _, t := range m.Triangles {
		a := m.Points[t[0]]
		sum += m.Points[t[1]].Sub(a).Cross(m.Points[t[2]].Sub(a)).Len() / 2
	}
	return sum
}

// tetra returns a tetrahedron with its right angle at the origin and legs a, b, c.
func tetra(a, b, c float64) mesh.Mesh {
	return mesh.Mesh{Points: []mgl64.Vec3{{0, 0, 0}, {a, 0, 0}, {0, b, 0}, {0, 0, c}}, Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}}}
}

// read reads a file that must be good.
func read(t *testing.T, file string, src []byte, unit float64) (mesh.Mesh, Health) {
	t.Helper()
	m, h, err := Read("m", file, src, unit)
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return m, h
}

// near reports whether two numbers agree to 1e-6.
func near(a, b float64) bool { return math.Abs(a-b) <= 1e-6*max(1, math.Abs(b)) }

// wrong reads a file that must be refused, and wants words in the error.
func wrong(t *testing.T, name, file string, src []byte, words ...string) {
	t.Helper()
	_, _, err := Read("m", file, src, 0)
	if err == nil {
		t.Errorf("%s: no error", name)
		return
	}
	for _, w := range words {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("%s: %q does not say %q", name, err, w)
		}
	}
	if len(err.Error()) > 300 {
		t.Errorf("%s: %d characters long", name, len(err.Error()))
	}
}

// promises checks what a fuzzed reader must keep: an error of some words, or a mesh that is what its health says.
func promises(t *testing.T, m mesh.Mesh, h Health, err error) {
	t.Helper()
	if err != nil {
		if len(err.Error()) > 600 {
			t.Errorf("long error: %d", len(err.Error()))
		}
		return
	}
	if h.Triangles != len(m.Triangles) || h.Triangles == 0 || h.Shells == 0 || h.Line() == "" {
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
	if size := h.Box[1].Sub(h.Box[0]).Len(); h.Closed && volume(m.Points, m.Triangles) < -1e-6*size*size*size && h.Nested == 0 {
		t.Errorf("inside out: %v", volume(m.Points, m.Triangles))
	}
}
