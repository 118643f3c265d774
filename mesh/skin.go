package mesh

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// Skin returns the meshes of all bodies of a folded board, with bends as cylinders or, where fold.Folded.Free has one, in their
// free shape; no point of a mesh's surface is farther than chord (mm) from
// the true surface and the other way round. Every mesh is closed by its triangles' indices, even where a bend of 360 degrees
// comes back to its start. Bodies that meet in the flat have the same nodes where they meet along straight lines. The
// result is the same on every run.
//
// A chord that is not above 0, and a body whose border crosses itself, are an error; Divide makes no such body.
func Skin(f *fold.Folded, chord float64) (*Assembly, error) {
	if err := checkChord(chord); err != nil {
		return nil, err
	}
	a := &Assembly{Folded: f, Chord: chord, Bodies: make([]Body, len(f.Tree.Bodies))}
	j := newJoints(f.Tree)
	for i := range f.Tree.Bodies {
		b, err := j.skin(f, i, chord)
		if err != nil {
			return nil, err
		}
		a.Bodies[i] = *b
	}
	return a, nil
}

// SkinBody returns the mesh of body i of a folded board alone, as Skin with this chord (mm) makes it.
func SkinBody(f *fold.Folded, i int, chord float64) (*Body, error) {
	if err := checkChord(chord); err != nil {
		return nil, err
	}
	return newJoints(f.Tree).skin(f, i, chord)
}

// checkChord refuses a chord error that is not above 0.
func checkChord(chord float64) error {
	if !(chord > 0) || math.IsInf(chord, 0) {
		return fmt.Errorf("a chord error of %g mm cannot be kept; it must be above 0", chord)
	}
	return nil
}

// skin returns the mesh of body i.
func (j *joints) skin(f *fold.Folded, i int, chord float64) (*Body, error) {
	tb := &f.Tree.Bodies[i]
	b, err := j.body(f, tb, chord)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", tb.Name, err)
	}
	b.Name, b.Kind, b.Source = tb.Name, tb.Kind, i
	return b, nil
}

// body returns the mesh of a body: of boxes, on the joints' nodes, or by itself.
func (j *joints) body(f *fold.Folded, tb *fold.Body, chord float64) (*Body, error) {
	if len(tb.Boxes) > 0 {
		return boxBody(f, tb), nil
	}
	if !isBoard(tb.Kind) {
		return anyChord(f, tb, tb.Region, chord)
	}
	b, err := anyChord(f, tb, j.fit(tb.Region), chord)
	if err != nil { // so thin that its nodes coincide with those of its neighbours
		b, err = anyChord(f, tb, tb.Region, chord)
	}
	return b, err
}

// anyChord returns the mesh of a body over r. Where an arc's chords run into another border, which is nearer than the chord
// error, finer chords are tried.
func anyChord(f *fold.Folded, tb *fold.Body, r flat.Region, chord float64) (b *Body, err error) {
	for fine := chord; fine > chord/1e4; fine /= 10 {
		if tb.Kind == fold.KindBend {
			b, err = bendBody(f, tb, r, fine)
		} else {
			b, err = prismBody(f, tb, r, fine)
		}
		if err == nil {
			break
		}
	}
	return b, err
}

// errNoArea says that a body has no region or a vanishing one.
var errNoArea = errors.New("the body has no area")

// prismBody returns a body of straight height, placed.
func prismBody(f *fold.Folded, tb *fold.Body, r flat.Region, chord float64) (*Body, error) {
	poly := cut(r, chord)
	if len(poly) == 0 {
		return nil, errNoArea
	}
	b, err := prism(poly, tb.Faces)
	if err != nil {
		return nil, err
	}
	return rigid(f, tb, b, sagitta(r, chord)), nil
}

// boxBody returns a component made of boxes: turned about its place, on its flat.
func boxBody(f *fold.Folded, tb *fold.Body) *Body {
	b := unionOfBoxes(tb.Boxes)
	flatFromBoxes := fold.RigidMotion([3]float64{0, 0, tb.Turn}, mgl64.Vec3{tb.At.X, tb.At.Y, 0})
	for i, p := range b.points {
		b.points[i] = fold.Apply(flatFromBoxes, p)
	}
	b.normals = turnAll(flatFromBoxes, b.normals)
	return rigid(f, tb, b, 0)
}

// rigid places a body that does not bend.
func rigid(f *fold.Folded, tb *fold.Body, b *builder, chord float64) *Body {
	inFlat := Mesh{Points: b.points, Triangles: b.triangles, Normals: b.normals, Chord: chord}
	return &Body{Mesh: inFlat.Place(f.BodyMotion(tb)), Flat: b.points, FlatNormals: b.normals}
}

// bendBody returns the body of a bend area, bent: each node where the exact cylinder or the free shape takes it, normals turned
// with the flex at their station.
func bendBody(f *fold.Folded, tb *fold.Body, r flat.Region, chord float64) (*Body, error) {
	bend := &f.Tree.Bends[tb.Bend]
	c := curlOf(f, tb.Bend, r, chord)
	poly := cut(r, c.arc)
	if len(poly) == 0 {
		return nil, errNoArea
	}
	sp := newStrip(bend, poly, c)
	b, err := sp.mesh(tb.Faces)
	if err != nil {
		return nil, err
	}
	body := &Body{Flat: b.points, FlatNormals: b.normals, Stations: sp.st.at, Station: slices.Concat(sp.station, sp.station)}
	body.Triangles = b.triangles
	body.Chord = c.off(sp.widest, sp.lean, sagitta(r, c.arc))
	for _, p := range b.points {
		body.Points = append(body.Points, f.BendPoint(tb.Bend, flat.Pt{X: p[0], Y: p[1]}, p[2]))
	}
	frames := make([]mgl64.Mat4, len(sp.st.at))
	for i, s := range sp.st.at {
		frames[i] = f.BoardFromStation(tb.Bend, s)
	}
	for i, t := range b.triangles {
		var n [3]mgl64.Vec3
		for k := range 3 {
			n[k] = fold.Turn(frames[body.Station[t[k]]], b.normals[i][k])
		}
		body.Normals = append(body.Normals, n)
	}
	return body, nil
}
