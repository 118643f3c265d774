//go:build outside

package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"image"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
)

// outside runs a program of other people and returns what it prints.
func outside(t *testing.T, name string, args ...string) []byte {
	t.Helper()
	cmd := exec.Command(name, args...)
	var problems bytes.Buffer
	cmd.Stderr = &problems
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v %s", name, err, problems.String())
	}
	return out
}

// drawn writes a file with foldfit and returns its path.
func drawn(t *testing.T, name string, args ...string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if r := call(t, "", append(args, "-o", path)...); r.code != exitGood {
		t.Fatalf("%v: %s", args, r.err)
	}
	return path
}

// raster is a page in grey, read from the PGM file that pdftoppm writes.
func raster(t *testing.T, pdf string, page, resolution int) *image.Gray {
	t.Helper()
	n := fmt.Sprint(page)
	data := outside(t, "pdftoppm", "-gray", "-r", fmt.Sprint(resolution), "-f", n, "-l", n, pdf)
	var w, h, most int
	if _, err := fmt.Sscanf(string(data[:min(len(data), 40)]), "P5\n%d %d\n%d\n", &w, &h, &most); err != nil {
		t.Fatalf("page %d: %v", page, err)
	}
	return &image.Gray{Pix: data[len(data)-w*h:], Stride: w, Rect: image.Rect(0, 0, w, h)}
}

// findBars returns where the bars of a length meet, in mm from the upper left corner: the left end of the only horizontal dark run of
// that length.
func findBars(page *image.Gray, length float64) ([2]float64, bool) {
	least, most := int((length-0.5)/25.4*dpi), int((length+0.7)/25.4*dpi)
	for y := page.Rect.Max.Y - 1; y >= 0; y-- {
		run := 0
		for x := 0; x <= page.Rect.Max.X; x++ {
			if x < page.Rect.Max.X && page.Pix[y*page.Stride+x] < 160 {
				run++
				continue
			}
			if least < run && run < most {
				return [2]float64{(float64(x-run) + 2) / dpi * 25.4, float64(y) / dpi * 25.4}, true
			}
			run = 0
		}
	}
	return [2]float64{}, false
}

// pages returns how many pages a PDF has.
func pages(t *testing.T, pdf string) int {
	t.Helper()
	n := 0
	for _, line := range bytes.Split(outside(t, "pdfinfo", pdf), []byte("\n")) {
		fmt.Sscanf(string(line), "Pages: %d", &n)
	}
	if n == 0 {
		t.Fatal("pdfinfo names no pages")
	}
	return n
}

// TestOutsideBarsOfEveryPage measures both bars on every page of tiled patterns: 100 mm or 4 in within 0.05 mm.
func TestOutsideBarsOfEveryPage(t *testing.T) {
	for _, c := range []struct {
		paper  string
		length float64
	}{{"190x250", 100}, {"letter", 101.6}} {
		pdf := drawn(t, "pattern.pdf", "pattern", filepath.Join(root, "examples/lamp/lamp.yaml"), "--paper", c.paper, "--gauge", "--blocks")
		for page := 1; page <= pages(t, pdf); page++ {
			img := raster(t, pdf, page, dpi)
			from, ok := findBars(img, c.length)
			if !ok {
				t.Errorf("%s, page %d: no bar found", c.paper, page)
				continue
			}
			for _, alongX := range []bool{true, false} {
				if got := barLength(img, from, alongX, c.length); !(math.Abs(got-c.length) <= 0.05) {
					t.Errorf("%s, page %d: a bar measures %.3f mm, want %g (along x: %v)", c.paper, page, got, c.length, alongX)
				}
			}
		}
	}
}

// word is a word on a page with its place, in points from the upper left corner.
type word struct {
	Text string  `xml:",chardata"`
	X    float64 `xml:"xMin,attr"`
	Y    float64 `xml:"yMin,attr"`
}

// wordsOf returns by page the words that occur once on it.
func wordsOf(t *testing.T, pdf string) []map[string]word {
	t.Helper()
	var doc struct {
		Pages []struct {
			Words []word `xml:"word"`
		} `xml:"body>doc>page"`
	}
	if err := xml.Unmarshal(outside(t, "pdftotext", "-bbox", pdf, "-"), &doc); err != nil {
		t.Fatal(err)
	}
	var out []map[string]word
	for _, p := range doc.Pages {
		count, once := map[string]int{}, map[string]word{}
		for _, w := range p.Words {
			count[w.Text]++
			once[w.Text] = w
		}
		for text, n := range count {
			if n > 1 {
				delete(once, text)
			}
		}
		out = append(out, once)
	}
	return out
}

// TestOutsideTilesRejoin lays the tiles of a pattern over each other by the words that they share with the drawing on one page, and
// compares pictures: every dark pixel of the board's surroundings is dark in the tiles as well.
func TestOutsideTilesRejoin(t *testing.T) {
	const fine = 200
	design := filepath.Join(root, "examples/lamp/lamp.yaml")
	whole, tiled := drawn(t, "whole.pdf", "pattern", design), drawn(t, "tiled.pdf", "pattern", design, "--paper", "190x250")
	one := raster(t, whole, 1, fine)
	joined := image.NewGray(one.Rect)
	for i := range joined.Pix {
		joined.Pix[i] = 255
	}
	inWhole, covered, tiles := wordsOf(t, whole)[0], image.Rectangle{}, 0
	for i, words := range wordsOf(t, tiled) {
		var dx, dy []float64
		for text, w := range words {
			if v, ok := inWhole[text]; ok && len(text) > 3 {
				dx, dy = append(dx, v.X-w.X), append(dy, v.Y-w.Y)
			}
		}
		page := raster(t, tiled, i+1, fine)
		pixel := func(mm float64) int { return int(math.Round(mm / 25.4 * fine)) }
		window := image.Rect(pixel(24.5), pixel(10.5), page.Rect.Max.X-pixel(10.5), page.Rect.Max.Y-pixel(80.5))
		if len(dx) < 6 || !isTile(page, window) {
			continue
		}
		slices.Sort(dx)
		slices.Sort(dy)
		x, y := int(math.Round(dx[len(dx)/2]/72*fine)), int(math.Round(dy[len(dy)/2]/72*fine))
		lay(joined, page, window, x, y)
		covered, tiles = covered.Union(window.Add(image.Pt(x, y))), tiles+1
	}
	if tiles < 2 {
		t.Fatalf("%d tiles", tiles)
	}
	scale := fine / 72.0 // the drawing lies between title and legend, right of the upright bar
	board := image.Rect(244, int((inWhole["(component"].Y+12)*scale), one.Rect.Max.X, int(inWhole["cutouts:"].Y*scale)-40)
	missing, dark := compareInk(one, joined, board.Intersect(covered))
	t.Logf("%d tiles, %d dark pixels, %d of them missing", tiles, dark, missing)
	if dark < 10000 || missing > dark/1000 {
		t.Errorf("%d of %d dark pixels are missing in the tiles", missing, dark)
	}
}

// isTile reports whether a page has the border of a tile's window.
func isTile(page *image.Gray, window image.Rectangle) bool {
	y, n := window.Min.Y+window.Dy()/2, 0
	for x := window.Min.X - 8; x < window.Min.X; x++ {
		if page.Pix[y*page.Stride+x] < 230 {
			n++
		}
	}
	return n > 0
}

// lay puts a window of a page on the picture, the darker pixel on top.
func lay(picture, page *image.Gray, window image.Rectangle, x, y int) {
	for py := window.Min.Y; py < window.Max.Y; py++ {
		for px := window.Min.X; px < window.Max.X; px++ {
			if at := image.Pt(px+x, py+y); at.In(picture.Rect) {
				i := picture.PixOffset(at.X, at.Y)
				picture.Pix[i] = min(picture.Pix[i], page.Pix[py*page.Stride+px])
			}
		}
	}
}

// compareInk counts the dark pixels of a within the box, and those of them that have none in b within two pixels.
func compareInk(a, b *image.Gray, box image.Rectangle) (missing, dark int) {
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			if a.Pix[y*a.Stride+x] > 100 {
				continue
			}
			dark++
			found := false
			for dy := -2; dy <= 2 && !found; dy++ {
				for dx := -2; dx <= 2 && !found; dx++ {
					at := image.Pt(x+dx, y+dy)
					found = at.In(b.Rect) && b.GrayAt(at.X, at.Y).Y < 170
				}
			}
			if !found {
				missing++
			}
		}
	}
	return missing, dark
}

// readDXF is a script that reads a drawing with a library of other people and prints what it finds.
const readDXF = `
import json, math, sys, ezdxf
doc = ezdxf.readfile(sys.argv[1])
errors = [e.message for e in doc.audit().errors]
layers, areas = {}, []
for e in doc.modelspace():
    l = layers.setdefault(e.dxf.layer, {"count": 0, "lengths": []})
    l["count"] += 1
    if e.dxftype() == "LINE":
        l["lengths"].append((e.dxf.end - e.dxf.start).magnitude)
    if e.dxf.layer == "cut":
        a, pts = 0.0, list(e.get_points("xyb"))
        for (x0, y0, b), (x1, y1, _) in zip(pts, pts[1:] + pts[:1]):
            a += (x0 * y1 - x1 * y0) / 2
            if b:
                w = 4 * math.atan(b)
                r = math.hypot(x1 - x0, y1 - y0) / 2 / math.sin(w / 2)
                a += r * r * (w - math.sin(w)) / 2
        areas.append([a, bool(e.closed)])
print(json.dumps({"units": doc.units, "errors": errors, "layers": layers, "areas": areas}))
`

// TestOutsideDXF reads the drawing for a cutter with a library of other people: units, layers, the check lines' length, and the board's
// area from the paths to cut.
func TestOutsideDXF(t *testing.T) {
	for _, name := range []string{"lamp/lamp", "pocket-logger/pocket-logger", "tail/tail"} {
		design := filepath.Join(root, "examples", name+".yaml")
		path := drawn(t, "film.dxf", "pattern", design)
		var got struct {
			Units  int
			Errors []string
			Layers map[string]struct {
				Count   int
				Lengths []float64
			}
			Areas [][2]any
		}
		script := filepath.Join(t.TempDir(), "read.py")
		if err := os.WriteFile(script, []byte(readDXF), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(outside(t, "/usr/bin/python3", script, path), &got); err != nil {
			t.Fatal(err)
		}
		if got.Units != 4 || len(got.Errors) > 0 {
			t.Errorf("%s: units %d, want 4 (mm); errors %q", name, got.Units, got.Errors)
		}
		b, err := load(console{}, design, designFlags{})
		if err != nil {
			t.Fatal(err)
		}
		area := 0.0
		for i, a := range got.Areas {
			area += a[0].(float64)
			if a[1] != true || i < len(got.Areas)-1 && a[0].(float64) > 0 {
				t.Errorf("%s: path %d to cut is open, or the outline comes before a cutout", name, i+1)
			}
		}
		if math.Abs(area-b.tree.Board.Area()) > 1e-3 {
			t.Errorf("%s: the paths to cut bound %v mm2, the board has %v", name, area, b.tree.Board.Area())
		}
		check := got.Layers["check"].Lengths
		if len(check) != 2 || math.Abs(check[0]-100) > 1e-6 || math.Abs(check[1]-100) > 1e-6 {
			t.Errorf("%s: the check lines measure %v", name, check)
		}
		for _, layer := range []string{"cut", "score", "mark", "text"} {
			if got.Layers[layer].Count == 0 {
				t.Errorf("%s: the layer %s is empty", name, layer)
			}
		}
	}
}
