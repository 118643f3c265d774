package fold

import (
	"slices"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/finding"
)

// A design that was not read from a file is judged as well, and nothing in it can make a program fail.
func TestSequencesMadeByHand(t *testing.T) {
	tree := lamp(t)
	for _, c := range []struct {
		step Step
		want string
	}{
		{Step{}, "does 0 things, not one"},
		{Step{Add: []string{"jig"}, Bend: []HingeAngle{{"neck", 90}}}, "does 2 things, not one"},
		{Step{Bend: []HingeAngle{{"nek", 90}}}, "bends the hinge nek, which does not exist"},
		{Step{Add: []string{"jog"}}, "names the enclosure piece jog, which does not exist"},
		{Step{Piece: "jog", Path: []Offset{{}, {Move: mgl64.Vec3{1, 0, 0}}, {}}}, "names the enclosure piece jog, which does not exist"},
		{Step{Board: true}, "has a path of 0 placements"},
		{Step{Piece: "lid", Into: "tray", Path: []Offset{{}, {Move: mgl64.Vec3{1, 0, 0}}, {}}}, "has into without moving the board"},
		{Step{Board: true, Into: "clip", Path: []Offset{{}, {Move: mgl64.Vec3{1, 0, 0}}, {}}}, "moves the board into clip, which rides on wing"},
		{Step{Piece: "link", Path: []Offset{{}, {Move: mgl64.Vec3{1, 0, 0}}, {}}}, "moves link, which follows the hinge neck"},
	} {
		d := *tree.Design
		d.Sequence = append(slices.Clone(d.Sequence), c.step)
		for _, complete := range []bool{true, false} {
			ps := d.SequenceProblems(complete)
			if !slices.ContainsFunc(ps, func(p finding.Problem) bool { return strings.Contains(p.What, c.want) && p.Hint != "" }) {
				t.Errorf("%+v: wants %q, got %v", c.step, c.want, ps)
			}
		}
		copied := *tree
		copied.Design = &d
		if list, ps := copied.Programs(); list != nil || len(ps) == 0 {
			t.Errorf("%+v makes a program", c.step)
		}
	}
}

// What each step does to what the ones before have left; every problem stands at its step.
func TestOrderOfSteps(t *testing.T) {
	tree := lamp(t)
	up := func(z float64) Offset { return Offset{Move: mgl64.Vec3{0, 0, z}} }
	bend := Step{Bend: []HingeAngle{{"neck", 90}, {"tail", -60}}}
	for _, c := range []struct {
		steps []Step
		want  []string // "STEP WHAT", in order
	}{
		{[]Step{bend}, nil},
		{[]Step{bend, {Add: []string{"jig"}}, {Remove: []string{"jig"}}, {Add: []string{"jig"}}}, nil},
		{[]Step{bend, {Remove: []string{"jig"}}, {Add: []string{"jig"}}}, nil},
		{[]Step{bend, {Piece: "jig", Path: []Offset{{}, up(9)}}, {Remove: []string{"jig"}}}, nil},
		{[]Step{bend, {Board: true, Into: "tray", Path: []Offset{up(9), up(5)}}, {Board: true, Into: "tray", Path: []Offset{up(5), {}}}}, nil},
		{[]Step{bend, {Add: []string{"jig"}}, {Add: []string{"jig"}}}, []string{"3 adds jig, which is there already"}},
		{[]Step{bend, {Add: []string{"jig", "jig"}}}, []string{"2 adds jig, which is there already"}},
		{[]Step{bend, {Remove: []string{"jig"}}, {Remove: []string{"jig"}}}, []string{"3 removes jig, which is not there"}},
		{[]Step{bend, {Remove: []string{"lid"}}, {Piece: "lid", Path: []Offset{up(9), {}}}}, []string{"3 moves lid, which is not there"}},
		{[]Step{bend, {Piece: "lid", Path: []Offset{up(9), {}}}, {Piece: "lid", Path: []Offset{up(9), {}}}}, []string{"3 moves lid from {move: [0, 0, 9]}, but it stands at {move: [0, 0, 0]}"}},
		{[]Step{bend, {Board: true, Path: []Offset{up(9), {Turn: [3]float64{0, 0, 5}}}}}, []string{"2 leaves the board at {move: [0, 0, 0], turn: [0, 0, 5]}, not at rest"}},
		{[]Step{bend, {Piece: "lid", Path: []Offset{{}, up(9)}}}, []string{"2 leaves lid at {move: [0, 0, 9]}, not at rest"}},
		{[]Step{bend, {Board: true, Path: []Offset{up(9), up(9), {}}}}, []string{"2 stays where it is from placement 1"}},
		{[]Step{bend, {Board: true, Path: []Offset{{Turn: [3]float64{180, 180, 0}}, {}}}}, []string{"2 turns half a turn from placement 1"}},
		{[]Step{bend, {Bend: []HingeAngle{{"tail", -65}}}}, []string{"2 leaves the hinge tail at -65 degrees, its own angle is -60"}},
		{[]Step{{Bend: []HingeAngle{{"neck", 90}}}}, []string{"no step bends the hinge tail"}},
		{[]Step{{Bend: []HingeAngle{{"neck", 95}, {"neck", 90}, {"tail", -60}}}}, []string{"1 bends the hinge neck twice"}},
	} {
		d := *tree.Design
		d.Sequence = slices.Clone(c.steps)
		for i := range d.Sequence {
			d.Sequence[i].Place.Line = i + 1
		}
		ps := d.SequenceProblems(true)
		if len(ps) != len(c.want) {
			t.Errorf("%+v: wants %q, got %v", c.steps, c.want, ps)
			continue
		}
		for i, want := range c.want {
			inStep := int(want[0]-'0') == ps[i].Place.Line || strings.HasPrefix(want, "no step")
			if !strings.Contains(ps[i].What, want) || !inStep || ps[i].Hint == "" {
				t.Errorf("wants %q, got %+v", want, ps[i])
			}
		}
	}
}
