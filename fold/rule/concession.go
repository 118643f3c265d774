package rule

import (
	"fmt"
	"math"
	"path"
	"slices"
	"strings"

	"foldfit/fold"
	"foldfit/fold/finding"
)

// NotConceded are the rules that no concession can set aside: the board has no shape there.
func NotConceded() []string { return []string{"bend-overlap"} }

// Concede marks the findings that the design's concessions accept and adds what is to be said about the concessions
// themselves: lapsed (the value is worse than the bound), unused, without a bound. The findings come back sorted.
func Concede(d *fold.Design, list []finding.Finding) []finding.Finding {
	out := slices.Clone(list)
	for i := range d.Concessions {
		c := &d.Concessions[i]
		used, lapsed := 0, []finding.Finding{}
		for k := range out {
			f := &out[k]
			if f.Rule != c.Rule || f.Accepted != nil || !covers(c.On, f.On) {
				continue
			}
			used++
			if slices.Contains(NotConceded(), f.Rule) || !within(f, c.DownTo) {
				lapsed = append(lapsed, *f)
				continue
			}
			f.Accepted = &finding.Accepted{DownTo: c.DownTo, Because: c.Because, By: c.By}
		}
		out = append(out, aboutConcession(c, used, lapsed)...)
	}
	finding.Sort(out)
	return out
}

// covers reports whether one of the written names matches one of a finding's names; no written name covers all.
func covers(written, names []string) bool {
	if len(written) == 0 {
		return true
	}
	for _, w := range written {
		for _, n := range names {
			if NameMatches(w, n) {
				return true
			}
		}
	}
	return false
}

// NameMatches reports whether a written name, bare or prefixed, with * for anything, stands for a prefixed one.
func NameMatches(written, full string) bool {
	if !strings.Contains(written, ":") {
		_, full, _ = strings.Cut(full, ":")
	}
	ok, err := path.Match(written, full)
	return ok && err == nil
}

// within reports whether a finding's value is no worse than the bound: on the side of the bound where its limit lies.
func within(f *finding.Finding, bound *float64) bool {
	if bound == nil || f.Value == nil || f.Limit == nil {
		return bound == nil
	}
	if *f.Value < *f.Limit {
		return !under(*f.Value, *bound)
	}
	return !over(*f.Value, *bound)
}

// aboutConcession returns the findings about one concession.
func aboutConcession(c *fold.Concession, used int, lapsed []finding.Finding) []finding.Finding {
	about := finding.Finding{Severity: finding.Warning, On: []string{"concession:" + c.Rule}, Place: c.Place, Source: "the design's own concession"}
	on := strings.Join(c.On, ", ")
	var out []finding.Finding
	for _, f := range lapsed {
		one := about
		one.Rule, one.Posture, one.Value, one.Limit, one.Unit = "concession-lapsed", f.Posture, f.Value, c.DownTo, f.Unit
		one.Message = fmt.Sprintf("the concession on %s for %s has lapsed: accepted down to %s, now %s", c.Rule, on, number(c.DownTo), number(f.Value))
		if c.DownTo == nil {
			one.Message = fmt.Sprintf("no concession can set %s aside", c.Rule)
		}
		one.Hint = "bring the value back, or agree on a new bound"
		out = append(out, one)
	}
	if used == 0 {
		one := about
		one.Rule = "concession-unused"
		one.Message = fmt.Sprintf("the concession on %s for %s matches no finding", c.Rule, on)
		one.Hint = "remove it, or correct its rule and names"
		out = append(out, one)
	}
	if c.DownTo == nil {
		one := about
		one.Rule = "concession-unbounded"
		one.Message = fmt.Sprintf("the concession on %s for %s has no bound: it would accept anything", c.Rule, on)
		one.Hint = "add `down-to` with the worst value that was agreed on"
		out = append(out, one)
	}
	return out
}

// number prints a value for messages.
func number(v *float64) string {
	if v == nil {
		return "any value"
	}
	return fmt.Sprintf("%g", math.Round(*v*1000)/1000)
}
