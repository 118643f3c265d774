package clash

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/mesh/enclosure"
)

// journey reads a design with boxes around it and returns its programs and walls.
func journey(t testing.TB, src string) ([]fold.Program, []Wall) {
	t.Helper()
	tree := board(t, src, 0.01).Folded.Tree
	programs, problems := tree.Programs()
	if problems != nil {
		t.Fatalf("%v", problems)
	}
	var walls []Wall
	for i := range tree.Design.Enclosure {
		p := &tree.Design.Enclosure[i]
		m := enclosure.Box("enclosure:"+p.Name, p.Box[0], p.Box[1])
		walls = append(walls, Wall{Piece: p, Mesh: m.Place(fold.RigidMotion(p.Turn, p.Move)), Closed: true})
	}
	return programs, walls
}

// travel proves a design's motion.
func travel(t testing.TB, src string) Travel {
	programs, walls := journey(t, src)
	return Move(context.Background(), programs, walls, 0.01)
}

// flap is a strip of flex whose right half folds up by 90 degrees beside a post.
func flap(post, more string) string {
	return strip(90, 3, "enclosure:\n  post: {box: "+post+"}\nclearance: {enclosure: 0.3}\nsequence:\n  - {bend: [neck]}\n"+more)
}

// The end of the flap sweeps past a post. The farthest it reaches is found by a fine search of its own, by the exact formulas of
// the fold; a post just beyond that by more than the clearance is proven clear, a little nearer it is reported.
func TestSweepPastPost(t *testing.T) {
	least := leastToPost(t)
	for _, c := range []struct {
		off  float64
		want string
	}{{0.32, ""}, {0.28, "clearance-in-motion"}, {-0.2, "contact-in-motion"}} {
		lo, hi := 40.0, 70.0 // of the post's near face
		for hi-lo > 1e-7 {
			if x := (lo + hi) / 2; least(x) < c.off {
				lo = x
			} else {
				hi = x
			}
		}
		x := lo
		r := travel(t, flap(fmt.Sprintf("[[%.6f, 0, 20], [%.6f, 10, 22]]", x, x+5), ""))
		if !r.Covered {
			t.Errorf("%g beyond the reach: not covered", c.off)
		}
		got := ""
		if len(r.Findings) > 0 {
			got = r.Findings[0].Rule
		}
		if got != c.want || len(r.Findings) > 1 {
			t.Errorf("%g beyond the reach: %v, want %q", c.off, r.Findings, c.want)
		}
		for _, s := range r.Steps {
			if s.Kind == "enclosure" && c.off > 0 && (s.Gap < c.off-1e-6 || s.Gap > c.off+0.0101 || s.Low > c.off) {
				t.Errorf("%g beyond the reach: smallest gap %g, at least %g, at %g", c.off, s.Gap, s.Low, s.Progress)
			}
		}
	}
}

// leastToPost returns how near the flap's end comes to a post whose near face stands at x, from 20 to 22 high: below zero by how
// far it comes in. By the exact formulas of the fold, at many moments.
func leastToPost(t *testing.T) func(x float64) float64 {
	tree := board(t, strip(90, 3, ""), 0.01).Folded.Tree
	var ends []mgl64.Vec3
	for i := range 20001 {
		f, err := tree.Place([]float64{90 * float64(i) / 20000})
		if err != nil {
			t.Fatal(err)
		}
		for _, z := range []float64{-0.1, 0.1} {
			ends = append(ends, fold.Apply(f.BoardFromFlat(1), mgl64.Vec3{60, 5, z}))
		}
	}
	return func(x float64) float64 {
		least := math.Inf(1)
		for _, p := range ends {
			up := max(20-p[2], p[2]-22, 0)
			if d := math.Hypot(max(x-p[0], 0), up); up > 0 || x > p[0] {
				least = min(least, d)
			} else {
				least = min(least, x-p[0])
			}
		}
		return least
	}
}

// A fin of 0.005 in the way of the flap's end is met, however short the contact.
func TestThinFinIsFound(t *testing.T) {
	for _, angle := range []float64{20.123, 45, 61.7} {
		sin, cos := math.Sincos(angle * math.Pi / 180)
		at := mgl64.Vec3{30 + 29*cos, 5, 29 * sin}
		// the fin lies along the flap at that angle, so that it is passed at once
		src := strip(90, 3, fmt.Sprintf("enclosure:\n  fin: {box: [[-3, -2, -0.0025], [3, 2, 0.0025]], turn: [0, %g, 0], move: [%g, 5, %g]}\nsequence:\n  - {bend: [neck]}\n", -angle, at[0], at[2]))
		r := travel(t, src)
		if len(r.Findings) != 1 || r.Findings[0].Rule != "contact-in-motion" {
			t.Errorf("at %g degrees: %v", angle, r.Findings)
		}
	}
}

// Two flaps that fold over each other meet when the outer one goes first.
func TestOrderMatters(t *testing.T) {
	src := `outline: [[0, 0], [80, 0], [80, 10], [0, 10]]
stackups: {film: {thickness: 0.2}}
flex: film
base: {at: [40, 5]}
hinges:
  left: {line: [[25, -1], [25, 11]], angle: 170, radius: 0.5}
  right: {line: [[55, -1], [55, 11]], angle: 170, radius: 1.5}
sequence:
`
	if r := travel(t, src+"  - {bend: [left]}\n  - {bend: [right]}\n"); !r.Covered || len(r.Findings) > 0 {
		t.Errorf("inner flap first: covered %v, %v", r.Covered, r.Findings)
	}
	if r := travel(t, src+"  - {bend: [right]}\n  - {bend: [left]}\n"); len(r.Findings) == 0 || r.Findings[0].Rule != "contact-in-motion" {
		t.Errorf("outer flap first: %v", r.Findings)
	}
}

// The board comes down into a tray beside a rib that its path passes, or does not.
func TestPathIntoTray(t *testing.T) {
	src := strip(30, 3, `enclosure:
  floor: {box: [[-5, -5, -3], [25, 15, -0.6]], role: housing}
  rib: {box: [[RIB, 0, 6], [RIB9, 10, 7]]}
sequence:
  - {bend: [neck]}
  - {move: board, into: floor, path: [{move: [0, 0, 30]}, {}]}
`)
	for rib, want := range map[string]int{"-2": 0, "-0.5": 1} {
		s := src
		for _, x := range [][2]string{{"RIB9", map[string]string{"-2": "-0.5", "-0.5": "0.5"}[rib]}, {"RIB", rib}} {
			s = strings.ReplaceAll(s, x[0], x[1])
		}
		if r := travel(t, s); len(r.Findings) != want || !r.Covered {
			t.Errorf("rib at %s: covered %v, %v", rib, r.Covered, r.Findings)
		}
	}
}

// No point of any body moves further than the bound says, for random chains, steps and intervals.
func TestSwingIsNeverExceeded(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 12 {
		a, b, c := 20+300*r.Float64(), -20-150*r.Float64(), 30+100*r.Float64()
		src := fmt.Sprintf(`outline: [[0, 0], [120, 0], [120, 12], [0, 12]]
stackups: {film: {thickness: 0.2}}
flex: film
base: {at: [1, 1]}
hinges:
  a: {line: [[25, -5], [31, 17]], angle: %.3f, radius: 2}
  b: {line: [[62, 17], [57, -5]], angle: %.3f, radius: 1}
  c: {line: [[92, -5], [92, 17]], angle: %.3f, radius: 3}
`, a, b, c)
		programs, _ := journey(t, src)
		v := &voyage{ctx: context.Background(), program: &programs[0], chord: 0.05}
		checkSwing(t, v, r)
	}
}

// checkSwing compares bounds over random intervals with what every node does.
func checkSwing(t *testing.T, v *voyage, r *rand.Rand) {
	t.Helper()
	length := 0.02 + 0.3*r.Float64()
	from := r.Float64() * (1 - length)
	mid, err := v.at(from + length/2)
	if err != nil {
		t.Fatal(err)
	}
	s := v.swing(mid, length)
	for range 6 {
		other, err := v.program.State(0, from+length*r.Float64())
		if err != nil {
			t.Fatal(err)
		}
		for i, m := range mid.members {
			body := &mid.tree.Bodies[i]
			bound, most := s.along(m, s.chain(m)), 0.0
			for k, p := range m.flat {
				most = max(most, landsAt(other.Folded, body, p).Sub(mgl64.Vec3(m.points[k])).Len())
			}
			if most > bound+1e-9 {
				t.Fatalf("%s moves by %g, bound %g", body.Name, most, bound)
			}
		}
	}
}

// landsAt returns where a point of a body's flat mesh lies.
func landsAt(f *fold.Folded, b *fold.Body, p vec) mgl64.Vec3 {
	if b.Kind == fold.KindBend {
		return f.BendPoint(b.Bend, flat.Pt{X: p[0], Y: p[1]}, p[2])
	}
	return fold.Apply(f.BodyMotion(b), p)
}

// A motion that is stopped is not covered, and says so.
func TestStopped(t *testing.T) {
	programs, walls := journey(t, flap("[[70, 0, 0], [71, 10, 1]]", ""))
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if r := Move(ctx, programs, walls, 0.01); r.Covered {
		t.Error("a stopped proof covers the motion")
	}
}

func BenchmarkMove(b *testing.B) {
	programs, walls := journey(b, flap("[[62, 0, 20], [64, 10, 22]]", ""))
	for b.Loop() {
		Move(context.Background(), programs, walls, 0.01)
	}
}
