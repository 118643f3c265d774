package stackup

import "math"

// fibre is a sheet of a cross-section that yields: between heights lo and hi (mm), modulus and yield stress in MPa, per
// mm of width.
type fibre struct{ lo, hi, modulus, yield float64 }

// fibres are the sheets of a cross-section, from the top.
type fibres []fibre

// strain is a straight line of strain through the thickness: curvature in 1/mm, and the height in mm where it is zero.
type strain struct{ curvature, zero float64 }

// fibres returns the section's sheets; copper with gaps is two sheets side by side, each with its share of the width.
func (s Stackup) fibres(y Yield) fibres {
	film := y.Film
	if film == 0 {
		film = math.Inf(1)
	}
	var out fibres
	top := s.Thickness()
	for i, l := range s.Layers {
		bottom := top - l.Thickness
		c, e := share(s.Layers, i), l.Modulus
		if c > 0 {
			out = append(out, fibre{bottom, top, 1000 * c * own(s.Layers, i), c * y.Copper})
			e = filler(s.Layers, i)
		}
		if c < 1 {
			out = append(out, fibre{bottom, top, 1000 * (1 - c) * e, (1 - c) * film})
		}
		top = bottom
	}
	return out
}

// load returns force and moment about the bottom face, per width (N/mm, N), of the section strained first to formed and then back by the strain
// back, yielding both times where it must.
func (f fibres) load(formed, back strain) (force, moment float64) {
	for _, x := range f {
		if x.modulus == 0 {
			continue
		}
		ends := x.cut(formed)
		for i := range ends[1:] {
			n, m := x.piece(ends[i], ends[i+1], formed, back)
			force, moment = force+n, moment+m
		}
	}
	return force, moment
}

// cut returns the heights between which the stress of a sheet strained from rest is straight.
func (x fibre) cut(s strain) [4]float64 {
	elastic := math.Abs(x.yield / (x.modulus * s.curvature))
	between := func(h float64) float64 { return min(x.hi, max(x.lo, h)) }
	return [4]float64{x.lo, between(s.zero - elastic), between(s.zero + elastic), x.hi}
}

// piece returns force and moment of a piece of sheet between lo and hi where the stress is straight once formed.
func (x fibre) piece(lo, hi float64, formed, back strain) (force, moment float64) {
	if lo >= hi {
		return 0, 0
	}
	at := func(h float64) float64 {
		first := x.modulus * formed.curvature * (h - formed.zero)
		return max(-x.yield, min(x.yield, first)) - x.modulus*back.curvature*(h-back.zero)
	}
	a, b := at(lo), at(hi)
	// where the stress on the way back meets the yield stress, if it does, in order
	t := [4]float64{0, meets(a, b, math.Copysign(x.yield, a-b)), meets(a, b, math.Copysign(x.yield, b-a)), 1}
	for i := range t[1:] {
		p, q := lo+(hi-lo)*t[i], lo+(hi-lo)*t[i+1]
		u, v := max(-x.yield, min(x.yield, a+(b-a)*t[i])), max(-x.yield, min(x.yield, a+(b-a)*t[i+1]))
		force += (q - p) * (u + v) / 2
		moment += (q - p) * (u*(2*p+q) + v*(p+2*q)) / 6
	}
	return force, moment
}

// meets returns where a line from a to b passes a value, 0 to 1, or the end nearer to it.
func meets(a, b, value float64) float64 {
	if a == b {
		return 0
	}
	return min(1, max(0, (value-a)/(b-a)))
}

// balance returns the height of zero strain at which a curvature, laid on top of what is formed, leaves no force.
func (f fibres) balance(force func(zero float64) float64) float64 {
	return root(f[len(f)-1].lo, f[0].hi, force)
}

// form returns the strain of the section bent to curvature k without a force along the strip.
func (f fibres) form(k float64) strain {
	return strain{k, f.balance(func(z float64) float64 { n, _ := f.load(strain{k, z}, strain{}); return -n })}
}

// bentPly is a section and the strain it was formed to.
type bentPly struct {
	fibres
	formed strain
}

// moment returns what is left in the section when its curvature has fallen by d and no force is left.
func (p bentPly) moment(d float64) float64 {
	zero := p.balance(func(z float64) float64 { n, _ := p.load(p.formed, strain{d, z}); return n })
	_, m := p.load(p.formed, strain{d, zero})
	return m
}

// release returns the share of their curvatures that sections tied at their ends lose when they are let go: no moment left.
func release(plies []bentPly) float64 {
	k := plies[0].formed.curvature
	return root(0, k, func(d float64) float64 {
		sum := 0.0
		for _, p := range plies {
			sum += p.moment(d * (p.formed.curvature / k))
		}
		return -sum
	}) / k
}

// root returns where f, rising from lo to hi, passes zero; lo or hi where it does not. Bisection to rounding.
func root(lo, hi float64, f func(float64) float64) float64 {
	for tol := 1e-15 * (math.Abs(lo) + math.Abs(hi)); hi-lo > tol; {
		mid := lo + (hi-lo)/2
		if mid <= lo || mid >= hi {
			break
		}
		if f(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo + (hi-lo)/2
}
