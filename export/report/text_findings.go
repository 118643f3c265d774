package report

import (
	"fmt"
	"slices"
	"strings"

	"foldfit/fold"
	"foldfit/fold/finding"
)

// findings writes every finding: what, where, how much, the way out, the source; then those that a concession accepts.
func (p *page) findings(r Run) {
	counted := r.counted()
	if len(counted) == 0 {
		p.list("Findings", []string{"none"})
	} else {
		p.section("Findings: " + tally(counted))
	}
	if r.namesPoints() {
		p.wrap(p.pointsNote(), 2, 2)
	}
	for _, f := range counted {
		p.wrap(p.paint(severityColour(f.Severity), f.Severity.String())+" "+f.Rule+": "+f.Message, 2, 4)
		if where := p.where(f, r.several()); where != "" {
			p.wrap("where: "+where, 4, 6)
		}
		if f.Hint != "" {
			p.wrap("way out: "+f.Hint, 4, 6)
		}
		if f.Source != "" {
			p.wrap("source: "+f.Source, 4, 6)
		}
	}
	p.accepted(r)
}

// pointsNote says in which frame the points of the messages are.
func (s speech) pointsNote() string {
	return "Points (x, y, z) are in the housing's frame, in " + s.unit() + "; flat positions are those of the flat board, in the design's units."
}

// namesPoints reports whether a message names a point of the folded board.
func (r Run) namesPoints() bool {
	return slices.ContainsFunc(r.Findings, func(f finding.Finding) bool { return f.Rule == "contact" || f.Rule == "clearance" })
}

// accepted writes the findings that a concession accepts.
func (p *page) accepted(r Run) {
	if len(r.counted()) == len(r.Findings) {
		return
	}
	p.section("Accepted by concession")
	for _, f := range r.Findings {
		if f.Accepted == nil {
			continue
		}
		p.wrap(f.Rule+": "+f.Message, 2, 4)
		p.wrap(p.concededWords(f), 4, 6)
		if where := p.where(f, r.several()); where != "" {
			p.wrap("where: "+where, 4, 6)
		}
	}
}

// concededWords says who accepts a finding, why, and down to which value; "" where nobody does.
func (s speech) concededWords(f finding.Finding) string {
	a := f.Accepted
	if a == nil {
		return ""
	}
	out := "accepted by concession (by " + a.By + ": " + a.Because + ")"
	if a.DownTo == nil {
		return out + ", without a bound"
	}
	way := ", down to "
	if f.Value != nil && f.Limit != nil && *f.Value > *f.Limit {
		way = ", up to "
	}
	bound := short(*a.DownTo, 3)
	if f.Unit == "mm" {
		bound = s.thickness(*a.DownTo)
	}
	if !strings.Contains(bound, ".") {
		bound += ".0"
	}
	return out + way + bound + s.word(f.Unit)
}

// where says where a finding is and how much was measured against which limit. The posture is named where there are
// several, and where it is not the folded one.
func (s speech) where(f finding.Finding, several bool) string {
	var parts []string
	if f.Place.Line > 0 {
		parts = append(parts, fmt.Sprintf("%s:%d", f.Place.File, f.Place.Line))
	}
	if len(f.On) > 0 {
		parts = append(parts, listed(f.On, 6))
	}
	if f.At != nil {
		parts = append(parts, "flat position "+s.point(f.At[0], f.At[1]))
	}
	if f.Posture != "" && (several || f.Posture != fold.FoldedPosture) {
		parts = append(parts, "posture "+f.Posture)
	}
	switch {
	case f.Value != nil && f.Limit != nil:
		v, l := s.pair(*f.Value, *f.Limit, f.Unit)
		parts = append(parts, "value "+v+s.word(f.Unit)+", limit "+l+s.word(f.Unit)+", margin "+s.margin(f))
	case f.Value != nil:
		v, _ := s.pair(*f.Value, *f.Value, f.Unit)
		parts = append(parts, "value "+v+s.word(f.Unit))
	}
	return strings.Join(parts, "; ")
}

// tally counts findings by severity, worst first.
func tally(list []finding.Finding) string {
	var parts []string
	for s := finding.Error; s >= finding.Advice; s-- {
		n := 0
		for _, f := range list {
			if f.Severity == s {
				n++
			}
		}
		switch {
		case n == 0:
		case s == finding.Advice:
			parts = append(parts, fmt.Sprintf("%d advice", n))
		case s == finding.Query && n > 1:
			parts = append(parts, fmt.Sprintf("%d queries", n))
		default:
			parts = append(parts, plural(n, s.String()))
		}
	}
	return strings.Join(parts, ", ")
}
