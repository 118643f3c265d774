package report

import (
	"fmt"
	"strings"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/mesh/clash"
)

// Run gathers one check of one board in one posture. Tree is always set; Folded is nil where bend areas overlap and the
// board has no folded shape. Lengths mm, angles degrees.
type Run struct {
	Tree      *fold.Tree
	Folded    *fold.Folded
	Posture   string // "folded", or another posture's name
	Gaps      []clash.Gap
	Findings  []finding.Finding   // worst first, see finding.Sort
	Unchecked []finding.Unchecked // why the verdict cannot be pass
	Notes     []string            // what was decided on the user's behalf
	Version   string              // of foldfit
}

// Verdict is the answer of a whole check.
type Verdict string

// The three verdicts.
const (
	Pass       Verdict = "pass"
	Fail       Verdict = "fail"       // at least one finding of severity error
	Incomplete Verdict = "incomplete" // no error, but fit was not or not wholly checked
)

// Verdict returns fail with a finding of severity error, else incomplete when something was not checked, else pass.
func (r Run) Verdict() Verdict {
	worst, found := finding.Worst(r.Findings)
	switch {
	case found && worst == finding.Error, r.Folded == nil:
		return Fail
	case len(r.Unchecked) > 0:
		return Incomplete
	}
	return Pass
}

// motionNote is said until the way into the housing is computed.
const motionNote = "How the board is folded and put in is not checked yet: only the folded shape is."

// Cautions returns what every reader of a result should know, one sentence each.
func Cautions() []string {
	return []string{
		"foldfit is an aid: it does not replace the fabricator's own rules or a mock-up.",
		"It folds nominal sizes along ideal cylinders; tolerances and springback are not in these numbers.",
		"Fold the printed pattern, and have the fabricator confirm the bend areas, before you order.",
	}
}

// Reason returns in words why the verdict is what it is.
func (r Run) Reason() string {
	switch r.Verdict() {
	case Fail:
		return r.failure()
	case Incomplete:
		return "no error found, but not everything was checked: " + listed(whats(r.Unchecked), 4)
	}
	if r.count(finding.Warning) > 0 {
		return "it folds and it fits; see the " + plural(r.count(finding.Warning), "warning")
	}
	return "it folds and it fits"
}

// failure names the first error and counts the others.
func (r Run) failure() string {
	n := r.count(finding.Error)
	if n == 0 {
		return "the board has no folded shape"
	}
	first := ""
	for _, f := range r.Findings {
		if f.Severity == finding.Error {
			first = f.Message
			break
		}
	}
	if n == 1 {
		return first
	}
	return fmt.Sprintf("%s (and %s)", first, plural(n-1, "more error"))
}

// count returns how many findings have this severity.
func (r Run) count(s finding.Severity) int {
	n := 0
	for _, f := range r.Findings {
		if f.Severity == s {
			n++
		}
	}
	return n
}

// about returns the title's number, revision and date in words.
func (r Run) about() string {
	var parts []string
	t := r.Tree.Design.Title
	for _, part := range []struct{ word, text string }{{"", t.Number}, {"revision ", t.Revision}, {"", t.Date}} {
		if part.text != "" {
			parts = append(parts, part.word+part.text)
		}
	}
	return strings.Join(parts, ", ")
}

// whats returns what was not checked, in words, one entry each.
func whats(list []finding.Unchecked) []string {
	var out []string
	for _, u := range list {
		s := u.What
		if len(u.On) > 0 {
			s += " of " + listed(u.On, 8)
		}
		out = append(out, s)
	}
	return out
}

// uncheckedWords returns what was not checked and why.
func uncheckedWords(list []finding.Unchecked) []string {
	out := whats(list)
	for i, u := range list {
		out[i] += ": " + u.Why
	}
	return out
}
