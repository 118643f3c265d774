package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"

	"foldfit/fold/rule"
)

// ruleName is a rule named in the code of a check.
var ruleName = regexp.MustCompile(`Rule\b[^\n"]*"([a-z]+(?:-[a-z]+)*)"`)

// TestEveryRuleIsListed looks for the rules that the checks name: each must be in the list of rules.
func TestEveryRuleIsListed(t *testing.T) {
	var listed, named []string
	for _, r := range rule.Documented() {
		listed = append(listed, r.ID)
	}
	for _, dir := range []string{"fold/rule", "mesh/clash"} {
		files, err := filepath.Glob(filepath.Join(root, dir, "*.go"))
		if err != nil || len(files) == 0 {
			t.Fatal("no files in", dir, err)
		}
		for _, path := range files {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if isTest, _ := filepath.Match("*_test.go", filepath.Base(path)); isTest {
				continue
			}
			for _, m := range ruleName.FindAllStringSubmatch(string(text), -1) {
				named = append(named, m[1])
			}
		}
	}
	for _, name := range named {
		if !slices.Contains(listed, name) {
			t.Errorf("%s is named in a check, but not in the list of rules", name)
		}
	}
	if len(named) < 5 {
		t.Errorf("only %d names found in the code", len(named))
	}
}

// TestFiguresAreExplained asks for every figure by its name: formula, inputs, source and trust are printed.
func TestFiguresAreExplained(t *testing.T) {
	list := call(t, "", "rules")
	for _, f := range rule.Figures() {
		r := call(t, "", "rules", f.ID)
		if r.code != exitGood {
			t.Fatalf("rules %s: status %d %s", f.ID, r.code, r.err)
		}
		for _, words := range []string{f.ID, f.Title, f.How.Formula, f.How.Inputs, f.How.Source, f.How.Trust} {
			if !holds(r.out, words) {
				t.Errorf("rules %s lacks %q", f.ID, words)
			}
		}
		if !holds(list.out, f.ID) || !holds(list.out, f.Title) {
			t.Errorf("the list lacks %s", f.ID)
		}
	}
	for _, args := range [][]string{{"rules", "free-shap"}, {"rules", "ratio", "life"}} {
		if r := call(t, "", args...); r.code != exitUnusual || r.out != "" {
			t.Errorf("%v: status %d %s", args, r.code, r.out)
		}
	}
}
