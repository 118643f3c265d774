package bending

import "foldfit/fold/stackup"

// loose reports whether a stack-up consists of plies that are bonded at their ends only. Of those ratios are known here, strains
// and forces are not.
func loose(s stackup.Stackup) bool { return len(s.Plies) > 0 }

// pile returns the plies of a stack-up from the inside of the bend outward: one for bonded flex.
func pile(s stackup.Stackup, inside stackup.Side) stackup.Pile {
	if !loose(s) {
		return stackup.Pile{Plies: []stackup.Ply{s.Ply(inside)}}
	}
	out := stackup.Pile{Gap: s.Gap}
	for i := range s.Plies {
		k := i
		if inside == stackup.Bottom {
			k = len(s.Plies) - 1 - i
		}
		out.Plies = append(out.Plies, s.Plies[k].Ply(inside))
	}
	return out
}

// Ratio returns the least inside radius over the thickness; for loose plies the least of each one's own.
func (f Flex) Ratio() float64 {
	ratios := pile(f.Stack, f.Side()).Ratios(f.Radius())
	least := ratios[0]
	for _, r := range ratios {
		least = min(least, r)
	}
	return least
}

// RatioRadius returns the least inside radius in mm at which a stack-up has a ratio of inside radius to thickness; for loose
// plies at which each of them has it.
func RatioRadius(s stackup.Stackup, inside stackup.Side, ratio float64) float64 {
	p := pile(s, inside)
	within, most := p.InsideRadii(0), 0.0
	for i, x := range p.Plies {
		most = max(most, ratio*x.Thickness-within[i])
	}
	return most
}
