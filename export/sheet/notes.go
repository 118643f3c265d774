package sheet

import (
	"strings"

	"foldfit/export/draw"
	"foldfit/export/report"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

// note is a paragraph under a heading of the notes.
type note struct{ heading, text string }

// notes draws findings, concessions, what was not checked, cautions and inputs. With most above 0 they are cut to that height,
// and the last line says so.
func (p *page) notes(width, most float64) *block {
	b := p.newBlock("notes", "findings and cautions")
	y := 0.0
	last := ""
	list := p.allNotes()
	for i, n := range list {
		lines := p.face.Wrap(n.text, draw.SizeSmall, width-2)
		if n.heading != last {
			y -= 1.5
		}
		if most > 0 && -y+float64(len(lines)+3)*step > most {
			b.write(flat.Pt{Y: y - step}, draw.SizeSmall, left, "No room for "+fixed(float64(len(list)-i), 0)+" more notes: foldfit check lists them all.")
			break
		}
		if n.heading != last {
			y -= draw.SizeNormal
			b.write(flat.Pt{Y: y}, draw.SizeNormal, left, n.heading)
			last = n.heading
		}
		b.write(flat.Pt{X: 2, Y: y - step}, draw.SizeSmall, left, lines...)
		y -= float64(len(lines)) * step
	}
	return b
}

// allNotes returns all that the page says in words, worst first.
func (p *page) allNotes() []note {
	out := p.findings()
	for _, u := range p.run.Unchecked {
		words := u.What
		if len(u.On) > 0 {
			words += " of " + some(u.On)
		}
		out = append(out, note{"Not checked", words + ": " + u.Why})
	}
	if p.solid == nil {
		out = append(out, note{"Notes", "There are no folded views: bend areas overlap, so that the board has no folded shape."})
	} else {
		if m := p.run.Motion; m == nil {
			out = append(out, note{"Not checked", "the way into this shape and into the housing: this page shows and judges end shapes only"})
		} else {
			out = append(out, note{"Notes", "The way into this shape is " + p.run.MotionProof() + ": " + m.Scope + "."})
		}
		out = append(out,
			note{"Notes", "Folded views and sections show the posture " + p.run.Posture + " in nominal sizes, bends as cylinders (flex that is " +
				"formed free in its free shape), in the " + p.frameWords() + "; views are named after where one looks from."})
	}
	for _, n := range p.run.Notes {
		out = append(out, note{"Notes", clean(n)})
	}
	for _, c := range report.Cautions() {
		out = append(out, note{"Cautions", c})
	}
	var inputs []string
	for _, in := range p.inputs {
		inputs = append(inputs, draw.Plain(draw.Cut(in.Name, 40))+" "+in.Hash[:min(16, len(in.Hash))])
	}
	if len(inputs) > 0 {
		out = append(out, note{"Inputs (SHA-256, first 16 digits)", strings.Join(inputs, "; ")})
	}
	return out
}

// mostAlike is how many findings of one rule below a warning are written out; the rest are counted, with their places.
const mostAlike = 2

// findings returns the open findings, then those that concessions accept.
func (p *page) findings() []note {
	var open []finding.Finding
	var out, conceded []note
	for _, f := range p.run.Findings {
		if f.Accepted == nil {
			open = append(open, f)
		} else {
			conceded = append(conceded, note{"Concessions", p.words.conceded(f)})
		}
	}
	if len(open) == 0 {
		out = []note{{"Open findings", "none"}}
	}
	for len(open) > 0 {
		n := 1
		for n < len(open) && open[n].Rule == open[0].Rule && open[n].Severity == open[0].Severity {
			n++
		}
		shown := n
		if open[0].Severity < finding.Warning && n > mostAlike+1 {
			shown = mostAlike
		}
		for _, f := range open[:shown] {
			out = append(out, note{"Open findings", findingWords(f)})
		}
		if shown < n {
			out = append(out, note{"Open findings", p.moreWords(open[shown:n])})
		}
		open = open[n:]
	}
	return append(out, conceded...)
}

// moreWords counts findings of one rule, and says where they are.
func (p *page) moreWords(list []finding.Finding) string {
	var places []string
	for _, f := range list {
		switch {
		case f.At != nil:
			places = append(places, "("+p.words.length(f.At[0])+", "+p.words.length(f.At[1])+")")
		case len(f.On) > 0:
			places = append(places, f.On[0])
		}
	}
	out := fixed(float64(len(list)), 0) + " more like these, " + list[0].Severity.String() + " " + list[0].Rule
	if len(places) > 0 {
		out += ": at " + strings.Join(places, ", ")
	}
	return out
}

// clean returns words fit for printing, as long as they are.
func clean(s string) string {
	list := strings.Fields(s)
	for i, w := range list {
		list[i] = draw.Plain(w)
	}
	return strings.Join(list, " ")
}

// frameWords names the frame of the folded views.
func (p *page) frameWords() string {
	if len(p.run.Tree.Design.Enclosure) > 0 {
		return "housing's frame"
	}
	return "board's frame"
}

// findingWords says a finding in one paragraph: severity, rule, what and the way out.
func findingWords(f finding.Finding) string {
	out := f.Severity.String() + " " + f.Rule + ": " + clean(f.Message)
	if f.Posture != "" && f.Posture != "folded" {
		out += " (posture " + f.Posture + ")"
	}
	if f.Hint != "" {
		out += "; " + clean(f.Hint)
	}
	return out
}

// conceded says a finding that a concession accepts.
func (w words) conceded(f finding.Finding) string {
	out := f.Rule + ": " + clean(f.Message) + "; accepted"
	if f.Accepted.By != "" {
		out += " by " + clean(f.Accepted.By)
	}
	switch bound := f.Accepted.DownTo; {
	case bound == nil:
		out += " without a bound"
	case f.Value != nil && f.Limit != nil && *f.Value > *f.Limit:
		out += " up to " + w.bound(*bound, f.Unit)
	default:
		out += " down to " + w.bound(*bound, f.Unit)
	}
	if f.Accepted.Because != "" {
		out += ": " + clean(f.Accepted.Because)
	}
	return out
}

// bound writes the bound of a concession with its unit.
func (w words) bound(v float64, unit string) string {
	if unit == "mm" {
		return w.thickness(v) + " " + w.unit()
	}
	return strings.TrimSpace(short(v, 3) + " " + unit)
}

// some lists names, the first few of many.
func some(list []string) string {
	const most = 6
	if len(list) <= most {
		return strings.Join(list, ", ")
	}
	return strings.Join(list[:most], ", ") + " and " + fixed(float64(len(list)-most), 0) + " more"
}
