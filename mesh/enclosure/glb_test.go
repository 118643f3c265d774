package enclosure

import (
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/mesh"
)

// floats returns numbers as a buffer.
func floats(v ...float32) []byte {
	var out []byte
	for _, x := range v {
		out = binary.LittleEndian.AppendUint32(out, math.Float32bits(x))
	}
	return out
}

// Copies of one mesh at several nodes are all there, turned, scaled, mirrored, nested; a mirrored copy is not inside out.
func TestGLBNodes(t *testing.T) {
	one := tetra(30, 20, 10) // 1000 mm3
	quarter := math.Sqrt(0.5)
	cases := []struct {
		name, nodes string
		volume      float64
		shells      int
		lo, hi      mgl64.Vec3
	}{
		{"moved by 100, 200, 300 in y up", `{"mesh":0,"translation":[0.1,0.2,0.3]}`, 1000, 1, mgl64.Vec3{100, -300, 200}, mgl64.Vec3{130, -280, 210}},
		{"turned a quarter about the upright", fmt.Sprintf(`{"mesh":0,"rotation":[0,%v,0,%v]}`, quarter, quarter), 1000, 1, mgl64.Vec3{-20, 0, 0}, mgl64.Vec3{0, 30, 10}},
		{"scaled", `{"mesh":0,"scale":[2,3,4]}`, 24000, 1, mgl64.Vec3{}, mgl64.Vec3{60, 80, 30}},
		{"mirrored", `{"mesh":0,"scale":[-1,1,1]}`, 1000, 1, mgl64.Vec3{-30, 0, 0}, mgl64.Vec3{0, 20, 10}},
		{"by a matrix", `{"mesh":0,"matrix":[1,0,0,0, 0,1,0,0, 0,0,1,0, 0.05,0,0,1]}`, 1000, 1, mgl64.Vec3{50, 0, 0}, mgl64.Vec3{80, 20, 10}},
		{"three copies, nested", `{"children":[1,2],"scale":[2,2,2]},{"mesh":0,"children":[3]},{"mesh":0,"translation":[0,0.1,0]},{"mesh":0,"translation":[0.1,0,0]}`,
			24000, 3, mgl64.Vec3{}, mgl64.Vec3{260, 40, 220}},
	}
	for _, c := range cases {
		m, h := read(t, "a.glb", glbOf(one, c.nodes), 0)
		if !near(volume(m.Points, m.Triangles)/c.volume, 1) || h.Shells != c.shells || !h.Closed || h.Inverted > 0 {
			t.Errorf("%s: volume %g, %s", c.name, volume(m.Points, m.Triangles), h.Line())
		}
		if h.Box[0].Sub(c.lo).Len() > 1e-4 || h.Box[1].Sub(c.hi).Len() > 1e-4 {
			t.Errorf("%s: box %v", c.name, h.Box)
		}
	}
}

// A square of four corners comes out the same as triangles, strip and fan, with indices and without.
func TestGLBModes(t *testing.T) {
	square := floats(0, 0, 0, 1, 0, 0, 0, 1, 0, 1, 1, 0) // metres, z up the strip
	fan := floats(0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0)
	six := floats(0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 1, 0, 1, 0, 0, 1, 1, 0)
	cases := []struct {
		name, primitive, more string
		bin                   []byte
	}{
		{"strip", `"mode":5`, "", square},
		{"fan", `"mode":6`, "", fan},
		{"triangles", `"mode":4`, "", six},
		{"mode left out", `"material":0`, "", six},
		{"strip of bytes", `"mode":5,"indices":1`, `,{"bufferView":0,"byteOffset":48,"componentType":5121,"count":4,"type":"SCALAR"}`, append(square[:48:48], 0, 1, 2, 3)},
		{"fan of shorts", `"mode":6,"indices":1`, `,{"bufferView":0,"byteOffset":48,"componentType":5123,"count":4,"type":"SCALAR"}`, append(square[:48:48], 0, 0, 1, 0, 3, 0, 2, 0)},
	}
	for _, c := range cases {
		n := min(len(c.bin)/12, 6)
		if len(c.bin) > 48 && len(c.bin) < 72 {
			n = 4
		}
		text := fmt.Sprintf(`{"asset":{"version":"2.0"},"nodes":[{"mesh":0}],"meshes":[{"primitives":[{"attributes":{"POSITION":0},%s}]}],
"accessors":[{"bufferView":0,"componentType":5126,"count":%d,"type":"VEC3"}%s],"bufferViews":[{"buffer":0,"byteLength":%d}],"buffers":[{"byteLength":%d}]}`,
			c.primitive, n, c.more, len(c.bin), len(c.bin))
		m, h := read(t, "a.glb", glbChunks(text, c.bin), 0)
		if len(m.Triangles) != 2 || len(m.Points) != 4 || !near(area(m)/1e6, 1) || h.Open != 4 || h.Turned+h.Twisted > 0 {
			t.Errorf("%s: area %g, %s", c.name, area(m), h.Line())
		}
		for _, tri := range m.Triangles { // the front looked along +z, which is -y here
			a, b, d := m.Points[tri[0]], m.Points[tri[1]], m.Points[tri[2]]
			if normal := b.Sub(a).Cross(d.Sub(a)); normal[1] >= 0 {
				t.Errorf("%s: normal %v", c.name, normal)
			}
		}
	}
}

// Whole numbers as positions, and a step between elements.
func TestGLBQuantized(t *testing.T) {
	text := `{"asset":{"version":"2.0"},"extensionsRequired":["KHR_mesh_quantization"],"nodes":[{"mesh":0,"scale":[0.1,0.1,0.1]}],"meshes":[{"primitives":[{"attributes":{"POSITION":0}}]}],
"accessors":[{"bufferView":0,"componentType":5122,"normalized":true,"count":3,"type":"VEC3"}],"bufferViews":[{"buffer":0,"byteLength":24,"byteStride":8}],"buffers":[{"byteLength":24}]}`
	bin := []byte{0, 0, 0, 0, 0, 0, 9, 9, 0xff, 0x7f, 0, 0, 0, 0, 9, 9, 0, 0, 0xff, 0x7f, 0, 0, 9, 9}
	m, h := read(t, "a.glb", glbChunks(text, bin), 0)
	if !near(area(m), 5000) || h.Grain != 0 {
		t.Errorf("area %g, grain %g", area(m), h.Grain)
	}
}

// Each line spoils a good file in one place.
func TestGLBErrors(t *testing.T) {
	c := tetra(30, 20, 10)
	text, bin := gltfText(4, 12, `{"mesh":0}`, ""), gltfBytes(c)
	for _, k := range []struct{ from, to, word string }{
		{`"version":"2.0"`, `"version":"1.0"`, "version"},
		{`"asset":`, `"extensionsRequired":["KHR_draco_mesh_compression"],"asset":`, "KHR_draco"},
		{`"byteLength":96`, `"uri":"tray.bin","byteLength":96`, "another file"},
		{`"byteLength":96`, `"uri":"../../x","byteLength":96`, "another file"},
		{`"byteLength":96`, `"uri":"data:a;base64,###","byteLength":96`, "damaged"},
		{`"byteLength":96`, `"byteLength":97`, "should have 97"},
		{`"byteLength":96`, `"byteLength":-1`, "should have -1"},
		{`"byteLength":48}`, `"byteLength":49000}`, "beyond"},
		{`"byteOffset":48`, `"byteOffset":-48`, "beyond"},
		{`"byteOffset":48`, `"byteOffset":9223372036854775807`, "beyond"},
		{`"count":4`, `"count":5`, "beyond"},
		{`"count":4`, `"count":1099511627776`, "beyond"},
		{`"count":4`, `"count":-1`, "below 0"},
		{`"count":12`, `"count":13`, "beyond"},
		{`"count":4`, `"byteOffset":9223372036854775807,"count":4`, "beyond"},
		{`"count":4`, `"byteOffset":-4,"count":4`, "below 0"},
		{`"count":4`, `"sparse":{"count":1},"count":4`, "sparse"},
		{`{"bufferView":0,`, `{`, "sparse"},
		{`{"bufferView":0,`, `{"bufferView":7,`, "view 7"},
		{`{"bufferView":0,`, `{"bufferView":-7,`, "view -7"},
		{`"buffer":0`, `"buffer":3`, "buffer 3"},
		{`"VEC3"`, `"VEC2"`, "wrong kind"},
		{`"SCALAR"`, `"VEC3"`, "wrong kind"},
		{`5125`, `5126`, "fractions"},
		{`"indices":1`, `"indices":0`, "wrong kind"},
		{`"indices":1`, `"indices":9`, "accessor 9"},
		{`"POSITION":0`, `"NORMAL":0`, "positions"},
		{`{"mesh":0}`, `{"mesh":1}`, "mesh 1"},
		{`{"mesh":0}`, `null`, "node 0"},
		{`{"mesh":0}`, `{"mesh":0,"children":[0]}`, "two places"},
		{`{"mesh":0}`, `{"mesh":0,"children":[1,2]},{"children":[3]},{"children":[3]},{"mesh":0}`, "two places"},
		{`{"mesh":0}`, `{"mesh":0,"skin":0}`, "skeleton"},
		{`{"mesh":0}`, `{"mesh":0,"extensions":{"EXT_mesh_gpu_instancing":{}}}`, "instancing"},
		{`{"mesh":0}`, `{"name":"empty"}`, "no triangles"},
		{`{"mesh":0}`, `{"mesh":0,"translation":[1e300,0,0]}`, "units"},
		{`"scene":0`, `"scene":4`, "scene 4"},
		{`"scenes":[`, `"scenes":[null,`, "scene 0"},
		{`{"primitives"`, `null,{"primitives"`, "there is none"},
		{`[{"attributes"`, `[null,{"attributes"`, "missing"},
		{`{"asset"`, `{{"asset"`, "damaged"},
		{`{"asset"`, `{"extras":` + strings.Repeat("[", 20000) + strings.Repeat("]", 20000) + `,"asset"`, "damaged"},
		{`{"asset"`, `{"extras":[` + strings.Repeat("{},", 400_000) + `0],"asset"`, "objects"},
	} {
		bad := strings.Replace(text, k.from, k.to, 1)
		if bad == text {
			t.Fatalf("%q is not in the text", k.from)
		}
		wrong(t, k.to[:min(len(k.to), 60)], "a.glb", glbChunks(bad, bin), k.word)
	}
	good := glbChunks(text, bin)
	wrong(t, "index too large", "a.glb", glbChunks(text, append(bin[:92:92], 4, 0, 0, 0)), "index 11 is 4")
	wrong(t, "NaN", "a.glb", glbChunks(text, append(floats(float32(math.NaN())), bin[4:]...)), "not a number")
	wrong(t, "cut short", "a.glb", good[:len(good)-1], "cut short")
	wrong(t, "version 1", "a.glb", append([]byte("glTF\x01"), good[5:]...), "version 1")
	wrong(t, "chunk too long", "a.glb", append(append(good[:12:12], 0xff, 0xff, 0xff, 0x7f), good[16:]...), "chunk")
	wrong(t, "no bytes", "a.glb", glbChunks(text, nil), "no bytes")
}

// A few lines that ask for very many copies are refused before they are made.
func TestGLBTooMany(t *testing.T) {
	m := box(0, 0, 0, 1, 1, 1)
	for range 6 { // 12 triangles become 49152
		m.Triangles = append(m.Triangles, m.Triangles...)
		m.Triangles = append(m.Triangles, m.Triangles...)
	}
	nodes := `{"children":[1`
	copies := `,{"mesh":0}`
	for i := 2; i <= 200; i++ {
		nodes += fmt.Sprintf(",%d", i)
		copies += `,{"mesh":0}`
	}
	wrong(t, "200 copies of 49152", "a.glb", glbOf(m, nodes+"]}"+copies), "more than")
}

func FuzzGLB(f *testing.F) {
	c := tetra(30, 20, 10)
	f.Add(glbOf(c, `{"mesh":0}`))
	f.Add(gltfOf(c, `{"mesh":0,"rotation":[0,1,0,0]}`))
	f.Add(glbOf(c, `{"children":[1,2],"scale":[2,2,2]},{"mesh":0,"children":[3]},{"mesh":0,"translation":[0,0.1,0]},{"mesh":0,"matrix":[1,0,0,0,0,1,0,0,0,0,1,0,0,0,0,1]}`))
	f.Fuzz(func(t *testing.T, src []byte) {
		get := readGLB
		if len(src) > 0 && src[0] == '{' {
			get = readGLTF
		}
		r, err := get(src)
		var m mesh.Mesh
		var h Health
		if err == nil {
			m, h, err = r.finish("m", 0)
		}
		promises(t, m, h, err)
	})
}
