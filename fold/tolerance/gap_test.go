package tolerance

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

const degree = math.Pi / 180

// strip is a strip 60 x 10 of plain flex 0.2 thick that folds about x = 30 to an angle, with radius 1.5: neutral radius 1.6.
func strip(angle float64, more string) string {
	return fmt.Sprintf(`outline: [[0, 0], [60, 0], [60, 10], [0, 10]]
stackups: {film: {thickness: 0.2}}
flex: film
base: {at: [1, 1]}
hinges: {neck: {line: [[30, -1], [30, 11]], angle: %v, radius: 1.5, tolerance: {angle: 2, line: 0.5}}}
`, angle) + more
}

func worth(t *testing.T, f *fold.Folded, m Measured) *Worth {
	t.Helper()
	w, err := Of(f, m)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// A flat folded back over another turns about the bend: what lies L from the tangent line comes down by L for a radian, and
// the loop of constant length gets narrower by 2 rho/pi besides (its height is 2w/angle).
func TestSlabOverABoard(t *testing.T) {
	f := place(t, divide(t, strip(180, "")))
	long := 30 - 1.6*math.Pi/2
	narrower := 2 * 1.6 / math.Pi
	m := Measured{Between: [2]string{"flex:flat-1", "flex:flat-2"}, At: [2]mgl64.Vec3{{20, 5, 0.1}, {20, 5, 3.1}}, Gap: 3, Low: 3}
	w := worth(t, f, m)
	near(t, "pairs", float64(w.Pairs), 5, 0)
	near(t, "up", w.Gains[0].Angle[0], -(long+narrower)*degree, 1e-12)
	near(t, "down", w.Gains[0].Angle[1], narrower*degree, 1e-12)
	perDegree, perTenth := w.Gains[0].Loss()
	near(t, "loss", perDegree, (long+narrower)*degree, 1e-12)
	near(t, "a moved line lets the fold slide along itself", perTenth, 0, 1e-12)
	m.Alone = true
	at := worth(t, f, m)
	near(t, "one point", at.Gains[0].Angle[0], -(30-1.6*math.Pi/2-20+narrower)*degree, 1e-12)
	near(t, "and back", at.Gains[0].Angle[1], (30-1.6*math.Pi/2-20+narrower)*degree, 1e-12)
	near(t, "the order of the bodies", worth(t, f, Measured{Between: [2]string{m.Between[1], m.Between[0]}, At: [2]mgl64.Vec3{m.At[1], m.At[0]}, Gap: 3}).Gains[0].Angle[0], w.Gains[0].Angle[0], 1e-15)
	if w.Unsure != "" {
		t.Error(w.Unsure)
	}
}

// A wing that stands up from x = 30 has a wall beside it: the line's shift counts fully, the angle by the height.
func TestWallBesideAWing(t *testing.T) {
	f := place(t, divide(t, strip(90, "enclosure: {wall: {box: [[40, 2, 0], [41, 30, 20]]}}\n")))
	half := 1.6 * math.Pi / 4
	x := 30 - half + 1.6 + 0.1 // the outer face: near tangent line, radius, half the thickness
	m := Measured{Between: [2]string{"enclosure:wall", "flex:flat-2"}, At: [2]mgl64.Vec3{{40, 5, 4}, {x, 5, 4}}, Gap: 40 - x, Low: 40 - x}
	w := worth(t, f, m)
	// The end of the arc: x = (w/a) sin a, z = (w/a)(1 - cos a); at 90 degrees dx/da = -rho/(pi/2), and above it the wing turns back.
	rate := func(z float64) float64 { return (1.6/(math.Pi/2) + z - 1.6) * degree }
	near(t, "pairs", float64(w.Pairs), 5, 0)
	near(t, "up", w.Gains[0].Angle[0], rate(1.6), 1e-12) // the wing's foot gains least
	near(t, "down", w.Gains[0].Angle[1], -rate(20), 1e-12)
	// toward the top of the fold the line's normal is -x
	near(t, "normal", Normal(f.Tree, 0).X, -1, 0)
	near(t, "along the normal", w.Gains[0].Line[0], 0.1, 1e-12)
	near(t, "against it", w.Gains[0].Line[1], -0.1, 1e-12)

	tol := Tolerances(f.Tree.Design)
	if tol[0] != (Shift{2, 0.5}) {
		t.Fatalf("tolerances %v", tol)
	}
	near(t, "linear, least", w.Linear(tol).Least, 40-x-2*rate(20)-0.5, 1e-9)
	if worst := w.Worst(tol); worst[0] != (Shift{-2, -0.5}) {
		t.Errorf("worst at %v", worst)
	}
	m.Low -= 0.01
	near(t, "a chord widens it", worth(t, f, m).Linear(tol).Least, 40-x-2*rate(20)-0.5-0.01, 1e-9)
	near(t, "on one side", worth(t, f, m).Linear(tol).Most, w.Linear(tol).Most, 0)
}

// What hinges do to both bodies alike is exactly nothing.
func TestHingesBelowTheCommonFlat(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	boards(t, 40, func(_ *rand.Rand, f *fold.Folded) {
		for range 10 {
			i, k := r.IntN(len(f.Tree.Bodies)), r.IntN(len(f.Tree.Bodies))
			a, b := &f.Tree.Bodies[i], &f.Tree.Bodies[k]
			pa, za := somewhere(r, a)
			pb, zb := somewhere(r, b)
			housing := f.Tree.HousingFromBoard()
			at := [2]mgl64.Vec3{fold.Apply(housing, image(f, i, pa, za)), fold.Apply(housing, image(f, k, pb, zb))}
			d := at[0].Sub(at[1]).Len()
			w := worth(t, f, Measured{Between: [2]string{a.Name, b.Name}, At: at, Gap: d, Low: d, Alone: true})
			onA, _ := OnBody(f, i, image(f, i, pa, za))
			onB, _ := OnBody(f, k, image(f, k, pb, zb))
			shared := common(onA.path(f.Tree), onB.path(f.Tree))
			moves := map[int]bool{}
			for _, p := range []Point{onA, onB} {
				for _, s := range p.path(f.Tree)[shared:] {
					moves[f.Tree.Bends[s.bend].Hinge] = true
				}
			}
			for h, g := range w.Gains {
				if !moves[h] && g != (Gain{}) {
					t.Errorf("%s - %s: hinge %d moves both alike, gain %v", a.Name, b.Name, h, g)
				}
				// against placing both points anew
				for sign, want := range map[float64]float64{1: g.Angle[0], -1: g.Angle[1]} {
					off := make([]Shift, len(f.Angles))
					off[h].Angle = sign * 1e-4
					near(t, "gain by placing", (w.signed(&w.pairs[0], off)-d)/1e-4, want, 1e-3)
				}
			}
		}
	})
}

// The ends of the tolerances by placing anew agree with a board that is divided again.
func TestExactEnds(t *testing.T) {
	f := place(t, divide(t, strip(90, "enclosure: {wall: {box: [[40, 2, 0], [41, 30, 20]]}}\ncomponents: {U1: {side: bottom, at: [50, 5], size: [2, 2, 1]}}\n")))
	i := len(f.Tree.Bodies) - 1
	p := flat.Pt{X: 50, Y: 5}
	at := image(f, i, p, -1.1)
	m := Measured{Between: [2]string{"component:U1", "enclosure:wall"}, At: [2]mgl64.Vec3{at, {40, at[1], at[2]}}, Gap: 40 - at[0], Low: 40 - at[0], Alone: true}
	w := worth(t, f, m)
	tol := Tolerances(f.Tree.Design)
	for _, c := range []struct {
		off  []Shift
		want float64
	}{{w.Worst(tol), w.Exact(tol).Least}, {[]Shift{{2, 0.5}}, w.Exact(tol).Most}} {
		end, err := Folded(f.Tree, f.Angles, c.off)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "exact end", image(end, i, p, -1.1).Sub(m.At[1]).Len(), c.want, 1e-9)
	}
	if ends := Ends(f.Tree, f.Angles); len(ends) != 4 || ends[2].Off != (Shift{Line: 0.5}) || ends[3].Folded.Tree.Hinges[0].Line[0].X != 30.5 {
		t.Errorf("ends %+v", ends)
	}
}

func TestPiecesThatRide(t *testing.T) {
	src := strip(90, "components: {U1: {side: top, at: [5, 5], size: [2, 2, 1]}}\n")
	tree := divide(t, src)
	at := mgl64.Vec3{3, 4, 5}
	for _, c := range []struct {
		share, angle, height float64
	}{{0, 0, 0}, {1, 1, 1}, {0.5, 0.5, 0}} {
		tree.Design.Enclosure = []fold.Piece{{Name: "lid", Follows: &fold.Follow{Hinge: "neck", Share: c.share}}}
		stands := func(f *fold.Folded) mgl64.Vec3 {
			m, err := f.BoardFromPiece(&f.Tree.Design.Enclosure[0])
			if err != nil {
				t.Fatal(err)
			}
			return fold.Apply(m, at)
		}
		f := place(t, tree)
		on, err := Named(f, "enclosure:lid", stands(f))
		if err != nil {
			t.Fatal(err)
		}
		got := on.Motions(f)[0]
		for k, h := range []Shift{{Angle: dAngle}, {Line: dLine}} {
			up, err := Folded(tree, f.Angles, []Shift{h})
			if err != nil {
				t.Fatal(err)
			}
			down, err := Folded(tree, f.Angles, []Shift{{-h.Angle, -h.Line}})
			if err != nil {
				t.Fatal(err)
			}
			want := stands(up).Sub(stands(down)).Mul(1 / (2 * (h.Angle + h.Line)))
			nearVec(t, fmt.Sprintf("share %g, %d", c.share, k), [2]mgl64.Vec3{got.Angle, got.Line}[k], want, 1e-6)
		}
	}
	tree.Design.Enclosure = []fold.Piece{{Name: "tray"}}
	on, _ := Named(place(t, tree), "enclosure:tray", at)
	if m := on.Motions(place(t, tree)); m[0] != (Motion{}) {
		t.Errorf("the housing moves by %v", m)
	}
}

// An overlap grows deeper where a gap gets smaller; what a piece grows by has no part in the direction.
func TestOverlaps(t *testing.T) {
	f := place(t, divide(t, strip(90, "enclosure: {wall: {box: [[40, 2, 0], [41, 30, 20]], grows: 20}, near: {box: [[30, 2, 0], [41, 30, 20]]}}\n")))
	x := 30 - 1.6*math.Pi/4 + 1.7
	clear := Measured{Between: [2]string{"enclosure:wall", "flex:flat-2"}, At: [2]mgl64.Vec3{{40, 5, 4}, {x, 5, 4}}, Gap: 40 - x - 20, Alone: true}
	deep := Measured{Between: [2]string{"enclosure:near", "flex:flat-2"}, At: [2]mgl64.Vec3{{x - 0.4, 5, 4}, {x, 5, 4}}, Gap: -0.4, Alone: true}
	near(t, "grown", worth(t, f, clear).Gains[0].Line[1], -0.1, 1e-12)
	near(t, "overlap", worth(t, f, deep).Gains[0].Line[1], -0.1, 1e-12)
	if deep.Alone = false; !strings.Contains(worth(t, f, withBox(deep, x-0.4)).Unsure, "overlap") {
		t.Error("an overlap along parallel faces is not marked")
	}
}

// withBox gives the first body a face across the x axis, as a housing's mesh would have.
func withBox(m Measured, x float64) Measured {
	m.Faces[0] = []Face{{{{x, 2, 0}, {x, 30, 0}, {x, 30, 20}, {x, 2, 20}}}}
	return m
}

func TestMeshesWithFaces(t *testing.T) {
	tree := divide(t, strip(90, ""))
	tree.Design.Enclosure = []fold.Piece{{Name: "shell", Mesh: "shell.stl"}}
	f := place(t, tree)
	x := 30 - 1.6*math.Pi/4 + 1.7
	m := Measured{Between: [2]string{"enclosure:shell", "flex:flat-2"}, At: [2]mgl64.Vec3{{40, 5, 4}, {x, 5, 4}}, Gap: 40 - x}
	if w := worth(t, f, m); w.Unsure == "" || w.Pairs != 1 {
		t.Errorf("a mesh without faces: %d pairs, %q", w.Pairs, w.Unsure)
	}
	two := m
	a, b, c, d := mgl64.Vec3{40, 2, 0}, mgl64.Vec3{40, 30, 0}, mgl64.Vec3{40, 30, 20}, mgl64.Vec3{40, 2, 20}
	two.Faces[0] = []Face{{{a, b, c}}, {{a, c, d}}}
	one, cut := worth(t, f, withBox(m, 40)), worth(t, f, two)
	if one.Unsure != "" || one.Gains[0] != cut.Gains[0] || one.Pairs != 5 || cut.Pairs <= 5 {
		t.Errorf("a face and its triangles: %d %v, %d %v", one.Pairs, one.Gains, cut.Pairs, cut.Gains)
	}
}

// A bend that comes nearest along a ruling of its cylinder: both ends count.
func TestBendOverAFloor(t *testing.T) {
	f := place(t, divide(t, strip(180, "enclosure: {wall: {box: [[40, 2, -5], [41, 30, 20]]}}\n")))
	x := 30 - 1.6*math.Pi/2 + 1.7
	w := worth(t, f, Measured{Between: [2]string{"bend:neck", "enclosure:wall"}, At: [2]mgl64.Vec3{{x, 5, 1.6}, {40, 5, 1.6}}, Gap: 40 - x})
	near(t, "pairs", float64(w.Pairs), 3, 0) // the place, y = 2 where the wall begins, y = 10 where the bend ends
	near(t, "the loop's end moves as its line", w.Gains[0].Line[1], -0.1, 1e-12)
}

func TestRefusals(t *testing.T) {
	f := place(t, divide(t, strip(90, "")))
	for _, c := range []struct {
		m    Measured
		want string
	}{
		{Measured{Between: [2]string{"flex:flat-1", "flex:flat-9"}, At: [2]mgl64.Vec3{{}, {1, 0, 0}}, Gap: 1}, "no body is called"},
		{Measured{Between: [2]string{"flex:flat-1", "flex:flat-2"}}, "no way apart"},
	} {
		if _, err := Of(f, c.m); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v", c.m.Between, err)
		}
	}
	if _, err := OnBody(f, 99, mgl64.Vec3{}); err == nil {
		t.Error("body 99 was found")
	}
	touch := Measured{Between: [2]string{"flex:flat-1", "flex:flat-2"}, Way: mgl64.Vec3{0, 0, -2}, Alone: true}
	if w := worth(t, f, touch); w.Gains[0].Angle[0] == 0 {
		t.Error("touching bodies with a way apart have no gain")
	}
	off := make([]Shift, 1)
	off[0].Line = 100
	if _, err := Folded(f.Tree, f.Angles, off); err == nil {
		t.Error("a line off the board was divided")
	}
	if _, err := Folded(f.Tree, nil, off); err == nil {
		t.Error("angles are missing")
	}
}

func TestFreeFlexHasNoMotion(t *testing.T) {
	tree := divide(t, strings.Replace(strip(90, "sections: {a: {stackup: plate, area: {rect: [0, 0, 20, 10]}}, b: {stackup: plate, area: {rect: [40, 0, 60, 10]}}}\n"),
		"film: {thickness: 0.2}", "film: {thickness: 0.2}, plate: {thickness: 1, rigid: true}", 1))
	free, err := tree.FreeFlex(0)
	if err != nil {
		t.Fatal(err)
	}
	f := place(t, tree).Relax([]*fold.FreeFlex{free})
	for name, want := range map[string]bool{"bend:neck": false, "section:b": true} {
		if _, err := Named(f, name, mgl64.Vec3{30, 5, 0}); (err == nil) != want {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func BenchmarkOf(b *testing.B) {
	f := place(b, divide(b, strip(180, "")))
	m := Measured{Between: [2]string{"flex:flat-1", "flex:flat-2"}, At: [2]mgl64.Vec3{{20, 5, 0.1}, {20, 5, 3.1}}, Gap: 3, Low: 3}
	for b.Loop() {
		if _, err := Of(f, m); err != nil {
			b.Fatal(err)
		}
	}
}
