package proximity

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// xyz is a point or direction, mm, as the inner loops work with it: the compiler keeps the fields of a struct in
// registers, which it does not do with an array.
type xyz struct{ x, y, z float64 }

func load(p *mgl64.Vec3) xyz { return xyz{p[0], p[1], p[2]} }

func (a xyz) vec() mgl64.Vec3 { return mgl64.Vec3{a.x, a.y, a.z} }

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

// spin returns r v.
func (m *rigid) spin(v xyz) xyz {
	r := &m.r
	return xyz{
		float64(r[0]*v.x) + float64(r[1]*v.y) + float64(r[2]*v.z),
		float64(r[3]*v.x) + float64(r[4]*v.y) + float64(r[5]*v.z),
		float64(r[6]*v.x) + float64(r[7]*v.y) + float64(r[8]*v.z),
	}
}

// carry returns r p + t.
func (m *rigid) carry(p xyz) xyz { return m.spin(p).add(load(&m.t)) }
