package pattern

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
)

// Whatever the board and the paper, the pages that help have bars of their length, and nothing on them overlaps or leaves the page.
func TestHelpPages(t *testing.T) {
	f, err := draw.NewFace()
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range append(boards[:len(boards):len(boards)], board{"parts", parts40}) {
		tree := divide2(t, b.make(t))
		for _, word := range []string{"a4", "letter", "190x250"} {
			paper, _ := PaperOf(word)
			o := Options{Paper: paper, Gauge: true, Blocks: true, Hash: strings.Repeat("3f9a2c7d", 8), Version: "0.1.0"}
			for _, sheet := range helps(tree, o, f, true) {
				checkLeaf(t, f, sheet, b.name+" "+word, o.ruler().length)
			}
		}
	}
}

// checkLeaf checks one page.
func checkLeaf(t *testing.T, f *draw.Face, sheet *draw.Sheet, name string, bar float64) {
	t.Helper()
	var boxes []flat.Box
	var words []string
	bars := 0
	for _, g := range sheet.Groups[1:] {
		if g.ID == "bar-x" || g.ID == "bar-y" {
			b := g.Items[0].Bounds(f)
			if math.Abs(max(b.Max.X-b.Min.X, b.Max.Y-b.Min.Y)-bar) < 1e-9 {
				bars++
			}
		}
		for _, it := range g.Items {
			b := it.Bounds(f)
			if b.Min.X < margin-1 || b.Min.Y < 5 || b.Max.X > sheet.Box.Max.X-margin+0.1 || b.Max.Y > sheet.Box.Max.Y-margin+0.1 {
				t.Errorf("%s: %s at %v leaves the page", name, g.ID, b)
			}
			if it.Text == nil && it.Pen.Width == draw.Plate.Width { // what is cut out
				b = b.Grow(0.3)
			} else if it.Text == nil {
				continue
			}
			label := strings.Join(append([]string{g.ID, g.Title}, linesOf(it)...), " ")
			for k, other := range boxes {
				if b.Meets(other) && !(strings.HasPrefix(words[k], g.ID) && g.Title != "" && !struck(g, b)) {
					t.Errorf("%s: %q overlaps %q", name, label, words[k])
				}
			}
			boxes, words = append(boxes, b), append(words, label)
		}
	}
	if bars != 2 {
		t.Errorf("%s: %d bars", name, bars)
	}
}

// struck reports whether a line of a group runs through a box: words on a card or on a net have to stand between its lines.
func struck(g draw.Group, b flat.Box) bool {
	lines := newGrid(b)
	for _, it := range g.Items {
		for _, r := range it.Runs {
			lines.add(r.Edges...)
		}
	}
	return lines.covers(b)
}

func linesOf(it draw.Item) []string {
	if it.Text == nil {
		return nil
	}
	return it.Text.Lines
}

// parts40 has boxes and drums of many sizes, one too large for any page, and hinges of many radii.
func parts40(t testing.TB) *fold.Design {
	d := base("parts", build(t, corners(0, 0, 900, 0, 900, 400, 0, 400)))
	for i := range 40 {
		x := 20 + 20*float64(i)
		d.Hinges = append(d.Hinges, bend("fold-with-a-long-name-"+strconv.Itoa(i), x, -1, x, 401, 10, 0.3+0.3*float64(i*i)/4))
		c := box("A part with a long name "+strconv.Itoa(i), fold.Top, 10+x, 30, 0.5+float64(i), 20/(1+float64(i)), 0.8*float64(i), 10)
		if i%4 == 3 {
			c.Size, c.Diameter = nil, 1+float64(i)
		}
		d.Components = append(d.Components, c)
	}
	d.Components = append(d.Components, box("huge", fold.Bottom, 500, 300, 300, 100, 90, 0), fold.Component{Name: "unknown", At: at(600, 100), Diameter: 5})
	return d
}

// Every component has a net or is named as one without.
func TestNoBlockGoesUnnamed(t *testing.T) {
	f, err := draw.NewFace()
	if err != nil {
		t.Fatal(err)
	}
	for _, make := range []func(testing.TB) *fold.Design{parts40, beacon, dense} {
		tree := divide2(t, make(t))
		words := ""
		for _, sheet := range helps(tree, Options{Blocks: true}, f, false) {
			for _, g := range sheet.Groups {
				for _, it := range g.Items {
					words += strings.Join(linesOf(it), " ") + " "
				}
			}
		}
		for _, c := range tree.Design.Components {
			if !strings.Contains(words, c.Name) {
				t.Errorf("%s has no net and is not named", c.Name)
			}
		}
	}
}

// A crate's fold lines close to a box: its top is width by depth, each wall as high as the part, and all corners of a wall's two ends
// meet. A drum's wall goes once round its top.
func TestNetsClose(t *testing.T) {
	n := block{"U1", 12, 7, 0, 3}.net()
	var lengths []float64
	for _, l := range n.folds {
		lengths = append(lengths, l[0].Dist(l[1]))
	}
	count := map[float64]int{}
	for _, l := range lengths {
		count[math.Round(l*1e6)/1e6]++
	}
	if count[12] != 4 || count[7] != 4 || count[3] != 4 {
		t.Errorf("fold lines of %v", lengths)
	}
	foot, tab := 0.8*3.5, 0.8*3.0
	want := 12*7 + 2*3*(12+7) + 2*foot*(12-foot/2+7-foot/2) + 4*tab*(3-tab/3)
	if got := n.cuts[0].Area(); math.Abs(got-want) > 1e-9 {
		t.Errorf("the net has %v mm2, top, walls, feet and tabs have %v", got, want)
	}
	drum := block{"C1", 0, 0, 5, 4}.net()
	if wall := drum.folds[0][0].Dist(drum.folds[0][1]); math.Abs(wall-drum.cuts[1].Len()) > 1e-9 || drum.folds[2][0].Dist(drum.folds[2][1]) != 4 {
		t.Errorf("a wall of %v for a top of %v round", wall, drum.cuts[1].Len())
	}
}

// A gauge's tip is half a circle of the inside radius, and there is one for every radius.
func TestGaugeTip(t *testing.T) {
	d := lamp(t)
	d.Hinges[0].Radius = 7.5
	list := gauges(d)
	if len(list) != 2 || list[0].radius != 7.5 || len(list[1].names) != len(d.Hinges)-1 {
		t.Fatalf("gauges %+v", list)
	}
	for _, g := range list {
		loop := flat.Loop(g.group(at(0, 0), []string{"r"}).Items[0].Runs[0].Edges)
		want := g.width()*g.body(1) + 2*g.radius*g.neck() + math.Pi/2*g.radius*g.radius
		if math.Abs(loop.Area()-want) > 1e-9 {
			t.Errorf("r %v: the card has %v mm2, want %v", g.radius, loop.Area(), want)
		}
		size := g.size(1)
		if b := loop.Box(); math.Abs(b.Max.X-b.Min.X-size.X) > 1e-9 || math.Abs(b.Max.Y-b.Min.Y-size.Y) > 1e-9 {
			t.Errorf("r %v: the card takes %v, want %v", g.radius, b, size)
		}
	}
}
