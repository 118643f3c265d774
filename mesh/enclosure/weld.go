package enclosure

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"runtime"
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

// weldSame numbers the distinct corners: points holds each once, in order of appearance, and index has one entry a corner.
// The result does not depend on the number of workers.
func weldSame[P ~[3]E, E float32 | float64](corners []P, workers int) (points []mgl64.Vec3, index []int32) {
	index = make([]int32, len(corners))
	key := [2]uint64{rand.Uint64(), rand.Uint64()} // no file can be made to collide; the numbers do not depend on it
	inParallel(workers, func(w int) {
		t := table[P, E]{corners: corners, key: key}
		for i, p := range corners {
			h := hashOf(key, p)
			if int(h>>32*uint64(workers)>>32) == w {
				index[i] = t.first(int32(i), h)
			}
		}
	})
	n := int32(0)
	for i, first := range index {
		if int(first) == i {
			n++
		}
	}
	points = make([]mgl64.Vec3, 0, n)
	for i, first := range index {
		if int(first) != i {
			index[i] = index[first]
			continue
		}
		p := corners[i]
		index[i] = int32(len(points))
		points = append(points, mgl64.Vec3{float64(p[0] + 0), float64(p[1] + 0), float64(p[2] + 0)}) // -0 becomes 0
	}
	return points, index
}

// hashOf mixes the bits of a corner; 0 and -0 are the same.
func hashOf[P ~[3]E, E float32 | float64](key [2]uint64, p P) uint64 {
	x, y, z := math.Float64bits(float64(p[0]+0)), math.Float64bits(float64(p[1]+0)), math.Float64bits(float64(p[2]+0))
	hi, lo := bits.Mul64(x^key[0], bits.RotateLeft64(y, 32)^key[1])
	hi, lo = bits.Mul64(hi^lo^z, key[0]|1)
	return hi ^ lo
}

// table finds the first of equal corners. A slot holds the upper half of a hash and the corner's number + 1; it is half
// full at most.
type table[P ~[3]E, E float32 | float64] struct {
	corners []P
	key     [2]uint64
	slots   []uint64
	used    int
}

// first returns the first corner equal to corner i, whose hash is h, and enters i if it is the one.
func (t *table[P, E]) first(i int32, h uint64) int32 {
	if 2*t.used >= len(t.slots) {
		t.grow()
	}
	mask := uint64(len(t.slots) - 1)
	for at := h & mask; ; at = (at + 1) & mask {
		slot := t.slots[at]
		if slot == 0 {
			t.slots[at] = h>>32<<32 | uint64(i+1)
			t.used++
			return i
		}
		if slot>>32 == h>>32 {
			if k := int32(uint32(slot)) - 1; t.corners[k] == t.corners[i] {
				return k
			}
		}
	}
}

// grow makes room for four times as many corners.
func (t *table[P, E]) grow() {
	old := t.slots
	t.slots = make([]uint64, max(4*len(old), 1<<10))
	mask := uint64(len(t.slots) - 1)
	for _, slot := range old {
		if slot == 0 {
			continue
		}
		at := hashOf(t.key, t.corners[uint32(slot)-1]) & mask
		for t.slots[at] != 0 {
			at = (at + 1) & mask
		}
		t.slots[at] = slot
	}
}

// assemble examines welded triangles and closes the cracks of rounding. Each point is some triangle's; index is used up.
func assemble(points []mgl64.Vec3, index []int32, workers int) ([]mgl64.Vec3, [][3]int32, Health) {
	tris, h, loose := examine(points, index, workers)
	unused := len(tris) < len(index)/3
	if to := crackless(points, loose, h.Open); to != nil {
		for i, k := range index {
			index[i] = to[k]
		}
		if tris2, h2, _ := examine(points, index, workers); h2.Open < h.Open && h2.Overused-h.Overused < h.Open-h2.Open {
			tris, h, unused = tris2, h2, true
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
	if len(kept) == len(points) {
		return points
	}
	for i, t := range tris {
		tris[i] = [3]int32{number[t[0]], number[t[1]], number[t[2]]}
	}
	return kept
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
