package rule_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/designfile"
	"foldfit/fold/finding"
	"foldfit/fold/rule"
	"foldfit/fold/stackup"
)

// laminates are the sheets that the boards below are made of, top to bottom.
var laminates = strings.NewReplacer(
	"COVER", "{material: polyimide, thickness: 25 um, role: coverlay}",
	"GLUE", "{material: adhesive, thickness: 25 um, role: coverlay-adhesive}",
	"BOND", "{material: adhesive, thickness: 25 um}",
	"RA", "{material: copper-ra, thickness: 18 um}",
	"ED", "{material: copper-ed, thickness: 18 um}",
	"SPARSE", "{material: copper-ra, thickness: 18 um, coverage: 0.1}",
	"HEAVY", "{material: copper-ed, thickness: 105 um}",
	"PLATED", "{material: copper-ed, thickness: 38 um}",
	"PLATING", "{material: copper-ed, thickness: 20 um, role: plating}",
	"SIGNAL", "{material: copper-ra, thickness: 18 um, coverage: 0.3}",
	"PLANE", "{material: copper-ra, thickness: 18 um, coverage: 0.9}",
	"ETCHED", "{material: copper-ra, thickness: 18 um, coverage: 0}",
	"FILM", "{material: polyimide, thickness: 50 um}",
	"THIN", "{material: polyimide, thickness: 25 um}",
	"STRONG", "{material: polyimide, thickness: 125 um}",
	"PREPREG", "{material: fr4, thickness: 0.1}",
	"BOARD", "{material: fr4, thickness: 0.3}",
	"THICK", "{material: fr4, thickness: 0.8}",
	"CORE", "{stackup: flex, without: [coverlay, coverlay-adhesive]}",
	"SHEET", "{stackup: sheet}",
	"WHOLE", "{stackup: flex}",
)

// usual returns a strip with one rigid end and a hinge bent to more than 150 times its thickness, in dynamic use if moves. A
// stack-up is words for its layers, or keys with their values. Without a rigid one it is flex throughout.
func usual(t *testing.T, flex, rigid string, moves bool, more string) *fold.Tree {
	t.Helper()
	text := "foldfit: 1\noutline: {rect: [0, 0, 200, 10]}\nflex: flex\nstackups:\n" + stack("flex", flex, "")
	if rigid != "" {
		text += stack("plate", rigid, "rigid: true, ") + "sections: {main: {stackup: plate, area: {rect: [0, 0, 20, 10]}}}\n"
	}
	use := "install"
	if moves {
		use = "dynamic"
	}
	text += fmt.Sprintf("hinges: {n: {line: [[100, -5], [100, 15]], angle: 45, radius: 60, use: %s}}\n", use) + more
	return divided(t, text)
}

func divided(t *testing.T, text string) *fold.Tree {
	t.Helper()
	d, _, problems := designfile.Parse("usual.yaml", []byte(text), designfile.Options{})
	if problems != nil {
		t.Fatalf("%+v\n%s", problems, text)
	}
	tree, problems := fold.Divide(d)
	if problems != nil {
		t.Fatalf("%+v", problems)
	}
	return tree
}

// stack returns the line of a stack-up.
func stack(name, layers, rigid string) string {
	if strings.Contains(layers, ":") {
		return fmt.Sprintf("  %s: {%s%s}\n", name, rigid, layers)
	}
	return fmt.Sprintf("  %s: {%slayers: [%s]}\n", name, rigid, laminates.Replace(strings.Join(strings.Fields(layers), ", ")))
}

// ours are the rules about what the flex is made of and how it moves.
var ours = []string{"core-continuous", "dynamic-foil", "dynamic-layers", "dynamic-plating", "stack-balance"}

// said returns the findings of these rules, `rule severity value`.
func said(t *testing.T, tree *fold.Tree) (words []string, found []finding.Finding) {
	t.Helper()
	f, err := tree.Place(tree.Angles())
	if err != nil {
		t.Fatal(err)
	}
	for _, one := range rule.Check(tree, f, fold.FoldedPosture) {
		if slices.Contains(ours, one.Rule) {
			words = append(words, fmt.Sprintf("%s %s %.3g", one.Rule, one.Severity, *one.Value))
			found = append(found, one)
		}
	}
	return words, found
}

const (
	single  = "COVER GLUE RA FILM"
	centred = "COVER GLUE RA GLUE COVER"
	double  = "COVER GLUE RA FILM RA GLUE COVER"
	four    = "COVER GLUE RA FILM RA BOND RA FILM RA GLUE COVER"
)

// TestUsualStackups lays out the stack-ups that boards are usually made of: nothing is said of those that are right, bent
// once to install them.
func TestUsualStackups(t *testing.T) {
	for _, c := range []struct{ name, flex, rigid, more string }{
		{"single-sided, covered", single, "", ""},
		{"single-sided, centred", centred, "", ""},
		{"single-sided bare clad", "RA FILM", "", ""},
		{"double-sided", double, "", ""},
		{"double-sided bare clad", "RA FILM RA", "", ""},
		{"double-sided, one side covered", "COVER GLUE RA FILM RA", "", ""},
		{"double-sided, a plane below", "COVER GLUE SIGNAL FILM PLANE GLUE COVER", "", ""},
		{"double-sided, a thick film below", "THIN RA THIN RA STRONG", "", ""},
		{"layered flex, a bare plate", double, "THICK", ""},
		{"plain sheets", "thickness: 0.2, copper-layers: 2", "thickness: 1.6", ""},
		{"layered flex, plain plate", double, "thickness: 1.6", ""},
		{"plain flex, layered plate", "thickness: 0.2", "ED THICK ED", ""},
		{"plain flex inside", "thickness: 0.2", "ED BOARD WHOLE THICK ED", ""},
		{"stiffened tail", single, "", "stiffeners: {pad: {side: bottom, material: polyimide, thickness: 0.2, area: {rect: [180, 0, 200, 10]}}}"},
		{"single-sided bonded to a plate", single, "WHOLE BOND THICK", ""},
		{"double-sided bonded to a plate", double, "WHOLE BOND THICK", ""},
		{"double-sided bonded to a plate, written out", double, "RA FILM RA BOND THICK", ""},
		{"single-sided between plates", single, "BOARD WHOLE BOARD", ""},
		{"4 layers, flex in the middle", double, "ED BOARD CORE BOARD ED", ""},
		{"4 layers, written out", double, "ED BOARD RA FILM RA BOARD ED", ""},
		{"4 layers, covers run on", double, "ED PREPREG WHOLE PREPREG ED", ""},
		{"4 layers, plated outside", double, "PLATING ED BOARD CORE BOARD ED PLATING", ""},
		{"4 layers, the plane inside", "COVER GLUE SIGNAL FILM PLANE GLUE COVER", "ED BOARD CORE BOARD ED", ""},
		{"6 layers, flex in the middle", double, "ED PREPREG ED BOARD CORE BOARD ED PREPREG ED", ""},
		{"6 layers, four in the flex", four, "ED PREPREG CORE PREPREG ED", ""},
		{"hybrid, coverlay with a lip", double, "ED BOARD BOND COVER GLUE RA FILM RA GLUE COVER BOND BOARD ED", ""},
		{"hybrid, one coverlay stops", double, "ED BOARD COVER GLUE RA FILM RA BOARD ED", ""},
		{"flex on an outer layer", double, "CORE PREPREG ED BOARD ED", ""},
		{"flex on an outer layer, plated", double, "PLATED FILM RA PREPREG ED BOARD PLATED", ""},
		{"flex on an outer layer, thick core", double, "CORE PREPREG ED THICK ED", ""},
		{"3 layers: one in the flex", single, "ED BOARD CORE BOARD ED", ""},
		{"3 layers: flex on top", double, "CORE PREPREG THICK ED", ""},
		{"5 layers", double, "ED PREPREG ED BOARD CORE BOARD ED", ""},
		{"three ounces against a half", "thickness: 0.2", "HEAVY THICK ED", ""},
		{"one copper layer on a plate", "thickness: 0.2", "THICK ED", ""},
		{"two of four layers run out as an arm", double, "RA FILM RA BOND RA FILM RA", ""},
		{"a stack-up out of balance that nothing uses", "thickness: 0.2}\n" + strings.TrimSuffix(stack("spare", "ED PREPREG ED PREPREG ED THICK", "rigid: true, "), "}\n"), "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if words, _ := said(t, usual(t, c.flex, c.rigid, false, c.more)); len(words) > 0 {
				t.Errorf("false alarm: %v", words)
			}
			if words := foilsAsked(usual(t, c.flex, c.rigid, false, c.more)); len(words) > 0 {
				t.Errorf("nothing moves, but %v", words)
			}
		})
	}
}

// TestUnusualStackups lays out what the rules are for.
func TestUnusualStackups(t *testing.T) {
	for _, c := range []struct {
		name, flex, rigid string
		moves             bool
		more              string
		want              []string
	}{
		{"one centred layer moves", centred, "", true, "", nil},
		{"one layer on one side moves", single, "", true, "", nil},
		{"one of two is etched away", "COVER GLUE RA FILM ETCHED GLUE COVER", "", true, "", nil},
		{"two layers move", double, "", true, "", []string{"dynamic-layers advice 2"}},
		{"two layers move, strict", double, "", true, "limits: {profile: strict}", []string{"dynamic-layers warning 2"}},
		{"four layers move", four, "", true, "", []string{"dynamic-layers warning 4"}},
		{"a plain sheet with three moves", "thickness: 0.2, copper-layers: 3", "", true, "", []string{"dynamic-layers warning 3"}},
		{"deposited foil moves", "COVER GLUE ED GLUE COVER", "", true, "", []string{"dynamic-foil query 1"}},
		{"two layers of deposited foil move", "ED FILM ED", "", true, "", []string{"dynamic-foil query 2", "dynamic-layers advice 2"}},
		{"plated foil moves", "COVER GLUE PLATING RA GLUE COVER", "", true, "", []string{"dynamic-plating warning 0.02"}},
		{"plating on deposited foil moves", "PLATING ED FILM", "", true, "", []string{"dynamic-plating warning 0.02", "dynamic-foil query 1"}},
		{"all copper above", "thickness: 0.2", "ED PREPREG ED PREPREG ED THICK", false, "", []string{"stack-balance advice 0.759"}},
		{"all copper below", "thickness: 0.2", "THICK ED PREPREG ED PREPREG ED", false, "", []string{"stack-balance advice 0.759"}},
		{"a plane on one side, a few conductors on the other", "thickness: 0.2", "PLANE THICK SPARSE", false, "", []string{"stack-balance advice 0.783"}},
		{"unequal plates", double, "ED PREPREG CORE THICK ED", false, "", []string{"stack-balance advice 0.7"}},
		{"flex of another film", double, "ED BOARD RA THIN RA BOARD ED", false, "", []string{"core-continuous advice 0"}},
		{"flex that ends", double, "ED THICK ED", false, "", []string{"core-continuous advice 0"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			words, found := said(t, usual(t, c.flex, c.rigid, c.moves, c.more))
			if !slices.Equal(words, c.want) {
				t.Errorf("%v, want %v", words, c.want)
			}
			for _, f := range found {
				if f.Message == "" || f.Hint == "" || f.Source == "" || f.Place.Line == 0 || f.Limit == nil || f.Posture != "" {
					t.Errorf("incomplete: %+v", f)
				}
			}
		})
	}
}

// foilsAsked returns what the rules say of foils in dynamic use that are not known.
func foilsAsked(tree *fold.Tree) []finding.Unchecked {
	return slices.DeleteFunc(rule.NotChecked(tree), func(u finding.Unchecked) bool { return u.What != "copper foil in dynamic use" })
}

// TestUnknownFoils demands that moving flex with foil of an unknown kind is said, and nothing else.
func TestUnknownFoils(t *testing.T) {
	for _, c := range []struct {
		name, flex string
		want       []string
	}{
		{"all known", double, nil},
		{"without copper", "thickness: 0.1, copper-layers: 0", nil},
		{"plain sheet", "thickness: 0.1", []string{"copper foil in dynamic use"}},
		{"plain sheet, counted", "thickness: 0.1, copper-layers: 1", []string{"copper foil in dynamic use"}},
		{"copper of another name", "COVER GLUE RA GLUE COVER", []string{"copper foil in dynamic use"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			tree, got := usual(t, c.flex, "", true, ""), []string(nil)
			if c.name == "copper of another name" {
				tree.Design.Stackups[0].Layers[2].Material = "our-copper"
			}
			for _, u := range foilsAsked(tree) {
				got = append(got, u.What)
				if !slices.Equal(u.On, []string{"hinge:n"}) || !strings.Contains(u.Why, "stack-up flex") {
					t.Errorf("%+v", u)
				}
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("%v, want %v", got, c.want)
			}
		})
	}
}

// TestFlexThatDoesNotReachTheSection bends a tail with films of its own: where other flex lies between it and the plate
// nothing is said, where it begins at the plate its copper ends there.
func TestFlexThatDoesNotReachTheSection(t *testing.T) {
	for _, c := range []struct {
		from, plate string // x where the tail begins, the plate ends at 20
		want        []string
	}{
		{"60", "BOARD CORE BOARD", nil},
		{"20", "BOARD CORE BOARD", []string{"core-continuous advice 0"}},
		{"20", "ED SHEET ED", nil}, // a sheet in it of which the layers are not known
	} {
		text := "foldfit: 1\noutline: {rect: [0, 0, 200, 10]}\nflex: flex\nstackups:\n" + stack("flex", double, "") + stack("tail", "COVER GLUE RA THIN", "") +
			stack("sheet", "thickness: 0.2", "") + stack("plate", c.plate, "rigid: true, ") + "sections: {main: {stackup: plate, area: {rect: [0, 0, 20, 10]}}, end: {stackup: tail, area: {rect: [" + c.from + ", 0, 200, 10]}}}\n" +
			"hinges: {n: {line: [[100, -5], [100, 15]], angle: 45, radius: 30}}\n"
		tree := divided(t, text)
		if words, _ := said(t, tree); !slices.Equal(words, c.want) {
			t.Errorf("tail from %s: %v, want %v", c.from, words, c.want)
		}
		tree.Design.Stackups[1].Embeds = []stackup.Embed{{Stackup: "flex"}}
		if words, _ := said(t, tree); len(words) > 0 {
			t.Errorf("tail from %s, an arm of the flex: %v", c.from, words)
		}
	}
}

// TestJudgedCopper: plating is one with its foil, etched copper none.
func TestJudgedCopper(t *testing.T) {
	foil := func(coverage float64, role string) stackup.Layer {
		return stackup.Layer{Material: "copper-ra", Thickness: 0.018, Modulus: 117, Coverage: coverage, Copper: true, Role: role}
	}
	film := stackup.Layer{Material: "polyimide", Thickness: 0.05, Modulus: 2.5, Coverage: 1}
	etched := stackup.Mix([]stackup.Layer{foil(1, ""), film, foil(0, "")})
	for want, layers := range map[int][]stackup.Layer{
		2: {foil(1, "plating"), foil(1, ""), film, foil(1, ""), foil(1, "plating")},
		1: etched,
	} {
		if got := rule.JudgedCopper(stackup.Stackup{Layers: layers, CopperLayers: 9}); got != want {
			t.Errorf("%d copper layers, want %d", got, want)
		}
	}
	if got := rule.JudgedCopper(stackup.Stackup{Plain: true, CopperLayers: 3, Layers: []stackup.Layer{{Thickness: 0.1, Modulus: 1, Coverage: 1}}}); got != 3 {
		t.Errorf("plain sheet with %d", got)
	}
}
