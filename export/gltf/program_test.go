package gltf

import (
	"bytes"
	"math"
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	lib "github.com/qmuntal/gltf"

	"foldfit/fold"
	"foldfit/mesh"
	"foldfit/mesh/clash"
)

// assembled is a strip with two hinges that is bent round a jig, clipped, put into its tray in three legs, bent on there,
// pushed home, and covered by a lid that turns over; a label rides in its neck. Ours, like all boards of these tests.
func assembled(t testing.TB) (Scene, *fold.Program) {
	t.Helper()
	d := design(loop(t, 0, 0, 70, 0, 70, 20, 0, 20), []fold.Hinge{hinge("neck", 28, -1, 28, 21, 90, 2), hinge("tail", 40, -1, 43, 21, -60, 2)},
		loop(t, 0, 0, 20, 0, 20, 20, 0, 20), loop(t, 50, 0, 70, 0, 70, 20, 50, 20))
	d.Place = fold.Placement{Datum: "bottom", Turn: [3]float64{0, 20, 90}, Move: mgl64.Vec3{35, 6, 7}}
	boxes := [][2]mgl64.Vec3{{{10, 0, -1}, {60, 60, 0}}, {{30, 5, 8}, {33, 9, 12}}, {{5, -3, 40}, {45, 20, 42}}, {{52, 4, 1}, {58, 6, 2}}, {{27, 3, 1}, {28, 9, 2}}}
	d.Enclosure = []fold.Piece{{Name: "tray"}, {Name: "jig"}, {Name: "lid", Move: mgl64.Vec3{8, 2, 40}}, {Name: "clip", On: "b"},
		{Name: "label", Follows: &fold.Follow{Hinge: "neck", Share: 0.5}}}
	d.Sequence = []fold.Step{
		{Add: []string{"jig"}},
		{Name: "form", Bend: []fold.HingeAngle{{Hinge: "neck", Angle: 95}, {Hinge: "tail", Angle: -30}}},
		{Bend: []fold.HingeAngle{{Hinge: "neck", Angle: 90}}},
		{Remove: []string{"jig"}},
		{Add: []string{"clip"}},
		{Board: true, Into: "tray", Path: []fold.Offset{{Move: mgl64.Vec3{0, 0, 30}, Turn: [3]float64{170, 30, 0}}, {Move: mgl64.Vec3{0, 5, 10}},
			{Move: mgl64.Vec3{0, 5, 10}, Turn: [3]float64{0, 0, 400}}, {Move: mgl64.Vec3{0, 0, 4}, Turn: [3]float64{0, 0, 360}}}},
		{Bend: []fold.HingeAngle{{Hinge: "tail", Angle: -60}}},
		{Board: true, Path: []fold.Offset{{Move: mgl64.Vec3{0, 0, 4}, Turn: [3]float64{0, 0, 360}}, {}}},
		{Piece: "lid", Path: []fold.Offset{{Move: mgl64.Vec3{0, 0, 9}, Turn: [3]float64{0, -250, 0}}, {Move: mgl64.Vec3{3, 0, 9}}, {}}},
	}
	a := skinned(t, d, 0.02)
	programs, problems := a.Folded.Tree.Programs()
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	s := Scene{Assembly: a, Program: &programs[0]}
	for i := range d.Enclosure {
		p := &d.Enclosure[i]
		s.Walls = append(s.Walls, clash.Wall{Piece: p, Mesh: box("enclosure:"+p.Name, boxes[i][0], boxes[i][1]), Closed: true})
	}
	return s, s.Program
}

// moment is a time and what the rule of Write says is shown then.
type moment struct {
	time     float64
	step     int
	progress float64
}

// moments spreads times over all steps and the pauses between them, by the rule as Write tells it.
func moments(p *fold.Program) (out []moment) {
	start := 0.0
	for i := range p.Steps {
		m := &p.Steps[i]
		length := 0.5
		switch {
		case len(m.Legs) > 0:
			length = float64(len(m.Legs))
		case !slices.Equal(m.From, m.To):
			length = 1.5
		}
		for k := range 40 {
			progress := (float64(k) + 0.31) / 40
			out = append(out, moment{start + length*progress, i, progress})
		}
		out = append(out, moment{start, i, 0}, moment{start + length, i, 1}, moment{start + length + 0.17, i, 1})
		start += length + 0.25
	}
	return out
}

// shown demands that board and pieces appear as they are in a state, and returns the worst error in mm.
func shown(t *testing.T, r reader, s *Scene, state *fold.State, time float64) (worst float64) {
	t.Helper()
	sceneFromHousing := mgl64.Ident4()
	if s.BoardFrame {
		sceneFromHousing = fold.Invert(s.Assembly.Folded.Tree.HousingFromBoard())
	}
	compare(t, r, s.Assembly, time, 1e-4, func(b *mesh.Body) []mgl64.Vec3 {
		tb := &s.Assembly.Folded.Tree.Bodies[b.Source]
		return applied(sceneFromHousing.Mul4(state.HousingFromBoard), folded(state.Folded, tb, b.Flat))
	})
	for i, piece := range state.Pieces {
		w := &s.Walls[i]
		got := r.shape(w.Mesh.Name, time)
		if low, high := spread(got.points); !piece.Present && high.Sub(low).Len() > 1e-6 || piece.Present && high.Sub(low).Len() < 1 {
			t.Errorf("at %g s: %s there %v, but %v big", time, w.Mesh.Name, piece.Present, high.Sub(low))
		}
		for k, v := range got.triangles {
			if want := fold.Apply(sceneFromHousing.Mul4(piece.HousingFromPiece), w.Mesh.Points[w.Mesh.Triangles[k/3][k%3]]); piece.Present {
				worst = max(worst, got.points[v].Sub(want).Len())
			}
		}
	}
	return worst
}

func spread(points []mgl64.Vec3) (low, high mgl64.Vec3) {
	box := bounds{points[0], points[0]}
	for _, p := range points {
		box.add(p)
	}
	return box.low, box.high
}

// Played by glTF's rules the animation shows the program at every moment: board, pieces on their paths, those that ride, and
// who is there. The contract allows 0.05 mm; 1 um is demanded.
func TestProgramIsPlayed(t *testing.T) {
	for _, boardFrame := range []bool{false, true} {
		s, p := assembled(t)
		s.BoardFrame = boardFrame
		r := written(t, s)
		if len(r.doc.Animations) != 1 {
			t.Fatalf("%d animations", len(r.doc.Animations))
		}
		worst := 0.0
		for _, m := range moments(p) {
			state, err := p.State(m.step, m.progress)
			if err != nil {
				t.Fatal(err)
			}
			worst = max(worst, shown(t, r, &s, state, m.time))
		}
		t.Logf("pieces within %.3g um", worst*1000)
		if worst > 1e-3 {
			t.Errorf("pieces stray by %g mm", worst)
		}
		rest, _ := p.State(len(p.Steps)-1, 1)
		shown(t, r, &s, rest, -1)
	}
}

// What is hidden hides within the box of what is there: the jig collapses to its own middle.
func TestHiddenPiecesWidenNothing(t *testing.T) {
	s, _ := assembled(t)
	r := written(t, s)
	for _, p := range r.shape("enclosure:jig", -1).points {
		if p.Sub(mgl64.Vec3{31.5, 7, 10}).Len() > 1e-5 {
			t.Errorf("the hidden jig has a point at %v", p)
		}
	}
}

// The clip tells its steps, and its keys are near enough for the short way to be the right one.
func TestClipIsTold(t *testing.T) {
	s, _ := assembled(t)
	r := written(t, s)
	a := r.doc.Animations[0]
	steps := a.Extras.(map[string]any)["steps"].([]any)
	if form := steps[1].(map[string]any); len(steps) != 9 || form["name"] != "form" || form["start_s"] != 0.75 || form["end_s"] != 2.25 {
		t.Errorf("steps %v", steps)
	}
	for _, x := range a.Samplers {
		if q, n := r.floats(x.Output); n == 4 {
			for k := 4; k < len(q); k += 4 {
				if dot := q[k]*q[k-4] + q[k+1]*q[k-3] + q[k+2]*q[k-2] + q[k+3]*q[k-1]; dot < math.Cos(15.01*math.Pi/180) {
					t.Errorf("neighbouring keys are %g degrees apart", 2*math.Acos(dot)*180/math.Pi)
				}
			}
		}
	}
}

// One moment of the sequence stands still, with what is there by then and nothing else.
func TestState(t *testing.T) {
	s, p := assembled(t)
	for _, m := range []moment{{0, 1, 0.4}, {0, 5, 0.4}, {0, 8, 0.7}} {
		state, err := p.State(m.step, m.progress)
		if err != nil {
			t.Fatal(err)
		}
		a, err := mesh.Skin(state.Folded, 0.02)
		if err != nil {
			t.Fatal(err)
		}
		still := Scene{Assembly: a, State: state}
		var absent []string
		for i, piece := range state.Pieces {
			if !piece.Present {
				absent = append(absent, s.Walls[i].Mesh.Name)
			}
		}
		still.Walls = s.Walls
		r := written(t, still)
		for _, n := range r.doc.Nodes {
			if slices.Contains(absent, n.Name) || n.ScaleOrDefault() != lib.DefaultScale {
				t.Errorf("step %d: %s is in the file", m.step+1, n.Name)
			}
		}
		if len(r.doc.Animations) > 0 {
			t.Error("a moment moves")
		}
		compare(t, r, a, -1, 2e-5, func(b *mesh.Body) []mgl64.Vec3 { return applied(state.HousingFromBoard, b.Points) })
		for i, piece := range state.Pieces {
			w := &s.Walls[i]
			if !piece.Present {
				continue
			}
			got := r.shape(w.Mesh.Name, -1)
			for k, v := range got.triangles {
				want := fold.Apply(piece.HousingFromPiece, w.Mesh.Points[w.Mesh.Triangles[k/3][k%3]])
				if d := got.points[v].Sub(want).Len(); d > 2e-5 {
					t.Fatalf("step %d: %s off by %g mm", m.step+1, w.Mesh.Name, d)
				}
			}
		}
	}
}

// Without a program all pieces stay, and those that ride move with the board from flat to folded.
func TestRidersRide(t *testing.T) {
	s, _ := assembled(t)
	s.Program = nil
	r := written(t, s)
	tree := s.Assembly.Folded.Tree
	for _, f := range []float64{0, 0.37, 1} {
		part, err := tree.Place(tree.Partial(f))
		if err != nil {
			t.Fatal(err)
		}
		state := &fold.State{Folded: part, HousingFromBoard: tree.HousingFromBoard()}
		for i := range tree.Design.Enclosure {
			state.Pieces = append(state.Pieces, atRest(state, &tree.Design.Enclosure[i]))
		}
		if worst := shown(t, r, &s, state, f*duration); worst > 1e-4 {
			t.Errorf("at %g: a piece is off by %g mm", f, worst)
		}
	}
}

// The same scene gives the same bytes; a program that ends elsewhere, and a piece that rides on nothing, are no panic.
func TestProgramBytesAndErrors(t *testing.T) {
	var first []byte
	for range 3 {
		s, _ := assembled(t)
		var buf bytes.Buffer
		if err := Write(&buf, s); err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = buf.Bytes()
		}
		if !bytes.Equal(first, buf.Bytes()) {
			t.Fatal("two writes differ")
		}
	}
	s, _ := assembled(t)
	half, err := s.Assembly.Folded.Tree.Place(s.Assembly.Folded.Tree.Partial(0.5))
	if err != nil {
		t.Fatal(err)
	}
	s.Assembly, err = mesh.Skin(half, 0.02)
	if err != nil {
		t.Fatal(err)
	}
	var buf bytes.Buffer
	if err := Write(&buf, s); err == nil || buf.Len() > 0 {
		t.Errorf("half a board ends a sequence: %v, %d bytes", err, buf.Len())
	}
	s.Program = nil
	for i := range s.Walls {
		s.Walls[i].Piece = &fold.Piece{Name: "nobody", On: "nothing", Follows: &fold.Follow{Hinge: "nothing"}}
	}
	if err := Write(&buf, s); err != nil {
		t.Error(err)
	}
}
