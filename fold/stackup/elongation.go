package stackup

import "math"

// Elongation is the smallest inside radius for an elongation of the copper, by the formula of the standard and by the model.
type Elongation struct {
	Quoted float64 // mm, IPC-2223 as commonly quoted; it can be negative
	Model  float64 // mm, the same limit by CopperRadius
}

// ElongationRadius returns the smallest inside radius for an allowed copper elongation eb (a fraction: EB/100) by the formula
// of IPC-2223, clause 5.2.3.4, beside what the laminate model gives for the same limit; not known for a stack-up with other
// than one or two copper layers, one given by its thickness alone, or eb outside 0 to 1.
//
//	one copper layer    R = (c/2) (100-EB)/EB - D
//	two copper layers   R = (d/2 + c) (100-EB)/EB - D
//
// c is the copper's thickness (the thicker of two), d everything between the two coppers, D everything between the inner
// copper and the inside of the bend: cover film and its adhesive. The form for one layer was read in a copy of unknown
// standing, that for two is recalled.
//
// Known weakness: the formula puts the neutral surface into the middle of the copper (one layer) or midway between the two,
// whatever the films do; it can give a negative radius and allows radii below the thickness where the trade asks for six
// to ten times; and EB comes from pulling foil, a poor measure of what foil survives in bending. A fabricator has
// published that it is wrong. Show it beside the bend ratio as a lower bound, never as the only rule. For a symmetric
// laminate it equals the model; for others the model is the better of the two, and no proof of life either.
//
// Of loose plies each counts by itself on its own radius, with one or two copper layers in each that has any; returned is the
// largest inside radius of the pile that one of them asks for.
func (s Stackup) ElongationRadius(inside Side, eb float64) (Elongation, bool) {
	model, known := s.CopperRadius(inside, eb)
	if !known || eb >= 1 {
		return Elongation{}, false
	}
	quoted := math.Inf(-1)
	for _, l := range s.leaves(inside) {
		copper, between, below := l.copperStack(inside)
		switch len(copper) {
		case 0:
		case 1:
			quoted = max(quoted, copper[0]/2*(1/eb-1)-below-l.below)
		case 2:
			quoted = max(quoted, (between/2+max(copper[0], copper[1]))*(1/eb-1)-below-l.below)
		default:
			return Elongation{}, false
		}
	}
	return Elongation{Quoted: quoted, Model: model}, true
}

// copperStack returns, from the inside of the bend outward, the thicknesses of the copper layers, of all that lies between
// the innermost and the outermost, and of all within the innermost.
func (s Stackup) copperStack(inside Side) (copper []float64, between, below float64) {
	since := 0.0 // other layers since the last copper
	for k := range s.Layers {
		i := k
		if inside == Bottom {
			i = len(s.Layers) - 1 - k
		}
		t := s.Layers[i].Thickness
		if share(s.Layers, i) == 0 {
			since += t
			continue
		}
		if len(copper) == 0 {
			below = since
		} else {
			between += since
		}
		copper, since = append(copper, t), 0
	}
	return copper, between, below
}
