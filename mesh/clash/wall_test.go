package clash

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/mesh"
)

// inPosture folds a board's tree to the angles of a named posture.
func inPosture(t testing.TB, tree *fold.Tree, name string) *mesh.Assembly {
	t.Helper()
	angles, err := tree.PostureAngles(name)
	if err != nil {
		t.Fatal(err)
	}
	f, err := tree.Place(angles)
	if err != nil {
		t.Fatal(err)
	}
	a, err := mesh.Skin(f, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// winged is the strip with a rigid section on its far flat.
func winged(angle float64, more string) string {
	return strip(angle, 1.5, "sections: {wing: {stackup: plate, area: {rect: [40, 0, 60, 10]}}}\n"+more)
}

// riding returns a wall that rides on a section.
func riding(w Wall, on string) Wall {
	p := *w.Piece
	p.On = on
	w.Piece = &p
	return w
}

// following returns a wall that follows the hinge neck.
func following(w Wall, share float64) Wall {
	p := *w.Piece
	p.Follows = &fold.Follow{Hinge: "neck", Share: share}
	w.Piece = &p
	return w
}

// A piece on a wing lies on it at every angle: its points move as the wing's do.
func TestRidingWall(t *testing.T) {
	for _, angle := range []float64{-170, -90, 30, 90, 180} {
		a := board(t, winged(angle, "place: {turn: [0, 20, 0], move: [1, 2, 3]}\n"), 0.01)
		f, tree := a.Folded, a.Folded.Tree
		at := vec{50, 5, 0.8}
		w, err := StandWall(f, riding(wall("cap", 50, 5, 0.8, 55, 8, 3), "wing"))
		if err != nil {
			t.Fatal(err)
		}
		want := fold.Apply(tree.HousingFromBoard(), fold.Apply(f.BoardFromFlat(tree.FlatOfSection("wing")), at))
		if w.Mesh.Points[0] != want && length(sub(w.Mesh.Points[0], want)) > 1e-12 {
			t.Errorf("%v degrees: the corner stands at %v, want %v", angle, w.Mesh.Points[0], want)
		}
		if again, _ := StandWall(f, w); !reflect.DeepEqual(again, w) {
			t.Errorf("%v degrees: placed twice, it moved on", angle)
		}
		r := Check(a, []Wall{riding(wall("cap", 50, 5, 0.8, 55, 8, 3), "wing")})
		expect(t, fmt.Sprintf("%v degrees, resting on its wing", angle), r)
		if g := find(r, "enclosure:cap", "section:wing"); g == nil || !close2(g.Gap, 0, 1e-9) || g.Kind != "enclosure" || !g.Judged {
			t.Errorf("%v degrees: %+v", angle, g)
		}
		r = Check(a, []Wall{riding(wall("cap", 50, 5, 0.5, 55, 8, 3), "wing")})
		expect(t, fmt.Sprintf("%v degrees, into its own wing", angle), r, "contact section:wing enclosure:cap")
		if !close2(*r.Findings[0].Value, 0.3, 1e-9) {
			t.Errorf("%v degrees: depth %v", angle, *r.Findings[0].Value)
		}
	}
	fixed := wall("cap", 1, 2, 3, 4, 5, 6)
	if w, err := StandWall(board(t, winged(90, ""), 0.01).Folded, fixed); err != nil || !reflect.DeepEqual(w, fixed) {
		t.Error("a wall that does not ride has moved")
	}
}

// A piece on the far wing comes down on the base with it.
func TestRidingWallMeetsTheBase(t *testing.T) {
	// Folded flat over, the wing's underside (its top face) lies 3.2 - 0.8 over the base's middle, the base's top 0.1.
	cap := func(high float64) Wall { return riding(wall("cap", 45, 2, 0.8, 55, 8, 0.8+high), "wing") }
	room := 3.2 - 0.8 - 0.1
	for _, c := range []struct {
		high float64
		want []string
	}{
		{room - 0.01, nil}, {room, nil}, {room + 0.1, []string{"contact flex:flat-1 enclosure:cap"}},
	} {
		a := board(t, winged(180, ""), 0.01)
		expect(t, fmt.Sprint(c.high), Check(a, []Wall{cap(c.high)}), c.want...)
		expect(t, "flat", CheckAs(inPosture(t, a.Folded.Tree, "flat"), []Wall{cap(c.high)}, "flat"))
	}
}

// A piece that follows a hinge turns with the flex: with share 0 it stands with the near side, with 1 it goes with the far
// one, with 0.5 it stays on the flex where that has turned by half.
func TestFollowingWall(t *testing.T) {
	for _, angle := range []float64{-120, 45, 180} {
		a := board(t, winged(angle, ""), 0.01)
		f, bend := a.Folded, &a.Folded.Tree.Bends[0]
		for _, share := range []float64{0, 0.25, 0.5, 1} {
			x := bend.Origin.X + share*bend.Width
			w, err := StandWall(f, following(wall("link", x, 3, 0.1, x+1, 6, 2), share))
			if err != nil {
				t.Fatal(err)
			}
			if want := f.BendPoint(0, flat.Pt{X: x, Y: 3}, 0.1); length(sub(w.Mesh.Points[0], want)) > 1e-12 {
				t.Errorf("%v degrees, share %v: %v, want the flex's own point %v", angle, share, w.Mesh.Points[0], want)
			}
			edge := sub(w.Mesh.Points[1], w.Mesh.Points[0])
			s, c := math.Sincos(angle * share * math.Pi / 180)
			if length(sub(edge, vec{c, 0, s})) > 1e-12 {
				t.Errorf("%v degrees, share %v: turned to %v", angle, share, edge)
			}
		}
	}
	still := board(t, strings.Replace(strip(90, 1.5, ""), "angle: 90", "angle: 0", 1), 0.01)
	w, err := StandWall(still.Folded, following(wall("link", 30, 3, 0.1, 31, 6, 2), 0.5))
	if err != nil || w.Mesh.Points[0] != (vec{30, 3, 0.1}) {
		t.Errorf("a hinge of angle 0: %v %v", w.Mesh.Points, err)
	}
}

func TestRidingNowhere(t *testing.T) {
	a := board(t, winged(90, ""), 0.01)
	for _, w := range []Wall{riding(wall("cap", 0, 0, 0, 60, 9, 1), "tail"), following(wall("cap", 0, 0, 0, 60, 9, 1), 1)} {
		if w.Piece.Follows != nil {
			w.Piece.Follows.Hinge = "elbow"
		}
		r := Check(a, []Wall{w})
		if len(r.Findings) != 0 || len(r.Unchecked) != 1 || r.Unchecked[0].On[0] != "enclosure:cap" || !strings.Contains(r.Unchecked[0].Why, "tail") && !strings.Contains(r.Unchecked[0].Why, "elbow") {
			t.Errorf("%v %+v", rules(r), r.Unchecked)
		}
	}
}

// What a piece grows is taken off its gaps: the verdicts and depths are those of a piece drawn so much larger.
func TestGrowingWall(t *testing.T) {
	src := strip(180, 1.5, "clearance: {enclosure: 0.5}\n") // the board stands in z from -0.1 to 3.3
	cell := func(low, grows float64) Wall {
		w := wall("cell", 0, 0, low, 26, 10, 6)
		w.Piece.Grows = grows
		return w
	}
	cases := []struct {
		low, grows, gap float64
		want            []string
	}{
		{4.1, 0.3, 0.5, nil},
		{4.1 - 1e-5, 0.3, 0.5 - 1e-5, []string{"clearance flex:flat-2 enclosure:cell"}},
		{3.5, 0.3, -0.1, []string{"contact flex:flat-2 enclosure:cell"}},
		{3.6, 0.3, 0, []string{"clearance flex:flat-2 enclosure:cell"}},
		{3.3, 0.3, -0.3, []string{"contact flex:flat-2 enclosure:cell"}},
		{3.2, 0.3, -0.4, []string{"contact flex:flat-2 enclosure:cell"}},
		{3.8, 0, 0.5, nil},
	}
	for _, c := range cases {
		for _, others := range [][]Wall{nil, {wall("lid", 0, 0, 4.0, 26, 10, 6)}} {
			r := Check(board(t, src, 0.01), append(others, cell(c.low, c.grows)))
			expect(t, fmt.Sprintf("%v, grows %v", c.low, c.grows), r, c.want...)
			g := find(r, "enclosure:cell", "flex:flat-2")
			if g == nil && others != nil && c.want == nil {
				continue // not the smallest
			}
			if g == nil || !close2(g.Gap, c.gap, 1e-9) || !close2(g.Low, c.gap, 1e-9) {
				t.Errorf("%v, grows %v: %+v, want %v", c.low, c.grows, g, c.gap)
			}
			if len(c.want) > 0 && !strings.Contains(r.Findings[0].Message, "after growing 0.3 mm") {
				t.Errorf("%q", r.Findings[0].Message)
			}
		}
	}
	r := Check(board(t, src, 0.01), []Wall{wall("lid", 0, 0, 4, 26, 10, 6), cell(4.2, 0.6)})
	if g := find(r, "enclosure:cell", "flex:flat-2"); g == nil || !close2(g.Gap, 0.3, 1e-9) {
		t.Errorf("the farther wall is nearer once it has grown: %+v", r.Gaps)
	}
	lid := enclosureLeg(wall("lid", 0, 0, 4, 26, 10, 6), vec{-9, -9, -9}, vec{90, -8, 9}) // its box is the nearest
	r = Check(board(t, src, 0.01), []Wall{lid, cell(4.2, 0.6)})
	if g := find(r, "enclosure:cell", "flex:flat-2"); g == nil || !close2(g.Gap, 0.3, 1e-9) {
		t.Errorf("looked at after a wall that is nearer as drawn: %+v", r.Gaps)
	}
	loose := board(t, src, 0.01)
	loose.Folded.Tree.Design.Clearance.Pairs = []fold.Pair{{Between: [2]string{"cell", "*"}, Gap: -0.1}}
	expect(t, "a pair's own limit", Check(loose, []Wall{cell(3.5, 0.3)}))
}

// A seat that gives way takes up what its piece grows; on a hard one the piece rests and grows the other way.
func TestGrowingWallOnSeats(t *testing.T) {
	for _, c := range []struct {
		low, grows, bond, squeeze float64
		want                      string
	}{
		{-0.05, 0.3, 0.05, 0, ""}, {-0.05, 0.3, 0.05, 0.2, "contact"}, {-0.05, 0.3, 0.05, 0.25, ""}, {-0.3, 0.3, 0, 0.5, "not-seated"}, {0.1, 0.3, 0, 0.4, ""}, {0.1, 0.3, 0, 0.35, "contact"},
	} {
		cell := wall("cell", 10, 8, -5, 20, 14, c.low)
		cell.Piece.Grows = c.grows
		seat := fold.Seat{Name: "tape", On: "main", Side: fold.Bottom, Area: rect(10, 8, 20, 14), Against: "cell", Bond: c.bond, Squeeze: c.squeeze}
		r := checkSeats(t, plate(0, ""), []fold.Seat{seat}, cell)
		var want []string
		if c.want != "" {
			want = []string{c.want + " section:main enclosure:cell"}
		}
		expect(t, fmt.Sprintf("%+v", c), r, want...)
		if c.want == "contact" {
			says(t, r, "after growing 0.3 mm")
		}
	}
}

// The same walls, prepared once, give the same answers in every posture.
func TestPreparedWalls(t *testing.T) {
	a := board(t, winged(170, "clearance: {enclosure: 0.5}\n"), 0.01)
	tree := a.Folded.Tree
	tree.Design.Postures = []fold.Posture{{Name: "open", Angles: []fold.HingeAngle{{Hinge: "neck", Angle: 40}}}, {Name: "back", Angles: []fold.HingeAngle{{Hinge: "neck", Angle: -90}}}}
	tree.Design.Seats = []fold.Seat{{Name: "rest", On: "wing", Side: fold.Top, Area: rect(46, 2, 52, 8), Against: "cap"}}
	walls := []Wall{tray(t, 0), wall("post", 20, 3, -9, 22, 6, -0.3), riding(wall("cap", 45, 2, 0.8, 53, 9, 2), "wing"), wall("above", 10, 2, 12, 12, 5, 30)}
	prepared := Prepare(walls)
	for _, name := range tree.PostureNames() {
		now := inPosture(t, tree, name)
		one, two := CheckAs(now, walls, name), CheckAs(now, prepared, name)
		if !reflect.DeepEqual(one, two) {
			t.Errorf("%s: %v, prepared %v", name, rules(one), rules(two))
		}
		if len(one.Findings) == 0 {
			t.Errorf("%s: nothing found", name)
		}
		for _, f := range one.Findings {
			if f.Posture != name {
				t.Errorf("%s: a finding of posture %q", name, f.Posture)
			}
		}
	}
	if prepared[0].ready.shape == nil || prepared[2].ready != nil {
		t.Error("fixed walls keep their search tree, riding ones have none to keep")
	}
	other := prepared[0]
	other.Mesh = other.Mesh.Place(fold.RigidMotion([3]float64{}, vec{0, 0, 100}))
	if s := other.surface(); s == prepared[0].ready.shape {
		t.Error("a wall with another mesh uses the old one's tree")
	}
}

// In every posture a plain fold is clear of itself, and the gaps are those that its radius gives there.
func TestPosturesHaveTheirOwnGaps(t *testing.T) {
	a := board(t, strip(180, 1.5, "clearance: {board: 50, components: 50}\n"), 0.01)
	tree := a.Folded.Tree
	for _, angle := range []float64{-150, -40, 20, 90, 175} {
		tree.Design.Postures = []fold.Posture{{Name: "p", Angles: []fold.HingeAngle{{Hinge: "neck", Angle: angle}}}}
		r := CheckAs(inPosture(t, tree, "p"), nil, "p")
		expect(t, fmt.Sprint(angle), r)
		radius := 1.6*math.Pi/(math.Abs(angle)*math.Pi/180) - 0.1
		want := 2 * radius * math.Sin(math.Abs(angle)/2*math.Pi/180)
		if g := find(r, "flex:flat-1", "flex:flat-2"); g == nil || !close2(g.Gap, want, 1e-8) || g.Posture != "p" {
			t.Errorf("%v degrees: %+v, want %v", angle, g, want)
		}
	}
	flat := CheckAs(inPosture(t, tree, "flat"), nil, "flat")
	expect(t, "flat", flat)
	for _, g := range flat.Gaps {
		if g.Judged {
			t.Errorf("in the flat nothing has come nearer: %+v", g)
		}
	}
}

// A seat is demanded in every posture in which its flat stands to the piece as folded, and in no other.
func TestSeatsInPostures(t *testing.T) {
	a := board(t, winged(180, ""), 0.01)
	tree := a.Folded.Tree
	tree.Design.Postures = []fold.Posture{{Name: "open", Angles: []fold.HingeAngle{{Hinge: "neck", Angle: 60}}}}
	wing := fold.Seat{Name: "wing", On: "wing", Side: fold.Bottom, Area: rect(44, 2, 50, 8)}
	base := fold.Seat{Name: "base", On: "flex:flat-1", Side: fold.Bottom, Area: rect(4, 2, 10, 8), Against: "floor"}
	floor := wall("floor", 0, 0, -3, 20, 10, -0.1-0.05)                   // 0.05 under the base
	lid := wall("lid", 10, 2, 4.05, 16, 8, 9)                             // 0.05 over the folded wing
	lip := riding(wall("lip", 44, 2, -0.8-2, 50, 8, -0.8-0.05), "wing")   // 0.05 beside the wing, wherever that is
	foot := following(wall("foot", 44, 2, -0.8-2, 50, 8, -0.8-0.05), 1)   // the same by way of the hinge
	half := following(wall("half", 44, 2, -0.8-2, 50, 8, -0.8-0.05), 0.5) // left behind by the wing
	rules2 := func(against string, w Wall, posture string) []string {
		wing.Against = against
		tree.Design.Seats = []fold.Seat{wing, base}
		return rules(CheckAs(inPosture(t, tree, posture), []Wall{floor, w}, posture))
	}
	onBase := "not-seated flex:flat-1 enclosure:floor"
	for _, c := range []struct {
		against string
		w       Wall
		posture string
		want    []string
	}{
		{"lid", lid, "folded", []string{onBase, "not-seated section:wing enclosure:lid"}},
		{"lid", lid, "open", []string{onBase}},
		{"lip", lip, "folded", []string{onBase, "not-seated section:wing enclosure:lip"}},
		{"lip", lip, "open", []string{onBase, "not-seated section:wing enclosure:lip"}},
		{"foot", foot, "open", []string{onBase, "not-seated section:wing enclosure:foot"}},
		{"half", half, "open", []string{onBase}},
	} {
		if got := rules2(c.against, c.w, c.posture); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s in %s: %q, want %q", c.against, c.posture, got, c.want)
		}
	}
}
