package stackup

import (
	"strings"
	"testing"
)

// four is a flexible stack-up of four copper layers, its gaps filled by what lies beside them.
func four() Stackup {
	l := func(material, role string, t, e float64) Layer {
		return Layer{Material: material, Role: role, Thickness: t / 1000, Modulus: e, Coverage: 1}
	}
	cu := func(role string, c float64) Layer {
		return Layer{Material: "copper-ra", Role: role, Thickness: 0.018, Modulus: eCu, Copper: true, Coverage: c}
	}
	return Stackup{Name: "core", CopperLayers: 4, Lip: 0.5, Layers: Mix([]Layer{
		l("polyimide", "cover", 25, ePI), l("adhesive", "cover-adhesive", 30, eGlue),
		cu("l1", 0.3), l("polyimide", "upper", 50, ePI), cu("l2", 1),
		l("adhesive", "bond", 25, eGlue),
		cu("l3", 0.5), l("polyimide", "lower", 75, ePI), cu("l4", 0),
		l("adhesive", "cover-adhesive", 30, eGlue), l("polyimide", "cover", 25, ePI),
	})}
}

// An arm keeps its layers at their heights above the parent's bottom face.
func TestKeep(t *testing.T) {
	s := four()
	upper, err := s.WithRoles("l1", "upper", "l2")
	if err != nil {
		t.Fatal(err)
	}
	arm, err := s.Keep(upper)
	if err != nil {
		t.Fatal(err)
	}
	below := 0.025 + 0.018 + 0.075 + 0.018 + 0.030 + 0.025
	if len(arm.Layers) != 3 || arm.CopperLayers != 2 || arm.Name != "" || arm.Lip != 0 || len(arm.Embeds) != 1 || arm.Embeds[0].Stackup != "core" {
		t.Fatalf("%+v", arm)
	}
	near(t, "the parent's bottom", arm.Embeds[0].Bottom, -below, 1e-15)
	near(t, "thickness", arm.Thickness(), 0.086, 1e-15)
	// its gaps are now filled by the only neighbour, the film: no longer by the adhesive
	near(t, "parent's modulus", s.Layers[2].Modulus, 0.3*eCu+0.7*eGlue, 1e-12)
	near(t, "arm's modulus", arm.Layers[0].Modulus, 0.3*eCu+0.7*ePI, 1e-12)
	if arm.Layers[1] != s.Layers[3] || arm.Layers[2] != s.Layers[4] {
		t.Errorf("%+v", arm.Layers)
	}
	arm.Layers[0].Thickness = 9
	if s.Layers[2].Thickness == 9 {
		t.Error("arm and parent share layers")
	}
}

// All kept is the parent; the bottom layers are kept at no offset; any order will do; an etched layer stays etched.
func TestKeepOuter(t *testing.T) {
	s := four()
	all, err := s.Keep([]int{10, 9, 8, 7, 6, 5, 4, 3, 2, 1, 0})
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range all.Layers {
		near(t, "modulus", l.Modulus, s.Layers[i].Modulus, 1e-12)
		l.Modulus = s.Layers[i].Modulus
		if l != s.Layers[i] {
			t.Errorf("layer %d: %+v", i, l)
		}
	}
	lower, err := s.Keep([]int{6, 7, 8, 9, 10})
	if err != nil || lower.Embeds[0].Bottom != 0 || lower.CopperLayers != 2 {
		t.Errorf("%+v %v", lower, err)
	}
	near(t, "etched", lower.Layers[2].Modulus, eGlue, 0)
	film, err := s.Keep([]int{8}) // etched away and nothing left to fill it
	if err != nil || film.Layers[0].Modulus != 0 {
		t.Errorf("%+v %v", film, err)
	}
}

func TestKeepRefuses(t *testing.T) {
	s := four()
	rigid := s
	rigid.Rigid = true
	for _, c := range []struct {
		s      Stackup
		layers []int
		want   string
	}{
		{s, nil, "at least one layer"},
		{s, []int{-1}, "no layer 0"},
		{s, []int{10, 11}, "no layer 12: it has 11"},
		{s, []int{3, 3}, "layer 4 of core is named twice"},
		{s, []int{2, 3, 5}, "layers 4 and 6 of core but not those between would tear it apart"},
		{rigid, []int{1}, "core is rigid"},
		{Stackup{Name: "film", Plain: true, Layers: []Layer{{Thickness: 0.1, Modulus: 1}}}, []int{0}, "thickness alone"},
	} {
		if arm, err := c.s.Keep(c.layers); err == nil || !strings.Contains(err.Error(), c.want) || arm.Layers != nil {
			t.Errorf("%v: %v, want %q", c.layers, err, c.want)
		}
	}
	if _, err := s.WithRoles("l1", "l9"); err == nil || !strings.Contains(err.Error(), `"l9"; its roles: cover, cover-adhesive, l1`) {
		t.Error(err)
	}
	if _, err := stackA().WithRoles("cover"); err == nil || !strings.Contains(err.Error(), "none has a role") {
		t.Error(err)
	}
	if l, err := s.WithRoles("cover"); err != nil || len(l) != 2 || l[1] != 10 {
		t.Errorf("%v %v", l, err)
	}
}
