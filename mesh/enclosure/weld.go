package enclosure

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// weldReach is how far apart corners may lie that are welded to close a mesh, as a share of its diagonal: what rounding to
// five or six digits leaves.
const weldReach = 1e-5

// weldSame numbers the distinct corners: points holds each once, in order of appearance, and index has one entry a corner.
func weldSame(corners []mgl64.Vec3) (points []mgl64.Vec3, index []int32) {
	index = make([]int32, len(corners))
	seen := make(map[mgl64.Vec3]int32, len(corners)/6+8)
	for i, p := range corners {
		p = mgl64.Vec3{p[0] + 0, p[1] + 0, p[2] + 0} // -0 becomes 0
		k, ok := seen[p]
		if !ok {
			k = int32(len(points))
			points = append(points, p)
			seen[p] = k
		}
		index[i] = k
	}
	return points, index
}

// weldNear returns for each point the first point within reach of it that is not itself welded to another.
func weldNear(points []mgl64.Vec3, reach float64) []int32 {
	cell := 4 * reach
	key := func(p mgl64.Vec3) [3]int64 {
		return [3]int64{int64(math.Floor(p[0] / cell)), int64(math.Floor(p[1] / cell)), int64(math.Floor(p[2] / cell))}
	}
	to := make([]int32, len(points))
	first := make(map[[3]int64]int32, len(points)) // the newest kept point of each cell
	older := make([]int32, len(points))            // the one before it in the same cell
	around := mgl64.Vec3{reach, reach, reach}
	for i, p := range points {
		to[i] = int32(i)
		lo, hi := key(p.Sub(around)), key(p.Add(around))
		for x := lo[0]; x <= hi[0]; x++ {
			for y := lo[1]; y <= hi[1]; y++ {
				for z := lo[2]; z <= hi[2]; z++ {
					k, ok := first[[3]int64{x, y, z}]
					for ; ok && k >= 0; k = older[k] {
						if points[k].Sub(p).Len() <= reach {
							to[i] = min(to[i], k)
						}
					}
				}
			}
		}
		if to[i] != int32(i) {
			continue
		}
		older[i] = -1
		if k, ok := first[key(p)]; ok {
			older[i] = k
		}
		first[key(p)] = int32(i)
	}
	return to
}

// assemble welds corners into points and triangles and examines the result.
func assemble(corners []mgl64.Vec3) ([]mgl64.Vec3, [][3]int32, Health) {
	points, index := weldSame(corners)
	tris, h := examine(points, index)
	if h.Open > 0 {
		lo, hi := bounds(points)
		to := weldNear(points, weldReach*hi.Sub(lo).Len())
		near := make([]int32, len(index))
		for i, k := range index {
			near[i] = to[k]
		}
		if tris2, h2 := examine(points, near); h2.Open < h.Open && h2.Overused-h.Overused < h.Open-h2.Open {
			tris, h = tris2, h2
		}
	}
	points = compact(points, tris)
	h.Box[0], h.Box[1] = bounds(points)
	if h.Closed && volume(points, tris) < 0 {
		h.Flipped = true
		for i, t := range tris {
			tris[i] = [3]int32{t[0], t[2], t[1]}
		}
	}
	return points, tris, h
}

// compact drops points that no triangle uses and renumbers the triangles in place.
func compact(points []mgl64.Vec3, tris [][3]int32) []mgl64.Vec3 {
	number := make([]int32, len(points))
	for _, t := range tris {
		for _, k := range t {
			number[k] = 1
		}
	}
	kept := points[:0]
	for i, used := range number {
		if used == 1 {
			number[i] = int32(len(kept))
			kept = append(kept, points[i])
		}
	}
	for i, t := range tris {
		tris[i] = [3]int32{number[t[0]], number[t[1]], number[t[2]]}
	}
	return kept
}

// bounds returns the box around points; zero for none.
func bounds(points []mgl64.Vec3) (lo, hi mgl64.Vec3) {
	if len(points) == 0 {
		return lo, hi
	}
	lo, hi = points[0], points[0]
	for _, p := range points {
		for k := range 3 {
			lo[k], hi[k] = min(lo[k], p[k]), max(hi[k], p[k])
		}
	}
	return lo, hi
}

// volume returns the signed volume, positive when the triangles run counter-clockwise seen from outside. Measured from the
// first point, so that a far-off origin costs no digits.
func volume(points []mgl64.Vec3, tris [][3]int32) float64 {
	v := 0.0
	for _, t := range tris {
		a, b, c := points[t[0]].Sub(points[0]), points[t[1]].Sub(points[0]), points[t[2]].Sub(points[0])
		v += a.Dot(b.Cross(c)) / 6
	}
	return v
}
