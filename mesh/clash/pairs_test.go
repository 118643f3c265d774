package clash

import (
	"fmt"
	"math"
	"testing"

	"foldfit/fold"
	"foldfit/fold/finding"
)

func TestPairs(t *testing.T) {
	with := func(pairs []fold.Pair) Result {
		a := board(t, strip(180, 1.5, "clearance: {enclosure: 0.5}\ncomponents: {U1: {side: bottom, at: [5, 5], size: [2, 2, 1.3]}}\n"), 0.01)
		a.Folded.Tree.Design.Clearance.Pairs = pairs
		return Check(a, []Wall{wall("tray", 0, 0, -2, 20, 10, -1), wall("lid", 0, 0, 3.5, 20, 10, 4)})
	}
	// U1 digs 0.4 into the tray; flat-2 is 0.2 from the lid; flat-1 is 0.9 from the tray.
	base := []string{"clearance flex:flat-2 enclosure:lid", "contact component:U1 enclosure:tray"}
	pair := func(a, b string, gap float64) fold.Pair { return fold.Pair{Between: [2]string{a, b}, Gap: gap} }
	cases := []struct {
		pairs []fold.Pair
		want  []string
	}{
		{nil, base},
		{[]fold.Pair{pair("U1", "tray", -0.4)}, base[:1]},
		{[]fold.Pair{pair("U1", "tray", -0.39)}, base},
		{[]fold.Pair{pair("U1", "tray", 0)}, base},
		{[]fold.Pair{pair("flex:flat-2", "lid", 0.2)}, base[1:]},
		{[]fold.Pair{pair("enclosure:lid", "flat-2", 0.2)}, base[1:]},
		{[]fold.Pair{pair("*", "lid", 0.1)}, base[1:]},
		{[]fold.Pair{pair("*", "lid", 0.3), pair("lid", "flex:flat-2", 0.1)}, base[1:]},
		{[]fold.Pair{pair("lid", "flex:flat-2", 0.3), pair("*", "lid", 0.1)}, base},
	}
	for _, c := range cases {
		r := with(c.pairs)
		got := rules(r)
		if len(got) != len(c.want) || !sameRules(got, c.want) {
			t.Errorf("%v: %q, want %q", c.pairs, got, c.want)
		}
		if find(r, "component:U1", "enclosure:tray") == nil || find(r, "flex:flat-2", "enclosure:lid") == nil {
			t.Errorf("%v: an allowed gap is not listed: %+v", c.pairs, r.Gaps)
		}
	}
}

// sameRules compares findings without order.
func sameRules(a, b []string) bool {
	n := 0
	for _, x := range a {
		for _, y := range b {
			if x == y {
				n++
			}
		}
	}
	return n == len(b)
}

func TestUnusedPairs(t *testing.T) {
	d := &fold.Design{
		Components: []fold.Component{{Name: "U7"}},
		Clearance: fold.Clearance{Pairs: []fold.Pair{
			{Between: [2]string{"U7", "tray"}}, {Between: [2]string{"U8", "tray"}, Place: finding.Place{Line: 7}},
			{Between: [2]string{"tray", "tray"}, Place: finding.Place{Line: 8}}, {Between: [2]string{"*", "enclosure:t*y"}},
		}},
	}
	c := &checker{tree: &fold.Tree{Design: d}, members: []*member{{name: "section:main"}, {name: "enclosure:tray"}}}
	got := c.unusedPairs()
	if len(got) != 2 || got[0].Place.Line != 7 || got[1].Place.Line != 8 || got[0].Severity != finding.Warning || got[0].Rule != "clearance-unused" {
		t.Errorf("%+v", got)
	}
}

func TestUnitsOfMessages(t *testing.T) {
	c := &checker{tree: &fold.Tree{Design: &fold.Design{}}}
	check := func(got, want string) {
		t.Helper()
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	check(c.mm(0.35), "0.35 mm")
	check(c.mm(0.00004), "4e-05 mm")
	check(c.up(0.12345), "0.124 mm")
	check(c.up(0.35), "0.35 mm")
	check(c.down(0.12399), "0.123")
	check(c.point(vec{-1e-9, 1.23456, 2}), "(0, 1.235, 2)")
	check(direction(vec{0, 0, -1}), "-z")
	check(direction(vec{0.6, -0.8, 0}), "(0.60, -0.80, 0.00)")
	c.tree.Design.Units = fold.Inch
	check(c.mm(25.4), "1 in")
	c.tree.Design.Units = fold.Mil
	check(c.mm(0.0254*3.14159), "3.14 mil")
}

func TestPositive(t *testing.T) {
	for _, x := range positive(vec{math.Copysign(0, -1), math.Copysign(0, -1), math.Copysign(0, -1)}) {
		if math.Signbit(x) {
			t.Error("a negative zero is left")
		}
	}
}

// Every contact is found, however many there are and whatever else touches, also where only contact is judged: posts
// through a plate that rests on a floor, beside an allowed press fit, in any order.
func TestEveryContactIsFound(t *testing.T) {
	src := "outline: [[0, 0], [40, 0], [40, 10], [0, 10]]\nstackups: {f: {thickness: 0.2}}\nflex: f\n"
	floor := wall("floor", -1, -1, -2, 41, 11, -0.1)
	press := wall("press", -1, -1, -2, 5, 11, -0.05)
	post := func(name string, x float64) Wall { return wall(name, x, 4, -3, x+2, 6, 3) }
	a, b, c := post("a", 14), post("b", 24), post("c", 34)
	contact := func(names ...string) []string {
		var out []string
		for _, n := range names {
			out = append(out, "contact flex:flat-1 enclosure:"+n)
		}
		return out
	}
	for _, one := range []struct {
		name  string
		pairs []fold.Pair
		walls []Wall
		want  []string
	}{
		{"three posts", nil, []Wall{a, b, c}, contact("a", "b", "c")},
		{"floor first", nil, []Wall{floor, a, b}, contact("a", "b")},
		{"floor last", nil, []Wall{a, b, floor}, contact("a", "b")},
		{"press fit and a post", []fold.Pair{{Between: [2]string{"press", "*"}, Gap: -0.1}}, []Wall{press, a}, contact("a")},
	} {
		as := board(t, src, 0.01)
		as.Folded.Tree.Design.Clearance.Pairs = one.pairs
		if got := rules(Check(as, one.walls)); len(got) != len(one.want) || !sameRules(got, one.want) {
			t.Errorf("%s: %q, want %q", one.name, got, one.want)
		}
	}
}

// A part that stands on its flat and reaches over the tangent line is hit by the flex that rises there; one whose place is
// in the bend rides on it.
func TestPartReachingOverABend(t *testing.T) {
	part := func(x, size float64) Result {
		return Check(board(t, strip(90, 2, fmt.Sprintf("components: {U1: {side: top, at: [%v, 5], size: [%v, 4, 2]}}\n", x, size)), 0.01), nil)
	}
	r := part(28, 4)
	expect(t, "reaching over", r, "contact component:U1 bend:neck")
	expect(t, "beside", part(26, 4))
	expect(t, "riding", part(30, 1))
}
