package designfile

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"foldfit/fold/finding"
)

// read returns a file of testdata.
func read(t testing.TB, name string) []byte {
	t.Helper()
	src, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return src
}

// files returns the files of a folder of testdata.
func files(t testing.TB, folder string) []string {
	t.Helper()
	list, err := filepath.Glob(filepath.Join("testdata", folder, "*"))
	if err != nil || len(list) == 0 {
		t.Fatalf("no files in %s: %v", folder, err)
	}
	for i := range list {
		list[i] = filepath.Join(folder, filepath.Base(list[i]))
	}
	return list
}

// tell returns problems line by line, for messages of tests.
func tell(list []finding.Problem) string {
	var s strings.Builder
	for _, p := range list {
		s.WriteString("\n  " + strconv.Itoa(p.Place.Line) + ":" + strconv.Itoa(p.Place.Column) + " " + p.What + " / " + p.Hint)
	}
	return s.String()
}

func TestGoodFiles(t *testing.T) {
	for _, name := range files(t, "good") {
		d, _, problems := Parse(name, read(t, name), Options{})
		if len(problems) > 0 || d.Incomplete || d.Outline == nil || d.Flex == "" {
			t.Errorf("%s: incomplete %v, problems %s", name, d.Incomplete, tell(problems))
		}
	}
}

// Each nasty file says in lines that begin with #! which problems it must give first: LINE:COLUMN TEXT.
func TestNastyFiles(t *testing.T) {
	expected := regexp.MustCompile(`(?m)^#! (\d+):(\d+) (.*)$`)
	for _, name := range files(t, "nasty") {
		src := read(t, name)
		d, _, problems := Parse(name, src, Options{})
		want := expected.FindAllStringSubmatch(string(src), -1)
		if d == nil || len(want) == 0 || len(problems) < len(want) {
			t.Errorf("%s: wants %d problems, got %s", name, len(want), tell(problems))
			continue
		}
		for _, w := range want {
			found := false
			for _, p := range problems {
				found = found || strconv.Itoa(p.Place.Line) == w[1] && strconv.Itoa(p.Place.Column) == w[2] && strings.Contains(p.What, w[3])
			}
			if !found {
				t.Errorf("%s: no problem %s, got %s", name, w[0], tell(problems))
			}
		}
		for _, p := range problems {
			if p.Place.File != name || Excerpt(src, p.Place) == "" {
				t.Errorf("%s: problem without a place: %+v", name, p)
			}
		}
	}
}

// A file with problems still gives what can be read, and every name in it stands for something in it.
func TestBestEffort(t *testing.T) {
	for _, folder := range []string{"good", "nasty"} {
		for _, name := range files(t, folder) {
			src := read(t, name)
			d, _, _ := Parse(name, src, Options{})
			checkClosed(t, name, d)
		}
	}
}

func TestKeysOfLaterAreRefusedByName(t *testing.T) {
	_, _, problems := Parse("future.yaml", read(t, "future.yaml"), Options{})
	want := []string{
		"board", "stackups.film: grain",
		"sections.main: grain", "tails", "holes", "keepouts", "grain",
	}
	if len(problems) != len(want) {
		t.Fatalf("wants %d problems, got %s", len(want), tell(problems))
	}
	for i, p := range problems {
		if p.What != want[i]+": not supported yet" || p.Hint == "" {
			t.Errorf("wants %q, got %+v", want[i], p)
		}
	}
}

// The reader tells of everything in one run: mistakes of form, names and geometry in one file.
func TestAllProblemsInOneRun(t *testing.T) {
	src := `foldfit: 1
titel: {name: x}
outline: [[0, 0], [10, 10], [10, 0], [0, 10]]
stackups: {film: {thickness: 0.2, lip: -1}, hard: {rigid: true, layers: [{material: fr5, thickness: 1}]}}
flex: flim
hinges: {neck: {line: [1, 2, 3], angle: 400, radius: 0.001}}
components: {U1: {at: [1, 1], size: [1, 1, 0], on: nowhere}}
enclosure: {tray: {mesh: ../tray.stl, chord: -1}}
`
	_, _, problems := Parse("x.yaml", []byte(src), Options{})
	for _, w := range []string{"titel", "crosses or touches itself", "lip is -1", "material fr5", "stack-up flim", "two points [[x, y], [x, y]], got a list of 3 numbers",
		"angle is 400", "size item 3 is 0", "section nowhere", "leads out of", "chord is -1"} {
		if !strings.Contains(tell(problems), w) {
			t.Errorf("no problem about %q in %s", w, tell(problems))
		}
	}
	if n := len(problems); n != 11 {
		t.Errorf("wants 11 problems, got %d: %s", n, tell(problems))
	}
}
