package enclosure

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/qmuntal/gltf"
)

// Words of the GLB container.
const (
	chunkJSON = 0x4e4f534a
	chunkBIN  = 0x004e4942
)

// mostObjects bounds the objects of a glTF text: each takes some hundred bytes once read.
const mostObjects = 400_000

// readGLB reads a binary glTF file: its text and the bytes behind it. See readGLTF.
func readGLB(src []byte) (raw, error) {
	if len(src) < 20 {
		return raw{}, fmt.Errorf("not a GLB file: %d bytes", len(src))
	}
	word := func(at int) int64 { return int64(binary.LittleEndian.Uint32(src[at:])) }
	switch {
	case string(src[:4]) != "glTF":
		return raw{}, fmt.Errorf("not a GLB file: it does not begin with glTF")
	case word(4) != 2:
		return raw{}, fmt.Errorf("byte 4: GLB version %d; version 2 is read", word(4))
	case word(8) > int64(len(src)):
		return raw{}, fmt.Errorf("byte 8: the header counts %d bytes, the file has %d: it may be cut short", word(8), len(src))
	}
	var text, bin []byte
	for at := int64(12); at+8 <= word(8); {
		n, kind := word(int(at)), word(int(at)+4)
		if at+8+n > word(8) {
			return raw{}, fmt.Errorf("byte %d: a chunk of %d bytes reaches beyond the end of the file", at, n)
		}
		chunk := src[at+8 : at+8+n]
		switch {
		case kind == chunkJSON && text == nil:
			text = chunk
		case kind == chunkBIN && bin == nil:
			bin = chunk
		}
		at += 8 + n
	}
	return readDocument("GLB", text, bin)
}

// readGLTF reads a glTF file whose buffers stand in it as base64 text. Triangles, strips and fans, with indices or without,
// of all nodes of the default scene become one mesh in metres with z up; copies of a mesh are made. Buffers in other files,
// skins, and extensions that hold shapes in another form are refused. Lines and points are left out, morph targets not
// applied; notes say so.
func readGLTF(src []byte) (raw, error) {
	return readDocument("glTF", bytes.TrimPrefix(src, byteOrderMark), nil)
}

// gltfReader is a decoded glTF document and what was taken from it.
type gltfReader struct {
	doc     gltf.Document
	bin     []byte
	buffers map[int][]byte
	meshes  map[int]*part // by number, decoded once
	decoded amount        // of all of them
	lines   int           // primitives left out
	morphed bool
	raw
}

// part is a mesh that may be placed several times.
type part struct {
	raw
	first  map[int]int32 // of the positions taken, by their accessor: primitives may share them
	amount amount
}

// placedMesh is a mesh at a node.
type placedMesh struct {
	mesh          int
	worldFromNode mgl64.Mat4
}

// zUpFromYUp turns the axes of glTF into ours.
var zUpFromYUp = mgl64.Mat4{0: 1, 6: 1, 9: -1, 15: 1}

// readDocument reads a glTF text with the bytes that come with it.
func readDocument(format string, text, bin []byte) (raw, error) {
	g := gltfReader{bin: bin, buffers: map[int][]byte{}, meshes: map[int]*part{}}
	g.format, g.unit, g.unitWords = format, 1000, format+" files are in m"
	if err := g.decode(text); err != nil {
		return raw{}, err
	}
	placed, err := g.scene()
	if err != nil {
		return raw{}, err
	}
	if err := g.measure(placed); err != nil {
		return raw{}, err
	}
	for _, p := range placed {
		m := g.meshes[p.mesh]
		for k := range 3 {
			g.grain = max(g.grain, m.grain*p.worldFromNode.Col(k).Len())
		}
		g.add(m.points, m.tris, p.worldFromNode)
	}
	if len(g.tris) == 0 {
		return raw{}, fmt.Errorf("the scene of the %s file holds no triangles", format)
	}
	g.tellSkipped()
	g.meshes, g.buffers = nil, nil
	g.weld()
	return g.raw, nil
}

// tellSkipped notes what was not read.
func (g *gltfReader) tellSkipped() {
	if g.lines > 0 {
		g.notes = append(g.notes, fmt.Sprintf("has %s of lines or dots, which were not read", count(g.lines, "primitive")))
	}
	if g.morphed {
		g.notes = append(g.notes, "has morph targets, which were not applied")
	}
	if n := len(g.doc.Scenes); n > 1 {
		g.notes = append(g.notes, fmt.Sprintf("has %d scenes, of which one was read", n))
	}
}

// decode parses the text and refuses what cannot be read.
func (g *gltfReader) decode(text []byte) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("the glTF text is damaged: %.100v", r)
		}
	}()
	if n := bytes.Count(text, []byte("{")); n > mostObjects {
		return fmt.Errorf("the glTF text holds %d objects; at most %d are read: join the parts of the mesh", n, mostObjects)
	}
	if err := json.Unmarshal(text, &g.doc); err != nil {
		return fmt.Errorf("the glTF text is damaged: %.100s", err.Error())
	}
	if v := g.doc.Asset.Version; !strings.HasPrefix(v, "2") {
		return fmt.Errorf("glTF version %.20q; version 2 is read", v)
	}
	for _, e := range g.doc.ExtensionsRequired {
		if !harmlessGLTF(e) {
			return fmt.Errorf("it needs the extension %.60s, which is not read: write plain, uncompressed meshes", e)
		}
	}
	return nil
}

// harmlessGLTF reports whether an extension leaves the shapes alone, or is read.
func harmlessGLTF(name string) bool {
	for _, prefix := range []string{"KHR_materials_", "KHR_texture_", "EXT_texture_", "KHR_lights_", "KHR_mesh_quantization", "KHR_xmp"} {
		if strings.HasPrefix(name, prefix) {
			return true
		}
	}
	return false
}

// scene returns the meshes of the default scene, or of all nodes where there is no scene.
func (g *gltfReader) scene() ([]placedMesh, error) {
	var roots []int
	n := 0
	if g.doc.Scene != nil {
		n = *g.doc.Scene
	}
	switch {
	case n >= 0 && n < len(g.doc.Scenes) && g.doc.Scenes[n] != nil:
		roots = g.doc.Scenes[n].Nodes
	case g.doc.Scene != nil || len(g.doc.Scenes) > 0:
		return nil, fmt.Errorf("the file has no scene %d", n)
	default:
		roots = g.orphans()
	}
	return g.walk(roots)
}

// orphans returns the nodes that are no other's children.
func (g *gltfReader) orphans() []int {
	child := make([]bool, len(g.doc.Nodes))
	for _, n := range g.doc.Nodes {
		if n != nil {
			for _, k := range n.Children {
				if k >= 0 && k < len(child) {
					child[k] = true
				}
			}
		}
	}
	var out []int
	for i, c := range child {
		if !c {
			out = append(out, i)
		}
	}
	return out
}

// visit is a node to be read under its parent's transform.
type visit struct {
	node            int
	worldFromParent mgl64.Mat4
}

// walk lists the meshes at the nodes below roots. Nodes are a forest: one that is met twice is an error.
func (g *gltfReader) walk(roots []int) ([]placedMesh, error) {
	var out []placedMesh
	var todo []visit
	named := len(roots)
	for i := min(len(roots), len(g.doc.Nodes)) - 1; i >= 0; i-- {
		todo = append(todo, visit{roots[i], zUpFromYUp})
	}
	seen := make([]bool, len(g.doc.Nodes))
	for len(todo) > 0 {
		v := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if v.node < 0 || v.node >= len(seen) || g.doc.Nodes[v.node] == nil {
			return nil, fmt.Errorf("node %d is named, but there is none", v.node)
		}
		if seen[v.node] {
			return nil, fmt.Errorf("node %d stands in two places", v.node)
		}
		seen[v.node] = true
		n := g.doc.Nodes[v.node]
		if named += len(n.Children); named > len(seen) {
			return nil, fmt.Errorf("node %d: there are fewer nodes than children, one stands in two places", v.node)
		}
		if err := readable(n); err != nil {
			return nil, fmt.Errorf("node %d %w", v.node, err)
		}
		worldFromNode := v.worldFromParent.Mul4(parentFromNode(n))
		if n.Mesh != nil {
			out = append(out, placedMesh{*n.Mesh, worldFromNode})
		}
		for i := len(n.Children) - 1; i >= 0; i-- {
			todo = append(todo, visit{n.Children[i], worldFromNode})
		}
	}
	return out, nil
}

// readable refuses nodes whose meshes stand elsewhere than their transforms say.
func readable(n *gltf.Node) error {
	if n.Skin != nil {
		return fmt.Errorf("moves with a skeleton: write the mesh as it stands")
	}
	if _, ok := n.Extensions["EXT_mesh_gpu_instancing"]; ok {
		return fmt.Errorf("needs the extension EXT_mesh_gpu_instancing, which is not read: write one node a copy")
	}
	return nil
}

// parentFromNode returns the transform of a node: its matrix, or its scale, turn and move.
func parentFromNode(n *gltf.Node) mgl64.Mat4 {
	if m := n.MatrixOrDefault(); m != gltf.DefaultMatrix {
		return m
	}
	q, s, t := n.RotationOrDefault(), n.ScaleOrDefault(), n.TranslationOrDefault()
	turn := mgl64.Quat{W: q[3], V: mgl64.Vec3{q[0], q[1], q[2]}}
	if l := turn.Len(); l > 0 {
		turn = turn.Scale(1 / l)
	}
	return mgl64.Translate3D(t[0], t[1], t[2]).Mul4(turn.Mat4()).Mul4(mgl64.Scale3D(s[0], s[1], s[2]))
}

// buffer returns the bytes of a buffer.
func (g *gltfReader) buffer(n int) ([]byte, error) {
	if data, ok := g.buffers[n]; ok {
		return data, nil
	}
	if n < 0 || n >= len(g.doc.Buffers) || g.doc.Buffers[n] == nil {
		return nil, fmt.Errorf("buffer %d is named, but there is none", n)
	}
	b := g.doc.Buffers[n]
	data := g.bin
	head, body, _ := strings.Cut(b.URI, ",")
	switch {
	case b.URI == "" && (n > 0 || g.bin == nil):
		return nil, fmt.Errorf("buffer %d has no bytes", n)
	case b.URI == "":
	case strings.HasPrefix(head, "data:") && strings.HasSuffix(head, ";base64"):
		var err error
		if data, err = base64.StdEncoding.DecodeString(body); err != nil {
			return nil, fmt.Errorf("buffer %d is damaged: %w", n, err)
		}
	default:
		return nil, fmt.Errorf("buffer %d lies in another file, %.80q: write the mesh as one file, as GLB or with embedded buffers", n, b.URI)
	}
	if b.ByteLength < 0 || b.ByteLength > len(data) {
		return nil, fmt.Errorf("buffer %d should have %d bytes and has %d", n, b.ByteLength, len(data))
	}
	g.buffers[n] = data[:b.ByteLength]
	return g.buffers[n], nil
}
