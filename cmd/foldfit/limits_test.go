package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foldfit/fold/finding"
)

// A design that checks clean, for tests that need any.
const plain = `foldfit: 1
outline: [[0, 0], [70, 0], [70, 20], [0, 20]]
stackups: {film: {thickness: 0.2, copper-layers: 2}}
flex: film
hinges: {neck: {line: [[37, 0], [37, 20]], angle: 90, radius: 2}}
`

// faulty is a stdout that panics, or that fails, at the first write.
type faulty struct{ panics bool }

func (f faulty) Write([]byte) (int, error) {
	if f.panics {
		panic("index out of range")
	}
	return 0, errors.New("the pipe is gone")
}

func TestDefectIsStatus3(t *testing.T) {
	var errs bytes.Buffer
	code := execute([]string{"check", "-"}, console{in: strings.NewReader(plain), out: faulty{true}, err: &errs})
	if code != exitDefect {
		t.Errorf("status %d, want %d", code, exitDefect)
	}
	for _, part := range []string{"a defect of foldfit", "index out of range", "report it", "foldfit check -", "write.go"} {
		if !strings.Contains(errs.String(), part) {
			t.Errorf("the message lacks %q:\n%s", part, errs.String())
		}
	}
}

func TestBrokenStdoutIsNoDefect(t *testing.T) {
	var errs bytes.Buffer
	code := execute([]string{"check", "-"}, console{in: strings.NewReader(plain), out: faulty{}, err: &errs})
	if code != exitUnusual || !strings.Contains(errs.String(), "the pipe is gone") {
		t.Errorf("status %d: %s", code, errs.String())
	}
}

func TestFileWholeOrNotAtAll(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "out.svg")
	if err := os.WriteFile(path, []byte("old"), 0o640); err != nil {
		t.Fatal(err)
	}
	half := func(w io.Writer) error {
		if _, err := w.Write(make([]byte, 1<<20)); err != nil {
			return err
		}
		return errors.New("broke off")
	}
	var bug *defect
	if err := deliver(console{}, path, nil, half); !errors.As(err, &bug) {
		t.Errorf("a writer that breaks off is a defect, got %v", err)
	}
	func() {
		defer func() { _ = recover() }()
		_ = deliver(console{}, path, nil, func(io.Writer) error { panic("in the middle") })
	}()
	only(t, dir, path, "old")
	if err := deliver(console{}, path, nil, func(w io.Writer) error { _, err := io.WriteString(w, "new"); return err }); err != nil {
		t.Fatal(err)
	}
	only(t, dir, path, "new")
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("the file's permissions changed to %v", info.Mode())
	}
}

// only fails unless path is the one file in dir and holds text.
func only(t *testing.T, dir, path, text string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != 1 {
		t.Errorf("%d files are left: %v", len(entries), entries)
	}
	if data, err := os.ReadFile(path); err != nil || string(data) != text {
		t.Errorf("the file holds %q, want %q", data, text)
	}
}

func TestDeviceIsNotReplaced(t *testing.T) {
	if _, err := os.Stat("/dev/null"); err != nil {
		t.Skip("no /dev/null on this system")
	}
	if err := deliver(console{}, "/dev/null", nil, func(w io.Writer) error { _, err := io.WriteString(w, "x"); return err }); err != nil {
		t.Error(err)
	}
	if info, err := os.Stat("/dev/null"); err != nil || info.Mode().IsRegular() {
		t.Error("/dev/null was replaced by a file")
	}
}

func TestTooBigIsNotRead(t *testing.T) {
	big := strings.Repeat(" ", mostDesign+1)
	if r := call(t, big, "check", "-"); r.code != exitUnusual || !strings.Contains(r.err, "stdin:1:1: ") || !strings.Contains(r.err, "larger than 10 MB") {
		t.Errorf("status %d: %s", r.code, r.err)
	}
	dir := t.TempDir()
	design, mesh := filepath.Join(dir, "big.yaml"), filepath.Join(dir, "big.stl")
	for path, size := range map[string]int64{design: 100 << 20, mesh: 2 << 30} {
		if err := os.WriteFile(path, nil, 0o666); err != nil {
			t.Fatal(err)
		}
		if err := os.Truncate(path, size); err != nil { // sparse: takes no room
			t.Fatal(err)
		}
	}
	if r := call(t, "", "check", design); r.code != exitUnusual || !strings.Contains(r.err, "big.yaml:1:1: ") {
		t.Errorf("status %d: %s", r.code, r.err)
	}
	named := filepath.Join(dir, "named.yaml")
	if err := os.WriteFile(named, []byte(plain+"enclosure: {tray: {mesh: big.stl, units: mm}}\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	if r := call(t, "", "check", named); r.code != exitUnusual || !strings.Contains(r.err, "named.yaml:6:") || !strings.Contains(r.err, "larger than 512 MB") {
		t.Errorf("status %d: %s", r.code, r.err)
	}
}

func TestNumberFlag(t *testing.T) {
	for _, s := range []string{"", "x", "nan", "NaN", "inf", "-Inf", "1e999", "0", "-0.01", "200", "0x"} {
		n := number{value: 5, least: 1e-5, most: 100}
		if err := n.Set(s); err == nil || n.value != 5 {
			t.Errorf("%q was taken as %g", s, n.value)
		}
	}
	n := number{least: 1e-5, most: 100}
	if err := n.Set(" 1e-3 "); err != nil || n.value != 0.001 {
		t.Errorf("1e-3: %v, %g", err, n.value)
	}
}

func TestFailOnWords(t *testing.T) {
	var f failOn
	if f.severity() != finding.Error || f.incomplete {
		t.Error("the zero value fails on errors only")
	}
	if err := f.Set("incomplete,advice"); err != nil || f.severity() != finding.Advice || !f.incomplete {
		t.Errorf("%v: %+v", err, f)
	}
	if err := f.Set("warnings"); err == nil {
		t.Error("an unknown word was taken")
	}
}
