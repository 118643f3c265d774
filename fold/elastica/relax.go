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
	const most, stride = 120, 0.15
	best := math.Inf(1)
	for range most {
		miss := st.miss(g)
		far := math.Hypot(miss[0], miss[1])
		if far <= 4e-16 || far < 1e-12 && far > best/2 {
			return st
		}
		best = min(best, far)
		f := min(1, stride/far)
		eq := st.assemble(plain, 1)
		force, ok := eq.force(0, vec{f * miss[0], f * miss[1]})
		if !ok {
			return nil
		}
		st = st.plus(1, eq.step(0, force))
	}
	return nil
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
		d := eq.step(1, f)
		size := d.norm2() / (st.norm2() + 1e-300)
		if b.extra == 0 && (size < 1e-20 || size < 1e-12 && size > last/4) {
			return &rest{st.plus(1, d), vec{-f[0], -f[1]}}
		}
		next := st.downhill(d, size, g)
		if next == nil {
			b.harder()
			continue
		}
		st, force, last = next, vec{-f[0], -f[1]}, size
		b.softer(size)
	}
	return nil
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
// k^2/2: zero for the true shape, and so a measure of what the elements leave out.
func (r *rest) drift() float64 {
	x, y, k0 := 0.0, 0.0, r.nearCurvature()
	lo, hi, most := math.Inf(1), math.Inf(-1), 0.0
	for e := 0; ; e++ {
		k, a := k0+r.force[0]*y-r.force[1]*x, aimOf(r.node[e])
		first := k*k/2 - r.force[0]*a.versin + r.force[1]*a.sin
		lo, hi, most = min(lo, first), max(hi, first), max(most, k*k/2)
		if e == len(r.bubble) {
			return (hi - lo) / (most + 1e-300)
		}
		short, rise := r.run(e)
		x, y = x+r.size()-short, y+rise
	}
}

// sharpened returns the rest on as many elements as it takes to be true to the last digits, or nil.
func (r *rest) sharpened(g goal) *rest {
	for r != nil && r.drift() > 1e-11 {
		n := 2 * len(r.bubble)
		if n > 4*finest {
			if r.drift() < 1e-9 {
				return r
			}
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
