package report

import (
	"bytes"
	"encoding/json"
	"math"
	"regexp"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

func TestVerdict(t *testing.T) {
	r := strip(t)
	if got := r.Verdict(); got != Pass {
		t.Errorf("nothing wrong, all checked: %s", got)
	}
	r.Findings = []finding.Finding{{Severity: finding.Warning}}
	if got := r.Verdict(); got != Pass {
		t.Errorf("a warning does not fail a board: %s", got)
	}
	r.Unchecked = NotChecked(r.Tree)
	if got := r.Verdict(); got != Incomplete {
		t.Errorf("a height is missing: %s", got)
	}
	r.Findings = append(r.Findings, finding.Finding{Severity: finding.Error})
	if got := r.Verdict(); got != Fail {
		t.Errorf("an error goes before incomplete: %s", got)
	}
	r = strip(t)
	r.Folded = nil
	if got := r.Verdict(); got != Fail {
		t.Errorf("a board without a shape: %s", got)
	}
}

func TestNotChecked(t *testing.T) {
	r := strip(t)
	got := NotChecked(r.Tree)
	if len(got) != 1 || got[0].What != "height" || got[0].On[0] != "component:U7" {
		t.Fatalf("only the height of U7 is missing: %+v", got)
	}
	thin := 0.02
	d := r.Tree.Design
	d.Components[1].Height = &thin
	d.Components[0] = fold.Component{Name: "J1", Boxes: [][6]float64{{0, 0, 0, 1, 1, 2}}}
	d.Enclosure, d.Stackups[0].CopperLayers = nil, -1
	got = NotChecked(r.Tree)
	var whats []string
	for _, u := range got {
		whats = append(whats, u.What+" "+strings.Join(u.On, " "))
	}
	want := "enclosure ,height component:U7,copper layers hinge:neck"
	if s := strings.Join(whats, ","); s != want {
		t.Errorf("got %q, want %q", s, want)
	}
	r.Tree.Bends[0].Stackup = "other"
	if got := NotChecked(r.Tree); len(got) != 2 {
		t.Errorf("a copper count that no bend needs was asked for: %+v", got)
	}
}

// decode reads a JSON report back into plain values.
func decode(t *testing.T, r Run) map[string]any {
	t.Helper()
	var out bytes.Buffer
	if err := JSON(&out, r); err != nil {
		t.Fatal(err)
	}
	var doc map[string]any
	if err := json.Unmarshal(out.Bytes(), &doc); err != nil {
		t.Fatalf("not JSON: %v\n%s", err, out.String())
	}
	return doc
}

// keys are those of the contract's sample, list by list.
var keys = map[string]string{
	"":            "format design verdict foldable posture place not_checked flats hinges bends loops bodies gaps targets motion findings datum",
	"not_checked": "what on why",
	"flats":       "name sections area inside parent bend side transform",
	"hinges": "name angle toward radius neutral_radius width line moved bends thickness ratio copper_strain min_radius cycles free " +
		"tangents flat_width stackup copper_layers ratio_asked formed_free elongation moment use between life formed springback tolerance step",
	"bends":    "name hinge near far lines origin direction width height faces area thickness ratio inside_radius copper_strain",
	"bodies":   "name kind flat area volume faces",
	"gaps":     "between kind gap gap_low gap_flat required at posture step progress",
	"findings": "rule severity on posture at file line value limit unit message hint source concession",
}

func TestJSONKeys(t *testing.T) {
	r := trouble(t)
	r.Unchecked = NotChecked(r.Tree)
	doc := decode(t, r)
	for list, names := range keys {
		item := doc
		if list != "" {
			item = doc[list].([]any)[0].(map[string]any)
		}
		for _, k := range strings.Fields(names) {
			if _, there := item[k]; !there {
				t.Errorf("%s: key %s is missing", list, k)
			}
		}
	}
}

func TestJSONEmptyRun(t *testing.T) {
	r := Run{Tree: &fold.Tree{Design: &fold.Design{Name: "Bare"}}}
	doc := decode(t, r)
	for k, v := range doc {
		if v == nil && k != "place" && k != "motion" {
			t.Errorf("%s is null, want a value or []", k)
		}
	}
	if doc["foldable"] != false || doc["place"] != nil {
		t.Errorf("a board without a shape: foldable %v, place %v", doc["foldable"], doc["place"])
	}
}

func TestJSONNumbers(t *testing.T) {
	r := trouble(t)
	var out, again bytes.Buffer
	if err := JSON(&out, r); err != nil {
		t.Fatal(err)
	}
	if err := JSON(&again, r); err != nil || !bytes.Equal(out.Bytes(), again.Bytes()) {
		t.Error("two runs differ")
	}
	if found := regexp.MustCompile(`-0[,\]}\n]`).FindString(out.String()); found != "" {
		t.Errorf("a negative zero is written: %q", found)
	}
	doc := decode(t, r)
	width := doc["hinges"].([]any)[0].(map[string]any)["width"].(float64)
	if width != r.Tree.Hinges[0].Width {
		t.Errorf("width lost digits: %v", width)
	}
	m := doc["flats"].([]any)[1].(map[string]any)["transform"].([]any)
	// Folded back by 180 degrees about x = 30 .. 30 + w: x goes to 60 + w - x, z up by 2 rho, row by row.
	want := []float64{-1, 0, 0, 60 + r.Tree.Hinges[0].Width, 0, 1, 0, 0, 0, 0, -1, 3.2, 0, 0, 0, 1}
	for i, w := range want {
		if math.Abs(m[i].(float64)-w) > 1e-12 {
			t.Errorf("transform[%d] = %v, want %v", i, m[i], w)
		}
	}
	// Outer copper face 0.05 mm from the middle, neutral radius 1.6 mm.
	strain := doc["hinges"].([]any)[0].(map[string]any)["copper_strain"].(float64)
	if math.Abs(strain-0.05/1.6) > 1e-12 {
		t.Errorf("copper strain %v", strain)
	}
	// Two copper layers ask for ten times the thickness of 0.2 mm.
	if least := doc["hinges"].([]any)[0].(map[string]any)["min_radius"].(float64); math.Abs(least-2) > 1e-12 {
		t.Errorf("least radius %v", least)
	}
}

func TestJSONRefusesNaN(t *testing.T) {
	r := trouble(t)
	r.Gaps[0].Gap = math.NaN()
	if err := JSON(new(bytes.Buffer), r); err == nil || !strings.Contains(err.Error(), "gaps") {
		t.Errorf("NaN was written, or not named: %v", err)
	}
}

func TestText(t *testing.T) {
	r := trouble(t)
	r.Unchecked = NotChecked(r.Tree)
	s := text(t, r, TextOptions{})
	inOrder(t, s,
		"FAIL: component:U1 runs 0.35 mm into enclosure:tray",
		"Strip, S-1, revision B",
		"Not checked", "height of component:U7: no height given", "is folded and put in is not checked",
		"Findings: 1 error, 1 warning, 1 advice",
		"error contact: component:U1 runs 0.35 mm", "where: strip.yaml:52; component:U1, enclosure:tray; flat position (39.00, 12.00); value -0.35 mm, limit 0.00 mm",
		"way out: move U1 by 0.35 mm", "source: geometry",
		"warning bend-ratio", "value 9.9999, limit 10.0000",
		"wing folds 180 deg toward top about neck: inside radius 1.50, width 5.03 mm, ratio 7.5",
		"component:U1 - enclosure:tray  overlap", "component:U1 - section:main",
		"board, components or enclosure: only contact is judged",
		"tray.stl read as mm", "foldfit is an aid")
}

func TestTextUnits(t *testing.T) {
	r := trouble(t)
	r.Tree.Design.Units = fold.Mil
	s := text(t, r, TextOptions{})
	inOrder(t, s, "flat position (1535.4, 472.4); value -13.8 mil", "inside radius 59.1, width 197.9 mil", "Gaps in mil")
	r.Tree.Design.Units = fold.Inch
	s = text(t, r, TextOptions{})
	inOrder(t, s, "inside radius 0.0591, width 0.1979 in", "Gaps in in")
}

func TestTextWidthAndColour(t *testing.T) {
	r := trouble(t)
	for _, l := range strings.Split(text(t, r, TextOptions{Width: 60}), "\n") {
		if len(l) > 60 && !strings.Contains(l, "required") {
			t.Errorf("longer than 60: %q", l)
		}
	}
	plain, colour := text(t, r, TextOptions{}), text(t, r, TextOptions{Colour: true})
	if strings.Contains(plain, "\x1b") || !strings.Contains(colour, "\x1b[") {
		t.Error("colour is not what was asked for")
	}
	if bare := regexp.MustCompile("\x1b\\[[0-9;]*m").ReplaceAllString(colour, ""); bare != plain {
		t.Error("colour changes more than colour")
	}
}

func TestTextWithoutShape(t *testing.T) {
	r := trouble(t)
	r.Folded, r.Tree.Flats, r.Gaps = nil, nil, nil
	s := text(t, r, TextOptions{})
	inOrder(t, s, "FAIL", "the free end folds 180 deg toward top about neck", "none measured")
}

func TestPairTellsApart(t *testing.T) {
	s := speech{fold.MM}
	for _, c := range []struct {
		v, l         float64
		wantV, wantL string
	}{
		{0.3, 0.5, "0.30", "0.50"}, {0.4996, 0.5, "0.4996", "0.5000"}, {0.5, 0.5, "0.50", "0.50"}, {-1e-9, 0.2, "0.00", "0.20"}, {1e-17, 0, "0.00", "0.00"},
	} {
		if v, l := s.pair(c.v, c.l, "mm"); v != c.wantV || l != c.wantL {
			t.Errorf("pair(%v, %v) = %s, %s", c.v, c.l, v, l)
		}
	}
}

// text returns a text report.
func text(t *testing.T, r Run, o TextOptions) string {
	t.Helper()
	var out bytes.Buffer
	if err := Text(&out, r, o); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// inOrder fails unless the pieces stand in s in this order.
func inOrder(t *testing.T, s string, pieces ...string) {
	t.Helper()
	flowing := strings.Join(strings.Fields(s), " ")
	rest := flowing
	for _, piece := range pieces {
		_, after, found := strings.Cut(rest, strings.Join(strings.Fields(piece), " "))
		if !found {
			t.Errorf("%q is missing (or out of order) in\n%s", piece, s)
			return
		}
		rest = after
	}
}

func TestPage(t *testing.T) {
	r := trouble(t)
	r.Tree.Design.Name = "<b>Strip</b>"
	r.Unchecked = NotChecked(r.Tree)
	var out bytes.Buffer
	files := []File{{"bench/pattern.svg", "true-scale pattern"}}
	if err := Page(&out, r, files, "bench/pattern.svg"); err != nil {
		t.Fatal(err)
	}
	s := out.String()
	inOrder(t, s, "<title>&lt;b&gt;Strip", "FAIL", "height of component:U7", "runs 0.35 mm into", "wing folds 180 deg toward top", "-0.35", "overlap", "only contact is judged",
		`<img src="bench/pattern.svg"`, `<a href="bench/pattern.svg">`, "foldfit is an aid")
	if regexp.MustCompile(`(?i)https?://|<script|<link`).MatchString(s) {
		t.Error("the page fetches something")
	}
}

// TestLoops makes the far tangent line a joint with the flat before the bend as well: folded back by 180 degrees its end
// points lie 2 rho above and w beside themselves, and the flat is turned by 180 degrees.
func TestLoops(t *testing.T) {
	r := strip(t)
	right := 30 + r.Tree.Hinges[0].Width
	r.Tree.Joints = []fold.Joint{{Bend: 0, Flat: 0, Far: true, P: flat.Pt{X: right}, Q: flat.Pt{X: right, Y: 10}}}
	off := math.Hypot(3.2, r.Tree.Hinges[0].Width)
	loop := decode(t, r)["loops"].([]any)[0].(map[string]any)
	if got := loop["off"].(float64); math.Abs(got-off) > 1e-12 {
		t.Errorf("off by %v, want %v", got, off)
	}
	for _, k := range strings.Fields("bend flat off turn along across tilt twist limit") {
		if _, there := loop[k]; !there {
			t.Errorf("loops: key %s is missing", k)
		}
	}
	inOrder(t, text(t, r, TextOptions{}), "Loops", "neck meets main: 5.96 mm and 180.00 deg apart (limit 0.20 mm and 1 deg)")
}

func TestMovedLineIsSaid(t *testing.T) {
	r := strip(t)
	r.Tree.Hinges[0].Moved = -3.7e-5
	inOrder(t, text(t, r, TextOptions{}), "ratio 7.5", "line: (32.00, 0.00) to (32.00, 10.00), moved by 0.00004 mm onto an edge")
}
