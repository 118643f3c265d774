package finding

import (
	"cmp"
	"math"
	"slices"
)

// Severity ranks a finding. The zero value is Advice.
type Severity int

// Severities in rising order. Error is only for what cannot be built or does not fit.
const (
	Advice Severity = iota
	Query           // a question for the fabricator
	Warning
	Error
)

// String returns the word used in reports.
func (s Severity) String() string {
	return [...]string{"advice", "query", "warning", "error"}[s]
}

// Place is a position in an input file. The zero value means nowhere; columns count characters from 1.
type Place struct {
	File         string
	Line, Column int
}

// Finding is one rule broken or nearly so.
type Finding struct {
	Rule     string
	Severity Severity
	On       []string    // prefixed names: "hinge:neck", "component:U1"
	Posture  string      // "folded", a posture's name, or "" for flat rules
	At       *[2]float64 // flat position in mm, nil where it has none
	Place    Place       // where the design file speaks of it
	Value    *float64    // measured; nil where there is no number
	Limit    *float64    // required
	Unit     string      // "mm", "deg" or "" for a ratio
	Message  string      // what is wrong, with numbers
	Hint     string      // the way out, with the number that would pass
	Source   string      // where the limit comes from and how far to trust it
	Accepted *Accepted   // set where a concession covers it: then it does not count
}

// Accepted says by whom and why a finding is accepted, and down to which value.
type Accepted struct {
	DownTo      *float64 // nil = without bound
	Because, By string
}

// Margin returns by how much the limit is kept, in the finding's unit. A finding has missed it, so that the margin is below
// zero: the amount that is missing. Nil without a value or a limit.
func (f *Finding) Margin() *float64 {
	if f.Value == nil || f.Limit == nil {
		return nil
	}
	return Number(-math.Abs(*f.Value - *f.Limit))
}

// Number returns a pointer to v, for Value and Limit.
func Number(v float64) *float64 { return &v }

// Sort orders findings: worst first, then by rule, place in the file and names, so that every run reports alike.
func Sort(list []Finding) {
	slices.SortStableFunc(list, func(a, b Finding) int {
		return cmp.Or(
			cmp.Compare(b.Severity, a.Severity),
			cmp.Compare(a.Rule, b.Rule),
			cmp.Compare(a.Place.Line, b.Place.Line),
			slices.Compare(a.On, b.On),
			cmp.Compare(a.Posture, b.Posture),
		)
	})
}

// Worst returns the highest severity among the findings that no concession accepts, and whether there is any.
func Worst(list []Finding) (Severity, bool) {
	worst, found := Advice, false
	for _, f := range list {
		if f.Accepted == nil {
			worst, found = max(worst, f.Severity), true
		}
	}
	return worst, found
}

// Problem is one reason why the input cannot be used (exit status 2).
type Problem struct {
	Place Place
	What  string // what is wrong, with numbers
	Hint  string // the way out; may be empty
}

// SortProblems orders problems by their place and drops exact repeats.
func SortProblems(list []Problem) []Problem {
	slices.SortStableFunc(list, func(a, b Problem) int {
		return cmp.Or(
			cmp.Compare(a.Place.File, b.Place.File),
			cmp.Compare(a.Place.Line, b.Place.Line),
			cmp.Compare(a.Place.Column, b.Place.Column),
		)
	})
	return slices.Compact(list)
}

// Unchecked says what a check did not look at, and why.
type Unchecked struct {
	What string   // "height", "enclosure", "copper layers", ...
	On   []string // prefixed names; may be empty
	Why  string
	// Aside: the verdict does not depend on it: it is about how long a bend lives or keeps its shape, or about a way that the
	// design does not describe, not about what it asks for.
	Aside bool
}
