package clash

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/mesh"
)

// What comes to rest nearer than its clearance, or in contact, is the business of the check at rest.
func TestRestIsNotToldTwice(t *testing.T) {
	down := "  - {move: board, into: floor, path: [{move: [0, 0, 20]}, {move: [0, 0, 0]}]}\n"
	for _, top := range []float64{-0.7, -0.5, 0} { // 0.2 under the board, at it, 0.5 in it
		line, floor := boxPiece("floor", 0, 0, -3, 60, 10, top)
		if m := sweep(t, plank(0.4, line, down), floor); len(m.Findings) > 0 || !m.Covered {
			t.Errorf("floor at %v: %s", top, told(m))
		}
	}
	line, floor := boxPiece("floor", 0, 0, -3, 60, 10, 0)
	dip := "  - {move: board, into: floor, path: [{move: [0, 0, 20]}, {move: [0, 0, -1]}, {move: [0, 0, 20]}, {move: [0, 0, 0]}]}\n"
	if m := sweep(t, plank(0, line, dip), floor); told(m) != "contact-in-motion section:main enclosure:floor" {
		t.Errorf("in contact, clear again and at rest in contact: %s", told(m))
	}
}

// A board goes down onto its seat: no finding. Moved in sideways the boss hits the board's edge.
func TestApproachToSeat(t *testing.T) {
	line, boss := boxPiece("boss", 40, 3, -3, 44, 7, -0.5)
	line += "seats: {s: {on: main, side: bottom, area: {rect: [40, 3, 44, 7]}, against: boss}}\n"
	down := "  - {move: board, path: [{move: [0, 0, 20]}, {move: [0, 0, 0]}]}\n"
	aside := "  - {move: board, path: [{move: [30, 0, -1]}, {move: [0, 0, -1]}, {move: [0, 0, 0]}]}\n"
	for _, clearance := range []float64{0, 0.3} {
		if m := sweep(t, plank(clearance, line, down), boss); len(m.Findings) > 0 || !m.Covered {
			t.Errorf("down, clearance %v: %s", clearance, told(m))
		}
		if m := sweep(t, plank(clearance, line, aside), boss); told(m) != "contact-in-motion section:main enclosure:boss" {
			t.Errorf("aside, clearance %v: %s", clearance, told(m))
		}
	}
}

// A seat in the middle of a boss that gives way, or of a whole floor: what the check at rest says about the rest of both is
// not told again, with and without a clearance.
func TestApproachBesideSeat(t *testing.T) {
	down := "  - {move: board, path: [{move: [0, 0, 20]}, {move: [0, 0, 0]}]}\n"
	for _, squeeze := range []float64{0, 0.4} {
		for _, clearance := range []float64{0, 0.3} {
			for _, margin := range []float64{0, 1, 80} {
				line, boss := boxPiece("boss", 40-margin, 3-margin, -3, 44+margin, 7+margin, squeeze-0.5)
				line += fmt.Sprintf("seats: {s: {on: main, side: bottom, area: {rect: [40, 3, 44, 7]}, against: boss, squeeze: %v}}\n", squeeze)
				if m := sweep(t, plank(clearance, line, down), boss); len(m.Findings) > 0 || !m.Covered {
					t.Errorf("squeeze %v, clearance %v, %v round the seat: %s", squeeze, clearance, margin, told(m))
				}
			}
		}
	}
}

// A piece that a step puts through the board, or all around it in its material, is a contact from the beginning.
func TestPieceThatIsAddedIntoTheBoard(t *testing.T) {
	for _, margin := range []float64{-2, 10} {
		line, cell := boxPiece("cell", 10-margin, -margin, -3, 50+margin, 10+margin, 3)
		m := sweep(t, plank(0, line, "  - {add: cell}\n  - {remove: cell}\n"), cell)
		if told(m) != "contact-in-motion section:main enclosure:cell" || !strings.Contains(m.Findings[0].Message, "step 1 of 2 from 0 %") {
			t.Errorf("margin %v: %s, %+v", margin, told(m), m.Findings)
		}
	}
}

// Parts a tenth of a millimetre beside a bend's tangent lines keep that, and flats joined by a tight bend come as near as its
// radius says, past their own angle and back: no findings.
func TestCloseToBendsAllTheWay(t *testing.T) {
	src := strip(180, 1.5, "clearance: {board: 0.5, components: 0.5}\ncomponents:\n")
	for i, side := range []string{"top", "bottom"} {
		for k, x := range []float64{30 - 0.8*math.Pi - 1.1, 30 + 0.8*math.Pi + 1.1} {
			src += fmt.Sprintf("  U%d: {side: %s, at: [%v, %v], size: [2, 0.8, 1]}\n", 2*i+k, side, x, 2+3*float64(i))
		}
	}
	m := sweep(t, src)
	if g := stepGap(t, m, 1, "components"); len(m.Findings) > 0 || !m.Covered || math.Abs(g.Gap-1) > 1e-9 {
		t.Errorf("%s, %+v", told(m), g)
	}
	short := strings.Replace(strip(150, 0.1, ""), "[[0, 0], [60, 0], [60, 10], [0, 10]]", "[[28, 0], [32, 0], [32, 10], [28, 10]]", 1)
	short = strings.Replace(short, "at: [1, 1]", "at: [28.5, 1]", 1)
	m = sweep(t, short+"clearance: {board: 0.5}\nsequence: [{bend: [neck], to: {neck: 165}}, {bend: [neck]}]\n")
	if g := stepGap(t, m, 2, "board"); len(m.Findings) > 0 || !m.Covered || math.Abs(g.Gap) > 0.2 {
		t.Errorf("%s, %+v", told(m), g)
	}
}

// A jig holds the board at the end of the step that brings both together, and is taken away: it may touch, and where a seat
// names it press as far as that gives way. What is deeper in it, or merely near, is told as for any piece.
func TestJigThatIsTakenAway(t *testing.T) {
	const seat = "seats: {s: {on: main, side: bottom, area: {rect: [20, 3, 30, 7]}, against: jig, squeeze: 0.2}}\n"
	for _, c := range []struct {
		top        float64
		seat, want string
	}{
		{-0.5, "", ""},
		{-0.505, "", ""},
		{-0.55, "", "clearance-in-motion section:main enclosure:jig"},
		{-0.4, "", "contact-in-motion section:main enclosure:jig"},
		{-0.4, seat, ""},
		{-0.2, seat, "contact-in-motion section:main enclosure:jig"},
	} {
		for _, at := range []string{"[0, 0, 0]", "[-7, 2, 40]"} { // where the jig holds it
			line, _ := boxPiece("jig", 20, 3, -3, 30, 7, c.top)
			if at != "[0, 0, 0]" {
				line = strings.Replace(line, "]]}", "]], move: "+at+"}", 1)
			}
			src := plank(0.3, line+c.seat, "  - {move: board, into: jig, path: [{move: "+strings.Replace(at, "0]", "60]", 1)+"}, {move: "+at+"}]}\n  - {remove: jig}\n")
			if at != "[0, 0, 0]" {
				src += "  - {move: board, path: [{move: " + at + "}, {move: [0, 0, 0]}]}\n"
			}
			p := programs(t, src)
			jig := wallsOf(&p[0])[0]
			m := Sweep(context.Background(), p, []Wall{jig}, 0.01, nil)
			if told(m) != c.want || !m.Covered {
				t.Errorf("jig to %v, held at %s, %q: %s", c.top, at, c.seat, told(m))
			}
		}
	}
}

// Of a seat on a jig that is taken away nothing is said at rest but that nothing is.
func TestSeatOnJigAtRest(t *testing.T) {
	line, _ := boxPiece("jig", 20, 3, -3, 30, 7, -0.5)
	p := programs(t, plank(0, line+"seats: {s: {on: main, side: bottom, area: {rect: [20, 3, 30, 7]}, against: jig}}\n",
		"  - {add: jig}\n  - {remove: jig}\n"))
	n, err := p[0].State(1, 1)
	if err != nil {
		t.Fatal(err)
	}
	a, err := mesh.Skin(n.Folded, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	c := newChecker(a, nil, fold.FoldedPosture)
	if _, found := c.judgeSeat(c.seats[0]); len(found) > 0 || len(c.unchecked) != 1 || c.unchecked[0].What != "seat" {
		t.Errorf("%v, %+v", found, c.unchecked)
	}
}

// A board pushed slowly into a wall that stands for that step alone is in contact from where it is 0.001 mm deep: 0.011 of
// 0.02 mm on its way.
func TestContactBeginsAtTouch(t *testing.T) {
	line, post := boxPiece("post", 0, -5, -5, 60, -0.01, 5)
	m := sweep(t, plank(0, line, "  - {move: board, path: [{move: [0, 0, 0]}, {move: [0, -0.02, 2]}]}\n  - {remove: post}\n  - {move: board, path: [{move: [0, -0.02, 2]}, {move: [0, 0, 0]}]}\n"), post)
	if told(m) != "contact-in-motion section:main enclosure:post" || !strings.Contains(m.Findings[0].Message, "step 1 of 3 from 55") {
		t.Errorf("%s: %+v", told(m), m.Findings)
	}
}
