package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"foldfit/fold"
	"foldfit/fold/finding"
)

// CompareJSON writes a comparison for programs; every key is always there.
func CompareJSON(w io.Writer, c Comparison) error {
	return writeObject(w, c)
}

// CompareText writes a comparison for people, lengths in mm: whether it got worse, then hinges, gaps and findings.
func CompareText(w io.Writer, c Comparison, o TextOptions) error {
	p := newPage(w, speech{fold.MM}, o)
	word, colour := "NOT WORSE", green
	switch {
	case c.Worse(finding.Error) > 0:
		word, colour = "WORSE", red
	case c.Worse(finding.Query) > 0:
		word, colour = "NO NEW ERROR", yellow
	}
	p.wrap(p.paint(colour, word)+": "+c.summary(), 0, 2)
	p.wrap(fmt.Sprintf("%s (%s) before, %s (%s) now", c.Old.File, c.Old.Design, c.New.File, c.New.Design), 0, 2)
	p.list("Hinges", c.hingeLines(p.speech))
	p.list("Gaps in mm (listed are the smallest of each kind and any too small)", c.gapLines(p.speech))
	p.list("Lapsed concessions", findingLines(c.Lapsed))
	p.list("New findings", findingLines(slices.DeleteFunc(slices.Clone(c.Fresh), func(f findingJSON) bool { return f.Rule == "concession-lapsed" })))
	p.list("Changed findings", c.changedLines(p.speech))
	p.list("Gone findings", findingLines(c.Gone))
	return p.out.Flush()
}

// summary says what became of the verdict and how many findings came and went.
func (c Comparison) summary() string {
	out := fmt.Sprintf("%s before, %s now", c.Old.Verdict, c.New.Verdict)
	if c.Old.Verdict == c.New.Verdict {
		out = fmt.Sprintf("%s as before", c.New.Verdict)
	}
	for _, part := range []struct {
		n    int
		what string
	}{{c.Worse(finding.Error), "new error"}, {len(c.Fresh), "new finding"}, {len(c.Gone), "gone finding"}, {len(c.Lapsed), "lapsed concession"}} {
		if part.n > 0 {
			out += ", " + plural(part.n, part.what)
		}
	}
	if len(c.Hinges)+len(c.Gaps)+len(c.Fresh)+len(c.Gone)+len(c.Changed) == 0 {
		out += ", nothing changed"
	}
	return out
}

func (c Comparison) hingeLines(s speech) []string {
	var out []string
	for _, h := range c.Hinges {
		switch {
		case h.New == nil:
			out = append(out, h.Name+" is gone")
		case h.Old == nil:
			out = append(out, fmt.Sprintf("%s is new: %s deg, inside radius %s, at %s", h.Name, short(float64(h.New.Angle), 2), s.length(float64(h.New.Radius)), s.stretch(h.New.Line)))
		default:
			out = append(out, h.Name+": "+h.words(s))
		}
	}
	return out
}

// words says what is other about a hinge.
func (h hingeChange) words(s speech) string {
	var parts []string
	if h.Old.lineMoved(h.New) {
		parts = append(parts, fmt.Sprintf("line from %s to %s", s.stretch(h.Old.Line), s.stretch(h.New.Line)))
	}
	if differ(h.Old.Angle, h.New.Angle, sameLength) {
		parts = append(parts, fmt.Sprintf("angle from %s to %s deg", short(float64(h.Old.Angle), 2), short(float64(h.New.Angle), 2)))
	}
	for _, part := range []struct {
		what     string
		old, new num
	}{{"inside radius", h.Old.Radius, h.New.Radius}, {"width", h.Old.Width, h.New.Width}} {
		if differ(part.old, part.new, sameLength) {
			old, now := s.pair(float64(part.old), float64(part.new), "mm")
			parts = append(parts, fmt.Sprintf("%s from %s to %s", part.what, old, now))
		}
	}
	return strings.Join(parts, "; ")
}

// stretch writes a hinge line.
func (s speech) stretch(l [2][2]num) string {
	return s.point(float64(l[0][0]), float64(l[0][1])) + " - " + s.point(float64(l[1][0]), float64(l[1][1]))
}

func (c Comparison) gapLines(s speech) []string {
	var out []string
	several := false
	for _, g := range c.Gaps {
		several = several || g.Posture != fold.FoldedPosture
	}
	for _, g := range c.Gaps {
		line := fmt.Sprintf("%s %s - %s: ", g.Kind, g.Between[0], g.Between[1])
		switch {
		case g.New == nil:
			line += s.length(float64(*g.Old)) + " before, not listed now"
		case g.Old == nil:
			line += s.length(float64(*g.New)) + " now, not listed before"
		default:
			old, now := s.pair(float64(*g.Old), float64(*g.New), "mm")
			line += "from " + old + " to " + now
		}
		if g.Seat != nil {
			line += ", at seat " + *g.Seat
		}
		if g.Moving {
			line += ", on the way"
		}
		if several {
			line += ", posture " + g.Posture
		}
		out = append(out, line)
	}
	return out
}

func findingLines(list []findingJSON) []string {
	var out []string
	for i := range list {
		out = append(out, list[i].words())
	}
	return out
}

// words says what a finding is.
func (f *findingJSON) words() string {
	out := f.Severity + " " + f.Rule
	if f.Concession != nil {
		out += " (accepted by concession)"
	}
	if f.Posture != "" && f.Posture != fold.FoldedPosture {
		out += ", posture " + f.Posture
	}
	return out + ": " + f.Message
}

func (c Comparison) changedLines(s speech) []string {
	var out []string
	for _, f := range c.Changed {
		line := f.New.words()
		switch {
		case f.Old.Concession != nil && f.New.Concession == nil:
			line += "; it was accepted by concession before"
		case f.Old.Concession == nil && f.New.Concession != nil:
			line += "; it was not accepted before"
		case f.Old.Severity != f.New.Severity:
			line += "; it was of severity " + f.Old.Severity + " before"
		}
		if f.Old.Value != nil && f.New.Value != nil && differ(*f.Old.Value, *f.New.Value, sameGap) {
			old, now := s.pair(float64(*f.Old.Value), float64(*f.New.Value), f.New.Unit)
			line += fmt.Sprintf("; from %s to %s%s", old, now, s.word(f.New.Unit))
		}
		out = append(out, line)
	}
	return out
}
