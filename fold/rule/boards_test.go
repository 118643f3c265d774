package rule_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/designfile"
	"foldfit/fold/finding"
	"foldfit/fold/rule"
)

// TestBoards checks the three boards that every rule has in testdata/RULE: pass.yaml and border.yaml (the limit met
// exactly) raise nothing at all, fail.yaml raises that rule once, with the severity and value that its line
// `# expect: SEVERITY VALUE` foretells, and with all that a finding has to say.
func TestBoards(t *testing.T) {
	for _, r := range rule.All() {
		for _, name := range []string{"pass", "fail", "border"} {
			t.Run(r.ID+"/"+name, func(t *testing.T) {
				src, found := findings(t, filepath.Join("testdata", r.ID, name+".yaml"))
				if name != "fail" {
					if len(found) > 0 {
						t.Fatalf("false alarm: %+v", found)
					}
					return
				}
				if len(found) != 1 {
					t.Fatalf("%d findings, want one: %+v", len(found), found)
				}
				complete(t, r, src, found[0])
			})
		}
	}
}

// findings reads, divides, folds and checks a board.
func findings(t *testing.T, path string) (string, []finding.Finding) {
	t.Helper()
	src, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(src), checked(t, boardAt(t, path))
}

// boardAt reads and divides a board.
func boardAt(t *testing.T, path string) *fold.Tree {
	t.Helper()
	src, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	d, _, problems := designfile.Parse(path, src, designfile.Options{})
	if problems != nil {
		t.Fatal(problems)
	}
	tree, problems := fold.Divide(d)
	if problems != nil {
		t.Fatal(problems)
	}
	return tree
}

// checked folds and checks a board.
func checked(t *testing.T, tree *fold.Tree) []finding.Finding {
	t.Helper()
	var f *fold.Folded
	if tree.Foldable {
		var err error
		if f, err = tree.Place(tree.Angles()); err != nil {
			t.Fatal(err)
		}
	}
	return rule.Check(tree, f, fold.FoldedPosture)
}

// complete holds a finding to what its board foretells and to what every finding must say.
func complete(t *testing.T, r rule.Rule, src string, f finding.Finding) {
	t.Helper()
	_, expect, _ := strings.Cut(src, "# expect: ")
	var severity string
	var value float64
	if _, err := fmt.Sscan(expect, &severity, &value); err != nil {
		t.Fatal("the board does not say what to expect: ", err)
	}
	if f.Rule != r.ID || f.Severity.String() != severity {
		t.Fatalf("%s of severity %s, want %s of severity %s", f.Rule, f.Severity, r.ID, severity)
	}
	if f.Value == nil || f.Limit == nil || *f.Value-value > 1e-6 || value-*f.Value > 1e-6 {
		t.Fatalf("value %v and limit %v, want value %g", f.Value, f.Limit, value)
	}
	if *f.Margin() > 0 {
		t.Errorf("margin %g of a limit that is missed", *f.Margin())
	}
	if f.Message == "" || f.Hint == "" || f.Source == "" || f.Place.Line == 0 {
		t.Errorf("incomplete: %+v", f)
	}
	for _, text := range []string{f.Message, f.Hint} {
		if strings.Contains(text, "%!") || strings.Contains(text, "{") && !strings.Contains(text, ": {") {
			t.Errorf("odd words: %s", text)
		}
	}
}

// trust are the words that tell how far a source can be trusted; every rule uses one of them.
var trust = []string{"computed", "common practice, no source", "as commonly quoted", "the design's own"}

func TestDocumented(t *testing.T) {
	last := ""
	for _, r := range rule.Documented() {
		if r.ID <= last || r.Title == "" || r.Why == "" || r.Limit == nil || r.Limit(rule.Profiles()[0]) == "" {
			t.Errorf("%s is incomplete or out of order", r.ID)
		}
		last = r.ID
		told := false
		for _, words := range trust {
			told = told || strings.Contains(r.Source, words)
		}
		if !told {
			t.Errorf("%s does not say how far its source can be trusted: %q", r.ID, r.Source)
		}
	}
	dirs, err := os.ReadDir("testdata")
	if err != nil || len(dirs) != len(rule.All()) {
		t.Errorf("%d folders in testdata for %d rules", len(dirs), len(rule.All()))
	}
}
