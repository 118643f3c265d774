package main

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"foldfit/export/report"
	"foldfit/fold/rule"
)

var update = flag.Bool("update", false, "rewrite the runs, lists and pictures shown in README.md and DEVELOPERS.md")

// shownRun is a fenced block in a document with the command that prints it:
//
//	<!-- run: foldfit check examples/lamp/lamp.yaml --json -->
//	```json
//	...
//	```
var shownRun = regexp.MustCompile("(?s)(<!-- run: foldfit ([^\n]*) -->\n+```[a-z]*\n)(.*?)(```\n)")

// ruleList is the list of rules in a document, between two marks.
var ruleList = regexp.MustCompile("(?s)(<!-- rules -->\n+)(.*?)(\n+<!-- end of rules -->)")

// pictures are the files that documents show, with the run that writes each.
var pictures = map[string]string{
	"examples/pocket-logger/pattern.svg": "pattern examples/pocket-logger/pocket-logger.yaml -o -",
}

// TestDocs repeats every run that the documents show, from the project's folder; go test ./cmd/foldfit -run Docs -update
// writes them anew.
func TestDocs(t *testing.T) {
	t.Chdir(root)
	shown := 0
	for _, name := range []string{"README.md", "DEVELOPERS.md"} {
		text, err := os.ReadFile(name)
		if os.IsNotExist(err) {
			t.Errorf("%s is missing", name)
			continue
		}
		fresh := shownRun.ReplaceAllStringFunc(string(text), func(block string) string {
			shown++
			part := shownRun.FindStringSubmatch(block)
			r := call(t, "", strings.Fields(part[2])...)
			if r.code > exitFailed {
				t.Errorf("%s: foldfit %s: status %d: %s", name, part[2], r.code, r.err)
			}
			if !alike(r.out, part[3]) && !*update {
				t.Errorf("%s shows another result than `foldfit %s` gives; -update rewrites it", name, part[2])
			}
			return part[1] + r.out + part[4]
		})
		fresh = ruleList.ReplaceAllStringFunc(fresh, func(block string) string {
			shown++
			part := ruleList.FindStringSubmatch(block)
			var table bytes.Buffer
			if err := report.RuleTable(&table, rule.Documented()); err != nil {
				t.Fatal(err)
			}
			list := strings.TrimSuffix(table.String(), "\n")
			if list != part[2] && !*update {
				t.Errorf("%s lists other rules than `foldfit rules`; -update rewrites it", name)
			}
			return "<!-- rules -->\n\n" + list + "\n\n<!-- end of rules -->"
		})
		if *update && fresh != string(text) {
			if err := os.WriteFile(name, []byte(fresh), 0o666); err != nil {
				t.Fatal(err)
			}
		}
	}
	if shown < 3 {
		t.Errorf("only %d parts of the documents are held to real runs: text, JSON and the list of rules must be", shown)
	}
}

// TestPictures repeats the runs that write the pictures of the documents.
func TestPictures(t *testing.T) {
	t.Chdir(root)
	for name, args := range pictures {
		r := call(t, "", strings.Fields(args)...)
		if r.code != exitGood {
			t.Errorf("foldfit %s: status %d: %s", args, r.code, r.err)
			continue
		}
		if *update {
			if err := os.WriteFile(name, []byte(r.out), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		text, err := os.ReadFile(name)
		if err != nil || !alike(r.out, string(text)) {
			t.Errorf("%s is not what `foldfit %s` gives; -update rewrites it (%v)", name, args, err)
		}
	}
}

// figure is a number in a text.
var figure = regexp.MustCompile(`-?\d+(\.\d+)?(e[+-]\d+)?`)

// alike compares two texts; numbers may differ by 1e-9, which is what results are promised to on every machine.
func alike(a, b string) bool {
	if figure.ReplaceAllString(a, "#") != figure.ReplaceAllString(b, "#") {
		return false
	}
	others := figure.FindAllString(b, -1)
	for i, s := range figure.FindAllString(a, -1) {
		x, errX := strconv.ParseFloat(s, 64)
		y, errY := strconv.ParseFloat(others[i], 64)
		if errX != nil || errY != nil || math.Abs(x-y) > 1e-9 {
			return false
		}
	}
	return true
}

// examples returns the designs of the examples folder.
func examples(t testing.TB) []string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(root, "examples/*/*.yaml"))
	if err != nil || len(names) == 0 {
		t.Fatal("no examples found", err)
	}
	return names
}

// TestExamples checks every example: a draft that its README calls one fails, all others hold.
func TestExamples(t *testing.T) {
	for _, name := range examples(t) {
		want := exitGood
		if strings.Contains(filepath.Base(name), "draft") {
			want = exitFailed
		}
		if r := call(t, "", "check", name); r.code != want {
			t.Errorf("%s: status %d, want %d\n%s%s", name, r.code, want, clip(r.out), r.err)
		}
		if _, err := os.Stat(filepath.Join(filepath.Dir(name), "README.md")); err != nil {
			t.Errorf("%s has no README.md beside it", name)
		}
	}
}

// BenchmarkBuildLamp is the whole of the lamp example: read, divide, fold, check, and write all outputs to memory.
func BenchmarkBuildLamp(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		design, err := load(console{}, filepath.Join(root, "examples/lamp/lamp.yaml"), designFlags{})
		if err != nil {
			b.Fatal(err)
		}
		r, err := check(design, defaultChord)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := compose(design, r); err != nil {
			b.Fatal(err)
		}
	}
}
