package rule

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"foldfit/fold"
	"foldfit/fold/finding"
)

// NotConceded are the rules that no concession can set aside: the board has no shape there.
func NotConceded() []string { return []string{"bend-overlap"} }

// Concede marks the findings that the design's concessions accept and adds what is to be said about the concessions
// themselves: lapsed (the value is worse than the bound), unused, without a bound. The list must hold the findings of all
// postures and of all checks, since a concession that meets none of them counts as unused. They come back sorted.
func Concede(d *fold.Design, list []finding.Finding) []finding.Finding {
	out := slices.Clone(list)
	var about []finding.Finding
	for i := range d.Concessions {
		about = append(about, Lengths{d.Units}.apply(&d.Concessions[i], out)...)
	}
	out = append(out, about...)
	finding.Sort(out)
	return out
}

// apply marks the findings that one concession accepts and returns what is to be said about it.
func (l Lengths) apply(c *fold.Concession, list []finding.Finding) []finding.Finding {
	var lapsed []finding.Finding
	var worst *finding.Finding // of the accepted
	for k := range list {
		f := &list[k]
		switch {
		case f.Rule != c.Rule || f.Accepted != nil || !covers(c.On, f.On):
		case slices.Contains(NotConceded(), f.Rule) || !within(f, c.DownTo):
			lapsed = append(lapsed, *f)
		default:
			f.Accepted = &finding.Accepted{DownTo: c.DownTo, Because: c.Because, By: c.By}
			if worst == nil || f.Value != nil && worst.Value != nil && missed(*f) > missed(*worst) {
				worst = f
			}
		}
	}
	return l.aboutConcession(c, worst, lapsed)
}

// covers reports whether written names mean a finding with these names: none means every finding, otherwise one of them
// must match. Two bodies too near to each other (or two plates) must both be named where more than one name is written, so
// that a pair is written as a pair.
func covers(written, names []string) bool {
	if len(written) == 0 {
		return true
	}
	named := 0
	hinge := false
	for _, n := range names {
		if slices.ContainsFunc(written, func(w string) bool { return fold.NameMatches(w, n) }) {
			named++
		}
		hinge = hinge || strings.HasPrefix(n, "hinge:")
	}
	if len(written) > 1 && len(names) == 2 && !hinge {
		return named == 2
	}
	return named > 0
}

// within reports whether a finding's value is no worse than the bound: on the side of the bound where its limit lies. No
// bound lets anything pass; a finding without numbers has nothing to hold against a bound.
func within(f *finding.Finding, bound *float64) bool {
	switch {
	case bound == nil:
		return true
	case f.Value == nil || f.Limit == nil:
		return false
	case *f.Value < *f.Limit:
		return !under(*f.Value, *bound)
	}
	return !over(*f.Value, *bound)
}

// aboutConcession returns the findings about one concession: worst is the finding it accepts that misses its limit by most,
// nil for none.
func (l Lengths) aboutConcession(c *fold.Concession, worst *finding.Finding, lapsed []finding.Finding) []finding.Finding {
	about := finding.Finding{Severity: finding.Warning, On: []string{"concession:" + c.Rule}, Place: c.Place, Source: "the design's own concession"}
	what := "the concession on " + c.Rule
	if len(c.On) > 0 {
		what += " for " + strings.Join(c.On, ", ")
	}
	var out []finding.Finding
	for i := range lapsed {
		out = append(out, l.lapse(about, what, c, &lapsed[i]))
	}
	if worst == nil && len(lapsed) == 0 {
		one := about
		one.Rule = "concession-unused"
		one.Message = what + " matches no finding"
		one.Hint = "remove it, or correct its rule and names"
		out = append(out, one)
	}
	if c.DownTo == nil && worst != nil {
		one := about
		one.Rule = "concession-unbounded"
		one.Message = what + " has no bound: it would accept anything"
		one.Hint = "add `down-to` with the worst value that was agreed on"
		if worst.Value != nil {
			one.Hint += "; now it is " + l.quantity(*worst.Value, worst.Unit, accepting(worst))
		}
		out = append(out, one)
	}
	return out
}

// lapse returns the finding that a concession does not cover what it was written for.
func (l Lengths) lapse(about finding.Finding, what string, c *fold.Concession, f *finding.Finding) finding.Finding {
	about.Rule, about.Posture, about.Value, about.Limit, about.Unit = "concession-lapsed", f.Posture, f.Value, c.DownTo, f.Unit
	switch {
	case slices.Contains(NotConceded(), f.Rule):
		about.Value, about.Limit, about.Unit = nil, nil, ""
		about.Message = fmt.Sprintf("no concession can set %s aside: the board has no shape to concede", f.Rule)
		about.Hint = "follow the way out of the finding itself, and remove the concession"
	case f.Value == nil || f.Limit == nil:
		about.Message = what + " has a bound, but the finding has no value to hold against it"
		about.Hint = "remove down-to from the concession, or the concession"
	default:
		about.Message = fmt.Sprintf("%s has lapsed: accepted %s %s, now %s", what, worse(f), l.quantity(*c.DownTo, f.Unit, math.Round), l.quantity(*f.Value, f.Unit, math.Round))
		about.Hint = "bring the value back, or agree on a new bound with whoever conceded it"
	}
	return about
}

// accepting returns the way to round a finding's value so that it accepts the finding as a bound.
func accepting(f *finding.Finding) func(float64) float64 {
	if f.Limit != nil && *f.Value < *f.Limit {
		return floor
	}
	return ceil
}

// worse says in which direction a finding's values get worse.
func worse(f *finding.Finding) string {
	if *f.Value < *f.Limit {
		return "down to"
	}
	return "up to"
}
