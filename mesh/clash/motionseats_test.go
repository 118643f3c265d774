package clash

import (
	"fmt"
	"strings"
	"testing"
)

// ontoBoss is a plate of 1 mm with a seat against a boss: bond says how far below the plate's bottom the boss ends, squeeze how deep
// it may reach into it. The plate begins at a move from its place; or it is there, and the boss begins at the opposite. Mirrored, all
// is upside down.
func ontoBoss(clearance, bond, squeeze float64, from vec, swapped, mirrored bool) (string, Wall) {
	lo, hi, side := vec{5, 5, -3}, vec{9, 9, -0.5 - bond}, "bottom"
	if squeeze > 0 {
		hi[2] = squeeze - 0.5
	}
	if mirrored {
		lo[2], hi[2], from[2], side = -hi[2], -lo[2], -from[2], "top"
	}
	mover := "board"
	if swapped {
		mover, from = "boss", from.Mul(-1)
	}
	line, boss := boxPiece("boss", lo[0], lo[1], lo[2], hi[0], hi[1], hi[2])
	src := fmt.Sprintf("outline: {rect: [0, 0, 30, 20]}\nstackups: {r: {thickness: 1, rigid: true}}\nsections: {main: {stackup: r, area: {rect: [0, 0, 30, 20]}}}\n"+
		"clearance: {enclosure: %v}\nenclosure:\n%sseats: {s: {on: main, side: %s, area: {rect: [4, 4, 10, 10]}, against: boss, bond: %v, squeeze: %v}}\n"+
		"sequence: [{move: %s, path: [{move: [%v, %v, %v]}, {}]}]\n", clearance, line, side, bond, squeeze, mover, from[0], from[1], from[2])
	return src, boss
}

// eitherWay does it for the board and for the boss that moves, upright and upside down.
func eitherWay(do func(swapped, mirrored bool)) {
	for i := range 4 {
		do(i&1 == 1, i&2 == 2)
	}
}

// A board that comes from the wrong side runs right through its own boss, and one from aside into it: from where they overlap by
// more than the seat gives way.
func TestThroughOwnSeat(t *testing.T) {
	for _, c := range []struct {
		from    vec
		squeeze float64
		begins  string
	}{
		{vec{0, 0, -10}, 0, "from 65 %"},   // its top, at -9.5, comes to the boss's bottom, at -3
		{vec{0, 0, -10}, 0.5, "from 70 %"}, // half a millimetre deeper
		{vec{20, 0, -2}, 0, "from 55 %"},   // its edge, at 20, comes to the boss's side, at 9
		{vec{20, 0, -2}, 0.5, "from 57.5 %"},
	} {
		eitherWay(func(swapped, mirrored bool) {
			src, boss := ontoBoss(0.3, 0.05, c.squeeze, c.from, swapped, mirrored)
			m := sweep(t, src, boss)
			if told(m) != "contact-in-motion section:main enclosure:boss" || !m.Covered || !strings.Contains(m.Findings[0].Message, c.begins) {
				t.Errorf("from %v, squeeze %v, swapped %v, mirrored %v: %s %+v", c.from, c.squeeze, swapped, mirrored, told(m), m.Findings)
			}
		})
	}
}

// What comes to its seat from above, straight or obliquely, slides along it or is pressed into foam is proven clear, whatever the
// clearance; and the gap that it has at the seat is told.
func TestWaysToSeat(t *testing.T) {
	for _, from := range []vec{{0, 0, 10}, {5, 2, 6}, {20, 3, 2}, {-20, 0, 0.3}, {20, 3, 0}} {
		for _, squeeze := range []float64{0, 0.4} {
			for _, bond := range []float64{0, 0.05} {
				eitherWay(func(swapped, mirrored bool) {
					src, boss := ontoBoss(0.3, bond, squeeze, from, swapped, mirrored)
					m := sweep(t, src, boss)
					want := bond
					if squeeze > 0 {
						want = -squeeze
					}
					if g := stepGap(t, m, 1, "enclosure"); len(m.Findings) > 0 || !m.Covered || !close2(g.Gap, want, 1e-9) || g.Low < want-Resolution || g.Contact {
						t.Errorf("from %v, squeeze %v, bond %v, swapped %v, mirrored %v: %s %+v", from, squeeze, bond, swapped, mirrored, told(m), g)
					}
				})
			}
		}
	}
}

// What is pressed deeper into its seat at rest than that gives way is told there, and in motion only if it was deeper on the way.
func TestDeepAtRest(t *testing.T) {
	for _, squeeze := range []float64{0, 0.2} {
		for _, dip := range []bool{false, true} {
			src, boss := ontoBoss(0.3, 0, 0.4, vec{0, 0, 5}, false, false)
			src = strings.Replace(src, "squeeze: 0.4", fmt.Sprintf("squeeze: %v", squeeze), 1)
			want := ""
			if dip {
				src = strings.Replace(src, "{}]", "{move: [0, 0, -0.1]}, {}]", 1)
				want = "contact-in-motion section:main enclosure:boss"
			}
			if m := sweep(t, src, boss); told(m) != want || !m.Covered {
				t.Errorf("squeeze %v, %v on the way: %s", squeeze, dip, told(m))
			}
		}
	}
}

// Beside foam a hard seat of the same piece gives way no more than it says.
func TestHardSeatBesideFoam(t *testing.T) {
	for dip, want := range map[string]string{"{}]": "", "{move: [0, 0, -0.1]}, {}]": "contact-in-motion section:main enclosure:boss"} {
		src, boss := ontoBoss(0.3, 0, 0.4, vec{0, 0, 5}, false, false)
		boss = enclosureLeg(boss, vec{20, 5, -3}, vec{24, 9, -0.5})
		src = strings.Replace(src, "seats: {", "seats: {hard: {on: main, side: bottom, area: {rect: [19, 4, 25, 10]}, against: boss}, ", 1)
		src = strings.Replace(src, "squeeze: 0.4", "squeeze: 0.6", 1)
		src = strings.Replace(src, "{}]", dip, 1)
		p := programs(t, src)
		boss.Piece = &p[0].Tree.Design.Enclosure[0]
		if m := Sweep(t.Context(), p, []Wall{boss}, 0.01, nil); told(m) != want || !m.Covered {
			t.Errorf("%q: %s", dip, told(m))
		}
	}
}

// A cell that is expected to grow rests on a hard seat all the same; grown it presses into foam, as far as that gives way.
func TestGrowingPieceAtSeat(t *testing.T) {
	for squeeze, want := range map[float64]string{0: "", 0.3: "", 0.1: "contact-in-motion section:main enclosure:boss"} {
		src, boss := ontoBoss(0, 0, 0, vec{0, 0, 5}, false, false)
		src = strings.Replace(src, "squeeze: 0", fmt.Sprintf("squeeze: %v", squeeze), 1)
		src = strings.Replace(src, "{}]", "{move: [0, 0, 0.3]}, {move: [0, 0, -0.0005]}, {}]", 1)
		p := programs(t, src)
		piece := p[0].Tree.Design.Enclosure[0]
		piece.Grows = 0.2
		boss.Piece = &piece
		m := Sweep(t.Context(), p, []Wall{boss}, 0.01, nil)
		if told(m) != want {
			t.Errorf("squeeze %v: %s", squeeze, told(m))
		}
	}
}
