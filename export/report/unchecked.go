package report

import (
	"fmt"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/rule"
)

// placeholder is the height (mm) under which a component's height is taken for a stand-in that somebody meant to
// replace: no packaged part is so thin (common practice, no source).
const placeholder = 0.05

// NotChecked returns what no check can see because the design does not say it: no enclosure, components without a
// height, bends in stack-ups with an unknown number of copper layers, flex whose free shape, life or springback is not known.
func NotChecked(t *fold.Tree) []finding.Unchecked {
	var out []finding.Unchecked
	if len(t.Design.Enclosure) == 0 {
		out = append(out, finding.Unchecked{What: "enclosure", Why: "the design has none, so only the board itself was checked"})
	}
	out = append(out, heights(t.Design.Components)...)
	out = append(out, coppers(t)...)
	return append(out, rule.NotChecked(t)...)
}

// heights lists the components whose height is missing or a placeholder.
func heights(parts []fold.Component) []finding.Unchecked {
	var missing, thin []string
	for i := range parts {
		h, known := partHeight(&parts[i])
		switch {
		case !known:
			missing = append(missing, "component:"+parts[i].Name)
		case h < placeholder:
			thin = append(thin, "component:"+parts[i].Name)
		}
	}
	var out []finding.Unchecked
	if len(missing) > 0 {
		out = append(out, finding.Unchecked{What: "height", On: missing, Why: "no height given"})
	}
	if len(thin) > 0 {
		why := fmt.Sprintf("a height under %g mm looks like a placeholder", placeholder)
		out = append(out, finding.Unchecked{What: "height", On: thin, Why: why})
	}
	return out
}

// partHeight returns how far a component's body rises in mm, and whether that is known.
func partHeight(c *fold.Component) (float64, bool) {
	if len(c.Boxes) == 0 {
		if c.Height == nil {
			return 0, false
		}
		return *c.Height, true
	}
	top := 0.0
	for _, b := range c.Boxes {
		top = max(top, b[2], b[5])
	}
	return top, true
}

// coppers lists, for each stack-up without a copper count, the hinges that bend it.
func coppers(t *fold.Tree) []finding.Unchecked {
	var out []finding.Unchecked
	for _, s := range t.Design.Stackups {
		if s.CopperLayers >= 0 {
			continue
		}
		if on := hingesIn(t, s.Name); len(on) > 0 {
			why := fmt.Sprintf("stack-up %s does not say how many copper layers it has (copper-layers); the bend limit for two was used", s.Name)
			out = append(out, finding.Unchecked{What: "copper layers", On: on, Why: why})
		}
	}
	return out
}

// hingesIn returns the hinges with a bend in the named stack-up.
func hingesIn(t *fold.Tree, stackup string) []string {
	var out []string
	for i, h := range t.Hinges {
		for _, b := range h.Bends {
			if t.Bends[b].Stackup == stackup {
				out = append(out, "hinge:"+t.Design.Hinges[i].Name)
				break
			}
		}
	}
	return out
}
