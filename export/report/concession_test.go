package report

import (
	"bytes"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/rule"
)

// conceded returns the run in trouble with its error and its warning accepted.
func conceded(t *testing.T) Run {
	r := trouble(t)
	r.Gaps[0].Rule = "contact"
	r.Findings[0].Value = finding.Number(0.35)
	r.Findings[0].Accepted = &finding.Accepted{DownTo: finding.Number(0.4), Because: "the lid gives way", By: "mechanics"}
	r.Findings[1].Accepted = &finding.Accepted{DownTo: finding.Number(8), Because: "formed once over a rod", By: "fabricator"}
	return r
}

func TestAcceptedDoesNotCount(t *testing.T) {
	r := conceded(t)
	if v := r.Verdict(); v != Pass {
		t.Errorf("verdict %s with every finding above advice accepted", v)
	}
	if s := r.Reason(); s != "it folds and it fits; 2 findings accepted by concession" {
		t.Errorf("reason %q", s)
	}
	s := text(t, r, TextOptions{})
	inOrder(t, s, "PASS", "Findings: 1 advice", "bend-stackup", "Accepted by concession",
		"contact: component:U1 runs 0.35 mm", "accepted by concession (by mechanics: the lid gives way), up to 0.4 mm", "margin -0.35 mm",
		"bend-ratio: the bend is tight", "accepted by concession (by fabricator: formed once over a rod), down to 8.0",
		"component:U1 - enclosure:tray accepted by concession")
	if strings.Contains(s, "error contact") {
		t.Error("an accepted finding stands among those that count")
	}
	var page bytes.Buffer
	if err := Page(&page, r, nil, ""); err != nil {
		t.Fatal(err)
	}
	inOrder(t, page.String(), "PASS", "Accepted by concession", "by fabricator: formed once over a rod")
	r.Findings[0].Accepted.DownTo = nil
	inOrder(t, text(t, r, TextOptions{}), "(by mechanics: the lid gives way), without a bound")
}

func TestJSONConcession(t *testing.T) {
	list := decode(t, conceded(t))["findings"].([]any)
	c := list[1].(map[string]any)["concession"].(map[string]any)
	if c["down_to"] != 8.0 || c["because"] != "formed once over a rod" || c["by"] != "fabricator" {
		t.Errorf("concession %v", c)
	}
	if m := list[0].(map[string]any)["margin"]; m != -0.35 {
		t.Errorf("margin %v", m)
	}
	last := list[2].(map[string]any)
	if last["concession"] != nil || last["margin"] != nil {
		t.Errorf("a finding without numbers or concession: %v", last)
	}
}

// opened returns the strip checked in its folded posture and in another, in which the flex turns farther.
func opened(t *testing.T) Run {
	r := trouble(t)
	r.Tree.Design.Postures = []fold.Posture{{Name: "shut", Angles: []fold.HingeAngle{{Hinge: "neck", Angle: 200}}}, {Name: "flap", Angles: []fold.HingeAngle{{Hinge: "neck"}}}}
	r.Postures = r.Tree.PostureNames()
	r.Gaps[1].Posture = "shut"
	r.Findings[0].Posture = "shut"
	return r
}

func TestTextPostures(t *testing.T) {
	r := opened(t)
	inOrder(t, text(t, r, TextOptions{}), "only how it stands at the end", "flat position (39.00, 12.00); posture shut; value",
		"Postures", "shut: neck 200 deg toward top (inside radius 1.34 mm)", "flap: neck flat",
		"Gaps in mm, posture folded", "enclosure:tray", "Gaps in mm, posture shut", "section:main", "Gaps in mm, posture flap", "none to measure")
	r.Findings, r.Unchecked = nil, nil
	if s := r.Reason(); s != "it folds and it fits, in all 3 postures" {
		t.Errorf("reason %q", s)
	}
	r.Posture, r.Postures = "shut", []string{"shut"}
	if s := r.Reason(); s != "it folds and it fits, in posture shut" {
		t.Errorf("reason %q", s)
	}
	inOrder(t, text(t, r, TextOptions{}), "only how it stands at the end", "Gaps in mm, posture shut")
}

func TestJSONPostures(t *testing.T) {
	doc := decode(t, opened(t))
	list := doc["postures"].([]any)
	if len(list) != 3 || list[1].(map[string]any)["name"] != "shut" || list[1].(map[string]any)["angles"].(map[string]any)["neck"] != 200.0 {
		t.Errorf("postures %v", list)
	}
	if a := doc["posture"].(map[string]any)["neck"]; a != 180.0 {
		t.Errorf("posture %v", a)
	}
	// At 200 degrees a neutral radius of 2.1 * 200/180 at the hinge's own angle gives the ratio 10.
	least := doc["hinges"].([]any)[0].(map[string]any)["min_radius"].(float64)
	if want := 2.1*200/180 - 0.1; least < want-1e-12 || least > want+1e-12 {
		t.Errorf("least radius %v, want %v: the tightest posture counts", least, want)
	}
}

func TestRuleWords(t *testing.T) {
	var list, one, table bytes.Buffer
	for _, err := range []error{Rules(&list, rule.Documented(), rule.Figures(), TextOptions{}), RuleTable(&table, rule.Documented())} {
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, r := range rule.Documented() {
		if err := Rule(&one, r, TextOptions{}); err != nil {
			t.Fatal(err)
		}
		for _, s := range []string{list.String(), table.String(), one.String()} {
			if !strings.Contains(s, r.ID) {
				t.Errorf("%s is missing", r.ID)
			}
		}
	}
	inOrder(t, one.String(), "warning bend-ratio", "why:", "profile common: 6 times the thickness", "profile strict:",
		"source: common practice, as commonly quoted", "--limits FILE", "concessions: [{rule: bend-ratio")
}
