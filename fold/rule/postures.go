package rule

import (
	"math"
	"slices"

	"foldfit/fold/finding"
)

// CheckPostures applies every rule to a board in each of several postures and returns the findings, worst first. What does
// not depend on the posture is reported once, and where a rule judges the tightest posture only that one is. All boards
// are of one tree; there is at least one.
func CheckPostures(boards []Board) []finding.Finding {
	var out []finding.Finding
	boards = withShapes(boards)
	for _, r := range All() {
		var found []finding.Finding
		for i, b := range boards {
			for _, one := range r.Check(b) {
				if i > 0 && one.Posture == "" {
					continue
				}
				one.Rule = r.ID
				if one.Source == "" {
					one.Source = r.Source
				}
				found = append(found, one)
			}
		}
		if r.Tightest {
			found = worstOfEach(found)
		}
		out = append(out, found...)
	}
	finding.Sort(out)
	return out
}

// worstOfEach returns for each set of names the gravest finding, of equal ones that which misses its limit by most, of
// these the first.
func worstOfEach(list []finding.Finding) []finding.Finding {
	var out []finding.Finding
	for _, f := range list {
		i := slices.IndexFunc(out, func(o finding.Finding) bool { return slices.Equal(o.On, f.On) })
		switch {
		case i < 0:
			out = append(out, f)
		case f.Severity > out[i].Severity, f.Severity == out[i].Severity && missed(f)-missed(out[i]) > slack*missed(f):
			out[i] = f
		}
	}
	return out
}

// missed returns by how much a finding misses its limit.
func missed(f finding.Finding) float64 { return math.Abs(*f.Value - *f.Limit) }
