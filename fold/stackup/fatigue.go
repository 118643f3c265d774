package stackup

import "math"

// Life is a number of bending cycles. It is a mean of strongly scattered lives: the band is a factor of ten each way.
type Life struct {
	Cycles    float64 // mean; below 1 the foil breaks in the first bend
	Low, High float64 // a tenth and ten times the mean
	Elastic   float64 // share of the strain range that is elastic; above a half the figure rests on strength and modulus and says little
}

// scatter is the factor each way within which real lives lie about the mean (recalled: a factor of ten is not unusual).
const scatter = 10

// Life returns how many cycles the foil lives under a strain range (a fraction; from flat to bent and back: the strain of
// the bend; between two curvatures: CopperReach times their difference), and whether that is known: false unless strain
// range, ductility, strength and modulus are positive. It solves Engelmaier's relation
//
//	de = N^-0.6 Df^0.75 + 0.9 (Su/E) (exp(Df)/0.36)^(0.1785 log10(1e5/N))
//
// for N, to rounding. The relation is recalled (that for plated holes, IPC-TR-579, has the same form); foil tests after
// IPC-TM-650 2.4.2.1 and 2.4.3.2 rest on it. A model of bare foil in full reversals: foil on film lives longer, edges, holes
// and plating shorten life. Order of magnitude only.
func (f Foil) Life(strainRange float64) (Life, bool) {
	if !f.known() || !positive(strainRange) {
		return Life{}, false
	}
	plastic, elastic := f.terms()
	// In x = ln N both terms are falling exponentials, their sum is convex; from the left Newton's method cannot overshoot.
	x := max(plastic.at(strainRange), elastic.at(strainRange))
	for range 100 {
		p, e := plastic.value(x), elastic.value(x)
		step := (p + e - strainRange) / (plastic.slope*p + elastic.slope*e)
		x += step
		if !(step > 1e-15*(1+math.Abs(x))) {
			break
		}
	}
	n := math.Exp(x)
	return Life{Cycles: n, Low: n / scatter, High: n * scatter, Elastic: elastic.value(x) / strainRange}, true
}

// StrainRange returns the strain range (a fraction) that the foil bears for a mean number of cycles: the inverse of Life,
// with the same trust; not known unless everything is positive.
func (f Foil) StrainRange(cycles float64) (float64, bool) {
	if !f.known() || !positive(cycles) {
		return 0, false
	}
	plastic, elastic := f.terms()
	return plastic.value(math.Log(cycles)) + elastic.value(math.Log(cycles)), true
}

// MandrelRange returns the strain range of bare foil bent to and fro over mandrels: 2 t/(2 rho + t), both in mm (the foil
// test of IPC-TM-650 2.4.2.1, recalled; it follows from plane sections). NaN unless both are positive.
func MandrelRange(mandrelRadius, thickness float64) float64 {
	if !positive(mandrelRadius, thickness) {
		return math.NaN()
	}
	return 2 * thickness / (2*mandrelRadius + thickness)
}

func (f Foil) known() bool { return positive(f.Ductility, f.Strength, f.Modulus) }

// power is one term of the relation: factor * N^-slope.
type power struct{ factor, slope float64 }

// terms returns the plastic and the elastic term of the relation.
func (f Foil) terms() (plastic, elastic power) {
	slope := 0.1785 * math.Log10(math.Exp(f.Ductility)/0.36)
	return power{math.Pow(f.Ductility, 0.75), 0.6},
		power{0.9 * f.Strength / (1000 * f.Modulus) * math.Exp(slope*math.Log(1e5)), slope}
}

// value returns the term at ln N = x.
func (p power) value(x float64) float64 { return p.factor * math.Exp(-p.slope*x) }

// at returns the ln N at which the term alone has this value.
func (p power) at(value float64) float64 { return math.Log(p.factor/value) / p.slope }
