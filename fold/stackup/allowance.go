package stackup

import "math"

// BendAllowance returns the developed length in mm of a bend by angle (degrees): angle in radians times the neutral radius,
// inside radius plus inner (mm, Stackup.Inner; K times thickness in the words of sheet metal). Exact for a neutral surface
// that does not stretch. NaN unless angle, radius and inner are 0 or more.
//
// Sheet metal draws K from tables since metal thins in tight bends; from an inside radius of about six thicknesses on all
// agree on 0.5 (DIN 6935). Flex is always there, and its K comes from its layers.
func BendAllowance(angle, radius, inner float64) float64 {
	if !(angle >= 0 && radius >= 0 && inner >= 0) {
		return math.NaN()
	}
	return angle * (math.Pi / 180) * (radius + inner)
}

// SetBack returns the distance in mm from a tangent line to the virtual corner of the outer faces: (R + t) tan(angle/2), angle
// in degrees (rotation, not included angle). NaN unless 0 <= angle < 180 (the faces then have a corner), radius and
// thickness 0 or more.
func SetBack(angle, radius, thickness float64) float64 {
	if !(angle >= 0 && angle < 180 && radius >= 0 && thickness >= 0) {
		return math.NaN()
	}
	return (radius + thickness) * math.Tan(angle*(math.Pi/360))
}

// BendDeduction returns what is taken off the sum of two outside dimensions for the bend between them: twice SetBack less
// BendAllowance, mm. NaN where either is.
func BendDeduction(angle, radius, thickness, inner float64) float64 {
	return 2*SetBack(angle, radius, thickness) - BendAllowance(angle, radius, inner)
}

// FlatLength returns the length of the blank in mm: the sum of the outside dimensions less the deductions of the bends.
func FlatLength(outside, deductions []float64) float64 {
	sum := 0.0
	for _, x := range outside {
		sum += x
	}
	for _, x := range deductions {
		sum -= x
	}
	return sum
}

// LegGrowth returns by how much a leg, measured to the virtual corner of the neutral surface, is longer after bending about
// a radius than after creasing on the same line: Rn (tan(a/2) - a/2), mm. A creased paper model is short by it at each
// leg. NaN unless 0 <= angle < 180 degrees and neutralRadius 0 or more.
func LegGrowth(angle, neutralRadius float64) float64 {
	return SetBack(angle, neutralRadius, 0) - BendAllowance(angle/2, neutralRadius, 0)
}
