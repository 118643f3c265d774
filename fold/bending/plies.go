package bending

import "foldfit/fold/stackup"

// loose reports whether a stack-up consists of plies that are bonded at their ends only. What they live, and with
// what force they push plates apart, is not known here.
func loose(s stackup.Stackup) bool { return len(s.Plies) > 0 }

// Ratio returns the least inside radius over the thickness; for loose plies the least of each one's own.
func (f Flex) Ratio() float64 { return f.Stack.Ratio(f.Side(), f.Radius()) }

// RatioRadius returns the least inside radius in mm at which a stack-up has a ratio of inside radius to thickness; for loose
// plies at which each of them has it.
func RatioRadius(s stackup.Stackup, inside stackup.Side, ratio float64) float64 {
	p := s.Pile(inside)
	within, most := p.InsideRadii(0), 0.0
	for i, x := range p.Plies {
		most = max(most, ratio*x.Thickness-within[i])
	}
	return most
}
