package draw

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"testing"

	"foldfit/fold/flat"
)

// readPairs returns the group codes and values of a DXF text.
func readPairs(t *testing.T, data []byte) [][2]string {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")
	if len(lines)%2 != 0 {
		t.Fatalf("%d lines are no pairs", len(lines))
	}
	var out [][2]string
	for i := 0; i < len(lines); i += 2 {
		out = append(out, [2]string{strings.TrimSpace(lines[i]), lines[i+1]})
	}
	return out
}

// Lengths and areas read back from a drawing are those of what was written, arcs by their bulges.
func TestDXFKeepsShapes(t *testing.T) {
	disc := Circle(flat.Pt{X: -3, Y: 7}, 2.5)
	quarter := flat.Edge{P: flat.Pt{X: 1}, Q: flat.Pt{Y: 1}, R: 1, Sweep: math.Pi / 2}
	layers := []Layer{
		{"cut", []Run{{disc, true}, {Polygon(flat.Pt{}, flat.Pt{X: 4}, flat.Pt{X: 4, Y: 3}), true}}},
		{"mark", []Run{{[]flat.Edge{quarter}, false}, {[]flat.Edge{{P: quarter.Q, Q: quarter.P, R: 1, Sweep: -math.Pi / 2}}, false}, {[]flat.Edge{flat.Line(flat.Pt{X: 1, Y: 2}, flat.Pt{X: 4, Y: 6})}, false}}},
	}
	var out bytes.Buffer
	if err := WriteDXF(&out, layers); err != nil {
		t.Fatal(err)
	}
	var bulges, arcs []float64
	handles := map[string]bool{}
	for i, p := range readPairs(t, out.Bytes()) {
		v, _ := strconv.ParseFloat(p[1], 64)
		switch p[0] {
		case "42":
			bulges = append(bulges, v)
		case "50", "51":
			arcs = append(arcs, v)
		case "5":
			if handles[p[1]] && i > 10 {
				t.Errorf("the handle %s is taken twice", p[1])
			}
			handles[p[1]] = i > 10
		}
	}
	if len(bulges) != 3 || math.Abs(bulges[1]-1) > 1e-12 || math.Abs(bulges[2]-1) > 1e-12 { // the first is a text style's
		t.Errorf("bulges %v, want 1 for the two half circles", bulges)
	}
	if want := []float64{0, 0, 90, 0, 90}; len(arcs) != len(want) {
		t.Errorf("angles %v, want %v", arcs, want)
	} else {
		for i := range want {
			if math.Abs(arcs[i]-want[i]) > 1e-9 {
				t.Errorf("angles %v, want %v", arcs, want)
			}
		}
	}
}

// Strokes fill the line that outlines would, and every character of a label has some.
func TestStrokes(t *testing.T) {
	f, err := NewFace()
	if err != nil {
		t.Fatal(err)
	}
	line := "neck-1: 180 toward TOP, r 1.50 (inside) ±5°"
	runs := f.Strokes(&Text{At: flat.Pt{X: 3, Y: 4}, Size: 3.5, Lines: []string{line}})
	var all flat.Loop
	for _, r := range runs {
		all = append(all, r.Edges...)
	}
	box := all.Box()
	if w := f.Width(line, 3.5); box.Min.X < 3 || box.Max.X > 3+w || box.Max.X < 3+w-3 {
		t.Errorf("strokes from %g to %g, want within 3 to %g", box.Min.X, box.Max.X, 3+w)
	}
	if box.Min.Y < 4-Sink*3.5 || box.Max.Y > 4+Rise*3.5 {
		t.Errorf("strokes from %g to %g high", box.Min.Y, box.Max.Y)
	}
	for c, s := range letters {
		for i := range strings.ReplaceAll(s, " ", "") {
			if d := strings.ReplaceAll(s, " ", "")[i]; d < '0' || d > '8' || i%2 == 0 && d > '4' {
				t.Errorf("%q has the stroke %q", c, s)
			}
		}
		for _, p := range strings.Fields(s) {
			if len(p)%2 != 0 || len(p) < 4 {
				t.Errorf("%q has the stroke %q", c, p)
			}
		}
	}
}
