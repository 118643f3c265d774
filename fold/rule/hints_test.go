package rule

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// allUnits are the units in which a design may be written.
var allUnits = []fold.Units{"", fold.Mil, fold.Inch}

func in(u fold.Units) func(*fold.Design) { return func(d *fold.Design) { d.Units = u } }

// hinted returns in mm the first length that follows the given words in a hint.
func hinted(t *testing.T, words, hint string, u fold.Units) float64 {
	t.Helper()
	m := regexp.MustCompile(words + ` ([0-9.]+) ` + Lengths{u}.Unit() + `\b`).FindStringSubmatch(hint)
	if m == nil {
		t.Fatalf("no length in %s after %q in the hint %q", Lengths{u}.Unit(), words, hint)
	}
	v, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	return v * u.Length()
}

// hintCase is a board with one finding and what its hint says to do.
type hintCase struct {
	name, rule, words string
	board             func() *fold.Design
	paste             func(mm float64) func(*fold.Design)
	most              bool // the length is a largest one
}

func hintCases() []hintCase {
	edge := 20 - w90/2
	one := layers(1) // asks for a ratio of 6, so that there is room for a lower radius
	strips := func(changes ...func(*fold.Design)) func() *fold.Design {
		return func() *fold.Design { return board(strip(), append([]func(*fold.Design){one}, changes...)...) }
	}
	rigid := section("m", "thick", rect(0, 0, edge+0.234, 10))
	necked := func() *fold.Design { return board(neck(edge+0.123, 40-edge-0.234, 8, 12, 0), one) }
	ending := func() *fold.Design {
		return board(pts(0, 0, 20+w90/2-0.234, 0, 20+w90/2-0.234, 10, 0, 10), one)
	}
	moved := func(sign float64) func(float64) func(*fold.Design) {
		return func(mm float64) func(*fold.Design) {
			return func(d *fold.Design) {
				for i := range d.Hinges[0].Line {
					d.Hinges[0].Line[i].X += sign * mm
				}
			}
		}
	}
	cornered := func(mm float64) []flat.Vertex {
		out := pts(0, 0, 40, 0, 40, 10, 12, 10, 12, 20, 0, 20)
		out[3].Round = mm
		return out
	}
	return []hintCase{
		{"ratio", "bend-ratio", "inside radius of", strips(layers(2), radius(1.7)), radius, false},
		{"rigid, lower radius", "bend-on-rigid", "inside radius to", strips(rigid), radius, true},
		{"rigid, moved line", "bend-on-rigid", "move the hinge line", strips(rigid), moved(1), false},
		{"rigid on both sides", "bend-on-rigid", "between m and o", strips(rigid, section("o", "thick", rect(40-edge-0.456, 0, 40, 10))),
			func(mm float64) func(*fold.Design) {
				return func(d *fold.Design) { // of the length, each side gets what it needs
					d.Sections[0].Area, d.Sections[1].Area = rect(0, 0, edge+0.234-mm*0.234/0.69, 10), rect(40-edge-0.456+mm*0.456/0.69, 0, 40, 10)
				}
			}, false},
		{"neck, lower radius", "bend-beyond-neck", "inside radius to", necked, radius, true},
		{"neck, made longer", "bend-beyond-neck", "make the neck", necked, func(mm float64) func(*fold.Design) {
			return func(d *fold.Design) {
				d.Outline = board(neck(edge+0.123-mm*0.123/0.357, 40-edge-0.234+mm*0.234/0.357, 8, 12, 0)).Outline
			}
		}, false},
		{"free end, lower radius", "bend-free-end", "inside radius to", ending, radius, true},
		{"free end, moved line", "bend-free-end", "into the board by more than", ending, moved(-1), false},
		{"overlap", "bend-overlap", "apart by at least", strips(func(d *fold.Design) {
			other := d.Hinges[0]
			other.Name, other.Line = "o", [2]flat.Pt{{X: 22.345, Y: -5}, {X: 22.345, Y: 45}}
			d.Hinges = append(d.Hinges, other)
		}), moved(-1), false},
		{"part", "component-in-bend", "move U1 at least", strips(part(edge-2+0.321, 5, 4, 4)),
			func(mm float64) func(*fold.Design) { return func(d *fold.Design) { d.Components[0].At.X -= mm } }, false},
		{"slot", "cutout-end-in-bend", "move it", strips(cutout(rect(10, 4, edge+0.432, 6))),
			func(mm float64) func(*fold.Design) {
				return func(d *fold.Design) { d.Cutouts[0] = rect(10, 4, edge+0.432-mm, 6) }
			}, false},
		{"corner", "inside-corner", "round it with", func() *fold.Design { return board(cornered(0), one) },
			func(mm float64) func(*fold.Design) {
				return func(d *fold.Design) { d.Outline = board(cornered(mm)).Outline }
			}, false},
		{"unlike layers", "stack-balance", "make both", strips(unlike(0.4, 0.1)), func(mm float64) func(*fold.Design) { return unlike(mm, mm) }, false},
		{"less unlike layers", "stack-balance", "a difference of", strips(unlike(0.4, 0.1)), func(mm float64) func(*fold.Design) { return unlike(0.25+mm/2, 0.25-mm/2) }, true},
	}
}

// unlike adds a rigid section with two copper layers between plates of these thicknesses.
func unlike(one, other float64) func(*fold.Design) {
	return func(d *fold.Design) {
		film := func(v float64) stackup.Layer {
			return stackup.Layer{Material: "fr4", Thickness: v, Modulus: 22, Coverage: 1}
		}
		foil := stackup.Layer{Material: "copper-ed", Thickness: 0.035, Modulus: 117, Coverage: 1, Copper: true}
		s := stackup.Stackup{Name: "plates", Rigid: true, CopperLayers: 2, Layers: []stackup.Layer{film(one), foil, film(0.2), foil, film(other)}}
		if len(d.Stackups) > 2 {
			d.Stackups[2] = s
			return
		}
		d.Stackups = append(d.Stackups, s)
		section("plate", "plates", rect(0, 0, 5, 10))(d)
	}
}

// TestHintsPass does what hints say, with the numbers that they print in the design's units, and checks again: the finding is gone
// and none above advice has come, and the hint was not more than 0.02 mm too much.
func TestHintsPass(t *testing.T) {
	for _, c := range hintCases() {
		for _, u := range allUnits {
			t.Run(fmt.Sprint(c.name, " ", Lengths{u}.Unit()), func(t *testing.T) {
				made := func(changes ...func(*fold.Design)) []finding.Finding {
					d := c.board()
					for _, change := range append(changes, in(u)) {
						change(d)
					}
					return check(t, d)
				}
				found := of(c.rule, made())
				if len(found) == 0 {
					t.Fatal("no finding")
				}
				v := hinted(t, c.words, found[0].Hint, u)
				for _, left := range made(c.paste(v)) {
					if left.Severity > finding.Advice || left.Rule == c.rule {
						t.Errorf("%q, done: %+v", found[0].Hint, left)
					}
				}
				less := v - 0.02
				if c.most {
					less = v + 0.02
				}
				if left := of(c.rule, made(c.paste(less))); len(left) == 0 && c.words != "make both" {
					t.Errorf("%q: %g mm would do as well", found[0].Hint, less)
				}
			})
		}
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

// TestBoundsHold: the bound that an open concession is told accepts the finding.
func TestBoundsHold(t *testing.T) {
	for _, u := range allUnits {
		for _, v := range []float64{0.04321, 1.23456, 7.77777, 12.3} {
			d := conceding(fold.Concession{Rule: "bend-on-rigid"})
			d.Units = u
			for _, limit := range []float64{0, 99} {
				list := []finding.Finding{{Rule: "bend-on-rigid", Value: finding.Number(v), Limit: finding.Number(limit), Unit: "mm"}}
				for _, f := range Concede(d, list) {
					if !strings.HasPrefix(f.Rule, "concession") {
						continue
					}
					bound := hinted(t, "now it is", f.Hint, u)
					if !within(&list[0], &bound) {
						t.Errorf("%g mm with limit %g: %q", v, limit, f.Hint)
					}
				}
			}
		}
	}
}
