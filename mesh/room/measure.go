package room

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/flat"
)

// local returns points in the rod's frame: across, up, along.
func (r *rod) local(points []mgl64.Vec3) []mgl64.Vec3 {
	out := make([]mgl64.Vec3, len(points))
	for i, p := range points {
		v := p.Sub(r.at)
		out[i] = mgl64.Vec3{v.Dot(r.across), v.Dot(r.up), v.Dot(r.along)}
	}
	return out
}

// measure returns how near a closed mesh, in the rod's frame, comes to the axis over a span of it, below zero where the axis
// runs inside all along, and the diameter of the largest rod that it leaves room for; both infinite for a mesh that is not
// beside the span.
func (r *rod) measure(local []mgl64.Vec3, triangles [][3]int32, span [2]float64) (near, largest float64) {
	near, largest = math.Inf(1), math.Inf(1)
	if len(local) == 0 {
		return near, largest
	}
	for _, t := range triangles {
		seen := clip([]mgl64.Vec3{local[t[0]], local[t[1]], local[t[2]]}, span)
		if len(seen) == 0 {
			continue
		}
		near = min(near, distance(seen, flat.Pt{}))
		if r.onFace {
			largest = min(largest, 2*leastOnFace(seen, r.radius))
		}
	}
	if !r.onFace {
		largest = 2 * near
	}
	if near > 0 && inside(local, triangles, mgl64.Vec3{0, 0, (r.from + r.to) / 2}) {
		return -min(near, r.radius), 0
	}
	return near, largest
}

// clip returns the part of a triangle within a span of its third coordinate, seen along it; nothing where there is none.
func clip(p []mgl64.Vec3, span [2]float64) []flat.Pt {
	for k, sign := range [2]float64{1, -1} {
		if math.IsInf(span[k], 0) {
			continue
		}
		var kept []mgl64.Vec3
		for i, a := range p {
			b := p[(i+1)%len(p)]
			da, db := sign*(a[2]-span[k]), sign*(b[2]-span[k])
			if da >= 0 {
				kept = append(kept, a)
			}
			if da*db < 0 {
				kept = append(kept, a.Add(b.Sub(a).Mul(da/(da-db))))
			}
		}
		p = kept
	}
	out := make([]flat.Pt, len(p))
	for i, q := range p {
		out[i] = flat.Pt{X: q[0], Y: q[1]}
	}
	return out
}

// distance returns how far a point is from a convex polygon, 0 inside.
func distance(poly []flat.Pt, p flat.Pt) float64 {
	if holds(poly, p) {
		return 0
	}
	least := math.Inf(1)
	for i, a := range poly {
		d := poly[(i+1)%len(poly)].Sub(a)
		share := 0.0
		if l := d.Dot(d); l > 0 {
			share = min(max(p.Sub(a).Dot(d)/l, 0), 1)
		}
		least = min(least, p.Dist(a.Add(d.Mul(share))))
	}
	return least
}

// holds reports whether a point lies inside a polygon.
func holds(poly []flat.Pt, p flat.Pt) bool {
	in := false
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// leastOnFace returns the least radius of a circle that touches the face at one point from above and reaches a polygon. The
// polygon is given from the middle of a circle of the given radius on that point. The circle through (x, y), counted from
// the point, has the radius (x^2 + y^2)/2y; a line at c along its unit normal n is touched at c/(1 + n_y).
func leastOnFace(poly []flat.Pt, radius float64) float64 {
	lift := flat.Pt{Y: radius}
	if holds(poly, flat.Pt{Y: flat.Snap - radius}) {
		return 0
	}
	least := math.Inf(1)
	for i, a := range poly {
		a, b := a.Add(lift), poly[(i+1)%len(poly)].Add(lift)
		if a.Y > 0 {
			least = min(least, a.Dot(a)/(2*a.Y))
		}
		n := b.Sub(a).Unit().Left()
		c := n.Dot(a)
		if c < 0 {
			n, c = n.Mul(-1), -c
		}
		if r := c / (1 + n.Y); 1+n.Y > 1e-12 {
			touch := flat.Pt{Y: r}.Add(n.Mul(r))
			if touch.Sub(a).Dot(touch.Sub(b)) <= 0 {
				least = min(least, r)
			}
		}
	}
	return least
}

// inside reports whether a point off the surface lies inside a closed mesh: the solid angles under which it sees the
// triangles add up to a whole sphere (formula of Van Oosterom and Strackee, 1983; recalled).
func inside(points []mgl64.Vec3, triangles [][3]int32, p mgl64.Vec3) bool {
	sum := 0.0
	for _, t := range triangles {
		a, b, c := points[t[0]].Sub(p), points[t[1]].Sub(p), points[t[2]].Sub(p)
		la, lb, lc := a.Len(), b.Len(), c.Len()
		sum += math.Atan2(a.Dot(b.Cross(c)), la*lb*lc+a.Dot(b)*lc+b.Dot(c)*la+c.Dot(a)*lb)
	}
	return math.Abs(sum) > math.Pi // 2 pi inside, 0 outside
}
