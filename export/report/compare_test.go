package report

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"foldfit/fold/finding"
)

// side returns a run as a comparison sees it.
func side(t *testing.T, r Run) Checked {
	t.Helper()
	var out bytes.Buffer
	if err := JSON(&out, r); err != nil {
		t.Fatal(err)
	}
	c, ok, err := ReadCheck("strip.yaml", out.Bytes())
	if !ok || err != nil {
		t.Fatal(ok, err)
	}
	return c
}

func TestCompareSame(t *testing.T) {
	c := Compare(side(t, trouble(t)), side(t, trouble(t)), "test")
	if len(c.Hinges)+len(c.Gaps)+len(c.Fresh)+len(c.Gone)+len(c.Changed)+len(c.Lapsed) != 0 || c.Worse(finding.Advice) != 0 {
		t.Errorf("a board differs from itself: %+v", c)
	}
	inOrder(t, compared(t, c), "NOT WORSE: fail as before, nothing changed", "strip.yaml (Strip) before")
}

// compared returns the text of a comparison, and holds its JSON to having every key.
func compared(t *testing.T, c Comparison) string {
	t.Helper()
	var out, data bytes.Buffer
	if err := CompareText(&out, c, TextOptions{}); err != nil {
		t.Fatal(err)
	}
	if err := CompareJSON(&data, c); err != nil {
		t.Fatal(err)
	}
	var doc map[string]any
	if err := json.Unmarshal(data.Bytes(), &doc); err != nil {
		t.Fatal(err)
	}
	for _, k := range strings.Fields("format foldfit old new hinges gaps new_findings gone_findings changed_findings lapsed") {
		if doc[k] == nil {
			t.Errorf("key %s is missing or null", k)
		}
	}
	return out.String()
}

func TestCompareChanges(t *testing.T) {
	before, after := trouble(t), trouble(t)
	after.Tree.Design.Hinges[0].Radius = 1.6
	after.Tree.Hinges[0].Line[0].X = 33
	after.Gaps[0].Gap, after.Gaps[1].Gap = -0.354, 1.5
	after.Findings[0].Value = finding.Number(-0.5)
	after.Findings = append(after.Findings, finding.Finding{Rule: "bend-free-end", Severity: finding.Warning, Message: "ends free"})
	after.Findings = after.Findings[:2:2]
	after.Findings = append(after.Findings, finding.Finding{Rule: "bend-free-end", Severity: finding.Warning, Message: "ends free"})
	c := Compare(side(t, before), side(t, after), "test")
	inOrder(t, compared(t, c), "NO NEW ERROR: fail as before, 1 new finding, 1 gone finding",
		"Hinges", "neck: line from (32.00, 0.00) - (32.00, 10.00) to (33.00, 0.00) - (32.00, 10.00); inside radius from 1.50 to 1.60",
		"Gaps in mm", "components component:U1 - section:main: from 1.60 to 1.50",
		"New findings", "warning bend-free-end: ends free",
		"Changed findings", "error contact: component:U1 runs 0.35 mm into enclosure:tray; from -0.35 to -0.50 mm",
		"Gone findings", "advice bend-stackup: two stack-ups")
	if len(c.Gaps) != 1 {
		t.Errorf("a change of 0.004 mm counts: %+v", c.Gaps)
	}
	if c.Worse(finding.Error) != 0 || c.Worse(finding.Warning) != 1 {
		t.Errorf("%d new errors, %d new warnings", c.Worse(finding.Error), c.Worse(finding.Warning))
	}
}

// TestCompareWorse: an error is new if it was not there, not as grave, or conceded; never if it is gone.
func TestCompareWorse(t *testing.T) {
	good, warned, bad, lapsed := strip(t), trouble(t), trouble(t), trouble(t)
	warned.Findings = warned.Findings[:1:1]
	warned.Findings[0].Severity = finding.Warning
	for _, c := range []struct {
		name     string
		old, new Run
		errors   int
	}{{"came", good, bad, 1}, {"went", bad, good, 0}, {"stayed", bad, trouble(t), 0}, {"graver", warned, bad, 1}, {"milder", bad, warned, 0},
		{"no longer conceded", conceded(t), lapsed, 1}, {"conceded", lapsed, conceded(t), 0}} {
		if n := Compare(side(t, c.old), side(t, c.new), "").Worse(finding.Error); n != c.errors {
			t.Errorf("%s: %d new errors, want %d", c.name, n, c.errors)
		}
	}
	lapsed.Findings = append(lapsed.Findings, finding.Finding{Rule: "concession-lapsed", Severity: finding.Warning, On: []string{"concession:contact"}, Message: "has lapsed"})
	c := Compare(side(t, conceded(t)), side(t, lapsed), "")
	inOrder(t, compared(t, c), "WORSE: pass before, fail now, 1 new error, 1 new finding, 1 lapsed concession", "Lapsed concessions", "warning concession-lapsed: has lapsed",
		"Changed findings", "error contact", "it was accepted by concession before")
}

// TestCompareHinges: hinges are matched by name; new and gone ones are told.
func TestCompareHinges(t *testing.T) {
	before, after := strip(t), strip(t)
	after.Tree.Design.Hinges[0].Name = "tail"
	c := Compare(side(t, before), side(t, after), "")
	if len(c.Hinges) != 2 {
		t.Fatalf("%+v", c.Hinges)
	}
	inOrder(t, compared(t, c), "neck is gone", "tail is new: 180 deg, inside radius 1.50, at (32.00, 0.00) - (32.00, 10.00)")
}

// TestCompareNearest: of several findings alike those nearest to each other are the same.
func TestCompareNearest(t *testing.T) {
	corner := func(x, value float64) finding.Finding {
		return finding.Finding{Rule: "inside-corner", At: &[2]float64{x, 0}, Value: finding.Number(value), Limit: finding.Number(0.75), Unit: "mm", Message: "corner"}
	}
	before, after := strip(t), strip(t)
	before.Findings = []finding.Finding{corner(0, 0.1), corner(10, 0.2), corner(20, 0.3)}
	after.Findings = []finding.Finding{corner(10.1, 0.2), corner(20, 0.4)}
	c := Compare(side(t, before), side(t, after), "")
	if len(c.Fresh) != 0 || len(c.Gone) != 1 || len(c.Changed) != 1 || math.Abs(float64(*c.Gone[0].Value)-0.1) > 1e-12 {
		t.Errorf("new %+v, gone %+v, changed %+v", c.Fresh, c.Gone, c.Changed)
	}
}

func TestReadCheckRefuses(t *testing.T) {
	for _, src := range []string{"", "foldfit: 1", `{"foldfit": 1}`, `[1]`, `{"format": "foldfit-build/1"}`} {
		if _, ok, err := ReadCheck("x", []byte(src)); ok || err != nil {
			t.Errorf("%q is taken for a check: %v", src, err)
		}
	}
	for _, src := range []string{`{"format": "foldfit-check/2"}`, `{"format": "foldfit-check/1"}`, `{"format": "foldfit-check/1", "verdict": "pass", "gaps": 3}`} {
		if _, ok, err := ReadCheck("x", []byte(src)); !ok || err == nil {
			t.Errorf("%q is read", src)
		}
	}
}

// FuzzReadCheck: whatever is read can be compared and written.
func FuzzReadCheck(f *testing.F) {
	f.Add([]byte(`{"format":"foldfit-check/1","verdict":"fail","hinges":[{"name":"a","line":[[0,1],[2,3]]}],"gaps":[{"between":["a","b"],"judged":true,"gap":1}],"findings":[{"rule":"contact","severity":"error","on":["a"],"at":[1,2],"value":1,"concession":{"down_to":1}}]}`))
	f.Fuzz(func(t *testing.T, src []byte) {
		c, ok, err := ReadCheck("x", src)
		if !ok || err != nil {
			return
		}
		both := Compare(c, c, "")
		if both.Worse(finding.Advice) != 0 {
			t.Error("worse than itself")
		}
		if err := CompareJSON(new(bytes.Buffer), both); err != nil {
			t.Error(err)
		}
		if err := CompareText(new(bytes.Buffer), Compare(Checked{}, c, ""), TextOptions{}); err != nil {
			t.Error(err)
		}
	})
}
