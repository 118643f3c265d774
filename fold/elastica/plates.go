package elastica

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Squeezed is a U pressed between two parallel plates on which its ends slide freely.
type Squeezed struct {
	MinRadius float64 // at the apex; the strip is straight where it leaves the plates
	Arc       float64 // length between the two places where it leaves them
	Reach     float64 // from there to the apex
	Force     float64 // squeezing force/EI
}

// TwoPlates returns the U between plates whose distance, between the strip's neutral surfaces, is d. Exact: every length is a
// constant times d (1/MinRadius = 2.396280469.../d, the integral of sqrt(sin t) from 0 to pi). A distance that is not above 0
// and finite is an error.
func TwoPlates(d float64) (Squeezed, error) {
	if !(d > 0) || math.IsInf(d, 0) {
		return Squeezed{}, fmt.Errorf("the plates' distance must be above 0, it is %g", d)
	}
	h := newHalf(180)
	h.setEnd(0)
	scale := d / 2 / (h.length - h.short)
	return Squeezed{MinRadius: scale, Arc: 2 * scale * h.length, Reach: scale * h.reach, Force: h.n / 4 / (scale * scale)}, nil
}

// Bar is a strip clamped at one end and loaded at the other, in fractions of its length.
type Bar struct {
	Deflection float64 // of the tip, along the load
	Shortened  float64 // how much nearer the tip is to the clamp, along the clamp's heading
	Tip        float64 // heading of the tip, degrees
	Curvature  float64 // at the clamp, times the length
}

// Cantilever returns the shape of a strip clamped at one end under a force at its tip that keeps its direction, square to
// the clamp's heading; load = force * length^2 / EI, from 0 to 1e4. Elliptic integrals (Bisshopp and Drucker 1945), absolute
// error below 1e-12 in all fractions of the length; other loads are an error.
func Cantilever(load float64) (Bar, error) {
	if !(load >= 0 && load <= 1e4) {
		return Bar{}, fmt.Errorf("the load must be 0 to 1e4, it is %g", load)
	}
	if load == 0 {
		return Bar{}, nil
	}
	root := math.Sqrt(load)
	w := bisect(0, 700, func(w float64) bool { return newTip(w).length < root })
	t := newTip(w)
	return Bar{
		Deflection: t.sink / t.length,
		Shortened:  1 - math.Sqrt(2*t.sine)/root,
		Tip:        2 * math.Asin(t.halfSine()) * 180 / math.Pi,
		Curvature:  math.Sqrt(2*t.sine) * root,
	}, nil
}

// tip is a loaded strip known by the heading of its tip, scaled to load 1.
type tip struct {
	comp   float64 // (1 - sin tip)/2, the complementary modulus squared
	sine   float64 // sin tip
	length float64
	sink   float64
}

// newTip makes the strip with (1 - sin tip) = exp(-w). Its length is K(p) - F(p, phi) with p^2 = 1 - comp and
// sin phi = 1/(p sqrt 2), written as F(p, chi), tan phi tan chi = 1/sqrt(comp), which loses no digits at small loads.
func newTip(w float64) tip {
	t := tip{comp: math.Exp(-w) / 2, sine: -math.Expm1(-w)}
	p2 := 1 - t.comp
	sinPhi2, cosPhi2 := 0.5/p2, t.sine/2/p2
	// tan^2 chi = cosPhi2 / (sinPhi2 * comp)
	a, b := cosPhi2, float64(sinPhi2*t.comp)
	sinChi2, cosChi2 := a/(a+b), b/(a+b)
	s := math.Sqrt(sinChi2)
	delta2 := 1 - p2*sinChi2
	f := s * mathext.EllipticRF(cosChi2, delta2, 1)
	e := f - p2*s*sinChi2/3*mathext.EllipticRD(cosChi2, delta2, 1)
	t.length = f
	t.sink = f - 2*(e-p2*math.Sqrt(sinPhi2)*s)
	return t
}

// halfSine returns sin(tip/2): the square root of (1 - cos tip)/2 with cos^2 tip = 4 comp (1 - comp).
func (t tip) halfSine() float64 {
	cos := 2 * math.Sqrt(t.comp*(1-t.comp))
	return t.sine / math.Sqrt(2*(1+cos))
}
