package gltf

import (
	lib "github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"

	"foldfit/fold"
	"foldfit/mesh"
)

// addBoard adds the fold tree and the bodies of the board.
func (b *builder) addBoard() error {
	root := &lib.Node{Name: "board", Extras: b.boardExtras()}
	stand(root, motion(b.sceneFromBoard))
	b.board = b.addNode(noNode, root)
	for i := range b.tree.Flats {
		b.flats[i] = b.addFlat(i)
	}
	for i := range b.Assembly.Bodies {
		if err := b.addBody(&b.Assembly.Bodies[i]); err != nil {
			return err
		}
	}
	return nil
}

// addFlat adds the node of flat i below the node it moves with; parents come first in the tree's order. Its frame is the
// flat coordinates, so everything on it keeps them.
func (b *builder) addFlat(i int) int {
	f := &b.tree.Flats[i]
	n := &lib.Node{Name: "flat:" + f.Name, Extras: flatExtras(f)}
	switch {
	case f.Parent < 0:
		return b.addNode(b.board, n)
	case !f.Far:
		return b.addNode(b.flats[f.Parent], n)
	}
	r := b.rig(f.Bend)
	_, end := b.Assembly.Folded.Span(f.Bend)
	j := b.jointAt(r, end)
	stand(n, fold.Invert(r.flatFromJoint(j.s)))
	return b.addNode(j.node, n)
}

// addBody adds the mesh of one body: skinned for a bend, else below the flat or the joint that it rides on.
func (b *builder) addBody(body *mesh.Body) error {
	s, err := checked(body.Name, body.Flat, body.Triangles, body.FlatNormals)
	if err != nil {
		return err
	}
	tb := &b.tree.Bodies[body.Source]
	p := b.primitive(s, b.lookOf(tb))
	n := &lib.Node{Name: body.Name, Extras: b.bodyExtras(tb)}
	switch {
	case tb.Kind == fold.KindBend:
		b.bindVertices(p, body, s)
		n.Skin = lib.Index(b.addSkin(tb.Bend))
		b.addNode(noNode, n)
	case tb.Bend >= 0:
		r := b.rig(tb.Bend)
		j := b.jointAt(r, r.bend.Station(tb.At))
		stand(n, fold.Invert(r.flatFromJoint(j.s)))
		b.addNode(j.node, n)
	default:
		b.addNode(b.flats[tb.Flat], n)
	}
	n.Mesh = lib.Index(b.addMesh(body.Name, p))
	return nil
}

// bindVertices ties each vertex of a bend to the one joint at its station.
func (b *builder) bindVertices(p *lib.Primitive, body *mesh.Body, s surface) {
	weights := make([][4]float32, len(s.origin))
	wide := make([][4]uint16, len(s.origin))
	narrow := make([][4]uint8, len(s.origin))
	for v, point := range s.origin {
		weights[v][0] = 1
		wide[v][0] = uint16(body.Station[point])
		narrow[v][0] = uint8(body.Station[point])
	}
	if len(body.Stations) > 256 {
		p.Attributes[lib.JOINTS_0] = modeler.WriteJoints(b.doc, wide)
	} else {
		p.Attributes[lib.JOINTS_0] = modeler.WriteJoints(b.doc, narrow)
	}
	p.Attributes[lib.WEIGHTS_0] = modeler.WriteWeights(b.doc, weights)
}

// addSkin adds the skin of bend i: one joint for each station of its mesh, bound where the bend lies flat.
func (b *builder) addSkin(i int) int {
	r := b.rig(i)
	skin := &lib.Skin{Name: r.bend.Name, Skeleton: lib.Index(r.node)}
	bind := make([][4][4]float32, r.stations)
	for k, j := range r.joints[:r.stations] {
		skin.Joints = append(skin.Joints, j.node)
		jointFromFlat := fold.Invert(r.flatFromJoint(j.s))
		for row := range 4 {
			for col := range 4 {
				bind[k][row][col] = float32(jointFromFlat.At(row, col))
			}
		}
	}
	skin.InverseBindMatrices = lib.Index(modeler.WriteAccessor(b.doc, lib.TargetNone, bind))
	b.doc.Skins = append(b.doc.Skins, skin)
	return len(b.doc.Skins) - 1
}

// lookOf returns how a body of the board appears: a section by whether its stack-up is rigid.
func (b *builder) lookOf(tb *fold.Body) look {
	switch tb.Kind {
	case fold.KindStiffener:
		return lookStiffener
	case fold.KindComponent:
		return lookComponent
	case fold.KindSection:
		if b.isRigid(b.tree.Design.Sections[tb.Source].Stackup) {
			return lookRigid
		}
	}
	return lookFilm
}

func (b *builder) isRigid(stackup string) bool {
	for i := range b.tree.Design.Stackups {
		if s := &b.tree.Design.Stackups[i]; s.Name == stackup {
			return s.Rigid
		}
	}
	return false
}
