package enclosure

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"

	"github.com/go-gl/mathgl/mgl64"
)

// weldReach is how far apart corners may lie that are welded to close a mesh, as a share of its diagonal: what rounding to
// five or six digits leaves.
const weldReach = 1e-5

// mostLoose is the largest number of open edges that are worth a search for near corners: more are no cracks.
const mostLoose = 2_000_000

// mostWorkers bounds how many processors a read uses: memory is the limit beyond.
const mostWorkers = 4

// workersFor returns how many workers n items are worth.
func workersFor(n int) int {
	if n < 50_000 {
		return 1
	}
	return min(runtime.GOMAXPROCS(0), mostWorkers)
}

// inParallel runs work(0) to work(workers-1) at the same time and waits for all.
func inParallel(workers int, work func(w int)) {
	var wait sync.WaitGroup
	for w := 1; w < workers; w++ {
		wait.Go(func() { work(w) })
	}
	work(0)
	wait.Wait()
}

// weldSame numbers the distinct corners: points holds each once, in order of appearance, and numbers has one entry a corner.
// The result does not depend on the number of workers.
func weldSame(corners []mgl64.Vec3, workers int) (points []mgl64.Vec3, numbers []int32) {
	numbers = make([]int32, len(corners))
	parts := newWelders[mgl64.Vec3](workers, len(corners))
	inParallel(workers, func(w int) {
		from, upto := len(corners)*w/workers, len(corners)*(w+1)/workers
		parts[w].add(corners[from:upto], numbers[from:upto])
	})
	points, final := unite(parts)
	inParallel(workers, func(w int) {
		if w == 0 {
			return
		}
		mine := numbers[len(corners)*w/workers : len(corners)*(w+1)/workers]
		for i, k := range mine {
			mine[i] = final[w][k]
		}
	})
	return points, numbers
}

// welder numbers points in the order in which they first come.
type welder[P ~[3]E, E float32 | float64] struct {
	points []P      // distinct; 0 for -0
	slots  []uint32 // by hash: 8 other bits of it, and below them the number of a point + 1; at most half are used
	key    [2]uint64
}

// Parts of a slot.
const (
	slotBits = 24
	slotMask = 1<<slotBits - 1
)

// newWelders returns welders that share out so many corners; a closed mesh has a sixth as many points,
// and shares have borders.
func newWelders[P ~[3]E, E float32 | float64](workers, corners int) []welder[P, E] {
	key := [2]uint64{rand.Uint64(), rand.Uint64()} // no file can be made to collide; the numbers do not depend on it
	parts := make([]welder[P, E], workers)
	likely := corners/workers/5 + 3
	for i := range parts {
		parts[i].key, parts[i].points = key, make([]P, 0, likely)
		parts[i].reserve(likely)
	}
	return parts
}

// together is how many points are looked up at a time: the memory that their slots lie in is fetched for all at once.
const together = 64

// add gives each of some points the number of the first one that equals it.
func (w *welder[P, E]) add(points []P, numbers []int32) {
	var hashes [together]uint64
	var slots [together]uint32
	for len(points) > 0 {
		n := min(len(points), together)
		w.reserve(n)
		mask := uint64(len(w.slots) - 1)
		for i, p := range points[:n] {
			hashes[i] = hashOf(w.key, p)
			slots[i] = w.slots[hashes[i]&mask]
		}
		for i, p := range points[:n] {
			k := slots[i]&slotMask - 1
			if slots[i]>>slotBits != uint32(hashes[i]>>56) || k >= uint32(len(w.points)) || !equal(w.points[k], p) {
				k = uint32(w.number(p, hashes[i]))
			}
			numbers[i] = int32(k)
		}
		points, numbers = points[n:], numbers[n:]
	}
}

// number returns the number of a point with its hash, a new one for a new point.
func (w *welder[P, E]) number(p P, h uint64) int32 {
	k, at := w.find(p, h)
	if k < 0 {
		k = int32(len(w.points))
		w.points = append(w.points, P{p[0] + 0, p[1] + 0, p[2] + 0}) // -0 becomes 0
		w.slots[at] = uint32(h>>56)<<slotBits | uint32(k+1)
	}
	return k
}

// find returns the number of a point with its hash, or -1 and the slot where it belongs.
func (w *welder[P, E]) find(p P, h uint64) (k int32, at uint64) {
	mask := uint64(len(w.slots) - 1)
	for at = h & mask; ; at = (at + 1) & mask {
		slot := w.slots[at]
		if slot == 0 {
			return -1, at
		}
		if k := slot&slotMask - 1; slot>>slotBits == uint32(h>>56) && equal(w.points[k], p) {
			return int32(k), at
		}
	}
}

// equal reports whether a welded point and another have the same coordinates; what is not a number equals itself.
func equal[P ~[3]E, E float32 | float64](a, b P) bool {
	for k := range 3 {
		if a[k] != b[k] && (a[k] == a[k] || b[k] == b[k]) {
			return false
		}
	}
	return true
}

// reserve makes room for n more points.
func (w *welder[P, E]) reserve(n int) {
	need := 2 * (len(w.points) + n)
	if need <= len(w.slots) {
		return
	}
	size := max(2*len(w.slots), 1<<8)
	for size < need {
		size *= 2
	}
	w.slots = make([]uint32, size)
	for i, p := range w.points {
		h := hashOf(w.key, p)
		at := h & uint64(size-1)
		for w.slots[at] != 0 {
			at = (at + 1) & uint64(size-1)
		}
		w.slots[at] = uint32(h>>56)<<slotBits | uint32(i+1)
	}
}

// unite returns the distinct points of all welders, those of the first one first, and for each welder but the first the final
// numbers of its points.
func unite[P ~[3]E, E float32 | float64](parts []welder[P, E]) (points []P, final [][]int32) {
	final = make([][]int32, len(parts))
	inParallel(len(parts), func(w int) {
		if w > 0 {
			final[w] = known(parts, w)
		}
	})
	points = parts[0].points
	for w := 1; w < len(parts); w++ {
		for i, p := range parts[w].points {
			if final[w][i] == 0 {
				final[w][i] = int32(len(points))
				points = append(points, p)
				continue
			}
			u, k := knownBy(final[w][i], len(parts))
			if u > 0 {
				k = final[u][k]
			}
			final[w][i] = k
		}
	}
	return points, final
}

// known tells for each point of a welder which of the welders before it has it first, and under which number: see knownBy.
// 0 means none.
func known[P ~[3]E, E float32 | float64](parts []welder[P, E], w int) []int32 {
	out := make([]int32, len(parts[w].points))
	for i, p := range parts[w].points {
		h := hashOf(parts[w].key, p)
		for u := range w {
			if k, _ := parts[u].find(p, h); k >= 0 {
				out[i] = ^(k*int32(len(parts)) + int32(u))
				break
			}
		}
	}
	return out
}

// knownBy returns the welder and the number in it that a code below 0 stands for.
func knownBy(code int32, parts int) (u, k int32) {
	return ^code % int32(parts), ^code / int32(parts)
}

// hashOf mixes the bits of a corner; 0 and -0 are the same.
func hashOf[P ~[3]E, E float32 | float64](key [2]uint64, p P) uint64 {
	x, y, z := math.Float64bits(float64(p[0]+0)), math.Float64bits(float64(p[1]+0)), math.Float64bits(float64(p[2]+0))
	hi, lo := bits.Mul64(x^key[0], bits.RotateLeft64(y, 32)^key[1])
	hi, lo = bits.Mul64(hi^lo^z, key[0]|1)
	return hi ^ lo
}

// assemble examines welded triangles and closes the cracks of rounding. Each point is some triangle's; tris is used up.
func assemble(points []mgl64.Vec3, tris [][3]int32, workers int) ([]mgl64.Vec3, [][3]int32, Health) {
	all := len(tris)
	tris = distinct(tris)
	e := countEdges(len(points), tris, workers)
	var before [][3]int32
	if e.open > 0 || e.repeats {
		before = slices.Clone(tris)
	}
	tris, h, loose := examine(points, tris, e, workers)
	h.Degenerate = all - h.Triangles - h.Duplicates
	unused := h.Triangles < all
	if to := crackless(points, loose, h.Open); to != nil {
		renumber(before, to)
		before = distinct(before)
		tris2, h2, _ := examine(points, before, countEdges(len(points), before, workers), workers)
		if h2.Open < h.Open && h2.Overused-h.Overused < h.Open-h2.Open {
			tris, h, unused = tris2, h2, true
			h.Degenerate = all - h.Triangles - h.Duplicates
		}
	}
	if unused {
		points = compact(points, tris)
	}
	h.Box[0], h.Box[1] = bounds(points)
	return points, tris, h
}

// crackless returns the points to weld for a number of open edges that may be cracks, nil where there is nothing to close.
func crackless(points []mgl64.Vec3, loose []bool, open int) []int32 {
	if open == 0 || open > mostLoose {
		return nil
	}
	lo, hi := bounds(points)
	if reach := weldReach * hi.Sub(lo).Len(); reach > 0 {
		return weldNear(points, loose, reach)
	}
	return nil
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
	if len(kept) < len(points) {
		renumber(tris, number)
	}
	return kept
}

// renumber gives the corners of triangles new numbers.
func renumber(tris [][3]int32, number []int32) {
	for i, t := range tris {
		tris[i] = [3]int32{number[t[0]], number[t[1]], number[t[2]]}
	}
}

// bounds returns the box around points; zero for none. A coordinate that is not a number spoils its bounds.
func bounds(points []mgl64.Vec3) (lo, hi mgl64.Vec3) {
	if len(points) == 0 {
		return lo, hi
	}
	workers := workersFor(len(points))
	los, his := make([]mgl64.Vec3, workers), make([]mgl64.Vec3, workers)
	inParallel(workers, func(w int) {
		lo, hi := points[0], points[0]
		for _, p := range points[len(points)*w/workers : len(points)*(w+1)/workers] {
			for k := range 3 {
				lo[k], hi[k] = min(lo[k], p[k]), max(hi[k], p[k])
			}
		}
		los[w], his[w] = lo, hi
	})
	lo, hi = los[0], his[0]
	for w := range workers {
		for k := range 3 {
			lo[k], hi[k] = min(lo[k], los[w][k]), max(hi[k], his[w][k])
		}
	}
	return lo, hi
}
