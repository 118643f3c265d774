package tolerance

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// inPlane is how far (mm) a point may lie off a plane to count as lying in it: bodies this nearly parallel have more than one
// nearest pair. It is above the rounding of mesh files, whose coordinates have 24 bits.
const inPlane = 1e-5

// corners returns further nearest pairs of a gap where faces or edges of the two bodies are parallel: the corners of what
// lies opposite each other in the two planes across the way apart. Velocities of a face along its normal are linear over
// it, so no point between them loses more. unsure says why there may be others.
func corners(f *fold.Folded, m *Measured, way mgl64.Vec3) (pairs [][2]mgl64.Vec3, unsure string) {
	a := newSlice(shapeOf(f, m.Between[0], m.Faces[0], m.At[0]), m.At[0], way)
	b := newSlice(shapeOf(f, m.Between[1], m.Faces[1], m.At[1]), m.At[1], way)
	switch {
	case !a.known && !b.known, !a.known && len(b.edges) > 0, !b.known && len(a.edges) > 0:
		return nil, "the faces of a mesh are not known here: if it is parallel to the other body, the loss is that of one point"
	case m.At[0].Sub(m.At[1]).Dot(way) < -touching && a.known && b.known && len(a.edges) > 0 && len(b.edges) > 0:
		return nil, "the bodies overlap along parallel faces: the loss is that of one point"
	}
	for _, p := range a.against(b) {
		u := a.view.at(p)
		pairs = append(pairs, [2]mgl64.Vec3{u.Add(way.Mul(m.At[0].Dot(way))), u.Add(way.Mul(m.At[1].Dot(way)))})
	}
	return pairs, ""
}

// view is a plane through the origin across a direction.
type view struct{ u, v mgl64.Vec3 }

func newView(n mgl64.Vec3) view {
	axis := mgl64.Vec3{1, 0, 0}
	if math.Abs(n[0]) > 0.7 {
		axis = mgl64.Vec3{0, 1, 0}
	}
	u := n.Cross(axis).Normalize()
	return view{u, n.Cross(u)}
}

func (w view) of(p mgl64.Vec3) flat.Pt { return flat.Pt{X: p.Dot(w.u), Y: p.Dot(w.v)} }

func (w view) at(p flat.Pt) mgl64.Vec3 { return w.u.Mul(p.X).Add(w.v.Mul(p.Y)) }

// slice is what of a body lies in the plane through its nearest point across the way apart, seen along it: whole faces, edges
// and corners.
type slice struct {
	view    view
	faces   [][][2]flat.Pt // the borders of each
	edges   [][2]flat.Pt
	corners []flat.Pt
	known   bool
}

func newSlice(s shape, at, way mgl64.Vec3) slice {
	out := slice{view: newView(way), known: s.known}
	in := func(p mgl64.Vec3) bool { return math.Abs(p.Sub(at).Dot(way)) <= inPlane }
	for _, face := range s.faces {
		var border [][2]flat.Pt
		whole := true
		for _, loop := range face {
			for i, p := range loop {
				q := loop[(i+1)%len(loop)]
				if whole = whole && in(p); in(p) {
					out.corners = append(out.corners, out.view.of(p))
				}
				if in(p) && in(q) {
					border = append(border, [2]flat.Pt{out.view.of(p), out.view.of(q)})
				}
			}
		}
		out.edges = append(out.edges, border...)
		if whole {
			out.faces = append(out.faces, border)
		}
	}
	for _, l := range s.lines {
		if in(l[0]) && in(l[1]) {
			e := [2]flat.Pt{out.view.of(l[0]), out.view.of(l[1])}
			out.edges = append(out.edges, e)
			out.corners = append(out.corners, e[:]...)
		}
	}
	return out
}

// against returns the corners of what two slices have in common, seen along the way, each once.
func (s *slice) against(o slice) []flat.Pt {
	var out []flat.Pt
	add := func(p flat.Pt) {
		for _, q := range out {
			if p.Dist(q) <= inPlane {
				return
			}
		}
		out = append(out, p)
	}
	for _, p := range s.corners {
		if o.holds(p) {
			add(p)
		}
	}
	for _, p := range o.corners {
		if s.holds(p) {
			add(p)
		}
	}
	for _, a := range s.edges {
		for _, b := range o.edges {
			if p, ok := crossing(a, b); ok {
				add(p)
			}
		}
	}
	return out
}

// holds reports whether a point lies in one of the slice's faces, or on an edge or corner.
func (s *slice) holds(p flat.Pt) bool {
	for _, e := range s.edges {
		if flat.Line(e[0], e[1]).Near(p) {
			return true
		}
	}
	for _, c := range s.corners {
		if c.Dist(p) <= inPlane {
			return true
		}
	}
	for _, face := range s.faces {
		inside := false
		for _, e := range face {
			if (e[0].Y > p.Y) != (e[1].Y > p.Y) && p.X < e[0].X+(p.Y-e[0].Y)/(e[1].Y-e[0].Y)*(e[1].X-e[0].X) {
				inside = !inside
			}
		}
		if inside {
			return true
		}
	}
	return false
}

// crossing returns where two edges cross; parallel ones do not.
func crossing(a, b [2]flat.Pt) (flat.Pt, bool) {
	u, v, w := a[1].Sub(a[0]), b[1].Sub(b[0]), b[0].Sub(a[0])
	det := u.Cross(v)
	if math.Abs(det) <= 1e-9*u.Len()*v.Len() {
		return flat.Pt{}, false
	}
	s, t := w.Cross(v)/det, w.Cross(u)/det
	return a[0].Add(u.Mul(s)), s >= 0 && s <= 1 && t >= 0 && t <= 1
}
