package report

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"foldfit/fold/finding"
)

// CompareFormat names the form of the JSON of a comparison.
const CompareFormat = "foldfit-compare/1"

// Comparison is what changed from one check to a later one. Lengths mm, angles degrees.
type Comparison struct {
	Format  string           `json:"format"`
	Foldfit string           `json:"foldfit"` // version
	Old     Checked          `json:"old"`
	New     Checked          `json:"new"`
	Hinges  []hingeChange    `json:"hinges"` // moved, new and gone ones
	Gaps    []gapChange      `json:"gaps"`
	Fresh   []findingJSON    `json:"new_findings"`
	Gone    []findingJSON    `json:"gone_findings"`
	Changed []changedFinding `json:"changed_findings"`
	Lapsed  []findingJSON    `json:"lapsed"` // concessions that held before and do not now; among the new findings as well
}

// Checked is one side of a comparison: a check as its JSON tells it.
type Checked struct {
	File     string        `json:"file"` // as the caller names it
	Design   string        `json:"design"`
	Verdict  Verdict       `json:"verdict"`
	Hinges   []hingeJSON   `json:"-"`
	Gaps     []gapJSON     `json:"-"`
	Findings []findingJSON `json:"-"`
}

type hingeShape struct {
	Line   [2][2]num `json:"line"`
	Angle  num       `json:"angle"`
	Radius num       `json:"radius"`
	Width  num       `json:"width"`
}

// hingeChange is a hinge before and after; nil where there is none of that name.
type hingeChange struct {
	Name string      `json:"name"`
	Old  *hingeShape `json:"old"`
	New  *hingeShape `json:"new"`
}

// gapChange is the gap of a pair before and after; nil where it is not among those that a check lists.
type gapChange struct {
	Between [2]string `json:"between"`
	Kind    string    `json:"kind"`
	Posture string    `json:"posture"`
	Seat    *string   `json:"seat"`
	Moving  bool      `json:"moving"` // on the way there, not at its end
	Old     *num      `json:"old"`
	New     *num      `json:"new"`
}

// changedFinding is a finding that is there before and after with another severity or value, or with a concession on one
// side only.
type changedFinding struct {
	Old findingJSON `json:"old"`
	New findingJSON `json:"new"`
}

// ReadCheck reads the JSON of a check; ok is false when src is not one at all.
func ReadCheck(file string, src []byte) (c Checked, ok bool, err error) {
	var head struct {
		Format string `json:"format"`
	}
	if json.Unmarshal(src, &head) != nil || !strings.HasPrefix(head.Format, "foldfit-check/") {
		return c, false, nil
	}
	if head.Format != Format {
		return c, true, fmt.Errorf("%s is in the format %s; %s is what can be read", file, head.Format, Format)
	}
	var doc struct {
		Design   string        `json:"design"`
		Verdict  Verdict       `json:"verdict"`
		Hinges   []hingeJSON   `json:"hinges"`
		Gaps     []gapJSON     `json:"gaps"`
		Findings []findingJSON `json:"findings"`
	}
	if err := json.Unmarshal(src, &doc); err != nil {
		return c, true, fmt.Errorf("%s is not a whole result of a check: %w", file, err)
	}
	if doc.Verdict != Pass && doc.Verdict != Fail && doc.Verdict != Incomplete {
		return c, true, fmt.Errorf("%s is not a whole result of a check: it has the verdict %q", file, doc.Verdict)
	}
	return Checked{file, doc.Design, doc.Verdict, doc.Hinges, doc.Gaps, doc.Findings}, true, nil
}

// Compare returns what changed from old to new.
func Compare(old, new Checked, version string) Comparison {
	c := Comparison{Format: CompareFormat, Foldfit: version, Old: old, New: new,
		Hinges: compareHinges(old.Hinges, new.Hinges), Gaps: compareGaps(old.Gaps, new.Gaps),
		Fresh: []findingJSON{}, Gone: []findingJSON{}, Changed: []changedFinding{}, Lapsed: []findingJSON{}}
	c.findings(old.Findings, new.Findings)
	for _, f := range c.Fresh {
		if f.Rule == "concession-lapsed" {
			c.Lapsed = append(c.Lapsed, f)
		}
	}
	return c
}

// Worse returns how many findings of at least this severity the new side has that the old one had not, or not as grave, or
// conceded.
func (c Comparison) Worse(least finding.Severity) int {
	n := 0
	for _, f := range c.Fresh {
		if f.weight() >= int(least) {
			n++
		}
	}
	for _, f := range c.Changed {
		if f.New.weight() >= int(least) && f.New.weight() > f.Old.weight() {
			n++
		}
	}
	return n
}

// weight returns the severity as a number, -1 for a finding that a concession accepts.
func (f *findingJSON) weight() int {
	if f.Concession != nil {
		return -1
	}
	for s := finding.Error; s > finding.Advice; s-- {
		if f.Severity == s.String() {
			return int(s)
		}
	}
	return int(finding.Advice)
}

// sameLength is the difference in mm (or degrees) up to which hinges have not moved.
const sameLength = 1e-6

func compareHinges(old, new []hingeJSON) []hingeChange {
	out := []hingeChange{}
	for i := range old {
		c := hingeChange{Name: old[i].Name, Old: shapeOf(&old[i])}
		if k := slices.IndexFunc(new, func(h hingeJSON) bool { return h.Name == c.Name }); k >= 0 {
			c.New = shapeOf(&new[k])
		}
		if c.New == nil || c.Old.moved(c.New) {
			out = append(out, c)
		}
	}
	for i := range new {
		if !slices.ContainsFunc(old, func(h hingeJSON) bool { return h.Name == new[i].Name }) {
			out = append(out, hingeChange{Name: new[i].Name, New: shapeOf(&new[i])})
		}
	}
	return out
}

func shapeOf(h *hingeJSON) *hingeShape { return &hingeShape{h.Line, h.Angle, h.Radius, h.Width} }

// moved reports whether a hinge is another than before.
func (h *hingeShape) moved(other *hingeShape) bool {
	return h.lineMoved(other) || differ(h.Angle, other.Angle, sameLength) || differ(h.Radius, other.Radius, sameLength) || differ(h.Width, other.Width, sameLength)
}

func (h *hingeShape) lineMoved(other *hingeShape) bool {
	for i := range 2 {
		if differ(h.Line[i][0], other.Line[i][0], sameLength) || differ(h.Line[i][1], other.Line[i][1], sameLength) {
			return true
		}
	}
	return false
}

func differ(a, b num, by float64) bool { return math.Abs(float64(a-b)) > by }

// sameGap is the difference in mm up to which a gap, or the value of a finding, has not changed.
const sameGap = 0.005

func compareGaps(old, new []gapJSON) []gapChange {
	out := []gapChange{}
	find := func(list []gapJSON, g *gapJSON) *num {
		for i := range list {
			if list[i].Between == g.Between && list[i].Posture == g.Posture && same(list[i].Seat, g.Seat) && list[i].Judged && (list[i].Step == nil) == (g.Step == nil) {
				return &list[i].Gap
			}
		}
		return nil
	}
	for i := range old {
		g := &old[i]
		if now := find(new, g); g.Judged && (now == nil || differ(g.Gap, *now, sameGap)) {
			out = append(out, gapChange{g.Between, g.Kind, g.Posture, g.Seat, g.Step != nil, &g.Gap, now})
		}
	}
	for i := range new {
		if g := &new[i]; g.Judged && find(old, g) == nil {
			out = append(out, gapChange{g.Between, g.Kind, g.Posture, g.Seat, g.Step != nil, nil, &g.Gap})
		}
	}
	return out
}

func same(a, b *string) bool { return a == b || a != nil && b != nil && *a == *b }

// findings matches findings by rule, names and posture; of several alike those nearest to each other.
func (c *Comparison) findings(old, new []findingJSON) {
	left := slices.Clone(old)
	for _, f := range new {
		best := -1
		for i := range left {
			if f.alike(&left[i]) && (best < 0 || f.apart(&left[i]) < f.apart(&left[best])) {
				best = i
			}
		}
		if best < 0 {
			c.Fresh = append(c.Fresh, f)
			continue
		}
		if was := left[best]; f.changed(&was) {
			c.Changed = append(c.Changed, changedFinding{was, f})
		}
		left = slices.Delete(left, best, best+1)
	}
	c.Gone = append(c.Gone, left...)
}

// alike reports whether two findings speak of the same thing.
func (f *findingJSON) alike(o *findingJSON) bool {
	return f.Rule == o.Rule && f.Posture == o.Posture && slices.Equal(slices.Sorted(slices.Values(f.On)), slices.Sorted(slices.Values(o.On)))
}

// apart returns the distance in mm between the places of two findings, 0 where one has none.
func (f *findingJSON) apart(o *findingJSON) float64 {
	if f.At == nil || o.At == nil {
		return 0
	}
	return math.Hypot(float64(f.At[0]-o.At[0]), float64(f.At[1]-o.At[1]))
}

// changed reports whether a finding has another weight or value than before.
func (f *findingJSON) changed(o *findingJSON) bool {
	switch {
	case cmp.Compare(f.weight(), o.weight()) != 0:
		return true
	case f.Value == nil || o.Value == nil:
		return f.Value != o.Value
	}
	return differ(*f.Value, *o.Value, sameGap)
}
