package proximity

import (
	"math"
	"slices"
	"sync"
)

const (
	leafSize   = 4                          // most triangles in a leaf
	wide       = 8                          // children of a node
	blockSize  = (wide*wide - 7) * leafSize // most triangles in a block: with a broken leaf for each class it still fits
	room       = wide * wide                // leaves that a block has room for
	classes    = 6                          // the sides that a triangle may face
	numberBits = 28                         // bits of a triangle's number; its class lies above
	numberMask = int32(1)<<numberBits - 1   // of those bits
	gridSteps  = float64(1 << 29)           // steps of the grid of centres along the longest axis
)

// item is a triangle to be sorted: its centre on a grid along three axes, and its number with its class above.
type item [4]int32

// order sorts items so that equal runs of them lie close together: halved at medians along the axis that is widest by their
// grain down to blocks of blockSize, there parted by class, then halved again down to leaves. Thin plates so have no leaf with both faces in it.
// It returns the numbers in that order, where in its block each leaf starts, and at last where the last one ends. Block i has
// the numbers from i*blockSize on and the leaves from i*room on; unused ones are empty, the last of each block among them.
func order(items []item, normals []normal) (ids []int32, starts []uint8) {
	if len(items) == 0 {
		return nil, nil
	}
	blocks := (len(items) + blockSize - 1) / blockSize
	ids, starts = make([]int32, len(items)), make([]uint8, blocks*room)
	halve(items, normals, ids, starts)
	last, end := len(starts)-room, uint8((len(items)-1)%blockSize+1)
	used := room
	for starts[last+used-1] == end {
		used--
	}
	return ids, starts[:last+used+1]
}

// alone is the number of triangles up to which sharing work out costs more than it saves.
const alone = 1 << 16

// halve sorts items into the blocks that starts has room for. Halves are independent, so long lists are shared out.
func halve(items []item, normals []normal, ids []int32, starts []uint8) {
	for len(items) > blockSize {
		blocks := 1
		for blocks*2*blockSize < len(items) {
			blocks *= 2
		}
		half := blocks * blockSize
		by := grainAmong(items, normals)
		part(items, half, widest(items, &by), &by)
		left, numbers, places := items[:half], ids[:half], starts[:blocks*room]
		items, ids, starts = items[half:], ids[half:], starts[blocks*room:]
		if half > alone {
			var other sync.WaitGroup
			defer other.Wait()
			other.Go(func() { halve(left, normals, numbers, places) })
		} else {
			halve(left, normals, numbers, places)
		}
	}
	finish(items, normals, ids, starts)
}

// samples is how many items stand for a long list where its width or its median is guessed.
const samples = 61

// widest returns the axis along which the items reach farthest by their grain, of a long list judged by samples.
func widest(items []item, by *grain) int {
	lo, hi := between(items, max(1, len(items)/(4*samples)))
	axis := 0
	for k := 1; k < 3; k++ {
		if float64(hi[k]-lo[k])*by[k] > float64(hi[axis]-lo[axis])*by[axis] {
			axis = k
		}
	}
	return axis
}

// between returns the least and the greatest places along each axis of items step apart.
func between(items []item, step int) (lo, hi item) {
	lo, hi = items[0], items[0]
	for i := step; i < len(items); i += step {
		x := &items[i]
		lo[0], lo[1], lo[2] = min(lo[0], x[0]), min(lo[1], x[1]), min(lo[2], x[2])
		hi[0], hi[1], hi[2] = max(hi[0], x[0]), max(hi[1], x[1]), max(hi[2], x[2])
	}
	return lo, hi
}

// part reorders items so that none of the first k lies above any of the others along the axis. Where that parts equal ones,
// they are parted along another axis.
func part(items []item, k, axis int, by *grain) {
	least := int32(math.MinInt32) // none lies below
	for 0 < k && k < len(items) {
		pivot := max(guess(items, k, axis), least+1)
		m := below(items, axis, pivot)
		switch {
		case k > m:
			items, k, least = items[m:], k-m, pivot
		case m == len(items): // all are equal
			if other := widest(items, by); other != axis {
				part(items, k, other, by)
			}
			return
		default:
			items = items[:m]
		}
	}
}

// guess returns about the k-th smallest place of the items along an axis; near an end, one farther from it, so that what is
// left after parting them there is the short side.
func guess(items []item, k, axis int) int32 {
	var s [samples]int32
	n := min(samples, len(items)/64+3) | 1
	for i := range n {
		s[i] = items[i*(len(items)-1)/(n-1)][axis]
	}
	slices.Sort(s[:n])
	switch i, far := k*n/len(items), n/16+1; {
	case i < n/4:
		return s[i+far]
	case i >= n-n/4:
		return s[i-far]
	default:
		return s[i]
	}
}

// below brings the items below the pivot to the front and returns how many there are. It moves all items alike, since the
// branches of a choice cost more than the moves.
func below(items []item, axis int, pivot int32) int {
	m := 0
	for i := range items {
		x := items[i]
		less := items[i][axis&3] < pivot
		items[i] = items[m]
		items[m] = x
		n := 0
		if less {
			n = 1
		}
		m += n
	}
	return m
}
