package elastica

import "math"

// rest is a strip that closes and whose energy is least among its neighbours that close, with the force that holds it.
type rest struct {
	*strip
	force vec
}

// plain is the force under which assemble writes the bending matrix alone.
var plain vec

// closed brings the far end of st to the goal by small steps of least bending, or returns nil where it finds no way.
func (st *strip) closed(g goal) *strip {
	const most = 120
	best := math.Inf(1)
	for range most {
		miss := st.miss(g)
		off := g.off(miss)
		if off <= 4e-16 || off < 1e-12 && off > best/2 {
			return st
		}
		best = min(best, off)
		f := g.stride(miss)
		eq := st.assemble(plain, 1)
		force, ok := eq.force(0, vec{f * miss[0], f * miss[1]})
		if !ok {
			return nil
		}
		st = st.plus(1, eq.step(0, force))
	}
	return nil
}

// off returns the miss as a part of what rounding is relative to.
func (g goal) off(miss vec) float64 {
	return max(math.Abs(miss[0])/(g.short+1e-300), math.Abs(miss[1])/(math.Sqrt(g.short)+math.Abs(g.rise)+1e-300))
}

// stride returns the part of the miss to mend in one step: not too far at once, and on the way to a tauter strip at most half
// of the slack that is left.
func (g goal) stride(miss vec) float64 {
	f := min(1, 0.15/math.Hypot(miss[0], miss[1]))
	now := goal{g.short - miss[0], g.rise + miss[1]}.slack()
	if less := now - g.slack(); less > 0 {
		f = min(f, now/less/2)
	}
	return f
}

// slack returns 1 less the distance to the far end, in a form that keeps the digits of a taut strip.
func (g goal) slack() float64 {
	x := 1 - g.short
	return (g.short*(1+x) - g.rise*g.rise) / (1 + math.Hypot(x, g.rise))
}

// relax lets st, which closes, slide down to a rest: Newton's method on energy and closure, with the bending matrix weighted
// up wherever the plain step would not go downhill. Nil when it has not come to rest after the given number of steps.
func (st *strip) relax(g goal, steps int) *rest {
	f, ok := st.assemble(plain, 1).force(1, vec{})
	if !ok {
		return nil
	}
	force, last := vec{-f[0], -f[1]}, math.Inf(1)
	var b brake
	for range steps {
		eq := st.assemble(force, 1+b.extra)
		f, ok := eq.force(1, st.miss(g))
		if !ok {
			b.harder()
			continue
		}
		d, pull := eq.step(1, f), vec{force[0] - f[0], force[1] - f[1]}
		size := d.norm2() / (st.norm2() + 1e-300)
		if b.extra == 0 && (size < 1e-20 || size < 1e-12 && size > last/4) {
			return &rest{st.plus(1, d), pull}
		}
		next := st.downhill(d, size, g)
		if next == nil {
			b.harder()
			continue
		}
		st, force, last = next, pull, size
		b.softer(size)
	}
	return nil
}

// drawn follows the rest while the far clamp moves from one goal straight to another, a third less slack at a time, or
// returns nil where the strip is lost.
func (r *rest) drawn(from, to goal) *rest {
	for at := from; r != nil && at != to; {
		f := 1.0
		if less := at.slack() - to.slack(); less > at.slack()/3 {
			f = at.slack() / 3 / less
		}
		next := goal{at.short + f*(to.short-at.short), at.rise + f*(to.rise-at.rise)}
		if f == 1 {
			next = to
		}
		r, at = r.moved(next), next
	}
	return r
}

// moved returns the rest near r at another goal, or nil.
func (r *rest) moved(g goal) *rest {
	eq := r.assemble(r.force, 1)
	f, ok := eq.force(1, r.miss(g))
	if !ok {
		return nil
	}
	st := r.plus(1, eq.step(1, f)).closed(g)
	if st == nil {
		return nil
	}
	return st.relax(g, 100)
}

// downhill returns st + d brought back to the goal if that holds less energy, else nil. A step too small for rounding to tell is
// taken as it is.
func (st *strip) downhill(d *strip, size float64, g goal) *strip {
	next := st.plus(1, d)
	if size < 1e-10 {
		return next
	}
	if size > 10 {
		return nil
	}
	if next = next.closed(g); next == nil || next.energy() > st.energy()*(1+1e-13) {
		return nil
	}
	return next
}

// brake is the weight that relax adds to the bending matrix.
type brake struct{ extra, known float64 }

func (b *brake) harder() {
	if b.extra == 0 {
		b.extra = max(b.known, 0.02) / 4
		return
	}
	b.extra *= 4
}

func (b *brake) softer(size float64) {
	b.known = b.extra
	if b.extra /= 6; b.extra < 1e-8 || size < 1e-14 {
		b.extra = 0
	}
}

// drift returns how much the first integral k^2/2 + Px cos t + Py sin t differs along the strip, relative to the largest
// k^2/2: zero for the true shape, and so a measure of what the elements leave out, at their ends and inside.
func (r *rest) drift() float64 {
	s := newShape(Clamps{Length: 1}, r)
	lo, hi, most := math.Inf(1), math.Inf(-1), 1e-300
	for e := range r.bubble {
		for _, inside := range []float64{0, 0.3, 0.85} {
			p := s.at((float64(e) + inside) * r.size())
			a, k2 := aimOf(p.Heading*math.Pi/180), p.Curvature*p.Curvature/2
			first := k2 - r.force[0]*a.versin + r.force[1]*a.sin
			lo, hi, most = min(lo, first), max(hi, first), max(most, k2)
		}
	}
	return (hi - lo) / most
}

// sharpened returns the rest on as many elements as it takes to be true to the last digits, or nil.
func (r *rest) sharpened(g goal) *rest {
	for r != nil && r.drift() > 1e-10 {
		n := 2 * len(r.bubble)
		if n > 8*finest {
			return nil
		}
		st := r.refined(n).closed(g)
		if st == nil {
			return nil
		}
		r = st.relax(g, 100)
	}
	return r
}
