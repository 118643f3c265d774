package clash

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/mesh"
)

// plate is a rigid board 40 x 26, 1.6 thick, with its bottom face at height z.
func plate(z float64, more string) string {
	return fmt.Sprintf(`outline: [[0, 0], [40, 0], [40, 26], [0, 26]]
stackups: {film: {thickness: 0.2}, plate: {thickness: 1.6, rigid: true}}
flex: film
sections: {main: {stackup: plate, area: {rect: [0, 0, 40, 26]}}}
base: main
place: {datum: bottom, move: [0, 0, %v]}
clearance: {enclosure: 0.2}
`, z) + more
}

// cornerSeats are the seats of main on the tray's bosses.
func cornerSeats(change func(*fold.Seat)) []fold.Seat {
	var out []fold.Seat
	for i, b := range bosses {
		s := fold.Seat{Name: fmt.Sprintf("boss-%d", i+1), On: "main", Side: fold.Bottom, Area: disc(b[0], b[1], 6), Against: "tray"}
		if change != nil {
			change(&s)
		}
		out = append(out, s)
	}
	return out
}

// checkSeats checks a board with seats.
func checkSeats(t testing.TB, src string, seats []fold.Seat, walls ...Wall) Result {
	t.Helper()
	a := board(t, src, 0.01)
	a.Folded.Tree.Design.Seats = seats
	return Check(a, walls)
}

// seatGap returns the listed gap of a seat.
func gapAtSeat(r Result, name string) *Gap {
	for i, g := range r.Gaps {
		if g.Seat == name {
			return &r.Gaps[i]
		}
	}
	return nil
}

// A board that rests on the bosses of its housing is a clash until the seats are named, and clean when they are; a real
// clash beside a boss is found all the same.
func TestBoardOnBosses(t *testing.T) {
	expect(t, "no seats", checkSeats(t, plate(0, ""), nil, tray(t, 0)), "clearance section:main enclosure:tray")
	r := checkSeats(t, plate(0, ""), cornerSeats(nil), tray(t, 0))
	expect(t, "seats", r)
	for i := range bosses {
		g := gapAtSeat(r, fmt.Sprintf("boss-%d", i+1))
		if g == nil || !close2(g.Gap, 0, 1e-9) || g.Required != 0 || !g.Judged || g.Rule != "" || !close2(g.Low, 0, 1e-9) || g.Kind != "enclosure" {
			t.Errorf("boss %d: %+v", i+1, g)
		}
	}
	if g := find(Result{Gaps: r.Gaps[4:]}, "enclosure:tray", "section:main"); g == nil || !close2(g.Gap, 2, 1e-6) {
		t.Errorf("what is left is the walls, 2 beside the board: %+v", r.Gaps)
	}
	three := checkSeats(t, plate(0, ""), cornerSeats(nil)[:3], tray(t, 0))
	expect(t, "one boss without a seat", three, "clearance section:main enclosure:tray")
	if f := three.Findings[0]; f.At == nil || math.Hypot(f.At[0]-5, f.At[1]-21) > 3.01 {
		t.Errorf("found at %v, want on the boss at (5, 21)", f.At)
	}

	pin := checkSeats(t, plate(0, ""), cornerSeats(nil), tray(t, 0.2, rect(11, 4.5, 12, 5.5))) // 3 beside boss 1
	expect(t, "pin", pin, "contact section:main enclosure:tray")
	if f := pin.Findings[0]; !close2(*f.Value, 0.2, 1e-9) || f.At == nil || math.Hypot(f.At[0]-11.5, f.At[1]-5) > 0.71 {
		t.Errorf("pin: %+v", f)
	}
	for _, c := range []struct {
		name      string
		top, from float64 // of the rib, from the boss's rim
		want      []string
	}{
		{"rib 0.3 beside the boss, touching", 0, 0.3, []string{"clearance section:main enclosure:tray"}},
		{"rib 0.3 beside the boss, too near", -0.15, 0.3, []string{"clearance section:main enclosure:tray"}},
		{"rib 0.3 beside the boss, at the limit", -0.2, 0.3, nil},
		{"rib 0.3 beside the boss, into the board", 0.1, 0.3, []string{"contact section:main enclosure:tray"}},
		{"rib within the grown area", 0, 0.1, nil},
	} {
		x := 8 + c.from
		r := checkSeats(t, plate(0, ""), cornerSeats(nil), tray(t, c.top, rect(x, 4.95, x+0.05, 5.05)))
		expect(t, c.name, r, c.want...)
	}
}

func TestNotSeated(t *testing.T) {
	for _, c := range []struct {
		z, bond float64
		want    bool
	}{
		{0.3, 0, true}, {0.3, 0.3, false}, {0.3, 0.29, false}, {0.3, 0.28, true}, {0.01, 0, false}, {0.0101, 0, true}, {4.9, 0, true}, {5.2, 0, true},
	} {
		r := checkSeats(t, plate(c.z, ""), cornerSeats(func(s *fold.Seat) { s.Bond = c.bond; s.Place.Line = 9 }), tray(t, 0))
		if got := len(r.Findings); got != 4 && c.want || got != 0 && !c.want {
			t.Errorf("%v over the bosses, bond %v: %v", c.z, c.bond, rules(r))
			continue
		}
		if !c.want || c.z > seatReach {
			continue
		}
		f := r.Findings[0]
		if f.Rule != "not-seated" || f.Place.Line != 9 || !close2(*f.Value, c.z, 1e-9) || !close2(*f.Limit, c.bond+0.01, 1e-12) || *f.At != [2]float64{5, 5} {
			t.Errorf("%+v", f)
		}
		if g := gapAtSeat(r, "boss-1"); g == nil || g.Rule != "not-seated" || !close2(g.Gap, c.z, 1e-9) {
			t.Errorf("%+v", g)
		}
	}
	r := checkSeats(t, plate(0.3, ""), cornerSeats(func(s *fold.Seat) { s.Bond = 0.05 })[:1], wall("tray", 0, 0, -3, 10, 10, 0))
	says(t, r, "main stands 0.3 mm above boss-1 (bond 0.05 mm)", "move main by 0.25 mm along -z")
	r = checkSeats(t, plate(5.2, ""), cornerSeats(nil)[:1], tray(t, 0))
	says(t, r, "main has nothing of tray within 5 mm of its bottom side at seat boss-1")
}

// says checks that one of the findings says all that.
func says(t *testing.T, r Result, want ...string) {
	t.Helper()
	var all []string
next:
	for _, f := range r.Findings {
		text := f.Message + " " + f.Hint
		all = append(all, text)
		for _, w := range want {
			if !strings.Contains(text, w) {
				continue next
			}
		}
		return
	}
	t.Errorf("%q does not say %q", all, want)
}

func TestPressedSeat(t *testing.T) {
	for _, c := range []struct {
		deep, squeeze float64
		want          bool
	}{
		{0.35, 0.2, true}, {0.35, 0.35, false}, {0.35, 0.3495, false}, {0.35, 0.3485, true}, {0.0005, 0, false}, {0.002, 0, true},
		{0.9, 1, false}, {0.9, 0.5, true}, {1.5, 1.5, false}, {1.5, 1, true}, {1.9, 2, false}, {2.5, 2, true},
	} {
		r := checkSeats(t, plate(-c.deep, ""), cornerSeats(func(s *fold.Seat) { s.Squeeze = c.squeeze }), tray(t, 0))
		if c.want == (len(r.Findings) == 0) {
			t.Errorf("%v deep, squeeze %v: %v", c.deep, c.squeeze, rules(r))
		}
		for _, f := range r.Findings {
			if f.Rule != "contact" || !close2(*f.Value, c.deep, 1e-9) || *f.Limit != c.squeeze || !strings.Contains(f.Message, "at seat boss-") {
				t.Errorf("%v deep, squeeze %v: %+v", c.deep, c.squeeze, f)
			}
		}
		if g := gapAtSeat(r, "boss-2"); g == nil || !close2(g.Gap, -c.deep, 1e-9) || g.Required != -c.squeeze {
			t.Errorf("%v deep: %+v", c.deep, g)
		}
	}
	r := checkSeats(t, plate(-0.35, ""), cornerSeats(func(s *fold.Seat) { s.Squeeze = 0.2 })[:1], wall("tray", 2, 2, -3, 8, 8, 0))
	says(t, r, "main presses 0.35 mm into tray at seat boss-1, squeeze 0.2 mm allowed", "by 0.15 mm along +z", "squeeze: 0.35")
}

// Foam that is squeezed by more than the flex's thickness is still one seat, and what the same piece has on the other side
// is judged.
func TestFoamUnderThinFlex(t *testing.T) {
	src := strings.NewReplacer("sections: {main: {stackup: plate, area: {rect: [0, 0, 40, 26]}}}\nbase: main\n", "").Replace(plate(-0.35, ""))
	foam := fold.Seat{Name: "foam", On: "main", Side: fold.Bottom, Area: rect(10, 10, 20, 16), Against: "tray", Squeeze: 0.4}
	src = strings.Replace(src, "place:", "sections: {main: {stackup: film, area: {rect: [0, 0, 40, 26]}}}\nplace:", 1)
	pad := wall("tray", 10, 10, -3, 20, 16, 0) // the flex spans -0.35 to -0.15
	expect(t, "foam", checkSeats(t, src, []fold.Seat{foam}, pad))
	foam.Squeeze = 0.3
	r := checkSeats(t, src, []fold.Seat{foam}, pad)
	expect(t, "foam too thick", r, "contact section:main enclosure:tray")
	if !close2(*r.Findings[0].Value, 0.35, 1e-9) {
		t.Errorf("%+v", r.Findings[0])
	}
}

// A part on the other side of a thin board stands nearer to the seat than the clearance asks for; the board keeps it away.
// One on the seat's own side is judged.
func TestPartAboveThinSeatedFlex(t *testing.T) {
	src := strings.Replace(plate(0.05, "components: {U1: {side: top, at: [15, 13], size: [3, 3, 1]}}\n"), "stackup: plate, area", "stackup: film, area", 1)
	tape := fold.Seat{Name: "tape", On: "main", Side: fold.Bottom, Area: rect(8, 8, 22, 18), Against: "shelf", Bond: 0.05}
	shelf := wall("shelf", 8, 8, -3, 22, 18, 0)
	src = strings.Replace(src, "enclosure: 0.2", "enclosure: 0.5", 1)
	expect(t, "above", checkSeats(t, src, []fold.Seat{tape}, shelf))
	expect(t, "without the seat", checkSeats(t, src, nil, shelf), "clearance section:main enclosure:shelf", "clearance component:U1 enclosure:shelf")
	below := strings.Replace(src, "side: top", "side: bottom", 1)
	expect(t, "on the seat's side", checkSeats(t, below, []fold.Seat{tape}, shelf), "contact component:U1 enclosure:shelf")
}

// What the piece has on the other side of the board is judged even over the seat itself: here one mesh of floor, boss, post
// and lid.
func TestOtherSideIsJudged(t *testing.T) {
	cage := func(hang float64) Wall {
		mast := rect(-2.5, 10, -1.5, 16)
		lid := slab{4, 5, flat.Region{rect(-3, 0, 43, 26)}}
		low := slab{1.6 + hang, 4, flat.Region{mast, round(5, 5, 2)}}
		return cast(t, "tray", 0.02, slab{-4, -3, flat.Region{rect(-3, 0, 43, 26)}}, slab{-3, 0, flat.Region{mast, round(5, 5, 6)}},
			slab{0, 1.6 + hang, flat.Region{mast}}, low, lid)
	}
	seat := cornerSeats(nil)[:1]
	expect(t, "clear", checkSeats(t, plate(0, ""), seat, cage(0.2)))
	r := checkSeats(t, plate(0, ""), seat, cage(0.15))
	expect(t, "too near", r, "clearance section:main enclosure:tray")
	if g := gapAtSeat(r, "boss-1"); g == nil || !close2(g.Gap, 0, 1e-9) {
		t.Errorf("%+v", g)
	}
	for _, deep := range []float64{0.3, 0.7} {
		r = checkSeats(t, plate(0, ""), seat, cage(-deep))
		expect(t, "stamp from above", r, "contact section:main enclosure:tray")
		if f := r.Findings[0]; !close2(*f.Value, deep, 1e-9) {
			t.Errorf("stamp %v deep: %v %v", deep, *f.Value, f.Message)
		}
	}
	top := fold.Seat{Name: "stamp", On: "section:main", Side: fold.Top, Area: disc(5, 5, 2), Against: "enclosure:tray", Squeeze: 0.3}
	r = checkSeats(t, plate(0, ""), append(seat, top), cage(-0.3))
	expect(t, "seats on both sides", r)
	if g := gapAtSeat(r, "stamp"); g == nil || !close2(g.Gap, -0.3, 1e-9) {
		t.Errorf("%+v", g)
	}
}

// A board inside a solid block lies in its material; a seat does not hide that.
func TestSwallowedDespiteSeat(t *testing.T) {
	r := checkSeats(t, plate(0, ""), cornerSeats(nil)[:1], wall("tray", -5, -5, -3, 50, 50, 9))
	both := []string{"contact section:main enclosure:tray", "contact section:main enclosure:tray"}
	expect(t, "in a block", r, both...)
	for _, side := range []fold.Side{fold.Top, fold.Bottom} {
		seat := []fold.Seat{{Name: "all", On: "main", Side: side, Area: rect(1, 1, 39, 25), Against: "tray"}}
		expect(t, "seated nearly all over, "+side.String(), checkSeats(t, plate(0, ""), seat, wall("tray", -5, -5, -3, 50, 50, 9)), both...)
	}
}

// A pin beside pressed seats is as deep as the pin is, not as the seats are pressed.
func TestPinBesidePressedSeats(t *testing.T) {
	pads := flat.Region{rect(-1, -1, 4, 4), rect(36, -1, 41, 4), rect(36, 22, 41, 27), rect(-1, 22, 4, 27)}
	var seats []fold.Seat
	for i, p := range pads {
		seats = append(seats, fold.Seat{Name: fmt.Sprint("pad-", i), On: "main", Side: fold.Bottom, Area: p, Against: "tray", Squeeze: 0.5})
	}
	floor := slab{-4, -3, flat.Region{rect(-5, -5, 50, 50)}}
	foam := cast(t, "tray", 0, floor, slab{-3, -0.2, append(pads, rect(20, 10, 21, 11))}, slab{-0.2, 0, pads})
	over := foam // the same from above
	over.Mesh = over.Mesh.Place(fold.RigidMotion([3]float64{180, 0, 0}, vec{0, 26, 0}))
	above := slices.Clone(seats)
	for i := range above {
		above[i].Side = fold.Top
	}
	for _, r := range []Result{checkSeats(t, plate(-0.4, ""), seats, foam), checkSeats(t, plate(0.4-1.6, ""), above, over)} {
		expect(t, "pin", r, "contact section:main enclosure:tray")
		if f := r.Findings[0]; !close2(*f.Value, 0.2, 1e-9) {
			t.Errorf("%+v", f)
		}
	}
}

// Within the grown area the lower half of the board is taken out too: a low lip beside its edge there is the seat's.
func TestLowLipInTheGrownArea(t *testing.T) {
	seat := []fold.Seat{{Name: "rest", On: "main", Side: fold.Bottom, Area: disc(3.1, 13, 6), Against: "tray"}} // 0.1 from the edge
	lip := func(y, high float64) Wall {
		return enclosureLeg(wall("tray", 1, 11, -3, 5, 15, 0), vec{-1, y - 0.1, -3}, vec{-0.15, y + 0.1, high})
	}
	expect(t, "in the grown area", checkSeats(t, plate(0, ""), seat, lip(13, 0.4)))
	expect(t, "in the grown area, up to the upper half", checkSeats(t, plate(0, ""), seat, lip(13, 0.9)), "clearance section:main enclosure:tray")
	expect(t, "beside it", checkSeats(t, plate(0, ""), seat, lip(15, 0.4)), "clearance section:main enclosure:tray")
}

// An open mesh has seats too.
func TestSeatOnOpenMesh(t *testing.T) {
	open := tray(t, 0)
	open.Closed = false
	expect(t, "open", checkSeats(t, plate(0, ""), cornerSeats(nil), open))
	expect(t, "open, off", checkSeats(t, plate(0.1, ""), cornerSeats(nil)[:1], open), "clearance section:main enclosure:tray", "not-seated section:main enclosure:tray")
}

func TestMissingSeats(t *testing.T) {
	off := func(change func(*fold.Seat)) Result {
		return checkSeats(t, plate(0, "components: {U7: {side: top, at: [20, 13], size: [3, 3], height: unknown}}\n"), cornerSeats(change)[:1], tray(t, -3))
	}
	r := off(func(s *fold.Seat) { s.Area = disc(50, 5, 6) })
	says(t, r, "there is nothing of main in the area of seat boss-1")
	r = off(func(s *fold.Seat) { s.Side = fold.Top })
	says(t, r, "main has nothing of tray within 5 mm of its top side at seat boss-1")
	r = off(func(s *fold.Seat) { s.On = "wing" })
	says(t, r, "there is nothing of wing")
	r = checkSeats(t, winged(90, ""), []fold.Seat{{Name: "rest", On: "wing", Area: rect(34, 2, 39, 8), Against: "tray"}}, tray(t, 0))
	says(t, r, "there is nothing of wing") // but flex:wing
	r = off(func(s *fold.Seat) { s.Against = "lid" })
	says(t, r, "there is no piece lid for seat boss-1")
	for _, f := range r.Findings[1:] {
		if f.Rule != "not-seated" || f.Value != nil || f.At == nil || f.On[0] != "section:main" || f.On[1] != "lid" {
			t.Errorf("%+v", f)
		}
	}
	r = off(func(s *fold.Seat) { s.On = "U7" })
	if len(r.Unchecked) != 1 || r.Unchecked[0].What != "seat" || r.Unchecked[0].On[0] != "component:U7" {
		t.Errorf("a part without a height: %v %+v", rules(r), r.Unchecked)
	}
	for _, f := range r.Findings {
		if f.Rule == "not-seated" {
			t.Errorf("%+v", f)
		}
	}
}

// A component that is a seat's: the plug of a connector may touch it, not the board beside it.
func TestComponentSeat(t *testing.T) {
	src := plate(0, "components: {J1: {side: top, at: [20, 13], boxes: [[-4, -3, 0, 4, 3, 2], [-4, -3, 0, 0, 3, 3]]}}\n")
	seat := []fold.Seat{{Name: "plug", On: "J1", Side: fold.Top, Area: rect(16, 10, 24, 16), Against: "plug", Squeeze: 0.5}}
	plug := func(low float64) Wall { return wall("plug", 16, 10, low, 24, 16, 9) }
	over := 1.6 + 3.0
	expect(t, "engaged", checkSeats(t, src, seat, plug(over-0.5)))
	expect(t, "too far", checkSeats(t, src, seat, plug(over-0.6)), "contact component:J1 enclosure:plug")
	expect(t, "not far enough", checkSeats(t, src, seat, plug(over+0.02)), "not-seated component:J1 enclosure:plug")
	wide := wall("plug", 16, 10, over, 24, 16, 9)
	leg := enclosureLeg(wide, vec{30, 10, 1.5}, vec{31, 12, 9})
	expect(t, "a leg of the plug on the board", checkSeats(t, src, seat, leg), "contact section:main enclosure:plug")
	expect(t, "nothing named", checkSeats(t, src, nil, plug(over-0.5)), "contact component:J1 enclosure:plug")
}

// enclosureLeg returns a wall with one more box.
func enclosureLeg(w Wall, lo, hi vec) Wall {
	leg := wall("leg", lo[0], lo[1], lo[2], hi[0], hi[1], hi[2])
	s := solid{w.Mesh.Points, w.Mesh.Triangles}.with(solid{leg.Mesh.Points, leg.Mesh.Triangles})
	w.Mesh = mesh.Mesh{Name: w.Mesh.Name, Kind: w.Mesh.Kind, Points: s.points, Triangles: s.tris}
	return w
}

// A stiffener sits where a section would not reach; the finding on the section names it.
func TestStiffenerSeat(t *testing.T) {
	src := plate(0.25, "stiffeners: {pad: {side: bottom, material: polyimide, thickness: 0.2, adhesive: 0.05, area: {rect: [10, 10, 20, 16]}}}\n")
	seat := fold.Seat{Name: "rest", On: "pad", Side: fold.Bottom, Area: rect(11, 11, 19, 15), Against: "post"}
	post := wall("post", 11, 11, -4, 19, 15, 0)
	r := checkSeats(t, src, []fold.Seat{seat}, post)
	expect(t, "on the pad", r) // the section over it is 0.25 from the post
	if g := gapAtSeat(r, "rest"); g == nil || !close2(g.Gap, 0, 1e-9) || g.Between[1] != "stiffener:pad" {
		t.Errorf("%+v", g)
	}
	seat.On = "section:main"
	r = checkSeats(t, src, []fold.Seat{seat}, post)
	expect(t, "on the section", r, "not-seated section:main enclosure:post")
	says(t, r, "main stands 0.25 mm above rest", "stiffener:pad lies between", "on: pad")
}

// On a folded wing the seat lies where the wing has gone: its bottom side looks up.
func TestSeatOnFoldedWing(t *testing.T) {
	src := strip(180, 1.5, "sections: {wing: {stackup: plate, area: {rect: [40, 0, 60, 10]}}}\nclearance: {enclosure: 0.3}\n")
	seat := fold.Seat{Name: "lid", On: "wing", Side: fold.Bottom, Area: rect(44, 2, 50, 8), Against: "lid"}
	top := 3.2 + 0.8                                       // neutral surfaces are 3.2 apart; the wing's bottom face lies 0.8 farther
	x := func(flatX float64) float64 { return 60 - flatX } // the hinge line is at 30
	pad := func(low float64) Wall { return wall("lid", x(50), 2, low, x(44), 8, 9) }
	expect(t, "seated", checkSeats(t, src, []fold.Seat{seat}, pad(top)))
	r := checkSeats(t, src, []fold.Seat{seat}, pad(top+0.12))
	expect(t, "off", r, "not-seated section:wing enclosure:lid")
	says(t, r, "wing stands 0.12 mm below lid", "by 0.12 mm along +z")
	wide := wall("lid", x(55), 2, top, x(44), 8, 9) // 5 mm beyond the seat
	r = checkSeats(t, src, []fold.Seat{seat}, wide)
	expect(t, "wider than the seat", r, "clearance section:wing enclosure:lid")
}

// A board, its seats and its housing anywhere in space give the same gaps.
func TestPlacedSeats(t *testing.T) {
	turn, move := [3]float64{30, -40, 110}, vec{7, -8, 9}
	for _, deep := range []float64{-0.1, 0, 0.2} {
		pins := tray(t, 0.15, rect(11, 4.5, 12, 5.5))
		plain := checkSeats(t, plate(-deep, ""), cornerSeats(nil), pins)
		pins.Mesh = pins.Mesh.Place(fold.RigidMotion(turn, move))
		src := plate(0, "")
		a := board(t, src, 0.01)
		d := a.Folded.Tree.Design
		at := fold.Apply(fold.RigidMotion(turn, move), vec{0, 0, -deep})
		d.Place = fold.Placement{Datum: "bottom", Turn: turn, Move: at}
		d.Seats = cornerSeats(nil)
		moved := Check(a, []Wall{pins})
		if !reflect.DeepEqual(rules(plain), rules(moved)) || len(plain.Gaps) != len(moved.Gaps) {
			t.Fatalf("%v deep: %v, placed %v", deep, rules(plain), rules(moved))
		}
		for i, f := range plain.Findings {
			if !close2(*f.Value, *moved.Findings[i].Value, 1e-7) {
				t.Errorf("%v deep: %v, placed %v", deep, *f.Value, *moved.Findings[i].Value)
			}
		}
	}
}

// A seat's area of any shape counts as what it is: an L keeps out of its notch.
func TestAreaWithANotch(t *testing.T) {
	area, errs := flat.Build([]flat.Vertex{{P: flat.Pt{X: 5, Y: 5}}, {P: flat.Pt{X: 20, Y: 5}}, {P: flat.Pt{X: 20, Y: 9}}, {P: flat.Pt{X: 9, Y: 9}}, {P: flat.Pt{X: 9, Y: 20}}, {P: flat.Pt{X: 5, Y: 20}}})
	if errs != nil {
		t.Fatal(errs)
	}
	l := cast(t, "tray", 0.02, slab{-3, 0, flat.Region{area}})
	seat := []fold.Seat{{Name: "l", On: "main", Side: fold.Bottom, Area: area, Against: "tray"}}
	expect(t, "rests on the L", checkSeats(t, plate(0, ""), seat, l))
	inNotch := enclosureLeg(l, vec{9.5, 9.5, -3}, vec{10, 10, 0})
	expect(t, "post in the notch", checkSeats(t, plate(0, ""), seat, inNotch), "clearance section:main enclosure:tray")
}
