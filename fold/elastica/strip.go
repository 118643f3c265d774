package elastica

import "math"

// vec is a pair of numbers: a place, a force, the two closing conditions.
type vec [2]float64

// strip is a heading over the arc of a strip of length 1, in radians: on each of equal elements a polynomial. Not changed
// any more once its aims were asked for.
type strip struct {
	node   []float64          // headings at the ends of the elements
	bubble [][bubbles]float64 // by element
	aim    [][gauss]aim       // kept once computed
}

// goal is where the far end must come: at (1-short, rise), with the heading that the strip's last node has.
type goal struct{ short, rise float64 }

// newStrip returns the strip of n elements whose heading at arc length s is f(s), straight between the nodes.
func newStrip(n int, f func(s float64) float64) *strip {
	st := &strip{node: make([]float64, n+1), bubble: make([][bubbles]float64, n)}
	for i := range st.node {
		st.node[i] = f(float64(i) / float64(n))
	}
	return st
}

// size returns the length of an element.
func (st *strip) size() float64 { return 1 / float64(len(st.bubble)) }

// local returns the coefficients of the local functions on element e.
func (st *strip) local(e int) (c [locals]float64) {
	c[0], c[1] = st.node[e], st.node[e+1]
	copy(c[2:], st.bubble[e][:])
	return c
}

// dot returns the sum of products.
func dot(c, v *[locals]float64) (sum float64) {
	for i := range c {
		sum += c[i] * v[i]
	}
	return sum
}

// aim is the direction of a heading: its sine and the versine, 1 - cosine, which keeps the digits of small angles.
type aim struct{ sin, versin float64 }

func aimOf(heading float64) aim {
	s, c := math.Sincos(heading / 2)
	return aim{2 * s * c, 2 * s * s}
}

// aims returns the directions at the quadrature points of element e.
func (st *strip) aims(e int) *[gauss]aim {
	if st.aim == nil {
		st.aim = make([][gauss]aim, len(st.bubble))
		for e := range st.aim {
			c := st.local(e)
			for q := range points {
				st.aim[e][q] = aimOf(dot(&c, &points[q].value))
			}
		}
	}
	return &st.aim[e]
}

// run returns how far element e goes sideways, and how much less than its length it goes ahead.
func (st *strip) run(e int) (short, rise float64) {
	aims := st.aims(e)
	for q := range points {
		short += points[q].weight * aims[q].versin
		rise += points[q].weight * aims[q].sin
	}
	h := st.size() / 2
	return h * short, h * rise
}

// miss returns where the far end is, less where it must be.
func (st *strip) miss(g goal) vec {
	short, rise := g.short, -g.rise
	for e := range st.bubble {
		a, b := st.run(e)
		short -= a
		rise += b
	}
	return vec{short, rise}
}

// energy returns half the integral of the squared curvature.
func (st *strip) energy() float64 { return st.norm2() / 2 }

// norm2 returns the integral of the squared slope of the heading.
func (st *strip) norm2() float64 {
	sum, h := 0.0, st.size()
	for e := range st.bubble {
		d := st.node[e+1] - st.node[e]
		sum += d * d
		for _, c := range st.bubble[e] {
			sum += 2 * c * c
		}
	}
	return sum / h
}

// plus returns st + f d.
func (st *strip) plus(f float64, d *strip) *strip {
	out := &strip{node: make([]float64, len(st.node)), bubble: make([][bubbles]float64, len(st.bubble))}
	for i := range st.node {
		out.node[i] = st.node[i] + f*d.node[i]
	}
	for e := range st.bubble {
		for j := range bubbles {
			out.bubble[e][j] = st.bubble[e][j] + f*d.bubble[e][j]
		}
	}
	return out
}

// heading returns the heading at arc length s.
func (st *strip) heading(s float64) float64 {
	e, t := st.find(s)
	c, v := st.local(e), shapes(t)
	return dot(&c, &v)
}

// find returns the element of arc length s and the place in it, -1 to 1.
func (st *strip) find(s float64) (e int, t float64) {
	n := len(st.bubble)
	e = max(0, min(n-1, int(s*float64(n))))
	return e, max(-1, min(1, 2*(s*float64(n)-float64(e))-1))
}

// refined returns the same heading on n elements: a polynomial through the old one's values at the ends, with the bubbles
// that fit its slope best.
func (st *strip) refined(n int) *strip {
	out := newStrip(n, st.heading)
	h := 1 / float64(n)
	for e := range out.bubble {
		left, right := out.node[e], out.node[e+1]
		for q := range points {
			p := &points[q]
			rest := st.heading(h*(float64(e)+(1+p.at)/2)) - left*p.value[0] - right*p.value[1]
			for j := range bubbles {
				// the bubbles' slopes are Legendre polynomials: integrate by parts to need no slope of st
				out.bubble[e][j] -= p.weight * rest * bend(j+1, p.at)
			}
		}
	}
	return out
}

// bend returns the second derivative of bubble j at t.
func bend(j int, t float64) float64 {
	_, slope := legendre(j, t)
	return slope * math.Sqrt((2*float64(j)+1)/2)
}
