package rule

import (
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/finding"
)

// broken returns a finding as a check makes it.
func broken(rule string, value, limit float64, on ...string) finding.Finding {
	return finding.Finding{Rule: rule, Severity: finding.Error, On: on, Posture: "folded", Value: finding.Number(value), Limit: finding.Number(limit), Unit: "mm"}
}

func conceding(list ...fold.Concession) *fold.Design {
	for i := range list {
		list[i].Because, list[i].By = "formed once over a rod", "fabricator"
	}
	return &fold.Design{Concessions: list}
}

// rules returns the names of the findings that count, and how many are accepted.
func counting(list []finding.Finding) (rules string, accepted int) {
	for _, f := range list {
		if f.Accepted != nil {
			accepted++
			continue
		}
		rules = strings.TrimSpace(rules + " " + f.Rule)
	}
	return rules, accepted
}

func TestConcede(t *testing.T) {
	ratio := broken("bend-ratio", 8.06, 10, "hinge:neck")
	deep := broken("contact", 0.35, 0, "component:U1", "enclosure:tray")
	near := broken("clearance", 0.1, 0.3, "component:U1", "section:wing")
	overlap := broken("bend-overlap", 2, 0, "hinge:a", "hinge:b")
	bare := finding.Finding{Rule: "inside-corner"}
	to := finding.Number
	on := func(names ...string) []string { return names }
	for _, c := range []struct {
		name     string
		list     []finding.Finding
		given    []fold.Concession
		rules    string
		accepted int
	}{
		{"none", []finding.Finding{ratio}, nil, "bend-ratio", 0},
		{"lower limit, better than the bound", []finding.Finding{ratio}, []fold.Concession{{Rule: "bend-ratio", On: on("neck"), DownTo: to(8)}}, "", 1},
		{"on the bound", []finding.Finding{ratio}, []fold.Concession{{Rule: "bend-ratio", On: on("hinge:neck"), DownTo: to(8.06)}}, "", 1},
		{"lapsed", []finding.Finding{ratio}, []fold.Concession{{Rule: "bend-ratio", On: on("neck"), DownTo: to(8.1)}}, "bend-ratio concession-lapsed", 0},
		{"upper limit, better than the bound", []finding.Finding{deep}, []fold.Concession{{Rule: "contact", On: on("U1", "tray"), DownTo: to(0.4)}}, "", 1},
		{"upper limit, lapsed", []finding.Finding{deep}, []fold.Concession{{Rule: "contact", On: on("U1", "tray"), DownTo: to(0.3)}}, "contact concession-lapsed", 0},
		{"another rule", []finding.Finding{ratio}, []fold.Concession{{Rule: "clearance", On: on("neck"), DownTo: to(1)}}, "bend-ratio concession-unused", 0},
		{"another name", []finding.Finding{ratio}, []fold.Concession{{Rule: "bend-ratio", On: on("nek"), DownTo: to(1)}}, "bend-ratio concession-unused", 0},
		{"another kind", []finding.Finding{ratio}, []fold.Concession{{Rule: "bend-ratio", On: on("section:neck"), DownTo: to(1)}}, "bend-ratio concession-unused", 0},
		{"any name", []finding.Finding{ratio}, []fold.Concession{{Rule: "bend-ratio", On: on("*"), DownTo: to(8)}}, "", 1},
		{"pattern", []finding.Finding{ratio, near}, []fold.Concession{{Rule: "clearance", On: on("U*", "section:w*g"), DownTo: to(0)}}, "bend-ratio", 1},
		{"no names: all", []finding.Finding{bare, ratio}, []fold.Concession{{Rule: "inside-corner"}}, "bend-ratio concession-unbounded", 1},
		{"one of several hinges", []finding.Finding{ratio}, []fold.Concession{{Rule: "bend-ratio", On: on("tail", "neck"), DownTo: to(8)}}, "", 1},
		{"one body of a pair, alone", []finding.Finding{near}, []fold.Concession{{Rule: "clearance", On: on("U1"), DownTo: to(0)}}, "", 1},
		{"a pair covers no other pair", []finding.Finding{near, deep}, []fold.Concession{{Rule: "clearance", On: on("U1", "tray"), DownTo: to(0)}}, "clearance contact concession-unused", 0},
		{"no bound", []finding.Finding{ratio}, []fold.Concession{{Rule: "bend-ratio", On: on("neck")}}, "concession-unbounded", 1},
		{"overlaps cannot be conceded", []finding.Finding{overlap}, []fold.Concession{{Rule: "bend-overlap", On: on("a"), DownTo: to(9)}}, "bend-overlap concession-lapsed", 0},
		{"nor without a bound", []finding.Finding{overlap}, []fold.Concession{{Rule: "bend-overlap", On: on("a")}}, "bend-overlap concession-lapsed", 0},
		{"the second of two serves", []finding.Finding{ratio}, []fold.Concession{{Rule: "bend-ratio", On: on("tail"), DownTo: to(8)}, {Rule: "bend-ratio", On: on("neck"), DownTo: to(8)}}, "concession-unused", 1},
		{"twice the same", []finding.Finding{ratio}, []fold.Concession{{Rule: "bend-ratio", On: on("neck"), DownTo: to(8)}, {Rule: "bend-ratio", On: on("neck"), DownTo: to(8)}}, "concession-unused", 1},
		{"a bound without a value", []finding.Finding{bare}, []fold.Concession{{Rule: "inside-corner", DownTo: to(0)}}, "concession-lapsed inside-corner", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := Concede(conceding(c.given...), c.list)
			if rules, accepted := counting(got); rules != c.rules || accepted != c.accepted {
				t.Errorf("%q and %d accepted, want %q and %d", rules, accepted, c.rules, c.accepted)
			}
			for _, f := range got {
				if strings.HasPrefix(f.Rule, "concession-") && (f.Severity != finding.Warning || f.Message == "" || f.Hint == "" || f.Source == "") {
					t.Errorf("incomplete: %+v", f)
				}
			}
		})
	}
}

// TestConcedeEveryPosture accepts the same pair in one posture and lapses in another, where it is worse.
func TestConcedeEveryPosture(t *testing.T) {
	mild, bad := broken("clearance", 0.2, 0.3, "component:U1", "section:wing"), broken("clearance", 0.05, 0.3, "component:U1", "section:wing")
	bad.Posture = "open"
	bound := 0.1
	got := Concede(conceding(fold.Concession{Rule: "clearance", On: []string{"U1", "wing"}, DownTo: &bound}), []finding.Finding{mild, bad})
	rules, accepted := counting(got)
	if rules != "clearance concession-lapsed" || accepted != 1 {
		t.Fatalf("%q and %d accepted", rules, accepted)
	}
	for _, f := range got {
		switch {
		case f.Accepted != nil && (f.Posture != "folded" || f.Accepted.By != "fabricator" || *f.Accepted.DownTo != bound):
			t.Errorf("accepted: %+v", f)
		case f.Rule == "concession-lapsed" && (f.Posture != "open" || *f.Value != 0.05 || *f.Limit != bound || !strings.Contains(f.Message, "down to 0.1 mm, now 0.05 mm")):
			t.Errorf("lapsed: %+v", f)
		}
	}
}

// TestConcedeLeavesItsInputAlone: a run without concessions and one with them may share their findings.
func TestConcedeLeavesItsInputAlone(t *testing.T) {
	list := []finding.Finding{broken("bend-ratio", 8, 10, "hinge:neck")}
	Concede(conceding(fold.Concession{Rule: "bend-ratio", On: []string{"neck"}}), list)
	if list[0].Accepted != nil {
		t.Error("the caller's finding was marked")
	}
}

func TestUnboundedSaysTheWorst(t *testing.T) {
	list := []finding.Finding{broken("bend-ratio", 9, 10, "hinge:a"), broken("bend-ratio", 7.5, 10, "hinge:b"), broken("bend-ratio", 8, 10, "hinge:c")}
	for i := range list {
		list[i].Unit = ""
	}
	for _, f := range Concede(conceding(fold.Concession{Rule: "bend-ratio"}), list) {
		if f.Rule == "concession-unbounded" && !strings.HasSuffix(f.Hint, "now it is 7.5") {
			t.Errorf("hint %q does not name the worst value", f.Hint)
		}
	}
}
