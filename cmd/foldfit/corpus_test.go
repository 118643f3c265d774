package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/export/report"
	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/mesh/clash"
	"foldfit/mesh/enclosure"
)

// corpus is where the boards lie that keep the checker honest; its README says how to add one.
const corpus = root + "/testdata/corpus"

// alarm is a finding above advice, as a mark in a design foretells it or as a check gave it.
type alarm struct {
	rule     string
	severity string
	value    float64
	at       *[2]float64
}

func (a alarm) String() string {
	s := fmt.Sprintf("%s %s %.6g", a.rule, a.severity, a.value)
	if a.at != nil {
		s += fmt.Sprintf(" at %.3f %.3f", a.at[0], a.at[1])
	}
	return s
}

// marks are what the first comment lines of a corpus board say of it: `# KEY: TEXT`.
type marks struct {
	verdict report.Verdict // good boards only
	pending string         // why the board cannot be judged yet
	expect  []alarm
	size    map[string]float64 // counts that must come out, `# count: flats 5`
}

func readMarks(t *testing.T, path string) marks {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	m := marks{size: map[string]float64{}}
	for _, line := range strings.Split(string(text), "\n") {
		if !strings.HasPrefix(line, "#") {
			break
		}
		key, rest, _ := strings.Cut(strings.TrimPrefix(line, "# "), ": ")
		words := strings.Fields(rest)
		switch key {
		case "verdict":
			m.verdict = report.Verdict(rest)
		case "pending":
			m.pending = rest
		case "count":
			m.size[words[0]] = parse(t, words[1])
		case "expect":
			m.expect = append(m.expect, alarm{rule: words[0], severity: words[1], value: parse(t, words[2])})
		case "at":
			m.expect[len(m.expect)-1].at = &[2]float64{parse(t, words[0]), parse(t, words[1])}
		}
	}
	return m
}

func parse(t *testing.T, word string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(word, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// corpusBoards returns the designs of one folder of the corpus.
func corpusBoards(t testing.TB, folder string) []string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(corpus, folder, "*.yaml"))
	if err != nil || len(names) == 0 {
		t.Fatal("no boards in", folder, err)
	}
	return names
}

// eachBoard runs a test for every board of a folder; pending ones are skipped.
func eachBoard(t *testing.T, folder string, judge func(*testing.T, *board, marks)) {
	for _, path := range corpusBoards(t, folder) {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".yaml"), func(t *testing.T) {
			t.Parallel()
			m := readMarks(t, path)
			if m.pending != "" {
				t.Skip("PENDING: ", m.pending)
			}
			b, err := load(console{}, path, designFlags{})
			if err != nil {
				t.Fatal(describe(err))
			}
			judge(t, b, m)
		})
	}
}

// describe returns an error with the problems in it.
func describe(err error) string {
	if u, ok := err.(*unusable); ok {
		return fmt.Sprintf("%+v", u.problems)
	}
	return err.Error()
}

// TestCorpusGood holds every good board to its verdict without a finding above advice, however it is looked at.
func TestCorpusGood(t *testing.T) {
	eachBoard(t, "good", func(t *testing.T, b *board, m marks) {
		if m.verdict == "" {
			t.Fatal("the board has no `# verdict:`")
		}
		r := checkBoard(t, b, defaultChord)
		sizes(t, b.tree, m)
		if got := r.Verdict(); got != m.verdict {
			t.Errorf("verdict %s, want %s: %v", got, m.verdict, r.Unchecked)
		}
		validJSON(t, r)
		lookedAt(t, b, r, nil)
	})
}

// TestCorpusBad holds every bad board to the findings that it foretells and no others above advice.
func TestCorpusBad(t *testing.T) {
	eachBoard(t, "bad", func(t *testing.T, b *board, m marks) {
		if len(m.expect) == 0 {
			t.Fatal("the board has no `# expect:`")
		}
		r := checkBoard(t, b, defaultChord)
		sizes(t, b.tree, m)
		for i, f := range r.Findings {
			if f.Severity > finding.Advice && (f.Message == "" || f.Hint == "" || f.Source == "" || f.Place.Line == 0) {
				t.Errorf("finding %d is incomplete: %+v", i, f)
			}
		}
		validJSON(t, r)
		lookedAt(t, b, r, m.expect)
	})
}

// sizes compares how many flats, bends, bodies and loops a board has with what its marks say.
func sizes(t *testing.T, tree *fold.Tree, m marks) {
	t.Helper()
	loops := 0
	for _, j := range tree.Joints {
		if !j.Tree {
			loops++
		}
	}
	got := map[string]int{"flats": len(tree.Flats), "bends": len(tree.Bends), "bodies": len(tree.Bodies), "loops": loops}
	for what, n := range m.size {
		if have, known := got[what]; !known || float64(have) != n {
			t.Errorf("%d %s, want %g", have, what, n)
		}
	}
}

// lookedAt compares the alarms of a checked board with those wanted, and those of the same board seen in a mirror, turned
// over, meshed more finely, and with a wall far away.
func lookedAt(t *testing.T, b *board, r *results, want []alarm) {
	t.Helper()
	got := alarms(r)
	sameAlarms(t, "as drawn", got, want, 1e-3, 0)
	if t.Failed() {
		return
	}
	overturned := rebuilt(t, b, turnedOver(b.tree.Design), b.walls)
	reflected := rebuilt(t, b, mirrored(b.tree.Design), mirroredWalls(b.walls))
	for i := range got {
		if got[i].at != nil {
			got[i].at = &[2]float64{-got[i].at[0], got[i].at[1]}
		}
	}
	sameAlarms(t, "in a mirror", alarms(checkBoard(t, reflected, defaultChord)), got, 1e-6, 1e-6)
	sameAlarms(t, "turned over", alarms(checkBoard(t, overturned, defaultChord)), got, 1e-6, 1e-6)
	for i := range got {
		got[i].at = nil
	}
	sameAlarms(t, "with a finer chord", alarms(checkBoard(t, b, defaultChord/4)), got, 1e-3, 2*defaultChord)
	far := append([]clash.Wall{{Piece: &fold.Piece{Name: "far-away"}, Closed: true,
		Mesh: enclosure.Box("enclosure:far-away", mgl64.Vec3{2000, 2000, 2000}, mgl64.Vec3{2001, 2001, 2001})}}, b.walls...)
	sameAlarms(t, "with a wall far away", alarms(checkBoard(t, &board{tree: b.tree, walls: far}, defaultChord)), got, 1e-9, 0)
}

// checkBoard checks a board as the command does.
func checkBoard(t *testing.T, b *board, chord float64) *results {
	t.Helper()
	r, err := check(b, chord)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// rebuilt divides a changed design.
func rebuilt(t *testing.T, b *board, d *fold.Design, walls []clash.Wall) *board {
	t.Helper()
	tree, problems := fold.Divide(d)
	if problems != nil {
		t.Fatalf("a twin cannot be divided: %+v", problems)
	}
	if n := len(b.tree.Bodies); len(tree.Bodies) != n {
		t.Errorf("a twin has %d bodies, the board %d", len(tree.Bodies), n)
	}
	return &board{tree: tree, walls: walls}
}

// alarms returns the findings above advice.
func alarms(r *results) []alarm {
	var out []alarm
	for _, f := range r.Findings {
		if f.Severity > finding.Advice {
			a := alarm{rule: f.Rule, severity: f.Severity.String(), at: f.At}
			if f.Value != nil {
				a.value = *f.Value
			}
			out = append(out, a)
		}
	}
	return out
}

// sameAlarms compares alarms in any order: values within the given share or amount, places within 0.01 mm where both have
// one.
func sameAlarms(t *testing.T, how string, got, want []alarm, share, amount float64) {
	t.Helper()
	left := append([]alarm(nil), want...)
next:
	for _, g := range got {
		for i, w := range left {
			if g.rule == w.rule && g.severity == w.severity && math.Abs(g.value-w.value) <= max(share*math.Abs(w.value), amount, 1e-12) && near(g.at, w.at) {
				left = append(left[:i:i], left[i+1:]...)
				continue next
			}
		}
		t.Errorf("%s: not wanted: %v", how, g)
	}
	for _, w := range left {
		t.Errorf("%s: missing: %v", how, w)
	}
}

func near(p, q *[2]float64) bool {
	return p == nil || q == nil || math.Hypot(p[0]-q[0], p[1]-q[1]) < 0.01
}

// validJSON demands that the results can be written for programs and say the same verdict there.
func validJSON(t *testing.T, r *results) {
	t.Helper()
	var b bytes.Buffer
	if err := report.JSON(&b, r.Run); err != nil {
		t.Fatal(err)
	}
	var got struct{ Verdict report.Verdict }
	if err := json.Unmarshal(b.Bytes(), &got); err != nil || got.Verdict != r.Verdict() {
		t.Errorf("JSON: %v, verdict %q, want %q", err, got.Verdict, r.Verdict())
	}
}
