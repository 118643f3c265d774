package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// solid is the exact body of a bend, for measuring how far a mesh is from it.
type solid struct {
	f     *fold.Folded
	bend  *fold.Bend
	body  *fold.Body
	curve float64 // signed, 1/mm
}

func solidOf(a *Assembly) solid {
	b := &a.Folded.Tree.Bends[0]
	return solid{a.Folded, b, &a.Folded.Tree.Bodies[0], a.Folded.Angles[0] * math.Pi / 180 / b.Width}
}

// unbend returns the material point (flat point and z) at a point in space near arc length s. The base stands still.
func (so solid) unbend(p mgl64.Vec3, s float64) (flat.Pt, float64) {
	q := flat.Pt{X: p[0], Y: p[1]}.Sub(so.bend.Origin)
	x, y, z := q.Dot(so.bend.Dir), q.Dot(so.bend.Dir.Left()), p[2]-so.bend.Height
	h := z
	if so.curve != 0 {
		r := 1 / so.curve
		phi := math.Atan2(math.Copysign(1, r)*x, math.Copysign(1, r)*(r-z))
		phi += 2 * math.Pi * math.Round((s*so.curve-phi)/(2*math.Pi))
		x, h = phi*r, r-math.Copysign(math.Hypot(x, r-z), r)
	}
	return so.bend.Origin.Add(so.bend.Dir.Mul(x)).Add(so.bend.Dir.Left().Mul(y)), h + so.bend.Height
}

// off returns how far p is at most from the exact surface: from the nearer face, or from the border's nearest point.
func (so solid) off(p mgl64.Vec3, s float64) float64 {
	at, z := so.unbend(p, s)
	best := math.Inf(1)
	clamped := min(max(z, so.body.Faces[0]), so.body.Faces[1])
	try := func(q flat.Pt, z float64) { best = min(best, so.f.BendPoint(0, q, z).Sub(p).Len()) }
	if so.body.Region.Contains(at) {
		try(at, so.body.Faces[0])
		try(at, so.body.Faces[1])
	}
	for _, e := range so.body.Region.Edges() {
		try(nearestOn(e, at), clamped)
	}
	return best
}

// nearestOn returns the point of e nearest to p.
func nearestOn(e flat.Edge, p flat.Pt) flat.Pt {
	if !e.IsArc() {
		d := e.Q.Sub(e.P)
		return e.At(min(max(p.Sub(e.P).Dot(d)/d.Dot(d), 0), 1))
	}
	d := p.Sub(e.C)
	t := (math.Atan2(d.Y, d.X) - math.Atan2(e.P.Y-e.C.Y, e.P.X-e.C.X)) / e.Sweep
	turn := 2 * math.Pi / math.Abs(e.Sweep)
	t -= turn * math.Floor(t/turn)
	switch {
	case t <= 1:
		return e.At(t)
	case p.Dist(e.P) < p.Dist(e.Q):
		return e.P
	}
	return e.Q
}

// distance returns the distance of p from the mesh.
func (m Mesh) distance(p mgl64.Vec3) float64 {
	best := math.Inf(1)
	for _, t := range m.Triangles {
		best = min(best, toTriangle(p, m.Points[t[0]], m.Points[t[1]], m.Points[t[2]]))
	}
	return best
}

// toTriangle returns the distance of p from a triangle: of its foot if that lies inside, else of the nearest side.
func toTriangle(p, a, b, c mgl64.Vec3) float64 {
	n := b.Sub(a).Cross(c.Sub(a))
	if n.Len() > 1e-14 {
		n = n.Normalize()
		inside := true
		for _, e := range [3][2]mgl64.Vec3{{a, b}, {b, c}, {c, a}} {
			inside = inside && e[1].Sub(e[0]).Cross(p.Sub(e[0])).Dot(n) >= 0
		}
		if inside {
			return math.Abs(p.Sub(a).Dot(n))
		}
	}
	best := math.Inf(1)
	for _, e := range [3][2]mgl64.Vec3{{a, b}, {b, c}, {c, a}} {
		d := e[1].Sub(e[0])
		t := min(max(p.Sub(e[0]).Dot(d)/max(d.Dot(d), 1e-300), 0), 1)
		best = min(best, p.Sub(e[0].Add(d.Mul(t))).Len())
	}
	return best
}

// The promise of Skin, tried at random points: of the mesh from the true surface, and of the true surface from the mesh.
func TestChordErrorKept(t *testing.T) {
	rnd := rand.New(rand.NewPCG(9, 9))
	leaning := loop(pts(0, 0, 4, 14, 4, 17, 0, 3))
	for name, r := range map[string]flat.Region{"notched": notched(t), "leaning": {leaning},
		"square": {rect(0, 0, 4, 10)}, "hole": {rect(0, 0, 4, 4), disc(2, 2, 2).Rev()}} {
		for _, angle := range []float64{0, 40, 180, -180, 300} {
			for _, chord := range []float64{0.05, 0.01} {
				a := skin(t, bendTree(r, flat.Pt{}, flat.Pt{X: 1}, 5, angle, [2]float64{-0.3, 0.1}, 0), 1, chord)
				b := &a.Bodies[0]
				if b.Chord > chord*(1+1e-9) {
					t.Errorf("%s %g: states %g, allowed %g", name, angle, b.Chord, chord)
				}
				out, in := meshFromSolid(rnd, a), solidFromMesh(rnd, a)
				if worst := max(out, in); worst > b.Chord*(1+1e-6)+1e-9 {
					t.Errorf("%s %g: off by %g and %g, states %g", name, angle, out, in, b.Chord)
				}
			}
		}
	}
}

// meshFromSolid returns the largest distance found of points of the mesh from the solid.
func meshFromSolid(rnd *rand.Rand, a *Assembly) float64 {
	so, b, worst := solidOf(a), &a.Bodies[0], 0.0
	for _, t := range b.Triangles {
		s := b.Stations[b.Station[t[0]]]
		for range 3 {
			u, v := rnd.Float64(), rnd.Float64()
			if u+v > 1 {
				u, v = 1-u, 1-v
			}
			p := b.Points[t[0]].Mul(1 - u - v).Add(b.Points[t[1]].Mul(u)).Add(b.Points[t[2]].Mul(v))
			worst = max(worst, so.off(p, s))
		}
	}
	return worst
}

// solidFromMesh returns the largest distance found of points of the solid's surface from the mesh.
func solidFromMesh(rnd *rand.Rand, a *Assembly) float64 {
	so, b, worst := solidOf(a), &a.Bodies[0], 0.0
	box := so.body.Region.Box()
	for range 60 {
		p := flat.Pt{X: box.Min.X + rnd.Float64()*(box.Max.X-box.Min.X), Y: box.Min.Y + rnd.Float64()*(box.Max.Y-box.Min.Y)}
		if so.body.Region.Contains(p) {
			worst = max(worst, b.distance(so.f.BendPoint(0, p, so.body.Faces[rnd.IntN(2)])))
		}
		edges := so.body.Region.Edges()
		z := so.body.Faces[0] + rnd.Float64()*(so.body.Faces[1]-so.body.Faces[0])
		worst = max(worst, b.distance(so.f.BendPoint(0, edges[rnd.IntN(len(edges))].At(rnd.Float64()), z)))
	}
	return worst
}
