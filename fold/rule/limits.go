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
}

// Profiles returns the built-in profiles; the first is the default. Ratios are common practice: the first as several
// fabricators and guidelines are commonly quoted, the second as IPC-2223 is commonly quoted (from memory).
func Profiles() []Profile {
	return []Profile{
		{"common", [3]float64{6, 10, 20}, 100, 0.75},
		{"strict", [3]float64{6, 12, 24}, 100, 1.0},
	}
}

// LimitKeys returns the rules whose limit a design may override with a number of its own.
func LimitKeys() []string { return []string{"bend-ratio", "inside-corner"} }

// profileOf returns the profile a design names, the default for none.
func profileOf(l fold.Limits) Profile {
	for _, p := range Profiles() {
		if p.Name == l.Profile {
			return p
		}
	}
	return Profiles()[0]
}

// override returns the design's own limit for a rule.
func override(l fold.Limits, rule string) (float64, bool) {
	for _, o := range l.Overrides {
		if o.Rule == rule {
			return o.Value, true
		}
	}
	return 0, false
}

// RatioLimit returns the least ratio of inside radius to thickness asked of a hinge with so many copper layers (-1: not
// known, then that for two layers, at least 10) in that use, and what it rests on.
func RatioLimit(l fold.Limits, copperLayers int, use string) (float64, string) {
	p := profileOf(l)
	if v, ok := override(l, "bend-ratio"); ok {
		return v, "limit of the design"
	}
	if use == "dynamic" {
		return p.DynamicRatio, "dynamic use"
	}
	switch {
	case copperLayers < 0:
		return p.Ratio[1], "number of copper layers not known"
	case copperLayers <= 1:
		return p.Ratio[0], "one copper layer"
	case copperLayers == 2:
		return p.Ratio[1], "two copper layers"
	}
	return p.Ratio[2], fmt.Sprintf("%d copper layers", copperLayers)
}

// cornerLimit returns the least radius asked of inside corners, mm.
func (b Board) cornerLimit() float64 {
	if v, ok := override(b.Tree.Design.Limits, "inside-corner"); ok {
		return v
	}
	return profileOf(b.Tree.Design.Limits).InsideCorner
}
