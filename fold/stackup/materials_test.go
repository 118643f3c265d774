package stackup

import (
	"slices"
	"strings"
	"testing"
)

// The moduli that designs rely on by name, in GPa, and densities of the two that published data state (polyimide film,
// glass-epoxy laminate).
func TestBuiltIns(t *testing.T) {
	for name, want := range map[string]float64{"polyimide": 2.5, "adhesive": 0.5, "copper-ra": 117, "copper-ed": 117, "fr4": 22} {
		m, ok := BuiltIn(name)
		if !ok || m.Modulus != want || m.Copper != strings.HasPrefix(name, "copper") {
			t.Errorf("%s: %+v", name, m)
		}
	}
	for name, want := range map[string]float64{"polyimide": 1.42, "fr4": 1.85} {
		if m, _ := BuiltIn(name); m.Density != want {
			t.Errorf("%s: %+v", name, m)
		}
	}
	if _, ok := BuiltIn("unobtainium"); ok {
		t.Error("there is no unobtainium")
	}
}

// Every material says where its numbers come from, and its numbers are of the right size.
func TestBuiltInsAreComplete(t *testing.T) {
	seen := map[string]bool{}
	for _, m := range BuiltIns() {
		if seen[m.Name] || m.Source == "" || !(m.Modulus > 0.05 && m.Modulus < 250) || !(m.Density > 0.5 && m.Density < 9) || m.Copper != (m.Density > 8) {
			t.Errorf("%+v", m)
		}
		if strings.Trim(m.Name, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" {
			t.Errorf("%q is no name that a design can write", m.Name)
		}
		seen[m.Name] = true
	}
	list := BuiltIns()
	list[0].Modulus = 0
	if BuiltIns()[0].Modulus == 0 {
		t.Error("a caller can change the built-in materials")
	}
}

// Published and recalled figures for each material, GPa: where sources differ, Low and High span them and the modulus lies
// between; polyimide film (PMDA-ODA type) and its density come from one maker's data.
func TestSpread(t *testing.T) {
	for name, figures := range map[string][]float64{
		"polyimide-clad": {4.8, 5, 9}, "adhesive": {0.1, 0.7}, "epoxy-adhesive": {1, 2.5}, "copper-ra": {60, 110, 117, 130}, "copper-ed": {60, 110, 117, 130},
		"fr4": {24, 21, 18.6, 15.2}, "lcp": {2.2, 3.4}, "pet": {4.8, 5.0, 3.8}, "paper": {2, 5},
	} {
		m, _ := BuiltIn(name)
		if m.Low != slices.Min(figures) || m.High != slices.Max(figures) || m.Modulus < m.Low || m.Modulus > m.High {
			t.Errorf("%s: %+v", name, m)
		}
	}
	if m, _ := BuiltIn("polyimide"); m.Low != 0 || m.High != 0 {
		t.Errorf("%+v", m)
	}
	for name, d := range map[string][2]float64{"adhesive": {1.2, 1.2}, "epoxy-adhesive": {1.2, 1.4}, "copper-ra": {8.9, 8.96}, "copper-ed": {8.9, 8.96},
		"fr4": {1.82, 1.85}, "lcp": {1.4, 1.4}, "pet": {1.39, 1.39}, "paper": {0.8, 0.8}, "polyimide": {1.42, 1.42}} {
		if m, _ := BuiltIn(name); m.Density < d[0] || m.Density > d[1] {
			t.Errorf("%s: %+v", name, m)
		}
	}
}
