package main

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// result is what one command line gave.
type result struct {
	code     int
	out, err string
}

// call runs one command line in this process.
func call(t *testing.T, stdin string, args ...string) result {
	t.Helper()
	var out, errs bytes.Buffer
	code := execute(args, console{in: strings.NewReader(stdin), out: &out, err: &errs})
	return result{code, out.String(), errs.String()}
}

// TestScripts runs testdata/*.txt: command lines as a user types them, and what must come of each. Below the script a file
// holds the files it starts with, each under a line `-- NAME --`. Lines of a script:
//
//	foldfit ARGS...    runs foldfit; words are split at blanks
//	stdin FILE         what the next command reads from stdin
//	exit N             the last command's status
//	out TEXT, err TEXT stdout, stderr holds TEXT; blanks and line breaks count as one blank
//	out-not TEXT       stdout does not hold TEXT
//	out-json           stdout is one JSON value and nothing else
//	quiet              nothing on stdout
//	silent             nothing on stderr
//	files A B ...      exactly these files exist, besides those the script started with
//	same A B           two files or folders are the same, byte for byte
//	differ A B         they are not
//	copy A B, remove A, folder A, link TARGET A, append A TEXT
//
// After every command that ends with status 2 nothing may be on stdout and no file may be new, changed or gone.
func TestScripts(t *testing.T) {
	names, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(names) == 0 {
		t.Fatal("no scripts", err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txt"), func(t *testing.T) {
			s := &script{T: t}
			s.start(string(text))
			for i, line := range s.lines {
				s.at = filepath.Base(name) + ":" + strconv.Itoa(i+1)
				s.step(strings.TrimSpace(line))
			}
		})
	}
}

// script is a running script.
type script struct {
	*testing.T
	lines []string
	begun []string // files that the script starts with
	stdin string
	last  result
	at    string
}

// start unpacks the script's files into a folder of their own and goes there.
func (s *script) start(text string) {
	s.Chdir(s.TempDir())
	name, content := "", ""
	for _, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
		head, marked := strings.CutPrefix(line, "-- ")
		switch {
		case marked:
			name, content = strings.TrimSuffix(head, " --"), ""
			s.begun = append(s.begun, name)
		case name == "":
			s.lines = append(s.lines, line)
			continue
		default:
			content += line + "\n"
		}
		s.write(name, content)
	}
}

func (s *script) write(name, content string) {
	s.must(os.MkdirAll(filepath.Dir(name), 0o777))
	s.must(os.WriteFile(name, []byte(content), 0o666))
}

func (s *script) must(err error) {
	s.Helper()
	if err != nil {
		s.Fatalf("%s: %v", s.at, err)
	}
}

// expect reports a broken expectation with what the last command printed.
func (s *script) expect(ok bool, what string) {
	s.Helper()
	if !ok {
		s.Errorf("%s: %s\nstatus %d\nstdout: %s\nstderr: %s", s.at, what, s.last.code, clip(s.last.out), clip(s.last.err))
	}
}

func clip(s string) string { return s[:min(len(s), 3000)] }

// step runs one line.
func (s *script) step(line string) {
	word, rest, _ := strings.Cut(line, " ")
	rest = strings.TrimSpace(rest)
	args := strings.Fields(rest)
	switch word {
	case "", "#":
	case "foldfit":
		s.run(args)
	case "stdin":
		s.stdin = string(s.read(rest))
	case "exit":
		s.expect(strconv.Itoa(s.last.code) == rest, "want status "+rest)
	case "quiet":
		s.expect(s.last.out == "", "want nothing on stdout")
	case "silent":
		s.expect(s.last.err == "", "want nothing on stderr")
	case "out":
		s.expect(holds(s.last.out, rest), "stdout lacks "+rest)
	case "out-not":
		s.expect(!holds(s.last.out, rest), "stdout holds "+rest)
	case "err":
		s.expect(holds(s.last.err, rest), "stderr lacks "+rest)
	case "out-json":
		s.expect(json.Valid([]byte(s.last.out)), "stdout is not JSON alone")
	case "files":
		s.files(args)
	case "same":
		s.expect(snapshot(s, args[0]) == snapshot(s, args[1]), rest+" differ")
	case "differ":
		s.expect(snapshot(s, args[0]) != snapshot(s, args[1]), rest+" are the same")
	default:
		s.change(word, args, rest)
	}
}

// change runs a line that prepares files.
func (s *script) change(word string, args []string, rest string) {
	switch word {
	case "copy":
		s.write(args[1], string(s.read(args[0])))
	case "remove":
		s.must(os.RemoveAll(rest))
	case "folder":
		s.must(os.MkdirAll(rest, 0o777))
	case "link":
		s.must(os.Symlink(args[0], args[1]))
	case "append":
		_, text, _ := strings.Cut(rest, " ")
		s.write(args[0], string(s.read(args[0]))+text+"\n")
	default:
		s.Fatalf("%s: unknown line %q", s.at, word)
	}
}

// run runs foldfit and holds it to what is true of every run.
func (s *script) run(args []string) {
	before := snapshot(s, ".")
	s.last = call(s.T, s.stdin, args...)
	s.stdin = ""
	s.expect(s.last.code != exitDefect, "a defect")
	if s.last.code == exitUnusual {
		s.expect(s.last.out == "", "status 2 with something on stdout")
		s.expect(s.last.err != "", "status 2 without a word")
		s.expect(snapshot(s, ".") == before, "status 2 left, changed or took away a file")
	}
}

func (s *script) read(name string) []byte {
	data, err := os.ReadFile(name)
	s.must(err)
	return data
}

// files wants exactly these files besides those the script started with.
func (s *script) files(want []string) {
	var got []string
	s.must(filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && !slices.Contains(s.begun, path) {
			got = append(got, path)
		}
		return err
	}))
	slices.Sort(want)
	s.expect(slices.Equal(got, want), "files are "+strings.Join(got, " "))
}

// snapshot returns names, kinds and contents of everything below a path.
func snapshot(s *script, path string) string {
	var out strings.Builder
	s.must(filepath.WalkDir(path, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(path, p)
		out.WriteString(rel + " " + d.Type().String() + "\n")
		if d.Type().IsRegular() {
			out.Write(s.read(p))
		}
		return err
	}))
	return out.String()
}

// holds compares text with blanks and line breaks counted as one blank.
func holds(s, part string) bool {
	flow := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	return strings.Contains(flow(s), flow(part))
}
