package gltf

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"slices"
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
	Walls      []clash.Wall  // the enclosure as it was read; what rides on a section without a flat is left out
	Gaps       []clash.Gap   // measured gaps: contacts get a numbered mark, in this order, the other judged ones a line
	Program    *fold.Program // what the animation plays, ending as the assembly is folded; nil: all hinges in step
	State      *fold.State   // a moment to show, with the assembly folded like it; nil: the end, at rest
	BoardFrame bool          // write in the frame that the board has in the scene instead of the housing's
	Version    string        // of foldfit, for the file's generator
}

// Write writes the scene as a GLB file. The nodes stand in the assembly's posture, and the animation `fold` ends there.
//
// With a program it plays the steps: 1.5 s for one that bends, 1 s for each leg of a path, 0.5 s for one that only brings
// pieces in or takes them away, 0.25 s between two steps; hinges turn, legs run at a constant rate. A piece that is absent
// has the scale 0, at rest 1e-9. The animation's extras tell when each step begins and ends. Without a program it plays
// from flat to the posture in four seconds, all hinges in step. Gap lines, and after a program the marks of contacts, appear when
// all stands; the end is then shown for one more second. Played by glTF's rules nothing strays by more than 0.5 um for each 100 mm of the scene. A scene with a
// State or with free shapes of bends stands still.
//
// Lengths in the geometry are metres in float32, good to 1e-5 mm at 150 mm from the origin; numbers in extras are mm, mm2,
// mm3 and degrees. The same scene gives the same bytes. A mesh without triangles or with a coordinate that is not a number
// is an error, and so is a program that ends at other angles; nothing is written then.
func Write(w io.Writer, s Scene) error {
	b, err := newBuilder(s)
	if err != nil {
		return err
	}
	for _, step := range []func() error{b.addBoard, b.addHousing, b.addContacts, b.addGaps, b.animate} {
		if err := step(); err != nil {
			return err
		}
	}
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
	moment   *fold.State // how everything stands in the scene
	board    int         // the board's node
	housing  int         // the housing's node, noNode until something needs it
	flats    []int       // node of each flat
	rigs     []*rig      // of each bend, nil until something needs it
	bendMesh []int       // for each bend its body in the assembly, -1 without
	looks    [looks]*int // material of each look

	plan      []span // what the animation plays
	clip      *lib.Animation
	carriages []carriage
	veils     []veil
	marks     []int // nodes of marks that belong to the end
	clocks    []clock

	sceneFromBoard, sceneFromHousing mgl64.Mat4
}

func newBuilder(s Scene) (*builder, error) {
	t := s.Assembly.Folded.Tree
	b := &builder{
		Scene:    s,
		doc:      newDocument(t.Design.Name, s.Version),
		tree:     t,
		housing:  noNode,
		flats:    make([]int, len(t.Flats)),
		rigs:     make([]*rig, len(t.Bends)),
		bendMesh: make([]int, len(t.Bends)),
	}
	for i := range b.bendMesh {
		b.bendMesh[i] = -1
	}
	for i, body := range s.Assembly.Bodies {
		if tb := &t.Bodies[body.Source]; tb.Kind == fold.KindBend {
			b.bendMesh[tb.Bend] = i
		}
	}
	b.plan = b.spans()
	moment, err := b.stands()
	if err != nil {
		return nil, err
	}
	b.moment = moment
	b.sceneFromBoard, b.sceneFromHousing = moment.HousingFromBoard, mgl64.Ident4()
	if s.BoardFrame {
		b.sceneFromBoard, b.sceneFromHousing = mgl64.Ident4(), fold.Invert(b.sceneFromBoard)
	}
	return b, nil
}

// stands returns how everything stands in the scene: at its moment, at the end of its program, or else at rest with all
// pieces there that can be placed.
func (b *builder) stands() (*fold.State, error) {
	f := b.Assembly.Folded
	switch p := b.Program; {
	case b.State != nil:
		return b.State, nil
	case p != nil:
		state, err := p.State(len(p.Steps)-1, 1)
		if err == nil && !slices.Equal(state.Folded.Angles, f.Angles) {
			err = fmt.Errorf("the sequence ends at %v degrees, the board stands at %v", state.Folded.Angles, f.Angles)
		}
		return state, err
	}
	rest := &fold.State{Folded: f, HousingFromBoard: b.tree.HousingFromBoard(), Pieces: make([]fold.PieceState, len(b.tree.Design.Enclosure))}
	for i := range rest.Pieces {
		rest.Pieces[i] = atRest(rest, &b.tree.Design.Enclosure[i])
	}
	return rest, nil
}

// newDocument returns an empty document with one scene.
func newDocument(name, version string) *lib.Document {
	return &lib.Document{
		Asset:  lib.Asset{Version: "2.0", Generator: strings.TrimSpace("foldfit " + version), Extras: assetExtras()},
		Scene:  lib.Index(0),
		Scenes: []*lib.Scene{{Name: name}},
	}
}

// noNode stands for the scene itself as a parent, and for a node that does not exist.
const noNode = -1

// addNode adds a node below parent (noNode: the scene) and returns its number.
func (b *builder) addNode(parent int, n *lib.Node) int {
	i := len(b.doc.Nodes)
	b.doc.Nodes = append(b.doc.Nodes, n)
	if parent == noNode {
		b.doc.Scenes[0].Nodes = append(b.doc.Scenes[0].Nodes, i)
	} else {
		p := b.doc.Nodes[parent]
		p.Children = append(p.Children, i)
	}
	return i
}
