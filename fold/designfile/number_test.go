package designfile

import (
	"fmt"
	"math"
	"math/big"
	"regexp"
	"strings"
	"testing"
)

// datumX reads one length as the design's datum.
func datumX(t testing.TB, units, value string) (x float64, problem string) {
	t.Helper()
	src := board("units: " + units + "\ndatum: [" + value + ", 0]\n")
	d, _, problems := Parse("x.yaml", []byte(src), Options{})
	if len(problems) > 0 {
		return 0, problems[0].What
	}
	return d.Datum.X, ""
}

func TestLengths(t *testing.T) {
	for _, c := range []struct {
		units, value string
		want         float64
	}{
		{"mm", "0", 0}, {"mm", "-0", 0}, {"mm", "1.5", 1.5}, {"mm", "+5", 5}, {"mm", ".5", 0.5}, {"mm", "-.5", -0.5}, {"mm", "5.", 5}, {"mm", "1e3", 1000}, {"mm", "1.2E-3", 0.0012},
		{"mm", "0.1", 0.1}, {"mm", "100000", 1e5}, {"mm", "-100000", -1e5},
		{"mm", "18 um", 0.018}, {"mm", "18um", 0.018}, {"mm", "18  um", 0.018}, {"mm", "1 mil", 0.0254}, {"mm", "0.062 in", 1.5748}, {"mm", "2 mm", 2},
		{"mm", "1.2 cm", 12}, {"mm", "0.1 m", 100}, {"mm", "-3 mil", -0.0762}, {"mm", `"18 um"`, 0.018}, {"mm", "'1 in'", 25.4}, {"mm", "1e-1 in", 2.54},
		{"in", "1", 25.4}, {"in", "0.062", 1.5748}, {"in", "0.1", 2.54}, {"in", "0.3", 7.62}, {"in", "2 mm", 2}, {"in", "-0.001", -0.0254}, {"in", "3937", 99999.8},
		{"mil", "1", 0.0254}, {"mil", "62", 1.5748}, {"mil", "7", 0.1778}, {"mil", "1 in", 25.4}, {"mil", "0.3", 0.00762},
	} {
		got, problem := datumX(t, c.units, c.value)
		if problem != "" || got != c.want || math.Signbit(got) != (c.want < 0) {
			t.Errorf("%s in %s: %.17g, wants %.17g %s", c.value, c.units, got, c.want, problem)
		}
	}
}

func TestNoLengths(t *testing.T) {
	for _, v := range []string{
		"010", "08", "0x10", "0o10", "0b1", "1_000", ".nan", ".inf", "-.inf", ".NaN", "1e300", "1e999", "-1e6", "100001", "4000 in", "1e300 mm", "101 m",
		"abc", `""`, `"90"`, "'1.5'", "1,5 mm", "1.2.3", "1 2", "--1", "1-1", "1 oz", "1 deg", "1 ft", "1 MM", "1 µm", "mm", "12:30", "true", "null", "~",
		"[1]", "{a: 1}", "2026-11-25", "١٢", "1 mm x", "unknown", "0.5.", "e5", "+", ".", "1e", "Infinity", "NaN",
	} {
		if got, problem := datumX(t, "mm", v); problem == "" || !strings.Contains(problem, "datum") {
			t.Errorf("%q was read as %g, or told as %q", v, got, problem)
		}
	}
}

// A conversion rounds once: the result is the double nearest to the exact decimal value.
func TestConversionsAreExact(t *testing.T) {
	for _, u := range append(lengths[:len(lengths):len(lengths)], ounce) {
		for i := range 5000 {
			text := fmt.Sprintf("%d.%04d", i*7%1000, i*i%10000)
			exact, _ := new(big.Rat).SetString(text)
			want, _ := exact.Mul(exact, big.NewRat(u.num, u.den)).Float64()
			if got := convert(text, u.num, u.den); got != want {
				t.Fatalf("%s %s: %.17g, wants %.17g", text, u.name, got, want)
			}
		}
	}
	// far out, and with too many digits, two roundings are enough and nothing takes long
	for _, text := range []string{"1e-300", "1e300", "1e-400", "1." + strings.Repeat("3", 5000), "1e999999999", "0e999999999"} {
		got, want := convert(text, 254, 10), convert(text, 1, 1)*25.4
		if got != want && !(math.Abs(got-want) <= 1e-15*math.Abs(want)) {
			t.Errorf("%.20s: %g, wants %g", text, got, want)
		}
	}
}

func TestOtherQuantities(t *testing.T) {
	d := parse(t, board(`hinges: {a: {line: [[1, 0], [1, 5]], angle: 45 deg, radius: 1, cycles: 1e5}}
components: {c: {at: [1, 1], size: [1, 1, 1], mass: 0.5 kg}, e: {at: [1, 1], size: [1, 1, 1], mass: 250 mg}}
materials: {m: {modulus: 2500 MPa, density: 1420 kg/m3}}
`))
	if d.Hinges[0].Angle != 45 || d.Hinges[0].Cycles != 1e5 || d.Components[0].Mass != 500 || d.Components[1].Mass != 0.25 || d.Materials[0].Modulus != 2.5 || d.Materials[0].Density != 1.42 {
		t.Errorf("%+v %+v %+v", d.Hinges[0], d.Components, d.Materials)
	}
	for _, more := range []string{
		"hinges: {a: {line: [[1, 0], [1, 5]], angle: 1 rad, radius: 1}}", "hinges: {a: {line: [[1, 0], [1, 5]], angle: 45, radius: 90 deg}}",
		"stackups2: {}", "components: {c: {at: [1, 1], size: [1, 1, 1], mass: 1 mm}}", "place: {turn: [1 mm, 0, 0]}",
	} {
		if _, _, problems := Parse("x.yaml", []byte(board(more)), Options{}); len(problems) != 1 {
			t.Errorf("%s: %s", more, tell(problems))
		}
	}
}

// The number that a text begins with is what the schema's pattern says.
func FuzzDecimal(f *testing.F) {
	pattern := regexp.MustCompile(`^[-+]?` + mantissa + exponent)
	for _, s := range []string{"", "0", "01", "-1.5 mm", "+.5e3", "1.", ".", "-", "1e", "1e+", "1E-05x", "0.0.", "..1", "9e9e9", "00", "-0", "1_0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if got, want := decimal(s), pattern.FindString(s); got != want {
			t.Errorf("%q: %q, wants %q", s, got, want)
		}
	})
}

func FuzzConvert(f *testing.F) {
	for _, s := range []string{"0", "1.5", "-0.062", "1e5", "3."} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		number := decimal(s)
		if number == "" {
			return
		}
		v := convert(number, 254, 10)
		if plain := convert(number, 1, 1); !math.IsInf(plain*25.4, 0) && !(math.Abs(v-plain*25.4) <= 1e-15*math.Abs(v)+1e-320) {
			t.Errorf("%s in is %g mm", number, v)
		}
	})
}
