package rule

import (
	"regexp"
	"strconv"
	"testing"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

var hinted = map[string]*regexp.Regexp{
	"radius": regexp.MustCompile(`inside radius (?:to|of) ([0-9.]+) mm`),
	"line":   regexp.MustCompile(`(?:move the hinge line|into the board by more than) ([0-9.]+) mm`),
}

// TestHintsPass does what hints say, with the numbers that they print, and checks again: nothing is left, and the hint was
// not more than 0.02 mm too much.
func TestHintsPass(t *testing.T) {
	edge := 20 - w90/2
	one := layers(1) // asks for a ratio of 6, so that there is room for a lower radius
	for _, c := range []struct {
		name  string
		board func(...func(*fold.Design)) *fold.Design
		rule  string
		hint  string
		sign  float64 // direction in which the line or the radius is changed
	}{
		{"ratio", func(more ...func(*fold.Design)) *fold.Design {
			return board(strip(), append([]func(*fold.Design){layers(2), radius(1.7)}, more...)...)
		}, "bend-ratio", "radius", 0},
		{"rigid, lower radius", func(more ...func(*fold.Design)) *fold.Design {
			return board(strip(), append([]func(*fold.Design){one, section("m", "thick", rect(0, 0, edge+0.234, 10))}, more...)...)
		}, "bend-on-rigid", "radius", 0},
		{"rigid, moved line", func(more ...func(*fold.Design)) *fold.Design {
			return board(strip(), append([]func(*fold.Design){one, section("m", "thick", rect(0, 0, edge+0.234, 10))}, more...)...)
		}, "bend-on-rigid", "line", 1},
		{"neck, lower radius", func(more ...func(*fold.Design)) *fold.Design {
			return board(neck(edge+0.123, 40-edge-0.234, 8, 12, 0), append([]func(*fold.Design){one}, more...)...)
		}, "bend-beyond-neck", "radius", 0},
		{"free end, lower radius", func(more ...func(*fold.Design)) *fold.Design {
			return board(pts(0, 0, 20+w90/2-0.234, 0, 20+w90/2-0.234, 10, 0, 10), append([]func(*fold.Design){one}, more...)...)
		}, "bend-free-end", "radius", 0},
		{"free end, moved line", func(more ...func(*fold.Design)) *fold.Design {
			return board(pts(0, 0, 20+w90/2-0.234, 0, 20+w90/2-0.234, 10, 0, 10), append([]func(*fold.Design){one}, more...)...)
		}, "bend-free-end", "line", -1},
	} {
		t.Run(c.name, func(t *testing.T) {
			found := serious(t, c.board())
			if len(found) != 1 || found[0].Rule != c.rule {
				t.Fatalf("%+v", found)
			}
			m := hinted[c.hint].FindStringSubmatch(found[0].Hint)
			if m == nil {
				t.Fatalf("no %s in the hint %q", c.hint, found[0].Hint)
			}
			v, err := strconv.ParseFloat(m[1], 64)
			if err != nil {
				t.Fatal(err)
			}
			change := func(v float64) func(*fold.Design) {
				if c.hint == "radius" {
					return radius(v)
				}
				return func(d *fold.Design) {
					for i := range d.Hinges[0].Line {
						d.Hinges[0].Line[i] = d.Hinges[0].Line[i].Add(flat.Pt{X: c.sign * v})
					}
				}
			}
			if left := serious(t, c.board(change(v))); len(left) > 0 {
				t.Errorf("%q, done: %+v", found[0].Hint, left)
			}
			short := v - 0.02
			if c.rule != "bend-ratio" && c.hint == "radius" {
				short = v + 0.02
			}
			if left := serious(t, c.board(change(short))); len(left) == 0 {
				t.Errorf("%q: %g would do as well", found[0].Hint, short)
			}
		})
	}
}

// serious returns the findings above advice.
func serious(t *testing.T, d *fold.Design) []finding.Finding {
	t.Helper()
	var out []finding.Finding
	for _, f := range check(t, d) {
		if f.Severity > finding.Advice {
			out = append(out, f)
		}
	}
	return out
}
