package designfile

import (
	"slices"
	"strings"
	"testing"
)

// TestNearRoles: a misspelt role is noted once, however often it is written; known and other words are not.
func TestNearRoles(t *testing.T) {
	text := `foldfit: 1
outline: {rect: [0, 0, 10, 10]}
flex: f
stackups:
  f: {layers: [{material: polyimide, thickness: 25 um, role: coverlay}, {material: copper-ra, thickness: 10 um, role: platting}, {material: copper-ra, thickness: 18 um, role: cover}, {material: copper-ra, thickness: 10 um, role: platting}, {material: polyimide, thickness: 25 um, role: glue}]}
`
	noted := func(text string) []string {
		_, notes, problems := Parse("a.yaml", []byte(text), Options{})
		if problems != nil {
			t.Fatal(problems)
		}
		return slices.DeleteFunc(notes, func(n string) bool { return !strings.Contains(n, "role") })
	}
	if got := noted(text); len(got) != 1 || !strings.Contains(got[0], "platting") || !strings.Contains(got[0], "if plating is meant") {
		t.Errorf("%q", got)
	}
	if got := noted(strings.ReplaceAll(text, "platting", "plating")); len(got) != 0 {
		t.Errorf("%q", got)
	}
}
