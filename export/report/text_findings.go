package report

import (
	"fmt"
	"strings"

	"foldfit/fold/finding"
)

// findings writes every finding: what, where, how much, the way out, the source.
func (p *page) findings(r Run) {
	if len(r.Findings) == 0 {
		p.list("Findings", []string{"none"})
		return
	}
	p.section("Findings: " + tally(r.Findings))
	for _, f := range r.Findings {
		p.wrap(p.paint(severityColour(f.Severity), f.Severity.String())+" "+f.Rule+": "+f.Message, 2, 4)
		if where := p.where(f); where != "" {
			p.wrap("where: "+where, 4, 6)
		}
		if f.Hint != "" {
			p.wrap("way out: "+f.Hint, 4, 6)
		}
		if f.Source != "" {
			p.wrap("source: "+f.Source, 4, 6)
		}
	}
}

// where says where a finding is and how much was measured against which limit.
func (s speech) where(f finding.Finding) string {
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
	switch {
	case f.Value != nil && f.Limit != nil:
		v, l := s.pair(*f.Value, *f.Limit, f.Unit)
		parts = append(parts, "value "+v+s.word(f.Unit)+", limit "+l+s.word(f.Unit))
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
