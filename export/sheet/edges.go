package sheet

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/mesh"
)

// curve is a line of a view in space: a chain of points, in the housing's frame.
type curve struct {
	points []mgl64.Vec3
	smooth bool // no edge but a tangent line, where a bend begins
}

// chain is how far (degrees of bend or arc) the points of a curve are apart at most.
const chain = 5.0

// curves returns the lines of the board that can be seen from a direction: edges of all bodies, and where round surfaces turn away.
func (s *solid) curves(toward mgl64.Vec3) []curve {
	var out []curve
	t := s.folded.Tree
	for i := range t.Bodies {
		b := &t.Bodies[i]
		if b.Kind == fold.KindBend {
			out = append(out, s.bendCurves(b, toward)...)
			continue
		}
		motion := s.motion.Mul4(s.folded.BodyMotion(b))
		if len(b.Region) > 0 {
			out = append(out, s.prism(b, b.Region, b.Faces, motion, toward)...)
		}
		for _, x := range b.Boxes {
			out = append(out, s.prism(b, boxRegion(b, x), [2]float64{x[2], x[5]}, motion, toward)...)
		}
	}
	return out
}

// boxRegion returns the footprint in the flat of one of a component's boxes.
func boxRegion(b *fold.Body, x [6]float64) flat.Region {
	turn := fold.RigidMotion([3]float64{0, 0, b.Turn}, mgl64.Vec3{b.At.X, b.At.Y, 0})
	var p [4]flat.Pt
	for i, c := range [4][2]float64{{x[0], x[1]}, {x[3], x[1]}, {x[3], x[4]}, {x[0], x[4]}} {
		q := fold.Apply(turn, mgl64.Vec3{c[0], c[1], 0})
		p[i] = flat.Pt{X: q[0], Y: q[1]}
	}
	return flat.Region{{flat.Line(p[0], p[1]), flat.Line(p[1], p[2]), flat.Line(p[2], p[3]), flat.Line(p[3], p[0])}}
}

// prism returns the lines of a prism over a region of the flat. Edges along which a bend of the same thickness goes on are left to it.
func (s *solid) prism(b *fold.Body, r flat.Region, faces [2]float64, motion mgl64.Mat4, toward mgl64.Vec3) []curve {
	var out []curve
	at := func(p flat.Pt, z float64) mgl64.Vec3 { return fold.Apply(motion, mgl64.Vec3{p.X, p.Y, z}) }
	seen := fold.Turn(fold.Invert(motion), toward)
	for _, l := range r {
		joins := make([]bool, len(l))
		for i, e := range l {
			joins[i] = s.joinsBend(b, e)
		}
		for i, e := range l {
			if before := (i + len(l) - 1) % len(l); !joins[i] && !joins[before] && corner(l[before], e) {
				out = append(out, curve{points: []mgl64.Vec3{at(e.P, faces[0]), at(e.P, faces[1])}})
			}
			for _, p := range turnings(e, seen) {
				out = append(out, curve{points: []mgl64.Vec3{at(p, faces[0]), at(p, faces[1])}})
			}
			for _, z := range faces {
				if !joins[i] {
					out = append(out, curve{points: along(e, 1, func(p flat.Pt) mgl64.Vec3 { return at(p, z) })})
				}
			}
		}
	}
	return out
}

// along returns points of an edge moved into space: its ends, and between them as many as its arc and n ask for.
func along(e flat.Edge, n int, place func(flat.Pt) mgl64.Vec3) []mgl64.Vec3 {
	n = max(n, int(math.Ceil(math.Abs(e.Sweep)*180/math.Pi/chain)))
	out := make([]mgl64.Vec3, n+1)
	for i := range out {
		out[i] = place(e.At(float64(i) / float64(n)))
	}
	return out
}

// corner reports whether a border has a corner between two edges.
func corner(a, b flat.Edge) bool { return math.Abs(a.Tangent(1).Cross(b.Tangent(0))) > 1e-3 }

// turnings returns the points of an arc where the wall that stands on it turns away from a viewer in direction d (flat coordinates).
func turnings(e flat.Edge, d mgl64.Vec3) []flat.Pt {
	flatly := flat.Pt{X: d[0], Y: d[1]}
	if !e.IsArc() || flatly.Len() < 1e-9 {
		return nil
	}
	var out []flat.Pt
	for _, n := range []flat.Pt{flatly.Unit().Left(), flatly.Unit().Left().Mul(-1)} {
		from := e.P.Sub(e.C)
		a := math.Atan2(from.Cross(n), from.Dot(n)) / e.Sweep
		if a < 0 {
			a += 2 * math.Pi / math.Abs(e.Sweep)
		}
		if a <= 1 {
			out = append(out, e.At(a))
		}
	}
	return out
}

// joinsBend reports whether an edge of a body is a joint where a bend with the same faces goes on.
func (s *solid) joinsBend(b *fold.Body, e flat.Edge) bool {
	t := s.folded.Tree
	if e.IsArc() || b.Kind != fold.KindFlex && b.Kind != fold.KindSection {
		return false
	}
	for _, j := range t.Joints {
		if j.Flat == b.Flat && t.Bends[j.Bend].Faces == b.Faces && flat.Line(j.P, j.Q).Near(e.Mid()) {
			return true
		}
	}
	return false
}

// goesOn reports whether an edge of a bend is a joint where a body with the same faces goes on.
func (s *solid) goesOn(i int, e flat.Edge) bool {
	t := s.folded.Tree
	for _, j := range t.Joints {
		if j.Bend != i || !flat.Line(j.P, j.Q).Near(e.Mid()) {
			continue
		}
		for _, k := range t.Flats[j.Flat].Bodies {
			b := &t.Bodies[k]
			if b.Faces != t.Bends[i].Faces || b.Kind != fold.KindFlex && b.Kind != fold.KindSection {
				continue
			}
			for _, other := range b.Region.Edges() {
				if other.Near(e.Mid()) {
					return true
				}
			}
		}
	}
	return false
}

// bendCurves returns the lines of a bend: its border on both faces, its corners, and where it turns away.
func (s *solid) bendCurves(body *fold.Body, toward mgl64.Vec3) []curve {
	var out []curve
	i := body.Bend
	bend := &s.folded.Tree.Bends[i]
	at := func(p flat.Pt, z float64) mgl64.Vec3 { return fold.Apply(s.motion, s.folded.BendPoint(i, p, z)) }
	turned := math.Abs(s.folded.Angles[bend.Hinge]) / bend.Width // degrees a mm
	for _, l := range body.Region {
		ends := make([]bool, len(l))
		for k, e := range l {
			ends[k] = s.goesOn(i, e)
		}
		for k, e := range l {
			if before := (k + len(l) - 1) % len(l); !ends[k] && !ends[before] && corner(l[before], e) {
				out = append(out, curve{points: []mgl64.Vec3{at(e.P, body.Faces[0]), at(e.P, body.Faces[1])}})
			}
			n := max(1, int(math.Ceil(turned*math.Abs(e.Q.Sub(e.P).Dot(bend.Dir))/chain)))
			for _, z := range body.Faces {
				out = append(out, curve{along(e, n, func(p flat.Pt) mgl64.Vec3 { return at(p, z) }), ends[k]})
			}
		}
	}
	for _, st := range s.turnsAway(i, toward) {
		base := bend.Origin.Add(bend.Dir.Mul(st))
		for _, x := range body.Region.Stretches(base, bend.Dir.Left()) {
			p, q := base.Add(bend.Dir.Left().Mul(x[0])), base.Add(bend.Dir.Left().Mul(x[1]))
			for _, z := range body.Faces {
				out = append(out, curve{points: []mgl64.Vec3{at(p, z), at(q, z)}})
			}
		}
	}
	return out
}

// turnsAway returns the arc lengths at which a bend's faces turn away from a viewer in direction toward.
func (s *solid) turnsAway(i int, toward mgl64.Vec3) []float64 {
	const parts = 64
	first, last := s.folded.Span(i)
	facing := func(st float64) float64 {
		return fold.Turn(s.motion.Mul4(s.folded.BoardFromStation(i, st)), mgl64.Vec3{0, 0, 1}).Dot(toward)
	}
	var out []float64
	for k := range parts {
		lo, hi := first+(last-first)*float64(k)/parts, first+(last-first)*float64(k+1)/parts
		a, b := facing(lo), facing(hi)
		if (a > 0) == (b > 0) || math.Abs(a-b) < 1e-9 {
			continue
		}
		for range 40 {
			if mid := (lo + hi) / 2; (facing(mid) > 0) == (a > 0) {
				lo = mid
			} else {
				hi = mid
			}
		}
		if st := (lo + hi) / 2; st > first+1e-6 && st < last-1e-6 {
			out = append(out, st)
		}
	}
	return out
}

// sharp is how far (as cosine, 25 degrees) the triangles on both sides of a mesh's edge differ where it is drawn.
var sharp = math.Cos(25 * math.Pi / 180)

// seam is an edge of a mesh and the triangles on both sides of it.
type seam struct{ from, to, right, left int32 }

// seams returns the edges of a mesh at which two triangles meet.
func seams(m mesh.Mesh) []seam {
	key := func(from, to int32) uint64 { return uint64(uint32(from))<<32 | uint64(uint32(to)) }
	edges := 3 * len(m.Triangles) / 2 // of a closed mesh
	open, out := make(map[uint64]int32, edges), make([]seam, 0, edges)
	for i, t := range m.Triangles {
		if normalOf(m, int32(i)).Len() == 0 {
			continue
		}
		for k := range 3 {
			from, to := t[k], t[(k+1)%3]
			if j, found := open[key(to, from)]; found {
				out = append(out, seam{from, to, int32(i), j})
				continue
			}
			open[key(from, to)] = int32(i)
		}
	}
	return out
}

// outlines returns the edges of a mesh that a viewer in direction toward sees as its lines: sharp ones, and those where it turns away.
func outlines(m mesh.Mesh, edges []seam, toward mgl64.Vec3) []curve {
	var out []curve
	for _, e := range edges {
		n, other := normalOf(m, e.right), normalOf(m, e.left)
		x, y := n.Dot(toward), other.Dot(toward)
		if n.Dot(other) < sharp || (x > 1e-6) != (y > 1e-6) {
			out = append(out, curve{points: []mgl64.Vec3{m.Points[e.from], m.Points[e.to]}})
		}
	}
	return out
}

// normalOf returns the unit normal of a triangle of a mesh, zero for one without area.
func normalOf(m mesh.Mesh, i int32) mgl64.Vec3 {
	t := m.Triangles[i]
	a, b, c := m.Points[t[0]], m.Points[t[1]], m.Points[t[2]]
	n := b.Sub(a).Cross(c.Sub(a))
	if n.Len() == 0 {
		return mgl64.Vec3{}
	}
	return n.Normalize()
}
