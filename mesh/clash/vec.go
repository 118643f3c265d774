package clash

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// vec is a point or direction, mm. The products below keep their terms from being fused, so that every machine agrees.
type vec = mgl64.Vec3

func dot(a, b vec) float64 { return float64(a[0]*b[0]) + float64(a[1]*b[1]) + float64(a[2]*b[2]) }

func sub(a, b vec) vec { return vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

// along returns p + t d.
func along(p vec, t float64, d vec) vec {
	return vec{p[0] + float64(t*d[0]), p[1] + float64(t*d[1]), p[2] + float64(t*d[2])}
}

func cross(a, b vec) vec {
	return vec{
		float64(a[1]*b[2]) - float64(a[2]*b[1]),
		float64(a[2]*b[0]) - float64(a[0]*b[2]),
		float64(a[0]*b[1]) - float64(a[1]*b[0]),
	}
}

func length(a vec) float64 { return math.Sqrt(dot(a, a)) }

// unit returns a with length 1; the zero vector stays zero.
func unit(a vec) vec {
	l := length(a)
	if l == 0 {
		return vec{}
	}
	return vec{a[0] / l, a[1] / l, a[2] / l}
}

// positive returns p without negative zeros, which would end in files.
func positive(p vec) vec { return vec{p[0] + 0, p[1] + 0, p[2] + 0} }

// tri is a triangle by its corners, counter-clockwise seen from outside.
type tri [3]vec

// normal returns the outward normal, twice as long as the triangle's area.
func (t *tri) normal() vec { return cross(sub(t[1], t[0]), sub(t[2], t[0])) }

// box is an axis-parallel box; lo > hi means empty.
type box struct{ lo, hi vec }

func emptyBox() box {
	inf := math.Inf(1)
	return box{vec{inf, inf, inf}, vec{-inf, -inf, -inf}}
}

// with returns the smallest box that holds b and p.
func (b box) with(p vec) box {
	for k := range 3 {
		b.lo[k], b.hi[k] = min(b.lo[k], p[k]), max(b.hi[k], p[k])
	}
	return b
}

// join returns the smallest box that holds both.
func (b box) join(c box) box {
	for k := range 3 {
		b.lo[k], b.hi[k] = min(b.lo[k], c.lo[k]), max(b.hi[k], c.hi[k])
	}
	return b
}

// grow returns b enlarged by d on every side.
func (b box) grow(d float64) box {
	return box{vec{b.lo[0] - d, b.lo[1] - d, b.lo[2] - d}, vec{b.hi[0] + d, b.hi[1] + d, b.hi[2] + d}}
}

// holds reports whether p lies in the closed box.
func (b *box) holds(p vec) bool {
	return b.lo[0] <= p[0] && p[0] <= b.hi[0] && b.lo[1] <= p[1] && p[1] <= b.hi[1] && b.lo[2] <= p[2] && p[2] <= b.hi[2]
}

// meets reports whether the two closed boxes have a point in common.
func (b *box) meets(c *box) bool {
	return b.lo[0] <= c.hi[0] && c.lo[0] <= b.hi[0] && b.lo[1] <= c.hi[1] && c.lo[1] <= b.hi[1] && b.lo[2] <= c.hi[2] && c.lo[2] <= b.hi[2]
}

// size returns the length of the box's diagonal, a measure for which of two to divide.
func (b *box) size() float64 { return length(sub(b.hi, b.lo)) }

// distance2 returns the squared distance between two boxes; 0 if they meet.
func (b *box) distance2(c *box) float64 {
	sum := 0.0
	for k := range 3 {
		if d := max(b.lo[k]-c.hi[k], c.lo[k]-b.hi[k]); d > 0 {
			sum += float64(d * d)
		}
	}
	return sum
}

// during returns for which t the box b + t d meets c; from > to means never.
func (b *box) during(d vec, c *box) (from, to float64) {
	from, to = math.Inf(-1), math.Inf(1)
	for k := range 3 {
		near, far := c.lo[k]-b.hi[k], c.hi[k]-b.lo[k]
		switch {
		case d[k] > 0:
			from, to = max(from, near/d[k]), min(to, far/d[k])
		case d[k] < 0:
			from, to = max(from, far/d[k]), min(to, near/d[k])
		case near > 0 || far < 0:
			return 1, 0
		}
	}
	return from, to
}
