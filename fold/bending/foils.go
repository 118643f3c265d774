package bending

import (
	"math"

	"foldfit/fold/stackup"
)

// Foils returns the kinds of foil of a stack-up's copper layers from the top, one for each layer with copper; not known for a
// stack-up given by its thickness alone, without copper, or with copper of the design's own.
func Foils(s stackup.Stackup) ([]stackup.Foil, bool) {
	bent, ok := s.Strains(stackup.Top, 1)
	if !ok || s.Plain {
		return nil, false
	}
	var out []stackup.Foil
	for i, l := range bent.Layers {
		if !l.Copper {
			continue
		}
		f, ok := stackup.FoilOf(s.Layers[i].Material)
		if !ok {
			return nil, false
		}
		out = append(out, f)
	}
	return out, len(out) > 0
}

// Stretch is an allowed elongation of the copper, and the least inside radius that keeps it.
type Stretch struct {
	Limit  float64      // a fraction
	Foil   stackup.Foil // whose limit it is: the least of the stack-up's foils
	Radius float64      // mm, by the laminate model
	Quoted *float64     // mm, by the formula of IPC-2223 (see stackup.ElongationRadius); it can be negative; nil where that has no form
}

// Elongation returns the elongation that is commonly quoted as allowed for a stack-up's foils in that use ("dynamic", else
// bent once to install), with the radii that keep it; not known for foils without a quoted limit.
func Elongation(s stackup.Stackup, inside stackup.Side, use string) (Stretch, bool) {
	foils, known := Foils(s)
	if !known {
		return Stretch{}, false
	}
	var out Stretch
	for _, f := range foils {
		limit := f.Install
		if use == "dynamic" {
			limit = f.Dynamic
		}
		if limit == 0 {
			return Stretch{}, false
		}
		if out.Limit == 0 || limit < out.Limit {
			out.Limit, out.Foil = limit, f
		}
	}
	if out.Radius, known = s.CopperRadius(inside, out.Limit); !known {
		return Stretch{}, false
	}
	if e, known := s.ElongationRadius(inside, out.Limit); known {
		out.Quoted = &e.Quoted
	}
	return out, true
}

// Spring is how much of its angle a bend keeps when it is let go after forming: a range, since films lie somewhere between
// staying elastic and yielding.
type Spring struct {
	Low, High float64 // shares of the angle
	Yield     float64 // of the softest copper foil, MPa
}

// mostFormed is the angle in degrees beyond which no former reaches: three quarters of a turn (common practice, no source).
const mostFormed = 270

// Form returns the angles to form for a finished angle (degrees, the lower one first), and whether a former reaches them;
// where it does not, an angle is endless if nothing of it would stay.
func (s Spring) Form(angle float64) (low, high float64, ok [2]bool) {
	form := func(share float64) (float64, bool) {
		a, stays := stackup.FormingAngle(angle, share)
		if !stays {
			return math.Inf(1), false
		}
		return a, a <= mostFormed
	}
	low, ok[0] = form(s.High)
	high, ok[1] = form(s.Low)
	return low, high, ok
}

// Springback returns what flex formed on the drawn cylinder keeps of its angle (see stackup.Springback for the model and its
// limits); not known without the yield stress of all foils.
func (f Flex) Springback() (Spring, bool) {
	foils, known := Foils(f.Stack)
	if !known {
		return Spring{}, false
	}
	out := Spring{Yield: foils[0].Yield}
	for _, x := range foils {
		out.Yield = min(out.Yield, x.Yield)
	}
	elastic, okElastic := f.Stack.Springback(f.Inside, f.Drawn, stackup.Yield{Copper: out.Yield})
	yielding, okYielding := f.Stack.Springback(f.Inside, f.Drawn, stackup.Yield{Copper: out.Yield, Film: stackup.PolyimideYield})
	out.Low, out.High = min(elastic.Retained, yielding.Retained), max(elastic.Retained, yielding.Retained)
	return out, okElastic && okYielding
}
