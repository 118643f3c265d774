package rule

import (
	"fmt"

	"foldfit/fold"
)

// Profile is a set of limits: what is asked of a board before a design overrides single values.
type Profile struct {
	Name         string
	Ratio        [3]float64 // inside radius over thickness for one, two, more copper layers
	DynamicRatio float64    // the same for hinges in dynamic use
	InsideCorner float64    // least radius of inside corners of the flex, mm
	Source       string     // of the ratios
}

// Profiles returns the built-in profiles; the first is the default.
func Profiles() []Profile {
	return []Profile{
		{"common", [3]float64{6, 10, 20}, 100, 0.75, "common practice, as commonly quoted from fabricators and guidelines"},
		{"strict", [3]float64{6, 12, 24}, 100, 1.0, "IPC-2223, as commonly quoted (recalled, not read)"},
	}
}

// LimitKeys returns the rules whose limit a design may override with a number of its own.
func LimitKeys() []string { return []string{"bend-ratio", "bend-strain", "inside-corner"} }

// always returns the words of a limit that no profile changes.
func always(words string) func(Profile) string { return func(Profile) string { return words } }

// profileOf returns the profile a design names, the default for none.
func profileOf(l fold.Limits) Profile {
	for _, p := range Profiles() {
		if p.Name == l.Profile {
			return p
		}
	}
	return Profiles()[0]
}

// override returns a limit that takes the place of the profile's for a rule, and whose it is: "limit of our-fab.yaml:3".
func override(d *fold.Design, rule string) (value float64, whose string, ok bool) {
	for _, o := range d.Limits.Overrides {
		if o.Rule != rule {
			continue
		}
		if o.Place.File != d.Where.File {
			return o.Value, fmt.Sprintf("limit of %s:%d", o.Place.File, o.Place.Line), true
		}
		return o.Value, "limit of the design", true
	}
	return 0, "", false
}

// RatioLimit returns the least ratio of inside radius to thickness that a design's limits ask of a hinge with so many copper
// layers (-1: not known, then that for two layers) in that use, and what it rests on.
func RatioLimit(d *fold.Design, copperLayers int, use string) (float64, string) {
	if v, whose, ok := override(d, "bend-ratio"); ok {
		return v, whose
	}
	p := profileOf(d.Limits)
	of := ""
	if p.Name != Profiles()[0].Name {
		of = ", profile " + p.Name
	}
	switch {
	case use == "dynamic":
		return p.DynamicRatio, "dynamic use" + of
	case copperLayers < 0:
		return p.Ratio[1], "number of copper layers not known" + of
	case copperLayers <= 1:
		return p.Ratio[0], "one copper layer" + of
	case copperLayers == 2:
		return p.Ratio[1], "two copper layers" + of
	}
	return p.Ratio[2], fmt.Sprintf("%d copper layers%s", copperLayers, of)
}

// cornerLimit returns the least radius asked of inside corners in mm, and whose limit it is, "" for the profile's.
func (b Board) cornerLimit() (float64, string) {
	d := b.Tree.Design
	if v, whose, ok := override(d, "inside-corner"); ok {
		return v, whose
	}
	return profileOf(d.Limits).InsideCorner, ""
}
