package stackup

import (
	"math"
	"testing"
)

// Bend allowances with their sources. The first four are published for sheet metal; the rest computed apart from Phi (R + K t).
func TestBendAllowance(t *testing.T) {
	for _, c := range []struct {
		name                    string
		angle, radius, thick, k float64
		want, within            float64
	}{
		{"a bend-allowance page, mm", 90, 3, 2, 0.33, 5.75, 0.005},
		{"an advisory circular's example, in", 90, 0.25, 0.025, 0.5, 0.413, 0.001},
		{"a web summary of low trust, mm", 90, 3, 3, 0.36, 6.41, 0.005},
		{"airframe handbook's channel, in", 90, 0.16, 0.040, 0.5, 0.2827, 0.00006},
		{"flex at 90", 90, 3, 0.3, 0.5, 4.94801, 1e-5},
		{"flex at 180", 180, 1.5, 0.2, 0.5, 5.02655, 1e-5},
		{"flex at 45", 45, 2, 0.15, 0.5, 1.62970, 1e-5},
		{"flex at 135", 135, 1, 0.11, 0.5, 2.48579, 1e-5},
	} {
		near(t, c.name, BendAllowance(c.angle, c.radius, c.k*c.thick), c.want, c.within)
	}
}

// Radius 0.032, thickness 0.050 in, 90 degrees: allowance 0.085 and deduction 0.079 in by the aircraft formula
// (0.01743 R + 0.0078 T) N, which is ours with K = 0.0078/0.01743 = 0.4469 to rounding of its factors.
func TestAircraftFormula(t *testing.T) {
	const radius, thick, k = 0.032, 0.050, 0.4469
	formula := (0.01743*radius + 0.0078*thick) * 90
	near(t, "published allowance", formula, 0.085, 0.0005)
	ours := BendAllowance(90, radius, k*thick)
	near(t, "allowance", ours, 0.085, 0.0005)
	near(t, "ours and the formula", ours, formula, 0.0002)
	near(t, "deduction", BendDeduction(90, radius, thick, k*thick), 0.079, 0.0005)
}

// A published blank: sides of 0.740, 0.420, 1.050 and 1.000 in with three bends of 0.079 are 2.973 in long. And a
// published channel: sides of 1, 2 and 1 in, radius 0.16, thickness 0.040: set-back 0.200, and the flats between tangent lines
// 0.8, 1.6, 0.8 in, which with two allowances make the same blank.
func TestBlanks(t *testing.T) {
	near(t, "blank", FlatLength([]float64{0.740, 0.420, 1.050, 1.000}, []float64{0.079, 0.079, 0.079}), 2.973, 0.0005)
	back := SetBack(90, 0.16, 0.040)
	near(t, "set-back", back, 0.200, 1e-12)
	allowance, deduction := BendAllowance(90, 0.16, 0.020), BendDeduction(90, 0.16, 0.040, 0.020)
	total := (1 - back) + allowance + (2 - 2*back) + allowance + (1 - back)
	near(t, "channel", total, 3.7655, 0.00006)
	near(t, "channel by deductions", FlatLength([]float64{1, 2, 1}, []float64{deduction, deduction}), total, 1e-12)
	near(t, "nothing", FlatLength(nil, nil), 0, 0)
}

// The set-back chart of AC 43.13-1B is tan(A/2); its figure at 176 degrees in one copy, 26.63, is a slip for 28.64.
func TestSetBackChart(t *testing.T) {
	for angle, want := range map[float64]float64{30: 0.2679, 45: 0.4142, 60: 0.5773, 90: 1, 120: 1.732, 135: 2.414, 150: 3.732} {
		near(t, "set-back", SetBack(angle, 1, 0), want, 0.0005)
	}
	near(t, "at 176", SetBack(176, 0.9, 0.1), 28.636, 0.0005)
}

// The ratio rule, two published examples: 300 um at factor 10 and 400 um at factor 25 are radii of 3 and 10 mm; a bare
// sheet of that thickness bent so has the ratio asked for.
func TestRatioRule(t *testing.T) {
	for _, c := range []struct{ thick, ratio, radius float64 }{{0.3, 10, 3}, {0.4, 25, 10}} {
		near(t, "ratio", SamePlies(1, c.thick, 0).Ratios(c.radius)[0], c.ratio, 1e-12)
	}
}

// DIN 6935 (recalled): v = Phi (r + s k/2) - 2 (r + s), k = 0.65 + log10(r/s)/2 up to r/s = 5, 1 beyond. At 90 degrees, s 2,
// r 4: k 0.80051, v -4.45937 mm: ours with K = k/2. From about six thicknesses on K is 0.5, as in flex.
func TestDIN(t *testing.T) {
	k := 0.65 + math.Log10(4.0/2)/2
	near(t, "k", k, 0.80051, 5e-6)
	near(t, "v", -BendDeduction(90, 4, 2, k/2*2), -4.45937, 5e-6)
	near(t, "k at the end", 0.65+math.Log10(5.0)/2, 1, 0.0006)
}

// Stock length of a right-angled bend in soft copper, Machinery's Handbook (recalled): 0.55 T + 1.57 R, 0.1153 in for R 1/16,
// T 1/32; ours with K = 0.350.
func TestMachinery(t *testing.T) {
	near(t, "soft copper", BendAllowance(90, 1.0/16, 0.350/32), 0.1153, 0.0001)
	near(t, "the rule", 0.55/32+1.57/16, 0.1153, 0.00005)
}

// Leg growth over a crease: share of the neutral radius at 45, 60, 90, 120 degrees, and 0.676 mm at 90 degrees, 3.15 mm
// (computed apart): the two ways around the corner differ by twice that.
func TestLegGrowth(t *testing.T) {
	for angle, want := range map[float64]float64{45: 0.02151, 60: 0.05375, 90: 0.21460, 120: 0.68485} {
		near(t, "growth", LegGrowth(angle, 1), want, 0.00001)
		near(t, "corner", 2*LegGrowth(angle, 2), BendDeduction(angle, 2, 0, 0), 1e-12)
	}
	near(t, "growth", LegGrowth(90, 3.15), 0.67600, 0.00001)
	near(t, "flat", LegGrowth(0, 3), 0, 0)
}

func TestAllowanceOfNonsense(t *testing.T) {
	nan := math.NaN()
	for _, x := range []float64{BendAllowance(-1, 1, 0), BendAllowance(90, -1, 0), BendAllowance(90, 1, nan), SetBack(180, 1, 0), SetBack(-1, 1, 0),
		SetBack(90, nan, 0), BendDeduction(180, 1, 0, 0), LegGrowth(180, 1), LegGrowth(90, -1), LegGrowth(nan, 1)} {
		if !math.IsNaN(x) {
			t.Errorf("%v", x)
		}
	}
}
