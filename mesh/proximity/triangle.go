package proximity

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// Triangle is a triangle by its corners.
type Triangle [3]mgl64.Vec3

// Normal returns the normal of t, twice as long as its area; zero for a triangle without area.
func (t *Triangle) Normal() mgl64.Vec3 {
	p := load(&t[0])
	return load(&t[1]).sub(p).cross(load(&t[2]).sub(p)).vec()
}

// face is a triangle with what comparing it needs.
type face struct {
	p, q, r xyz
	box
	n     xyz     // normal; zero for a needle, which counts as the segments it is
	size  float64 // its length
	level float64 // height of the plane along n
	slack float64 // by how much rounding may tilt the plane off the corners, times size
	ready bool    // the last four are set
}

func faceOf(t *Triangle) face {
	f := face{p: load(&t[0]), q: load(&t[1]), r: load(&t[2])}
	f.finish()
	return f
}

// normal returns the normal of f, twice as long as its area.
//
// Where two edges are nearly parallel, rounding tilts their product off both by about 1e-16 over the sine of their angle. What
// then is taken off along the longest edge leaves a tilt about that edge only, which moves the plane across it by no more
// than rounding does the corners.
func (f *face) normal() xyz {
	u, v := f.q.sub(f.p), f.r.sub(f.p)
	n := u.cross(v)
	uu, vv := u.dot(u), v.dot(v)
	if n.dot(n) > thin*thin*uu*vv {
		return n
	}
	e, ee := u, uu
	if vv > ee {
		e, ee = v, vv
	}
	if w := v.sub(u); w.dot(w) > ee {
		e, ee = w, w.dot(w)
	}
	if ee == 0 {
		return xyz{}
	}
	return n.along(-n.dot(e)/ee, e)
}

// thin is the sine of two edges' angle from which on their product is square to both within 1e-13 of their length.
const thin = 1e-3

// wrap sets the box.
func (f *face) wrap() {
	f.lo = xyz{min(f.p.x, f.q.x, f.r.x), min(f.p.y, f.q.y, f.r.y), min(f.p.z, f.q.z, f.r.z)}
	f.hi = xyz{max(f.p.x, f.q.x, f.r.x), max(f.p.y, f.q.y, f.r.y), max(f.p.z, f.q.z, f.r.z)}
}

// finish sets the plane.
func (f *face) finish() {
	if f.ready {
		return
	}
	f.ready = true
	u, v := f.q.sub(f.p), f.r.sub(f.p)
	f.n = f.normal()
	f.size = f.n.length()
	if f.size <= needle*max(u.dot(u), v.dot(v)) {
		f.n, f.size = xyz{}, 0
	}
	f.level = f.n.dot(f.p)
	f.slack = max(math.Abs(f.n.dot(u)), math.Abs(f.n.dot(v)))
}

// needle is the share of its length below which a triangle's width is rounding.
const needle = 1e-13

// TriangleDistance returns the distance between two triangles and a point of each that lie that far apart; 0 and a common
// point if they meet. Distances of limit or more may be reported as infinite. Exact up to rounding, about 1e-14 of the
// coordinates; triangles without area count as the segments they are.
func TriangleDistance(p, q *Triangle, limit float64) (d float64, x, y mgl64.Vec3) {
	f, g := faceOf(p), faceOf(q)
	if f.beyond(&g, limit) || g.beyond(&f, limit) {
		return math.Inf(1), vec{}, vec{}
	}
	b := nearest{d2: math.Inf(1)}
	b.compare(&f, &g)
	return math.Sqrt(b.d2), b.x.vec(), b.y.vec()
}

// beyond reports whether all corners of o are at least limit over the plane of f, to one side.
func (f *face) beyond(o *face, limit float64) bool {
	a, b, c := f.n.dot(o.p)-f.level, f.n.dot(o.q)-f.level, f.n.dot(o.r)-f.level
	limit = float64(limit*f.size) + f.slack
	return f.size > 0 && limit > 0 && (a >= limit && b >= limit && c >= limit || a <= -limit && b <= -limit && c <= -limit)
}

// nearest keeps the nearest pair of points offered.
type nearest struct {
	d2   float64
	x, y xyz
}

// compare offers the nearest points of two triangles.
//
// The nearest points of two triangles that do not cross lie on a corner and a face, or on two edges.
func (b *nearest) compare(p, q *face) {
	hq, hp := p.heights(q), q.heights(p)
	if x, ok := meeting(p, q, &hp, &hq); ok {
		*b = nearest{0, x, x}
		return
	}
	b.face(p.p, q, hp[0], false)
	b.face(p.q, q, hp[1], false)
	b.face(p.r, q, hp[2], false)
	b.face(q.p, p, hq[0], true)
	b.face(q.q, p, hq[1], true)
	b.face(q.r, p, hq[2], true)
	u, v := b.beyond(&hp, q), b.beyond(&hq, p)
	if !u[0] {
		b.edge(p.p, p.q, q, &v)
	}
	if !u[1] {
		b.edge(p.q, p.r, q, &v)
	}
	if !u[2] {
		b.edge(p.r, p.p, q, &v)
	}
}

// beyond reports for the three edges of a triangle, whose corners lie at heights h over the plane of t, whether they are no
// nearer to it than the best.
func (b *nearest) beyond(h *[3]float64, t *face) (out [3]bool) {
	if t.n == (xyz{}) {
		return out
	}
	least := float64(math.Sqrt(b.d2)*t.size) + t.slack
	p, q, r := math.Abs(h[0]) >= least, math.Abs(h[1]) >= least, math.Abs(h[2]) >= least
	out[0] = p && q && (h[0] > 0) == (h[1] > 0)
	out[1] = q && r && (h[1] > 0) == (h[2] > 0)
	out[2] = r && p && (h[2] > 0) == (h[0] > 0)
	return out
}

// edge offers the nearest points of an edge and those of a triangle, but for the ones to leave out.
func (b *nearest) edge(from, to xyz, t *face, out *[3]bool) {
	if !out[0] {
		b.edges(from, to, t.p, t.q)
	}
	if !out[1] {
		b.edges(from, to, t.q, t.r)
	}
	if !out[2] {
		b.edges(from, to, t.r, t.p)
	}
}

func (b *nearest) offer(x, y xyz) {
	d := x.sub(y)
	if d2 := d.dot(d); d2 < b.d2 {
		b.d2, b.x, b.y = d2, x, y
	}
}

// face offers point p and its foot on triangle t, if the foot lies in it; h is the height of p over t's plane times the
// length of its normal.
func (b *nearest) face(p xyz, t *face, h float64, swapped bool) {
	n2 := t.n.dot(t.n)
	if n2 == 0 || float64(h*h) >= float64(b.d2*n2) {
		return
	}
	foot := p.along(-h/n2, t.n)
	switch {
	case !t.insideEdges(foot):
	case swapped:
		b.offer(foot, p)
	default:
		b.offer(p, foot)
	}
}

// insideEdges reports whether a point in the plane of t lies within its three edges, borders included.
func (t *face) insideEdges(p xyz) bool {
	return t.q.sub(t.p).cross(p.sub(t.p)).dot(t.n) >= 0 && t.r.sub(t.q).cross(p.sub(t.q)).dot(t.n) >= 0 && t.p.sub(t.r).cross(p.sub(t.r)).dot(t.n) >= 0
}

// heights returns the heights of o's corners over f's plane, times the length of f's normal.
func (f *face) heights(o *face) [3]float64 {
	return [3]float64{f.n.dot(o.p.sub(f.p)), f.n.dot(o.q.sub(f.p)), f.n.dot(o.r.sub(f.p))}
}

// edges offers the nearest points of segments ab and cd (Ericson, Real-Time Collision Detection, 2005, section 5.1.9).
// Where the determinant has lost its digits, the ends are offered too, and the product of the two segments tells where they pass.
func (best *nearest) edges(a, b, c, d xyz) {
	u, v, w := b.sub(a), d.sub(c), a.sub(c)
	uu, vv, uv, uw, vw := u.dot(u), v.dot(v), u.dot(v), u.dot(w), v.dot(w)
	det := float64(uu*vv) - float64(uv*uv)
	s := clamp(float64(uv*vw)-float64(uw*vv), det)
	if det <= 1e-9*float64(uu*vv) {
		best.ends(a, b, c, d)
		n := u.cross(v)
		if det = n.dot(n); det <= parallel*parallel*uu*vv {
			return
		}
		s = clamp(n.dot(v.cross(w)), det)
	}
	y := c.along(clamp(float64(uv*s)+vw, vv), v)
	best.offer(a.along(clamp(u.dot(y.sub(a)), uu), u), y)
}

// parallel is the sine of an angle that is rounding: segments so turned part by no more than rounding moves their ends.
const parallel = 1e-15

// ends offers each end of two segments with the nearest point of the other.
func (best *nearest) ends(a, b, c, d xyz) {
	u, v := b.sub(a), d.sub(c)
	uu, vv := u.dot(u), v.dot(v)
	best.offer(a, c.along(clamp(v.dot(a.sub(c)), vv), v))
	best.offer(b, c.along(clamp(v.dot(b.sub(c)), vv), v))
	best.offer(a.along(clamp(u.dot(c.sub(a)), uu), u), c)
	best.offer(a.along(clamp(u.dot(d.sub(a)), uu), u), d)
}

// clamp returns n/d within 0 and 1; 0 for d = 0.
func clamp(n, d float64) float64 {
	switch {
	case n <= 0 || d == 0:
		return 0
	case n >= d:
		return 1
	}
	return n / d
}
