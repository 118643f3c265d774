package rule

import (
	"math"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// w90 is the width of the usual bend: t 0.2, R 2, 90 degrees (ratio 10, so that no rule fires of itself).
var w90 = 2.1 * math.Pi / 2

func pts(xy ...float64) []flat.Vertex {
	var out []flat.Vertex
	for i := 0; i < len(xy); i += 2 {
		out = append(out, flat.Vertex{P: flat.Pt{X: xy[i], Y: xy[i+1]}})
	}
	return out
}

func rect(x0, y0, x1, y1 float64) flat.Loop { l, _ := flat.Rect(x0, y0, x1, y1, 0); return l }

// board returns a design of plain flex 0.2 thick with one hinge at x = 20.
func board(outline []flat.Vertex, change ...func(*fold.Design)) *fold.Design {
	loop, errs := flat.Build(outline)
	if errs != nil {
		panic(errs[0].What)
	}
	d := &fold.Design{Outline: loop, Flex: "flex", Hinges: []fold.Hinge{{Name: "n", Line: [2]flat.Pt{{X: 20, Y: -5}, {X: 20, Y: 45}}, Angle: 90, Radius: 2, Written: 1}},
		Base: fold.Base{Point: &flat.Pt{X: 1, Y: 1}},
		Stackups: []stackup.Stackup{{Name: "flex", Layers: []stackup.Layer{{Thickness: 0.2, Modulus: 1}}, CopperLayers: -1},
			{Name: "thick", Rigid: true, Layers: []stackup.Layer{{Thickness: 1.6, Modulus: 1}}}}}
	for _, c := range change {
		c(d)
	}
	return d
}

func strip() []flat.Vertex { return pts(0, 0, 40, 0, 40, 10, 0, 10) }

func check(t *testing.T, d *fold.Design) []finding.Finding {
	t.Helper()
	tree, ps := fold.Divide(d)
	if ps != nil {
		t.Fatalf("%v", ps)
	}
	var f *fold.Folded
	if tree.Foldable {
		var err error
		if f, err = tree.Place(tree.Angles()); err != nil {
			t.Fatal(err)
		}
	}
	return Check(tree, f, "folded")
}

// bitten returns a strip with a round bite of that depth in its lower side from x0 to x1.
func bitten(x0, x1, depth float64) []flat.Vertex {
	out := pts(0, 0, x0, 0, x1, 0, 40, 0, 40, 10, 0, 10)
	out[2].Via = &flat.Pt{X: (x0 + x1) / 2, Y: depth}
	return out
}

// neck returns two plates 20 wide joined by a neck from x0 to x1 between y0 and y1, with fillets.
func neck(x0, x1, y0, y1, fillet float64) []flat.Vertex {
	out := pts(0, 0, x0, 0, x0, y0, x1, y0, x1, 0, 40, 0, 40, 20, x1, 20, x1, y1, x0, y1, x0, 20, 0, 20)
	for _, i := range []int{2, 3, 8, 9} {
		out[i].Round = fillet
	}
	return out
}

func section(name, stack string, l flat.Loop) func(*fold.Design) {
	return func(d *fold.Design) {
		d.Sections = append(d.Sections, fold.Section{Name: name, Stackup: stack, Area: l})
	}
}

func radius(r float64) func(*fold.Design) { return func(d *fold.Design) { d.Hinges[0].Radius = r } }
func layers(n int) func(*fold.Design)     { return func(d *fold.Design) { d.Stackups[0].CopperLayers = n } }
func cutout(l flat.Loop) func(*fold.Design) {
	return func(d *fold.Design) { d.Cutouts = append(d.Cutouts, l) }
}
func disc(x, y, dia float64) flat.Loop { l, _ := flat.Circle(flat.Pt{X: x, Y: y}, dia); return l }

func part(x, y, sx, sy float64) func(*fold.Design) {
	h := 1.0
	return func(d *fold.Design) {
		d.Components = append(d.Components, fold.Component{Name: "U1", At: flat.Pt{X: x, Y: y}, Size: &[2]float64{sx, sy}, Height: &h})
	}
}

func thickness(v float64) func(*fold.Design) {
	return func(d *fold.Design) { d.Stackups[0].Layers[0].Thickness = v }
}

// Each rule with boards that pass, fail and stand on the border. value is that of the finding.
func TestRules(t *testing.T) {
	edge := 20 - w90/2 // near tangent line
	frame := pts(0, 0, 60, 0, 60, 40, 0, 40)
	twoArms := func(off float64) []func(*fold.Design) {
		return []func(*fold.Design){cutout(rect(10, 10, 50, 30)), func(d *fold.Design) {
			d.Hinges = []fold.Hinge{{Name: "a", Line: [2]flat.Pt{{X: 30, Y: 0}, {X: 30, Y: 10}}, Angle: 90, Radius: 2}, {Name: "b", Line: [2]flat.Pt{{X: 30, Y: 30}, {X: 30, Y: 40}}, Angle: 90, Radius: 2 + off}}
		}}
	}
	gap := math.Sqrt2 * (1 - math.Pi/4)
	for _, c := range []struct {
		name     string
		d        *fold.Design
		rule     string // "" = nothing above advice
		severity finding.Severity
		value    float64
	}{
		{"ratio 10 exactly", board(strip()), "", 0, 0},
		{"ratio 9.9", board(strip(), radius(1.98)), "bend-ratio", finding.Warning, 9.9},
		{"ratio 2.9", board(strip(), radius(0.58)), "bend-ratio", finding.Error, 2.9},
		{"one layer, ratio 6", board(strip(), radius(1.2), layers(1)), "", 0, 0},
		{"one layer, ratio 5.9", board(strip(), radius(1.18), layers(1)), "bend-ratio", finding.Warning, 5.9},
		{"four layers, ratio 19", board(strip(), radius(3.8), layers(4)), "bend-ratio", finding.Warning, 19},
		{"dynamic, ratio 10", board(strip(), layers(1), func(d *fold.Design) { d.Hinges[0].Use = "dynamic" }), "bend-ratio", finding.Warning, 10},
		{"rigid ends at the tangent line", board(strip(), section("m", "thick", rect(0, 0, edge, 10))), "", 0, 0},
		{"rigid 0.0009 inside", board(strip(), section("m", "thick", rect(0, 0, edge+0.0009, 10))), "", 0, 0},
		{"rigid 0.5 inside", board(strip(), section("m", "thick", rect(0, 0, edge+0.5, 10))), "bend-on-rigid", finding.Error, 0.5},
		{"stiffener 0.5 inside", board(strip(), func(d *fold.Design) {
			d.Stiffeners = []fold.Stiffener{{Name: "p", Thickness: 0.2, Area: rect(5, 2, edge+0.5, 8)}}
		}), "bend-on-rigid", finding.Error, 0.5},
		{"neck as long as the bend", board(pts(0, 0, edge, 0, edge, 8, 40-edge, 8, 40-edge, 0, 40, 0, 40, 20, 40-edge, 20, 40-edge, 12, edge, 12, edge, 20, 0, 20)), "", 0, 0},
		{"neck 2 long", board(pts(0, 0, 19, 0, 19, 8, 21, 8, 21, 0, 40, 0, 40, 20, 21, 20, 21, 12, 19, 12, 19, 20, 0, 20)), "bend-beyond-neck", finding.Warning, w90/2 - 1},
		{"free end", board(pts(0, 0, 21, 0, 21, 10, 0, 10)), "bend-free-end", finding.Warning, 90 * (w90/2 + 1) / w90},
		{"part beside the bend", board(strip(), part(edge-2, 5, 4, 4)), "", 0, 0},
		{"part 0.3 inside", board(strip(), part(edge-2+0.3, 5, 4, 4)), "component-in-bend", finding.Warning, 0.3},
		{"turned part, corner inside", board(strip(), part(edge-2.5, 5, 4, 4), func(d *fold.Design) { d.Components[0].Turn = 45 }), "component-in-bend", finding.Warning, 2*math.Sqrt2 - 2.5},
		{"slot right through", board(strip(), cutout(rect(17, 4, 23, 6))), "", 0, 0},
		{"slot up to the tangent line", board(strip(), cutout(rect(10, 4, edge, 6))), "", 0, 0},
		{"slot ends inside", board(strip(), cutout(rect(10, 4, edge+0.4, 6))), "cutout-end-in-bend", finding.Warning, 0.4},
		{"hole inside", board(strip(), cutout(disc(20, 5, 1))), "cutout-end-in-bend", finding.Warning, w90/2 + 0.5},
		{"notch inside", board(pts(0, 0, 19.5, 0, 19.5, 1, 20.5, 1, 20.5, 0, 40, 0, 40, 10, 0, 10)), "cutout-end-in-bend", finding.Warning, w90/2 - 0.5},
		{"round bite inside", board(bitten(18.7, 20.7, 1)), "cutout-end-in-bend", finding.Warning, w90/2 - 0.3},
		{"round bite right through", board(bitten(18.2, 21.8, 1.8)), "", 0, 0},
		{"waist across the strip", board(pts(0, 0, 15, 0, 17, 1, 23, 1, 25, 0, 40, 0, 40, 10, 0, 10)), "", 0, 0},
		{"tapered board", board(pts(0, 0, 40, 8, 40, 12, 0, 20)), "", 0, 0},
		{"fillets of a narrow neck in the bend", board(neck(edge, 40-edge, 8, 12, 0.5)), "", 0, 0},
		{"fillets of a wide neck in the bend", board(neck(edge, 40-edge, 2, 18, 0.5)), "", 0, 0},
		{"filleted shoulders 0.5 inside", board(neck(edge+0.5, 40-edge, 8, 12, 0.5)), "bend-beyond-neck", finding.Warning, 0.5},
		{"shoulders 0.3 and 0.5 inside", board(neck(edge+0.3, 40-edge-0.5, 8, 12, 0)), "bend-beyond-neck", finding.Warning, 0.5},
		{"shoulders of a wide neck 0.5 inside", board(neck(edge+0.5, 40-edge, 1.5, 18.5, 0.3)), "bend-beyond-neck", finding.Warning, 0.5},
		{"one shoulder 0.5 inside", board(pts(0, 0, edge+0.5, 0, edge+0.5, 1, 40, 1, 40, 10, 0, 10)), "bend-beyond-neck", finding.Warning, 0.5},
		{"rigid edge 0.02 beside the shoulders", board(neck(edge+0.05, 40-edge, 8, 12, 0), section("m", "thick", rect(0, 0, edge, 20))), "", 0, 0},
		{"stiffened shoulders 0.5 inside", board(neck(edge+0.5, 40-edge, 8, 12, 0), func(d *fold.Design) {
			d.Stiffeners = []fold.Stiffener{{Name: "p", Thickness: 0.2, Area: rect(0, 0, edge+0.5, 20)}}
		}), "bend-on-rigid", finding.Error, 0.5},
		{"cap of a round board", board([]flat.Vertex{{P: flat.Pt{X: 22.5, Y: 10}}, {P: flat.Pt{X: -37.5, Y: 10}, Via: &flat.Pt{X: -7.5, Y: 40}}, {P: flat.Pt{X: 22.5, Y: 10}, Via: &flat.Pt{X: -7.5, Y: -20}}},
			func(d *fold.Design) { d.Hinges[0].Line[0].Y = -20 }), "", 0, 0},
		{"blunt tip", board(pts(0, -10, 18.5, -10, 19.5, -4, 24, 6, 24, 14, 19.5, 24, 18.5, 30, 0, 30), func(d *fold.Design) { d.Hinges[0].Line[0].Y = -20 }), "", 0, 0},
		{"notch nearer to the near tangent line", board(pts(0, 0, edge+0.2, 0, edge+0.2, 1, edge+1.2, 1, edge+1.2, 0, 40, 0, 40, 10, 0, 10)), "cutout-end-in-bend", finding.Warning, 1.2},
		{"notch nearer to the far tangent line", board(pts(0, 0, 40-edge-1.2, 0, 40-edge-1.2, 1, 40-edge-0.2, 1, 40-edge-0.2, 0, 40, 0, 40, 10, 0, 10)), "cutout-end-in-bend", finding.Warning, 1.2},
		{"loop closes", board(frame, twoArms(0)...), "", 0, 0},
		{"loop 0.3 mm open", board(frame, twoArms(1)...), "loop-open", finding.Warning, gap},
		{"loop 1.2 mm open", board(frame, twoArms(4)...), "loop-open", finding.Error, 4 * gap},
		{"flex of 5 mm", board(pts(0, 0, 400, 0, 400, 10, 0, 10), thickness(5), radius(50), func(d *fold.Design) { d.Hinges[0].Line = [2]flat.Pt{{X: 200, Y: -5}, {X: 200, Y: 15}} }), "units-doubtful", finding.Warning, 5},
		{"board of 3 m", board(pts(0, 0, 3000, 0, 3000, 10, 0, 10)), "units-doubtful", finding.Warning, 3000},
		{"stiffener over a step", board(strip(), section("m", "thick", rect(0, 0, 10, 10)), func(d *fold.Design) {
			d.Stiffeners = []fold.Stiffener{{Name: "p", Thickness: 0.2, Area: rect(5, 2, 15, 8)}}
		}), "stiffener-face", finding.Warning, 0.7},
		{"stiffener on a rounded border", board(strip(), section("m", "thick", rect(0, 0, 10, 9.98)), func(d *fold.Design) {
			d.Stiffeners = []fold.Stiffener{{Name: "p", Thickness: 0.2, Area: rect(0, 0, 8, 10)}, {Name: "q", Thickness: 0.2, Area: rect(9.9996, 2, 12, 8)}, {Name: "r", Thickness: 0.2, Area: rect(11.9996, 2, 15, 8)}}
		}), "", 0, 0},
		{"stiffeners overlap", board(strip(), func(d *fold.Design) {
			d.Stiffeners = []fold.Stiffener{{Name: "p", Thickness: 0.2, Area: rect(0, 0, 8, 10)}, {Name: "q", Thickness: 0.2, Area: rect(7, 2, 12, 8)}}
		}), "stiffener-face", finding.Warning, 6},
	} {
		t.Run(c.name, func(t *testing.T) {
			var serious []finding.Finding
			for _, f := range check(t, c.d) {
				if f.Severity > finding.Advice {
					serious = append(serious, f)
				}
			}
			if c.rule == "" {
				if len(serious) > 0 {
					t.Fatalf("false alarm: %+v", serious)
				}
				return
			}
			if len(serious) != 1 || serious[0].Rule != c.rule || serious[0].Severity != c.severity {
				t.Fatalf("got %+v, want one %s", serious, c.rule)
			}
			f := serious[0]
			if math.Abs(*f.Value-c.value) > 1e-6*math.Max(1, c.value) {
				t.Errorf("value %.9g, want %.9g", *f.Value, c.value)
			}
			if f.Message == "" || f.Hint == "" || f.Source == "" || f.Limit == nil {
				t.Errorf("incomplete: %+v", f)
			}
		})
	}
}

func TestAdviceOnly(t *testing.T) {
	l := pts(0, 0, 40, 0, 40, 10, 12, 10, 12, 20, 0, 20)
	fs := check(t, board(l))
	if len(fs) != 1 || fs[0].Rule != "inside-corner" || *fs[0].At != [2]float64{12, 10} || *fs[0].Value != 0 {
		t.Fatalf("%+v", fs)
	}
	l[3].Round = 0.75
	if fs := check(t, board(l)); len(fs) != 0 {
		t.Errorf("rounded with 0.75: %+v", fs)
	}
	l[3].Round = 0
	if fs := check(t, board(l, section("m", "thick", rect(0, 0, 12, 20)))); len(fs) != 0 {
		t.Errorf("at a rigid edge: %+v", fs)
	}
	other := func(d *fold.Design) {
		d.Stackups = append(d.Stackups, stackup.Stackup{Name: "thin", Layers: []stackup.Layer{{Thickness: 0.1, Modulus: 1}}, CopperLayers: 1})
	}
	fs = check(t, board(strip(), other, section("arm", "thin", rect(20.5, 0, 40, 10))))
	if len(fs) != 1 || fs[0].Rule != "bend-stackup" || fs[0].Severity != finding.Advice {
		t.Fatalf("%+v", fs)
	}
}

func TestOverlapHint(t *testing.T) {
	d := board(pts(0, 0, 40, 0, 40, 40, 20, 40, 20, 20, 0, 20), func(d *fold.Design) {
		d.Hinges = append(d.Hinges, fold.Hinge{Name: "m", Line: [2]flat.Pt{{X: 20, Y: 20}, {X: 41, Y: 20}}, Angle: 90, Radius: 2})
		d.Hinges[0].Line = [2]flat.Pt{{X: 20, Y: 20}, {X: 20, Y: -1}}
	})
	fs := check(t, d)
	if fs[0].Rule != "bend-overlap" || fs[0].Severity != finding.Error || !strings.Contains(fs[0].Hint, "w/2 = 1.6493") {
		t.Errorf("%+v", fs[0])
	}
}

// The published worked ratio: two copper layers, 300 um thick, factor 10 gives 3.0 mm; dynamic, 400 um, factor 25 gives
// 10.0 mm (a fabricator's design page on flex-rigid boards). Our profile asks for 100 in dynamic use.
func TestPublishedRatio(t *testing.T) {
	limit, _ := RatioLimit(&fold.Design{}, 2, "")
	if got := limit * 0.300; math.Abs(got-3.0) > 1e-12 {
		t.Errorf("least radius %g, want 3.0", got)
	}
	if got := 10.0 / 0.400; math.Abs(got-25) > 1e-12 {
		t.Errorf("factor %g", got)
	}
}

func TestEveryRuleSaysWhatWhyAndWhence(t *testing.T) {
	last := ""
	for _, r := range All() {
		if r.ID <= last || r.Title == "" || r.Why == "" || r.Source == "" || r.Check == nil {
			t.Errorf("%s is incomplete or out of order", r.ID)
		}
		last = r.ID
	}
}

// A plate that reaches into both bends of a hinge is one finding, with the deeper of the two.
func TestOncePerHinge(t *testing.T) {
	edge := 20 - w90/2
	d := board(strip(), cutout(rect(10, 4, 30, 6)), section("m", "thick", flat.Loop{
		flat.Line(flat.Pt{}, flat.Pt{X: edge + 0.5}), flat.Line(flat.Pt{X: edge + 0.5}, flat.Pt{X: edge + 0.7, Y: 10}),
		flat.Line(flat.Pt{X: edge + 0.7, Y: 10}, flat.Pt{Y: 10}), flat.Line(flat.Pt{Y: 10}, flat.Pt{})}))
	var deep []float64
	for _, f := range check(t, d) {
		if f.Rule == "bend-on-rigid" {
			deep = append(deep, *f.Value)
		}
	}
	if len(deep) != 1 || math.Abs(deep[0]-0.7) > 1e-9 {
		t.Errorf("depths %v, want one of 0.7", deep)
	}
}

// The stack-up of what no section covers counts as well as that of a section.
func TestUncoveredFlexInABend(t *testing.T) {
	edge := 20 - w90/2
	thin := func(d *fold.Design) {
		d.Stackups = append(d.Stackups, stackup.Stackup{Name: "thin", Layers: []stackup.Layer{{Thickness: 0.2, Modulus: 1}}, CopperLayers: 1})
	}
	fs := check(t, board(strip(), thin, section("arm", "thin", rect(edge+0.4, 0, 40, 10))))
	if len(fs) != 1 || fs[0].Rule != "bend-stackup" || math.Abs(*fs[0].Value-0.4) > 1e-9 || fs[0].On[1] != "stackup:flex" {
		t.Errorf("%+v", fs)
	}
	if fs := check(t, board(strip(), thin, section("arm", "thin", rect(edge, 0, 40, 10)))); len(fs) != 0 {
		t.Errorf("a section that covers the whole bend: %+v", fs)
	}
}
