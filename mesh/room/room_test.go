package room

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/designfile"
	"foldfit/mesh"
)

// strip is a strip 60 x 10 of flex 0.2 thick, bent about x = 30 with radius 1.5; more keys follow.
func strip(angle float64, more string) string {
	return fmt.Sprintf(`outline: [[0, 0], [60, 0], [60, 10], [0, 10]]
stackups: {film: {thickness: 0.2}, plate: {thickness: 1.6, rigid: true}}
flex: film
base: {at: [1, 1]}
hinges: {neck: {line: [[30, -1], [30, 11]], angle: %v, radius: 1.5}}
`, angle) + more
}

// rooms folds and skins a design and returns the room at its bends.
func rooms(t testing.TB, src string) (*mesh.Assembly, []Room) {
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
	a, err := mesh.Skin(f, 0.001)
	if err != nil {
		t.Fatal(err)
	}
	return a, Rooms(a)
}

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) && got != want {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

func TestNothingInTheWay(t *testing.T) {
	_, got := rooms(t, strip(90, "components: {U1: {side: bottom, at: [20, 5], size: [2, 2, 1]}}\n"))
	r := got[0]
	near(t, "diameter", r.Diameter, 3, 0)
	if r.Flat.Entered.Body != -1 || !math.IsInf(r.Flat.Laid.Gap, 1) || r.Folded.Entered.Body != -1 || !math.IsInf(r.Folded.Laid.Gap, 1) {
		t.Errorf("%+v", r)
	}
	near(t, "the arc holds no larger rod", r.Folded.Laid.Largest, 3, 1e-12)
}

// A box 2 x 2 x 1 at x = 26, turned or not: the nearest point of its section is (c, 1) from the rod's foot, the rod's
// middle 1.5 over the face.
func TestComponentOnTheFlat(t *testing.T) {
	for _, turn := range []float64{0, 45, 90} {
		half := math.Abs(math.Cos(turn*math.Pi/180)) + math.Abs(math.Sin(turn*math.Pi/180))
		c := 30 - 26 - half
		for _, side := range []string{"top", "bottom"} {
			sign := 1.0
			if side == "bottom" {
				sign = -1
			}
			a, got := rooms(t, strip(sign*170, fmt.Sprintf("components: {U1: {side: %s, at: [26, 5], size: [2, 2, 1], turn: %v}}\n", side, turn)))
			m := got[0].Flat.Laid
			if m.Body < 0 || a.Folded.Tree.Bodies[m.Body].Name != "component:U1" {
				t.Fatalf("%+v", m)
			}
			near(t, "gap", m.Gap, math.Hypot(c, 0.5)-1.5, 1e-9)
			// a circle through (c, 1), the top edge; lower points of the wall need larger ones, as c is above 1
			near(t, "largest", m.Largest, c*c+1, 1e-9)
		}
	}
}

func TestWallBesideTheRod(t *testing.T) {
	// A component 5 high with its wall 1.2 beside the foot: a circle on the face touches a wall at its own height.
	_, got := rooms(t, strip(170, "components: {U1: {side: top, at: [27.8, 5], size: [2, 2, 5]}}\n"))
	near(t, "largest", got[0].Flat.Laid.Largest, 2.4, 1e-9)
	near(t, "gap", got[0].Flat.Laid.Gap, 1.2-1.5, 1e-9)
	// Over the foot with 1 mm below: it rests at most a rod of 1 mm.
	_, got = rooms(t, strip(170, "components: {U1: {side: top, at: [27, 5], boxes: [[-1, -1, 1, 5, 1, 2]]}}\n"))
	near(t, "largest under a bridge", got[0].Flat.Laid.Largest, 1, 1e-9)
	// Right through: a short rod lies wholly inside, a long one's axis runs into it.
	_, got = rooms(t, strip(170, "components: {U1: {side: top, at: [30, 5], size: [8, 30, 4]}}\n"))
	near(t, "largest in a block", got[0].Flat.Laid.Largest, 0, 0)
	near(t, "gap in a block", got[0].Flat.Laid.Gap, -1.5-1.5, 1e-9)
	near(t, "entering a block", got[0].Flat.Entered.Gap, -1.5, 1e-9)
}

// In the fold the rod lies on the tangent lines: a component of height h beyond the near one, by c, is hypot(c, R - h) from
// the axis while it is lower than the axis.
func TestFolded(t *testing.T) {
	half := 1.6 * math.Pi / 4 // of the bend area
	for _, x := range []float64{30 - half - 0.5 - 1, 30 + half + 0.5 + 1} {
		a, got := rooms(t, strip(90, fmt.Sprintf("place: {turn: [10, 20, 30], move: [1, 2, 3]}\ncomponents: {U1: {side: top, at: [%v, 5], size: [2, 2, 1]}}\n", x)))
		m := got[0].Folded.Laid
		if m.Body < 0 || a.Folded.Tree.Bodies[m.Body].Name != "component:U1" {
			t.Fatalf("%+v", m)
		}
		near(t, "gap", m.Gap, math.Hypot(0.5, 0.5)-1.5, 1e-9)
		near(t, "largest", m.Largest, 2*math.Hypot(0.5, 0.5), 1e-9)
	}
	// A rigid step beside the tangent line is in the way, flush flex is not.
	a, got := rooms(t, strip(90, "sections: {main: {stackup: plate, area: {rect: [0, 0, 28, 10]}}}\n"))
	c := 30 - half - 28
	if m := got[0].Folded.Laid; m.Body < 0 || a.Folded.Tree.Bodies[m.Body].Name != "section:main" {
		t.Fatalf("%+v", m)
	} else {
		near(t, "step", m.Gap, math.Hypot(c, 1.5-0.7)-1.5, 1e-9)
	}
}

// The rod comes in from the side that is free: what overhangs one end of the bend area, or both.
func TestWaysIn(t *testing.T) {
	block := func(name string, y float64) string {
		return fmt.Sprintf("  %s: {side: top, on: plain, at: [30, %v], size: [9, 2, 3]}\n", name, y)
	}
	plain := "sections: {plain: {stackup: film, area: {rect: [0, 0, 20, 10]}}}\ncomponents:\n"
	_, got := rooms(t, strip(170, plain+block("U1", 12)))
	near(t, "one end is free", got[0].Flat.Entered.Gap, math.Inf(1), 0)
	if got[0].Flat.Entered.End != 0 {
		t.Errorf("comes in past end %d", got[0].Flat.Entered.End)
	}
	_, got = rooms(t, strip(170, plain+block("U1", -2)))
	if got[0].Flat.Entered.Body != -1 || got[0].Flat.Entered.End != 1 {
		t.Errorf("the other end: %+v", got[0].Flat)
	}
	_, got = rooms(t, strip(170, plain+block("U1", 12)+block("U2", -2)))
	if got[0].Flat.Laid.Body != -1 {
		t.Errorf("a short rod can be laid in: %+v", got[0].Flat.Laid)
	}
	if got[0].Flat.Entered.Gap >= 0 {
		t.Errorf("both ends are shut, gap %g", got[0].Flat.Entered.Gap)
	}
}

// A second hinge beyond brings the strip back over the rod of the first; formed alone, nothing is there.
func TestAlone(t *testing.T) {
	a, together := rooms(t, `outline: [[0, 0], [60, 0], [60, 10], [0, 10]]
stackups: {film: {thickness: 0.2}}
flex: film
base: {at: [1, 1]}
hinges:
  a: {line: [[20, -1], [20, 11]], angle: 90, radius: 1.5}
  b: {line: [[26, -1], [26, 11]], angle: 170, radius: 1}
  c: {line: [[50, -1], [50, 11]], angle: 0, radius: 1}
`)
	alone, err := Alone(a.Folded.Tree, 0.01)
	if err != nil || len(alone) != 2 {
		t.Fatal(alone, err)
	}
	if alone[0].Folded.Laid.Body != -1 && alone[0].Folded.Laid.Gap < 0 {
		t.Errorf("alone: %+v", alone[0].Folded)
	}
	if m := together[0].Folded.Laid; m.Body < 0 || m.Gap >= 0 {
		t.Errorf("together: %+v", m)
	}
	if _, err := Alone(a.Folded.Tree, 0); err == nil {
		t.Error("a chord of 0 was taken")
	}
}

// Two independent ways: sampled points of the component against the rod.
func TestRandomComponents(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 60 {
		lean, angle := 4*r.Float64()-2, math.Copysign(60+100*r.Float64(), r.Float64()-0.5)
		side := "top"
		if angle < 0 {
			side = "bottom"
		}
		src := fmt.Sprintf(`outline: [[0, 0], [60, 0], [60, 10], [0, 10]]
stackups: {film: {thickness: 0.2}}
flex: film
base: {at: [1, 1]}
hinges: {neck: {line: [[%v, -1], [%v, 11]], angle: %v, radius: 1.5}}
components: {U1: {side: %s, at: [%v, 5], size: [%v, 2, %v], turn: %v}}
`, 30-lean, 30+lean, angle, side, 24+3*r.Float64(), 1+3*r.Float64(), 0.3+3*r.Float64(), 360*r.Float64())
		a, got := rooms(t, src)
		b := &a.Folded.Tree.Bends[0]
		k := len(a.Bodies) - 1
		foot := b.Origin.Add(b.Dir.Mul(b.Width / 2))
		least, largest := math.Inf(1), math.Inf(1)
		for _, p := range sampled(&a.Bodies[k]) {
			x, z := p[0]-foot.X, math.Abs(p[2])-0.1
			across := x*b.Dir.X + (p[1]-foot.Y)*b.Dir.Y
			least = min(least, math.Hypot(across, z-1.5)-1.5)
			if z > 0 {
				largest = min(largest, (across*across+z*z)/z)
			}
		}
		near(t, "gap", got[0].Flat.Laid.Gap, least, 0.01)
		near(t, "largest", got[0].Flat.Laid.Largest, largest, 0.03)
		if got[0].Flat.Laid.Gap > least+1e-9 || got[0].Flat.Laid.Largest > largest+1e-9 {
			t.Errorf("a sampled point is nearer: %+v, %g %g", got[0].Flat, least, largest)
		}
		if t.Failed() {
			t.Fatal(src)
		}
	}
}

// sampled returns points all over the triangles of a body in the flat.
func sampled(b *mesh.Body) []mgl64.Vec3 {
	const n = 100
	var out []mgl64.Vec3
	for _, t := range b.Triangles {
		for i := range n + 1 {
			for j := range n + 1 - i {
				u, v := float64(i)/n, float64(j)/n
				out = append(out, b.Flat[t[0]].Mul(1-u-v).Add(b.Flat[t[1]].Mul(u)).Add(b.Flat[t[2]].Mul(v)))
			}
		}
	}
	return out
}
