package rule

import (
	"fmt"
	"slices"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/stackup"
)

// moving is a bend of a hinge in dynamic use, with what a rule measures of its stack-up.
type moving struct {
	bend  *fold.Bend
	stack stackup.Stackup
	value float64
}

// moving returns of each hinge in dynamic use the bend whose stack-up has most of a measure; none where that is not over 0.
func (b Board) moving(measure func(stackup.Stackup) float64) []moving {
	var out []moving
	for hi, h := range b.Tree.Design.Hinges {
		if h.Use != "dynamic" {
			continue
		}
		var worst moving
		for _, bi := range b.Tree.Hinges[hi].Bends {
			bend := &b.Tree.Bends[bi]
			s := stackNamed(b.Tree.Design, bend.Stackup)
			if v := measure(s); v > worst.value {
				worst = moving{bend, s, v}
			}
		}
		if worst.value > 0 {
			out = append(out, worst)
		}
	}
	return out
}

// finding returns what every finding about a moving bend says; message, hint and unit are left to the rule.
func (m moving) finding(b Board, severity finding.Severity, limit float64) finding.Finding {
	h := b.hinge(m.bend)
	return finding.Finding{
		Severity: severity, On: []string{"hinge:" + h.Name}, At: at(m.bend.Middle()), Place: h.Place,
		Value: finding.Number(m.value), Limit: finding.Number(limit),
	}
}

// stackNamed returns the design's stack-up of that name, the zero value for none.
func stackNamed(d *fold.Design, name string) stackup.Stackup {
	if s := d.StackupNamed(name); s != nil {
		return *s
	}
	return stackup.Stackup{}
}

// layered reports whether all layers of a stack-up are known: not where it, or one that runs through it, is given by its
// thickness alone.
func layered(s stackup.Stackup) bool {
	return !s.Plain && len(s.Layers) > 0 && !slices.ContainsFunc(s.Layers, func(l stackup.Layer) bool { return l.Material == "" })
}

// laid reports whether a layer leaves copper in the bend: not where all of it is etched away.
func laid(l stackup.Layer) bool { return l.Copper && l.Coverage > 0 }

// copperSheets returns how many copper layers of a stack-up there are in a bend; below 0 where that is not known. Copper on
// copper (plating) is one, etched copper none, and of loose plies the one with most counts: each bends by itself.
func copperSheets(s stackup.Stackup) int {
	most := 0
	for _, p := range s.Plies {
		n := copperSheets(p)
		if n < 0 {
			return n
		}
		most = max(most, n)
	}
	switch {
	case len(s.Plies) > 0:
		return most
	case !layered(s):
		return s.CopperLayers
	}
	n := 0
	for i, l := range s.Layers {
		if laid(l) && (i == 0 || !laid(s.Layers[i-1])) {
			n++
		}
	}
	return n
}

// foilsKnown reports whether the kind of every copper layer is known, of loose plies in each.
func foilsKnown(s stackup.Stackup) bool {
	if len(s.Plies) > 0 {
		return !slices.ContainsFunc(s.Plies, func(p stackup.Stackup) bool { return !foilsKnown(p) })
	}
	return layered(s) && !slices.ContainsFunc(s.Layers, func(l stackup.Layer) bool {
		_, known := stackup.FoilOf(l.Material)
		return laid(l) && !known
	})
}

// dynamicFoils lists the stack-ups that hinges in dynamic use bend and whose kinds of foil are not known.
func dynamicFoils(t *fold.Tree) []finding.Unchecked {
	var out []finding.Unchecked
	for _, s := range t.Design.Stackups {
		on := movingIn(t, s.Name)
		if len(on) == 0 {
			continue
		}
		if copperSheets(s) != 0 && !foilsKnown(s) {
			out = append(out, finding.Unchecked{What: "copper foil in dynamic use", On: on, Aside: true,
				Why: fmt.Sprintf("stack-up %s does not say whether its copper is rolled or electrodeposited, or plated (copper-ra, copper-ed, role: plating)", s.Name)})
		}
	}
	return out
}

// movingIn returns the hinges in dynamic use with a bend in the named stack-up.
func movingIn(t *fold.Tree, stack string) []string {
	var out []string
	for hi, h := range t.Design.Hinges {
		bends := slices.ContainsFunc(t.Hinges[hi].Bends, func(b int) bool { return t.Bends[b].Stackup == stack })
		if h.Use == "dynamic" && bends {
			out = append(out, "hinge:"+h.Name)
		}
	}
	return out
}
