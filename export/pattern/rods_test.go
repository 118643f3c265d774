package pattern

import (
	"math"
	"slices"
	"strings"
	"testing"

	"foldfit/fold"
)

// Values by hand. Leg growth over a crease: Rn (tan(a/2) - a/2), so 0.21460 Rn at 90 and 0.05375 Rn at 60 degrees (computed). At half
// a turn the gap between the legs is twice the neutral radius.
func TestRodValues(t *testing.T) {
	const rn = 1.6
	for _, c := range []struct{ angle, growth, miss float64 }{
		{60, 0.05375 * rn, 2 * math.Cos(math.Pi/6) * 0.05375 * rn}, {90, 0.21460 * rn, math.Sqrt2 * 0.21460 * rn}, {180, math.Inf(1), 2 * rn}, {-180, math.Inf(1), 2 * rn},
	} {
		r := RodOf(c.angle, rn*math.Abs(c.angle)*math.Pi/180, 0.1)
		if math.Abs(r.Diameter-3.1) > 1e-9 || math.Abs(r.Drill-3.1) > 1e-9 || r.Inch != 8 || r.Thin() {
			t.Errorf("%v degrees: %+v, want a rod of 3.1 and a drill of 8/64", c.angle, r)
		}
		if r.Growth != c.growth && math.Abs(r.Growth-c.growth) > 1e-5 || math.Abs(r.Miss-c.miss) > 2e-5 {
			t.Errorf("%v degrees: growth %v, miss %v; want %v, %v", c.angle, r.Growth, r.Miss, c.growth, c.miss)
		}
	}
	if r := RodOf(180, rn*math.Pi, 0.1); math.Abs(r.InchOff-0.075) > 1e-9 { // 3.175 for 3.1: the gap is larger by the difference
		t.Errorf("1/8 in for 3.1 mm puts the part %v off, want 0.075", r.InchOff)
	}
	if r := RodOf(90, 0.1, 0.1); !r.Thin() || r.words() != "crease" {
		t.Errorf("a rod for a neutral radius of 0.064: %+v", r)
	}
	if RodOf(0, 3, 0.1) != (Rod{}) {
		t.Error("a hinge that is not bent has a rod")
	}
}

func TestInches(t *testing.T) {
	for n, want := range map[int]string{1: "1/64 in", 8: "1/8 in", 13: "13/64 in", 64: "1 in", 82: "1 9/32 in", 128: "2 in"} {
		if got := inches(n); got != want {
			t.Errorf("%d/64 is written %q, want %q", n, got, want)
		}
	}
}

// The page names step, rod and card.
func TestHelpIsOnThePage(t *testing.T) {
	d := beacon(t)
	d.Sequence = []fold.Step{{Board: true}, {Bend: []fold.HingeAngle{{Hinge: "neck", Angle: 190}}}, {Bend: []fold.HingeAngle{{Hinge: "neck", Angle: 180}}}}
	_, page := shown(t, d, Options{})
	words := allWords(page)
	for _, w := range []string{
		"neck: 180 toward TOP, r 1.50 inside\nsteps 2, 3 of 3, rod 3.10 mm", // neutral radius 1.5 + 0.2/2, less half of 0.1
		"main, rigid 1.2, base, glue card 0.55 on both sides",               // (1.2 - 0.1) / 2
	} {
		if !strings.Contains(words, w) {
			t.Errorf("the page does not say %q", w)
		}
	}
	if !slices.Contains(strings.Split(words, "\n"), "2, 3") {
		t.Error("the table has no steps")
	}
}
