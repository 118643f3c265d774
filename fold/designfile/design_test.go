package designfile

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

// parse reads a design that must have no problems.
func parse(t testing.TB, src string) *fold.Design {
	t.Helper()
	d, _, problems := Parse("boards/x.yaml", []byte(src), Options{})
	if len(problems) > 0 {
		t.Fatalf("%s\nhas problems %s", src, tell(problems))
	}
	checkClosed(t, "x.yaml", d)
	return d
}

// board returns a small design with more lines at its end.
func board(more string) string {
	return "foldfit: 1\noutline: {rect: [0, 0, 40, 10]}\nstackups: {film: {thickness: 0.2}, hard: {thickness: 1, rigid: true}}\nflex: film\n" + more
}

func TestEveryKey(t *testing.T) {
	d, notes, problems := Parse("boards/full.yaml", read(t, "good/full.yaml"), Options{})
	if len(problems) > 0 || len(notes) > 0 {
		t.Fatalf("notes %v, problems %s", notes, tell(problems))
	}
	h := func(v float64) *float64 { return &v }
	at := func(line, column int) finding.Place {
		return finding.Place{File: "boards/full.yaml", Line: line, Column: column}
	}
	equal := func(what string, got, want any) {
		t.Helper()
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s:\n got %+v\nwant %+v", what, got, want)
		}
	}
	equal("title", d.Title, fold.Title{Name: "Door sensor", Number: "4711", Revision: "C", Company: "Our workshop", Drawn: "R. Maker", Date: "2026-11-25"})
	equal("name", d.Name, "Door sensor")
	equal("datum", d.Datum, flat.Pt{X: 1, Y: 2})
	equal("flex", d.Flex, "arm")
	equal("base", d.Base, fold.Base{Section: "main"})
	equal("place", d.Place, fold.Placement{Datum: "bottom", Move: mgl64.Vec3{0, 0, 3}, Turn: [3]float64{0, 0, 90}})
	equal("loop", d.Loop, fold.LoopLimit{Gap: 0.1, Angle: 0.5})
	equal("hinges", d.Hinges, []fold.Hinge{
		{Name: "neck", Line: [2]flat.Pt{{X: 36, Y: 5}, {X: 36, Y: 19}}, Angle: -90, Written: -1, Radius: 1.5, Use: "dynamic", Cycles: 100000,
			Between: &[2]float64{0, 88}, Formed: "bench", TolAngle: 5, TolLine: 0.5, Place: at(49, 3)},
		{Name: "hip", Line: [2]flat.Pt{{X: 44, Y: 5}, {X: 44, Y: 19}}, Tangent: true, Into: flat.Pt{X: 43, Y: 12}, Angle: -45, Written: 1, Radius: 1.524, Place: at(51, 3)},
	})
	equal("components", d.Components, []fold.Component{
		{Name: "U1", At: flat.Pt{X: 15, Y: 12}, Size: &[2]float64{7, 7}, Height: h(0.9), Turn: 45, Place: at(59, 3)},
		{Name: "U2", At: flat.Pt{X: 22, Y: 18}, Size: &[2]float64{3, 3}, Place: at(60, 3)},
		{Name: "U3", At: flat.Pt{X: 22, Y: 20}, Size: &[2]float64{3, 3}, Place: at(61, 3)},
		{Name: "C4", Side: fold.Bottom, At: flat.Pt{X: 60, Y: 6}, Diameter: 5, Height: h(3.5), Standoff: 0.1, Mass: 0.4, Place: at(62, 3)},
		{Name: "J1", At: flat.Pt{X: 81, Y: 12}, On: "wing", Boxes: [][6]float64{{-2, -4, 0, 2, 4, 2}, {1, -3, 0, 3, 3, 1.2}}, Below: 0.8, Place: at(63, 3)},
	})
	equal("enclosure", d.Enclosure, []fold.Piece{
		{Name: "tray", Mesh: "shapes/tray.stl", Units: "in", Chord: 0.05, Move: mgl64.Vec3{0, 0, -1}, Turn: [3]float64{90, 0, 0}, Role: "housing", Place: at(65, 3), MeshPlace: at(65, 16)},
		{Name: "cell", Box: &[2]mgl64.Vec3{{2, 2, 1.5}, {26, 20, 2.2}}, Role: "cell", Grows: 0.3, Place: at(66, 3)},
		{Name: "probe", Box: &[2]mgl64.Vec3{{60, 2, 2}, {62, 4, 5}}, On: "wing", Place: at(67, 3)},
		{Name: "lid", Box: &[2]mgl64.Vec3{{44, 0, 2}, {60, 24, 3}}, Follows: &fold.Follow{Hinge: "neck", Share: 1}, Place: at(68, 3)},
		{Name: "link", Box: &[2]mgl64.Vec3{{35, 0, 2}, {37, 24, 3}}, Follows: &fold.Follow{Hinge: "hip", Share: 0.5}, Place: at(69, 3)},
	})
	equal("clearance", d.Clearance, fold.Clearance{Board: 0.2, Components: 0.3, Enclosure: 0.5, Pairs: []fold.Pair{
		{Between: [2]string{"cell", "*"}, Gap: 0.2, Place: at(80, 7)},
		{Between: [2]string{"component:U*", "flex:main.2"}, Gap: -0.1, Because: "foam gives way", Place: at(81, 7)},
		{Between: [2]string{"neck.2", "flat-3"}, Because: "meant to touch", Place: at(82, 7)},
	}})
	equal("where", d.Where, fold.Places{File: "boards/full.yaml", Outline: at(5, 1), Flex: at(42, 1), Base: at(46, 1), Place: at(47, 1), Hinges: at(48, 1), Loop: at(83, 1), Sequence: at(91, 1),
		Cutouts: []finding.Place{at(19, 5), at(20, 5), at(21, 5)}})
	checkFullChecks(t, d, equal, at)
	checkFullMotion(d, equal, at)
	checkFullShapes(t, d)
}

// checkFullChecks checks what the full example asks the checks for: postures, seats, limits and concessions.
func checkFullChecks(t *testing.T, d *fold.Design, equal func(what string, got, want any), at func(line, column int) finding.Place) {
	t.Helper()
	down := func(v float64) *float64 { return &v }
	equal("postures", d.Postures, []fold.Posture{
		{Name: "open", Angles: []fold.HingeAngle{{Hinge: "neck", Angle: -30}, {Hinge: "hip", Angle: -10}}, Place: at(53, 3)},
		{Name: "test", Angles: []fold.HingeAngle{{Hinge: "hip", Angle: 0}}, Place: at(54, 3)},
		{Name: "as-folded", Place: at(55, 3)},
	})
	seats := slices.Clone(d.Seats)
	for i, area := range []float64{math.Pi * 9, 64, 8, 32} {
		if got := seats[i].Area.Area(); math.Abs(got-area) > 1e-12*area {
			t.Errorf("seat %s: area %g, wants %g", seats[i].Name, got, area)
		}
		seats[i].Area = nil
	}
	equal("seats", seats, []fold.Seat{
		{Name: "boss-1", On: "main", Side: fold.Bottom, Against: "tray", Place: at(71, 3)},
		{Name: "tape", On: "stiffener:pad", Side: fold.Bottom, Against: "enclosure:tray", Bond: 0.0508, Place: at(72, 3)},
		{Name: "plug", On: "C4", Side: fold.Bottom, Against: "cell", Squeeze: 0.4, Place: at(73, 3)},
		{Name: "arm", On: "flex:flat-2", Against: "lid", Place: at(74, 3)},
	})
	equal("limits", d.Limits, fold.Limits{Profile: "strict", File: "fab/ours.yaml", Place: at(84, 33), Overrides: []fold.LimitValue{
		{Rule: "bend-ratio", Value: 9, Place: at(84, 48)}, {Rule: "inside-corner", Value: 0.508, Place: at(84, 63)}}})
	equal("concessions", d.Concessions, []fold.Concession{
		{Rule: "bend-ratio", On: []string{"neck", "hinge:h*"}, DownTo: down(5.5), Because: "formed once over a rod", By: "fabricator", Place: at(86, 5)},
		{Rule: "clearance", On: []string{"component:U1", "cell"}, DownTo: down(0.0762), Because: "foam between", By: "R. Maker", Place: at(87, 5)},
		{Rule: "bend-free-end", On: []string{"bend:hip.2"}, DownTo: down(30), Because: "the end is glued", By: "R. Maker", Place: at(88, 5)},
		{Rule: "units-doubtful", On: []string{"stackup:plate", "sheet"}, Because: "a heavy backplane", By: "4711", Place: at(89, 5)},
		{Rule: "inside-corner", Because: "punched", By: "fabricator", Place: at(90, 5)},
	})
}

// checkFullShapes checks the areas of the full example against closed formulas.
func checkFullShapes(t *testing.T, d *fold.Design) {
	t.Helper()
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9*math.Abs(want) {
			t.Errorf("%s: %.12g, wants %.12g", what, got, want)
		}
	}
	near("round cutout", d.Cutouts[0].Area(), math.Pi*1.6*1.6)
	near("rounded slot", d.Cutouts[1].Area(), 8-(4-math.Pi)*0.25)
	near("triangle", d.Cutouts[2].Area(), 2)
	near("section", d.Sections[1].Area.Area(), 30*24)
	near("stiffener", d.Stiffeners[0].Area.Area(), math.Pi*9)
	// the arc of chord 28 and rise 1 has radius (14^2+1)/2; its segment adds R^2/2 (a - sin a)
	r := (14.0*14 + 1) / 2
	a := 2 * math.Asin(14/r)
	near("outline", d.Outline.Area(), 28*24+22*12+30*24-(4-math.Pi)+r*r/2*(a-math.Sin(a)))
}

func TestDefaults(t *testing.T) {
	d := parse(t, board("hinges: {a: {line: [[20, -1], [20, 11]], angle: 90, radius: 1}}\n"))
	if d.Name != "x" || d.Title.Name != "x" || d.Units != fold.MM || d.Loop != fold.DefaultLoop || d.Clearance.Pairs != nil || d.Base != (fold.Base{}) {
		t.Errorf("%+v", d)
	}
	if h := d.Hinges[0]; h.Written != 1 || h.Angle != 90 || h.Between != nil {
		t.Errorf("%+v", h)
	}
	if d := parse(t, board("base: {at: [1, 2]}\nloop: {angle: 3}\n")); *d.Base.Point != (flat.Pt{X: 1, Y: 2}) || d.Loop != (fold.LoopLimit{Gap: 0.2, Angle: 3}) {
		t.Errorf("%+v", d)
	}
	for file, want := range map[string]string{"a/b.c.yaml": "b.c", "-": "design", "": "design", `c:\boards\lamp.yml`: "lamp", "lamp": "lamp", ".yaml": "design"} {
		if d, _, _ := Parse(file, []byte(board("")), Options{}); d.Name != want {
			t.Errorf("%q is named %q, wants %q", file, d.Name, want)
		}
	}
}

// toward: bottom with an angle says the same as the negative angle alone.
func TestTowardIsASign(t *testing.T) {
	for line, want := range map[string][2]float64{
		"angle: 30":                   {30, 1},
		"angle: 30, toward: top":      {30, 1},
		"angle: 30, toward: bottom":   {-30, -1},
		"angle: -30":                  {-30, 1},
		"angle: 0, toward: bottom":    {0, -1},
		"angle: -360 deg":             {-360, 1},
		"angle: 360, toward: bottom":  {-360, -1},
		`"angle": "45 deg"`:           {45, 1},
		"angle: -0.0, toward: bottom": {0, -1},
	} {
		h := parse(t, board("hinges: {a: {line: [[20, -1], [20, 11]], radius: 1, "+line+"}}\n")).Hinges[0]
		if h.Angle != want[0] || h.Written != want[1] || math.Signbit(h.Angle) != (want[0] < 0) {
			t.Errorf("%s: angle %g written %g, wants %v", line, h.Angle, h.Written, want)
		}
	}
}

// The same board in mm, mil and inches is the same board, bit for bit.
func TestUnitsReachEveryLength(t *testing.T) {
	form := `foldfit: 1
units: %[1]s
outline: [[0, 0], [%[2]s, 0, %[3]s], [%[2]s, %[2]s], {arc: [0, %[2]s], via: [%[3]s, %[4]s]}]
cutouts: [{circle: [%[3]s, %[3]s], diameter: %[3]s}]
datum: [%[2]s, 0]
stackups: {film: {layers: [{material: polyimide, thickness: %[3]s}]}, hard: {thickness: %[3]s, rigid: true}, book: {plies: [film, film], gap: %[3]s},
  two: {layers: [{material: polyimide, thickness: %[3]s}, {material: polyimide, thickness: %[2]s}]}, held: {rigid: true, layers: [{of: two, keep: [1]}], lip: %[3]s}}
flex: film
sections: {a: {stackup: hard, area: {rect: [0, 0, %[3]s, %[3]s]}}}
place: {move: [%[3]s, 0, 0], turn: [0, 0, 5]}
hinges: {h: {tangent: [[%[3]s, 0], [%[3]s, %[2]s]], into: [0, 0], angle: 90, radius: %[3]s, tolerance: {line: %[3]s, angle: 1}}}
stiffeners: {s: {thickness: %[3]s, adhesive: %[3]s, area: {circle: [0, 0], diameter: %[3]s}}}
components: {C: {at: [%[3]s, 0], size: [%[2]s, %[2]s, %[3]s], standoff: %[3]s, below: %[3]s, turn: 45, mass: 3},
  D: {at: [0, 0], boxes: [[0, 0, 0, %[2]s, %[2]s, %[3]s]]}, E: {at: [0, 0], diameter: %[3]s, height: %[2]s}}
enclosure: {m: {mesh: m.stl, chord: %[3]s, move: [%[2]s, 0, 0]}, b: {box: [[0, 0, 0], [%[2]s, %[2]s, %[3]s]], on: a, grows: %[3]s}, b2: {box: [[0, 0, 0], [%[2]s, %[2]s, %[3]s]]}}
seats: {t: {on: C, against: m, area: {circle: [%[3]s, 0], diameter: %[3]s}, bond: %[3]s, squeeze: %[3]s}}
limits: {bend-ratio: 9, inside-corner: %[3]s}
concessions: [{rule: bend-ratio, down-to: 8, because: a, by: b}, {rule: clearance, down-to: %[3]s, because: a, by: b},
  {rule: bend-free-end, down-to: 40, because: a, by: b}, {rule: loop-open, down-to: 2 deg, because: a, by: b}]
postures: {p: {h: 45}}
sequence: [{move: b2, path: [{move: [%[3]s, 0, 0]}, {}]}, {bend: h}, {move: board, into: m, path: [{move: [0, 0, %[2]s]}, {}]}]
targets: {g: {on: C, point: [%[3]s, 0, 0], at: [0, %[2]s, 0], facing: [0, 0, 1], within: {across: %[3]s, along: [-%[3]s, %[2]s]}},
  k: {on: a, point: [0, 0, %[3]s], at: [0, 0, 0], facing: [0, 0, 1], within: {along: %[2]s, tilt: 2}}}
clearance: {board: %[3]s, components: %[3]s, enclosure: %[3]s, pairs: [{between: [C, D], gap: %[3]s}]}
loop: {gap: %[3]s, angle: 2}
`
	// 1 in, 1/8 in, 1.125 in
	boards := []string{
		fmt.Sprintf(form, "mm", "25.4", "3.175", "28.575"),
		fmt.Sprintf(form, "mil", "1000", "125", "1125"),
		fmt.Sprintf(form, "in", "1", "0.125", "1.125"),
		fmt.Sprintf(form, "in", "25.4 mm", "3175 um", "28.575 mm"),
		fmt.Sprintf(form, "mm", "1 in", "125 mil", "1.125 in"),
		fmt.Sprintf(form, "mil", "2.54 cm", "0.003175 m", "2.8575e1 mm"),
	}
	var first *fold.Design
	for i, src := range boards {
		d := parse(t, src)
		d.Units, d.Where = "", fold.Places{}
		clearPlaces(d)
		if first == nil {
			first = d
		}
		if !reflect.DeepEqual(d, first) {
			t.Errorf("board %d differs:\n%+v\n%+v", i, d, first)
		}
	}
	if got := *first.Targets[0].Within.Across; got != 3.175 || first.Sequence[0].Path[0].Move[0] != 3.175 || first.Targets[1].Within.Along[0] != -25.4 {
		t.Errorf("%+v, %+v", first.Sequence, first.Targets)
	}
	var bounds []float64
	for _, c := range first.Concessions {
		bounds = append(bounds, *c.DownTo)
	}
	if !slices.Equal(bounds, []float64{8, 3.175, 40, 2}) || first.Limits.Overrides[0].Value != 9 || first.Limits.Overrides[1].Value != 3.175 {
		t.Errorf("bounds %v, limits %+v", bounds, first.Limits)
	}
	if first.Stackups[0].Layers[0].Thickness != 3.175 || first.Components[0].Mass != 3 || first.Place.Turn[2] != 5 {
		t.Errorf("%+v", first)
	}
}

// clearPlaces takes out what differs between files with the same board.
func clearPlaces(d *fold.Design) {
	none := finding.Place{}
	for i := range d.Stackups {
		d.Stackups[i].Place = none
	}
	for i := range d.Sections {
		d.Sections[i].Place = none
	}
	for i := range d.Hinges {
		d.Hinges[i].Place = none
	}
	for i := range d.Stiffeners {
		d.Stiffeners[i].Place = none
	}
	for i := range d.Components {
		d.Components[i].Place = none
	}
	for i := range d.Enclosure {
		d.Enclosure[i].Place = none
	}
	for i := range d.Clearance.Pairs {
		d.Clearance.Pairs[i].Place = none
	}
	for i := range d.Postures {
		d.Postures[i].Place = none
	}
	for i := range d.Seats {
		d.Seats[i].Place = none
	}
	for i := range d.Sequence {
		d.Sequence[i].Place = none
	}
	for i := range d.Targets {
		d.Targets[i].Place = none
	}
	for i := range d.Limits.Overrides {
		d.Limits.Overrides[i].Place = none
	}
	for i := range d.Concessions {
		d.Concessions[i].Place = none
	}
}

// Wrong values of single keys, and what is said about them.
func TestWrongValues(t *testing.T) {
	hinge := func(s string) string { return "hinges: {a: {line: [[20, -1], [20, 11]], " + s + "}}" }
	for _, c := range []struct{ more, what, hint string }{
		{"units: inch", "units wants mm, mil or in, got inch", ""},
		{"title: Lamp", `title wants a map {name: ...}, got the text "Lamp"`, ""},
		{"title: {name: \"a\\e[31m\"}", "title.name wants a text", "leave control characters out"},
		{"datum: [1, 2, 3]", "datum wants [x, y], got a list of 3 numbers", ""},
		{"base: nowhere", "base names the section nowhere, which does not exist", "the design has no section"},
		{"base: 5", "base wants a name, got the number 5", "put it in quotes"},
		{"place: {datum: side}", "place.datum wants top or bottom, got side", ""},
		{"place: {turn: 90}", "place.turn wants [x, y, z], got the number 90", ""},
		{hinge("angle: 90, radius: 1, formed: bnech"), "formed wants fabricator, bench or free, got bnech", "did you mean bench?"},
		{hinge("angle: 90, radius: 1, use: static"), "use wants install or dynamic, got static", ""},
		{hinge("angle: 90, radius: 1, cycles: 0"), "hinges.a.cycles is 0, it must be above 0", ""},
		{hinge("angle: 90, radius: 1, between: [0, 400]"), "hinges.a.between item 2 is 400, it must be from -360 to 360", ""},
		{hinge("angle: 90, radius: 9 um"), "hinges.a.radius is 0.009 mm, it must be at least 0.01 mm", "give the inside radius"},
		{hinge("angle: 90, radius: 1 mm2"), "hinges.a.radius wants a length such as 1.5 or 18 um, got 1 mm2", "did you mean mm?"},
		{hinge("angle: 90, radius: 1, into: [0, 0]"), "hinges.a: into counts only together with tangent", "give tangent"},
		{"hinges: {a: {tangent: [[1, 0], [1, 5]], into: [1, 9], angle: 1, radius: 1}}", "hinges.a.into lies on the tangent line", "side"},
		{"hinges: [{name: a}]", "hinges wants names with what they stand for, {name: {line: ...}}, got a list of 1 item", ""},
		{"stiffeners: {s: {thickness: 1, area: [[0, 0], [1, 1], [2, 2]], material: fr-4}}", "stiffeners.s.material names the material fr-4", "did you mean fr4?"},
		{"components: {a: {at: [0, 0], size: [1]}}", "components.a.size wants [x, y, height], or [x, y] without a known height, got a list of 1 number", ""},
		{"components: {a: {at: [0, 0], boxes: [0, 0, 0, 1, 1, 1]}}", "components.a.boxes item 1 wants [x, y, z, x1, y1, z1], got the number 0", ""},
		{"components: {a: {at: [0, 0], boxes: [[0, 0, 0, 1, 1, 1]], height: 2}}", "components.a: boxes have their own heights", ""},
		{"components: {a: {at: [0, 0], diameter: 5, height: 0}}", "components.a.height is 0, it must be above 0", "write unknown where it is not known"},
		{"components: {a: {at: [0, 0], diameter: 5, height: unkown}}", "components.a.height wants", "did you mean unknown?"},
		{"components: {a: {at: [0, 0]}}", "components.a has none of the keys size, boxes, diameter", ""},
		{"enclosure: {a: {box: [[0, 0, 0], [1, 1, -1]]}}", "enclosure.a.box: in z it ends at -1 mm, not beyond its beginning at 0 mm", "smaller numbers first"},
		{"enclosure: {a: {mesh: ''}}", `enclosure.a.mesh wants the path of a file, got ""`, ""},
		{"clearance: {pairs: [{between: [a], gap: 1}]}", "clearance.pairs item 1.between wants two names [a, b], got a list of 1 item", ""},
		{"clearance: {pairs: [{between: ['*', 'hinge:a'], gap: 1}]}", "wants the name of a body, got hinge:a", "bend:"},
		{"clearance: {pairs: [{between: ['*', '*'], gap: -1 mm}]}", "a gap of -1 mm lets the two touch and needs a reason", "because"},
		{"loop: {gap: 1 deg}", "loop.gap wants a length such as 1.5 or 18 um, got 1 deg", "units here: mm"},
		{"materials: {m: {modulus: 5 mm}}", "materials.m.modulus wants a modulus in GPa such as 2.5, got 5 mm", "units here: GPa, MPa"},
		{"cutouts: {circle: [0, 0], diameter: 2}", "cutouts wants a list, got a map {circle: ...}", ""},
		{"cutouts: [{circle: [0, 0], diameter: 2, corner: 1}]", "cutouts item 1: corner counts only together with rect", ""},
		{"tails: {}", "tails: not supported yet", "leave it out"},
		{"postures: [open]", "postures wants names with what they stand for, {name: ...}, got a list of 1 item", ""},
		{"postures: {open: 90}", "postures.open wants hinges with their angles, {neck: 90}, got the number 90", ""},
		{"postures: {folded: {}}", "postures: the name folded is taken", "folded and flat are there already"},
		{hinge("angle: 90, radius: 1") + "\npostures: {open: {a: 400}}", "postures.open.a is 400, it must be from -360 to 360", ""},
		{hinge("angle: 90, radius: 1") + "\npostures: {open: {b: 40}}", "postures.open names the hinge b, which does not exist", "known here: a"},
		{hinge("angle: 0, radius: 1") + "\npostures: {open: {a: 40}}", "postures.open.a is 40, but the hinge a has angle 0 and makes no bend", "leave it out"},
		{"enclosure: {a: {box: [[0, 0, 0], [1, 1, 1]], on: main}}", "enclosure.a.on names the section main, which does not exist", "the design has no section"},
		{"enclosure: {a: {box: [[0, 0, 0], [1, 1, 1]], follows: {hinge: neck, share: 2}}}", "enclosure.a.follows.share is 2, it must be from 0 to 1", ""},
		{"enclosure: {a: {box: [[0, 0, 0], [1, 1, 1]], follows: neck}}", `enclosure.a.follows wants a map {hinge: ...}, got the text "neck"`, ""},
		{"seats: {a: {on: main, area: {rect: [0, 0, 1, 1]}}}", "seats.a has no against", "enclosure piece"},
		{"seats: {a: {on: main, against: b}}", "seats.a has no area", "contact"},
		{"seats: {a: {on: 'main*', against: b, side: top}}", "seats.a.on wants the name of a section, stiffener or component, got main*", ""},
		{"seats: {a: {on: main, against: b, side: top, bond: -1 um}}", "seats.a.bond is -1 um, it must be 0 or more", ""},
		{"limits: strict", `limits wants a map {profile: ...}, got the text "strict"`, ""},
		{"limits: {profile: srict}", "limits.profile wants common or strict, got srict", "did you mean strict?"},
		{"limits: {bend-rato: 9}", "limits: the key bend-rato is not known here", "did you mean bend-ratio?"},
		{"limits: {bend-on-rigid: 9}", "limits: the key bend-on-rigid is not known here", "keys here: profile, file, bend-ratio, bend-strain, inside-corner"},
		{"limits: {bend-ratio: 9 mm}", "limits.bend-ratio wants a ratio such as 10, got 9 mm", "write the number alone"},
		{"limits: {file: ../ours.yaml}", "limits.file: the path ../ours.yaml leads out of the design's folder", "put the file beside the design file"},
		{"concessions: {rule: bend-ratio}", "concessions wants a list of {rule: bend-ratio, on: [neck], down-to: 8, because: ..., by: ...}, got a map {rule: ...}", ""},
		{"concessions: [{rule: bend-ratio, on: neck}]", `concessions item 1.on wants a list of names such as [neck], got the text "neck"`, "write [neck]"},
		{"concessions: [{rule: bend-ratio}]", "concessions item 1 has no because", "why it is accepted"},
		{"concessions: [{rule: bend-ratio}]", "concessions item 1 has no by", "who accepted it"},
		{"concessions: [{rule: bend-ratio, because: ' ', by: me}]", `because wants a few words, got " "`, "say it in a word or two"},
		{"concessions: [{rule: clearence}]", "concessions item 1.rule names the rule clearence, which does not exist", "did you mean clearance?"},
		{"concessions: [{rule: bend-overlap}]", "concessions item 1.rule is bend-overlap: no concession is possible", "way out"},
		{"concessions: [{rule: bend-ratio, down-to: 8 mm}]", "concessions item 1: down-to of bend-ratio wants a ratio, which has no unit, got 8 mm", "as the finding shows"},
		{"concessions: [{rule: contact, down-to: 8 deg}]", "concessions item 1: down-to of contact wants a length, got 8 deg", ""},
		{"concessions: [{rule: loop-open, down-to: 8 mm2}]", "concessions item 1: down-to of loop-open wants a length or an angle, got 8 mm2", ""},
	} {
		_, _, problems := Parse("x.yaml", []byte(board(c.more+"\n")), Options{})
		ok := slices.ContainsFunc(problems, func(p finding.Problem) bool {
			return strings.Contains(p.What, c.what) && strings.Contains(p.Hint, c.hint)
		})
		if !ok {
			t.Errorf("%s\nwants %s / %s, got %s", c.more, c.what, c.hint, tell(problems))
		}
	}
}

func TestMeshPaths(t *testing.T) {
	for path, inside := range map[string]bool{
		"a.stl": true, "./a.stl": true, "b/a.stl": true, "b/../a.stl": true, "a..b.stl": true, "~a.stl": true, "b//a.stl": true,
		"../a.stl": false, "b/../../a.stl": false, "/a.stl": false, "C:a.stl": false, "c:/a.stl": false, `b\a.stl`: false, `..\a.stl`: false,
		"..": false, ".": false, "b/..": false, "//host/a.stl": false,
	} {
		src := []byte(board("enclosure: {a: {mesh: '" + path + "'}}\n"))
		d, _, problems := Parse("x.yaml", src, Options{})
		if (len(problems) == 0) != inside || len(d.Enclosure) == 1 != inside {
			t.Errorf("%s: inside %v, got %s", path, inside, tell(problems))
		}
		if d, _, problems := Parse("x.yaml", src, Options{AllowOutside: true}); len(problems) > 0 || d.Enclosure[0].Mesh != path {
			t.Errorf("%s, outside allowed: %s", path, tell(problems))
		}
	}
}

func TestIncomplete(t *testing.T) {
	for more, want := range map[string]bool{
		"":                                false,
		"place: 5":                        false,
		"components: {a: {}}":             false,
		"hinges: {a: {}}":                 false,
		"enclosure: {a: {}}":              false,
		"stiffeners: {a: {}}":             false,
		"colour: red":                     false,
		"cutouts: [5]":                    true,
		"cutouts: [{rect: [0, 0, 0, 0]}]": true,
		"units: ft":                       true,
		"materials: {a: {}}":              true,
		"sections: {a: {}}":               true,
		"sections: {a: {stackup: x, area: {rect: [0, 0, 1, 1]}}}":                true,
		"sections: {a: {stackup: film, area: {rect: [0, 0, 1, 1], corner: 3}}}":  true,
		"sections: {a: {stackup: film, area: [[0, 0], [1, 1], [1, 0], [0, 1]]}}": true,
	} {
		d, _, problems := Parse("x.yaml", []byte(board(more+"\n")), Options{})
		if d.Incomplete != want || (len(problems) == 0) != (more == "") {
			t.Errorf("%s: incomplete %v, wants %v: %s", more, d.Incomplete, want, tell(problems))
		}
	}
	for _, src := range []string{
		"foldfit: 1\nstackups: {f: {thickness: 1}}\nflex: f\n",
		"foldfit: 1\noutline: {rect: [0, 0, 1, 1]}\nflex: f\n",
		"foldfit: 1\noutline: {rect: [0, 0, 1, 1]}\nstackups: {f: {thickness: 1, rigid: true}}\nflex: f\n",
		"foldfit: 1\noutline: {rect: [0, 0, 1, 1]}\nstackups: {f: {thickness: -1}}\nflex: f\n",
		"foldfit: 1\noutline: {rect: [0, 0, 1, 1]}\nstackups: {f: {thickness: 1}}\nflex: g\n",
		"5", "", "a: [",
	} {
		if d, _, problems := Parse("x.yaml", []byte(src), Options{}); !d.Incomplete || len(problems) == 0 {
			t.Errorf("%q is not incomplete: %s", src, tell(problems))
		}
	}
}
