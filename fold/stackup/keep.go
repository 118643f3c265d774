package stackup

import (
	"fmt"
	"slices"
	"strings"
)

// Keep returns the flexible stack-up of an arm in which only these layers of s run on (indices, 0 = the top layer, in any
// order), each at its height: Embeds names s and says how high its own bottom face lies above the arm's, 0 or below. Copper
// is mixed anew with what now fills its gaps; copper layers are counted; the name is left to the caller. An error if an
// index is wrong or given twice, if none is given, if layers between those kept would be missing, or if s is rigid, given by
// its thickness alone or a pile of loose plies.
func (s Stackup) Keep(layers []int) (Stackup, error) {
	if s.Plain {
		return Stackup{}, fmt.Errorf("%s is given by its thickness alone: it has no layers to choose from", s.Name)
	}
	if s.Rigid {
		return Stackup{}, fmt.Errorf("%s is rigid: an arm keeps layers of a flexible stack-up", s.Name)
	}
	if len(s.Plies) > 0 {
		return Stackup{}, fmt.Errorf("%s is a pile of loose plies: each of them is a stack-up of its own", s.Name)
	}
	order := slices.Sorted(slices.Values(layers))
	if len(order) == 0 {
		return Stackup{}, fmt.Errorf("an arm must keep at least one layer of %s", s.Name)
	}
	if err := s.neighbours(order); err != nil {
		return Stackup{}, err
	}
	first, last := order[0], order[len(order)-1]
	below := Stackup{Layers: s.Layers[last+1:]}.Thickness()
	arm := Stackup{Layers: Mix(unmix(s.Layers)[first : last+1]), Embeds: []Embed{{Stackup: s.Name, Bottom: 0 - below}}}
	for _, l := range arm.Layers {
		if l.Copper {
			arm.CopperLayers++
		}
	}
	return arm, nil
}

// neighbours checks that these indices, in rising order, are layers of s without a gap between them. Messages count from 1.
func (s Stackup) neighbours(order []int) error {
	for i, l := range order {
		switch {
		case l < 0 || l >= len(s.Layers):
			return fmt.Errorf("%s has no layer %d: it has %d, counted from 1 at the top", s.Name, l+1, len(s.Layers))
		case i > 0 && l == order[i-1]:
			return fmt.Errorf("layer %d of %s is named twice", l+1, s.Name)
		case i > 0 && l != order[i-1]+1:
			return fmt.Errorf("keeping layers %d and %d of %s but not those between would tear it apart: leave out outer layers only", order[i-1]+1, l+1, s.Name)
		}
	}
	return nil
}

// WithRoles returns the indices of all layers that have one of these roles, from the top; an error names a role that no
// layer has, and those there are.
func (s Stackup) WithRoles(roles ...string) ([]int, error) {
	var known []string
	for _, l := range s.Layers {
		if l.Role != "" && !slices.Contains(known, l.Role) {
			known = append(known, l.Role)
		}
	}
	for _, r := range roles {
		if slices.Contains(known, r) {
			continue
		}
		if len(known) == 0 {
			return nil, fmt.Errorf("no layer of %s has the role %q: none has a role", s.Name, r)
		}
		return nil, fmt.Errorf("no layer of %s has the role %q; its roles: %s", s.Name, r, strings.Join(known, ", "))
	}
	var out []int
	for i, l := range s.Layers {
		if slices.Contains(roles, l.Role) {
			out = append(out, i)
		}
	}
	return out, nil
}
