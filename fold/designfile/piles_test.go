package designfile

import (
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/stackup"
)

// covered is a sheet of one copper layer with covers that can stop at a rigid edge, and one without.
const covered = `
  sheet:
    layers:
      - {material: polyimide, thickness: 25 um, role: cover}
      - {material: adhesive, thickness: 25 um, role: glue}
      - {material: copper-ra, thickness: 18 um, coverage: 0.5}
      - {material: polyimide, thickness: 50 um}
      - {material: adhesive, thickness: 15 um, role: glue}
      - {material: polyimide, thickness: 10 um, role: cover}
  bare: {layers: [{material: polyimide, thickness: 50 um}, {material: copper-ra, thickness: 18 um, coverage: 0.5}]}
`

// sheets returns a file with more stack-ups beside those.
func sheets(more string) string {
	return "foldfit: 1\noutline: {rect: [0, 0, 40, 10]}\nstackups:" + covered + more + "flex: sheet\n"
}

// Each ply of a pile is the stack-up that it names: its copper is mixed with what fills its own gaps, not with a neighbour's
// layers or air.
func TestPliesAreTheirStackups(t *testing.T) {
	d := parse(t, sheets("  book: {plies: [bare, sheet, bare]}\n  airy: {plies: [bare, sheet], gap: 1 mil}\n"))
	bare, sheet := stackNamed(t, d, "bare"), stackNamed(t, d, "sheet")
	for _, name := range []string{"book", "airy"} {
		s := stackNamed(t, d, name)
		for i, p := range s.Plies {
			want := map[string]stackup.Stackup{"bare": bare, "sheet": sheet}[p.Name]
			for k, l := range p.Layers {
				if l != want.Layers[k] {
					t.Errorf("%s, ply %d: %+v, alone %+v", name, i, l, want.Layers[k])
				}
			}
		}
		if s.Layers[1] != bare.Layers[1] {
			t.Errorf("%s: %+v", name, s.Layers[1])
		}
	}
	within(t, "gap", stackNamed(t, d, "airy").Gap, 0.0254, 1e-15)
	if n := stackNamed(t, d, "book").CopperLayers; n != 3 {
		t.Errorf("%d copper layers", n)
	}
}

// A pile runs on through a rigid stack-up at its height: gaps, and covers that stop at the edge, are filled, and that is said.
func TestPileInARigidStackup(t *testing.T) {
	src := sheets(`  book: {plies: [sheet, bare, sheet], gap: 0.1}
  tight: {plies: [bare, bare]}
  whole: {rigid: true, layers: [{material: fr4, thickness: 0.2}, {stackup: book}, {material: fr4, thickness: 0.3}]}
  open: {rigid: true, lip: 0.5, layers: [{material: fr4, thickness: 0.2}, {stackup: book, without: [cover, glue]}, {material: fr4, thickness: 0.3}]}
  pressed: {rigid: true, layers: [{stackup: tight}]}
`)
	d, notes, problems := Parse("x.yaml", []byte(src), Options{})
	if problems != nil {
		t.Fatal(tell(problems))
	}
	if len(notes) != 2 || !strings.Contains(notes[0], "book, up to 0.1 mm, counts as filled with adhesive") || !strings.Contains(notes[1], "up to 0.15 mm") {
		t.Errorf("%q", notes)
	}
	book, whole, open := stackNamed(t, d, "book"), stackNamed(t, d, "whole"), stackNamed(t, d, "open")
	within(t, "whole", whole.Thickness(), book.Thickness()+0.5, 1e-12)
	within(t, "open", open.Thickness(), book.Thickness()+0.5-0.05-0.025, 1e-12)
	for _, s := range []stackup.Stackup{whole, open, stackNamed(t, d, "pressed")} {
		for _, l := range s.Layers {
			if l.Material == stackup.Air || l.Modulus == 0 {
				t.Errorf("%s holds %+v", s.Name, l)
			}
		}
	}
	if e := open.Embeds; len(e) != 1 || e[0].Stackup != "book" || open.CopperLayers != 3 || open.Lip != 0.5 {
		t.Fatalf("%+v", open)
	}
	// the lowest copper: 0.3 fr4 and 0.05 film in `open`; 0.01 cover, 0.015 glue, 0.05 film in the pile
	within(t, "book in whole", whole.Embeds[0].Bottom, 0.3, 1e-12)
	within(t, "book in open", open.Embeds[0].Bottom, 0.3-0.025, 1e-12)
	within(t, "copper in open", copperBottom(open)-open.Embeds[0].Bottom, 0.075, 1e-12)
	within(t, "copper in book", copperBottom(book), 0.075, 1e-12)
}

// A rigid stack-up may hold some layers of a flex, by number or role: the others stop at its edge, as with without.
func TestSomeLayersInARigidStackup(t *testing.T) {
	d := parse(t, sheets(`  a: {rigid: true, lip: 0.5, layers: [{material: fr4, thickness: 0.2}, {of: sheet, keep: [3, 4]}, {material: fr4, thickness: 0.3}]}
  b: {rigid: true, lip: 0.5, layers: [{material: fr4, thickness: 0.2}, {stackup: sheet, without: [cover, glue]}, {material: fr4, thickness: 0.3}]}
  c: {rigid: true, lip: 0.5, layers: [{stackup: a}]}
`))
	a, b := stackNamed(t, d, "a"), stackNamed(t, d, "b")
	if len(a.Embeds) != 1 || a.Embeds[0].Stackup != "sheet" || len(a.Layers) != 4 {
		t.Fatalf("%+v", a)
	}
	within(t, "embed", a.Embeds[0].Bottom, 0.3-0.025, 1e-15)
	within(t, "embed", a.Embeds[0].Bottom, b.Embeds[0].Bottom, 1e-15)
	for i, l := range a.Layers {
		if l != b.Layers[i] {
			t.Errorf("layer %d: %+v %+v", i, l, b.Layers[i])
		}
	}
}

// An arm's copper is mixed anew, as Keep of the whole stack-up does it; a role that looks like a number is named in quotes.
func TestArmsAreKeptLayers(t *testing.T) {
	d := parse(t, withStacks("  odd: {layers: [{material: copper-ra, thickness: 18 um, coverage: 0.3, role: 2}, {material: adhesive, thickness: 0.1, role: soft side}, {material: polyimide, thickness: 0.1}]}\n"+
		"  one: {of: odd, keep: ['2']}\n  two: {of: odd, keep: [2, 1]}\n  soft: {of: odd, keep: [soft side, 3.0]}\n"))
	odd := stackNamed(t, d, "odd")
	for name, keep := range map[string][]int{"one": {0}, "two": {0, 1}, "soft": {1, 2}} {
		want, err := odd.Keep(keep)
		if err != nil {
			t.Fatal(err)
		}
		got := stackNamed(t, d, name)
		if len(got.Layers) != len(want.Layers) || got.Embeds[0] != want.Embeds[0] || got.CopperLayers != want.CopperLayers {
			t.Fatalf("%s: %+v, want %+v", name, got, want)
		}
		for i, l := range want.Layers {
			within(t, name, got.Layers[i].Modulus, l.Modulus, 1e-12)
		}
	}
}

// Two arms of a flex with a gap as thick as the glue that is left out between them lie, as loose plies, where they lie in the
// flex; with another gap the two say different things.
func TestPileOfArms(t *testing.T) {
	form := "  upper: {of: core, keep: [upper]}\n  lower: {of: core, keep: [6, 7, 8, 9]}\n  hard: {rigid: true, layers: [{stackup: core}]}\n  book: {plies: [upper, lower], gap: GAP}\n"
	place := func(gap string) (*fold.Tree, string) {
		d := parse(t, withStacks(strings.Replace(form, "GAP", gap, 1)))
		tree, problems := fold.Divide(d)
		return tree, tell(problems)
	}
	tree, told := place("43 um") // 18 copper and 25 glue
	if told != "" {
		t.Fatal(told)
	}
	core, book := tree.Levels["core"], tree.Levels["book"]
	within(t, "bottom", book.Bottom, core.Bottom, 1e-12)
	within(t, "top", book.Top, core.Top, 1e-12)
	within(t, "upper", tree.Levels["upper"].Top, core.Top, 1e-12)
	if _, told = place("50 um"); !strings.Contains(told, "book lies") || !strings.Contains(told, "where its ply lower lies") {
		t.Error(told)
	}
}

func TestBadLipsAndLayersKept(t *testing.T) {
	for _, c := range []struct{ more, what string }{
		{"  f: {thickness: 0.1, lip: 0.5}\n", "stackups.f: lip is how far layers run on under the edge of a rigid stack-up"},
		{"  r: {thickness: 1, rigid: true, lip: 0.5}\n", "so there is nothing to reach under it by a lip of 0.5"},
		{"  r: {rigid: true, lip: 0.5, layers: [{stackup: sheet}]}\n", "nothing that runs on in it stops at its edge"},
		{"  r: {rigid: true, layers: [{of: sheet, keep: [1, 3]}]}\n", "would tear it apart"},
		{"  r: {rigid: true, layers: [{of: sheet, keep: [7]}]}\n", "stackups.r.layers item 1: sheet has no layer 7"},
		{"  r: {rigid: true, layers: [{of: sheet, keep: [1e300]}]}\n", "has no layer 1e300"},
		{"  r: {rigid: true, layers: [{of: sheet, keep: [-1]}]}\n", "has no layer -1"},
		{"  r: {rigid: true, layers: [{of: sheet, keep: [cover]}]}\n", "would tear it apart"},
		{"  r: {rigid: true, layers: [{of: sheet, keep: [1, 2, cover]}]}\n", "layer 1 of sheet is kept twice"},
		{"  r: {rigid: true, layers: [{of: sheet, keep: [1.5]}]}\n", "wants a layer's number or role, got the number 1.5"},
		{"  r: {rigid: true, layers: [{of: sheet}]}\n", "has no keep"},
		{"  r: {rigid: true, layers: [{of: r, keep: [1]}]}\n", "r keeps layers of itself"},
		{"  r: {rigid: true, thickness: 1}\n  s: {rigid: true, layers: [{of: r, keep: [1]}]}\n", "thickness alone"},
		{"  r: {rigid: true, layers: [{stackup: sheet}]}\n  s: {rigid: true, layers: [{of: r, keep: [1]}]}\n", "r is rigid"},
		{"  b: {plies: [sheet, sheet]}\n  s: {rigid: true, layers: [{of: b, keep: [1]}]}\n", "b consists of loose sheets"},
		{"  s: {layers: [{of: sheet, keep: [1]}]}\n", "only a rigid stack-up can hold layers of another one"},
		{"  b: {plies: [sheet, sheet]}\n  s: {rigid: true, layers: [{stackup: b, without: [glue]}]}\n", "would tear sheet apart"},
		{"  b: {plies: [sheet, sheet]}\n  s: {rigid: true, layers: [{stackup: b, without: [clue]}]}\n", "no layer has the role clue"},
		{"  c: {layers: [{material: polyimide, thickness: 0.1, role: cover}]}\n  b: {plies: [sheet, c]}\n  s: {rigid: true, layers: [{stackup: b, without: [cover]}]}\n", "nothing of c is left"},
		{"  s: {rigid: true, layers: [{stackup: sheet}, {of: sheet, keep: [3]}]}\n", "sheet runs through it twice"},
		{"  b: {plies: [sheet, sheet]}\n  s: {rigid: true, layers: [{stackup: b}, {stackup: b}]}\n", "b runs through it twice"},
	} {
		_, _, problems := Parse("f.yaml", []byte(sheets(c.more)), Options{})
		if len(problems) != 1 || !strings.Contains(problems[0].What, c.what) && !strings.Contains(problems[0].Hint, c.what) || problems[0].Hint == "" || problems[0].Place.Line < 13 {
			t.Errorf("%s: %s, want one problem with %q and a way out", c.more, tell(problems), c.what)
		}
	}
}

// Piles of piles of layers end in a problem before they cost memory.
func TestTooManyPlies(t *testing.T) {
	many := "  many: {layers: [" + strings.Repeat("{material: polyimide, thickness: 0.1}, ", 60) + "]}\n"
	names := strings.Repeat("many, ", 50)
	_, _, problems := Parse("x.yaml", []byte(sheets(many+"  b: {plies: ["+names+"]}\n")), Options{})
	if len(problems) != 1 || !strings.Contains(problems[0].What, "stackups.b has 3000 layers with those of the stack-ups in it") {
		t.Error(tell(problems))
	}
	_, _, problems = Parse("x.yaml", []byte(sheets("  b: {plies: ["+strings.Repeat("bare, ", 51)+"]}\n")), Options{})
	if len(problems) != 1 || !strings.Contains(problems[0].What, "a list of 51 items") {
		t.Error(tell(problems))
	}
}
