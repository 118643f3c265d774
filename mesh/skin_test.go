package mesh

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

var (
	strip40 = pts(0, 0, 40, 0, 40, 10, 0, 10)
	comb40  = pts(0, 0, 40, 0, 40, 8, 15, 8, 15, 12, 40, 12, 40, 20, 0, 20)
	w90     = 1.6 * math.Pi / 2 // width of a bend of thickness 0.2, radius 1.5, 90 degrees
)

// boards are designs of all sorts that Divide takes.
func boards() map[string]spec {
	n := []fold.Hinge{hinge("n", 20, 0, 20, 10, 90, 1.5)}
	tangent := flat.Pt{X: 1, Y: 1}
	arcs := []flat.Vertex{{}, {P: flat.Pt{X: 70}, Round: 2}, {P: flat.Pt{X: 70, Y: 24}, Round: 2},
		{P: flat.Pt{X: 35, Y: 30}, Via: &flat.Pt{X: 52, Y: 28}}, {P: flat.Pt{Y: 24}}}
	notch := []flat.Vertex{{}, {P: flat.Pt{X: 18}}, {P: flat.Pt{X: 22}, Via: &flat.Pt{X: 20, Y: 1.5}}, {P: flat.Pt{X: 40}},
		{P: flat.Pt{X: 40, Y: 10}}, {P: flat.Pt{X: 22, Y: 10}}, {P: flat.Pt{X: 18, Y: 10}, Via: &flat.Pt{X: 20, Y: 8.5}}, {P: flat.Pt{Y: 10}}}
	return map[string]spec{
		"strip":   {outline: strip40, hinges: n},
		"no bend": {outline: strip40},
		"oblique chain": {outline: pts(0, 0, 90, 0, 90, 20, 0, 20), base: &tangent, hinges: []fold.Hinge{
			hinge("a", 18, -2, 24, 22, 70, 1.4), hinge("b", 45, 25, 40, -5, -115, 2), hinge("c", 68, 0, 70, 20, 200, 0.8)}},
		"comb, line in the palm": {outline: comb40, hinges: []fold.Hinge{hinge("n", 15.2, 0, 15.2, 20, 90, 1.5)}},
		"comb, both arms":        {outline: comb40, hinges: []fold.Hinge{hinge("n", 25, 0, 25, 20, -90, 1.5)}},
		"small hole":             {outline: strip40, hinges: n, cutouts: []flat.Loop{disc(20, 5, 1.5)}},
		"large hole":             {outline: strip40, hinges: n, cutouts: []flat.Loop{disc(20, 5, 6)}},
		"line touches a hole":    {outline: strip40, hinges: n, cutouts: []flat.Loop{disc(23, 5, 6)}, base: &tangent},
		"hole touches inside":    {outline: strip40, hinges: n, cutouts: []flat.Loop{disc(20+w90/2-0.5, 5, 1)}},
		"hole touches outside":   {outline: strip40, hinges: n, cutouts: []flat.Loop{disc(20+w90/2+0.5, 5, 1)}},
		"slot's end on the line": {outline: strip40, hinges: n, cutouts: []flat.Loop{rect(20+w90/2, 4, 25, 6)}},
		"notch corner on the line": {outline: pts(0, 0, 18, 0, 20+w90/2, 5, 22, 0, 40, 0, 40, 12, 0, 12),
			hinges: []fold.Hinge{hinge("n", 20, 0, 20, 12, 90, 1.5)}},
		"arc notches":       {outline: notch, hinges: n, flex: [2]float64{-0.12, 0.08}},
		"tangents coincide": {outline: strip40, hinges: []fold.Hinge{hinge("a", 15, 0, 15, 10, 90, 1.5), hinge("b", 15+w90, 0, 15+w90, 10, -90, 1.5)}, base: &tangent},
		"whole turn":        {outline: strip40, hinges: []fold.Hinge{hinge("n", 20, 0, 20, 10, 360, 1)}},
		"free end":          {outline: pts(0, 0, 21, 0, 21, 10, 0, 10), hinges: n},
		"arcs and sections": {outline: arcs, hinges: []fold.Hinge{hinge("n", 37, -1, 37, 31, 180, 1.5)},
			cutouts:  []flat.Loop{disc(5, 12, 3.2), rect(10, 4, 14, 6), loop(pts(20, 5, 22, 5, 21, 7)), disc(37, 12, 4)},
			sections: map[string]flat.Loop{"main": rect(0, 0, 30, 24), "wing": rect(44, 0, 70, 24)}},
		"section border ends on a joint": {outline: strip40, hinges: n, base: &tangent,
			sections: map[string]flat.Loop{"main": rect(0, 0, 20-w90/2, 4), "wing": rect(20+w90/2, 3, 44, 7)}},
		"neck with plates": {outline: pts(0, 0, 20, 0, 20, 8, 22, 8, 22, 0, 42, 0, 42, 20, 22, 20, 22, 12, 20, 12, 20, 20, 0, 20),
			hinges: []fold.Hinge{hinge("n", 21, 0, 21, 20, 180, 1.5)}, base: &tangent},
		"perforated": perforated(),
	}
}

// perforated is a strip whose bend area is full of holes.
func perforated() spec {
	s := spec{outline: pts(0, 0, 60, 0, 60, 20, 0, 20), hinges: []fold.Hinge{hinge("n", 30, 0, 30.2, 20, 180, 3)}}
	for i := range 6 {
		for k := range 8 {
			s.cutouts = append(s.cutouts, disc(24+2.4*float64(i), 1.7+2.4*float64(k), 1.1))
		}
	}
	return s
}

// holes returns the number of holes in a region of which no loops touch.
func holes(r flat.Region) int { return len(r) - 1 }

func TestSkinBoards(t *testing.T) {
	touching := []string{"hole touches inside", "hole touches outside", "slot's end on the line", "notch corner on the line", "line touches a hole"}
	for name, s := range boards() {
		t.Run(name, func(t *testing.T) {
			tree := s.divide(t)
			for _, fraction := range []float64{0, 0.37, 1, -1} {
				a := skin(t, tree, fraction, 0.01)
				if len(a.Bodies) != len(tree.Bodies) {
					t.Fatalf("%d bodies of %d", len(a.Bodies), len(tree.Bodies))
				}
				for i := range a.Bodies {
					tb := &tree.Bodies[i]
					checkBody(t, a, i)
					if e := euler(a.Bodies[i].Mesh); !slices.Contains(touching, name) && e != 2-2*holes(tb.Region) {
						t.Errorf("%s: Euler characteristic %d with %d holes", tb.Name, e, holes(tb.Region))
					}
					want := tb.Volume
					if fraction != 1 && tb.Kind == fold.KindBend {
						want = volumeAt(tree, tb, fraction)
					}
					slack := a.Bodies[i].Chord*a.Bodies[i].Area() + 1e-9*want
					near(t, tb.Name+" volume", a.Bodies[i].Volume(), want, slack)
				}
				checkJoints(t, a)
			}
		})
	}
}

// volumeAt returns a bend's volume at a fraction of its angle, by Pappus.
func volumeAt(tree *fold.Tree, tb *fold.Body, fraction float64) float64 {
	b := &tree.Bends[tb.Bend]
	zb, zt := b.Faces[0]-b.Height, b.Faces[1]-b.Height
	k := fraction * tree.Design.Hinges[b.Hinge].Angle * math.Pi / 180 / b.Width
	return b.Area * ((zt - zb) - k*(zt*zt-zb*zb)/2)
}

// checkBody tests what holds for every body: closed, named, placed from its flat points, chord error stated and allowed,
// the flat mesh closed as well and of the flat volume.
func checkBody(t *testing.T, a *Assembly, i int) {
	t.Helper()
	b, tb := &a.Bodies[i], &a.Folded.Tree.Bodies[i]
	if err := b.Check(); err != nil {
		t.Fatal(err)
	}
	if b.Name != tb.Name || b.Kind != tb.Kind || b.Source != i {
		t.Fatalf("body %d is %s %s %d", i, b.Name, b.Kind, b.Source)
	}
	if b.Chord > a.Chord*(1+1e-9) || b.Chord < 0 {
		t.Errorf("%s: chord error %g", b.Name, b.Chord)
	}
	if len(b.Flat) != len(b.Points) || len(b.Normals) != len(b.Triangles) || len(b.FlatNormals) != len(b.Triangles) {
		t.Fatalf("%s: lists of unlike length", b.Name)
	}
	inFlat := b.Mesh
	inFlat.Points = b.Flat
	if err := inFlat.Check(); err != nil {
		t.Fatalf("in the flat: %v", err)
	}
	want := tb.Area * (tb.Faces[1] - tb.Faces[0])
	near(t, b.Name+" flat volume", inFlat.Volume(), want, (b.Chord+flat.Snap)*inFlat.Area())
	for k, p := range b.Flat {
		want := mgl64.Vec3{}
		if tb.Kind == fold.KindBend {
			want = a.Folded.BendPoint(tb.Bend, flat.Pt{X: p[0], Y: p[1]}, p[2])
		} else {
			want = fold.Apply(a.Folded.BodyMotion(tb), p)
		}
		if b.Points[k] != want {
			t.Fatalf("%s: a point is not where its flat point goes", b.Name)
		}
	}
	if (tb.Kind == fold.KindBend) != (len(b.Station) == len(b.Points) && len(b.Stations) > 1) {
		t.Errorf("%s: stations", b.Name)
	}
}

// checkJoints demands that the bodies on both sides of each joint have the same flat points on it.
func checkJoints(t *testing.T, a *Assembly) {
	t.Helper()
	tree := a.Folded.Tree
	for _, j := range tree.Joints {
		bendSide, flatSide := map[flat.Pt]bool{}, map[flat.Pt]bool{}
		for i := range a.Bodies {
			switch tb := &tree.Bodies[i]; {
			case tb.Kind == fold.KindBend && tb.Bend == j.Bend:
				onSegment(&a.Bodies[i], j.P, j.Q, bendSide)
			case isBoard(tb.Kind) && tb.Flat == j.Flat:
				onSegment(&a.Bodies[i], j.P, j.Q, flatSide)
			}
		}
		if len(tree.Flats[j.Flat].Bodies) == 0 {
			continue
		}
		if len(bendSide) < 2 || !reflect.DeepEqual(bendSide, flatSide) {
			t.Errorf("joint %v-%v: %d nodes on the bend, %d on the flat", j.P, j.Q, len(bendSide), len(flatSide))
		}
	}
}

// onSegment collects a body's flat points on a segment.
func onSegment(b *Body, p, q flat.Pt, out map[flat.Pt]bool) {
	d := q.Sub(p).Unit()
	for _, v := range b.Flat {
		f := flat.Pt{X: v[0], Y: v[1]}
		if at := f.Sub(p).Dot(d); math.Abs(d.Cross(f.Sub(p))) < flat.Snap/2 && at > -flat.Snap && at < p.Dist(q)+flat.Snap {
			out[f] = true
		}
	}
}

// The node at which a section's border ends on a joint is a node of the bend too.
func TestNodeOfSectionBorderOnJoint(t *testing.T) {
	a := skin(t, boards()["section border ends on a joint"].divide(t), 1, 0.01)
	for _, y := range []float64{3, 4, 7} {
		found := slices.ContainsFunc(a.body(t, "bend:n").Flat, func(p mgl64.Vec3) bool { return math.Abs(p[1]-y) < 1e-9 })
		if !found {
			t.Errorf("no node at y %g", y)
		}
	}
}

// On a joint of the tree, flat and bend are in the same place: their nodes coincide on the board.
func TestJointsCloseOnBoard(t *testing.T) {
	for _, name := range []string{"oblique chain", "arcs and sections", "section border ends on a joint", "tangents coincide"} {
		a := skin(t, boards()[name].divide(t), 1, 0.01)
		for i := range a.Bodies {
			tb := &a.Folded.Tree.Bodies[i]
			if tb.Kind == fold.KindBend {
				checkEnds(t, a, &a.Bodies[i], &a.Folded.Tree.Bends[tb.Bend])
			}
		}
	}
}

func checkEnds(t *testing.T, a *Assembly, b *Body, bend *fold.Bend) {
	t.Helper()
	last := int32(len(b.Stations) - 1)
	for i, p := range b.Flat {
		want := b.Points[i]
		switch {
		case b.Station[i] == 0:
			want = fold.Apply(a.Folded.BoardFromFlat(bend.Parent), p)
		case b.Station[i] == last && len(bend.Far) > 0:
			want = fold.Apply(a.Folded.BoardFromFlat(bend.Far[0]), p)
		}
		if want.Sub(b.Points[i]).Len() > 1e-9 {
			t.Fatalf("%s: node %v lies %g off the flat", b.Name, p, want.Sub(b.Points[i]).Len())
		}
	}
}

func TestSkinSameTwice(t *testing.T) {
	for _, name := range []string{"oblique chain", "arcs and sections", "perforated"} {
		a, b := skin(t, boards()[name].divide(t), 1, 0.01), skin(t, boards()[name].divide(t), 1, 0.01)
		if !reflect.DeepEqual(a.Bodies, b.Bodies) {
			t.Errorf("%s: two runs differ", name)
		}
	}
}

func TestSkinRefusesChord(t *testing.T) {
	tree := boards()["strip"].divide(t)
	f, _ := tree.Place(tree.Angles())
	for _, chord := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if a, err := Skin(f, chord); err == nil || a != nil {
			t.Errorf("chord %g is accepted", chord)
		}
	}
}

// A hole that comes nearer to a round edge than the chord error makes the chords finer, not the body wrong.
func TestThinWeb(t *testing.T) {
	sin, cos := math.Sincos(math.Pi / 24) // 0.1 mm gives 12 chords; this is the middle of one
	s := spec{outline: []flat.Vertex{{}, {P: flat.Pt{X: 20}}, {P: flat.Pt{X: 20, Y: 20}, Via: &flat.Pt{X: 30, Y: 10}}, {P: flat.Pt{Y: 20}}},
		cutouts: []flat.Loop{disc(20+8.002*cos, 10+8.002*sin, 3.99)}}
	a := skin(t, s.divide(t), 0, 0.1)
	checkBody(t, a, 0)
	if a.Bodies[0].Chord > 0.01 {
		t.Errorf("chord error %g over a web of 0.003", a.Bodies[0].Chord)
	}
}

func TestPrismRound(t *testing.T) {
	tree := bendTree(nil, flat.Pt{}, flat.Pt{X: 1}, 1, 0, [2]float64{}, 0)
	tree.Bodies = []fold.Body{{Name: "component:C1", Kind: fold.KindComponent, Flat: 0, Bend: -1, Region: flat.Region{disc(3, 4, 5)}, Faces: [2]float64{0.1, 3.6}}}
	exact := math.Pi / 4 * 25 * 3.5
	last := math.Inf(1)
	for _, chord := range []float64{0.4, 0.1, 0.025, 0.00625} {
		b := skin(t, tree, 0, chord).Bodies[0]
		if err := b.Check(); err != nil {
			t.Fatal(err)
		}
		off := exact - b.Volume()
		if off < 0 || off > last/3 || off > 2*chord*math.Pi*5*3.5/3+1e-9 {
			t.Errorf("chord %g: volume %g short (before: %g)", chord, off, last)
		}
		last = off
		for i, tr := range b.Triangles {
			for k, n := range b.Normals[i] {
				if radial := b.Points[tr[k]].Sub(mgl64.Vec3{3, 4, b.Points[tr[k]][2]}).Mul(1 / 2.5); n[2] == 0 && n.Sub(radial).Len() > 1e-12 {
					t.Fatalf("normal %v, want %v", n, radial)
				}
			}
		}
	}
}

// Random boards: bars with random notches, holes and oblique hinges.
func TestSkinRandomBoards(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 12))
	meshed := 0
	for range 150 {
		s := randomBoard(rnd)
		tree, ps := fold.Divide(s.design(t))
		if len(ps) > 0 || !tree.Foldable {
			continue
		}
		f, err := tree.Place(tree.Partial(2*rnd.Float64() - 1))
		if err != nil {
			continue
		}
		a, err := Skin(f, []float64{0.05, 0.01, 0.002}[rnd.IntN(3)])
		if err != nil {
			t.Fatal(err)
		}
		for i := range a.Bodies {
			checkBody(t, a, i)
		}
		checkJoints(t, a)
		meshed++
	}
	if meshed < 50 {
		t.Errorf("only %d boards could be folded", meshed)
	}
}

func randomBoard(rnd *rand.Rand) spec {
	var bottom, top []flat.Vertex
	for x := 0.0; x < 60; x += 2 + 6*rnd.Float64() {
		bottom = append(bottom, flat.Vertex{P: flat.Pt{X: x, Y: 4 * rnd.Float64()}})
		top = append(top, flat.Vertex{P: flat.Pt{X: x, Y: 16 + 4*rnd.Float64()}})
	}
	slices.Reverse(top)
	s := spec{outline: append(bottom, top...), base: &flat.Pt{X: 0.1, Y: 10}}
	for range rnd.IntN(5) {
		s.cutouts = append(s.cutouts, disc(4+50*rnd.Float64(), 6+8*rnd.Float64(), 0.5+3*rnd.Float64()))
	}
	for i := range 1 + rnd.IntN(3) {
		x := 12 + 16*float64(i) + 4*rnd.Float64()
		s.hinges = append(s.hinges, hinge(fmt.Sprintf("h%d", i), x, -1, x+3*rnd.Float64(), 21, 400*rnd.Float64()-200, 0.2+rnd.Float64()))
	}
	if rnd.IntN(2) == 0 {
		s.sections = map[string]flat.Loop{"main": rect(-1, 5*rnd.Float64(), 8, 15), "wing": rect(50, 3, 70, 12)}
	}
	return s
}

func BenchmarkSkin(b *testing.B) {
	for _, name := range []string{"strip", "oblique chain", "arcs and sections", "perforated"} {
		tree := boards()[name].divide(b)
		f, err := tree.Place(tree.Angles())
		if err != nil {
			b.Fatal(err)
		}
		b.Run(name, func(b *testing.B) {
			n := 0
			for b.Loop() {
				a, err := Skin(f, 0.01)
				if err != nil {
					b.Fatal(err)
				}
				n = 0
				for i := range a.Bodies {
					n += len(a.Bodies[i].Triangles)
				}
			}
			b.ReportMetric(float64(n), "triangles")
		})
	}
}

// Features that miss the tangent lines by about the snapping tolerance, on either side, still give closed bodies.
func TestSkinNearTangentLines(t *testing.T) {
	rnd := rand.New(rand.NewPCG(77, 12))
	near := []float64{0, 1e-9, -1e-9, 3e-7, -3e-7, 9e-7, -9e-7, 1.1e-6, -1.1e-6, 3e-6, -3e-6, 1e-5, -1e-5, 1e-4, -1e-4}
	x := 20 + w90/2
	off := func() float64 { return near[rnd.IntN(len(near))] }
	for range 150 {
		s := spec{outline: pts(0, 0, 40, 0, 40, 20, 0, 20), hinges: []fold.Hinge{hinge("n", 20, 0, 20, 20, 90, 1.5)}, base: &flat.Pt{X: 0.1, Y: 10}}
		for y := 2.0; y < 18; y += 3 {
			s.cutouts = append(s.cutouts, []flat.Loop{disc(x-0.5+off(), y, 1), disc(x+0.5+off(), y, 1), rect(x+off(), y, x+1, y+1),
				loop(pts(x+off(), y, x-1, y+1, x-1.5, y))}[rnd.IntN(4)])
		}
		if rnd.IntN(2) == 0 {
			s.sections = map[string]flat.Loop{"main": rect(-1, 5, 20-w90/2+off(), 5+3*rnd.Float64()), "wing": rect(x+off(), 5+off(), 70, 12)}
		}
		tree, ps := fold.Divide(s.design(t))
		if len(ps) > 0 {
			continue
		}
		a := skin(t, tree, rnd.Float64(), 0.01)
		for i := range a.Bodies {
			checkBody(t, a, i)
		}
	}
}

// One body alone is the same as among all.
func TestSkinBodyAlone(t *testing.T) {
	a := skin(t, boards()["arcs and sections"].divide(t), 1, 0.01)
	for i := range a.Bodies {
		b, err := SkinBody(a.Folded, i, 0.01)
		if err != nil || !reflect.DeepEqual(*b, a.Bodies[i]) {
			t.Errorf("%s differs: %v", a.Bodies[i].Name, err)
		}
	}
	if _, err := SkinBody(a.Folded, 0, 0); err == nil {
		t.Error("chord 0 is accepted")
	}
}
