package pattern

import (
	"bytes"
	"math"
	"math/rand/v2"
	"testing"

	"foldfit/export/draw"
	"foldfit/fold/flat"
)

// Windows cover the whole length, overlap by 10 mm at least, and every word that fits into one lies in one as a whole.
func TestCutsLeaveWordsWhole(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		lo, length := r.Float64()*100-50, 100+r.Float64()*300
		hi := lo + r.Float64()*2000
		var words [][2]float64
		for range 20 {
			at, long := lo+r.Float64()*(hi-lo), r.Float64()*(length-overlap-2)
			words = append(words, [2]float64{at, min(at+long, hi)})
		}
		starts := cuts(lo, hi, length, words)
		if starts[0] > lo || starts[len(starts)-1]+length < hi {
			t.Fatalf("windows %v of %g do not cover %g to %g", starts, length, lo, hi)
		}
		for i := 1; i < len(starts); i++ {
			if starts[i-1]+length-starts[i] < overlap-1e-9 || starts[i] <= starts[i-1] {
				t.Fatalf("windows at %g and %g of length %g", starts[i-1], starts[i], length)
			}
		}
		for _, w := range words {
			whole := 0
			for _, s := range starts {
				if s <= w[0] && w[1] <= s+length {
					whole++
				}
			}
			if whole == 0 && w[1]-w[0] < length/2-overlap {
				t.Fatalf("the word %v is cut by the windows %v of length %g", w, starts, length)
			}
		}
	}
}

// Whatever the paper, every label of the pattern is whole on some page, no writing leaves its page, every page has its bars and
// square, and pieces of the drawing lie where they are in the whole.
func TestTilesShowEverything(t *testing.T) {
	tree := divide(t, beacon(t))
	f, err := draw.NewFace()
	if err != nil {
		t.Fatal(err)
	}
	s := survey(tree, Options{})
	l := label(s, f, false)
	drawn := newDrawing(s, l).groups()
	for _, word := range []string{"190x250", "letter", "a4", "a3", "tabloid", "200x600"} {
		paper, err := PaperOf(word)
		if err != nil {
			t.Fatal(err)
		}
		o := Options{Paper: paper, Hash: "3f9a2c7d81e04b56", Version: "0.1.0"}
		sheets := o.tiling(f, l, drawn).pages(tree, drawn)
		seen := map[string]bool{}
		for _, sheet := range sheets {
			checkTile(t, f, sheet, o)
			for _, g := range sheet.Groups {
				for _, it := range g.Items {
					if it.Text != nil {
						seen[it.Text.Lines[0]] = true
					}
				}
			}
		}
		for _, g := range drawn {
			for _, it := range g.Items {
				if it.Text != nil && !seen[it.Text.Lines[0]] {
					t.Errorf("%s: %q is on no tile", word, it.Text.Lines)
				}
			}
		}
	}
}

// checkTile checks one page.
func checkTile(t *testing.T, f *draw.Face, sheet *draw.Sheet, o Options) {
	t.Helper()
	size := sheet.Size()
	p := o.Paper
	if !near(size, p.Width, p.Height) && !near(size, p.Height, p.Width) {
		t.Errorf("a page of %v on paper %v", size, p)
	}
	bars := 0
	for _, g := range sheet.Groups {
		for _, it := range g.Items {
			if b := it.Bounds(f); it.Text != nil && (b.Min.X < sheet.Box.Min.X+5 || b.Max.X > sheet.Box.Max.X-5 || b.Min.Y < sheet.Box.Min.Y+5 || b.Max.Y > sheet.Box.Max.Y-5) {
				t.Errorf("%s: %q leaves the page", p.Name, it.Text.Words)
			}
		}
		if g.ID == "bar-x" || g.ID == "bar-y" || g.ID == "square" {
			bars++
		}
	}
	if bars != 3 {
		t.Errorf("%s: a page has %d of bars and square", p.Name, bars)
	}
}

func near(size flat.Pt, w, h float64) bool {
	return math.Abs(size.X-w) < 1e-9 && math.Abs(size.Y-h) < 1e-9
}

// A printer that makes bars of 99.2 by 99.6 mm gets a page on which its bars come out as 100 mm, on the same paper.
func TestCorrection(t *testing.T) {
	paper, _ := PaperOf("a3")
	o := Options{Paper: paper, Correct: [2]float64{99.2, 99.6}}
	f, list, err := render(divide(t, beacon(t)), o)
	if err != nil {
		t.Fatal(err)
	}
	sheet := list[0]
	if !near(sheet.Size(), 297, 420) && !near(sheet.Size(), 420, 297) {
		t.Errorf("the page is %v", sheet.Size())
	}
	printer := [2]float64{0.992, 0.996}
	for _, g := range sheet.Groups {
		for i, id := range []string{"bar-x", "bar-y"} {
			if b := g.Items[0].Bounds(f); g.ID == id {
				length := []float64{b.Max.X - b.Min.X, b.Max.Y - b.Min.Y}[i] * sheet.Scale[i] * printer[i]
				if math.Abs(length-100) > 1e-9 {
					t.Errorf("%s is printed %g long", id, length)
				}
			}
		}
	}
}

func TestPaperWords(t *testing.T) {
	for _, bad := range []string{"", "a5", "b4", "100x100", "210x", "x297", "-210x297", "1e9x1e9", "NaNxNaN", "Infx300"} {
		if p, err := PaperOf(bad); err == nil {
			t.Errorf("%q is read as %v", bad, p)
		}
	}
	if p, err := PaperOf("600X400"); err != nil || p.Width != 400 || p.Height != 600 {
		t.Errorf("600X400 is %v, %v", p, err)
	}
}

// Both sides are pages of one document, and the same call gives the same bytes.
func TestPDFOfBothSides(t *testing.T) {
	tree := divide(t, beacon(t))
	paper, _ := PaperOf("a4")
	var one, both, again bytes.Buffer
	for _, x := range []struct {
		w *bytes.Buffer
		o Options
	}{{&one, Options{Paper: paper}}, {&both, Options{Paper: paper, Both: true}}, {&again, Options{Paper: paper, Both: true}}} {
		if err := WritePDF(x.w, tree, x.o); err != nil {
			t.Fatal(err)
		}
	}
	pages := func(b []byte) int { return bytes.Count(b, []byte("/Type /Page\n")) }
	if pages(one.Bytes()) == 0 || pages(both.Bytes()) != 2*pages(one.Bytes()) {
		t.Errorf("%d pages for one side, %d for both", pages(one.Bytes()), pages(both.Bytes()))
	}
	if !bytes.Equal(both.Bytes(), again.Bytes()) {
		t.Error("two documents of one board differ")
	}
}
