package clash

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/designfile"
	"foldfit/fold/finding"
	"foldfit/mesh"
	"foldfit/mesh/enclosure"
)

// board reads, divides, folds and skins a design.
func board(t testing.TB, src string, chord float64) *mesh.Assembly {
	t.Helper()
	d, _, problems := designfile.Parse("test.yaml", []byte("foldfit: 1\n"+src), designfile.Options{})
	if len(problems) > 0 {
		t.Fatalf("%v", problems)
	}
	tree, problems := fold.Divide(d)
	if len(problems) > 0 {
		t.Fatalf("%v", problems)
	}
	f, err := tree.Place(tree.Angles())
	if err != nil {
		t.Fatal(err)
	}
	a, err := mesh.Skin(f, chord)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// strip is a flex strip 60 x 10, 0.2 thick, hinge line at x = 30.
func strip(angle, radius float64, more string) string {
	return fmt.Sprintf(`outline: [[0, 0], [60, 0], [60, 10], [0, 10]]
stackups: {film: {thickness: 0.2}, plate: {thickness: 1.6, rigid: true}}
flex: film
base: {at: [1, 1]}
hinges: {neck: {line: [[30, -1], [30, 11]], angle: %v, radius: %v}}
`, angle, radius) + more
}

// wall is a closed box in the housing's frame.
func wall(name string, x0, y0, z0, x1, y1, z1 float64) Wall {
	return Wall{Piece: &fold.Piece{Name: name}, Mesh: enclosure.Box(name, vec{x0, y0, z0}, vec{x1, y1, z1}), Closed: true}
}

// away is a wall that nothing comes near.
func away() []Wall { return []Wall{wall("away", 500, 500, 500, 501, 501, 501)} }

// find returns the listed gap of a pair.
func find(r Result, a, b string) *Gap {
	if a > b {
		a, b = b, a
	}
	for i, g := range r.Gaps {
		if g.Between == [2]string{a, b} {
			return &r.Gaps[i]
		}
	}
	return nil
}

// rules returns "contact a b" and so on for each finding, in order.
func rules(r Result) []string {
	var out []string
	for _, f := range r.Findings {
		out = append(out, f.Rule+" "+strings.Join(f.On, " "))
	}
	return out
}

func expect(t *testing.T, what string, r Result, want ...string) {
	t.Helper()
	if got := rules(r); !reflect.DeepEqual(got, want) {
		t.Errorf("%s: findings %q, want %q", what, got, want)
	}
}

// A plain fold is never a finding, however large the clearance: the gaps are those that the radius gives.
func TestPlainFoldsAreClear(t *testing.T) {
	for _, radius := range []float64{0.1, 0.5, 1.5, 3} {
		for _, angle := range []float64{5, 45, 90, 135, 180, -30, -90, -180} {
			r := Check(board(t, strip(angle, radius, "clearance: {board: 50, components: 50, enclosure: 1}\n"), 0.01), away())
			expect(t, fmt.Sprintf("%v degrees, radius %v", angle, radius), r)
			half := math.Abs(angle) / 2 * math.Pi / 180
			g := find(r, "flex:flat-1", "flex:flat-2")
			if g == nil || !close2(g.Gap, 2*radius*math.Sin(half), 1e-8) || !close2(g.Required, g.Gap, 1e-8) {
				t.Errorf("%v degrees, radius %v: %+v, want a gap of 2 R sin(angle/2) = %v", angle, radius, g, 2*radius*math.Sin(half))
			}
		}
	}
}

// The angle past which a bend, coming round, meets its own flat's body, zr half the body's thickness: with its outer face
// if the body's top lies below the bend's axis, 360 - acos((rho-zr)/(rho+t/2)), else with its inner face,
// 180 + acos((zr-rho)/(rho-t/2)).
func TestBendMeetsItsOwnFlat(t *testing.T) {
	flush := func(angle, radius float64) string {
		w := (radius + 0.1) * math.Abs(angle) * math.Pi / 180
		return strip(angle, radius, fmt.Sprintf("sections: {base: {stackup: plate, area: {rect: [0, 0, %.17g, 10]}}}\n", 30-w/2))
	}
	thin := func(angle, radius float64) string { return strip(angle, radius, "") }
	cases := []struct {
		angle, radius float64
		src           func(angle, radius float64) string
		name          string
	}{
		{331.9275130641, 1.5, thin, "flex:flat-1"},
		{298.0724868529, 1.5, flush, "section:base"},
		{180 + math.Acos((0.8-0.6)/0.5)*180/math.Pi, 0.5, flush, "section:base"},
	}
	for _, c := range cases {
		for _, sign := range []float64{1, -1} {
			for _, chord := range []float64{0.05, 0.005} {
				before := Check(board(t, c.src(sign*(c.angle-0.2), c.radius), chord), away())
				if f := find(before, "bend:neck", c.name); f != nil && f.Gap < 0 {
					t.Errorf("%v degrees less 0.2, chord %v: %+v", sign*c.angle, chord, f)
				}
				after := Check(board(t, c.src(sign*(c.angle+0.3), c.radius), chord), away())
				g := find(after, "bend:neck", c.name)
				if g == nil || g.Rule != "contact" || g.Gap < -0.02 {
					t.Errorf("%v degrees and 0.3, chord %v: %+v", sign*c.angle, chord, g)
				}
			}
		}
	}
}

func TestFullTurn(t *testing.T) {
	r := Check(board(t, strip(360, 3, ""), 0.01), away())
	expect(t, "360 degrees", r, "contact bend:neck flex:flat-1", "contact bend:neck flex:flat-2")
	if g := find(r, "flex:flat-1", "flex:flat-2"); g != nil && g.Gap != 0 {
		t.Errorf("the flats' ends coincide: gap %v", g.Gap)
	}
	expect(t, "300 degrees, short legs", Check(board(t, shortLegs(300), 0.01), away()))
}

// shortLegs is a strip whose flats are 1 long.
func shortLegs(angle float64) string {
	w := 3.1 * angle * math.Pi / 180
	return fmt.Sprintf("outline: [[0, 0], [%[1]v, 0], [%[1]v, 10], [0, 10]]\nstackups: {film: {thickness: 0.2}}\nflex: film\nbase: {at: [0.5, 1]}\n"+
		"hinges: {neck: {line: [[%[2]v, -1], [%[2]v, 11]], angle: %[3]v, radius: 3}}\n", w+2, w/2+1, angle)
}

// A 270 degree fold with long legs goes through its own base; with short ones it stops before.
func TestLegsCross(t *testing.T) {
	r := Check(board(t, strip(270, 3, ""), 0.01), away())
	expect(t, "long legs", r, "contact flex:flat-1 flex:flat-2")
	// The leg hangs down through the base, rho from the tangent line: it is least far to draw its upper end, rho over the
	// neutral surface, down out of it.
	if g := find(r, "flex:flat-1", "flex:flat-2"); !close2(-g.Gap, 3.1+0.1, 1e-9) {
		t.Errorf("depth %v, want %v", -g.Gap, 3.2)
	}
	expect(t, "short legs", Check(board(t, shortLegs(270), 0.01), away()))
}

// Two bends without a flat between them: together they may turn by 360 degrees and meet nothing.
func TestBendsThatShareALine(t *testing.T) {
	double := func(a, b float64) string {
		wa, wb := 1.1*math.Abs(a)*math.Pi/180, 1.1*math.Abs(b)*math.Pi/180
		return fmt.Sprintf("outline: [[0, 0], [40, 0], [40, 10], [0, 10]]\nstackups: {film: {thickness: 0.2}}\nflex: film\nbase: {at: [1, 1]}\nclearance: {board: 0.1}\n"+
			"hinges: {a: {tangent: [[20, 0], [20, 10]], into: [%v, 5], angle: %v, radius: 1}, b: {tangent: [[20, 0], [20, 10]], into: [%v, 5], angle: %v, radius: 1}}\n", 20-wa/2, a, 20+wb/2, b)
	}
	r := Check(board(t, double(90, 90), 0.01), away())
	expect(t, "90 and 90", r)
	r = Check(board(t, double(170, -170), 0.01), away())
	for _, f := range r.Findings {
		if strings.HasPrefix(f.On[0], "bend:") && strings.HasPrefix(f.On[1], "bend:") {
			t.Errorf("170 and -170: %v", f)
		}
	}
	r = Check(board(t, double(280, 90), 0.01), away())
	if g := find(r, "bend:a", "bend:b"); g == nil || g.Rule != "contact" {
		t.Errorf("a bend of 280 degrees comes round into the next: %v %+v", rules(r), g)
	}
}

// A plate round a tongue stands in front of the tangent line, beside the bend.
func TestTongue(t *testing.T) {
	tongue := func(slot, angle float64) string {
		return fmt.Sprintf("outline: [[0, 0], [40, 0], [40, 40], [0, 40]]\ncutouts: [[[18, %[1]v], [%[3]v, %[1]v], [%[3]v, %[2]v], [18, %[2]v], [18, 25], [30, 25], [30, 15], [18, 15]]]\n"+
			"stackups: {film: {thickness: 0.2}}\nflex: film\nbase: {at: [1, 1]}\nclearance: {board: 0.5}\nhinges: {t: {tangent: [[18, 15], [18, 25]], into: [19, 20], angle: %[4]v, radius: 1}}\n",
			15-slot, 25+slot, 30+slot, angle)
	}
	for _, angle := range []float64{30, 90, 180, 270} {
		r := Check(board(t, tongue(0.1, angle), 0.01), away())
		for _, f := range r.Findings {
			if f.Rule != "contact" || angle < 270 {
				t.Errorf("%v degrees: %v %v", angle, f.Rule, f.On)
			}
		}
	}
}

func TestComponents(t *testing.T) {
	part := func(height float64, more string) string {
		return strip(180, 1.5, fmt.Sprintf("components: {U1: {side: top, at: [20, 5], size: [4, 4, %v]}}\n", height)+more)
	}
	r := Check(board(t, part(1, "clearance: {components: 0.3}\n"), 0.01), away())
	expect(t, "1 mm high", r)
	g := find(r, "component:U1", "flex:flat-2")
	if g == nil || !close2(g.Gap, 2, 1e-9) || g.Low != g.Gap || !g.Judged || g.Kind != "components" || g.Flat == nil {
		t.Fatalf("%+v", g)
	}
	if far := 30 + 1.6*math.Pi/2 - 22; !close2(*g.Flat, far, 1e-9) {
		t.Errorf("gap in the flat %v, want %v", *g.Flat, far)
	}
	limit := 3 - 0.3
	expect(t, "at the limit", Check(board(t, part(limit, "clearance: {components: 0.3}\n"), 0.01), away()))
	r = Check(board(t, part(limit+1e-5, "clearance: {components: 0.3}\n"), 0.01), away())
	expect(t, "over the limit", r, "clearance component:U1 flex:flat-2")
	r = Check(board(t, part(3.4, "clearance: {components: 0.3}\n"), 0.01), away())
	expect(t, "too high", r, "contact component:U1 flex:flat-2")
	f := r.Findings[0]
	if !close2(*f.Value, 0.4, 1e-9) || f.Posture != "folded" || f.Place.Line == 0 || f.At == nil || math.Abs(f.At[0]-20) > 2 || f.Severity != finding.Error {
		t.Errorf("%+v", f)
	}
	for _, want := range []string{"component:U1 goes 0.4 mm into flex:flat-2 at (", "0.7 mm for the required gap of 0.3 mm", "along -z"} {
		if !strings.Contains(f.Message+" "+f.Hint, want) {
			t.Errorf("%q %q does not say %q", f.Message, f.Hint, want)
		}
	}
}

// What stands beside each other in the layout is measured and never a finding.
func TestLayoutIsNotJudged(t *testing.T) {
	src := strip(90, 1.5, `sections: {step: {stackup: plate, area: {rect: [0, 0, 8, 10]}}}
stiffeners: {pad: {side: top, material: polyimide, thickness: 0.3, area: {rect: [12, 0, 20, 10]}}}
clearance: {board: 2, components: 2}
components:
  A: {side: top, at: [10, 3], size: [2, 2, 1]}
  B: {side: top, at: [10, 5.05], size: [2, 2, 1]}
  C: {side: top, at: [14, 5], size: [2, 2, 1]}
  D: {side: bottom, at: [14, 5], size: [2, 2, 1], standoff: 0.1}
`)
	a := board(t, src, 0.01)
	r := Check(a, away())
	expect(t, "crowded layout", r)
	c := newChecker(a, nil, "folded")
	gaps := map[string]float64{}
	for _, p := range c.pairs("components") {
		if p.rel == layout {
			j, ok := c.judge(&p, math.Inf(1))
			if !ok || j.Judged || j.Rule != "" {
				t.Errorf("%s - %s: %+v", p.a.name, p.b.name, j.Gap)
			}
			gaps[j.Between[0]+" "+j.Between[1]] = j.Gap.Gap
		}
	}
	for pair, want := range map[string]float64{
		"component:A component:B":   0.05,
		"component:A section:step":  1,    // beside the step, which rises above its seat
		"component:C stiffener:pad": -0.3, // stands in the stiffener on its side
		"component:A component:C":   2,
	} {
		if got, ok := gaps[pair]; !ok || !close2(got, want, 1e-9) {
			t.Errorf("%s: %v, want %v", pair, got, want)
		}
	}
	for _, pair := range []string{"component:D stiffener:pad", "component:A flex:flat-1", "component:D section:step"} {
		if _, ok := gaps[pair]; ok && pair != "component:D section:step" {
			t.Errorf("%s is compared: one stands on the other", pair)
		}
	}
}

func TestWalls(t *testing.T) {
	src := strip(180, 1.5, "clearance: {enclosure: 0.5}\n") // the board stands in z from -0.1 to 3.3
	open := wall("lid", 0, 0, 3.8, 40, 10, 5)
	open.Mesh.Triangles = open.Mesh.Triangles[:10]
	open.Mesh.Normals = open.Mesh.Normals[:10]
	open.Closed = false
	cases := []struct {
		name  string
		walls []Wall
		want  []string
		gap   float64
	}{
		{"far", []Wall{wall("lid", 0, 0, 5, 40, 10, 6)}, nil, 1.7},
		{"at the limit", []Wall{wall("lid", 0, 0, 3.8, 40, 10, 6)}, nil, 0.5},
		{"a little nearer", []Wall{wall("lid", 0, 0, 3.8-1e-5, 26, 10, 6)}, []string{"clearance flex:flat-2 enclosure:lid"}, 0.5 - 1e-5},
		{"touches", []Wall{wall("lid", 0, 0, 3.3, 26, 10, 6)}, []string{"clearance flex:flat-2 enclosure:lid"}, 0},
		{"half of Touch deep", []Wall{wall("lid", 0, 0, 3.2995, 26, 10, 6)}, []string{"clearance flex:flat-2 enclosure:lid"}, -0.0005},
		{"deep", []Wall{wall("lid", 0, 0, 3.05, 26, 10, 6)}, []string{"contact flex:flat-2 enclosure:lid"}, -0.25},
		{"open", []Wall{open}, nil, 0.5},
		{"swallowed", []Wall{wall("lid", -50, -50, 3, 26, 50, 50)}, []string{"contact flex:flat-2 enclosure:lid"}, -0.3},
	}
	for _, c := range cases {
		r := Check(board(t, src, 0.01), c.walls)
		expect(t, c.name, r, c.want...)
		g := find(r, "enclosure:lid", "flex:flat-2")
		if g == nil || !close2(g.Gap, c.gap, 1e-9) || g.Flat != nil || !g.Judged {
			t.Errorf("%s: %+v, want %v", c.name, g, c.gap)
		}
	}
	r := Check(board(t, src, 0.01), []Wall{open})
	if len(r.Unchecked) != 1 || r.Unchecked[0].What != "inside" || r.Unchecked[0].On[0] != "enclosure:lid" {
		t.Errorf("%+v", r.Unchecked)
	}
	if r := Check(board(t, src, 0.01), nil); len(r.Unchecked) != 0 {
		t.Errorf("%+v: that a design has no enclosure is said elsewhere", r.Unchecked)
	}
}

// A bend beside a wall: the verdict is that of the true cylinder, whatever the chord.
func TestCurvedGapIsRefined(t *testing.T) {
	apex := 30 - 1.6*math.Pi/2 + 1.7 // of a 180 degree bend: tangent line and outer radius
	for _, chord := range []float64{0.08, 0.03, 0.01, 0.001} {
		for _, d := range []float64{-0.003, 0.003} {
			r := Check(board(t, strip(180, 1.5, "clearance: {enclosure: 0.3}\n"), chord), []Wall{wall("end", apex+0.3+d, 0, -5, 50, 10, 9)})
			var want []string
			if d < 0 {
				want = []string{"clearance bend:neck enclosure:end"}
			}
			expect(t, fmt.Sprintf("chord %v, off by %v", chord, d), r, want...)
			g := find(r, "bend:neck", "enclosure:end")
			if g == nil || !close2(g.Gap, 0.3+d, chord) || g.Low > 0.3+d+1e-9 {
				t.Errorf("chord %v: %+v, want a gap of %v and a bound below", chord, g, 0.3+d)
			}
		}
	}
}

// The sample board of the contract: U1 under the wing, which lies on its back over it.
const beacon = `
outline: [[0, 0], [30, 0], [30, 6], [48, 6], [48, 0], [76, 0], [76, 24, 2], [48, 24], [48, 18], [30, 18], [30, 24], {arc: [0, 24], via: [15, 25]}]
stackups:
  core: {thickness: 0.186}
  four: {rigid: true, layers: [{material: fr4, thickness: 0.3}, {stackup: core}, {material: fr4, thickness: 0.2}]}
flex: core
sections: {main: {stackup: four, area: {rect: [0, 0, 30, 26]}}, wing: {stackup: four, area: {rect: [48, 0, 76, 24]}}}
base: main
hinges: {neck: {line: [[39, 5], [39, 19]], angle: 180, toward: top, radius: 1.5}}
components: {U1: {side: top, at: [15, 12], size: [7, 7, 0.9], turn: 45}}
`

func TestContractSample(t *testing.T) {
	a := board(t, beacon+"place: {datum: bottom, move: [0, 0, 3]}\nclearance: {components: 0.3}\n", 0.01)
	r := Check(a, away())
	expect(t, "beacon", r)
	g := find(r, "component:U1", "section:wing")
	if g == nil || !close2(g.Gap, 3.186-2*(0.093+0.3)-0.9, 1e-9) {
		t.Fatalf("%+v", g)
	}
	if z := 3 + 0.293 + 0.393 + 0.9; !close2(g.At[0][2], z, 1e-9) || !close2(g.At[1][2], z+g.Gap, 1e-9) {
		t.Errorf("points %v", g.At)
	}
}

// The housing's frame moves points, not gaps; walls that move along see the same.
func TestPlaceMovesEverything(t *testing.T) {
	src := beacon + "components: {U1: {side: top, at: [15, 12], size: [7, 7, 1.5], turn: 45}}\nclearance: {enclosure: 9}\n"
	src = strings.Replace(src, "components: {U1: {side: top, at: [15, 12], size: [7, 7, 0.9], turn: 45}}\n", "", 1)
	placed := fold.RigidMotion([3]float64{30, -40, 110}, vec{7, -8, 9})
	lid := wall("lid", 3, 3, 3.6, 20, 20, 4)
	plain := Check(board(t, src, 0.01), []Wall{lid})
	lid.Mesh = lid.Mesh.Place(placed)
	moved := Check(board(t, src+"place: {turn: [30, -40, 110], move: [7, -8, 9]}\n", 0.01), []Wall{lid})
	if !reflect.DeepEqual(rules(plain), rules(moved)) || len(plain.Findings) == 0 || len(plain.Gaps) != len(moved.Gaps) {
		t.Fatalf("%v, placed %v", rules(plain), rules(moved))
	}
	for i, g := range plain.Gaps {
		m := find(moved, g.Between[0], g.Between[1])
		if m == nil || !close2(m.Gap, g.Gap, 2e-9) || !close2(m.Required, g.Required, 2e-9) || !close2(length(sub(m.At[0], m.At[1])), math.Abs(m.Gap), 2e-9) {
			t.Errorf("%d: %+v, placed %+v", i, g, m)
		}
	}
}

// Mirrored boards have the same gaps.
func TestMirrored(t *testing.T) {
	one := Check(board(t, strip(170, 1.5, "components: {U1: {side: top, at: [18, 5], size: [4, 4, 2.4]}}\nclearance: {components: 1}\n"), 0.01), nil)
	src := strip(170, 1.5, "components: {U1: {side: top, at: [42, 5], size: [4, 4, 2.4]}}\nclearance: {components: 1}\n")
	two := Check(board(t, strings.Replace(src, "at: [1, 1]", "at: [59, 1]", 1), 0.01), nil)
	ga, gb := one.Gaps, two.Gaps
	if len(ga) != len(gb) || len(one.Findings) != len(two.Findings) {
		t.Fatalf("%+v, mirrored %+v", ga, gb)
	}
	for i := range ga {
		if !close2(ga[i].Gap, gb[i].Gap, 1e-8) || !close2(ga[i].Required, gb[i].Required, 1e-8) {
			t.Errorf("%v %v, mirrored %v %v", ga[i].Between, ga[i].Gap, gb[i].Between, gb[i].Gap)
		}
	}
}

func TestSameAnswerTwice(t *testing.T) {
	src := beacon + "clearance: {board: 5, components: 5, enclosure: 5}\n"
	walls := []Wall{wall("lid", 3, 3, 3.6, 20, 20, 4), wall("post", 10, 10, 0, 11, 11, 9)}
	one, two := Check(board(t, src, 0.01), walls), Check(board(t, src, 0.01), walls)
	if !reflect.DeepEqual(one, two) {
		t.Error("two runs differ")
	}
}

// A body skinned alone is the one of the whole board.
func TestSkinBodyIsTheSame(t *testing.T) {
	a := board(t, beacon, 0.03)
	for i := range a.Bodies {
		b, err := mesh.SkinBody(a.Folded, i, 0.03)
		if err != nil || !reflect.DeepEqual(*b, a.Bodies[i]) {
			t.Errorf("%s alone differs: %v", a.Bodies[i].Name, err)
		}
	}
}

// The flat position of a finding is that of the material point, on flats and in bends.
func TestFlatAt(t *testing.T) {
	a := board(t, strip(135, 1.5, ""), 0.01)
	c := newChecker(a, nil, "folded")
	for _, m := range c.members {
		s := m.shape()
		for i := range s.tris {
			tr := s.tri(int32(i))
			p := along(along(tr[0], 0.3, sub(tr[1], tr[0])), 0.2, sub(tr[2], tr[0]))
			id := s.id(int32(i))
			at := m.flatAt(id, p)
			k := m.mesh.Triangles[id]
			want := along(along(m.flat[k[0]], 0.3, sub(m.flat[k[1]], m.flat[k[0]])), 0.2, sub(m.flat[k[2]], m.flat[k[0]]))
			if at == nil || math.Hypot(at[0]-want[0], at[1]-want[1]) > 1e-9 {
				t.Fatalf("%s: %v, want %v", m.name, at, want)
			}
		}
	}
}

// Every pair, compared without any pruning, gives the listed smallest gaps and no other findings.
func TestSearchMissesNothing(t *testing.T) {
	src := beacon + "clearance: {board: 0.5, components: 2, enclosure: 1}\n"
	a := board(t, src, 0.02)
	walls := []Wall{wall("lid", 3, 3, 3.9, 20, 20, 4), wall("post", 33, 1, -1, 35, 4, 9), wall("far", 0, 60, 0, 9, 70, 9)}
	r := Check(a, walls)
	c := newChecker(a, walls, "folded")
	least := map[string]float64{}
	bad := 0
	for _, kind := range []string{"board", "components", "enclosure"} {
		least[kind] = math.Inf(1)
		for _, p := range c.pairs(kind) {
			j, ok := c.judge(&p, math.Inf(1))
			if !ok {
				continue
			}
			if j.Judged {
				least[kind] = min(least[kind], j.Gap.Gap)
			}
			if j.Rule != "" {
				bad++
				if g := find(r, j.Between[0], j.Between[1]); g == nil || !close2(g.Gap, j.Gap.Gap, 2e-9) {
					t.Errorf("%v: %v, listed %+v", j.Between, j.Gap.Gap, g)
				}
			}
		}
	}
	listed := map[string]float64{"board": math.Inf(1), "components": math.Inf(1), "enclosure": math.Inf(1)}
	for _, g := range r.Gaps {
		listed[g.Kind] = min(listed[g.Kind], g.Gap)
	}
	for kind, want := range least {
		if !close2(listed[kind], want, 2e-9) {
			t.Errorf("%s: smallest listed %v, want %v", kind, listed[kind], want)
		}
	}
	if bad != len(r.Findings) || bad == 0 {
		t.Errorf("%d findings, want %d", len(r.Findings), bad)
	}
}
