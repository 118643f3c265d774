package report

import (
	"slices"
	"testing"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/mesh/clash"
)

// moving returns the strip with a motion of two steps, in which U1 comes too near to the tray.
func moving(t *testing.T) Run {
	r := trouble(t)
	r.Tree.Design.Sequence = []fold.Step{{Name: "fold"}, {}}
	gap := func(step int, kind, body string, gap float64) clash.StepGap {
		return clash.StepGap{Step: step, Posture: fold.FoldedPosture, Kind: kind, Gap: gap, Low: gap - 0.01, Required: 0.5, Progress: 0.25, Between: [2]string{"component:U1", body}}
	}
	r.Motion = &clash.Motion{Covered: true, Scope: "the sequence", Steps: []clash.StepGap{
		gap(1, "components", "section:main", 1.2), gap(1, "enclosure", "enclosure:tray", 0.3), gap(2, "components", "section:main", 1.1), gap(2, "enclosure", "enclosure:lid", 0.2),
	}, Worst: []clash.StepGap{gap(2, "enclosure", "enclosure:lid", 0.2), gap(1, "enclosure", "enclosure:tray", 0.3)}}
	r.Motion.Steps = append(r.Motion.Steps, clash.StepGap{Step: 1, Posture: "open", Kind: "components", Gap: 0.7, Low: 0.7, Between: [2]string{"component:U1", "section:main"}})
	return r
}

// Beside the gaps at rest stand the pairs that come too near on the way, and of the sequence the smallest gap of each kind, once
// each and with step and progress.
func TestJSONGapsOfTheMotion(t *testing.T) {
	var got []float64
	for _, g := range decode(t, moving(t))["gaps"].([]any) {
		g := g.(map[string]any)
		if g["step"] == nil {
			if g["progress"] != nil || len(got) > 0 {
				t.Errorf("a gap at rest: %v", g)
			}
			continue
		}
		if g["progress"] != 0.25 || g["required"] != 0.5 || g["judged"] != true || g["worth"] != nil || g["gap_flat"] != nil || g["gap_low"] != g["gap"].(float64)-0.01 {
			t.Errorf("a gap on the way: %v", g)
		}
		got = append(got, g["step"].(float64), g["gap"].(float64))
	}
	if want := []float64{2, 0.2, 1, 0.3, 2, 1.1}; !slices.Equal(got, want) {
		t.Errorf("steps and gaps on the way: %v, want %v", got, want)
	}
	r := moving(t)
	r.Tree.Design.Sequence, r.Motion.Worst = nil, nil
	if list := decode(t, r)["gaps"].([]any); len(list) != len(r.Gaps) {
		t.Errorf("%d gaps where nobody says how the board is folded and nothing is found", len(list))
	}
}

// A gap on the way is compared with that on the way.
func TestCompareGapsOfTheMotion(t *testing.T) {
	before, after := moving(t), moving(t)
	before.Gaps[0].Between[1] = "enclosure:lid"
	after.Gaps[0].Between[1] = "enclosure:lid"
	after.Motion.Worst[0].Gap = 0.4
	inOrder(t, compared(t, Compare(side(t, before), side(t, after), "test")), "enclosure component:U1 - enclosure:lid: from 0.20 to 0.40, on the way")
}

// The part of a hinge's line that a gap's loss is told for is a round length of the design's units, and the loss goes with it.
func TestTenth(t *testing.T) {
	for units, want := range map[fold.Units]string{fold.MM: "0.1 mm", fold.Mil: "5 mil", fold.Inch: "0.005 in"} {
		s := speech{units}
		mm, words := s.tenth()
		if plain(words) != want || s.length(mm) != map[fold.Units]string{fold.MM: "0.10", fold.Mil: "5.0", fold.Inch: "0.0050"}[units] {
			t.Errorf("%s: %v mm, %q", units, mm, words)
		}
	}
	if got := (speech{fold.Inch}).unitsNamed(); got != "inches" {
		t.Errorf("inches are called %q", got)
	}
}

// A way with a contact on it is not called clear, and an overlap is told as its depth.
func TestMotionWords(t *testing.T) {
	r := moving(t)
	inOrder(t, text(t, r, TextOptions{}), "proven clear at every moment: the sequence", "step 1, enclosure: 0.29 mm to 0.30 mm between component:U1 and enclosure:tray at 25 %")
	r.Motion.Findings = []finding.Finding{{Rule: "contact-in-motion", Severity: finding.Error}}
	r.Motion.Steps[1].Gap, r.Motion.Steps[1].Low = -0.4, -0.4
	inOrder(t, text(t, r, TextOptions{}), "followed through every moment, with findings: the sequence", "step 1, enclosure: component:U1 and enclosure:tray overlap, 0.40 mm deep at 25 %")
	r.Motion.Stopped = true
	inOrder(t, text(t, r, TextOptions{}), "NOT wholly proven: the sequence")
}
