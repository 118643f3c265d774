package clash

import "math"

// shrunk returns a copy of a closed shape whose points have moved inward by reach (mm): no point farther, each face by at
// most that. Two bodies that touch in faces, fit into each other exactly or overlap by less than rounding no longer meet
// once one of them is shrunk; bodies that dig into each other by more than reach still do.
func (s *shape) shrunk(reach float64) *shape {
	out := &shape{points: make([]vec, len(s.points)), tris: s.tris, order: s.order, ids: s.ids, closed: s.closed, pieces: s.pieces}
	out.nodes = append([]node(nil), s.nodes...)
	for i, n := range s.outward() {
		out.points[i] = along(s.points[i], -reach, n)
	}
	out.refit()
	return out
}

// outward returns for each point the unit direction in which it stands out: the mean of its faces' normals weighted by
// their angles (Thuermer and Wuethrich, Computing vertex normals from polygonal facets, 1998), turned further toward faces
// that would otherwise look the other way. Zero where no direction is outward to all faces.
func (s *shape) outward() []vec {
	sum := make([]vec, len(s.points))
	normals := make([]vec, len(s.tris))
	for i := range s.tris {
		t := s.tri(int32(i))
		normals[i] = unit(t.normal())
		for k := range 3 {
			u, v := unit(sub(t[(k+1)%3], t[k])), unit(sub(t[(k+2)%3], t[k]))
			angle := math.Acos(max(-1, min(1, dot(u, v))))
			sum[s.tris[i][k]] = along(sum[s.tris[i][k]], angle, normals[i])
		}
	}
	for i := range sum {
		sum[i] = unit(sum[i])
	}
	for range 8 {
		if !s.turnOut(sum, normals) {
			return sum
		}
	}
	s.leaveSaddles(sum, normals)
	return sum
}

// leastFacing is the least cosine between a point's outward direction and its faces' normals.
const leastFacing = 0.05

// turnOut turns directions toward faces that they do not face, and reports whether there were any.
func (s *shape) turnOut(out, normals []vec) bool {
	turned := false
	for i, t := range s.tris {
		for _, k := range t {
			if dot(out[k], normals[i]) < leastFacing && normals[i] != (vec{}) {
				out[k] = unit(along(out[k], 1, normals[i]))
				turned = true
			}
		}
	}
	return turned
}

// leaveSaddles zeroes the directions of points that stand out of no common side of their faces.
func (s *shape) leaveSaddles(out, normals []vec) {
	for i, t := range s.tris {
		for _, k := range t {
			if dot(out[k], normals[i]) < 0 {
				out[k] = vec{}
			}
		}
	}
}
