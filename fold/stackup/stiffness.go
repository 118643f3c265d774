package stackup

import "math"

// Poisson is Poisson's ratio of polyimide film and of copper alike (0.34: film makers' published data; copper recalled).
const Poisson = 0.34

// Stiffness returns the bending stiffness of a strip per mm of width, EI/b in N.mm, and whether it is known: false for a
// stack-up that is, or holds, a sheet given by its thickness alone, and for one without any stiffness. The sum of E t (d^2 + t^2/12) over the layers, d the
// distance from a layer's middle to the neutral surface (transformed section, exact in the package's model). It is that
// of a narrow strip; a wide one, kept from curling across, is PlaneStrain times as stiff. Loose plies add up, each about its own
// neutral surface: they slide on each other without friction.
func (s Stackup) Stiffness() (float64, bool) {
	if s.plain() {
		return 0, false
	}
	sum := 0.0
	for _, l := range s.leaves(Top) {
		sum += l.stiffness()
	}
	if !(sum > 0) || math.IsInf(sum, 1) {
		return 0, false
	}
	return sum, true
}

// stiffness returns that of a laminate as one piece.
func (s Stackup) stiffness() float64 {
	ei, y, neutral := 0.0, s.Thickness(), s.Neutral()
	for _, l := range s.Layers {
		d := y - l.Thickness/2 - neutral
		ei += 1000 * l.Modulus * l.Thickness * (d*d + l.Thickness*l.Thickness/12)
		y -= l.Thickness
	}
	return ei
}

// plain reports whether s is, or as a rigid one or a pile holds, a sheet given by its thickness alone: its modulus is a
// placeholder.
func (s Stackup) plain() bool {
	for _, p := range s.Plies {
		if p.plain() {
			return true
		}
	}
	for _, l := range s.Layers {
		if s.Rigid && l.Material == "" && l.Modulus == 1 {
			return true
		}
	}
	return s.Plain
}

// PlaneStrain returns 1/(1-nu^2): how much stiffer a strip is that is wide against the square root of its radius times
// its thickness, and so bends without curling across (plate theory). 1.131 for nu = Poisson, and exact for a laminate only when
// all layers have that ratio; NaN unless -1 < nu <= 0.5.
func PlaneStrain(nu float64) float64 {
	if !(nu > -1 && nu <= 0.5) {
		return math.NaN()
	}
	return 1 / (1 - nu*nu)
}

// HoldingMoment returns the moment in N.mm that holds a strip of this width (mm) on a cylinder: stiffness (per width, N.mm)
// over neutral radius (mm), times width; width 1 gives it per mm. Exact while everything stays elastic: for flex freshly
// bent an upper bound, since copper yields and films creep (for a wide strip with PlaneStrain in the stiffness). Not known
// for input that is not positive.
func HoldingMoment(stiffness, neutralRadius, width float64) (float64, bool) {
	if !positive(stiffness, neutralRadius, width) {
		return 0, false
	}
	return stiffness / neutralRadius * width, true
}

// squeeze is the force per width of a strip folded back between two parallel plates, times gap^2 and over EI: half the square
// of the integral of sqrt(sin t) from 0 to pi, = pi (Gamma(3/4)/Gamma(5/4))^2 / 2.
const squeeze = 2.87108004418452

// SqueezingForce returns the force in N with which a strip of this width (mm), folded back into a U between two parallel
// plates on which its ends are free to slide, pushes them apart: 2.87108 EI/D^2 per width, with D the gap between the
// neutral surfaces of the two legs (clear gap plus twice the distance from the concave face to the neutral surface) and the
// stiffness per width in N.mm. Exact for an elastic strip (the elastica, as in two-point bending of fibres); for flex freshly
// bent an upper bound, as for HoldingMoment. Not known for input that is not positive.
func SqueezingForce(stiffness, gap, width float64) (float64, bool) {
	if !positive(stiffness, gap, width) {
		return 0, false
	}
	return squeeze * stiffness / (gap * gap) * width, true
}

// positive reports whether all values are positive numbers.
func positive(values ...float64) bool {
	for _, v := range values {
		if !(v > 0) || math.IsInf(v, 1) {
			return false
		}
	}
	return true
}
