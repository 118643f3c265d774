package gltf

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
	lib "github.com/qmuntal/gltf"

	"foldfit/fold"
	"foldfit/mesh"
	"foldfit/mesh/clash"
)

// Scene is what one file shows. Only Assembly is needed.
type Scene struct {
	Assembly   *mesh.Assembly
	Walls      []clash.Wall // the enclosure, in the housing's frame
	Gaps       []clash.Gap  // measured gaps; those that are contacts get a numbered mark, in this order
	BoardFrame bool         // write in the board's frame instead of the housing's
	Version    string       // of foldfit, for the file's generator
}

// Write writes the scene as a GLB file. The nodes stand in the assembly's posture; the animation `fold` plays from flat to
// there, all hinges in step, in four seconds; a scene with free shapes of bends stands still. Lengths in the geometry are metres in float32, good to 1e-5 mm at 150 mm
// from the origin; numbers in extras are mm, mm2, mm3 and degrees. The same scene gives the same bytes. A mesh without
// triangles or with a coordinate that is not a number is an error; nothing is written then.
func Write(w io.Writer, s Scene) error {
	b := newBuilder(s)
	for _, step := range []func() error{b.addBoard, b.addHousing, b.addContacts} {
		if err := step(); err != nil {
			return err
		}
	}
	b.animate()
	return encode(w, b.doc)
}

// encode writes the document through a buffered writer, which keeps the first error of w; the encoder passes over some.
func encode(w io.Writer, doc *lib.Document) error {
	for _, buf := range doc.Buffers {
		if buf.ByteLength > math.MaxInt32 {
			return fmt.Errorf("the meshes need %d MB; a GLB file holds 2048 MB: use a coarser chord", buf.ByteLength>>20)
		}
	}
	out := bufio.NewWriterSize(w, 1<<16)
	if err := lib.NewEncoder(out).Encode(doc); err != nil {
		return err
	}
	return out.Flush()
}

// builder collects the parts of the document.
type builder struct {
	Scene
	doc      *lib.Document
	tree     *fold.Tree
	flats    []int       // node of each flat
	rigs     []*rig      // of each bend, nil until something needs it
	bendMesh []int       // for each bend its body in the assembly, -1 without
	looks    [looks]*int // material of each look
	keyTimes map[int]int // accessor of key times by number of keys; looked up only

	sceneFromBoard, sceneFromHousing mgl64.Mat4
}

func newBuilder(s Scene) *builder {
	t := s.Assembly.Folded.Tree
	b := &builder{
		Scene:    s,
		doc:      newDocument(t.Design.Name, s.Version),
		tree:     t,
		flats:    make([]int, len(t.Flats)),
		rigs:     make([]*rig, len(t.Bends)),
		bendMesh: make([]int, len(t.Bends)),
		keyTimes: map[int]int{},
	}
	for i := range b.bendMesh {
		b.bendMesh[i] = -1
	}
	for i, body := range s.Assembly.Bodies {
		if tb := &t.Bodies[body.Source]; tb.Kind == fold.KindBend {
			b.bendMesh[tb.Bend] = i
		}
	}
	b.sceneFromBoard, b.sceneFromHousing = t.HousingFromBoard(), mgl64.Ident4()
	if s.BoardFrame {
		b.sceneFromBoard, b.sceneFromHousing = mgl64.Ident4(), fold.Invert(b.sceneFromBoard)
	}
	return b
}

// newDocument returns an empty document with one scene.
func newDocument(name, version string) *lib.Document {
	return &lib.Document{
		Asset:  lib.Asset{Version: "2.0", Generator: strings.TrimSpace("foldfit " + version), Extras: assetExtras()},
		Scene:  lib.Index(0),
		Scenes: []*lib.Scene{{Name: name}},
	}
}

// noParent stands for the scene itself.
const noParent = -1

// addNode adds a node below parent and returns its number.
func (b *builder) addNode(parent int, n *lib.Node) int {
	i := len(b.doc.Nodes)
	b.doc.Nodes = append(b.doc.Nodes, n)
	if parent == noParent {
		b.doc.Scenes[0].Nodes = append(b.doc.Scenes[0].Nodes, i)
	} else {
		p := b.doc.Nodes[parent]
		p.Children = append(p.Children, i)
	}
	return i
}

// addHousing adds the enclosure's pieces below one root node.
func (b *builder) addHousing() error {
	if len(b.Walls) == 0 {
		return nil
	}
	root := &lib.Node{Name: "housing"}
	stand(root, motion(b.sceneFromHousing))
	parent := b.addNode(noParent, root)
	for i := range b.Walls {
		w := &b.Walls[i]
		name := wallName(w)
		s, err := checked(name, w.Mesh.Points, w.Mesh.Triangles, w.Mesh.Normals)
		if err != nil {
			return err
		}
		m := b.addMesh(name, b.primitive(s, lookEnclosure))
		b.addNode(parent, &lib.Node{Name: name, Mesh: lib.Index(m), Extras: wallExtras(w)})
	}
	return nil
}

// wallName returns the body name of an enclosure piece.
func wallName(w *clash.Wall) string {
	if w.Piece == nil {
		return w.Mesh.Name
	}
	return string(fold.KindEnclosure) + ":" + w.Piece.Name
}
