package stackup

import "math"

// Loose returns the flexible stack-up of plies that lie loosely one over the other, bonded at their ends only, from top to
// bottom, with the same gap (mm) between neighbours. Its layers are all of theirs with air between them; it counts their copper
// layers, -1 where those of a ply are not known; Embeds says where each ply lies that is there only once. Plies are bonded
// flexible stack-ups; name and place are left to the caller. Without plies it is the zero value.
func Loose(plies []Stackup, gap float64, progressive bool) Stackup {
	if len(plies) == 0 {
		return Stackup{}
	}
	s := Stackup{Plies: plies, Gap: gap, Progressive: progressive}
	times := map[string]int{}
	for i, p := range plies {
		if i > 0 && gap > 0 {
			s.Layers = append(s.Layers, Layer{Material: Air, Thickness: gap, Coverage: 1})
		}
		s.Layers = append(s.Layers, p.Layers...)
		times[p.Name]++
		s.Plain = s.Plain || p.Plain
		if s.CopperLayers += p.CopperLayers; p.CopperLayers < 0 {
			s.CopperLayers = math.MinInt32
		}
	}
	s.CopperLayers = max(-1, s.CopperLayers)
	for _, l := range s.leaves(Bottom) {
		if l.Name != "" && times[l.Name] == 1 {
			s.Embeds = append(s.Embeds, Embed{Stackup: l.Name, Bottom: l.below})
		}
	}
	return s
}

// leaf is what bends by itself about its own neutral surface: a ply, or bonded flex as a whole.
type leaf struct {
	Stackup
	below float64 // from the pile's concave face to this ply's, mm
	first int     // its first layer in the pile's Layers
}

// leaves returns the plies from the inside of the bend outward; bonded flex is one.
func (s Stackup) leaves(inside Side) []leaf {
	if len(s.Plies) == 0 {
		return []leaf{{Stackup: s}}
	}
	n, first := len(s.Plies), 0
	out := make([]leaf, n)
	for i, p := range s.Plies {
		at := i
		if inside == Bottom {
			at = n - 1 - i
		}
		out[at] = leaf{Stackup: p, first: first}
		if first += len(p.Layers); s.Gap > 0 {
			first++
		}
	}
	below := 0.0
	for i := range out {
		out[i].below = below
		below += out[i].Thickness() + s.Gap
	}
	return out
}

// Pile returns the plies as they lie when bent with that side inside, from there outward; bonded flex is a pile of one.
func (s Stackup) Pile(inside Side) Pile {
	p := Pile{Gap: s.Gap}
	for _, l := range s.leaves(inside) {
		p.Plies = append(p.Plies, l.Ply(inside))
	}
	return p
}

// Ratio returns the inside radius (mm) over the thickness: bonded flex is judged as a whole, loose plies each by its own
// inside radius and thickness, of which this is the least (common practice and plain mechanics, no source). Not a finite number
// where the radius is none or there is no thickness.
func (s Stackup) Ratio(inside Side, radius float64) float64 {
	least := math.Inf(1)
	for _, r := range s.Pile(inside).Ratios(radius) {
		least = min(least, r)
	}
	return least
}

// mostAsked returns the largest inside radius of the pile that one of its plies asks for, given what each asks for by itself
// (below 0 allowed), at least 0; false where none asks.
func (s Stackup) mostAsked(inside Side, asks func(Stackup) (float64, bool)) (float64, bool) {
	worst, found := 0.0, false
	for _, l := range s.leaves(inside) {
		if r, known := asks(l.Stackup); known {
			worst, found = max(worst, r-l.below), true
		}
	}
	return worst, found
}
