package enclosure

import (
	"cmp"
	"slices"
	"sort"

	"github.com/go-gl/mathgl/mgl64"
)

// Bounds of the work of telling which shells lie within which.
const (
	mostBoxes     = 100_000_000
	mostPairs     = 5_000_000
	mostCrossings = 20_000_000
)

// shell is a closed piece that shares no point with the others.
type shell struct {
	tris   []int32 // its triangles
	volume float64 // signed
	lo, hi mgl64.Vec3
	outer  int // the largest shell around it, -1 for none
}

// findShells returns the number of pieces that share no point, and for each triangle the number of its piece, in order of
// their first triangles.
func findShells(points int, tris [][3]int32) (n int, of []int32) {
	root := make([]int32, points)
	for i := range root {
		root[i] = int32(i)
	}
	find := func(i int32) int32 {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for _, t := range tris {
		a := find(t[0])
		for _, k := range t[1:] {
			if b := find(k); a != b {
				a, b = min(a, b), max(a, b)
				root[b] = a
			}
		}
	}
	of = make([]int32, len(tris))
	number := make([]int32, points)
	for i, t := range tris {
		r := find(t[0])
		if number[r] == 0 {
			n++
			number[r] = int32(n)
		}
		of[i] = number[r] - 1
	}
	return n, of
}

// measureShells returns the shells that are closed.
func measureShells(points []mgl64.Vec3, tris [][3]int32, n int, of []int32, uneven []bool) []shell {
	start, order := groups(n, len(tris), func(i int) int32 { return of[i] })
	var out []shell
	for k := range n {
		s := shell{tris: order[start[k]:start[k+1]], outer: -1}
		if s.measure(points, tris, uneven) {
			out = append(out, s)
		}
	}
	return out
}

// measure fills in the box and the volume of a shell; false for an open one, which has no volume.
func (s *shell) measure(points []mgl64.Vec3, tris [][3]int32, uneven []bool) bool {
	for _, i := range s.tris {
		if t := tris[i]; uneven[t[0]] || uneven[t[1]] || uneven[t[2]] {
			return false
		}
	}
	if len(s.tris) == len(tris) {
		s.lo, s.hi = bounds(points)
	} else {
		s.lo, s.hi = boxOf(points, tris, s.tris)
	}
	s.volume = signedVolume(points, tris, s.tris)
	return true
}

// boxOf returns the box around some triangles.
func boxOf(points []mgl64.Vec3, tris [][3]int32, some []int32) (lo, hi mgl64.Vec3) {
	lo = points[tris[some[0]][0]]
	hi = lo
	for _, i := range some {
		for _, c := range tris[i] {
			for k, v := range points[c] {
				lo[k], hi[k] = min(lo[k], v), max(hi[k], v)
			}
		}
	}
	return lo, hi
}

// volumePiece is how many triangles are summed up at a time, so that the sum does not depend on the number of workers.
const volumePiece = 1 << 14

// signedVolume returns the volume within some triangles, positive when they run counter-clockwise seen from outside.
// Measured from their first point, so that a far-off origin costs no digits.
func signedVolume(points []mgl64.Vec3, tris [][3]int32, some []int32) float64 {
	first := points[tris[some[0]][0]]
	sums := make([]float64, (len(some)+volumePiece-1)/volumePiece)
	workers := workersFor(len(some))
	inParallel(workers, func(w int) {
		for n := w; n < len(sums); n += workers {
			for _, i := range some[n*volumePiece : min((n+1)*volumePiece, len(some))] {
				t := tris[i]
				a, b, c := points[t[0]].Sub(first), points[t[1]].Sub(first), points[t[2]].Sub(first)
				sums[n] += a.Dot(b.Cross(c)) / 6
			}
		}
	})
	v := 0.0
	for _, s := range sums {
		v += s
	}
	return v
}

// around reports whether the box of s holds that of q.
func (s *shell) around(q *shell) bool {
	for k := range 3 {
		if q.lo[k] < s.lo[k] || q.hi[k] > s.hi[k] {
			return false
		}
	}
	return true
}

// nest finds for each shell the largest one around it: a ray from its first point toward +x crosses that one more often
// outward than inward or the other way round. It reports false, and leaves all unnested, where that takes too long.
func nest(points []mgl64.Vec3, tris [][3]int32, shells []shell) bool {
	outer := make([]int, len(shells))
	for i := range outer {
		outer[i] = -1
	}
	inBox, ok := boxed(shells)
	work := 0
	for c := range shells {
		if len(inBox[c]) == 0 {
			continue
		}
		if work += len(shells[c].tris); work > mostCrossings || !ok {
			return false
		}
		probes := make([]mgl64.Vec3, len(inBox[c]))
		for n, i := range inBox[c] {
			probes[n] = points[tris[shells[i].tris[0]][0]]
		}
		winding, crossings := windings(points, tris, shells[c].tris, probes, mostCrossings-work)
		work += crossings
		for n, i := range inBox[c] {
			if k := outer[i]; winding[n] != 0 && (k < 0 || shells[c].around(&shells[k])) {
				outer[i] = c
			}
		}
	}
	for i := range shells {
		shells[i].outer = outer[i]
	}
	return work <= mostCrossings
}

// boxed returns for each shell those whose boxes lie in its own; false where that takes too long.
func boxed(shells []shell) (inBox [][]int, ok bool) {
	inBox = make([][]int, len(shells))
	if len(shells) < 2 {
		return inBox, true
	}
	lo, hi := shells[0].lo, shells[0].hi
	order := make([]int, len(shells))
	for i, s := range shells {
		order[i] = i
		for k := range 3 {
			lo[k], hi[k] = min(lo[k], s.lo[k]), max(hi[k], s.hi[k])
		}
	}
	axis := 0 // along which the shells lie most apart
	for k := range 3 {
		if hi[k]-lo[k] > hi[axis]-lo[axis] {
			axis = k
		}
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(shells[i].lo[axis], shells[j].lo[axis]) })
	work, pairs := 0, 0
	for c := range shells {
		s := &shells[c]
		n := sort.Search(len(order), func(n int) bool { return shells[order[n]].lo[axis] >= s.lo[axis] })
		for ; n < len(order) && shells[order[n]].lo[axis] <= s.hi[axis]; n++ {
			if work++; work > mostBoxes || pairs > mostPairs {
				return inBox, false
			}
			if i := order[n]; i != c && s.around(&shells[i]) {
				inBox[c] = append(inBox[c], i)
				pairs++
			}
		}
	}
	return inBox, true
}

// windings returns how often each ray from a probe toward +x crosses some triangles, one way less the other, and how many
// crossings were looked at; it stops beyond most of them.
func windings(points []mgl64.Vec3, tris [][3]int32, some []int32, probes []mgl64.Vec3, most int) (winding []int, work int) {
	winding = make([]int, len(probes))
	order := make([]int, len(probes))
	for n := range order {
		order[n] = n
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(probes[i][2], probes[j][2]) })
	heights := make([]float64, len(probes))
	for n, i := range order {
		heights[n] = probes[i][2]
	}
	for _, i := range some {
		a, b, c := points[tris[i][0]], points[tris[i][1]], points[tris[i][2]]
		lo, hi := min(a[2], b[2], c[2]), max(a[2], b[2], c[2])
		for n := sort.SearchFloat64s(heights, lo); n < len(heights) && heights[n] < hi; n++ {
			if work++; work > most {
				return winding, work
			}
			winding[order[n]] += crossing(probes[order[n]], a, b, c)
		}
	}
	return winding, work
}

// crossing returns 1 or -1 where the ray from p toward +x goes through the triangle, one way or the other, else 0. Edges
// and corners belong to one of the triangles that share them.
func crossing(p, a, b, c mgl64.Vec3) int {
	var up, down mgl64.Vec3 // where the triangle's sides pass the height of p
	found := false
	for _, s := range [3][2]mgl64.Vec3{{a, b}, {b, c}, {c, a}} {
		lo, hi := s[0], s[1]
		if lo[2] <= p[2] == (hi[2] <= p[2]) {
			continue
		}
		rises := lo[2] < hi[2]
		if !rises {
			lo, hi = hi, lo
		}
		at := lo.Add(hi.Sub(lo).Mul((p[2] - lo[2]) / (hi[2] - lo[2])))
		if rises {
			up = at
		} else {
			down = at
		}
		found = true
	}
	sign := 1
	if up[1] > down[1] {
		up, down, sign = down, up, -1
	}
	if !found || p[1] < up[1] || p[1] >= down[1] {
		return 0
	}
	if x := up[0] + (down[0]-up[0])*(p[1]-up[1])/(down[1]-up[1]); x <= p[0] {
		return 0
	}
	return sign
}
