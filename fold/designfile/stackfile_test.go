package designfile

import (
	"math"
	"strings"
	"testing"
)

// The same stack-up in the three forms of a file.
const (
	loneLayers = "layers:\n  - {material: polyimide, thickness: 25 um}\n  - {material: copper-ra, thickness: 18 um}\n  - {material: glue, thickness: 13 um}\nmaterials: {glue: {modulus: 0.7}}\n"
	keysAlone  = "materials: {glue: {modulus: 0.7}}\nflex: core\nstackups:\n  stiff: {thickness: 1, rigid: true}\n  core: {layers: [{material: polyimide, thickness: 25 um}, {material: copper-ra, thickness: 18 um}, {material: glue, thickness: 13 um}]}\n"
	halfDesign = "foldfit: 1\noutline: nonsense\nhinges: {neck: {}}\n" + keysAlone
)

func TestParseStacks(t *testing.T) {
	for _, c := range []struct{ file, src, flex string }{
		{"some/core.yaml", loneLayers, ""}, {"x.yaml", keysAlone, "core"}, {"x.yaml", halfDesign, "core"},
	} {
		s, problems := ParseStacks(c.file, []byte(c.src))
		if len(problems) > 0 || s.Flex != c.flex {
			t.Errorf("flex %q, problems %s of\n%s", s.Flex, tell(problems), c.src)
			continue
		}
		core := s.Stackups[len(s.Stackups)-1]
		if core.Name != "core" || core.Plain || core.CopperLayers != 1 || math.Abs(core.Thickness()-0.056) > 1e-15 || core.Layers[2].Modulus != 0.7 {
			t.Errorf("%+v from\n%s", core, c.src)
		}
	}
	s, problems := ParseStacks("two words.yaml", []byte("{units: mil, thickness: 8, copper-layers: 2}"))
	if len(problems) > 0 || len(s.Stackups) != 1 || s.Stackups[0].Name != "stack" || !s.Stackups[0].Plain || s.Stackups[0].CopperLayers != 2 {
		t.Fatalf("%+v %s", s, tell(problems))
	}
	within(t, "8 mil", s.Stackups[0].Thickness(), 0.2032, 1e-15)
}

func TestParseStacksProblems(t *testing.T) {
	for _, c := range []struct {
		src  string
		line int
		want []string
	}{
		{"layers:\n  - {material: polyimid, thickness: 25 um}\n  - {material: copper-ra, thickness: -1}\n", 2, []string{"polyimid", "thickness"}},
		{"stackups:\n  core: {thickness: 0.1}\nflex: kore\nhinge: {}\n", 3, []string{"kore", "hinge"}},
		{"foldfit: 1\noutline: {rect: [0, 0, 1, 1]}\n", 1, []string{"has no stackups"}},
		{"", 1, []string{emptyFile}},
		{"- 1\n", 1, []string{""}},
		{"layers: [\n", 1, []string{""}},
	} {
		s, problems := ParseStacks("a.yaml", []byte(c.src))
		if len(problems) != len(c.want) {
			t.Errorf("%q: %d problems, want %d: %s", c.src, len(problems), len(c.want), tell(problems))
			continue
		}
		for i, w := range c.want {
			if !strings.Contains(problems[i].What, w) || problems[i].Place.File != "a.yaml" {
				t.Errorf("%q: problem %d is %+v, want %q", c.src, i, problems[i], w)
			}
		}
		if problems[0].Place.Line < c.line && c.src != "layers: [\n" {
			t.Errorf("%q: line %d, want %d", c.src, problems[0].Place.Line, c.line)
		}
		if len(s.Stackups) > 1 {
			t.Errorf("%q: %d stack-ups", c.src, len(s.Stackups))
		}
	}
}

// FuzzParseStacks: any bytes give problems or stack-ups that make sense, never a panic.
func FuzzParseStacks(f *testing.F) {
	for _, src := range []string{loneLayers, keysAlone, halfDesign, "stackups:" + fourLayers + "  arm: {of: core, keep: [1, 2]}\n  book: {plies: [core, arm], gap: 0.1}\n", "thickness: 1", "stackups: *a", "layers: &a [*a]", "? [a]\n: b"} {
		f.Add([]byte(src))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		s, problems := ParseStacks("f.yaml", src)
		if len(problems) == 0 && len(s.Stackups) == 0 {
			t.Error("neither a problem nor a stack-up")
		}
		for _, k := range s.Stackups {
			if !(k.Thickness() > 0) {
				t.Errorf("thickness %g", k.Thickness())
			}
		}
	})
}
