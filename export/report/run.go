package report

import (
	"fmt"
	"slices"
	"strings"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/mesh/clash"
)

// Run gathers one check of one board in one or several postures. Tree is always set; Folded is nil where bend areas overlap
// and the board has no folded shape. Lengths mm, angles degrees.
type Run struct {
	Tree      *fold.Tree
	Folded    *fold.Folded        // in Posture
	Posture   string              // "folded", or the one posture that was asked for
	Postures  []string            // all that were checked, Posture among them; nil means Posture alone
	Gaps      []clash.Gap         // of all postures
	Findings  []finding.Finding   // worst first, see finding.Sort
	Motion    *clash.Motion       // what was proven of the way there; nil where it was not asked for
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

// Verdict returns fail with a finding of severity error that no concession accepts, else incomplete when something about the fit
// was not checked, else pass.
func (r Run) Verdict() Verdict {
	worst, found := finding.Worst(r.Findings)
	switch {
	case found && worst == finding.Error, r.Folded == nil:
		return Fail
	case len(unfit(r.Unchecked)) > 0:
		return Incomplete
	}
	return Pass
}

// unfit returns what of a list is about the fit.
func unfit(all []finding.Unchecked) []finding.Unchecked {
	return slices.DeleteFunc(slices.Clone(all), func(u finding.Unchecked) bool { return u.Aside })
}

// motionNote says what of the way into the end shapes was not checked, beside what r.Unchecked lists; "" for nothing.
func (r Run) motionNote() string {
	switch {
	case r.Motion != nil && r.Motion.Stopped:
		return "The motion was not wholly proven: only what the steps below say."
	case r.Motion == nil && r.Folded != nil && len(r.Tree.Design.Enclosure) > 0:
		return "How the board is folded and put in is not checked: only how it stands at the end."
	}
	return ""
}

// several reports whether more than one posture was checked.
func (r Run) several() bool { return len(r.Postures) > 1 }

// Cautions returns what every reader of a result should know, one sentence each.
func Cautions() []string {
	return []string{
		"foldfit is an aid: it does not replace the fabricator's review, the governing standards or a qualified engineer's judgement.",
		"Shapes, widths, areas, volumes, gaps and depths are computed, from nominal sizes and ideal bends: tolerances and springback are not in them.",
		"Limits such as the ratio of radius to thickness are common practice, as commonly quoted, unless they are the design's own: the source beside each finding says which. The fabricator's word goes before them.",
		"Fold the printed pattern, and have the fabricator confirm the bend areas, before you order.",
	}
}

// Reason returns in words why the verdict is what it is.
func (r Run) Reason() string {
	switch r.Verdict() {
	case Fail:
		return r.failure()
	case Incomplete:
		return "no error found, but not everything was checked: " + listed(whats(unfit(r.Unchecked)), 4)
	}
	return "it folds and it fits" + r.where() + r.but()
}

// where says which end shapes the verdict speaks of, if not of the folded one alone.
func (r Run) where() string {
	switch {
	case len(r.Postures) == 2:
		return ", in both postures"
	case r.several():
		return fmt.Sprintf(", in all %d postures", len(r.Postures))
	case r.Posture != fold.FoldedPosture && r.Posture != "":
		return ", in posture " + r.Posture
	}
	return ""
}

// but names what a good verdict leaves to look at.
func (r Run) but() string {
	out := ""
	if n := r.count(finding.Warning); n > 0 {
		out += "; see the " + plural(n, "warning")
	}
	if n := len(r.Findings) - len(r.counted()); n > 0 {
		out += fmt.Sprintf("; %s accepted by concession", plural(n, "finding"))
	}
	return out
}

// counted returns the findings that no concession accepts.
func (r Run) counted() []finding.Finding {
	var out []finding.Finding
	for _, f := range r.Findings {
		if f.Accepted == nil {
			out = append(out, f)
		}
	}
	return out
}

// failure names the first error and counts the others.
func (r Run) failure() string {
	n := r.count(finding.Error)
	if n == 0 {
		return "the board has no folded shape"
	}
	first := ""
	for _, f := range r.counted() {
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

// count returns how many findings have this severity, those accepted by concession left out.
func (r Run) count(s finding.Severity) int {
	n := 0
	for _, f := range r.counted() {
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

// allUnchecked returns all that the verdict does not stand for, in words; never nothing.
func (r Run) allUnchecked() []string {
	out := uncheckedWords(r.Unchecked)
	if note := r.motionNote(); note != "" {
		out = append(out, note)
	}
	if len(out) == 0 {
		out = []string{"nothing that foldfit knows of; see the cautions"}
	}
	return out
}
