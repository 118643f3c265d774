package pattern

import (
	"bytes"
	"errors"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
)

var sides = []fold.Side{fold.Top, fold.Bottom}

// render keeps the pages of everyPage, which are the same for every test.
var drawn = map[string]struct {
	tree *fold.Tree
	page *node
}{}

// everyPage runs a test on every board and side.
func everyPage(t *testing.T, test func(t *testing.T, tree *fold.Tree, page *node)) {
	for _, b := range boards {
		for _, side := range sides {
			name := b.name + "-" + side.String()
			t.Run(name, func(t *testing.T) {
				d, ok := drawn[name]
				if !ok {
					d.tree, d.page = shown(t, b.make(t), Options{Side: side, Hash: "3f9a2c7d81e04b56", Version: "0.1.0"})
					drawn[name] = d
				}
				test(t, d.tree, d.page)
			})
		}
	}
}

func TestPageHasEveryNamedElement(t *testing.T) {
	want := []string{"outline", "cutout-1", "cutout-2", "cutout-3", "section-main", "section-wing", "hinge-neck", "bend-neck",
		"stiffener-pad", "component-U1", "component-C4", "component-J1", "component-L9", "bar-x", "bar-y", "datum", "legend", "notes"}
	for _, side := range sides {
		_, page := shown(t, beacon(t), Options{Side: side})
		for _, id := range want {
			page.find(t, id)
		}
		if k := page.find(t, "outline"); k.name != "path" {
			t.Errorf("outline is a %s, want a path", k.name)
		}
	}
	_, page := shown(t, comb(t), Options{})
	for _, id := range []string{"hinge-both", "bend-both", "bend-both.2", "hinge-tip", "bend-tip", "flat-1"} {
		page.find(t, id)
	}
}

func TestIDsAreUniqueAndSafe(t *testing.T) {
	everyPage(t, func(t *testing.T, _ *fold.Tree, page *node) {
		seen := map[string]bool{}
		page.walk(func(n *node) {
			if n.id == "" {
				return
			}
			if seen[n.id] || n.id != draw.Safe(n.id) {
				t.Errorf("id %q is used twice or not safe", n.id)
			}
			seen[n.id] = true
		})
	})
}

// Millimetres on paper are user units, and the page is as large as it says.
func TestPageIsTrueScale(t *testing.T) {
	everyPage(t, func(t *testing.T, _ *fold.Tree, page *node) {
		w, h := strings.TrimSuffix(page.attr["width"], "mm"), strings.TrimSuffix(page.attr["height"], "mm")
		if page.attr["viewBox"] != "0 0 "+w+" "+h || strings.ContainsAny(w+h, ".-e") {
			t.Errorf("width %s, height %s, viewBox %s", page.attr["width"], page.attr["height"], page.attr["viewBox"])
		}
		x, y := page.find(t, "bar-x").box(t), page.find(t, "bar-y").box(t)
		square := page.find(t, "square").box(t)
		for _, got := range [][2]float64{{x.Max.X - x.Min.X, 100}, {y.Max.Y - y.Min.Y, 100}, {square.Max.X - square.Min.X, 50}, {square.Max.Y - square.Min.Y, 50}} {
			if math.Abs(got[0]-got[1]) > 1e-9 {
				t.Errorf("a bar or the square measures %v, want %v", got[0], got[1])
			}
		}
		ticks := page.find(t, "bar-x").stroked(t, anyPen)
		for i, e := range ticks[1:] {
			if math.Abs(e.P.X-x.Min.X-10*float64(i)) > 1e-9 || len(ticks) != 12 {
				t.Errorf("tick %d at %v", i, e.P.X-x.Min.X)
			}
		}
	})
}

// What the page encloses is what the board measures: rounding to 1e-4 mm moves each border by half of that at most.
func TestAreasReadBack(t *testing.T) {
	everyPage(t, func(t *testing.T, tree *fold.Tree, page *node) {
		length := 0.0
		for _, e := range tree.Board.Edges() {
			length += e.Len()
		}
		got := page.find(t, "outline").area(t)
		for i := range tree.Board[1:] {
			a := page.find(t, "cutout-"+decimals(float64(i+1), 0, 0)).area(t)
			if a <= 0 {
				t.Errorf("cutout %d has area %v", i+1, a)
			}
			got -= a
		}
		if want := tree.Board.Area(); math.Abs(got-want) > length*1e-4 {
			t.Errorf("outline less cutouts %v, board %v", got, want)
		}
		for i := range tree.Bends {
			b := &tree.Bends[i]
			area := page.find(t, "bend-"+b.Name).kids[1].area(t)
			if math.Abs(area-b.Region.Area()) > 1e-4*(b.Region.Area()+10) {
				t.Errorf("bend %s: %v, want %v", b.Name, area, b.Region.Area())
			}
		}
	})
}

// No arc is longer than a quarter turn, where a reader's centre would be badly conditioned.
func TestArcsAreShort(t *testing.T) {
	_, page := shown(t, beacon(t), Options{})
	arcs := 0
	for _, e := range page.stroked(t, anyPen) {
		if e.IsArc() {
			arcs++
			if math.Abs(e.Sweep) > math.Pi/2+1e-3 {
				t.Errorf("an arc turns %v", e.Sweep)
			}
		}
	}
	if arcs < 12 {
		t.Errorf("%d arcs on a page with circles, rounded corners and a curved edge", arcs)
	}
}

// The centre line and the words of a hinge say the same, whichever side is printed.
func TestFoldWordsAndStrokes(t *testing.T) {
	cases := []struct {
		angle, written float64
		words          string
		toTop          bool
	}{
		{180, 1, "neck: 180 toward TOP, r 1.50 inside", true},
		{-180, -1, "neck: 180 toward BOTTOM, r 1.50 inside", false},
		{-90, 1, "neck: 90 toward BOTTOM, r 1.50 inside", false},
		{22.5, 1, "neck: 22.5 toward TOP, r 1.50 inside", true},
	}
	for _, c := range cases {
		for _, side := range sides {
			d := strip80(t)
			d.Hinges[0].Angle, d.Hinges[0].Written = c.angle, c.written
			_, page := shown(t, d, Options{Side: side})
			g := page.find(t, "hinge-neck")
			if g.title != c.words || !slices.ContainsFunc(g.texts(), func(n *node) bool { return n.title == c.words }) {
				t.Errorf("%v: words %q, want %q", c.angle, g.title, c.words)
			}
			valley := c.toTop == (side == fold.Top)
			if got := strokeOf(g); got != map[bool]string{true: "dashed", false: "dash-dot"}[valley] {
				t.Errorf("angle %v printed from the %v: centre line is %s", c.angle, side, got)
			}
		}
	}
}

// strokeOf names the stroke of the first drawn path of a group.
func strokeOf(g *node) string {
	for _, k := range g.kids {
		if k.attr["stroke"] != "" {
			switch len(strings.Fields(k.attr["stroke-dasharray"])) {
			case 2:
				return "dashed"
			case 4:
				return "dash-dot"
			}
			return "solid"
		}
	}
	return "none"
}

// The legend's two fold strokes name the sides as printed.
func TestLegendNamesTheSides(t *testing.T) {
	for _, side := range sides {
		_, page := shown(t, strip80(t), Options{Side: side})
		var words []string
		for _, n := range page.find(t, "legend").texts() {
			words = append(words, n.title)
		}
		for _, w := range []string{"fold toward you, " + sideName(side), "fold away from you, " + sideName(1-side)} {
			if !slices.Contains(words, w) {
				t.Errorf("printed side %v: the legend says %q, not %q", side, words, w)
			}
		}
	}
}

// Printed from the bottom, every corner of the outline lies where the mirrored corner of the top print lies.
func TestBottomIsMirrored(t *testing.T) {
	_, top := shown(t, beacon(t), Options{})
	_, bottom := shown(t, beacon(t), Options{Side: fold.Bottom})
	a, b := top.find(t, "outline"), bottom.find(t, "outline")
	boxA, boxB := a.box(t), b.box(t)
	corners := func(n *node) (out []flat.Pt) {
		for _, e := range n.path(t)[0] {
			out = append(out, e.P)
		}
		return out
	}
	for _, p := range corners(a) {
		want := flat.Pt{X: boxB.Max.X - (p.X - boxA.Min.X), Y: boxB.Min.Y + (p.Y - boxA.Min.Y)}
		if !slices.ContainsFunc(corners(b), func(q flat.Pt) bool { return q.Dist(want) < 1e-3 }) {
			t.Errorf("corner %v of the top print has no mirror image at %v", p, want)
		}
	}
	if b.area(t) < 0 {
		t.Error("the mirrored outline runs clockwise")
	}
}

// Tangent and centre lines lie where the bend area begins, ends and has its middle, and are as long as the board is there.
func TestTangentLines(t *testing.T) {
	everyPage(t, func(t *testing.T, tree *fold.Tree, page *node) {
		for i := range tree.Bends {
			b := &tree.Bends[i]
			g := page.find(t, "bend-"+b.Name)
			lines := g.stroked(t, anyPen)
			if n := len(g.texts()); n > 0 { // the leader of the bend's name comes last
				lines = lines[:len(lines)-n]
			}
			centre := page.find(t, "hinge-"+tree.Design.Hinges[b.Hinge].Name).stroked(t, anyPen)[0]
			u := centre.Q.Sub(centre.P).Unit()
			if len(lines) < 2 {
				t.Errorf("%s has %d tangent lines", b.Name, len(lines))
			}
			for _, e := range lines {
				for _, p := range []flat.Pt{e.P, e.Q} {
					if d := math.Abs(p.Sub(centre.P).Cross(u)); math.Abs(d-tree.Hinges[b.Hinge].Width/2) > 3e-4 {
						t.Errorf("%s: a tangent line is %v from the centre, want %v", b.Name, d, tree.Hinges[b.Hinge].Width/2)
					}
				}
			}
			if tree.Foldable {
				sameLength(t, b.Name, lines, tree, i)
			}
		}
	})
}

// sameLength compares the tangent lines' length with that of the bend's joints, which Divide finds in its own way.
func sameLength(t *testing.T, name string, lines []flat.Edge, tree *fold.Tree, bend int) {
	t.Helper()
	got, want := 0.0, 0.0
	for _, e := range lines {
		got += e.Len()
	}
	for _, j := range tree.Joints {
		if j.Bend == bend {
			want += j.P.Dist(j.Q)
		}
	}
	if math.Abs(got-want) > 1e-3 {
		t.Errorf("%s: tangent lines measure %v, joints %v", name, got, want)
	}
}

// A board whose bend areas overlap is drawn, and the page says what is wrong.
func TestOverlapIsDrawn(t *testing.T) {
	tree, page := shown(t, tooNear(t), Options{})
	if tree.Foldable {
		t.Fatal("the board should not be foldable")
	}
	for _, id := range []string{"hinge-neck", "hinge-second", "bend-neck", "bend-second", "section-main", "stiffener-pad"} {
		if len(page.find(t, id).stroked(t, anyPen)) == 0 {
			t.Errorf("%s is not drawn", id)
		}
	}
	if !strings.Contains(allWords(page), "no folded shape") {
		t.Error("the page does not say that the board has no folded shape")
	}
}

// A tree without any bends or flats still shows where its hinges would bend.
func TestBareTree(t *testing.T) {
	d := strip80(t)
	d.Hinges = append(d.Hinges, bend("flat-one", 60, -1, 60, 21, 0, 1))
	d.Hinges = append(d.Hinges, fold.Hinge{Name: "begin", Line: [2]flat.Pt{at(10, -1), at(10, 21)}, Tangent: true, Into: at(11, 5), Angle: -90, Written: 1, Radius: 1})
	tree := &fold.Tree{Design: d, Board: flat.Region{d.Outline}, Hinges: []fold.HingeInfo{{Width: 5}, {}, {Width: 2}}}
	var out bytes.Buffer
	if err := Write(&out, tree, Options{}); err != nil {
		t.Fatal(err)
	}
	page := readPage(t, out.Bytes())
	left := page.find(t, "outline").box(t).Min.X
	for id, want := range map[string][]float64{"bend-neck": {37.5, 42.5}, "bend-begin": {10, 12}} {
		var got []float64
		for _, e := range page.find(t, id).stroked(t, anyPen) {
			got = append(got, e.P.X-left)
		}
		slices.Sort(got)
		if len(got) != 2 || math.Abs(got[0]-want[0])+math.Abs(got[1]-want[1]) > 1e-6 {
			t.Errorf("%s: tangent lines at %v, want %v", id, got, want)
		}
	}
	g := page.find(t, "hinge-flat-one")
	if g.title != "flat-one: 0, not bent" || strokeOf(g) != "solid" {
		t.Errorf("hinge of angle 0: %q, %s", g.title, strokeOf(g))
	}
}

// allWords returns all that is written on a page.
func allWords(page *node) string {
	var out []string
	for _, n := range page.texts() {
		out = append(out, n.title)
	}
	return strings.Join(out, "\n")
}

// The page carries what a mock-up needs to be trusted (common practice, no source).
func TestPageSaysWhatAPrintNeeds(t *testing.T) {
	_, page := shown(t, beacon(t), Options{Hash: "3f9a2c7d81e04b56", Version: "0.1.0"})
	words := strings.ReplaceAll(allWords(page), "\n", " ")
	for _, w := range []string{
		"Trail beacon", "TB-100, revision B", "Print at 100 %, no fit to page.", "printed side: TOP (component side up)", "Lengths in mm",
		"3f9a2c7d81e04b56", "foldfit 0.1.0", "datum", "main, rigid 1.2, base", "wing, rigid 1.2", "pad, stiffener BOTTOM 0.2 + 0.05",
		"U1 h 0.9", "C4 h 3.6 BOTTOM", "J1 h 2", "L9 h ?", "neck: 180 toward TOP, r 1.50 inside",
		"Made by foldfit: an aid; it does not replace the fabricator's review, the governing standards or a qualified engineer's judgement.",
	} {
		if !strings.Contains(words, w) {
			t.Errorf("the page does not say %q", w)
		}
	}
	_, page = shown(t, mils(t), Options{})
	words = allWords(page)
	for _, w := range []string{"Lengths in mil", "neck: 90 toward BOTTOM, r 59.1 inside", `A <b> & "c" [31m αβγ`} {
		if !strings.Contains(words, w) {
			t.Errorf("the page in mil does not say %q", w)
		}
	}
}

// Parts without room for a label are named in the notes, so that the page is never silent about one.
func TestNoPartGoesUnnamed(t *testing.T) {
	tree, page := shown(t, dense(t), Options{})
	words := strings.NewReplacer(",", " ", ".", " ", ";", " ", ":", " ", "\n", " ").Replace(allWords(page))
	said := strings.Fields(words)
	for _, c := range tree.Design.Components {
		if !slices.Contains(said, c.Name) {
			t.Errorf("%s is nowhere on the page", c.Name)
		}
	}
}

func TestSameInputSameBytes(t *testing.T) {
	for _, b := range boards {
		var one, two bytes.Buffer
		if err := errors.Join(Write(&one, divide(t, b.make(t)), Options{}), Write(&two, divide(t, b.make(t)), Options{})); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(one.Bytes(), two.Bytes()) {
			t.Errorf("%s differs from run to run", b.name)
		}
	}
}

func TestWriteRefuses(t *testing.T) {
	for _, tree := range []*fold.Tree{nil, {}, {Design: &fold.Design{}}} {
		if err := Write(io.Discard, tree, Options{}); err == nil {
			t.Errorf("a board without an outline was written: %+v", tree)
		}
	}
	r, w := io.Pipe()
	r.CloseWithError(errors.New("disk full"))
	if err := Write(w, divide(t, strip80(t)), Options{}); err == nil || !strings.Contains(err.Error(), "disk full") {
		t.Errorf("a failing writer gave %v", err)
	}
}

// Whatever a title holds, the page stays well-formed and on one sheet.
func FuzzTitle(f *testing.F) {
	for _, s := range []string{"", "Trail beacon", "<&>\"'", "\x00\x1b[2J", "\xff\xfe", "]]>", "\u202e\u2028", strings.Repeat("W", 300), "電子"} {
		f.Add(s)
	}
	tree := divide(f, strip80(f))
	f.Fuzz(func(t *testing.T, s string) {
		d := *tree.Design
		d.Title = fold.Title{Name: s, Number: s, Company: s}
		d.Hinges = slices.Clone(d.Hinges)
		d.Hinges[0].Name = s
		named := *tree
		named.Design = &d
		var out bytes.Buffer
		if err := Write(&out, &named, Options{Hash: s, Version: s}); err != nil {
			t.Fatal(err)
		}
		checkLabels(t, readPage(t, out.Bytes()))
	})
}

func BenchmarkWrite(b *testing.B) {
	for _, c := range []struct {
		name string
		make func(testing.TB) *fold.Design
	}{{"lamp", lamp}, {"300-parts", dense}, {"10000-corners", gear}} {
		b.Run(c.name, func(b *testing.B) {
			tree := divide(b, c.make(b))
			for b.Loop() {
				if err := Write(io.Discard, tree, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
