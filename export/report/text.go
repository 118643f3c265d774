package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"
)

// TextOptions says how a text report looks.
type TextOptions struct {
	Colour bool // mark verdict and severities with terminal colours; the words stay the same
	Width  int  // columns to wrap at; 0 means 100, less than 40 counts as 40
}

// page collects the lines of a text report.
type page struct {
	speech
	out    *bufio.Writer
	colour bool
	width  int
}

func newPage(w io.Writer, s speech, o TextOptions) *page {
	if o.Width == 0 {
		o.Width = 100
	}
	return &page{s, bufio.NewWriter(w), o.Colour, max(o.Width, 40)}
}

// Text writes the results of a check for people, in the design's units: the verdict and why, what was not checked, the
// findings worst first, those accepted by concession, the bend schedule and the other postures in words, gaps, loops, notes, and the cautions last.
func Text(w io.Writer, r Run, o TextOptions) error {
	p := newPage(w, speech{r.Tree.Design.Units}, o)
	p.head(r)
	p.unchecked(r)
	p.findings(r)
	p.schedule(r)
	p.list("Postures", r.postureWords(p.speech))
	p.gaps(r)
	p.list("Motion", r.motionWords(p.speech))
	p.list("What the gaps lose when hinges are off", r.worthWords(p.speech))
	p.list("Targets", r.targetWords(p.speech))
	p.loops(r)
	p.list("Notes", r.Notes)
	p.list("Cautions", Cautions())
	return p.out.Flush()
}

// head writes the verdict with its reason, and the design's title.
func (p *page) head(r Run) {
	p.wrap(p.paint(verdictColour(r.Verdict()), strings.ToUpper(string(r.Verdict())))+": "+r.Reason(), 0, 2)
	title := r.Tree.Design.Name
	if about := r.about(); about != "" {
		title += ", " + about
	}
	p.wrap(title, 0, 2)
}

// unchecked says what the verdict does not stand for.
func (p *page) unchecked(r Run) {
	p.section("Not checked")
	for _, s := range r.allUnchecked() {
		p.item(s)
	}
}

// list writes a section of sentences; nothing without any.
func (p *page) list(title string, items []string) {
	if len(items) == 0 {
		return
	}
	p.section(title)
	for _, s := range items {
		p.item(s)
	}
}

// section starts a section.
func (p *page) section(title string) { fmt.Fprintf(p.out, "\n%s\n", p.paint(bold, title)) }

// item writes one entry of a section.
func (p *page) item(s string) { p.wrap(s, 2, 4) }

// wrap writes s in lines of at most the page's width, the first indented by first blanks, the others by rest.
func (p *page) wrap(s string, first, rest int) {
	indent, col := first, 0
	for _, word := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '\n' }) {
		word = strings.ReplaceAll(word, tie, " ")
		n := visible(word)
		switch {
		case col == 0:
			fmt.Fprintf(p.out, "%s%s", strings.Repeat(" ", indent), word)
			col = indent + n
		case col+1+n > p.width:
			indent = rest
			fmt.Fprintf(p.out, "\n%s%s", strings.Repeat(" ", indent), word)
			col = indent + n
		default:
			fmt.Fprintf(p.out, " %s", word)
			col += 1 + n
		}
	}
	fmt.Fprintln(p.out)
}
