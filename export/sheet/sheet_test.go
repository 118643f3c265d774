package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foldfit/export/report"
	"foldfit/fold"
	"foldfit/fold/flat"
)

// TestBoards draws the sheet of every board of the examples and the corpus: no words overlap, and nothing leaves the frame.
func TestBoards(t *testing.T) {
	seen := 0
	for _, name := range designs(t) {
		src, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		r, walls, ok := checked(t, name, src)
		if !ok {
			continue
		}
		seen++
		p, err := compose(r, walls, Options{Inputs: []Input{{"board.yaml", strings.Repeat("0123456789abcdef", 4)}}})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		neat(t, filepath.Base(name), p)
	}
	if seen < 60 {
		t.Errorf("only %d boards were drawn", seen)
	}
}

// neat checks that no words of a page overlap and that nothing leaves the frame.
func neat(t *testing.T, name string, p *page) {
	t.Helper()
	boxes, words := writing(p)
	for i := range boxes {
		for k := range i {
			if boxes[i].Grow(-0.2).Meets(boxes[k].Grow(-0.2)) {
				t.Errorf("%s, %s: %q and %q overlap at %v", name, p.paper.name, words[i], words[k], boxes[i].Min)
			}
		}
	}
	frame, all := p.frame().Grow(slack), drawn(p)
	if all.Min.X < frame.Min.X || all.Min.Y < frame.Min.Y || all.Max.X > frame.Max.X || all.Max.Y > frame.Max.Y {
		t.Errorf("%s, %s: drawn from %v to %v, the frame is %v to %v", name, p.paper.name, all.Min, all.Max, frame.Min, frame.Max)
	}
}

// TestSameBytes draws twice.
func TestSameBytes(t *testing.T) {
	src, err := os.ReadFile("../../examples/tail/tail.yaml")
	if err != nil {
		t.Fatal(err)
	}
	r, walls, _ := checked(t, "tail.yaml", src)
	var svg, pdf [2]bytes.Buffer
	for i := range 2 {
		if err := Write(&svg[i], r, walls, Options{}); err != nil {
			t.Fatal(err)
		}
		if err := WritePDF(&pdf[i], r, walls, Options{}); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(svg[0].Bytes(), svg[1].Bytes()) || !bytes.Equal(pdf[0].Bytes(), pdf[1].Bytes()) {
		t.Error("two runs differ")
	}
}

// TestNumbers reads the dimensions back from the page: each stands where its value says, counted from the datum, and says the
// tree's number.
func TestNumbers(t *testing.T) {
	d := strip(t, 90)
	p := pageOf(t, d)
	tree := p.run.Tree
	half := tree.Hinges[0].Width / 2
	want := map[string]bool{}
	for _, x := range []float64{0, 60, 30, 30 - half, 30 + half} {
		want[fmt.Sprintf("%.2f", x-d.Datum.X)] = false
	}
	for _, y := range []float64{0, 20} {
		want[fmt.Sprintf("%.2f", y-d.Datum.Y)] = false
	}
	for _, it := range itemsOf(p, "flat") {
		if it.Text != nil {
			if _, known := want[it.Text.Words]; known {
				want[it.Text.Words] = true
			}
		}
	}
	for number, found := range want {
		if !found {
			t.Errorf("the flat view does not say %s", number)
		}
	}
	for _, cell := range []string{"neck", "90", "top", "2.00", "2.10", fmt.Sprintf("%.2f", math.Pi/2*2.1), "20.00", "0.2"} {
		found := false
		for _, it := range itemsOf(p, "schedule") {
			found = found || it.Text != nil && it.Text.Words == cell
		}
		if !found {
			t.Errorf("the bend schedule does not say %q", cell)
		}
	}
}

// TestScale measures the flat outline on the page: it is the board times the scale that is written beside it.
func TestScale(t *testing.T) {
	p := pageOf(t, strip(t, 90))
	widest, k := 0.0, 0.0
	for _, it := range itemsOf(p, "flat") {
		if it.Text == nil && it.Pen.Width == 0.35 {
			b := it.Bounds(p.face)
			widest = max(widest, b.Max.X-b.Min.X)
		}
	}
	for _, k = range scales {
		if math.Abs(widest-60*k) < 1e-9 {
			break
		}
	}
	found := false
	for _, it := range itemsOf(p, "flat") {
		found = found || it.Text != nil && it.Text.Words == ratio(k)
	}
	if math.Abs(widest-60*k) > 1e-9 || !found {
		t.Errorf("the outline is %v wide, which is not 60 at the scale written", widest)
	}
}

// TestPaper: a paper that is too small is an error, and one that is asked for is taken.
func TestPaper(t *testing.T) {
	p := pageOf(t, strip(t, 90))
	var out bytes.Buffer
	if err := Write(&out, p.run, nil, Options{Width: 200, Height: 150}); !errors.Is(err, ErrRoom) || out.Len() > 0 {
		t.Errorf("200 x 150: %v, %d bytes", err, out.Len())
	}
	if err := Write(&out, p.run, nil, Options{Width: 420, Height: 594}); err != nil || !strings.Contains(out.String(), `width="594mm" height="420mm"`) {
		t.Errorf("A2 upright: %v", err)
	}
	if err := Write(&out, report.Run{}, nil, Options{}); err == nil {
		t.Error("a run without a tree was drawn")
	}
}

// TestCrowd draws a board of 130 hinges with words too long for every field: what has no room is counted, not drawn over.
func TestCrowd(t *testing.T) {
	d := strip(t, 0)
	d.Outline, _ = flat.Rect(0, 0, 1320, 12, 0)
	d.Title = fold.Title{Name: strings.Repeat("Many ", 60), Company: strings.Repeat("Company ", 40), Number: strings.Repeat("N", 90)}
	for i := range 130 {
		x := 15 + 10*float64(i)
		d.Hinges = append(d.Hinges, fold.Hinge{Name: fmt.Sprintf("hinge-with-a-long-name-%d", i), Line: [2]flat.Pt{{X: x, Y: -1}, {X: x, Y: 13}},
			Angle: float64(5 - 10*(i%2)), Written: 1, Radius: 3})
	}
	p := pageOf(t, d)
	neat(t, "crowd", p)
	said := ""
	for _, it := range itemsOf(p, "schedule") {
		if it.Text != nil {
			said += it.Text.Words + "\n"
		}
	}
	if !strings.Contains(said, "No room for 30 more hinges") {
		t.Error("the table does not say how many hinges it leaves out")
	}
}
