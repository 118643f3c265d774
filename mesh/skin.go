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

// Skin returns the meshes of all bodies of a folded board; no point of a mesh's surface is farther than chord (mm) from
// the true surface and the other way round. Every mesh is closed by its triangles' indices, even where a bend of 360 degrees
// comes back to its start. Bodies that meet in the flat have the same nodes where they meet along straight lines. The
// result is the same on every run.
//
// A chord that is not above 0, and a body whose border crosses itself, are an error; Divide makes no such body.
func Skin(f *fold.Folded, chord float64) (*Assembly, error) {
	if !(chord > 0) || math.IsInf(chord, 0) {
		return nil, fmt.Errorf("a chord error of %g mm cannot be kept; it must be above 0", chord)
	}
	a := &Assembly{Folded: f, Chord: chord, Bodies: make([]Body, len(f.Tree.Bodies))}
	j := newJoints(f.Tree)
	for i := range f.Tree.Bodies {
		tb := &f.Tree.Bodies[i]
		r := tb.Region
		if isBoard(tb.Kind) {
			r = j.fit(r)
		}
		b, err := skinBody(f, tb, r, chord)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", tb.Name, err)
		}
		b.Name, b.Kind, b.Source = tb.Name, tb.Kind, i
		a.Bodies[i] = *b
	}
	return a, nil
}

// skinBody returns one body's mesh. Where an arc's chords run into another border, which is nearer than the chord error,
// finer chords are tried.
func skinBody(f *fold.Folded, tb *fold.Body, r flat.Region, chord float64) (b *Body, err error) {
	if len(tb.Boxes) > 0 {
		return boxBody(f, tb), nil
	}
	if len(r) == 0 {
		return nil, errors.New("the body has no area")
	}
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

// prismBody returns a body of straight height, placed.
func prismBody(f *fold.Folded, tb *fold.Body, r flat.Region, chord float64) (*Body, error) {
	b, err := prism(cut(r, chord), tb.Faces)
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

// bendBody returns the body of a bend area, bent: each node where the exact cylinder takes it, normals turned with the
// flex at their station.
func bendBody(f *fold.Folded, tb *fold.Body, r flat.Region, chord float64) (*Body, error) {
	bend := &f.Tree.Bends[tb.Bend]
	c := newCurl(bend, r, f.Angles[bend.Hinge], chord)
	sp := newStrip(bend, cut(r, c.arc), c)
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
