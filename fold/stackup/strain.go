package stackup

import "math"

// Side is the face of a laminate that lies inside the bend, concave. The zero value is Top: a bend toward the top.
type Side int

// The two faces.
const (
	Top Side = iota
	Bottom
)

// Inner returns the distance in mm from the concave face to the neutral surface; the neutral radius is the inside radius
// plus this. Over the thickness it is the K factor: 0.5 for a symmetric laminate. In a pile it leads to the surface that stands
// for all plies, see Neutral; each ply's own is in Pile.
func (s Stackup) Inner(inside Side) float64 {
	if inside == Bottom {
		return s.Neutral()
	}
	return s.Thickness() - s.Neutral()
}

// Bent is the strain in a laminate wrapped on a cylinder.
type Bent struct {
	NeutralRadius float64       // mm
	Concave       float64       // strain of the inside face; of loose plies, of the one that is pressed most there
	Convex        float64       // strain of the outside face, the outer film; of loose plies, of the one that is stretched most there
	Layers        []LayerStrain // in the order of Stackup.Layers
}

// LayerStrain is the strain at the two faces of a layer. Between them it runs in a straight line, and bonded neighbours share
// the strain of their common face. Air between plies has none.
type LayerStrain struct {
	Inner, Outer float64 // at the face toward the inside of the bend, and at the other
	Copper       bool    // there is copper in it: not an etched layer
}

// Strains returns the strain at every interface of a laminate bent to an inside radius in mm, and whether it makes sense:
// false for a negative radius or a stack-up without thickness. Strain is the distance from the neutral surface over the
// neutral radius, + outside. A sheet given by its thickness alone counts as one material throughout: t/(2R + t) at its
// faces. Loose plies are bent each about its own neutral surface to its own inside radius, the radius given being that of the
// pile. Exact in the package's model at any radius; an endless radius gives no strain.
func (s Stackup) Strains(inside Side, radius float64) (Bent, bool) {
	b := Bent{NeutralRadius: radius + s.Inner(inside), Layers: make([]LayerStrain, len(s.Layers))}
	for _, l := range s.leaves(inside) {
		own, ok := l.bonded(inside, radius+l.below)
		if !ok || l.first+len(own.Layers) > len(b.Layers) {
			return Bent{}, false
		}
		copy(b.Layers[l.first:], own.Layers)
		b.Concave, b.Convex = min(b.Concave, own.Concave), max(b.Convex, own.Convex)
	}
	return b, true
}

// bonded returns the strains of a laminate as one piece.
func (s Stackup) bonded(inside Side, radius float64) (Bent, bool) {
	inner, t := s.Inner(inside), s.Thickness()
	r := radius + inner
	if !(radius >= 0 && t > 0 && r > 0) {
		return Bent{}, false
	}
	b := Bent{NeutralRadius: r, Concave: -inner / r, Convex: (t - inner) / r, Layers: make([]LayerStrain, len(s.Layers))}
	depth := 0.0 // of the upper face, from the top
	for i, l := range s.Layers {
		from, to := depth-inner, depth+l.Thickness-inner
		if inside == Bottom {
			from, to = t-depth-l.Thickness-inner, t-depth-inner
		}
		b.Layers[i] = LayerStrain{Inner: from / r, Outer: to / r, Copper: share(s.Layers, i) > 0}
		depth += l.Thickness
	}
	return b, true
}

// Copper returns the largest absolute strain in copper, and whether there is copper.
func (b Bent) Copper() (float64, bool) {
	worst, found := 0.0, false
	for _, l := range b.Layers {
		if l.Copper {
			worst, found = max(worst, math.Abs(l.Inner), math.Abs(l.Outer)), true
		}
	}
	return worst, found
}
