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

// inPostures divides a design and stands it in all of its postures.
func inPostures(t *testing.T, d *fold.Design) []Board {
	t.Helper()
	tree, problems := fold.Divide(d)
	if problems != nil {
		t.Fatal(problems)
	}
	var out []Board
	for _, name := range tree.PostureNames() {
		angles, err := tree.PostureAngles(name)
		if err != nil {
			t.Fatal(err)
		}
		f, err := tree.Place(angles)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, Board{Tree: tree, Folded: f, Posture: name})
	}
	return out
}

func posture(name string, angles ...float64) func(*fold.Design) {
	return func(d *fold.Design) {
		p := fold.Posture{Name: name}
		for i, a := range angles {
			p.Angles = append(p.Angles, fold.HingeAngle{Hinge: d.Hinges[i].Name, Angle: a})
		}
		d.Postures = append(d.Postures, p)
	}
}

func TestTightestPosture(t *testing.T) {
	// At 120 degrees the strip of width 2.1 pi/2 has a neutral radius of 2.1 * 90/120 and an inside radius of 1.475.
	d := board(strip(), posture("flatter", 30), posture("tight", 120), posture("away", -90), posture("tighter", 121), posture("as-tight", 121))
	fs := CheckPostures(inPostures(t, d))
	if len(fs) != 1 || fs[0].Rule != "bend-ratio" || fs[0].Posture != "tighter" {
		t.Fatalf("want one bend-ratio in posture tighter, got %+v", fs)
	}
	want := (2.1*90/121 - 0.1) / 0.2
	if got := *fs[0].Value; math.Abs(got-want) > 1e-12 || *fs[0].Limit != 10 {
		t.Errorf("ratio %g, want %g", got, want)
	}
	if m := fs[0].Margin(); m == nil || math.Abs(*m-(want-10)) > 1e-12 {
		t.Errorf("margin %v, want %g", m, want-10)
	}
	if !strings.Contains(fs[0].Message, "at 121 degrees (posture tighter)") {
		t.Errorf("the message does not say when: %s", fs[0].Message)
	}
}

// TestFlatRulesOnce: what does not depend on the posture is reported once, an open loop in each posture that it is open in.
func TestFlatRulesOnce(t *testing.T) {
	frame := pts(0, 0, 60, 0, 60, 40, 0, 40)
	d := board(frame, cutout(rect(10, 10, 50, 30)), cutout(disc(20, 5, 1)), func(d *fold.Design) {
		d.Hinges = []fold.Hinge{{Name: "a", Line: [2]flat.Pt{{X: 20, Y: 0}, {X: 20, Y: 10}}, Angle: 90, Radius: 2}, {Name: "b", Line: [2]flat.Pt{{X: 20, Y: 30}, {X: 20, Y: 40}}, Angle: 90, Radius: 2}}
	}, posture("one", 40), posture("other", 90, 30), posture("both", 20, 20))
	var got []string
	for _, f := range CheckPostures(inPostures(t, d)) {
		if f.Severity > finding.Advice {
			got = append(got, f.Rule+"/"+f.Posture)
		}
	}
	if s := strings.Join(got, " "); s != "loop-open/one loop-open/other cutout-end-in-bend/" {
		t.Errorf("got %s", s)
	}
}

// TestLeastRadiusPasses writes the radius that a finding names and checks again: under one line over two arms of different
// thickness, folded both ways, beyond and under the design's angle.
func TestLeastRadiusPasses(t *testing.T) {
	arms := func(r float64, angles ...float64) *fold.Design {
		d := board(pts(0, 0, 10, 0, 10, 4, 80, 4, 80, 10, 10, 10, 10, 14, 80, 14, 80, 20, 0, 20), radius(r), func(d *fold.Design) {
			d.Hinges[0].Line[0].X, d.Hinges[0].Line[1].X = 45, 45
			d.Stackups = append(d.Stackups, stackup.Stackup{Name: "thin", CopperLayers: 1,
				Layers: []stackup.Layer{{Thickness: 0.1, Modulus: 1}, {Thickness: 0.05, Modulus: 100, Copper: true}}})
		}, section("arm", "thin", rect(10, 14, 80, 20)))
		for i, a := range angles {
			posture(strings.Repeat("p", i+1), a)(d)
		}
		return d
	}
	for _, angles := range [][]float64{nil, {135}, {-120}, {45}, {-170, 60}} {
		boards := inPostures(t, arms(1.5, angles...))
		least, ok := LeastRadius(boards[0].Tree, 0)
		if !ok {
			t.Fatal("no radius")
		}
		for _, c := range []struct {
			radius float64
			found  int
		}{{least, 0}, {least * (1 - 1e-6), 1}} {
			n := 0
			for _, f := range CheckPostures(inPostures(t, arms(c.radius, angles...))) {
				if f.Rule == "bend-ratio" {
					n++
				}
			}
			if n != c.found {
				t.Errorf("postures %v: radius %.9f of least %.9f makes %d findings, want %d", angles, c.radius, least, n, c.found)
			}
		}
	}
}

func TestLimitsSayWhose(t *testing.T) {
	at := finding.Place{File: "our-fab.yaml", Line: 3}
	ours := fold.Limits{Overrides: []fold.LimitValue{{Rule: "bend-ratio", Value: 12, Place: at}}}
	for _, c := range []struct {
		l      fold.Limits
		layers int
		use    string
		limit  float64
		why    string
	}{
		{fold.Limits{}, 2, "", 10, "two copper layers"},
		{fold.Limits{Profile: "strict"}, 3, "install", 24, "3 copper layers, profile strict"},
		{fold.Limits{}, -1, "", 10, "number of copper layers not known"},
		{fold.Limits{}, 1, "dynamic", 100, "dynamic use"},
		{fold.Limits{Overrides: []fold.LimitValue{{Rule: "bend-ratio", Value: 7.5}}}, 2, "dynamic", 7.5, "limit of the design"},
		{ours, 1, "", 12, "limit of our-fab.yaml:3"},
	} {
		if limit, why := RatioLimit(&fold.Design{Limits: c.l}, c.layers, c.use); limit != c.limit || why != c.why {
			t.Errorf("%+v: %g (%s), want %g (%s)", c.l, limit, why, c.limit, c.why)
		}
	}
	d := board(strip(), func(d *fold.Design) { d.Limits = ours })
	fs := check(t, d)
	if len(fs) != 1 || !strings.Contains(fs[0].Message, "limit of our-fab.yaml:3") || !strings.HasPrefix(fs[0].Source, "limit of our-fab.yaml:3") {
		t.Errorf("the finding does not name the limit's source: %+v", fs)
	}
}

func TestCornerLimitOverride(t *testing.T) {
	l := pts(0, 0, 40, 0, 40, 10, 12, 10, 12, 20, 0, 20)
	l[3].Round = 0.8
	for _, c := range []struct {
		limits fold.Limits
		found  int
	}{
		{fold.Limits{}, 0}, {fold.Limits{Profile: "strict"}, 1}, {fold.Limits{Overrides: []fold.LimitValue{{Rule: "inside-corner", Value: 0.8}}}, 0},
		{fold.Limits{Overrides: []fold.LimitValue{{Rule: "inside-corner", Value: 0.81}}}, 1},
	} {
		fs := check(t, board(l, radius(3), func(d *fold.Design) { d.Limits = c.limits }))
		if len(fs) != c.found {
			t.Errorf("%+v: %+v", c.limits, fs)
		}
	}
}
