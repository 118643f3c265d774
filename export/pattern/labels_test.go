package pattern

import (
	"math"
	"strings"
	"testing"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
)

// Every piece of writing lies on the paper within its margin, and none overlaps another.
func TestLabelsAreFreeAndWhole(t *testing.T) {
	everyPage(t, func(t *testing.T, _ *fold.Tree, page *node) { checkLabels(t, page) })
}

func checkLabels(t *testing.T, page *node) {
	t.Helper()
	paper := page.find(t, "page").box(t).Grow(-margin)
	texts := page.texts()
	if len(texts) < 15 {
		t.Errorf("only %d texts found", len(texts))
	}
	boxes := make([]flat.Box, len(texts))
	for i, n := range texts {
		b := n.box(t)
		boxes[i] = b
		if b.Min.X > b.Max.X {
			continue // nothing to see: blanks
		}
		if b.Min.X < paper.Min.X || b.Max.X > paper.Max.X || b.Min.Y < paper.Min.Y || b.Max.Y > paper.Max.Y {
			t.Errorf("%q lies at %v, outside the page %v", n.title, b, paper)
		}
		for k := range i {
			if b.Meets(boxes[k]) {
				t.Errorf("%q overlaps %q", n.title, texts[k].title)
			}
		}
	}
}

// Nothing but its own knocked-out hatching is drawn through a label.
func TestNothingIsDrawnThroughLabels(t *testing.T) {
	everyPage(t, func(t *testing.T, _ *fold.Tree, page *node) {
		var lines []line
		for _, e := range page.stroked(t, anyPen) {
			p := e.P
			for _, q := range e.Points(0.01) {
				lines = append(lines, line{p, q})
				p = q
			}
		}
		for _, n := range page.texts() {
			b := n.box(t)
			for _, l := range lines {
				if l.enters(b) {
					t.Errorf("a line from %v to %v runs through %q at %v", l[0], l[1], n.title, b)
					break
				}
			}
		}
	})
}

// All of the drawing lies within the margin.
func TestDrawingStaysWithinTheMargin(t *testing.T) {
	everyPage(t, func(t *testing.T, _ *fold.Tree, page *node) {
		paper := page.find(t, "page").box(t).Grow(-margin)
		for _, e := range page.stroked(t, anyPen) {
			if b := e.Box(); b.Min.X < paper.Min.X || b.Max.X > paper.Max.X || b.Min.Y < paper.Min.Y || b.Max.Y > paper.Max.Y {
				t.Errorf("a line at %v lies outside the margin %v", b, paper)
			}
		}
	})
}

// A label keeps near to what it names.
func TestHingeLabelsStandNear(t *testing.T) {
	for _, b := range []func(testing.TB) *fold.Design{strip80, beacon, lamp, comb, chain} {
		tree, page := shown(t, b(t), Options{})
		for _, h := range tree.Design.Hinges {
			g := page.find(t, "hinge-"+h.Name)
			lines := g.stroked(t, anyPen)
			leader, label := lines[len(lines)-1], g.texts()[0].box(t)
			if leader.Len() > 40 {
				t.Errorf("%s: the leader is %v long", h.Name, leader.Len())
			}
			end := label.Grow(2)
			if q := leader.Q; q.X < end.Min.X || q.X > end.Max.X || q.Y < end.Min.Y || q.Y > end.Max.Y {
				t.Errorf("%s: the leader ends at %v, away from its label %v", h.Name, q, label)
			}
			on := false
			for _, c := range lines[:len(lines)-1] {
				on = on || c.P.Dist(leader.P) < 1e-9 || c.Q.Dist(leader.P) < 1e-9
			}
			if !on {
				t.Errorf("%s: the leader does not begin at the centre line", h.Name)
			}
		}
	}
}

func TestWrapLosesNothing(t *testing.T) {
	f, err := draw.NewFace()
	if err != nil {
		t.Fatal(err)
	}
	for _, words := range []string{"", "one", "a few words that do not fit into one line", strings.Repeat("0123456789abcdef", 8) + " and more", "日本語日本語日本語 ÿ"} {
		for _, width := range []float64{1, 12, 44, 500} {
			lines := f.Wrap(words, draw.SizeSmall, width)
			if strings.ReplaceAll(strings.Join(lines, ""), " ", "") != strings.ReplaceAll(words, " ", "") {
				t.Errorf("%q became %q", words, lines)
			}
			for _, l := range lines {
				if f.Width(l, draw.SizeSmall) > width && len([]rune(l)) > 1 {
					t.Errorf("%q is %v wide, more than %v", l, f.Width(l, draw.SizeSmall), width)
				}
			}
		}
	}
}

func TestPlainAndSafe(t *testing.T) {
	for in, want := range map[string]string{"a\x00b\tc": "a b c", "  x ": "x", "\xff": "", "a\u202eb": "a b"} {
		if got := draw.Plain(in); got != want {
			t.Errorf("plain(%q) = %q, want %q", in, got, want)
		}
	}
	if got := draw.Safe(`a b<"&>é.2_-+`); got != "a_b_____.2_-+" {
		t.Errorf("safe gave %q", got)
	}
	if got := short(strings.Repeat("é", 60)); len([]rune(got)) != longestLabel {
		t.Errorf("short left %d characters", len([]rune(got)))
	}
}

func TestDecimals(t *testing.T) {
	for _, c := range []struct {
		v           float64
		least, most int
		want        string
	}{{1.5, 2, 3, "1.50"}, {0.125, 2, 3, "0.125"}, {0.186, 0, 3, "0.186"}, {2, 0, 3, "2"}, {100, 0, 0, "100"}, {-0.0001, 0, 3, "0"}, {59.0551, 1, 1, "59.1"}} {
		if got := decimals(c.v, c.least, c.most); got != c.want {
			t.Errorf("decimals(%v, %d, %d) = %q, want %q", c.v, c.least, c.most, got, c.want)
		}
	}
}

// A fitted pattern begins and ends with a whole first dash.
func TestDashesFit(t *testing.T) {
	for _, pattern := range [][]float64{draw.Valley, draw.Mountain} {
		for _, length := range []float64{0.5, 3, 12, 18.7, 240} {
			d := draw.Pen{Width: 1}.Dashed(pattern, length).Dash
			period := 0.0
			for _, x := range d {
				period += x
			}
			n := (length - d[0]) / period
			if math.Abs(n-math.Round(n)) > 1e-9 || n < 0.5 {
				t.Errorf("%v over %v mm repeats %v times", d, length, n)
			}
			if length > 20 && math.Abs(d[0]/pattern[0]-1) > 0.3 {
				t.Errorf("%v was scaled to %v over %v mm", pattern, d, length)
			}
		}
	}
}
