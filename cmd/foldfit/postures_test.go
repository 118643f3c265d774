package main

import (
	"bytes"
	"encoding/json"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foldfit/export/report"
	"foldfit/fold"
	"foldfit/fold/finding"
)

// A lid on a tray: flat it stands clear, folded it lies 4 mm over the tray, and in the posture shut it goes into the part
// that stands there. A probe rides on the lid.
const clamshell = `foldfit: 1
title: {name: Clamshell}
outline: [[0, 0], [70, 0], [70, 20], [0, 20]]
stackups:
  film: {thickness: 0.2, copper-layers: 2}
  plate: {thickness: 0.8, rigid: true}
flex: film
sections:
  tray: {stackup: plate, area: {rect: [0, 0, 30, 20]}}
  lid: {stackup: plate, area: {rect: [44, 0, 70, 20]}}
hinges: {neck: {line: [[37, 0], [37, 20]], angle: 150, radius: 2.4}}
components: {U1: {side: top, at: [24, 10], size: [6, 6, 3.6]}}
enclosure: {floor: {box: [[-2, -2, -4], [40, 22, -3]]}}
`

// inPostures loads a board and gives its design end shapes, each with an angle for the first hinge.
func inPostures(t *testing.T, text string, postures map[string]float64) *board {
	t.Helper()
	b, err := load(console{in: strings.NewReader(text)}, "-", designFlags{})
	if err != nil {
		t.Fatal(describe(err))
	}
	d := b.tree.Design
	for _, name := range slices.Sorted(maps.Keys(postures)) {
		d.Postures = append(d.Postures, fold.Posture{Name: name, Angles: []fold.HingeAngle{{Hinge: d.Hinges[0].Name, Angle: postures[name]}},
			Place: finding.Place{File: stdinName, Line: 99, Column: 3}})
	}
	return b
}

func TestEveryPostureIsChecked(t *testing.T) {
	b := inPostures(t, clamshell, map[string]float64{"open": 90, "shut": 180, "test": 0})
	r := checkBoard(t, b, defaultChord)
	if got := strings.Join(r.Postures, " "); got != "folded open shut test" || r.Posture != "folded" {
		t.Errorf("postures %s, described in full: %s", got, r.Posture)
	}
	var errors []string
	for _, f := range r.Findings {
		if f.Severity > finding.Advice {
			errors = append(errors, f.Rule+" "+f.Posture)
		}
	}
	if got := strings.Join(errors, ", "); got != "contact shut, bend-ratio shut" {
		t.Errorf("findings: %s", got)
	}
	seen := map[string]bool{}
	for _, g := range r.Gaps {
		seen[g.Posture] = true
	}
	if len(seen) != 4 {
		t.Errorf("gaps in %v", seen)
	}
	if r.Verdict() != report.Fail {
		t.Errorf("verdict %s with a contact in one posture", r.Verdict())
	}
}

func TestOnePostureAlone(t *testing.T) {
	b := inPostures(t, clamshell, map[string]float64{"open": 90, "shut": 180})
	b.tree.Design.Concessions = []fold.Concession{{Rule: "contact", On: []string{"U1", "lid"}, DownTo: finding.Number(1), Because: "w", By: "m"}}
	for name, want := range map[string]report.Verdict{"folded": report.Pass, "open": report.Pass, "shut": report.Pass, "flat": report.Pass} {
		r, err := checkPostures(b, []string{name}, defaultChord)
		if err != nil {
			t.Fatal(err)
		}
		if r.Verdict() != want || r.Posture != name {
			t.Errorf("%s: verdict %s", name, r.Verdict())
		}
		for _, f := range r.Findings {
			if f.Rule == "concession-unused" {
				t.Errorf("%s: a concession for another posture is called unused", name)
			}
		}
		if !strings.Contains(strings.Join(r.Notes, ";"), "only the posture "+name+" was checked, not ") {
			t.Errorf("%s: the report does not say what was left out: %v", name, r.Notes)
		}
		angle := r.Folded.Angles[0]
		var doc struct{ Posture map[string]float64 }
		var out bytes.Buffer
		if err := report.JSON(&out, r.Run); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(out.Bytes(), &doc); err != nil || doc.Posture["neck"] != angle {
			t.Errorf("%s: JSON says %v, want %g", name, doc.Posture, angle)
		}
	}
	if _, err := checkPostures(b, []string{"opne"}, defaultChord); err == nil || !strings.Contains(err.Error(), `did you mean "open"?`) {
		t.Errorf("an unknown posture: %v", err)
	}
}

// TestPostureAsksTooMuch: an angle that leaves no radius is a problem of the posture's line.
func TestPostureAsksTooMuch(t *testing.T) {
	b := inPostures(t, clamshell, map[string]float64{"open": 90, "rolled": 359, "wild": -4000})
	got := b.badPostures()
	if len(got) != 1 || got[0].Place.Line != 99 || !strings.HasPrefix(got[0].What, "posture wild: ") || got[0].Hint == "" {
		t.Fatalf("%+v", got)
	}
}

// TestRidingPieces: what rides on the lid moves with it in checks and in files alike, and is not moved twice.
func TestRidingPieces(t *testing.T) {
	b := inPostures(t, clamshell, map[string]float64{"test": 0})
	d := b.tree.Design
	d.Enclosure[0].On = "lid"
	b.walls[0].Mesh.Points = slices.Clone(b.walls[0].Mesh.Points)
	for i := range b.walls[0].Mesh.Points { // a plate 3 to 4 mm under the flat lid
		b.walls[0].Mesh.Points[i][0] += 35
	}
	r := checkBoard(t, b, defaultChord)
	for _, g := range r.Gaps {
		if g.Kind == "enclosure" && (g.Between[1] != "section:lid" || math.Abs(g.Gap-2.6) > 1e-9) {
			t.Errorf("%s: %v stand %g apart, want lid and floor 2.6", g.Posture, g.Between, g.Gap)
		}
	}
	var folded, flat bytes.Buffer
	if err := r.shapes[0].writeGLB(&folded, false); err != nil {
		t.Fatal(err)
	}
	if err := r.shapes[1].writeGLB(&flat, false); err != nil {
		t.Fatal(err)
	}
	if bytes.Equal(folded.Bytes(), flat.Bytes()) {
		t.Error("both postures give one file")
	}
}

func TestBuildWritesEveryPosture(t *testing.T) {
	b := inPostures(t, clamshell, map[string]float64{"open": 90, "test": 0})
	b.tree.Design.Concessions = []fold.Concession{{Rule: "bend-ratio", On: []string{"neck"}, DownTo: finding.Number(8), Because: "formed once", By: "fabricator"}}
	b.tree.Design.Limits = fold.Limits{Overrides: []fold.LimitValue{{Rule: "bend-ratio", Value: 14}}}
	r := checkBoard(t, b, defaultChord)
	files, err := compose(b, r)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range files {
		names = append(names, f.path)
	}
	want := "bench/pattern.svg bench/pattern.pdf mechanical/folded.glb mechanical/folded.stl mechanical/posture-open.glb mechanical/posture-test.glb fabricator/findings.txt fabricator/check.json fabricator/bend-schedule.csv fabricator/fold-sheet.pdf index.html manifest.json"
	if got := strings.Join(names, " "); got != want {
		t.Errorf("files %s", got)
	}
	var m manifest
	if err := json.Unmarshal(files[len(files)-1].data, &m); err != nil {
		t.Fatal(err)
	}
	if len(m.Findings) != 1 || !m.Findings[0].Accepted || m.Findings[0].Rule != "bend-ratio" || m.Verdict != report.Pass {
		t.Errorf("findings %+v, verdict %s", m.Findings, m.Verdict)
	}
	if len(m.Concessions) != 1 || *m.Concessions[0].DownTo != 8 || m.Concessions[0].By != "fabricator" || len(m.Postures) != 3 || m.NotChecked == nil {
		t.Errorf("manifest %+v", m)
	}
	for i, f := range m.Outputs {
		if f.SHA256 != sum(files[i].data) || f.Bytes != len(files[i].data) {
			t.Errorf("%s has another hash", f.Path)
		}
	}
}

// TestManifestNamesLimits: a file of limits is an input like the others, by its bare name.
func TestManifestNamesLimits(t *testing.T) {
	const text = "profile: strict\n"
	path := filepath.Join(t.TempDir(), "fab.yaml")
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	b, err := load(console{in: strings.NewReader(clamshell)}, "-", designFlags{limits: path})
	if err != nil {
		t.Fatal(describe(err))
	}
	out, err := writeManifest(b, checkBoard(t, b, defaultChord), nil)
	if err != nil {
		t.Fatal(err)
	}
	var m manifest
	if err := json.Unmarshal(out.data, &m); err != nil {
		t.Fatal(err)
	}
	if len(m.Inputs) != 2 || m.Inputs[1] != (fileHash{"fab.yaml", len(text), sum([]byte(text))}) {
		t.Errorf("inputs %+v", m.Inputs)
	}
}

// TestPatternOfPosture: the flat shape is the same, the words are the posture's.
func TestPatternOfPosture(t *testing.T) {
	b := inPostures(t, clamshell, map[string]float64{"open": 75, "test": 0})
	for name, words := range map[string]string{"folded": "neck: 150 toward TOP, r 2.40 inside", "open": "neck: 75 toward TOP, r 4.90 inside", "test": "neck: 0, not bent"} {
		tree, err := b.worded(name)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := b.drawPattern(&out, tree, "top"); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(out.String(), words) {
			t.Errorf("%s: the pattern does not say %q", name, words)
		}
	}
	if b.tree.Design.Hinges[0].Angle != 150 {
		t.Error("the design was changed")
	}
}
