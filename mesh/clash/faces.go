package clash

import (
	"math"

	"foldfit/fold/tolerance"
)

const (
	acrossPlane = 1e-5   // mm: how far a corner may lie off a plane to lie in it; above the step of numbers in mesh files
	mostAcross  = 20_000 // triangles at a plane that are looked at
)

// tell adds to a gap what says what it is worth: the way apart, and the faces of meshes there.
func (j *judged) tell(g *Gap) {
	a, b, r := j.pair.a, j.pair.b, &j.read
	g.Way = positive(r.dir)
	g.Faces = [2][]tolerance.Face{a.facesAcross(r.x, r.y, r.dir, b), b.facesAcross(r.y, r.x, r.dir, a)}
	if g.Between[0] != a.name {
		g.Way = positive(along(vec{}, -1, r.dir))
		g.Faces[0], g.Faces[1] = g.Faces[1], g.Faces[0]
	}
}

// facesAcross returns what of a piece that is a mesh lies in the plane across a way through its nearest point, over the other
// body: its faces, joined from triangles, and one triangle each for further edges and corners. nil for bodies whose faces the
// design tells, and where there are too many triangles.
func (m *member) facesAcross(at, opposite, way vec, other *member) []tolerance.Face {
	if !m.stored || way == (vec{}) {
		return nil
	}
	shift := sub(at, opposite)
	over := box{along(other.box.lo, 1, shift), along(other.box.hi, 1, shift)}.grow(acrossPlane)
	p := slicer{of: m.shape(), at: plane{way, dot(way, at)}, edges: map[[2]int32]bool{}, corners: map[int32]bool{}}
	found, ok := p.touching(&over)
	if !ok {
		return nil
	}
	var whole [][3]int32
	var out []tolerance.Face
	for _, i := range found {
		if t := p.of.tris[i]; p.holds(t[0]) && p.holds(t[1]) && p.holds(t[2]) {
			whole = append(whole, t)
		}
	}
	if face := p.joined(whole); len(face) > 0 {
		out = append(out, face)
	}
	for _, corners := range []int{2, 1} {
		for _, i := range found {
			if p.adds(p.of.tris[i], corners) {
				t := p.of.tri(i)
				out = append(out, tolerance.Face{{t[0], t[1], t[2]}})
			}
		}
	}
	return out
}

// slicer collects what of a shape lies in a plane.
type slicer struct {
	of      *shape
	at      plane
	edges   map[[2]int32]bool // those in the plane that are known, lower point first
	corners map[int32]bool
}

// holds reports whether a point lies in the plane.
func (p *slicer) holds(point int32) bool {
	return math.Abs(p.at.above(p.of.points[point])) <= acrossPlane
}

// touching returns the triangles that reach the plane within a box, ok false for too many.
func (p *slicer) touching(over *box) (out []int32, ok bool) {
	s := p.of
	for i := int32(0); int(i) < len(s.nodes); {
		n := &s.nodes[i]
		half, middle, b := 0.0, vec{}, n.box()
		for k := range 3 {
			middle[k] = (b.lo[k] + b.hi[k]) / 2
			half += math.Abs(p.at.n[k]) * (b.hi[k] - b.lo[k]) / 2
		}
		if !b.meets(over) || math.Abs(p.at.above(middle)) > half+acrossPlane {
			i = s.next(i)
			continue
		}
		for k := n.first; n.right == 0 && k < n.first+n.count; k++ {
			i := s.at(k)
			if t := s.tris[i]; p.holds(t[0]) || p.holds(t[1]) || p.holds(t[2]) {
				out = append(out, i)
			}
		}
		if len(out) > mostAcross {
			return nil, false
		}
		i++
	}
	return out, true
}

// joined returns the border of some triangles that lie in the plane, as closed lines: the edges that no two of them share.
func (p *slicer) joined(tris [][3]int32) tolerance.Face {
	inner := map[[2]int32]bool{}
	for _, t := range tris {
		for k := range 3 {
			inner[[2]int32{t[k], t[(k+1)%3]}] = true
		}
	}
	next := map[int32][]int32{}
	var order []int32
	for _, t := range tris {
		for k := range 3 {
			from, to := t[k], t[(k+1)%3]
			p.edges[[2]int32{min(from, to), max(from, to)}] = true
			p.corners[from] = true
			if !inner[[2]int32{to, from}] {
				next[from] = append(next[from], to)
				order = append(order, from)
			}
		}
	}
	var out tolerance.Face
	for _, start := range order {
		var line []vec
		for at := start; len(next[at]) > 0; {
			line = append(line, p.of.points[at])
			to := next[at][0]
			next[at], at = next[at][1:], to
		}
		if len(line) > 2 {
			out = append(out, line)
		}
	}
	return out
}

// adds reports whether a triangle with so many corners in the plane has an edge or a corner there that is not known yet.
func (p *slicer) adds(t [3]int32, corners int) bool {
	var in []int32
	for _, k := range t {
		if p.holds(k) {
			in = append(in, k)
		}
	}
	if len(in) != corners {
		return false
	}
	if corners == 1 {
		known := p.corners[in[0]]
		p.corners[in[0]] = true
		return !known
	}
	edge := [2]int32{min(in[0], in[1]), max(in[0], in[1])}
	known := p.edges[edge]
	p.edges[edge], p.corners[in[0]], p.corners[in[1]] = true, true, true
	return !known
}
