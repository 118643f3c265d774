package fold

import (
	"math"
	"slices"
	"strings"
	"testing"

	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// fourCopper is a flex of four copper layers and covers, um: 25 film, 18 copper, 50 film, 18 copper, 25 glue, 18 copper,
// 50 film, 18 copper, 25 film. It is its own mirror image about the middle of the glue.
func fourCopper() stackup.Stackup {
	s := stackup.Stackup{Name: "core", CopperLayers: 4}
	for _, l := range [][2]float64{{25, 2.5}, {18, 117}, {50, 2.5}, {18, 117}, {25, 0.5}, {18, 117}, {50, 2.5}, {18, 117}, {25, 2.5}} {
		s.Layers = append(s.Layers, stackup.Layer{Thickness: l[0] / 1000, Modulus: l[1], Coverage: 1, Copper: l[1] > 100})
	}
	return s
}

// arm returns an arm of s that keeps layers, counted from 1 at the top.
func arm(t testing.TB, name string, s stackup.Stackup, from, to int) stackup.Stackup {
	t.Helper()
	var keep []int
	for i := from - 1; i < to; i++ {
		keep = append(keep, i)
	}
	a, err := s.Keep(keep)
	if err != nil {
		t.Fatal(err)
	}
	a.Name = name
	return a
}

// rigid returns a rigid stack-up of this thickness that holds flex.
func rigid(name string, thick float64, embeds ...stackup.Embed) stackup.Stackup {
	return stackup.Stackup{Name: name, Rigid: true, Layers: plain(thick), Embeds: embeds, CopperLayers: -1}
}

// placed returns where stack-ups lie when the first one is the flex.
func placed(t testing.TB, stacks ...stackup.Stackup) map[string]Level {
	t.Helper()
	d := &Design{Flex: stacks[0].Name, Stackups: stacks}
	levels, problems := d.levels()
	if problems != nil {
		t.Fatalf("%+v", problems)
	}
	return levels
}

// Of 247 um, z = 0 in the middle: two copper layers kept at the bottom (layers 6 to 9, 111 um) run from -123.5 to -12.5, their
// neutral surface, 18 copper 50 film 18 copper over 25 film, lies at 68 - 123.5 um but for the soft film below: by hand.
func TestArmsByHand(t *testing.T) {
	core := fourCopper()
	lower := arm(t, "lower", core, 6, 9)
	clad := arm(t, "clad", lower, 1, 3) // 6 to 8 of the core
	foil := arm(t, "foil", clad, 3, 3)  // 8 of the core
	mid := arm(t, "mid", core, 4, 6)
	lv := placed(t, core, foil, mid, clad, lower, rigid("hard", 1, stackup.Embed{Stackup: "clad", Bottom: 0.4}), rigid("plate", 1))
	n := (2.5*25*12.5 + 117*18*34 + 2.5*50*68 + 117*18*102) / (2.5*25 + 2*117*18 + 2.5*50) // above the bottom face
	for name, want := range map[string][3]float64{
		"core": {-123.5, 0, 123.5}, "lower": {-123.5, n - 123.5, -12.5}, "clad": {-98.5, 68 - 123.5, -12.5}, "foil": {-98.5, -89.5, -80.5},
		"mid": {-30.5, 0, 30.5}, "hard": {-498.5, 1.5, 501.5}, "plate": {-500, 0, 500},
	} {
		for i, got := range [3]float64{lv[name].Bottom, lv[name].Neutral, lv[name].Top} {
			near(t, name, 1000*got, want[i], 1e-9)
		}
	}
}

// Whichever of the stack-ups is the flex, and whichever of them run through a rigid one, all lie the same to each other.
func TestArmsHangTogether(t *testing.T) {
	core := fourCopper()
	upper, lower := arm(t, "upper", core, 1, 4), arm(t, "lower", core, 6, 9)
	all := []stackup.Stackup{core, upper, lower}
	for _, held := range []string{"core", "upper", "lower"} {
		for first := range all {
			hard := rigid("hard", 1, stackup.Embed{Stackup: held, Bottom: 0.3})
			lv := placed(t, slices.Concat(all[first:first+1], all[:first], all[first+1:], []stackup.Stackup{hard})...)
			near(t, "flex", lv[all[first].Name].Neutral, 0, 1e-15)
			near(t, "tops", lv["upper"].Top, lv["core"].Top, 1e-12)
			near(t, "bottoms", lv["lower"].Bottom, lv["core"].Bottom, 1e-12)
			near(t, "between", lv["upper"].Bottom-lv["lower"].Top, 0.025, 1e-12)
			near(t, "hard", lv[held].Bottom-lv["hard"].Bottom, 0.3, 1e-12)
		}
	}
	// without the whole flex in the design nothing says how its arms lie to each other
	lv := placed(t, upper, lower)
	near(t, "left alone", lv["lower"].Neutral, 0, 1e-15)
}

// A ply that is there once lies in its pile, and the pile where its plies lie.
func TestPliesLieInTheirPile(t *testing.T) {
	core := fourCopper()
	upper, lower := arm(t, "upper", core, 1, 4), arm(t, "lower", core, 6, 9)
	book := stackup.Loose([]stackup.Stackup{upper, lower}, 0.025, false)
	book.Name = "book"
	lv := placed(t, core, upper, lower, book)
	near(t, "bottom", lv["book"].Bottom, lv["core"].Bottom, 1e-12)
	near(t, "top", lv["book"].Top, lv["core"].Top, 1e-12)
	near(t, "middle", lv["book"].Neutral, 0, 1e-12)
	sheet := stackup.Stackup{Name: "sheet", Layers: plain(0.1)}
	twice := stackup.Loose([]stackup.Stackup{sheet, sheet}, 0.1, false)
	twice.Name = "twice"
	lv = placed(t, twice, sheet)
	near(t, "a ply that is there twice", lv["sheet"].Neutral, 0, 1e-15)
}

func TestHeightsThatDisagree(t *testing.T) {
	core := fourCopper()
	lower, upper := arm(t, "lower", core, 6, 9), arm(t, "upper", core, 1, 4)
	book := stackup.Loose([]stackup.Stackup{upper, lower}, 0.05, false)
	book.Name = "book"
	other := stackup.Stackup{Name: "other", Layers: plain(0.1)}
	for _, c := range []struct {
		stacks []stackup.Stackup
		want   string
	}{
		{[]stackup.Stackup{core, lower, rigid("hard", 1, stackup.Embed{Stackup: "core", Bottom: 0.3}, stackup.Embed{Stackup: "lower", Bottom: 0.1})},
			"stack-up lower lies -0.0563 above core by the layers that lower keeps but -0.2563 in hard"},
		{[]stackup.Stackup{core, other, rigid("a", 1, stackup.Embed{Stackup: "core"}, stackup.Embed{Stackup: "other", Bottom: 0.5}),
			rigid("b", 1, stackup.Embed{Stackup: "other", Bottom: 0.6}, stackup.Embed{Stackup: "core"})}, "stack-up other lies 0.4265 above core in a but 0.5265 in b"},
		{[]stackup.Stackup{core, upper, lower, book}, "where its ply upper lies but"},
	} {
		d := &Design{Flex: "core", Stackups: c.stacks}
		_, ps := d.levels()
		if len(ps) != 1 || !strings.Contains(ps[0].What, c.want) || ps[0].Hint == "" {
			t.Errorf("%+v, want %s", ps, c.want)
		}
	}
}

// ringOf is a frame whose two long arms lie under one hinge line, the upper one an arm of the flex that keeps these layers.
func ringOf(t testing.TB, angle float64, from, to int) *Tree {
	t.Helper()
	d := frame(hinge("a", 30, -1, 30, 41, angle)).design(t)
	core := fourCopper()
	d.Flex, d.Stackups = "core", []stackup.Stackup{core, arm(t, "arm", core, from, to)}
	d.Sections = []Section{{Name: "arm", Stackup: "arm", Area: rect(10, 30, 50, 41)}}
	tree, ps := Divide(d)
	if ps != nil {
		t.Fatal(ps)
	}
	return tree
}

// An arm of the middle layers has its neutral surface on that of the whole flex: one line over both closes, with one neutral
// radius, that of the thicker one. An arm of the lower layers has it lower by dz, and the two miss each other by
// 2 dz sin(angle/2): they turn about one line at radii that differ by dz.
func TestWholeFlexAndArmUnderOneLine(t *testing.T) {
	for _, angle := range []float64{90, -90, 150} {
		tree := ringOf(t, angle, 4, 6)
		near(t, "rho", tree.Hinges[0].NeutralRadius, 1.5+0.1235, 1e-12)
		if len(tree.Bends) != 2 || tree.Bends[0].Width != tree.Bends[1].Width || tree.Bends[0].Stackup == tree.Bends[1].Stackup {
			t.Fatalf("%+v", tree.Bends)
		}
		for _, c := range tree.place(t, 1).Closures() {
			near(t, "middle layers", c.Off, 0, 1e-9)
		}
		tree = ringOf(t, angle, 6, 8)
		dz := 0.1235 - 0.068
		for _, c := range tree.place(t, 1).Closures() {
			near(t, "lower layers", c.Off, 2*dz*math.Sin(math.Abs(angle)/2*math.Pi/180), 1e-9)
		}
	}
}

// Two arms side by side, of one flex, over one line: one neutral radius serves both, each lies where its layers do, and the
// thinner one's inside radius is the larger.
func TestTwoArmsOverOneLine(t *testing.T) {
	s := spec{outline: pts(0, 0, 10, 0, 40, 0, 40, 4, 10, 4, 10, 6, 40, 6, 40, 10, 0, 10), hinges: []Hinge{hinge("n", 25, -1, 25, 11)}, base: flat.Pt{X: 1, Y: 1}}
	d := s.design(t)
	core := fourCopper()
	d.Flex, d.Stackups = "core", []stackup.Stackup{core, arm(t, "upper", core, 1, 4), rigid("hard", 1, stackup.Embed{Stackup: "core", Bottom: 0.3})}
	d.Sections = []Section{{Name: "thin", Stackup: "upper", Area: rect(12, 5, 41, 11)}, {Name: "plate", Stackup: "hard", Area: rect(-1, -1, 8, 11)}}
	tree, ps := Divide(d)
	if ps != nil {
		t.Fatal(ps)
	}
	lv := tree.Levels["upper"]
	near(t, "top", lv.Top, 0.1235, 1e-12)
	inner := max(0.1235, lv.Top-lv.Neutral)
	near(t, "rho", tree.Hinges[0].NeutralRadius, 1.5+inner, 1e-12)
	for _, b := range tree.Bends {
		top := tree.Levels[b.Stackup]
		near(t, b.Stackup, b.InsideRadius, 1.5+inner-(top.Top-top.Neutral), 1e-12)
		near(t, b.Stackup, b.Height, top.Neutral, 1e-12)
	}
	if tree.Bends[0].Stackup != "core" || tree.Bends[1].Stackup != "upper" || tree.Bends[1].InsideRadius < 1.5 {
		t.Errorf("%+v", tree.Bends)
	}
}
