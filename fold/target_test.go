package fold

import (
	"math"
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

// hook is a strip of 0.2 mm film, bent up by 90 degrees at x = 37 with inside radius 2, with cubes of 2 mm on its far end.
func hook(t testing.TB) *Tree {
	t.Helper()
	d := spec{outline: box(0, 0, 70, 20), base: flat.Pt{X: 5, Y: 5}, hinges: []Hinge{hinge("neck", 37, -1, 37, 21, 90, 2)},
		areas: []area{{name: "end", loop: rect(45, 0, 70, 20), thick: 0.2}}}.design(t)
	d.Components = []Component{
		{Name: "U1", At: flat.Pt{X: 60, Y: 10}, Size: &[2]float64{2, 2}, Height: finding.Number(2)},
		{Name: "U2", At: flat.Pt{X: 60, Y: 10}, Size: &[2]float64{2, 2}, Side: Bottom, Turn: 90, Standoff: 0.5}, // no height, hence no body
		{Name: "U3", At: flat.Pt{X: 37, Y: 10}, Size: &[2]float64{1, 1}, Height: finding.Number(1)},
		{Name: "U4", At: flat.Pt{X: 71, Y: 10}, Size: &[2]float64{1, 1}, On: "end"},
	}
	d.Stiffeners = []Stiffener{{Name: "pad", Side: Bottom, Thickness: 0.3, Area: rect(50, 2, 68, 18)}}
	tree, ps := Divide(d)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return tree
}

func landing(t testing.TB, f *Folded, g Target) Landing {
	t.Helper()
	l, err := f.Measure(&g)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// By hand: the neutral radius is 2.1, the bend area reaches 1.05 * pi/2 to each side of x = 37. What lies at (x, y, z) behind
// it comes to x = 37 - 1.05 pi/2 + 2.1 - z, at a height of 2.1 + x - 37 - 1.05 pi/2.
func TestTargetsByHand(t *testing.T) {
	f := hook(t).place(t, 1)
	half := 1.05 * math.Pi / 2
	up := func(x, y, z float64) mgl64.Vec3 { return mgl64.Vec3{37 - half + 2.1 - z, y, 2.1 + x - 37 - half} }
	quarter := math.Sqrt(0.5)
	for _, c := range []struct {
		on          string
		point       mgl64.Vec3
		where, axis mgl64.Vec3
	}{
		{"U1", mgl64.Vec3{1, 0, 1}, up(61, 10, 1.1), mgl64.Vec3{0, 0, 1}},
		{"component:U2", mgl64.Vec3{1, 0, 2}, up(60, 11, -2.6), mgl64.Vec3{0, 1, 0}}, // turned by 90, 0.5 off the board
		{"U3", mgl64.Vec3{0, 0, 1}, mgl64.Vec3{37 - half + 2.1*quarter - 1.1*quarter, 10, 2.1*(1-quarter) + 1.1*quarter}, mgl64.Vec3{quarter, 0, quarter}},
		{"U4", mgl64.Vec3{0, 0, 0}, up(71, 10, 0.1), mgl64.Vec3{0, 0, 1}},
		{"end", mgl64.Vec3{70, 3, 0.1}, up(70, 3, 0.1), mgl64.Vec3{-1, 0, 0}},
		{"section:end", mgl64.Vec3{70, 3, -0.1}, up(70, 3, -0.1), mgl64.Vec3{1, 0, 0}},
		{"end", mgl64.Vec3{72, 3, 0}, up(72, 3, 0), mgl64.Vec3{-1, 0, 0}}, // off the board
		{"pad", mgl64.Vec3{60, 3, -0.4}, up(60, 3, -0.4), mgl64.Vec3{1, 0, 0}},
		{"flex:flat-1", mgl64.Vec3{2, 3, 0.1}, mgl64.Vec3{2, 3, 0.1}, mgl64.Vec3{0, 0, 1}},
	} {
		l := landing(t, f, Target{On: c.on, Point: c.point, At: c.where, Facing: c.axis})
		nearVec(t, c.on, l.Point, c.where)
		nearVec(t, c.on+" axis", l.Axis, c.axis)
		if !l.OK || l.Turn != nil || math.Abs(l.Across) > 1e-9 || math.Abs(l.Along) > 1e-9 || l.Tilt > 1e-6 {
			t.Errorf("%s: %+v", c.on, l)
		}
	}
}

// off returns a target that U1 misses by known amounts: 0.5 across, 0.2 along, 5 degrees of tilt, 2 of turn.
func off() Target {
	half := 1.05 * math.Pi / 2
	s, c := math.Sincos(5 * math.Pi / 180)
	facing := mgl64.Vec3{0, s, c} // the axis points along z
	x, y := mgl64.Vec3{1, 0, 0}, mgl64.Vec3{0, c, -s}
	point := mgl64.Vec3{37 - half + 1, 10, 2.1 + 61 - 37 - half}
	sn, cs := math.Sincos(2 * math.Pi / 180)
	// the wanted turn, 2 degrees short of where the part's y, seen along facing, points
	wanted := y.Mul(cs).Add(x.Mul(sn))
	return Target{Name: "off", On: "U1", Point: mgl64.Vec3{1, 0, 1}, At: point.Sub(x.Mul(0.3)).Sub(y.Mul(0.4)).Sub(facing.Mul(0.2)), Facing: facing.Mul(7),
		TurnAxis: &[2]mgl64.Vec3{{0, 3, 0}, wanted.Mul(5)}}
}

func checkOff(t *testing.T, what string, l Landing, turn float64) {
	t.Helper()
	near(t, what+" across", l.Across, 0.5, 1e-9)
	near(t, what+" along", l.Along, 0.2, 1e-9)
	near(t, what+" tilt", l.Tilt, 5, 1e-9)
	if l.Turn == nil {
		t.Fatalf("%s: no turn", what)
	}
	near(t, what+" turn", *l.Turn, turn, 1e-9)
}

// Each measure is what it is called, and each bound is judged by itself; one that is just met is kept.
func TestTargetsMissed(t *testing.T) {
	f := hook(t).place(t, 1)
	checkOff(t, "off", landing(t, f, off()), 2)
	number := finding.Number
	for _, c := range []struct {
		within Within
		missed []string
	}{
		{Within{}, nil},
		{Within{Across: number(0.5), Along: &[2]float64{-0.1, 0.2}, Tilt: number(5), Turn: number(2)}, nil},
		{Within{Across: number(0.499), Along: &[2]float64{-0.1, 0.199}, Tilt: number(4.9), Turn: number(1.9)}, []string{"across", "along", "tilt", "turn"}},
		{Within{Along: &[2]float64{0.2, 0.3}}, nil},
		{Within{Along: &[2]float64{0.201, 0.3}, Tilt: number(90)}, []string{"along"}},
		{Within{Across: number(0)}, []string{"across"}},
	} {
		g := off()
		g.Within = c.within
		l := landing(t, f, g)
		var missed []string
		for _, m := range l.Missed {
			missed = append(missed, m.What)
			if m.Value == nil || m.Limit == nil || m.Unit == "" {
				t.Errorf("%+v", m)
			}
		}
		if l.OK != (len(c.missed) == 0) || !slices.Equal(missed, c.missed) {
			t.Errorf("%+v: ok %v, missed %v", c.within, l.OK, missed)
		}
	}
	g := off()
	g.TurnAxis[1], g.Within.Turn = g.Facing, number(90)
	if l := landing(t, f, g); l.Turn != nil || l.OK {
		t.Errorf("a turn about its own axis: %+v", l)
	}
}

// The housing may stand anywhere: target and place moved together measure the same.
func TestTargetsMoveWithThePlace(t *testing.T) {
	tree := hook(t)
	for _, p := range []Placement{{Turn: [3]float64{90, 0, 0}}, {Turn: [3]float64{10, 20, 30}, Move: mgl64.Vec3{100, -50, 3}}, {Datum: "bottom", Move: mgl64.Vec3{0, 0, 1}}} {
		tree.Design.Place = p
		m := tree.HousingFromBoard()
		g := off()
		g.At, g.Facing, g.TurnAxis[1] = Apply(m, g.At), Turn(m, g.Facing), Turn(m, g.TurnAxis[1])
		checkOff(t, "placed", landing(t, tree.place(t, 1), g), 2)
	}
}

// The mirrored board misses the mirrored target by as much, and turns the other way.
func TestTargetsOfTheMirroredBoard(t *testing.T) {
	d := spec{outline: box(-70, 0, 0, 20), base: flat.Pt{X: -5, Y: 5}, hinges: []Hinge{hinge("neck", -37, -1, -37, 21, 90, 2)}}.design(t)
	d.Components = []Component{{Name: "U1", At: flat.Pt{X: -60, Y: 10}, Size: &[2]float64{2, 2}, Height: finding.Number(2)}}
	tree, ps := Divide(d)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	g := off()
	for _, v := range []*mgl64.Vec3{&g.Point, &g.At, &g.Facing, &g.TurnAxis[0], &g.TurnAxis[1]} {
		v[0] = -v[0]
	}
	g.Axis = mgl64.Vec3{-1, 0, 0}
	checkOff(t, "mirrored", landing(t, tree.place(t, 1), g), -2)
}

// A strip folded to a square tube brings its end to its start: a target, not a loop (GEOMETRY W33).
func TestTubeClosesAsATarget(t *testing.T) {
	// four sides of 12 mm plus four bends, the first side cut in the middle
	w := (1.5 + 0.1) * math.Pi / 2
	at := func(i float64) float64 { return 6 + w/2 + i*(12+w) }
	s := spec{outline: box(0, 0, 4*(12+w), 10), base: flat.Pt{X: 1, Y: 5}}
	for i := range 4 {
		s.hinges = append(s.hinges, hinge(string(rune('a'+i)), at(float64(i)), -1, at(float64(i)), 11))
	}
	s.areas = []area{{name: "tab", loop: rect(at(3)+w/2, 0, 4*(12+w), 10), thick: 0.2}}
	l := landing(t, s.divide(t).place(t, 1), Target{On: "tab", Point: mgl64.Vec3{4 * (12 + w), 5, 0}, At: mgl64.Vec3{0, 5, 0}, Facing: mgl64.Vec3{1, 0, 0}, Axis: mgl64.Vec3{1, 0, 0}})
	near(t, "across", l.Across, 0, 1e-12)
	near(t, "along", l.Along, 0, 1e-12)
	near(t, "tilt", l.Tilt, 0, 1e-12)
}

// A point in a bend area moves with the flex there.
func TestTargetInABend(t *testing.T) {
	d := spec{outline: box(0, 0, 60, 10), base: flat.Pt{X: 1, Y: 5}, hinges: []Hinge{hinge("a", 30, -1, 30, 11, 120, 2)}, areas: []area{{name: "arm", loop: rect(20, 0, 60, 10), thick: 0.2}}}.design(t)
	tree, _ := Divide(d)
	for _, fraction := range []float64{0, 0.3, 1} {
		f := tree.place(t, fraction)
		for _, x := range []float64{28.5, 30, 31.2} {
			want := f.BendPoint(0, flat.Pt{X: x, Y: 4}, 0.1)
			l := landing(t, f, Target{On: "arm", Point: mgl64.Vec3{x, 4, 0.1}, Facing: mgl64.Vec3{0, 0, 1}})
			nearVec(t, "point", l.Point, want)
			nearVec(t, "axis", l.Axis, f.BendPoint(0, flat.Pt{X: x, Y: 4}, 1.1).Sub(want))
		}
	}
}

func TestTargetsThatCannotBe(t *testing.T) {
	f := hook(t).place(t, 1)
	f.Tree.Design.Components = append(f.Tree.Design.Components, Component{Name: "U9", At: flat.Pt{X: 500, Y: 0}, Diameter: 2})
	for _, g := range []Target{{On: "U8", Facing: mgl64.Vec3{1, 0, 0}}, {On: "U1"}, {On: "U9", Facing: mgl64.Vec3{1, 0, 0}}, {On: "bend:neck", Facing: mgl64.Vec3{1, 0, 0}}} {
		if l, err := f.Measure(&g); err == nil {
			t.Errorf("%+v lands: %+v", g, l)
		}
	}
}
