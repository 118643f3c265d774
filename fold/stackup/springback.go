package stackup

import "math"

// Yield holds the stresses in MPa beyond which layers give way.
type Yield struct {
	Copper float64
	Film   float64 // of every layer that is not copper; 0 = films stay elastic
}

// PolyimideYield is the yield stress of polyimide film in MPa, reached at about 3 % strain (a maker's data, PMDA-ODA type).
const PolyimideYield = 69

// Springback says how much of its angle a bend keeps when it is let go. The share does not depend on the angle.
type Springback struct {
	Retained float64 // layers yield again on the way back where they must, and forces along the strip balance
	Elastic  float64 // with an elastic way back and the neutral surface held where it is while elastic: moment/(stiffness x curvature) is lost
}

// Springback returns the share of its angle that a laminate keeps after being formed on a cylinder of this inside radius in
// mm and let go, and whether it is known: false for a stack-up given by its thickness alone, for a negative radius, and for
// copper without a yield stress.
//
// Layers are elastic up to their yield stress and give way at constant stress beyond. Retained follows the laminate there
// and back: formed, its neutral surface lies where the forces balance; let go, it opens until neither force nor moment is
// left, and a layer that is carried past its yield stress the other way yields again. Exact for a symmetric laminate; else
// the neutral surface wanders while the flex is formed, which is left out: against following every fibre on its way that
// cost up to 0.003 of the angle in covered flex and 0.04 in bare clad with films that stay elastic.
//
// Elastic is the published form for a single sheet carried over to laminates: simpler, never less than Retained in a
// symmetric laminate, and much too high where thin copper is to hold stiff films, since on its way back the copper would
// bear many times its yield stress. For one sheet both are the same, and equal to SheetSpringback.
//
// Loose plies are formed each to its own radius about its own neutral surface; tied at their ends they then lose one share of
// the angle in common, that at which their moments together are nil. Nothing rubs.
//
// Limits: films elastic and films yielding bracket real films, often widely; copper hardens, films creep back with time and
// heat; neither is modelled. Formed flex is not expected to hold an exact angle: let the hardware hold it.
func (s Stackup) Springback(inside Side, radius float64, y Yield) (Springback, bool) {
	if _, known := s.Stiffness(); !known || !(radius >= 0) || !(y.Film >= 0) {
		return Springback{}, false
	}
	if _, copper := s.CopperReach(); copper && !positive(y.Copper) {
		return Springback{}, false
	}
	var plies []bentPly
	held, elastic := 0.0, 0.0
	for _, l := range s.leaves(inside) {
		f, k, neutral := l.fibres(y), 1/(radius+l.below+l.Inner(inside)), l.Neutral()
		if len(f) == 0 || !positive(k) {
			return Springback{}, false
		}
		plies = append(plies, bentPly{f, f.form(k)})
		force, moment := f.load(strain{k, neutral}, strain{})
		held += moment - force*neutral
		elastic += l.stiffness() * k
	}
	return Springback{Retained: max(0, 1-release(plies)), Elastic: min(1, max(0, 1-held/elastic))}, true
}

// SheetSpringback returns the share of its angle that one sheet keeps after being formed to a radius (of its middle, mm):
// 1 - 3X + 4X^3 with X = Y R/(E t), yield in MPa, modulus in GPa (elastic, perfectly plastic sheet; the closed form found in
// texts on sheet metal). 0 from X = 0.5 on: it never yields. Not known for input that is not positive.
func SheetSpringback(yield, modulus, radius, thickness float64) (float64, bool) {
	if !positive(yield, modulus, radius, thickness) {
		return 0, false
	}
	x := yield * radius / (1000 * modulus * thickness)
	if x >= 0.5 {
		return 0, true
	}
	return 1 - 3*x + 4*x*x*x, true
}

// FormingAngle returns the angle to form, in degrees, for a finished angle when this share of it is retained; not known
// unless 0 < retained <= 1. Beyond half a turn or so no former reaches it: the flex cannot be made to stay by bending alone.
func FormingAngle(finished, retained float64) (float64, bool) {
	if !(retained > 0 && retained <= 1) || math.IsNaN(finished) || math.IsInf(finished, 0) {
		return 0, false
	}
	return finished / retained, true
}
