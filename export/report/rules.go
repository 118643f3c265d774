package report

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"foldfit/fold/rule"
)

// Rules writes the list of rules, one a line with its usual severity, then that of the figures which are no rules.
func Rules(w io.Writer, list []rule.Rule, figures []rule.Figure, o TextOptions) error {
	p := newPage(w, speech{}, o)
	for _, r := range list {
		severity := r.Severity.String()
		fmt.Fprintf(p.out, "%s%s %-*s %s\n", p.paint(severityColour(r.Severity), severity), strings.Repeat(" ", len("warning")-len(severity)),
			longest(list), r.ID, r.Title)
	}
	p.section("Figures that are no rules")
	for _, f := range figures {
		fmt.Fprintf(p.out, "  %-*s %s\n", longest(list)+len("warning")-1, f.ID, f.Title)
	}
	return p.out.Flush()
}

// longest returns the length of the longest rule's name.
func longest(list []rule.Rule) int {
	n := 0
	for _, r := range list {
		n = max(n, len(r.ID))
	}
	return n
}

// Rule writes all that is to be said about one rule.
func Rule(w io.Writer, r rule.Rule, o TextOptions) error {
	p := newPage(w, speech{}, o)
	p.wrap(p.paint(severityColour(r.Severity), r.Severity.String())+" "+r.ID+": "+r.Title, 0, 2)
	p.item("why: " + r.Why)
	for _, line := range asked(r) {
		p.item(line)
	}
	p.item("source: " + r.Source)
	p.method(r.How)
	if slices.Contains(rule.LimitKeys(), r.ID) {
		profile := ""
		if len(asked(r)) > 1 {
			profile = "limits: {profile: strict} or "
		}
		p.item("to change the limit: " + profile + "limits: {" + r.ID + ": NUMBER} in the design, or --limits FILE")
	}
	p.item("to accept a deviation: " + acceptance(r))
	return p.out.Flush()
}

// Figure writes all that is to be said about a figure that is no rule.
func Figure(w io.Writer, f rule.Figure, o TextOptions) error {
	p := newPage(w, speech{}, o)
	p.wrap(f.ID+": "+f.Title, 0, 2)
	p.method(f.How)
	return p.out.Flush()
}

// method writes how a figure comes about.
func (p *page) method(m rule.Method) {
	p.item("how the figure comes about: " + m.Formula)
	p.item("from: " + m.Inputs)
	p.item("after: " + m.Source)
	p.item("trust: " + m.Trust)
}

// asked says how much a rule asks, once for all profiles where they agree.
func asked(r rule.Rule) []string {
	var out []string
	for _, profile := range rule.Profiles() {
		out = append(out, "profile "+profile.Name+": "+r.Limit(profile))
	}
	if first := r.Limit(rule.Profiles()[0]); !slices.ContainsFunc(rule.Profiles(), func(p rule.Profile) bool { return r.Limit(p) != first }) {
		return []string{"asks for: " + first}
	}
	return out
}

// acceptance says how a deviation from a rule is conceded.
func acceptance(r rule.Rule) string {
	switch {
	case slices.Contains(rule.NotConceded(), r.ID):
		return "not possible, the board has no shape then"
	case strings.HasPrefix(r.ID, "concession-"), r.ID == "clearance-unused":
		return "mend what it names"
	}
	return "concessions: [{rule: " + r.ID + ", on: [NAME], down-to: VALUE, because: WHY, by: WHO}]"
}

// RuleTable writes the list of rules as a table in Markdown, for documents.
func RuleTable(w io.Writer, list []rule.Rule) error {
	out := bufio.NewWriter(w)
	fmt.Fprint(out, "| rule | severity | asks that | limit | source |\n| --- | --- | --- | --- | --- |\n")
	for _, r := range list {
		limit := strings.TrimPrefix(strings.Join(asked(r), ". "), "asks for: ")
		fmt.Fprintf(out, "| `%s` | %s | %s | %s | %s |\n", r.ID, r.Severity, r.Title, limit, r.Source)
	}
	return out.Flush()
}
