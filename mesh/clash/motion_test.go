package clash

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/designfile"
	"foldfit/fold/finding"
)

// programs reads and divides a design and returns its motions.
func programs(t testing.TB, src string) []fold.Program {
	t.Helper()
	d, _, problems := designfile.Parse("test.yaml", []byte("foldfit: 1\n"+src), designfile.Options{})
	if len(problems) > 0 {
		t.Fatalf("%v", problems)
	}
	tree, problems := fold.Divide(d)
	if len(problems) > 0 {
		t.Fatalf("%v", problems)
	}
	out, problems := tree.Programs()
	if len(problems) > 0 {
		t.Fatalf("%v", problems)
	}
	return out
}

// sweep follows all of a design's motions; walls whose names the design has stand for those pieces.
func sweep(t testing.TB, src string, walls ...Wall) Motion {
	t.Helper()
	return Sweep(context.Background(), programs(t, src), walls, 0.01, nil)
}

// told returns "contact-in-motion a b" and so on for each finding.
func told(m Motion) string {
	var out []string
	for _, f := range m.Findings {
		out = append(out, f.Rule+" "+strings.Join(f.On, " "))
	}
	return strings.Join(out, "; ")
}

// stepGap returns the smallest gap of a kind in a step.
func stepGap(t testing.TB, m Motion, step int, kind string) StepGap {
	t.Helper()
	for _, g := range m.Steps {
		if g.Step == step && g.Kind == kind {
			return g
		}
	}
	t.Fatalf("no %s gap in step %d: %+v", kind, step, m.Steps)
	return StepGap{}
}

// piece is a box of the enclosure as the design has it, and its wall.
func boxPiece(name string, x0, y0, z0, x1, y1, z1 float64) (string, Wall) {
	return fmt.Sprintf("  %s: {box: [[%v, %v, %v], [%v, %v, %v]]}\n", name, x0, y0, z0, x1, y1, z1), wall(name, x0, y0, z0, x1, y1, z1)
}

// liftPast is a strip with its hinge near the base and a long free arm; one post stands in the arm's way or beside it.
func liftPast(clearance, x, z float64, height float64) (string, Wall) {
	line, w := boxPiece("post", x, -5, z, x+2, 15, z+height)
	src := strip(90, 1.5, fmt.Sprintf("clearance: {enclosure: %v}\nenclosure:\n%ssequence: [{name: lift, bend: [neck]}]\n", clearance, line))
	return src, w
}

// tipRadius is the largest distance of the arm's lower and upper end corners from a point on the way, by a dense walk over
// the exact positions: an independent way to the smallest gap of a corner to the tip's path.
func tipPath(t testing.TB, src string, see func(p, q vec)) {
	t.Helper()
	p := programs(t, src)[0]
	for i := range 20001 {
		s, err := p.State(0, float64(i)/20000)
		if err != nil {
			t.Fatal(err)
		}
		m := s.HousingFromBoard.Mul4(s.Folded.BoardFromFlat(1))
		see(fold.Apply(m, vec{60, 5, -0.1}), fold.Apply(m, vec{60, 5, 0.1}))
	}
}

// The tip of an arm sweeps past the corner of a box: the smallest gap is that of the corner to the tip's way.
func TestArmPastCorner(t *testing.T) {
	const x, z = 58, 20
	src, post := liftPast(0, x, z, 40)
	want := math.Inf(1)
	tipPath(t, src, func(p, q vec) {
		for _, e := range []vec{p, q} {
			want = min(want, math.Hypot(max(x-e[0], 0), max(z-e[2], 0)))
		}
	})
	m := sweep(t, src, post)
	g := stepGap(t, m, 1, "enclosure")
	if !m.Covered || len(m.Findings) > 0 || g.Low > want+1e-6 || g.Gap < want-1e-6 || g.Gap-g.Low > Resolution+0.02 {
		t.Errorf("covered %v, %s, gap %v to %v at %v, want %v", m.Covered, told(m), g.Low, g.Gap, g.Progress, want)
	}
	for _, c := range []struct {
		clearance float64
		want      string
	}{{want - 0.02, ""}, {want + 0.02, "clearance-in-motion bend"}} {
		src, post := liftPast(c.clearance, x, z, 40)
		got := sweep(t, src, post)
		if !got.Covered || !strings.HasPrefix(told(got), c.want[:min(len(c.want), 19)]) || (c.want == "") != (len(got.Findings) == 0) {
			t.Errorf("required %v of %v: %s", c.clearance, want, told(got))
		}
		if len(got.Worst) != len(got.Findings) {
			t.Fatalf("required %v of %v: %d gaps for %s", c.clearance, want, len(got.Worst), told(got))
		}
		for _, f := range got.Findings {
			var allowed float64
			_, tail, _ := strings.Cut(f.Hint, "gap: ")
			if _, err := fmt.Sscanf(tail, "%g", &allowed); err != nil || allowed < want-Resolution-0.001 {
				t.Errorf("hint %q: %v, %v", f.Hint, allowed, err)
			}
			src, post := liftPast(allowed, x, z, 40)
			if again := sweep(t, src, post); len(again.Findings) > 0 {
				t.Errorf("with the gap that the hint allows, %v: %s", allowed, told(again))
			}
		}
		for _, w := range got.Worst {
			if w.Low > want+1e-6 || w.Gap < want-1e-6 || w.Gap-w.Low > Resolution+1e-9 || w.Required != c.clearance || w.Contact || w.Kind != "enclosure" ||
				w.Between != g.Between || math.Abs(w.Progress-g.Progress) > 0.01 {
				t.Errorf("required %v of %v: %+v, where the smallest is %+v", c.clearance, want, w, g)
			}
		}
	}
}

// A fin of 5 um stands in the way: no sample but those within 0.0002 of the motion meets it.
func TestThinFin(t *testing.T) {
	line, w := boxPiece("fin", 45, -5, 12.345, 100, 15, 12.35)
	src := strip(90, 1.5, "enclosure:\n"+line+"sequence: [{bend: [neck]}]\n")
	m := sweep(t, src, w)
	if !m.Covered || len(m.Findings) != 1 || m.Findings[0].Rule != "contact-in-motion" {
		t.Fatalf("%+v", m)
	}
	if w := m.Worst[0]; len(m.Worst) != 1 || !w.Contact || w.Gap >= -Touch || w.Low != w.Gap || w.Step != 1 || w.Between[1] != "enclosure:fin" && w.Between[0] != "enclosure:fin" {
		t.Errorf("%+v", m.Worst)
	}
}

// The same result, to the last bit, on one processor and on several.
func TestSweepOnAnyProcessors(t *testing.T) {
	for _, e := range examples {
		programs, walls := example(t, e.file, e.more)
		was := runtime.GOMAXPROCS(1)
		one := Sweep(context.Background(), programs, walls, 0.01, nil)
		runtime.GOMAXPROCS(4)
		four := Sweep(context.Background(), programs, walls, 0.01, nil)
		runtime.GOMAXPROCS(was)
		if !reflect.DeepEqual(one, four) {
			t.Errorf("%s: %+v\n%+v", e.name, one, four)
		}
	}
}

// wings has a base 23 wide between two wings that fold over it: the left one high, the right one, which is longer, low.
const wings = `outline: [[0, 0], [70, 0], [70, 10], [0, 10]]
stackups: {film: {thickness: 0.2}}
flex: film
base: {at: [30, 5]}
hinges:
  left: {line: [[16, -1], [16, 11]], angle: 180, radius: 3}
  right: {line: [[46, -1], [46, 11]], angle: 180, radius: 1}
`

// Of two wings that fold over each other the lower one goes first.
func TestOrderOfWings(t *testing.T) {
	for _, c := range []struct{ sequence, want string }{
		{"sequence: [{bend: [right]}, {bend: [left]}]\n", ""},
		{"sequence: [{bend: [left]}, {bend: [right]}]\n", "error in step 2 of 2"},
		{"", "advice on the way from flat to folded, all hinges together,"},
	} {
		m := sweep(t, wings+c.sequence)
		got := ""
		for _, f := range m.Findings {
			if f.Rule != "contact-in-motion" {
				t.Errorf("%q: %s", c.sequence, f.Message)
			}
			if !strings.Contains(f.Severity.String()+" "+f.Message, strings.SplitN(c.want, " ", 2)[0]) || !strings.Contains(f.Message, strings.SplitN(c.want+" ", " ", 2)[1]) {
				t.Errorf("%q: %s %s", c.sequence, f.Severity, f.Message)
			}
			got = "found"
		}
		if !m.Covered || (got == "") != (c.want == "") {
			t.Errorf("%q: covered %v, %v", c.sequence, m.Covered, told(m))
		}
	}
}

// plank is a plane strip 60 x 10 that moves as the sequence says.
func plank(clearance float64, enclosure, sequence string) string {
	return fmt.Sprintf("outline: [[0, 0], [60, 0], [60, 10], [0, 10]]\nstackups: {plate: {thickness: 1, rigid: true}}\nsections: {main: {stackup: plate, area: {rect: [0, 0, 60, 10]}}}\n"+
		"clearance: {enclosure: %v}\nenclosure:\n%ssequence:\n%s", clearance, enclosure, sequence)
}

// A leg that turns by 90 degrees takes the far corner past a post along a circle about the board's origin: the smallest
// gap is the post's distance less sqrt(60^2 + 10^2), reached where the corner points at the post.
func TestTurningLegPastPost(t *testing.T) {
	radius := math.Hypot(60, 10)
	const gap = 0.5
	at := (radius + gap) / math.Sqrt2
	line, post := boxPiece("post", at, at, -5, at+2, at+2, 5)
	turn := "  - {move: board, path: [{move: [0, 0, 0], turn: [0, 0, 90]}, {move: [0, 0, 0]}]}\n"
	m := sweep(t, plank(0, line, turn), post)
	g := stepGap(t, m, 1, "enclosure")
	if !m.Covered || len(m.Findings) > 0 || g.Gap < gap-1e-9 || g.Low > gap || g.Gap-g.Low > Resolution+1e-9 {
		t.Errorf("%s, gap %v to %v, want %v", told(m), g.Low, g.Gap, gap)
	}
	if want := 1 - (45-math.Atan2(10, 60)*180/math.Pi)/90; math.Abs(g.Progress-want) > 0.01 {
		t.Errorf("at %v, want %v", g.Progress, want)
	}
	for _, c := range []struct {
		required float64
		findings int
	}{{gap - 0.02, 0}, {gap + 0.02, 1}} {
		if m := sweep(t, plank(c.required, line, turn), post); len(m.Findings) != c.findings || !m.Covered {
			t.Errorf("required %v: %s", c.required, told(m))
		}
	}
}

// The board comes down past a rib that stands over part of its place: straight down it hits it, by a way round it does not,
// and keeps the side's distance.
func TestLoweringPastRib(t *testing.T) {
	line, rib := boxPiece("rib", 58, 0, 5, 70, 10, 6)
	straight := "  - {move: board, into: rib, path: [{move: [0, 0, 20]}, {move: [0, 0, 0]}]}\n"
	round := "  - {move: board, into: rib, path: [{move: [-5, 0, 20]}, {move: [-5, 0, 0]}, {move: [0, 0, 0]}]}\n"
	m := sweep(t, plank(0, line, straight), rib)
	if told(m) != "contact-in-motion section:main enclosure:rib" {
		t.Fatalf("straight: %s", told(m))
	}
	if f := m.Findings[0]; !strings.Contains(f.Message, "from 67.5 % on") { // (20 - (6 + 0.5)) / 20 of the way
		t.Errorf("%s", f.Message)
	}
	m = sweep(t, plank(0, line, round), rib)
	if g := stepGap(t, m, 1, "enclosure"); len(m.Findings) > 0 || !m.Covered || g.Low > 3 || g.Gap < 3 || g.Gap-g.Low > Resolution+1e-9 {
		t.Errorf("round: %s, %+v", told(m), g) // 60 - 5 against 58
	}
}

// Stopped in the second step, a sweep keeps what the first has shown.
func TestStoppedSweepKeepsWhatItHas(t *testing.T) {
	src, post := liftPast(0, 58, 20, 40)
	src = strings.Replace(src, "{name: lift, bend: [neck]}", "{bend: [neck], to: {neck: 40}}, {bend: [neck]}", 1)
	ctx, stop := context.WithCancel(context.Background())
	most := 0.0
	m := Sweep(ctx, programs(t, src), []Wall{post}, 0.01, func(done float64) {
		if most = max(most, done); done >= 0.5 {
			stop()
		}
	})
	if m.Covered || len(m.Unchecked) != 1 || m.Unchecked[0].What != "motion" || most >= 1 {
		t.Errorf("covered %v after %v: %+v", m.Covered, most, m.Unchecked)
	}
	if g := stepGap(t, m, 1, "enclosure"); g.Gap-g.Low > Resolution+0.02 {
		t.Errorf("%+v", g)
	}
	if m := Sweep(ctx, programs(t, src), []Wall{post}, 0.01, nil); m.Covered || len(m.Steps) > 0 {
		t.Errorf("stopped before it began: %+v", m)
	}
}

// Two arms of a ring that close at both ends open in between: GEOMETRY's case U, 0.2681015832 mm at 0.75 and
// 0.2119921804 at 0.5.
func TestLoopOpensOnItsWay(t *testing.T) {
	w := 1.6 * math.Pi / 2
	src := fmt.Sprintf(`outline: [[0, 0], [100, 0], [100, 40], [0, 40]]
cutouts: [{rect: [6, 10, 94, 30]}]
stackups: {film: {thickness: 0.2}}
flex: film
base: {at: [1, 20]}
hinges:
  a1: {line: [[%[1]v, -1], [%[1]v, 11]], angle: 90, radius: 1.5}
  a2: {line: [[%[2]v, -1], [%[2]v, 11]], angle: 90, radius: 1.5}
  b: {line: [[50, 29], [50, 41]], angle: 180, radius: 11.5}
`, 40-w/2, 60+w/2)
	p := programs(t, src)
	s, err := p[0].State(0, 0.75)
	if err != nil {
		t.Fatal(err)
	}
	if off := s.Folded.Closures()[0].Off; math.Abs(off-0.2681015832) > 1e-9 {
		t.Fatalf("off by %v at 0.75", off)
	}
	most := 0.0
	for i := range 1001 {
		s, _ := p[0].State(0, float64(i)/1000)
		most = max(most, s.Folded.Closures()[0].Off)
	}
	for _, c := range []struct {
		limit    float64
		findings int
	}{{0.2, 1}, {most - 0.015, 1}, {most + 0.001, 0}} {
		m := sweep(t, src+fmt.Sprintf("loop: {gap: %v, angle: 1}\n", c.limit))
		if !m.Covered || len(m.Findings) != c.findings {
			t.Fatalf("limit %v: %s", c.limit, told(m))
		}
		if c.findings == 0 {
			continue
		}
		if f := m.Findings[0]; f.Rule != "loop-open-in-motion" || *f.Value > most+1e-6 || *f.Value < most-Resolution {
			t.Errorf("limit %v: %s, the largest is %v", c.limit, f.Message, most)
		}
	}
}

// A posture's program: the wall that stands beside the folded board is hit on the way to another posture, which one hinge
// alone makes certain.
func TestWayToPosture(t *testing.T) {
	line, w := boxPiece("post", 15, -5, 18, 17, 15, 60)
	src := strip(90, 1.5, "postures: {back: {neck: 150}}\nenclosure:\n"+line)
	m := sweep(t, src, w)
	if len(m.Findings) == 0 || m.Findings[0].Severity != finding.Error || m.Findings[0].Posture != "back" ||
		!strings.Contains(m.Findings[0].Message, "on the way from folded to back") {
		t.Errorf("%+v", m.Findings)
	}
	if len(m.Unchecked) != 1 || m.Unchecked[0].On[0] != "enclosure:post" {
		t.Errorf("%+v", m.Unchecked)
	}
}

// A tight bend that turns far meets the plate at its own tangent line with its inner face, at 180 + acos((zr-rho)/(rho-t/2))
// degrees, rho what its width leaves at that angle; where the sequence bends it over and back, that is a contact in motion.
func TestBendOverMeetsItsOwnPlate(t *testing.T) {
	const own, most = 240.0, 300.0
	width := 0.6 * own * math.Pi / 180
	meets := own
	for range 100 {
		rho := width / (meets * math.Pi / 180)
		meets = 180 + math.Acos((0.8-rho)/(rho-0.1))*180/math.Pi
	}
	src := fmt.Sprintf(`outline: [[0, 0], [%[1]v, 0], [%[1]v, 10], [0, 10]]
stackups: {film: {thickness: 0.2}, plate: {thickness: 1.6, rigid: true}}
flex: film
sections: {main: {stackup: plate, area: {rect: [0, 0, 10, 10]}}}
hinges: {neck: {tangent: [[10, -1], [10, 11]], into: [12, 5], angle: %[2]v, radius: 0.5}}
`, 10+width+0.02, own)
	for _, c := range []struct {
		over float64
		want string
	}{{meets - 0.3, ""}, {most, "from " + percent(math.Round(1000*(meets+0.09)/most)/1000)}} { // 0.09 degrees go 0.001 deep
		m := sweep(t, src+fmt.Sprintf("sequence: [{bend: [neck], to: {neck: %v}}, {bend: [neck]}]\n", c.over))
		got := ""
		for _, f := range m.Findings {
			if f.Rule == "contact-in-motion" && f.On[0] == "bend:neck" {
				got = f.Message
			}
		}
		if !m.Covered || !strings.Contains(got, c.want) || (c.want == "") != (got == "") {
			t.Errorf("bent to %v: covered %v, %q, want %q", c.over, m.Covered, got, c.want)
		}
	}
}

// Bends of a hub have corners in common all the way, and a part that overhangs a bend touches it at the tangent line: no
// finding, and the smallest gap is that of the wings' flex to the hub, which comes near only by folding.
func TestTouchingAllTheWay(t *testing.T) {
	m := sweep(t, `outline: [[0, 0], [0, -20], [20, -20], [20, 0], [40, 0], [40, 20], [20, 20], [20, 40], [0, 40], [0, 20], [-20, 20], [-20, 0]]
stackups: {film: {thickness: 0.2}, plate: {thickness: 1, rigid: true}}
flex: film
sections: {main: {stackup: plate, area: {rect: [0, 0, 20, 20]}}}
base: main
clearance: {board: 0.2, components: 0.2}
hinges:
  e: {tangent: [[20, -1], [20, 21]], into: [25, 10], angle: 88, toward: bottom, radius: 0.5}
  w: {tangent: [[0, -1], [0, 21]], into: [-5, 10], angle: 88, toward: bottom, radius: 0.5}
  n: {tangent: [[-1, 20], [21, 20]], into: [10, 25], angle: 88, toward: bottom, radius: 0.5}
  s: {tangent: [[-1, 0], [21, 0]], into: [10, -5], angle: 88, toward: bottom, radius: 0.5}
components:
  J1: {side: top, at: [20, 10], size: [4, 6, 2]}
`)
	// the flex beyond the bend begins at (rho sin a - t/2 sin a, rho (1 - cos a) + t/2 cos a) from the hub's edge
	x, z := 0.5*math.Sin(88*math.Pi/180), 0.6-0.5*math.Cos(88*math.Pi/180)
	want := math.Hypot(x, max(z-0.5, 0))
	if g := stepGap(t, m, 1, "board"); !m.Covered || len(m.Findings) > 0 || math.Abs(g.Gap-want) > 1e-9 {
		t.Errorf("covered %v, %s, %+v, want %v", m.Covered, told(m), g, want)
	}
}

// Seen in a mirror a board moves alike.
func TestSweepInAMirror(t *testing.T) {
	see := func(s float64) Motion {
		x := func(v float64) string { return fmt.Sprint(s * v) }
		rect := func(a, b float64) string { return fmt.Sprint(min(s*a, s*b), ", 0, ", max(s*a, s*b), ", 10") }
		box := func(name string, a, y, z, b, v, w float64) (string, Wall) {
			return boxPiece(name, min(s*a, s*b), y, z, max(s*a, s*b), v, w)
		}
		post, postWall := box("post", 50, -5, 21, 52, 15, 60)
		lid, lidWall := box("lid", 10, 2, 6, 40, 8, 7)
		src := fmt.Sprintf("outline: [[0, 0], [%[1]s, 0], [%[1]s, 10], [0, 10]]\nstackups: {film: {thickness: 0.2}, plate: {thickness: 1, rigid: true}}\nflex: film\n", x(60)) +
			"sections: {main: {stackup: plate, area: {rect: [" + rect(0, 20) + "]}}, end: {stackup: plate, area: {rect: [" + rect(45, 60) + "]}}}\nbase: main\n" +
			"clearance: {board: 0.5, enclosure: 0.5}\n" +
			"hinges: {neck: {line: [[" + x(30) + ", -1], [" + x(31) + ", 11]], angle: 150, radius: 2}}\nenclosure:\n" + post + lid +
			"sequence:\n  - {bend: [neck]}\n  - {move: lid, path: [{move: [" + x(30) + ", 3, 20], turn: [0, " + x(40) + ", 0]}, {move: [0, 0, 0]}]}\n"
		return sweep(t, src, postWall, lidWall)
	}
	a, b := see(1), see(-1)
	if told(a) != told(b) || len(a.Steps) != len(b.Steps) || len(a.Findings) == 0 {
		t.Fatalf("%s\n%s", told(a), told(b))
	}
	for i, g := range a.Steps {
		o := b.Steps[i]
		if math.Abs(g.Gap-o.Gap) > 1e-6 || math.Abs(g.Low-o.Low) > 1e-6 || g.Progress != o.Progress || g.Between != o.Between {
			t.Errorf("%+v\n%+v", g, o)
		}
	}
}

// What a piece grows is taken off, and an exception allows what it says, down to an overlap.
func TestGrowthAndExceptionsInMotion(t *testing.T) {
	line, w := boxPiece("rib", -60, 0, 0.9, -50, 10, 2) // 0.4 over the board, which slides along under it and on
	slide := "  - {move: board, path: [{move: [-120, 0, 0]}, {move: [0, 0, 0]}]}\n"
	for _, c := range []struct {
		grows, clearance float64
		pairs, want      string
	}{
		{0, 0.39, "", ""},
		{0, 0.41, "", "clearance-in-motion section:main enclosure:rib"},
		{0.2, 0.19, "", ""},
		{0.2, 0.21, "", "clearance-in-motion section:main enclosure:rib"},
		{0.5, 0, "", "contact-in-motion section:main enclosure:rib"},
		{0.5, 0, "{between: [main, rib], gap: -0.11, because: foam}", ""},
		{0.5, 0, "{between: [main, rib], gap: -0.09, because: foam}", "contact-in-motion section:main enclosure:rib"},
	} {
		grown := strings.Replace(line, "}\n", fmt.Sprintf(", grows: %v}\n", c.grows), 1)
		src := plank(c.clearance, grown, slide)
		src = strings.Replace(src, fmt.Sprintf("{enclosure: %v}", c.clearance), fmt.Sprintf("{enclosure: %v, pairs: [%s]}", c.clearance, c.pairs), 1)
		p := programs(t, src)
		w := w
		w.Piece = &p[0].Tree.Design.Enclosure[0]
		m := Sweep(context.Background(), p, []Wall{w}, 0.01, nil)
		if !m.Covered || told(m) != c.want {
			t.Errorf("grows %v, clearance %v %s: covered %v, %q", c.grows, c.clearance, c.pairs, m.Covered, told(m))
		}
	}
}

// A hinge that is formed free is a cylinder on the way: the scope and the list of what was not followed name it.
func TestFreelyFormedOnTheWay(t *testing.T) {
	free := strings.Replace(strip(90, 1.5, "sequence: [{bend: [neck]}]\n"), "radius: 1.5", "radius: 1.5, formed: free", 1)
	m := sweep(t, free)
	if !m.Covered || !strings.Contains(m.Scope, "hinge:neck too, formed free") || len(m.Unchecked) != 1 || m.Unchecked[0].On[0] != "hinge:neck" {
		t.Errorf("covered %v, %s, %+v", m.Covered, m.Scope, m.Unchecked)
	}
	if m := sweep(t, strip(90, 1.5, "sequence: [{bend: [neck]}]\n")); !m.Covered || strings.Contains(m.Scope, "free") {
		t.Errorf("covered %v, %s", m.Covered, m.Scope)
	}
}
