package proximity

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// vec is a point or direction, mm, as it is given and returned.
type vec = mgl64.Vec3

// xyz is a point or direction, mm, as it is worked with: the compiler keeps the fields of a struct in registers, which it does
// not do with an array. The products below keep their terms from being fused, so that every machine agrees.
type xyz struct{ x, y, z float64 }

func load(p *vec) xyz { return xyz{p[0], p[1], p[2]} }

func (a xyz) vec() vec { return vec{a.x, a.y, a.z} }

func (a xyz) dot(b xyz) float64 { return float64(a.x*b.x) + float64(a.y*b.y) + float64(a.z*b.z) }

func (a xyz) add(b xyz) xyz { return xyz{a.x + b.x, a.y + b.y, a.z + b.z} }

func (a xyz) sub(b xyz) xyz { return xyz{a.x - b.x, a.y - b.y, a.z - b.z} }

// along returns a + t d.
func (a xyz) along(t float64, d xyz) xyz {
	return xyz{a.x + float64(t*d.x), a.y + float64(t*d.y), a.z + float64(t*d.z)}
}

func (a xyz) cross(b xyz) xyz {
	return xyz{float64(a.y*b.z) - float64(a.z*b.y), float64(a.z*b.x) - float64(a.x*b.z), float64(a.x*b.y) - float64(a.y*b.x)}
}

func (a xyz) length() float64 { return math.Sqrt(a.dot(a)) }

// unit returns a with length 1; the zero vector stays zero.
func (a xyz) unit() xyz {
	l := a.length()
	if l == 0 {
		return xyz{}
	}
	return xyz{a.x / l, a.y / l, a.z / l}
}

// finite reports whether all coordinates are numbers, and none is larger than most.
func (a xyz) finite() bool { return max(math.Abs(a.x), math.Abs(a.y), math.Abs(a.z)) <= most }

// most is the largest coordinate, mm, whose products are sure to be finite.
const most = 1e40
