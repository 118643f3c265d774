package elastica

import "math"

// columns are three right sides solved together: what the force leaves of the energy's slope, negated, and the slopes of the
// two closing conditions.
type columns [3]float64

// gram holds the products of the columns through the inverse matrix.
type gram [3][3]float64

func (g *gram) add(r *columns, pivot float64) {
	for i := range r {
		for j := range r {
			g[i][j] += r[i] * r[j] / pivot
		}
	}
}

// equations are those of one step d under the force p, which it changes by -f: H d + A f = -(energy' - A p), A' d = -miss,
// with the elements' bubbles eliminated into their ends.
type equations struct {
	local    [][locals][locals]float64
	right    [][locals]columns
	diag     []float64 // of the nodes
	off      []float64 // between node i and i+1
	node     []columns
	gram     gram
	negative int  // pivots
	bad      bool // a pivot too small to divide by
}

// assemble writes the equations of strip st under the force p. Stiff is the weight of the plain bending matrix: 1 is Newton's step, more shortens it.
func (st *strip) assemble(p vec, stiff float64) *equations {

	n := len(st.bubble)
	eq := &equations{
		local: make([][locals][locals]float64, n), right: make([][locals]columns, n),
		diag: make([]float64, n+1), off: make([]float64, n), node: make([]columns, n+1),
	}
	for e := range n {
		st.fill(eq, e, p, stiff)
		eq.condense(e)
	}
	eq.sweep()
	return eq
}

// fill writes element e: bending energy, and the tension's share along the strip.
func (st *strip) fill(eq *equations, e int, p vec, stiff float64) {
	h, c, aims := st.size(), st.local(e), st.aims(e)
	m, r := &eq.local[e], &eq.right[e]
	held := p != plain
	for q := range points {
		w, v := points[q].weight*h/2, &points[q].value
		tension := w * (p[0]*(1-aims[q].versin) + p[1]*aims[q].sin)
		ahead, side := -w*aims[q].sin, w*(1-aims[q].versin)
		for i := range locals {
			r[i][0] += (p[0]*ahead + p[1]*side) * v[i]
			r[i][1] += ahead * v[i]
			r[i][2] += side * v[i]
			if !held {
				continue
			}
			tv := tension * v[i]
			for j := range i + 1 {
				m[i][j] += tv * v[j]
			}
		}
	}
	slope := (c[1] - c[0]) / h
	r[0][0] += slope
	r[1][0] -= slope
	m[0][0] += stiff / h
	m[1][1] += stiff / h
	m[1][0] -= stiff / h
	for j := 2; j < locals; j++ {
		m[j][j] += stiff * 2 / h
		r[j][0] -= 2 / h * c[j]
	}
}

// condense eliminates the bubbles of element e, last first, and adds what is left to its nodes.
func (eq *equations) condense(e int) {
	m, r := &eq.local[e], &eq.right[e]
	for k := locals - 1; k >= 2; k-- {
		d := eq.pivot(m[k][k], &r[k])
		for i := range k {
			f := m[k][i] / d
			if f == 0 {
				continue // the plain matrix has no bubbles to eliminate
			}
			for j := range i + 1 {
				m[i][j] -= f * m[k][j]
			}
			for c := range r[i] {
				r[i][c] -= f * r[k][c]
			}
		}
	}
	eq.diag[e] += m[0][0]
	eq.diag[e+1] += m[1][1]
	eq.off[e] = m[1][0]
	for c := range 3 {
		eq.node[e][c] += r[0][c]
		eq.node[e+1][c] += r[1][c]
	}
}

// sweep eliminates the free nodes from the first to the last; the two end nodes stay put.
func (eq *equations) sweep() {
	last := len(eq.diag) - 1
	for i := 1; i < last; i++ {
		d := eq.pivot(eq.diag[i], &eq.node[i])
		if i+1 == last {
			break
		}
		f := eq.off[i] / d
		eq.diag[i+1] -= f * eq.off[i]
		for c := range 3 {
			eq.node[i+1][c] -= f * eq.node[i][c]
		}
	}
}

// pivot counts and keeps what the pivot d with its right sides gives.
func (eq *equations) pivot(d float64, r *columns) float64 {
	if d < 0 {
		eq.negative++
	}
	if !(math.Abs(d) > 1e-12) {
		eq.bad = true
		d = 1e-12
	}
	eq.gram.add(r, d)
	return d
}

// force returns the multipliers f for which the step closes the miss, and whether the step goes to a least energy among
// the shapes that close: the bordered matrix then has exactly two negative eigenvalues.
func (eq *equations) force(weight float64, miss vec) (f vec, least bool) {
	a, b, c := eq.gram[1][1], eq.gram[1][2], eq.gram[2][2]
	det := a*c - b*b
	if eq.bad || !(math.Abs(det) > 1e-14*(math.Abs(a*c)+b*b)) {
		return vec{}, false
	}
	x, y := weight*eq.gram[1][0]+miss[0], weight*eq.gram[2][0]+miss[1]
	positive := 1
	if det > 0 {
		positive = 0
		if a+c > 0 {
			positive = 2
		}
	}
	return vec{(x*c - y*b) / det, (y*a - x*b) / det}, eq.negative+positive == 2
}

// step returns the solution for the multipliers f: of the energy's slope (weight 1) or of the closing conditions alone (0).
func (eq *equations) step(weight float64, f vec) *strip {
	n := len(eq.local)
	d := &strip{node: make([]float64, n+1), bubble: make([][bubbles]float64, n)}
	side := func(r *columns) float64 { return weight*r[0] - f[0]*r[1] - f[1]*r[2] }
	for i := n - 1; i >= 1; i-- {
		d.node[i] = (side(&eq.node[i]) - eq.off[i]*d.node[i+1]) / eq.diag[i]
	}
	for e := range n {
		u := d.local(e)
		for k := 2; k < locals; k++ {
			sum := side(&eq.right[e][k])
			for i := range k {
				sum -= eq.local[e][k][i] * u[i]
			}
			u[k] = sum / eq.local[e][k][k]
		}
		copy(d.bubble[e][:], u[2:])
	}
	return d
}
