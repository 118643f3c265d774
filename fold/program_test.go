package fold

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

// lamp is a strip with two hinges in a tray: a jig holds it while it is bent, a clip rides on its wing, a link in its neck.
func lamp(t testing.TB) *Tree {
	t.Helper()
	s := spec{outline: box(0, 0, 70, 20), base: "main",
		areas:  []area{{name: "main", loop: rect(0, 0, 20, 20), rigid: true, thick: 1}, {name: "wing", loop: rect(50, 0, 70, 20), rigid: true, thick: 1}},
		hinges: []Hinge{hinge("neck", 28, -1, 28, 21, 90, 2), hinge("tail", 40, -1, 40, 21, -60, 2)}}
	d := s.design(t)
	d.Place = Placement{Datum: "bottom", Turn: [3]float64{0, 0, 90}, Move: mgl64.Vec3{5, 6, 7}}
	d.Enclosure = []Piece{
		{Name: "tray"}, {Name: "jig", Move: mgl64.Vec3{1, 2, 3}}, {Name: "lid", Move: mgl64.Vec3{0, 0, 40}},
		{Name: "clip", On: "wing"}, {Name: "link", Follows: &Follow{Hinge: "neck", Share: 0.5}},
	}
	d.Sequence = []Step{
		{Add: []string{"jig"}},
		{Name: "form", Bend: []HingeAngle{{"neck", 95}, {"tail", -30}}},
		{Bend: []HingeAngle{{"neck", 90}}},
		{Remove: []string{"jig"}},
		{Board: true, Into: "tray", Path: []Offset{{Move: mgl64.Vec3{0, 0, 30}, Turn: [3]float64{180, 0, 0}}, {Move: mgl64.Vec3{0, 0, 10}}, {Move: mgl64.Vec3{0, 0, 4}}}},
		{Bend: []HingeAngle{{"tail", -60}}},
		{Board: true, Path: []Offset{{Move: mgl64.Vec3{0, 0, 4}}, {}}},
		{Piece: "lid", Path: []Offset{{Move: mgl64.Vec3{0, 0, 9}}, {}}},
	}
	tree, ps := Divide(d)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return tree
}

func programs(t testing.TB, tree *Tree) []Program {
	t.Helper()
	out, ps := tree.Programs()
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return out
}

func state(t testing.TB, p *Program, step int, progress float64) *State {
	t.Helper()
	s, err := p.State(step, progress)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A step ends where the next one begins, the first begins flat, the last ends as the folded posture, all at rest: bit for bit.
func TestStepsJoin(t *testing.T) {
	tree := lamp(t)
	p := &programs(t, tree)[0]
	if !p.Written || p.Posture != FoldedPosture || len(p.Steps) != 8 || p.Steps[1].Name != "form" {
		t.Fatalf("%+v", p)
	}
	same := func(what string, a, b *State) {
		t.Helper()
		if !slices.Equal(a.Folded.Angles, b.Folded.Angles) || !slices.Equal(a.Folded.flats, b.Folded.flats) || a.HousingFromBoard != b.HousingFromBoard {
			t.Errorf("%s: the board jumps", what)
		}
		for i := range a.Pieces {
			if a.Pieces[i].HousingFromPiece != b.Pieces[i].HousingFromPiece {
				t.Errorf("%s: %s jumps", what, tree.Design.Enclosure[i].Name)
			}
		}
	}
	for i := 1; i < len(p.Steps); i++ {
		same(p.Steps[i].Name, state(t, p, i-1, 1), state(t, p, i, 0))
	}
	if a := state(t, p, 0, 0).Folded.Angles; !slices.Equal(a, []float64{0, 0}) {
		t.Errorf("begins at %v", a)
	}
	rest := &State{Folded: tree.place(t, 1), HousingFromBoard: tree.HousingFromBoard()}
	same("the end", rest, state(t, p, 7, 1))
	for i, piece := range state(t, p, 7, 1).Pieces {
		if there := tree.Design.Enclosure[i].Name != "jig"; piece.Present != there || i < 3 && piece.HousingFromPiece != mgl64.Ident4() {
			t.Errorf("piece %d at the end: %+v", i, piece)
		}
	}
}

// Every hinge turns linearly: half the progress is half the way, past its own angle and back.
func TestHingesTurnLinearly(t *testing.T) {
	p := &programs(t, lamp(t))[0]
	for _, c := range []struct {
		step     int
		progress float64
		want     [2]float64
	}{
		{1, 0.5, [2]float64{47.5, -15}}, {1, 1, [2]float64{95, -30}}, {2, 0, [2]float64{95, -30}}, {2, 0.5, [2]float64{92.5, -30}}, {2, 1, [2]float64{90, -30}},
		{4, 0.3, [2]float64{90, -30}}, {5, 0.25, [2]float64{90, -37.5}},
	} {
		if got := state(t, p, c.step, c.progress).Folded.Angles; got[0] != c.want[0] || got[1] != c.want[1] {
			t.Errorf("step %d at %g: %v, want %v", c.step, c.progress, got, c.want)
		}
	}
}

// What is there when: brought in by its step, gone from the step that removes it; the lid waits where its path begins.
func TestPresence(t *testing.T) {
	tree := lamp(t)
	p := &programs(t, tree)[0]
	for i := range p.Steps {
		there := map[string]bool{"tray": i >= 4, "jig": i < 3, "lid": true, "clip": true, "link": true}
		s := state(t, p, i, 0.5)
		for k, piece := range tree.Design.Enclosure {
			if s.Pieces[k].Present != there[piece.Name] {
				t.Errorf("step %d: %s present %v", i+1, piece.Name, s.Pieces[k].Present)
			}
		}
		if wait := s.Pieces[2].HousingFromPiece; i < 7 && wait != mgl64.Translate3D(0, 0, 9) || i == 7 && wait != mgl64.Translate3D(0, 0, 4.5) {
			t.Errorf("step %d: the lid stands at\n%v", i+1, wait)
		}
	}
}

// What rides on a flat or follows a hinge keeps its distance from the material point beside it, wherever the board is.
func TestRidersMoveWithTheBoard(t *testing.T) {
	tree := lamp(t)
	p := &programs(t, tree)[0]
	bend := &tree.Bends[0]
	middle := bend.Middle()
	for i := range p.Steps {
		for _, progress := range []float64{0, 0.2, 0.7, 1} {
			s := state(t, p, i, progress)
			on := mgl64.Vec3{60, 10, 2}
			nearVec(t, "clip", Apply(s.Pieces[3].HousingFromPiece, on), Apply(s.HousingFromBoard, s.Folded.image(t, 60, 10, 2)))
			at := mgl64.Vec3{middle.X, middle.Y, 1.5}
			nearVec(t, "link", Apply(s.Pieces[4].HousingFromPiece, at), Apply(s.HousingFromBoard, s.Folded.BendPoint(0, middle, 1.5)))
		}
	}
}

// The board's path: half a turn about x through its origin while it sinks, then straight down.
func TestHalfTurnIsAboutTheStatedAxis(t *testing.T) {
	tree := lamp(t)
	p := &programs(t, tree)[0]
	rest := tree.HousingFromBoard()
	origin := Apply(rest, mgl64.Vec3{})
	for _, c := range []struct{ progress, turn, up float64 }{{0, 180, 30}, {0.125, 135, 25}, {0.25, 90, 20}, {0.5, 0, 10}, {0.75, 0, 7}, {1, 0, 4}} {
		s := state(t, p, 4, c.progress)
		nearVec(t, "origin", Apply(s.HousingFromBoard, mgl64.Vec3{}), origin.Add(mgl64.Vec3{0, 0, c.up}))
		for _, d := range []mgl64.Vec3{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}} {
			nearVec(t, "direction", Turn(s.HousingFromBoard, d), Turn(RigidMotion([3]float64{c.turn, 0, 0}, mgl64.Vec3{}).Mul4(rest), d))
		}
	}
	if b := p.Steps[4].Breaks(); !slices.Equal(b, []float64{0, 0.5, 1}) {
		t.Errorf("breaks %v", b)
	}
}

// One number of the turn: by as much as it changes, about its own axis as the other numbers carry it.
func TestOneNumberTurnsAsWritten(t *testing.T) {
	for _, c := range []struct {
		from, to [3]float64
		axis     mgl64.Vec3
		angle    float64
	}{
		{[3]float64{}, [3]float64{180, 0, 0}, mgl64.Vec3{1, 0, 0}, 180},
		{[3]float64{}, [3]float64{0, -180, 0}, mgl64.Vec3{0, 1, 0}, -180},
		{[3]float64{0, 0, 720}, [3]float64{}, mgl64.Vec3{0, 0, 1}, -720},
		{[3]float64{0, 0, 90}, [3]float64{30, 0, 90}, mgl64.Vec3{0, 1, 0}, 30},
		{[3]float64{0, 90, 0}, [3]float64{200, 90, 0}, mgl64.Vec3{0, 0, -1}, 200},
		{[3]float64{0, 0, 90}, [3]float64{0, 30, 90}, mgl64.Vec3{-1, 0, 0}, 30},
		{[3]float64{20, 30, 40}, [3]float64{20, 30, 50}, mgl64.Vec3{0, 0, 1}, 10},
	} {
		l, ok := newLeg(Offset{Turn: c.from}, Offset{Turn: c.to})
		if !ok || l.Axis.Sub(c.axis).Len() > 1e-15 || l.Angle != c.angle {
			t.Errorf("%v to %v: about %v by %g, sure %v", c.from, c.to, l.Axis, l.Angle, ok)
		}
	}
	if _, ok := newLeg(Offset{Turn: [3]float64{180, 0, 180}}, Offset{}); ok {
		t.Error("half a turn by several numbers has no way round")
	}
}

// Whatever the placements: both ends as written, the origin on a straight line, the turn at constant rate about one axis.
func TestLegsTurnAtConstantRate(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	vector := func(size float64) mgl64.Vec3 {
		return mgl64.Vec3{size * (r.Float64() - 0.5), size * (r.Float64() - 0.5), size * (r.Float64() - 0.5)}
	}
	for range 500 {
		from, to, pivot := Offset{Turn: vector(720), Move: vector(80)}, Offset{Turn: vector(720), Move: vector(80)}, vector(100)
		if r.IntN(3) == 0 {
			to.Turn = from.Turn
			to.Turn[r.IntN(3)] += 400 * (r.Float64() - 0.5)
		}
		l, ok := newLeg(from, to)
		if !ok {
			t.Fatalf("%v to %v is not sure", from, to)
		}
		if got, want := l.HousingFromRest(1-1e-13, pivot), l.HousingFromRest(1, pivot); !got.ApproxEqualThreshold(want, 1e-9) {
			t.Fatalf("%v to %v ends at\n%v, not at\n%v", from, to, got, want)
		}
		u := 0.1 + 0.8*r.Float64()
		nearVec(t, "origin", Apply(l.HousingFromRest(u, pivot), pivot), pivot.Add(from.Move).Add(to.Move.Sub(from.Move).Mul(u)))
		one, two := l.HousingFromRest(u-0.1, pivot), l.HousingFromRest(u, pivot)
		three := l.HousingFromRest(u+0.1, pivot)
		for _, d := range []mgl64.Vec3{{1, 0, 0}, {0, 1, 0}} {
			// the same turn takes each to the next
			nearVec(t, "rate", Turn(two.Mul4(Invert(one)).Mul4(two), d), Turn(three, d))
		}
		if l.Angle != 0 {
			nearVec(t, "axis", Turn(three.Mul4(Invert(one)), l.Axis), l.Axis)
		}
	}
}

// Without a sequence all hinges go together, and nothing says where the enclosure is; to a posture it is where it belongs.
func TestProgramsWithoutSequence(t *testing.T) {
	tree := lamp(t)
	tree.Design.Sequence = nil
	tree.Design.Postures = []Posture{{Name: "open", Angles: []HingeAngle{{"neck", 30}}}, {Name: "torn", Angles: []HingeAngle{{"neck", 2000}}}}
	list := programs(t, tree)
	if len(list) != 2 || list[0].Written || list[1].Posture != "open" {
		t.Fatalf("%+v", list)
	}
	half := state(t, &list[0], 0, 0.5)
	if !slices.Equal(half.Folded.Angles, tree.Partial(0.5)) || slices.ContainsFunc(half.Pieces, func(p PieceState) bool { return p.Present }) {
		t.Errorf("%+v", half)
	}
	open := state(t, &list[1], 0, 0.5)
	if !slices.Equal(open.Folded.Angles, []float64{60, -60}) || slices.ContainsFunc(open.Pieces, func(p PieceState) bool { return !p.Present }) {
		t.Errorf("%+v", open)
	}
	for _, bad := range []struct {
		step     int
		progress float64
	}{{-1, 0}, {1, 0}, {0, -0.1}, {0, 1.1}, {0, math.NaN()}} {
		if _, err := list[0].State(bad.step, bad.progress); err == nil {
			t.Errorf("step %d at %g is taken", bad.step, bad.progress)
		}
	}
	tree.Foldable = false
	if list, ps := tree.Programs(); list != nil || ps != nil {
		t.Error("a board without a shape has motions")
	}
}

// A bend area of 10 degrees at R 1.5 in 0.2 mm is 0.27925 mm wide and takes at most 145.45 degrees (GEOMETRY W15).
func TestSequenceBeyondTheWidth(t *testing.T) {
	d := spec{outline: box(0, 0, 40, 10), hinges: []Hinge{hinge("a", 20, -1, 20, 11, 10, 1.5)}}.design(t)
	at := finding.Place{File: "x.yaml", Line: 7, Column: 5}
	for angle, fits := range map[float64]bool{145: true, -145: true, 146: false, -146: false} {
		d.Sequence = []Step{{Bend: []HingeAngle{{"a", angle}}, Place: at}, {Bend: []HingeAngle{{"a", 10}}}}
		tree, _ := Divide(d)
		_, ps := tree.Programs()
		if fits != (len(ps) == 0) || !fits && (ps[0].Place != at || !strings.Contains(ps[0].What, "step 1: bend a at") || !strings.Contains(ps[0].What, "at most 145.45 degrees")) {
			t.Errorf("%g: %v", angle, ps)
		}
	}
}

// A piece that follows a hinge of angle 0 stays with the flat there.
func TestFollowingAHingeThatMakesNoBend(t *testing.T) {
	tree := spec{outline: box(0, 0, 60, 10), base: flat.Pt{X: 5, Y: 5}, hinges: []Hinge{hinge("a", 20, -1, 20, 11), hinge("b", 40, -1, 40, 11, 0)}}.divide(t)
	f := tree.place(t, 0.5)
	m, err := f.BoardFromPiece(&Piece{Follows: &Follow{Hinge: "b", Share: 1}})
	if err != nil || m != f.BoardFromFlat(tree.flatAt(t, 50, 5)) {
		t.Errorf("%v, %v", m, err)
	}
	for _, p := range []Piece{{On: "none"}, {Follows: &Follow{Hinge: "none"}}} {
		if _, err := f.BoardFromPiece(&p); err == nil {
			t.Errorf("%+v has a place", p)
		}
	}
	if m, err := f.BoardFromPiece(&Piece{}); err != nil || m != mgl64.Ident4() {
		t.Errorf("a piece that stands by itself moves: %v, %v", m, err)
	}
}
