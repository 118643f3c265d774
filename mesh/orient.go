package mesh

import (
	"math"

	"foldfit/fold/flat"
)

// orient returns the sign of the turn a -> b -> c: +1 counter-clockwise, -1 clockwise, 0 exactly in line. It is exact for
// coordinates whose products neither overflow nor underflow (any board in mm). The plain product is trusted where it is
// beyond its own rounding error (Shewchuk, Adaptive Precision Floating-Point Arithmetic and Fast Robust Geometric
// Predicates, 1997: (3 + 16 eps) eps of the sum of the products' sizes); elsewhere the sum of the six products is formed
// without any rounding.
func orient(a, b, c flat.Pt) int {
	left := float64((b.X - a.X) * (c.Y - a.Y))
	right := float64((b.Y - a.Y) * (c.X - a.X))
	det := left - right
	if bound := 3.3306690738754716e-16 * (math.Abs(left) + math.Abs(right)); math.Abs(det) > bound {
		return sign(det)
	}
	if (b.X == a.X || c.Y == a.Y) && (b.Y == a.Y || c.X == a.X) {
		return 0
	}
	return exactOrient(a, b, c)
}

// exactOrient returns the sign of ax by - ax cy + bx cy - bx ay + cx ay - cx by, summed without rounding.
func exactOrient(a, b, c flat.Pt) int {
	var sum expansion
	for _, f := range [6][2]float64{{a.X, b.Y}, {-a.X, c.Y}, {b.X, c.Y}, {-b.X, a.Y}, {c.X, a.Y}, {-c.X, b.Y}} {
		high := float64(f[0] * f[1])
		sum.add(math.FMA(f[0], f[1], -high))
		sum.add(high)
	}
	return sum.sign()
}

// expansion is a number written as a sum of floats that do not overlap, smallest first; 0 and up of them are in use.
type expansion struct {
	part [12]float64
	n    int
}

// add adds x exactly (Shewchuk's grow-expansion without zeros).
func (e *expansion) add(x float64) {
	n := 0
	for _, p := range e.part[:e.n] {
		sum := x + p
		virtual := sum - x
		rest := (x - (sum - virtual)) + (p - virtual)
		if rest != 0 {
			e.part[n] = rest
			n++
		}
		x = sum
	}
	if x != 0 {
		e.part[n] = x
		n++
	}
	e.n = n
}

// sign returns the sign of the number: that of its largest part.
func (e *expansion) sign() int {
	if e.n == 0 {
		return 0
	}
	return sign(e.part[e.n-1])
}

// sign returns -1, 0 or 1.
func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}

// before reports whether p comes before q: smaller x, or the same x and smaller y.
func before(p, q flat.Pt) bool { return p.X < q.X || p.X == q.X && p.Y < q.Y }
