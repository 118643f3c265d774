package clash

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/mesh"
	"foldfit/mesh/enclosure"
)

// solid is a body for tests: points and triangles.
type solid struct {
	points []vec
	tris   [][3]int32
}

func (s solid) shape() *shape { return newShape(s.points, s.tris, true) }

// moved returns s after a rigid motion.
func (s solid) moved(m mgl64.Mat4) solid {
	out := solid{tris: s.tris}
	for _, p := range s.points {
		out.points = append(out.points, fold.Apply(m, p))
	}
	return out
}

func (s solid) shifted(x, y, z float64) solid { return s.moved(mgl64.Translate3D(x, y, z)) }

// with returns both solids as one.
func (s solid) with(o solid) solid {
	out := solid{append([]vec(nil), s.points...), append([][3]int32(nil), s.tris...)}
	n := int32(len(s.points))
	out.points = append(out.points, o.points...)
	for _, t := range o.tris {
		out.tris = append(out.tris, [3]int32{t[0] + n, t[1] + n, t[2] + n})
	}
	return out
}

// inward returns s with its inside out: a cavity.
func (s solid) inward() solid {
	out := solid{points: s.points}
	for _, t := range s.tris {
		out.tris = append(out.tris, [3]int32{t[0], t[2], t[1]})
	}
	return out
}

func block(x0, y0, z0, x1, y1, z1 float64) solid {
	m := enclosure.Box("", vec{x0, y0, z0}, vec{x1, y1, z1})
	return solid{m.Points, m.Triangles}
}

// rod is a prism along z over a regular polygon of n corners, the first at angle start (degrees).
func rod(n int, radius, start, z0, z1 float64) solid {
	var s solid
	for _, z := range []float64{z0, z1} {
		for i := range n {
			sn, cs := math.Sincos((start + 360*float64(i)/float64(n)) * math.Pi / 180)
			s.points = append(s.points, vec{radius * cs, radius * sn, z})
		}
	}
	for i := range n {
		k := int32((i + 1) % n)
		a, b, c, d := int32(i), k, int32(i+n), k+int32(n)
		s.tris = append(s.tris, [3]int32{a, b, d}, [3]int32{a, d, c})
		if i >= 1 && i < n-1 {
			s.tris = append(s.tris, [3]int32{0, k, a}, [3]int32{int32(n), c, d})
		}
	}
	return s
}

// tube is a ring of n corners along z: outer polygon, inner polygon, two flat ends.
func tube(n int, inner, outer, z0, z1 float64) solid {
	var s solid
	for _, z := range []float64{z0, z1} {
		for _, r := range []float64{inner, outer} {
			for i := range n {
				sn, cs := math.Sincos(2 * math.Pi * float64(i) / float64(n))
				s.points = append(s.points, vec{r * cs, r * sn, z})
			}
		}
	}
	quad := func(a, b, c, d int) {
		s.tris = append(s.tris, [3]int32{int32(a), int32(b), int32(c)}, [3]int32{int32(a), int32(c), int32(d)})
	}
	for i := range n {
		k := (i + 1) % n
		quad(i, 2*n+i, 2*n+k, k)         // inner wall, looks toward the axis
		quad(n+i, n+k, 3*n+k, 3*n+i)     // outer wall
		quad(i, k, n+k, n+i)             // lower end
		quad(2*n+i, 3*n+i, 3*n+k, 2*n+k) // upper end
	}
	return s
}

// tumble returns a random rotation followed by a random shift of at most reach along each axis.
func tumble(r *rand.Rand, reach float64) mgl64.Mat4 {
	turn := [3]float64{360 * r.Float64(), 360 * r.Float64(), 360 * r.Float64()}
	at := func() float64 { return reach * (2*r.Float64() - 1) }
	return fold.RigidMotion(turn, vec{at(), at(), at()})
}

// volume returns the signed volume of s.
func (s solid) volume() float64 {
	v := 0.0
	for _, t := range s.tris {
		v += dot(s.points[t[0]], cross(s.points[t[1]], s.points[t[2]])) / 6
	}
	return v
}

func TestTestShapes(t *testing.T) {
	cases := []struct {
		name string
		s    solid
		want float64
	}{
		{"block", block(0, 0, 0, 1, 2, 3), 6},
		{"cavity", block(0, 0, 0, 1, 2, 3).inward(), -6},
		{"rod", rod(6, 1, 0, -1, 1), 3 * math.Sqrt(3)},
		{"tube", tube(4, 1, 2, 0, 1), 6},
		{"both", block(0, 0, 0, 1, 1, 1).with(block(5, 0, 0, 6, 1, 1)), 2},
	}
	for _, c := range cases {
		if got := c.s.volume(); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: volume %v, want %v", c.name, got, c.want)
		}
	}
}

func shift(d vec) mgl64.Mat4 { return mgl64.Translate3D(d[0], d[1], d[2]) }

func meshOf(s solid) *mesh.Mesh { return &mesh.Mesh{Points: s.points, Triangles: s.tris} }

// tilt is a turn about the y axis by some degrees.
func tilt(deg float64) mgl64.Mat4 { return fold.RigidMotion([3]float64{0, deg, 0}, vec{}) }
