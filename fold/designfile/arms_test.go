package designfile

import (
	"math"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/stackup"
)

// fourLayers is a flex of four copper layers: cover, then copper and films in turn, cover.
const fourLayers = `
  core:
    layers:
      - {material: polyimide, thickness: 25 um, role: upper}
      - {material: copper-ra, thickness: 18 um, role: upper}
      - {material: polyimide, thickness: 50 um, role: upper}
      - {material: copper-ra, thickness: 18 um}
      - {material: adhesive, thickness: 25 um, role: lower}
      - {material: copper-ra, thickness: 18 um, role: lower}
      - {material: polyimide, thickness: 50 um, role: lower}
      - {material: copper-ra, thickness: 18 um, role: lower}
      - {material: polyimide, thickness: 25 um, role: lower}
`

// design returns a file with more stack-ups beside those four layers.
func withStacks(more string) string {
	return "foldfit: 1\noutline: {rect: [0, 0, 40, 10]}\nstackups:" + fourLayers + more + "flex: core\n"
}

// An arm lies at the height of its layers in the whole, whether they are named by number or by role.
func TestArmsLieAtTheirLayers(t *testing.T) {
	src := withStacks("  arm: {of: core, keep: [lower]}\n  same: {keep: [9, 8, 7, 6, 5], of: core}\n  sub: {of: arm, keep: [2, 3]}\n" +
		"  hard: {rigid: true, layers: [{material: fr4, thickness: 0.3}, {stackup: arm}, {material: fr4, thickness: 0.3}]}\n")
	d, _, problems := Parse("f.yaml", []byte(src), Options{})
	if problems != nil {
		t.Fatal(tell(problems))
	}
	arm, same, sub := d.Stackups[1], d.Stackups[2], d.Stackups[3]
	if len(arm.Layers) != 5 || arm.CopperLayers != 2 || len(sub.Layers) != 2 || sub.CopperLayers != 1 {
		t.Fatalf("arm %+v, sub %+v", arm, sub)
	}
	if math.Abs(arm.Thickness()-same.Thickness()) > 1e-12 || arm.Neutral() != same.Neutral() {
		t.Error("the same layers by number and by role differ")
	}
	tree, problems := fold.Divide(d)
	if problems != nil {
		t.Fatal(tell(problems))
	}
	whole := tree.Levels["core"]
	for name, want := range map[string]float64{"arm": whole.Bottom, "same": whole.Bottom, "sub": whole.Bottom + 0.025 + 0.018, "hard": whole.Bottom - 0.3} {
		if got := tree.Levels[name].Bottom; math.Abs(got-want) > 1e-12 {
			t.Errorf("%s lies at %g, want %g", name, got, want)
		}
	}
	if top := tree.Levels["arm"].Top; math.Abs(top-(whole.Bottom+0.136)) > 1e-12 {
		t.Errorf("the arm's top is at %g", top)
	}
}

// A rigid stack-up that holds whole and arm in other places than their layers have is a problem, named with both.
func TestArmsThatDisagree(t *testing.T) {
	src := withStacks("  arm: {of: core, keep: [lower]}\n" +
		"  hard: {rigid: true, layers: [{stackup: core}, {material: fr4, thickness: 0.3}, {stackup: arm}]}\n")
	d, _, problems := Parse("f.yaml", []byte(src), Options{})
	if problems != nil {
		t.Fatal(tell(problems))
	}
	if _, problems = fold.Divide(d); len(problems) != 1 || !strings.Contains(problems[0].What, "stack-up arm lies") {
		t.Errorf("problems %s", tell(problems))
	}
}

// Loose sheets keep their order, with air between.
func TestPlies(t *testing.T) {
	sheets := "  thin: {layers: [{material: polyimide, thickness: 0.1}]}\n  thick: {layers: [{material: polyimide, thickness: 0.2}]}\n  plain: {thickness: 0.1, copper-layers: 1}\n"
	d, _, problems := Parse("f.yaml", []byte(withStacks(sheets+"  book: {plies: [thin, thick, thin], gap: 50 um, lengths: progressive}\n  pair: {plies: [plain, plain]}\n")), Options{})
	if problems != nil {
		t.Fatal(tell(problems))
	}
	book, pair := d.Stackups[4], d.Stackups[5]
	if len(book.Plies) != 3 || book.Plies[1].Name != "thick" || !book.Progressive || book.Gap != 0.05 || book.Plain || math.Abs(book.Thickness()-0.5) > 1e-12 {
		t.Errorf("book %+v", book)
	}
	if len(book.Layers) != 5 || book.Layers[1].Material != stackup.Air || math.Abs(book.Neutral()-0.25) > 1e-12 {
		t.Errorf("layers %+v, neutral %g", book.Layers, book.Neutral())
	}
	if !pair.Plain || pair.CopperLayers != 2 || pair.Progressive {
		t.Errorf("pair %+v", pair)
	}
}

func TestBadArmsAndPlies(t *testing.T) {
	for _, c := range []struct{ more, what string }{
		{"  arm: {of: core, keep: [1, 3]}\n", "tear it apart"},
		{"  arm: {of: core, keep: [cover]}\n", "no layer of core has the role"},
		{"  arm: {of: core, keep: [10]}\n", "has no layer 10"},
		{"  arm: {of: core, keep: [0]}\n", "has no layer 0"},
		{"  arm: {of: core, keep: [2, 2]}\n", "kept twice"},
		{"  arm: {of: core}\n", "keep"},
		{"  arm: {of: arm, keep: [1]}\n", "keeps layers of itself"},
		{"  arm: {of: core, keep: [1], rigid: true}\n", "a rigid stack-up has layers, not of"},
		{"  arm: {of: core, keep: [1, 2], copper-layers: 4}\n", "says 4 copper layers, its layers have 1"},
		{"  hard: {rigid: true, thickness: 1}\n  arm: {of: hard, keep: [1]}\n", "thickness alone"},
		{"  book: {plies: [core]}\n", "a list of 1 item"},
		{"  book: {plies: [core, book]}\n", "ply of itself"},
		{"  hard: {rigid: true, thickness: 1}\n  book: {plies: [core, hard]}\n", "hard is rigid"},
		{"  book: {plies: [core, core], rigid: true}\n", "a rigid stack-up has layers, not plies"},
		{"  book: {plies: [core, core]}\n  more: {plies: [book, core]}\n", "loose sheets itself"},
		{"  book: {plies: [core, core]}\n  arm: {of: book, keep: [1]}\n", "consists of loose sheets"},
		{"  book: {plies: [core, core], gap: -0.1}\n", "gap"},
		{"  film: {thickness: 0.1, gap: 0.1}\n", "gap"},
	} {
		_, _, problems := Parse("f.yaml", []byte(withStacks(c.more)), Options{})
		if len(problems) != 1 || !strings.Contains(problems[0].What, c.what) {
			t.Errorf("%s: %s, want one problem with %q", c.more, tell(problems), c.what)
		}
	}
}

// A foil of the design's own counts as copper, of a kind that nobody knows.
func TestOwnFoil(t *testing.T) {
	src := "foldfit: 1\noutline: {rect: [0, 0, 40, 10]}\nmaterials: {our-foil: {modulus: 80, copper: true}, our-film: {modulus: 3}}\n" +
		"stackups: {film: {layers: [{material: our-foil, thickness: 18 um}, {material: our-film, thickness: 50 um}, {material: our-foil, thickness: 18 um}]}}\nflex: film\n"
	d, _, problems := Parse("f.yaml", []byte(src), Options{})
	if problems != nil {
		t.Fatal(tell(problems))
	}
	s := d.Stackups[0]
	if reach, known := s.CopperReach(); s.CopperLayers != 2 || !known || math.Abs(reach-0.043) > 1e-12 {
		t.Errorf("%d copper layers, reach %g, %v", s.CopperLayers, reach, known)
	}
}
