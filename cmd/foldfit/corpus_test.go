package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/export/report"
	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/rule"
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

// marks are what the comment lines at the top of a corpus board say of it, `# KEY: TEXT`.
type marks struct {
	verdict report.Verdict     // good boards only
	expect  []alarm            // bad boards only
	size    map[string]float64 // how many flats, bends, bodies, loops it has: `# count: flats 5`
	upright bool               // it measures something along x or y, and is not looked at turned
	pending string             // why it cannot be judged yet
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
		case "expect":
			m.expect = append(m.expect, alarm{rule: words[0], severity: words[1], value: parse(t, words[2])})
		case "at":
			m.expect[len(m.expect)-1].at = &[2]float64{parse(t, words[0]), parse(t, words[1])}
		case "count":
			m.size[words[0]] = parse(t, words[1])
		case "upright":
			m.upright = true
		case "pending":
			m.pending = rest
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

// eachBoard runs a test for every board of a folder. Pending ones are skipped, and it is said when one needs it no longer.
func eachBoard(t *testing.T, folder string, judge func(*testing.T, *board, marks)) {
	for _, path := range corpusBoards(t, folder) {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".yaml"), func(t *testing.T) {
			t.Parallel()
			m := readMarks(t, path)
			b, err := load(console{}, path, designFlags{})
			switch {
			case err != nil && m.pending != "":
				t.Skip("PENDING: ", m.pending)
			case err != nil:
				t.Fatal(describe(err))
			case m.pending == "":
				judge(t, b, m)
			case matched(alarms(checkBoard(t, b, defaultChord), m.expect), m.expect):
				t.Skip("PENDING NO LONGER, the mark can go: ", m.pending)
			default:
				t.Skip("PENDING: ", m.pending)
			}
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
	for _, folder := range []string{"good", "limit"} {
		eachBoard(t, folder, judgeGood)
	}
}

func judgeGood(t *testing.T, b *board, m marks) {
	if m.verdict == "" {
		t.Fatal("the board has no `# verdict:`")
	}
	r := checkBoard(t, b, defaultChord)
	sizes(t, b.tree, m)
	if got := r.Verdict(); got != m.verdict {
		t.Errorf("verdict %s, want %s: %v", got, m.verdict, r.Unchecked)
	}
	validJSON(t, r)
	lookedAt(t, b, r, m)
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
		lookedAt(t, b, r, m)
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

// drawnShare is how far the value of a finding may be off what its board foretells.
const drawnShare = 1e-3

// lookedAt compares the alarms of a checked board with those wanted, and those of the same board seen in a mirror, turned
// over, turned in its plane, meshed more finely, and with a wall far away.
func lookedAt(t *testing.T, b *board, r *results, m marks) {
	t.Helper()
	want := m.expect
	found := alarms(r, want)
	sameAlarms(t, "as drawn", found, want, drawnShare, 0)
	if t.Failed() {
		return
	}
	same := func(how string, b *board, chord float64, want []alarm, share, amount float64) {
		t.Helper()
		sameAlarms(t, how, alarms(checkBoard(t, b, chord), want), want, share, amount)
	}
	reflected := mapped(found, func(a alarm) alarm { // places are compared where the marks tell them
		a.at = nil
		if len(want) == 1 && want[0].at != nil {
			a.at = &[2]float64{-want[0].at[0], want[0].at[1]}
		}
		return a
	})
	same("in a mirror", rebuilt(t, b, mirrored(b.tree.Design), mirroredWalls(b.walls)), defaultChord, reflected, 1e-6, 1e-6)
	same("turned over", rebuilt(t, b, turnedOver(b.tree.Design), b.walls), defaultChord, reflected, 1e-6, 1e-6)
	if !m.upright {
		same("turned by 17.3 degrees", rebuilt(t, b, turned(b.tree.Design, 17.3), b.walls), defaultChord, unplaced(found), 1e-6, 1e-6)
	}
	same("with a finer chord", b, defaultChord/4, unplaced(found), 1e-3, 2*defaultChord)
	far := append([]clash.Wall{{Piece: &fold.Piece{Name: "far-away"}, Closed: true,
		Mesh: enclosure.Box("enclosure:far-away", mgl64.Vec3{2000, 2000, 2000}, mgl64.Vec3{2001, 2001, 2001})}}, b.walls...)
	same("with a wall far away", &board{tree: b.tree, walls: far}, defaultChord, found, 1e-9, 0)
}

// unplaced returns alarms without their places.
func unplaced(list []alarm) []alarm {
	return mapped(list, func(a alarm) alarm { a.at = nil; return a })
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

// alarms returns the findings above advice, and advice of the rules that are wanted.
func alarms(r *results, want []alarm) []alarm {
	var out []alarm
	for _, f := range r.Findings {
		if f.Severity > finding.Advice || slices.ContainsFunc(want, func(w alarm) bool { return w.rule == f.Rule }) {
			a := alarm{rule: f.Rule, severity: f.Severity.String(), at: f.At}
			if f.Value != nil {
				a.value = *f.Value
			}
			out = append(out, a)
		}
	}
	return out
}

// sameAlarms demands the wanted alarms, in any order: values within the given share or amount, places within 0.01 mm where
// both have one.
func sameAlarms(t *testing.T, how string, got, want []alarm, share, amount float64) {
	t.Helper()
	extra, missing := differing(got, want, share, amount)
	for _, a := range extra {
		t.Errorf("%s: not wanted: %v", how, a)
	}
	for _, a := range missing {
		t.Errorf("%s: missing: %v", how, a)
	}
}

// matched reports whether a board as drawn raises what is wanted.
func matched(got, want []alarm) bool {
	extra, missing := differing(got, want, drawnShare, 0)
	return len(extra)+len(missing) == 0
}

// differing returns the alarms that were not wanted and those that are missing.
func differing(got, want []alarm, share, amount float64) (extra, missing []alarm) {
	missing = slices.Clone(want)
	for _, g := range got {
		i := slices.IndexFunc(missing, func(w alarm) bool {
			off := math.Abs(g.value - w.value)
			return g.rule == w.rule && g.severity == w.severity && off <= max(share*math.Abs(w.value), amount, 1e-12) && near(g.at, w.at)
		})
		if i < 0 {
			extra = append(extra, g)
		} else {
			missing = slices.Delete(missing, i, i+1)
		}
	}
	return extra, missing
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

// TestCorpusMade repeats the program that makes part of the corpus: every file that it writes stands there as it is, and no
// other bad or borderline board does.
func TestCorpusMade(t *testing.T) {
	dir := t.TempDir()
	cmd := exec.Command("go", "run", "./testdata/corpus/make", dir)
	cmd.Dir = root
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v %s", err, out)
	}
	for _, folder := range []string{"good", "bad", "limit"} {
		fresh, kept := filesIn(t, filepath.Join(dir, folder)), filesIn(t, filepath.Join(corpus, folder))
		for name, data := range fresh {
			if kept[name] != data {
				t.Errorf("%s/%s differs from what `go run ./testdata/corpus/make` writes", folder, name)
			}
		}
		if folder != "good" && len(kept) != len(fresh) {
			t.Errorf("%d files in %s, %d are made", len(kept), folder, len(fresh))
		}
	}
}

// filesIn returns the files of a folder by name.
func filesIn(t *testing.T, folder string) map[string]string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(folder, "*"))
	if err != nil || len(names) == 0 {
		t.Fatal("nothing in", folder, err)
	}
	out := map[string]string{}
	for _, n := range names {
		data, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		out[filepath.Base(n)] = string(data)
	}
	return out
}

// TestCorpusIsWhole demands fifty good boards and two bad ones for every rule about boards.
func TestCorpusIsWhole(t *testing.T) {
	if n := len(corpusBoards(t, "good")); n < 50 {
		t.Errorf("only %d good boards", n)
	}
	bad := map[string]int{"contact": 0, "clearance": 0}
	for _, r := range rule.All() {
		bad[r.ID] = 0
	}
	for _, path := range corpusBoards(t, "bad") {
		for _, a := range readMarks(t, path).expect {
			bad[a.rule]++
		}
	}
	for id, n := range bad {
		if n < 2 {
			t.Errorf("%d bad boards for %s, want two or more", n, id)
		}
	}
}
