package proximity

import (
	"math"
	"math/rand/v2"
	"sync"

	"github.com/go-gl/mathgl/mgl64"
)

// Scenes of the size that benchmarks need: a board of three plates folded into an S, a closed housing with a cavity, and a
// bend in a bore. The same on every run.

// foldedBoard is a strip 40 wide and 0.8 thick with three plates 60 long, joined by two half turns of radius 4; its lower
// face lies in z = 0. cell is the length of a quad, arc the quads along a half turn. On the plates stand parts with n by n
// cells a face.
func foldedBoard(cell float64, arc, parts, n int) soup {
	const long, broad, thick, radius = 60.0, 40.0, 0.8, 4.0
	type station struct{ p, up vec }
	var way []station
	straight := int(math.Ceil(long / cell))
	plate := func(x0, x1, z, up float64, from int) {
		for i := from; i <= straight; i++ {
			way = append(way, station{vec{x0 + (x1-x0)*float64(i)/float64(straight), 0, z}, vec{0, 0, up}})
		}
	}
	turn := func(x, z, side float64) {
		for i := 1; i <= arc; i++ {
			s, c := math.Sincos(math.Pi * (float64(i)/float64(arc) - 0.5))
			way = append(way, station{vec{x + side*radius*c, 0, z + radius*s}, vec{-side * side * c, 0, -side * s}})
		}
	}
	plate(-long/2, long/2, thick/2, 1, 0)
	turn(long/2, thick/2+radius, 1)
	plate(long/2, -long/2, thick/2+2*radius, -1, 1)
	turn(-long/2, thick/2+3*radius, -1)
	plate(-long/2, long/2, thick/2+4*radius, 1, 1)
	across := int(math.Ceil(broad / cell))
	at := func(i, j int, side float64) vec {
		p := along(way[i].p, side*thick/2, way[i].up)
		p[1] = -broad/2 + broad*float64(j)/float64(across)
		if math.Abs(p[2]) < 1e-9 {
			p[2] = 0
		}
		return p
	}
	var s soup
	last := len(way) - 1
	s.grid(last, across, func(i, j int) vec { return at(i, j, 1) })
	s.grid(across, last, func(j, i int) vec { return at(i, j, -1) })
	s.grid(last, 1, func(i, k int) vec { return at(i, 0, float64(2*k-1)) })
	s.grid(1, last, func(k, i int) vec { return at(i, across, float64(2*k-1)) })
	s.grid(1, across, func(k, j int) vec { return at(0, j, float64(2*k-1)) })
	s.grid(across, 1, func(j, k int) vec { return at(last, j, float64(2*k-1)) })
	return s.with(partsOn([]float64{thick, 2*radius + thick, 4*radius + thick}, parts, n))
}

// partsOn is blocks that stand 0.02 over plates at some heights.
func partsOn(heights []float64, parts, n int) soup {
	r := rand.New(rand.NewPCG(1, 1))
	var s soup
	for k := range parts {
		x, y := -26+7*float64(k/3%8)+r.Float64(), -17+6*float64(k/24%6)+r.Float64()
		lo := vec{x, y, heights[k%3] + 0.02}
		s = s.with(block(lo, add(lo, vec{3 + 2*r.Float64(), 2 + 2*r.Float64(), 0.8 + 1.7*r.Float64()}), n))
	}
	return s
}

// roundedBox is a box with rounded edges around the origin: cells of about a length, arc quads along each quarter turn,
// and after that each point moved by shape, which gets its normal.
func roundedBox(half vec, radius, cell float64, arc int, inward bool, shape func(p, n vec) vec) soup {
	var lines [3][]float64
	for k := range 3 {
		flat := half[k] - radius
		for i := range arc {
			lines[k] = append(lines[k], -flat-radius*math.Cos(math.Pi/2*float64(i)/float64(arc)))
		}
		n := int(math.Ceil(2 * flat / cell))
		for i := range n + 1 {
			lines[k] = append(lines[k], -flat+2*flat*float64(i)/float64(n))
		}
		for i := range arc {
			lines[k] = append(lines[k], -lines[k][arc-1-i])
		}
	}
	place := func(p vec) vec {
		var core, out vec
		for k := range 3 {
			core[k] = max(radius-half[k], min(half[k]-radius, p[k]))
			out[k] = p[k] - core[k]
		}
		n := unit(out)
		for k := range 3 {
			if p = along(core, radius, n); math.Abs(n[k]) == 1 {
				p[k] = math.Copysign(half[k], n[k])
				break
			}
		}
		return shape(p, n)
	}
	var s soup
	for axis := range 3 {
		for side := range 2 {
			u, v := (axis+1)%3, (axis+2)%3
			if (side == 0) != inward {
				u, v = v, u
			}
			s.grid(len(lines[u])-1, len(lines[v])-1, func(i, j int) vec {
				var p vec
				p[axis], p[u], p[v] = half[axis]*float64(2*side-1), lines[u][i], lines[v][j]
				return place(p)
			})
		}
	}
	return s
}

// housing is a closed shell 120 by 80 by 30 around a cavity 116 by 76 by 26 with ribs on its walls and bosses on its
// floor at z = -13, which a noise of up to so many mm roughens upward.
func housing(cell float64, arc int, noise float64) soup {
	r := rand.New(rand.NewPCG(2, 2))
	bosses := bossPlaces(r)
	step := func(t float64) float64 { t = max(0, min(1, t)); return t * t * (3 - 2*t) }
	rib := func(x, pitch, reach float64) float64 {
		return step((1.05-math.Abs(math.Mod(x+200, pitch)-pitch/2))/0.3) * step((reach-math.Abs(x))/0.5)
	}
	shape := func(p, n vec) vec {
		switch {
		case n[2] == -1:
			rise := 0.0
			for _, b := range bosses {
				rise = max(rise, b[3]*step((b[2]+0.3-math.Hypot(p[0]-b[0], p[1]-b[1]))/0.3))
			}
			p[2] += rise + noise*r.Float64()
		case math.Abs(n[1]) == 1:
			p[1] -= n[1] * 2 * rib(p[0], 8, 52) * step((10-math.Abs(p[2]))/0.5)
		case math.Abs(n[0]) == 1:
			p[0] -= n[0] * 2 * rib(p[1], 10, 31) * step((9-math.Abs(p[2]))/0.5)
		}
		return p
	}
	outer := roundedBox(vec{60, 40, 15}, 4, cell*1.4, arc, false, func(p, _ vec) vec { return p })
	return outer.with(roundedBox(vec{58, 38, 13}, 3, cell, arc, true, shape))
}

// bossPlaces returns x, y, radius and height of 60 bosses beside the place of the board.
func bossPlaces(r *rand.Rand) [][4]float64 {
	var out [][4]float64
	for len(out) < 60 {
		b := [4]float64{r.Float64()*106 - 53, r.Float64()*66 - 33, 1.5 + r.Float64(), 1.5 + 3*r.Float64()}
		if math.Abs(b[0]) >= 44 || math.Abs(b[1]) >= 28 {
			out = append(out, b)
		}
	}
	return out
}

// turned is a turn about no axis of the scene.
var turned = mgl64.HomogRotate3D(37*math.Pi/180, mgl64.Vec3{0.31, -0.77, 0.55}.Normalize())

// The surfaces of the scenes, each made when first asked for.
var (
	block12   = sync.OnceValue(func() soup { return block(vec{-3, -2, 0}, vec{3, 2, 1}, 1) })
	ball200   = sync.OnceValue(func() soup { return ball(2, 14) })
	board5k   = sync.OnceValue(func() soup { return foldedBoard(4.2, 8, 24, 2).rounded24() })
	board50k  = sync.OnceValue(func() soup { return foldedBoard(1.29, 24, 72, 5).rounded24() })
	house100k = sync.OnceValue(func() soup { return housing(0.97, 6, 0).rounded24() })
	house1m   = sync.OnceValue(func() soup { return housing(0.277, 16, 0).rounded24() })
	rough1m   = sync.OnceValue(func() soup { return housing(0.277, 16, 0.02).rounded24() })
	turned1m  = sync.OnceValue(func() soup { return housing(0.277, 16, 0).moved(turned).rounded24() })
	bend50k   = sync.OnceValue(func() soup { return pipe(10, 0, math.Pi, -20, 20, 157, 160).rounded24() })
	bore100k  = sync.OnceValue(func() soup { return boreOf(224, 223) })
	bore1m    = sync.OnceValue(func() soup { return boreOf(704, 700) })
)

// boreOf is a bore of n sides around a bend of radius 10, 0.05 wider.
func boreOf(n, m int) soup {
	return pipe(10.05/math.Cos(math.Pi/float64(n)), 0, 2*math.Pi, -30, 30, n, m).flipped().rounded24()
}

// pose is where a board stands in a housing.
type pose struct {
	name string
	m    mgl64.Mat4
}

// poses of the board; its lower face is z = 0, the floor -13.
var poses = []pose{
	{"gap_3", mgl64.Translate3D(0, 0, -10)},
	{"gap_1", mgl64.Translate3D(0.37, 0.21, -12)},
	{"near_0.05", mgl64.Translate3D(0.37, 0.21, -12.95)},
	{"near_0.05_turned", mgl64.Translate3D(0.37, 0.21, -12.95).Mul4(mgl64.HomogRotate3DZ(0.1))},
	{"tilt", mgl64.Translate3D(0, 0, -9).Mul4(mgl64.HomogRotate3D(3*math.Pi/180, mgl64.Vec3{0.6, 0.8, 0}))},
	{"skew", mgl64.Translate3D(1, 2, -8).Mul4(mgl64.HomogRotate3D(8*math.Pi/180, mgl64.Vec3{0.48, 0.6, 0.64}))},
	{"far", mgl64.Translate3D(200, 30, 50)},
}

// sunk are poses in which the board meets the housing.
var sunk = []pose{
	{"sunk", mgl64.Translate3D(0.37, 0.21, -13.1)},
	{"sunk_turned", mgl64.Translate3D(0.37, 0.21, -13.1).Mul4(mgl64.HomogRotate3DZ(0.2))},
	{"poke", mgl64.Translate3D(8, 0, -11).Mul4(mgl64.HomogRotate3DY(6 * math.Pi / 180))},
}

// bores are poses of a bend in a bore.
var bores = []pose{
	{"concentric", here},
	{"twisted", mgl64.Translate3D(0, 0, 0.123).Mul4(mgl64.HomogRotate3DZ(0.377))},
	{"eccentric", mgl64.Translate3D(0.01, 0.02, 0.3).Mul4(mgl64.HomogRotate3DZ(0.2))},
	{"yaw", mgl64.HomogRotate3DX(0.0004)},
}
