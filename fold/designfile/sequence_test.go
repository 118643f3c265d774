package designfile

import (
	"slices"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/finding"
)

// checkFullMotion checks the sequence and the targets of the full example. The hinge neck is written toward the bottom.
func checkFullMotion(d *fold.Design, equal func(what string, got, want any), at func(line, column int) finding.Place) {
	bend := func(hinge string, angle float64) fold.HingeAngle { return fold.HingeAngle{Hinge: hinge, Angle: angle} }
	equal("sequence", d.Sequence, []fold.Step{
		{Bend: []fold.HingeAngle{bend("neck", -95), bend("hip", -45)}, Place: at(92, 5)},
		{Name: "release", Bend: []fold.HingeAngle{bend("neck", -90)}, Place: at(93, 5)},
		{Bend: []fold.HingeAngle{bend("hip", -50)}, Place: at(94, 5)},
		{Bend: []fold.HingeAngle{bend("hip", -45)}, Place: at(95, 5)},
		{Add: []string{"cell"}, Place: at(96, 5)},
		{Piece: "cell", Path: []fold.Offset{{Move: mgl64.Vec3{0, 0, 25.4}, Turn: [3]float64{0, 0, 90}}, {}}, Place: at(97, 5)},
		{Board: true, Into: "tray", Path: []fold.Offset{{Move: mgl64.Vec3{0, 0, 30}}, {Move: mgl64.Vec3{0, 5, 3}, Turn: [3]float64{180, 0, 0}}, {}}, Place: at(98, 5)},
		{Remove: []string{"cell"}, Place: at(99, 5)},
	})
	number := finding.Number
	equal("targets", d.Targets, []fold.Target{
		{Name: "plug", On: "C4", Point: mgl64.Vec3{0, 0, 3.5}, At: mgl64.Vec3{20, 12, 5.2}, Facing: mgl64.Vec3{0, 0, -1}, Axis: mgl64.Vec3{0, 0, 2},
			Within: fold.Within{Across: number(0.2), Along: &[2]float64{-0.1, 0.3}, Tilt: number(1)}, Place: at(101, 3)},
		{Name: "edge", On: "section:wing", Point: mgl64.Vec3{80, 12, 0}, At: mgl64.Vec3{25.4, 0, 0}, Facing: mgl64.Vec3{1, 0, 0},
			TurnAxis: &[2]mgl64.Vec3{{0, 1, 0}, {0, 0, 1}}, Within: fold.Within{Along: &[2]float64{-0.127, 0.127}, Turn: number(2)}, Place: at(102, 3)},
	})
}

// checkMotion checks what Parse promises of sequence and targets: every name in them stands for something in the design.
func checkMotion(t testing.TB, name string, d *fold.Design) {
	t.Helper()
	isPiece := func(s string) bool {
		return slices.ContainsFunc(d.Enclosure, func(p fold.Piece) bool { return p.Name == s })
	}
	for _, s := range d.Sequence {
		verbs := 0
		for _, does := range []bool{len(s.Bend) > 0, s.Board, s.Piece != "", len(s.Add) > 0, len(s.Remove) > 0} {
			if does {
				verbs++
			}
		}
		moves := s.Board || s.Piece != ""
		if verbs != 1 || moves != (len(s.Path) >= 2) || s.Into != "" && !s.Board || s.Place.Line < 1 {
			t.Errorf("%s: step %+v", name, s)
		}
		for _, b := range s.Bend {
			if !hasHinge(d, b.Hinge) {
				t.Errorf("%s: step %+v", name, s)
			}
		}
		for _, p := range append(slices.Concat(s.Add, s.Remove), s.Piece, s.Into) {
			if p != "" && !isPiece(p) {
				t.Errorf("%s: step %+v", name, s)
			}
		}
	}
	for _, g := range d.Targets {
		w := g.Within
		bounded := w.Across != nil || w.Along != nil || w.Tilt != nil || w.Turn != nil
		if !bounded || g.Facing == (mgl64.Vec3{}) || w.Turn != nil && g.TurnAxis == nil || w.Along != nil && w.Along[0] > w.Along[1] {
			t.Errorf("%s: target %+v", name, g)
		}
	}
}

const moving = `sections: {main: {stackup: film, area: {rect: [0, 0, 9, 10]}}}
hinges: {hip: {line: [[20, -1], [20, 11]], angle: 90, radius: 1}, bar: {line: [[30, -1], [30, 11]], angle: 9, toward: bottom, radius: 1}}
enclosure: {jig: {box: [[0, 0, 0], [1, 1, 1]]}, tray: {box: [[0, 0, -2], [40, 10, -1]]}, board: {box: [[0, 0, 0], [1, 1, 1]]}}
sequence:
  - {bend: [hip, bar]}
`

// Sequences that say something sensible: no problem.
func TestGoodSequences(t *testing.T) {
	for _, steps := range []string{
		"",
		"  - {bend: hip, to: 93}\n  - {bend: [hip]}\n",
		"  - {add: jig}\n  - {remove: jig}\n  - {add: [jig, tray]}\n",
		"  - {remove: jig}\n  - {add: jig}\n",
		"  - {move: jig, path: [{move: [0, 0, 9]}, {}]}\n  - {move: jig, path: [{}, {move: [0, 0, 9]}]}\n  - {remove: jig}\n",
		"  - {move: board, into: tray, path: [{move: [0, 0, 9]}, {move: [0, 0, 2]}]}\n  - {bend: bar, to: 5}\n  - {bend: bar}\n  - {move: board, into: tray, path: [{move: [0, 0, 2]}, {}]}\n",
		"  - {move: 'enclosure:board', path: [{turn: [0, 0, 720]}, {turn: [0, 0, 0]}]}\n",
		"  - {add: tray}\n  - {move: board, into: tray, path: [{turn: [0, 180, 0]}, {turn: [0, 0, 0]}]}\n",
	} {
		d := parse(t, board(moving+steps))
		if s := d.Sequence[0]; !slices.Equal(s.Bend, []fold.HingeAngle{{Hinge: "hip", Angle: 90}, {Hinge: "bar", Angle: -9}}) {
			t.Errorf("%+v", s)
		}
		for _, s := range d.Sequence {
			if s.Piece == "board" && s.Board {
				t.Errorf("%+v is both the board and a piece", s)
			}
		}
	}
}

// A problem comes once, at its step, with a way out; one step that cannot be read leaves the order of the others unjudged.
func TestSequenceProblems(t *testing.T) {
	for steps, want := range map[string]string{
		"  - {bend: bar, to: 12}\n":                                        "10:5 sequence: step 2 leaves the hinge bar at 12 degrees, its own angle is 9 / add a later step {bend: [bar]}",
		"  - {add: jig}\n  - {move: jig, path: [{move: [0, 0, 9]}, {}]}\n": "",
		"  - {move: jig, path: [{move: [0, 0, 9]}, {}]}\n  - {add: jig}\n": "11:5 sequence: step 3 adds jig, which is there already / leave it out here",
		"  - {add: jig}\n  - {move: jig, path: [{}, {move: [0, 0, 9]}]}\n": "11:5 sequence: step 3 leaves jig at {move: [0, 0, 9]}, not at rest / end its last path with {move: [0, 0, 0]}",
		"  - {bend: [hip], to: {hip: 80}}\n  - {bend: [hop]}\n":            "11:13 sequence item 3.bend item 1 names the hinge hop, which does not exist / did you mean hip?",
		"  - {move: tary, path: [{move: [0, 0, 9]}, {}]}\n":                "10:12 sequence item 2.move names the enclosure piece tary, which does not exist / did you mean tray?",
		"  - {move: boadr, path: [{move: [0, 0, 9]}, {}]}\n":               "10:12 sequence item 2.move names the enclosure piece boadr, which does not exist / did you mean board?",
		"  - {bend: [hip], to: {hip: 80}}\n  - {add: jig, remove: tray}\n": "11:16 sequence item 3: add and remove exclude each other / keep one of them",
	} {
		_, _, problems := Parse("x.yaml", []byte(board(moving+steps)), Options{})
		if got := tell(problems); want == "" && len(problems) > 0 || want != "" && (len(problems) != 1 || !strings.HasPrefix(strings.TrimSpace(got), want)) {
			t.Errorf("%s wants %q, got %s", steps, want, got)
		}
	}
}

// What a schema can judge of steps and targets, it judges like the reader.
func TestSchemaAgreesOnMotion(t *testing.T) {
	s := compiled(t)
	one := func(step string) string { return "sequence: [{" + step + "}]" }
	goal := func(keys string) string {
		return "targets: {a: {on: m, point: [0, 0, 0], at: [0, 0, 0], facing: [1, 0, 0], " + keys + "}}"
	}
	for src, good := range map[string]bool{
		"sequence: []":                        false,
		"sequence: {}":                        false,
		one("bend: a"):                        true,
		one("bend: [a, b]"):                   true,
		one("bend: []"):                       false,
		one("bend: [a], to: 5 deg, name: 5"):  true,
		one("bend: [a], to: {a: 5, b: -360}"): true,
		one("bend: [a], to: [5]"):             false,
		one("bend: [a], to: 361"):             false,
		one("bend: [a], name: ' '"):           false,
		one("to: 5"):                          false,
		one("name: x"):                        false,
		one("bend: [a], add: b"):              false,
		one("bend: [a], path: [{}, {}]"):      false,
		one("move: board, path: [{}, {}]"):    true,
		one("move: 'enclosure:a', path: [{move: [0, 1 in, 0], turn: [0, 0, 90 deg]}, {}]"): true,
		one("move: board, path: [{}]"):                     false,
		one("move: board"):                                 false,
		one("move: board, into: a, path: [{}, {}]"):        true,
		one("move: a, into: a, path: [{}, {}]"):            false,
		one("move: board, path: [{move: 5}, {}]"):          false,
		one("move: board, path: [{shift: [0, 0, 1]}, {}]"): false,
		one("add: a"):                                                true,
		one("remove: [a, 'enclosure:b']"):                            true,
		one("add: 'section:a'"):                                      false,
		one("add: []"):                                               false,
		goal("within: {tilt: 1}"):                                    true,
		goal("within: {across: 1 mil, along: 0.1}"):                  true,
		goal("within: {along: [-1 mm, 2]}"):                          true,
		goal("within: {along: -1}"):                                  false,
		goal("within: {along: [1, 2, 3]}"):                           false,
		goal("within: {across: -1}"):                                 false,
		goal("within: {tilt: 200}"):                                  false,
		goal("within: {turn: 1}"):                                    false,
		goal("within: {turn: 1}, turn-axis: [[1, 0, 0], [0, 1, 0]]"): true,
		goal("within: {tilt: 1}, turn-axis: [[1, 0, 0], [0, 1, 0]]"): true,
		goal("within: {tilt: 1}, turn-axis: [1, 0, 0]"):              false,
		goal("within: {tilt: 1}, axis: [1, 0]"):                      false,
		goal("within: {tilt: 1}, axis: [1 mm, 0, 0]"):                false,
		goal("within: {}"):                                           false,
		goal("within: 1"):                                            false,
		goal("axis: [1, 0, 0]"):                                      false,
		"targets: {}":                                                true,
		"targets: []":                                                false,
		"targets: {a: {on: 'bend:a', point: [0, 0, 0], at: [0, 0, 0], facing: [1, 0, 0], within: {tilt: 1}}}": false,
		"targets: {a: {on: m, at: [0, 0, 0], facing: [1, 0, 0], within: {tilt: 1}}}":                          false,
	} {
		root := loaded(t, []byte("foldfit: 1\noutline: {rect: [0, 0, 1, 1]}\nstackups: {f: {thickness: 1}}\n"+src))
		err := s.Validate(plainValue(root))
		if r := readForm(root); (len(r.problems) == 0) != good || (err == nil) != good {
			t.Errorf("%s: good %v, the schema says %v, the reader %s", src, good, err, tell(r.problems))
		}
	}
}
