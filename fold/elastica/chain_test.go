package elastica

import (
	"math"
	"testing"
)

// chain is a strip of stiff links with springs between them: the least-energy shape found by nothing but going downhill.
type chain struct {
	turn     float64
	headings []float64
}

// energy of the springs; those at the clamps are half as long.
func (c chain) energy() float64 {
	n := len(c.headings)
	h, sum := 1/float64(n), 0.0
	for i := 1; i < n; i++ {
		d := c.headings[i] - c.headings[i-1]
		sum += d * d / (2 * h)
	}
	a, b := c.headings[0], c.turn-c.headings[n-1]
	return sum + (a*a+b*b)/h
}

func (c chain) end() (x, y float64) {
	h := 1 / float64(len(c.headings))
	for _, t := range c.headings {
		x, y = x+h*math.Cos(t), y+h*math.Sin(t)
	}
	return x, y
}

// smooth solves the springs' stiffness for a right side (both clamps held), by elimination.
func smooth(right []float64) []float64 {
	n := len(right)
	h := 1 / float64(n)
	d, r := make([]float64, n), append([]float64(nil), right...)
	for i := range d {
		d[i] = 2 / h
	}
	d[0], d[n-1] = 3/h, 3/h
	for i := 1; i < n; i++ {
		f := -1 / h / d[i-1]
		d[i] += f / h
		r[i] -= f * r[i-1]
	}
	r[n-1] /= d[n-1]
	for i := n - 2; i >= 0; i-- {
		r[i] = (r[i] + r[i+1]/h) / d[i]
	}
	return r
}

// settle goes downhill: along the smoothed slope of the energy, less its share that would open the far end.
func (c chain) settle(x, y float64, rounds int) (force vec) {
	n := len(c.headings)
	h := 1 / float64(n)
	for range rounds {
		ax, ay, even := make([]float64, n), make([]float64, n), make([]float64, n)
		for i, t := range c.headings {
			ax[i], ay[i] = -h*math.Sin(t), h*math.Cos(t)
			even[i] = c.turn * (float64(i) + 0.5) * h
		}
		ux, uy := smooth(ax), smooth(ay)
		var gxx, gxy, gyy, rx, ry float64
		for i := range ax {
			gxx, gxy, gyy = gxx+ax[i]*ux[i], gxy+ax[i]*uy[i], gyy+ay[i]*uy[i]
			rx, ry = rx+ax[i]*(even[i]-c.headings[i]), ry+ay[i]*(even[i]-c.headings[i])
		}
		const pace = 0.2
		ex, ey := c.end()
		rx, ry = rx+(ex-x)/pace, ry+(ey-y)/pace
		det := gxx*gyy - gxy*gxy
		force = vec{-(rx*gyy - ry*gxy) / det, -(ry*gxx - rx*gxy) / det}
		for i := range c.headings {
			c.headings[i] += pace * (even[i] - c.headings[i] + force[0]*ux[i] + force[1]*uy[i])
		}
	}
	return force
}

// TestChain: energy, force and middle of the chain, extrapolated from n and 2n links, are those of the strip.
func TestChain(t *testing.T) {
	for _, c := range []Clamps{
		{0, 0.5, 180, 1}, {0, 1 / 1.4, 180, 1}, {0.1, 0.3, 150, 1}, {0.5, 0.4, 60, 1}, {0.7, -0.2, 90, 1}, {0.8, 0, 0, 1}, {0.4, 0.3, -70, 1},
	} {
		s := solve(t, c)
		var e [2]float64
		var p, mid [2]vec
		for k, n := range []int{80, 160} {
			ch := chain{c.Turn * math.Pi / 180, make([]float64, n)}
			for i := range ch.headings {
				u := (float64(i) + 0.5) / float64(n)
				ch.headings[i] = s.strip.heading(u) + 0.3*math.Sin(math.Pi*u) - 0.2*math.Sin(2*math.Pi*u)
			}
			p[k] = ch.settle(c.X, c.Y, 600)
			e[k] = ch.energy()
			half := chain{0, ch.headings[:n/2]}
			x, y := half.end()
			mid[k] = vec{x / 2, y / 2}
		}
		far := func(a, b float64) float64 { return b + (b-a)/3 }
		m := s.At(0.5)
		rel(t, "energy", far(e[0], e[1]), s.Energy, 2e-5)
		near(t, "force x", far(p[0][0], p[1][0]), s.Force[0], 2e-4*(1+math.Abs(s.Energy)))
		near(t, "force y", far(p[0][1], p[1][1]), s.Force[1], 2e-4*(1+math.Abs(s.Energy)))
		near(t, "middle x", far(mid[0][0], mid[1][0]), m.X, 2e-5)
		near(t, "middle y", far(mid[0][1], mid[1][1]), m.Y, 2e-5)
	}
}
