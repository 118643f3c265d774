package proximity

import (
	"math"
	"math/rand/v2"

	"github.com/go-gl/mathgl/mgl64"
)

// soup is a surface for tests: points and triangles.
type soup struct {
	points []vec
	tris   [][3]int32
}

func (s soup) surface() *Surface { return New(s.points, s.tris, 0) }

func (s *soup) point(p vec) int32 {
	s.points = append(s.points, p)
	return int32(len(s.points) - 1)
}

// grid adds an n by m grid of quads, each of two triangles, counter-clockwise seen from where u cross v points.
func (s *soup) grid(n, m int, at func(i, j int) vec) {
	first := int32(len(s.points))
	for i := range n + 1 {
		for j := range m + 1 {
			s.point(at(i, j))
		}
	}
	id := func(i, j int) int32 { return first + int32(i*(m+1)+j) }
	for i := range n {
		for j := range m {
			a, b, c, d := id(i, j), id(i+1, j), id(i+1, j+1), id(i, j+1)
			s.tris = append(s.tris, [3]int32{a, b, c}, [3]int32{a, c, d})
		}
	}
}

// moved returns s after a rigid motion.
func (s soup) moved(m mgl64.Mat4) soup {
	out := soup{tris: s.tris}
	r := rigidOf(m)
	for _, p := range s.points {
		out.points = append(out.points, r.apply(p))
	}
	return out
}

// with returns both as one.
func (s soup) with(o soup) soup {
	out := soup{append([]vec(nil), s.points...), append([][3]int32(nil), s.tris...)}
	n := int32(len(s.points))
	out.points = append(out.points, o.points...)
	for _, t := range o.tris {
		out.tris = append(out.tris, [3]int32{t[0] + n, t[1] + n, t[2] + n})
	}
	return out
}

// flipped returns s inside out.
func (s soup) flipped() soup {
	out := soup{points: s.points}
	for _, t := range s.tris {
		out.tris = append(out.tris, [3]int32{t[0], t[2], t[1]})
	}
	return out
}

// rounded24 returns s with coordinates of 24 bits, as mesh files store them.
func (s soup) rounded24() soup {
	out := soup{tris: s.tris}
	for _, p := range s.points {
		out.points = append(out.points, vec{float64(float32(p[0])), float64(float32(p[1])), float64(float32(p[2]))})
	}
	return out
}

// block is a box whose faces have n by n cells.
func block(lo, hi vec, n int) soup {
	var s soup
	for axis := range 3 {
		for side := range 2 {
			s.grid(n, n, func(i, j int) vec {
				u, v := (axis+1)%3, (axis+2)%3
				if side == 0 {
					u, v = v, u
				}
				p := lo
				if side == 1 {
					p[axis] = hi[axis]
				}
				p[u] += (hi[u] - lo[u]) * float64(i) / float64(n)
				p[v] += (hi[v] - lo[v]) * float64(j) / float64(n)
				return p
			})
		}
	}
	return s
}

// ball is a sphere around the origin by n meridians and n/2 parallels; its points lie on the sphere.
func ball(radius float64, n int) soup {
	var s soup
	s.grid(n, n/2, func(i, j int) vec {
		sa, ca := math.Sincos(2 * math.Pi * float64(i%n) / float64(n))
		sb, cb := math.Sincos(math.Pi * (float64(j)/float64(n/2) - 0.5))
		return vec{radius * cb * ca, radius * cb * sa, radius * sb}
	})
	return s
}

// pipe is an open cylinder along z with n sides from angle a0 to a1 and m rings, looking outward.
func pipe(radius, a0, a1, z0, z1 float64, n, m int) soup {
	var s soup
	s.grid(n, m, func(i, j int) vec {
		sn, cs := math.Sincos(a0 + (a1-a0)*float64(i)/float64(n))
		return vec{radius * cs, radius * sn, z0 + (z1-z0)*float64(j)/float64(m)}
	})
	return s
}

// random is n triangles of about a given size anywhere in a cube of size 10.
func random(r *rand.Rand, n int, size float64) soup {
	var s soup
	at := func(scale float64) vec {
		return vec{scale * r.Float64(), scale * r.Float64(), scale * r.Float64()}
	}
	for range n {
		p := at(10)
		s.tris = append(s.tris, [3]int32{s.point(p), s.point(add(p, at(size))), s.point(add(p, at(size)))})
	}
	return s
}

// tumble returns a random rotation followed by a random shift of at most reach along each axis.
func tumble(r *rand.Rand, reach float64) mgl64.Mat4 {
	at := func() float64 { return reach * (2*r.Float64() - 1) }
	axis := mgl64.Vec3{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}.Normalize()
	return mgl64.Translate3D(at(), at(), at()).Mul4(mgl64.HomogRotate3D(2*math.Pi*r.Float64(), axis))
}

var here = mgl64.Ident4()
