package gltf

import (
	"fmt"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
	"foldfit/mesh"
)

// Boards of these tests are made by hand, without the code that divides and meshes: strips along x whose bodies are
// ladders, prisms over a row of rungs.

// bendSpec is a hinge of a hand-made strip: its line runs from (x0, 0) to (x1, height).
type bendSpec struct{ x0, x1, angle, radius float64 }

type strip struct {
	length, height float64
	thickness      float64 // of the flex
	offset         float64 // z of the flex's neutral surface above its mid-height
	bends          []bendSpec
	steps          int // chords of each bend
	fraction       float64
	place          fold.Placement
}

// rung is a line across a strip, s its arc length into a bend.
type rung struct {
	a, b flat.Pt
	s    float64
}

// assembly returns the strip folded to fraction of its angles, with a rigid section, a bend, a rigid section and so on.
func (st strip) assembly(t testing.TB) *mesh.Assembly {
	t.Helper()
	tree := &fold.Tree{Design: &fold.Design{Name: "strip", Place: st.place}, Foldable: true}
	tree.Design.Stackups = []stackup.Stackup{{Name: "rigid", Rigid: true}}
	var rungs [][]rung
	last := rung{b: flat.Pt{Y: st.height}}
	addFlat := func(r []rung) {
		i := len(tree.Flats)
		f := fold.Flat{Name: fmt.Sprintf("s%d", i), Parent: i - 1, Bend: i - 1, Far: i > 0, Area: area(r)}
		tree.Flats = append(tree.Flats, f)
		tree.Design.Sections = append(tree.Design.Sections, fold.Section{Name: f.Name, Stackup: "rigid"})
		tree.Bodies = append(tree.Bodies, fold.Body{Name: "section:" + f.Name, Kind: fold.KindSection, Flat: i, Bend: -1,
			Faces: [2]float64{-0.4, 0.6}, Area: f.Area, Volume: f.Area, Source: i})
		rungs = append(rungs, r)
	}
	for i, spec := range st.bends {
		b, r := st.bend(i, spec)
		addFlat([]rung{last, r[0]})
		last = r[len(r)-1]
		b.Area = area(r)
		tree.Bends = append(tree.Bends, b)
		tree.Design.Hinges = append(tree.Design.Hinges, fold.Hinge{Name: b.Name, Angle: spec.angle, Radius: spec.radius})
		tree.Hinges = append(tree.Hinges, fold.HingeInfo{Width: b.Width, Bends: []int{i}})
		tree.Bodies = append(tree.Bodies, fold.Body{Name: "bend:" + b.Name, Kind: fold.KindBend, Flat: -1, Bend: i,
			Faces: b.Faces, Area: b.Area, Volume: b.Area * st.thickness, Source: i})
		rungs = append(rungs, r)
	}
	addFlat([]rung{last, {a: flat.Pt{X: st.length}, b: flat.Pt{X: st.length, Y: st.height}}})
	return assemble(t, tree, rungs, st.fraction)
}

// bend returns bend i of the strip and its rungs, by the formulas of a cylinder about an oblique line.
func (st strip) bend(i int, spec bendSpec) (fold.Bend, []rung) {
	faces := [2]float64{-st.thickness/2 - st.offset, st.thickness/2 - st.offset}
	concave := faces[1]
	if spec.angle < 0 {
		concave = -faces[0]
	}
	w := (spec.radius + concave) * math.Abs(spec.angle) * math.Pi / 180
	along := flat.Pt{X: spec.x1 - spec.x0, Y: st.height}.Unit()
	d := flat.Pt{X: along.Y, Y: -along.X}
	origin := flat.Pt{X: spec.x0}.Sub(d.Mul(w / 2))
	b := fold.Bend{Name: fmt.Sprintf("b%d", i), Hinge: i, Origin: origin, Dir: d, Width: w, Reach: w, Near: []int{i},
		Far: []int{i + 1}, Parent: i, Faces: faces, InsideRadius: spec.radius}
	var out []rung
	for k := range st.steps + 1 {
		s := w * float64(k) / float64(st.steps)
		at := func(y float64) flat.Pt { // on the line at s, at height y
			p := origin.Add(d.Mul(s))
			return p.Add(along.Mul((y - p.Y) / along.Y))
		}
		out = append(out, rung{at(0), at(st.height), s})
	}
	return b, out
}

// area returns the area between the first and last rung of a ladder with straight sides.
func area(r []rung) float64 {
	n := len(r) - 1
	return (r[n].a.Sub(r[0].b).Cross(r[n].b.Sub(r[0].a))) / 2
}

// assemble meshes each body of the tree as a ladder over its rungs and folds it.
func assemble(t testing.TB, tree *fold.Tree, rungs [][]rung, fraction float64) *mesh.Assembly {
	t.Helper()
	f, err := tree.Place(tree.Partial(fraction))
	if err != nil {
		t.Fatal(err)
	}
	a := &mesh.Assembly{Folded: f, Chord: 0.01}
	for i := range tree.Bodies {
		b := ladder(rungs[i], tree.Bodies[i].Faces, tree.Bodies[i].Kind == fold.KindBend)
		b.Name, b.Kind, b.Source = tree.Bodies[i].Name, tree.Bodies[i].Kind, i
		b.Points = folded(f, &tree.Bodies[i], b.Flat)
		a.Bodies = append(a.Bodies, b)
	}
	return a
}

// folded returns where the flat points of a body go, exactly.
func folded(f *fold.Folded, tb *fold.Body, points []mgl64.Vec3) []mgl64.Vec3 {
	out := make([]mgl64.Vec3, len(points))
	for i, p := range points {
		if tb.Kind == fold.KindBend {
			out[i] = f.BendPoint(tb.Bend, flat.Pt{X: p[0], Y: p[1]}, p[2])
		} else {
			out[i] = fold.Apply(f.BodyMotion(tb), p)
		}
	}
	return out
}

// ladder returns the closed prism over a row of rungs, a on the right of the way from rung to rung.
func ladder(r []rung, faces [2]float64, bend bool) mesh.Body {
	var b mesh.Body
	for k, g := range r {
		for _, z := range faces {
			b.Flat = append(b.Flat, mgl64.Vec3{g.a.X, g.a.Y, z}, mgl64.Vec3{g.b.X, g.b.Y, z})
		}
		if bend {
			b.Stations = append(b.Stations, g.s)
			b.Station = append(b.Station, int32(k), int32(k), int32(k), int32(k))
		}
	}
	quad := func(c ...int32) {
		u, v := b.Flat[c[1]].Sub(b.Flat[c[0]]), b.Flat[c[2]].Sub(b.Flat[c[0]])
		n := u.Cross(v).Normalize()
		b.Triangles = append(b.Triangles, [3]int32{c[0], c[1], c[2]}, [3]int32{c[0], c[2], c[3]})
		b.FlatNormals = append(b.FlatNormals, [3]mgl64.Vec3{n, n, n}, [3]mgl64.Vec3{n, n, n})
	}
	last := int32(4 * (len(r) - 1))
	for k := int32(0); k < last; k += 4 {
		quad(k+2, k+6, k+7, k+3) // top
		quad(k, k+1, k+5, k+4)   // bottom
		quad(k, k+4, k+6, k+2)   // right
		quad(k+1, k+3, k+7, k+5) // left
	}
	quad(0, 2, 3, 1)
	quad(last, last+1, last+3, last+2)
	return b
}

// oblique3 is a chain of three oblique bends of mixed signs, over 180 degrees in one of them.
func oblique3() strip {
	return strip{length: 90, height: 20, thickness: 0.2, steps: 14, fraction: 1,
		bends: []bendSpec{{18, 24, 70, 1.4}, {45, 40, -115, 2}, {68, 70, 200, 0.8}}}
}

// comb is one bend with two far flats, a part that rides on the bend, and a near-side flat: hand-numbered.
func comb(t testing.TB, fraction float64) *mesh.Assembly {
	st := strip{length: 40, height: 20, thickness: 0.2, offset: 0.01, steps: 12, bends: []bendSpec{{20, 20, 120, 1.5}}}
	b, r := st.bend(0, st.bends[0])
	b.Area, b.Near, b.Far = area(r), []int{0, 1}, []int{2, 3}
	cut := func(x0, x1, y0, y1 float64) []rung {
		return []rung{{a: flat.Pt{X: x0, Y: y0}, b: flat.Pt{X: x0, Y: y1}}, {a: flat.Pt{X: x1, Y: y0}, b: flat.Pt{X: x1, Y: y1}}}
	}
	w, x := b.Width, b.Origin.X
	tree := &fold.Tree{Design: &fold.Design{Name: "comb", Hinges: []fold.Hinge{{Name: "b0", Angle: 120, Radius: 1.5}}},
		Foldable: true, Bends: []fold.Bend{b}, Hinges: []fold.HingeInfo{{Width: w, Bends: []int{0}}},
		Flats: []fold.Flat{{Name: "palm", Parent: -1, Bend: -1}, {Name: "thumb", Parent: 0, Bend: 0},
			{Name: "low", Parent: 0, Bend: 0, Far: true}, {Name: "high", Parent: 0, Bend: 0, Far: true}}}
	var rungs [][]rung
	for i, c := range [][]rung{cut(0, x, 0, 8), cut(5, x, 12, 20), cut(x+w, 40, 0, 8), cut(x+w, 40, 12, 20)} {
		tree.Bodies = append(tree.Bodies, fold.Body{Name: "flex:" + tree.Flats[i].Name, Kind: fold.KindFlex, Flat: i, Bend: -1, Faces: b.Faces,
			Area: area(c), Volume: area(c) * 0.2, Source: -1})
		rungs = append(rungs, c)
	}
	tree.Bodies = append(tree.Bodies,
		fold.Body{Name: "bend:b0", Kind: fold.KindBend, Flat: -1, Bend: 0, Faces: b.Faces, Area: b.Area},
		fold.Body{Name: "component:U1", Kind: fold.KindComponent, Flat: -1, Bend: 0, Faces: [2]float64{0.09, 1.1}, At: flat.Pt{X: x + 0.4*w, Y: 10}},
		fold.Body{Name: "stiffener:pad", Kind: fold.KindStiffener, Flat: 2, Bend: -1, Faces: [2]float64{0.09, 0.5}})
	rungs = append(rungs, r, cut(x+0.4*w-0.5, x+0.4*w+0.5, 9, 11), cut(30, 34, 2, 6))
	return assemble(t, tree, rungs, fraction)
}
