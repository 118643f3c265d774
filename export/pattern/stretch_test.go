package pattern

import (
	"bytes"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// Values by hand: one crease for a right angle, its bend area 2 R tan 45; two of 90 degrees, 2 R apart, for half a turn.
func TestCreaseValues(t *testing.T) {
	const r = 1.6
	for _, c := range []struct {
		angle float64
		want  Crease
		words string
	}{
		{90, Crease{1, 90, 2 * r, 2 * r}, "crease"}, {-180, Crease{2, 90, 2 * r, 4 * r}, "2 creases of 90, 3.20 mm apart"}, {120, Crease{1, 120, 2 * r * math.Sqrt(3), 2 * r * math.Sqrt(3)}, "crease"},
	} {
		got := CreaseOf(c.angle, r*math.Abs(c.angle)*math.Pi/180)
		if got.N != c.want.N || got.Each != c.want.Each || math.Abs(got.Apart-c.want.Apart) > 1e-9 || math.Abs(got.Width-c.want.Width) > 1e-9 || got.words() != c.words {
			t.Errorf("%v degrees: %+v (%s), want %+v (%s)", c.angle, got, got.words(), c.want, c.words)
		}
	}
	if CreaseOf(0, 3) != (Crease{}) {
		t.Error("a hinge that is not bent has creases")
	}
}

// hub has five arms, narrower than its sides, whose bend areas begin on its edges; coordinates are rounded to four decimals, so that
// edges and tangent lines lie next to each other.
func hub(t testing.TB) *fold.Design {
	var items []flat.Vertex
	var hinges []fold.Hinge
	round := func(p flat.Pt) flat.Pt { return at(math.Round(p.X*1e4)/1e4, math.Round(p.Y*1e4)/1e4) }
	for i := range 5 {
		sin, cos := math.Sincos(0.43 + 2*math.Pi*float64(i)/5)
		on := func(x, y float64) flat.Pt { return round(at(x*cos-y*sin, x*sin+y*cos)) }
		half := 16 * math.Tan(math.Pi/5)
		for _, p := range []flat.Pt{on(16, -half), on(16, -half+1.5), on(34, -half+1.5), on(34, half-1.5), on(16, half-1.5)} {
			items = append(items, flat.Vertex{P: p})
		}
		hinges = append(hinges, fold.Hinge{Name: "arm-" + strconv.Itoa(i), Line: [2]flat.Pt{on(16, -half), on(16, half)}, Tangent: true, Into: on(17, 0), Angle: 75, Written: 1, Radius: 1.5})
	}
	d := base("hub", build(t, items))
	d.Hinges = hinges
	return d
}

// The sheet for creasing has the board's borders, and its area is that of the flats and of the bend areas as far as these are longer.
func TestSheetForCreasing(t *testing.T) {
	for _, b := range append(boards[:len(boards):len(boards)], board{"hub", hub}) {
		tree := divide2(t, b.make(t))
		if !tree.Foldable {
			continue
		}
		s, err := stretched(tree)
		if err != nil {
			t.Errorf("%s: %v", b.name, err)
			continue
		}
		want := 0.0
		for _, f := range tree.Flats {
			want += f.Area
		}
		for i := range tree.Bends {
			want += tree.Bends[i].Area * (1 + s.longer[i]/tree.Bends[i].Width)
		}
		if got := s.board.Area(); len(s.board) != len(tree.Board) || math.Abs(got-want) > 1e-6*want+0.03 { // chords for the arcs of a hole in a bend area
			t.Errorf("%s: %d borders, area %v; the board has %d, the pieces %v", b.name, len(s.board), got, len(tree.Board), want)
		}
	}
}

// Crease the printed pattern along its lines: every flat lands where the folded board has it.
func TestCreasedMockUpLandsOnTheBoard(t *testing.T) {
	for _, make := range []func(testing.TB) *fold.Design{strip80, beacon, lamp, chain} {
		for _, side := range sides {
			tree, page := shown(t, make(t), Options{Side: side, Crease: true})
			sheet, err := stretched(tree)
			if err != nil {
				t.Fatal(err)
			}
			folded, err := tree.Place(tree.Angles())
			if err != nil {
				t.Fatal(err)
			}
			folds := map[string]mockFold{}
			for i, h := range tree.Design.Hinges {
				f := mockFold{angle: CreaseOf(h.Angle, tree.Hinges[i].Width).Each}
				if toward(h.Angle) != side {
					f.angle = -f.angle
				}
				f.centre = page.find(t, "hinge-"+h.Name).stroked(t, func(n *node) bool { return n.attr["stroke-dasharray"] != "" })
				folds[h.Name] = f
			}
			v := view{side == fold.Bottom, sheet}
			shift := page.find(t, "outline").box(t).Min.Sub(v.board(tree).Box().Min)
			onPage := func(i int, p flat.Pt) flat.Pt { return v.pt(p.Add(sheet.moved[i])).Add(shift) }
			for i, fl := range tree.Flats {
				p := fl.Inside
				got, n := mock(folds, onPage(0, tree.Flats[0].Inside), onPage(i, p), 0)
				if n < depth(tree, i) {
					t.Fatalf("%s: the way to %s crosses %d creases", tree.Design.Name, fl.Name, n)
				}
				want := fold.Apply(folded.BoardFromFlat(i), mgl64.Vec3{p.X, p.Y, 0})
				if v.mirrored {
					want[0], want[2] = -want[0], -want[2]
				}
				if d := got.Sub(want.Add(mgl64.Vec3{shift.X, shift.Y, 0})).Len(); d > 0.005 {
					t.Errorf("%s, side %v: %s lands %.4f mm off", tree.Design.Name, side, fl.Name, d)
				}
			}
		}
	}
}

// A page for creasing keeps the rules of other pages, and says what it is; where lengths cannot be shifted nothing is drawn.
func TestCreasedPages(t *testing.T) {
	for _, b := range boards {
		tree := divide2(t, b.make(t))
		var out bytes.Buffer
		err := Write(&out, tree, Options{Crease: true})
		if !tree.Foldable {
			if err == nil {
				t.Errorf("%s: bend areas overlap, and its lengths were shifted", b.name)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", b.name, err)
			continue
		}
		page := readPage(t, out.Bytes())
		checkLabels(t, page)
		if !strings.Contains(allWords(page), "Drawn for creasing") {
			t.Errorf("%s does not say that it is for creasing", b.name)
		}
		if err := WriteDXF(io.Discard, tree, Options{Crease: true}); err != nil {
			t.Errorf("%s: %v", b.name, err)
		}
	}
	d := base("ring", build(t, corners(0, 0, 60, 0, 60, 30, 0, 30)))
	d.Cutouts = []flat.Loop{rect(20, 10, 40, 20)}
	d.Hinges = []fold.Hinge{bend("one-arm", 30, -1, 30, 12, 30, 2), bend("both", 50, -1, 50, 31, 90, 2)}
	if tree := divide2(t, d); tree.Foldable {
		if err := Write(io.Discard, tree, Options{Crease: true}); err == nil || !strings.Contains(err.Error(), "loop") {
			t.Errorf("a loop that does not close was drawn: %v", err)
		}
	} else {
		t.Error("the ring is not foldable")
	}
}
