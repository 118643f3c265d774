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

// foil is rolled copper between equal films: symmetric, so that its neutral surface lies in the middle of 0.1 mm.
func foil(d *fold.Design) {
	film := stackup.Layer{Material: "polyimide", Thickness: 0.038, Modulus: 2.5, Coverage: 1}
	copper := stackup.Layer{Material: "copper-ra", Thickness: 0.024, Modulus: 117, Copper: true, Coverage: 1}
	d.Stackups[0] = stackup.Stackup{Name: "flex", CopperLayers: 1, Layers: []stackup.Layer{film, copper, film}}
}

// held puts rigid sections on both sides of the strip, the flex between them free for 16 mm.
func held(d *fold.Design) {
	section("a", "thick", rect(0, 0, 12, 10))(d)
	section("b", "thick", rect(28, 0, 40, 10))(d)
}

func hinge(change func(*fold.Hinge)) func(*fold.Design) {
	return func(d *fold.Design) { change(&d.Hinges[0]) }
}

func freely(h *fold.Hinge) { h.Formed = "free" }

func turning(angle float64) func(*fold.Design) {
	return hinge(func(h *fold.Hinge) { h.Angle, h.Written = angle, math.Copysign(1, angle) })
}

func dynamic(cycles float64, between ...float64) func(*fold.Design) {
	return hinge(func(h *fold.Hinge) {
		h.Use, h.Cycles = "dynamic", cycles
		if len(between) == 2 {
			h.Between = &[2]float64{between[0], between[1]}
		}
	})
}

func limit(rule string, value float64) func(*fold.Design) {
	return func(d *fold.Design) {
		d.Limits.Overrides = append(d.Limits.Overrides, fold.LimitValue{Rule: rule, Value: value})
	}
}

// of returns the findings of one rule.
func of(rule string, list []finding.Finding) []finding.Finding {
	var out []finding.Finding
	for _, f := range list {
		if f.Rule == rule {
			out = append(out, f)
		}
	}
	return out
}

// only returns the finding of a rule, of which there must be one.
func only(t *testing.T, rule string, d *fold.Design) finding.Finding {
	t.Helper()
	list := of(rule, check(t, d))
	if len(list) != 1 {
		t.Fatalf("%d findings of %s: %+v", len(list), rule, list)
	}
	return list[0]
}

// TestHintedRadii writes the radii that the hints about bending name, and less, and checks again: the first pass, the others do
// not.
func TestHintedRadii(t *testing.T) {
	for name, c := range map[string]struct {
		rule    string
		changes []func(*fold.Design)
	}{
		"free shape of a U":         {"bend-ratio", []func(*fold.Design){held, hinge(freely), turning(180), radius(2.5), limit("bend-ratio", 16)}},
		"free shape, right angle":   {"bend-ratio", []func(*fold.Design){held, hinge(freely), turning(-90), radius(3), limit("bend-ratio", 22)}},
		"free shape, tangent line":  {"bend-ratio", []func(*fold.Design){held, hinge(freely), turning(170), radius(2.5), limit("bend-ratio", 15.5), tangentAt(14)}},
		"between":                   {"bend-ratio", []func(*fold.Design){dynamic(0, 0, 120), limit("bend-ratio", 10)}},
		"strain":                    {"bend-strain", []func(*fold.Design){foil, dynamic(0), radius(3), limit("bend-ratio", 5)}},
		"strain of the free shape":  {"bend-strain", []func(*fold.Design){foil, held, hinge(freely), turning(180), dynamic(0), radius(3.5), limit("bend-ratio", 5), limit("bend-strain", 0.32)}},
		"life":                      {"bend-life", []func(*fold.Design){foil, dynamic(1e5), radius(3), limit("bend-ratio", 5), limit("bend-strain", 5)}},
		"life between":              {"bend-life", []func(*fold.Design){foil, dynamic(1e5, 20, 90), radius(2.5), limit("bend-ratio", 5), limit("bend-strain", 5)}},
		"life of the free shape":    {"bend-life", []func(*fold.Design){foil, held, hinge(freely), turning(160), dynamic(3e4, 20, 160), radius(2.5), limit("bend-ratio", 5), limit("bend-strain", 5)}},
		"life, toward the bottom":   {"bend-life", []func(*fold.Design){foil, turning(-120), dynamic(1e5, 30, 120), radius(2.5), limit("bend-ratio", 5), limit("bend-strain", 5)}},
		"strain, toward the bottom": {"bend-strain", []func(*fold.Design){foil, turning(-90), dynamic(0, 0, 100), radius(3), limit("bend-ratio", 5)}},
	} {
		t.Run(name, func(t *testing.T) {
			f := only(t, c.rule, board(strip(), c.changes...))
			if f.Severity < finding.Warning {
				t.Errorf("severity %s", f.Severity)
			}
			graver := func(r float64) bool {
				for _, f := range of(c.rule, check(t, board(strip(), append(c.changes, radius(r))...))) {
					if f.Severity > finding.Advice {
						return true
					}
				}
				return false
			}
			for _, u := range allUnits {
				hint := only(t, c.rule, board(strip(), append(c.changes, in(u))...)).Hint
				if graver(hinted(t, "inside radius of", hint, u)) {
					t.Errorf("%q does not pass", hint)
				}
			}
			if v := hinted(t, "inside radius of", f.Hint, ""); !graver(v - 0.02) {
				t.Errorf("%q: %g would do as well", f.Hint, v-0.02)
			}
		})
	}
}

// tangentAt writes the hinge as the tangent line at x, the bend area to its right.
func tangentAt(x float64) func(*fold.Design) {
	return hinge(func(h *fold.Hinge) {
		h.Line[0].X, h.Line[1].X, h.Tangent, h.Into = x, x, true, flat.Pt{X: x + 1, Y: 5}
	})
}

// TestLeastRadiusOfBending: what is said to be the least radius passes all rules about bending, a little less breaks one.
func TestLeastRadiusOfBending(t *testing.T) {
	for name, changes := range map[string][]func(*fold.Design){
		"ratio of the free shape": {held, hinge(freely), turning(180)},
		"strain":                  {foil, dynamic(100), limit("bend-ratio", 5)},
		"life":                    {foil, dynamic(2e5), limit("bend-ratio", 5)},
		"ends":                    {dynamic(0, -130, 100), limit("bend-ratio", 10)},
		"life of the free shape":  {foil, held, hinge(freely), turning(160), dynamic(3e4, 20, 160), limit("bend-ratio", 5), limit("bend-strain", 5)},
	} {
		tree, problems := fold.Divide(board(strip(), changes...))
		if problems != nil {
			t.Fatal(problems)
		}
		least, ok := LeastRadius(tree, 0)
		if !ok {
			t.Fatalf("%s: none", name)
		}
		if left := serious(t, board(strip(), append(changes, radius(least))...)); len(left) > 0 {
			t.Errorf("%s: %.9f does not pass: %+v", name, least, left)
		}
		if left := serious(t, board(strip(), append(changes, radius(least*(1-1e-6)))...)); len(left) != 1 {
			t.Errorf("%s: less than %.9f: %+v", name, least, left)
		}
	}
	tree, _ := fold.Divide(board(strip(), held, hinge(freely), turning(180), limit("bend-ratio", 60)))
	if r, ok := LeastRadius(tree, 0); ok {
		t.Errorf("a free shape of 60 times the thickness between edges 16 mm apart: %g", r)
	}
}

// TestFreeShapeIsJudged: flex that is drawn well, but left to itself, is judged by what it then does; held by a former it is not.
func TestFreeShapeIsJudged(t *testing.T) {
	changes := []func(*fold.Design){held, turning(180), radius(3.55)} // L/D 16/7.3: the least neutral radius is 0.4173 times 7.3
	if left := serious(t, board(strip(), changes...)); len(left) > 0 {
		t.Errorf("held: %+v", left)
	}
	f := only(t, "bend-ratio", board(strip(), append(changes, hinge(freely), limit("bend-ratio", 15))...))
	if want := (0.417313*7.3 - 0.1) / 0.2; math.Abs(*f.Value-want) > 1e-3 {
		t.Errorf("ratio %g, want %g", *f.Value, want)
	}
	for _, words := range []string{"free shape between its rigid edges", "drawn 3.55 mm"} {
		if !strings.Contains(f.Message, words) {
			t.Errorf("%q is missing in %q", words, f.Message)
		}
	}
	if !strings.Contains(f.Hint, "stays in place hold the flex") {
		t.Error(f.Hint)
	}
}

// TestBetweenIsJudged: the angles of a work are judged once, whatever the postures, in the sense in which the hinge is written.
func TestBetweenIsJudged(t *testing.T) {
	d := board(strip(), turning(-90), dynamic(0, 10, 120), limit("bend-ratio", 10), posture("open", -10))
	fs := of("bend-ratio", CheckPostures(inPostures(t, d)))
	if len(fs) != 1 || fs[0].Posture != "" || !strings.Contains(fs[0].Message, "at 120 degrees (it works between 10 and 120 degrees)") {
		t.Fatalf("%+v", fs)
	}
	want := (2.1*90/120 - 0.1) / 0.2
	if got := *fs[0].Value; math.Abs(got-want) > 1e-12 {
		t.Errorf("ratio %g, want %g", got, want)
	}
	d.Hinges[0].Use = "install"
	if fs := of("bend-ratio", CheckPostures(inPostures(t, d))); len(fs) > 0 {
		t.Errorf("a hinge that does not work: %+v", fs)
	}
}

// TestLifeWithinScatter: what is asked for lies above, within and below the band about the mean.
func TestLifeWithinScatter(t *testing.T) {
	at := func(cycles float64) []finding.Finding {
		return of("bend-life", check(t, board(strip(), foil, dynamic(cycles), radius(4), limit("bend-ratio", 5), limit("bend-strain", 5))))
	}
	mean := *at(1e9)[0].Value
	for _, c := range []struct {
		share    float64
		found    int
		severity finding.Severity
		value    float64
	}{{1.001, 1, finding.Warning, mean}, {1, 1, finding.Advice, mean / 10}, {0.101, 1, finding.Advice, mean / 10}, {0.1, 0, 0, 0}, {0.01, 0, 0, 0}} {
		fs := at(c.share * mean)
		if len(fs) != c.found {
			t.Errorf("%g of the mean: %+v", c.share, fs)
		} else if c.found > 0 && (fs[0].Severity != c.severity || math.Abs(*fs[0].Value/c.value-1) > 1e-9) {
			t.Errorf("%g of the mean: %s %g, want %s %g", c.share, fs[0].Severity, *fs[0].Value, c.severity, c.value)
		}
	}
	if fs := at(0); len(fs) > 0 {
		t.Errorf("no cycles: %+v", fs)
	}
}

// The dearest hinge: dynamic and left to its free shape, with postures. A check solves a shape for each angle, the least radius
// some dozens.
func BenchmarkFreeHinge(b *testing.B) {
	d := board(strip(), foil, held, hinge(freely), turning(160), dynamic(3e4, 20, 160), posture("half", 80), limit("bend-ratio", 5), limit("bend-strain", 5))
	tree, problems := fold.Divide(d)
	if problems != nil {
		b.Fatal(problems)
	}
	f, err := tree.Place(tree.Angles())
	if err != nil {
		b.Fatal(err)
	}
	b.Run("check", func(b *testing.B) {
		for b.Loop() {
			Check(tree, f, fold.FoldedPosture)
		}
	})
	b.Run("least radius", func(b *testing.B) {
		for b.Loop() {
			LeastRadius(tree, 0)
		}
	})
}
