package clash

import "math"

// parallel is the sine below which a triangle counts as parallel to a direction: its face then cannot be met by moving
// along it, only its edges.
const parallel = 1e-7

// span is an interval of shifts t along a direction for which triangle p + t d meets triangle q. At t = to, point at of p
// (not shifted) has just come to q.
type span struct {
	from, to float64
	at       vec
	end      touch
}

// touch is what of two triangles a and b parts last: a corner of one on the other's face, or edges i and j.
type touch struct {
	kind touchKind
	i, j int8
}

type touchKind int8

const (
	cornerOnB touchKind = iota // a corner of a on b's face
	cornerOnA
	edgeOnEdge
)

// flatTri is a triangle seen along a direction: plane coordinates and heights of its corners.
type flatTri struct {
	x, y, h     [3]float64
	area2       float64 // twice the signed area in the view; 0 if the triangle is seen edge-on; valid once measured
	measured    bool
	lo, hi      [2]float64 // bounds in the view
	bottom, top float64    // bounds of the heights
}

// view looks along a unit direction d; u and v span the plane across it.
type view struct{ u, v, d vec }

// newView returns a view along the unit direction d.
func newView(d vec) view {
	axis := vec{1, 0, 0}
	if math.Abs(d[0]) > 0.7 {
		axis = vec{0, 1, 0}
	}
	u := unit(cross(d, axis))
	return view{u, cross(d, u), d}
}

// flatten returns t as seen along the view.
func (w *view) flatten(t *tri) flatTri {
	var f flatTri
	for i, p := range t {
		f.x[i], f.y[i], f.h[i] = dot(w.u, p), dot(w.v, p), dot(w.d, p)
	}
	f.lo = [2]float64{min(f.x[0], f.x[1], f.x[2]), min(f.y[0], f.y[1], f.y[2])}
	f.hi = [2]float64{max(f.x[0], f.x[1], f.x[2]), max(f.y[0], f.y[1], f.y[2])}
	f.bottom, f.top = min(f.h[0], f.h[1], f.h[2]), max(f.h[0], f.h[1], f.h[2])
	return f
}

// measure computes the area that is seen.
func (f *flatTri) measure() {
	if f.measured {
		return
	}
	f.measured = true
	c := tri{{f.x[0], f.y[0], f.h[0]}, {f.x[1], f.y[1], f.h[1]}, {f.x[2], f.y[2], f.h[2]}}
	if n := c.normal(); float64(n[2]*n[2]) > parallel*parallel*dot(n, n) {
		f.area2 = n[2]
	}
}

// turn returns twice the signed area of the triangle (a, b, c) in the plane.
func turn(ax, ay, bx, by, cx, cy float64) float64 {
	return float64((bx-ax)*(cy-ay)) - float64((by-ay)*(cx-ax))
}

// slack is how far, relative to its size, a triangle's border is widened in a view, so that rounding leaves no crack
// between neighbours.
const slack = 1e-12

// height returns the height of f's face at (x, y) in the view; ok is false if the point is not on it.
func (f *flatTri) height(x, y float64) (float64, bool) {
	if f.area2 == 0 {
		return 0, false
	}
	h := 0.0
	for i := range 3 {
		k, l := (i+1)%3, (i+2)%3
		w := turn(f.x[k], f.y[k], f.x[l], f.y[l], x, y) / f.area2
		if w < -slack {
			return 0, false
		}
		h += float64(w * f.h[i])
	}
	return h, true
}

// meet returns the interval of shifts t for which p + t d meets q; ok is false if they never meet. Two triangles seen
// edge-on in the same line slide along each other and count as never meeting.
//
// p + t d meets q where the line of all t d passes through the convex set q - p; it enters and leaves through a corner of
// one against a face of the other, or through two edges.
func (w *view) meet(p, q *flatTri) (s span, ok bool) {
	if p.lo[0] > q.hi[0] || q.lo[0] > p.hi[0] || p.lo[1] > q.hi[1] || q.lo[1] > p.hi[1] {
		return s, false
	}
	p.measure()
	q.measure()
	s = span{from: math.Inf(1), to: math.Inf(-1)}
	for i := range 3 {
		if h, on := q.height(p.x[i], p.y[i]); on {
			s.add(w, h-p.h[i], p.x[i], p.y[i], p.h[i], touch{kind: cornerOnB})
		}
		if h, on := p.height(q.x[i], q.y[i]); on {
			s.add(w, q.h[i]-h, q.x[i], q.y[i], h, touch{kind: cornerOnA})
		}
		for j := range 3 {
			if a, b, on := edges(p, q, i, j); on {
				k := (i + 1) % 3
				x, y := p.x[i]+float64(a*(p.x[k]-p.x[i])), p.y[i]+float64(a*(p.y[k]-p.y[i]))
				hp, hq := p.h[i]+float64(a*(p.h[k]-p.h[i])), q.h[j]+float64(b*(q.h[(j+1)%3]-q.h[j]))
				s.add(w, hq-hp, x, y, hp, touch{edgeOnEdge, int8(i), int8(j)})
			}
		}
	}
	return s, s.from <= s.to
}

// add widens the interval to shift t, at which the point seen at (x, y) with height h on p meets q.
func (s *span) add(w *view, t, x, y, h float64, by touch) {
	s.from = min(s.from, t)
	if t > s.to {
		s.to, s.end = t, by
		s.at = along(along(along(vec{}, x, w.u), y, w.v), h, w.d)
	}
}

// edges returns where, as shares of their lengths, edge i of p and edge j of q cross in the view. Parallel edges do not.
func edges(p, q *flatTri, i, j int) (a, b float64, ok bool) {
	k, l := (i+1)%3, (j+1)%3
	ux, uy, vx, vy := p.x[k]-p.x[i], p.y[k]-p.y[i], q.x[l]-q.x[j], q.y[l]-q.y[j]
	det := float64(ux*vy) - float64(uy*vx)
	if math.Abs(det) <= 1e-12*math.Sqrt((float64(ux*ux)+float64(uy*uy))*(float64(vx*vx)+float64(vy*vy))) {
		return 0, 0, false
	}
	wx, wy := q.x[j]-p.x[i], q.y[j]-p.y[i]
	a, b = (float64(wx*vy)-float64(wy*vx))/det, (float64(wx*uy)-float64(wy*ux))/det
	return a, b, a >= -slack && a <= 1+slack && b >= -slack && b <= 1+slack
}
