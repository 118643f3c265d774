package mesh

import (
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
)

// Volume returns the enclosed volume in mm3, positive for triangles that face outwards. It means nothing for an open mesh.
func (m Mesh) Volume() float64 {
	if len(m.Points) == 0 {
		return 0
	}
	sum, from := 0.0, m.Points[0]
	for _, t := range m.Triangles {
		a, b, c := m.Points[t[0]].Sub(from), m.Points[t[1]].Sub(from), m.Points[t[2]].Sub(from)
		sum += a.Dot(b.Cross(c))
	}
	return sum / 6
}

// Area returns the area of all triangles in mm2.
func (m Mesh) Area() float64 {
	sum := 0.0
	for _, t := range m.Triangles {
		a := m.Points[t[0]]
		sum += m.Points[t[1]].Sub(a).Cross(m.Points[t[2]].Sub(a)).Len()
	}
	return sum / 2
}

// Box returns the corners of the smallest box along the axes that holds all points; low > high for an empty mesh.
func (m Mesh) Box() (low, high mgl64.Vec3) {
	inf := math.Inf(1)
	low, high = mgl64.Vec3{inf, inf, inf}, mgl64.Vec3{-inf, -inf, -inf}
	for _, p := range m.Points {
		for k := range 3 {
			low[k], high[k] = min(low[k], p[k]), max(high[k], p[k])
		}
	}
	return low, high
}

// Place returns the mesh moved by a rigid motion; m stays as it is.
func (m Mesh) Place(motion mgl64.Mat4) Mesh {
	out := m
	out.Triangles = slices.Clone(m.Triangles)
	out.Points = make([]mgl64.Vec3, len(m.Points))
	for i, p := range m.Points {
		out.Points[i] = fold.Apply(motion, p)
	}
	out.Normals = turnAll(motion, m.Normals)
	return out
}

// turnAll returns the normals turned by a rigid motion; nil stays nil.
func turnAll(motion mgl64.Mat4, normals [][3]mgl64.Vec3) [][3]mgl64.Vec3 {
	if normals == nil {
		return nil
	}
	out := make([][3]mgl64.Vec3, len(normals))
	for i, n := range normals {
		out[i] = [3]mgl64.Vec3{fold.Turn(motion, n[0]), fold.Turn(motion, n[1]), fold.Turn(motion, n[2])}
	}
	return out
}

// Check returns nil for a closed body: finite points, each triangle with three different points, each directed edge
// exactly once and once the other way, volume above 0. Else it says what is wrong.
func (m Mesh) Check() error {
	for i, p := range m.Points {
		if s := p[0] + p[1] + p[2]; math.IsNaN(s) || math.IsInf(s, 0) {
			return fmt.Errorf("%s: point %d is not finite", m.Name, i)
		}
	}
	for i, t := range m.Triangles {
		if low, high := min(t[0], t[1], t[2]), max(t[0], t[1], t[2]); low < 0 || int(high) >= len(m.Points) ||
			t[0] == t[1] || t[1] == t[2] || t[2] == t[0] {
			return fmt.Errorf("%s: triangle %d (%d, %d, %d) is not one", m.Name, i, t[0], t[1], t[2])
		}
	}
	if err := paired(directedEdges(m.Triangles)); err != nil {
		return fmt.Errorf("%s: %w", m.Name, err)
	}
	if v := m.Volume(); !(v > 0) {
		return fmt.Errorf("%s: the volume is %g mm3", m.Name, v)
	}
	return nil
}

// directedEdges lists the triangles' edges, from in the upper half of the number and to in the lower.
func directedEdges(triangles [][3]int32) []uint64 {
	edges := make([]uint64, 0, 3*len(triangles))
	for _, t := range triangles {
		for k := range 3 {
			edges = append(edges, uint64(t[k])<<32|uint64(t[(k+1)%3]))
		}
	}
	return edges
}

// paired returns an error unless every edge occurs exactly once in each direction. It sorts edges.
func paired(edges []uint64) error {
	slices.Sort(edges)
	for i, e := range edges {
		from, to := uint32(e>>32), uint32(e)
		if i > 0 && edges[i-1] == e {
			return fmt.Errorf("the edge %d to %d occurs more than once", from, to)
		}
		if _, ok := slices.BinarySearch(edges, uint64(to)<<32|uint64(from)); !ok {
			return fmt.Errorf("the edge %d to %d is open", from, to)
		}
	}
	return nil
}
