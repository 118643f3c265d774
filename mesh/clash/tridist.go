package clash

import "foldfit/mesh/proximity"

// triDistance returns the distance between two triangles and a point of each that lie that far apart; 0 and a common point
// if they meet. Distances of limit or more may be reported as infinite.
func triDistance(p, q *tri, limit float64) (float64, vec, vec) {
	return proximity.TriangleDistance((*proximity.Triangle)(p), (*proximity.Triangle)(q), limit)
}

// crossing reports whether two triangles meet other than side by side in one plane.
func crossing(p, q *tri) bool {
	return proximity.Crossing((*proximity.Triangle)(p), (*proximity.Triangle)(q))
}
