package proximity

// key is an item of a block: from the top its places along three axes, keyBits each, and its number in the block.
type key uint64

const (
	keyBits = 18
	keyMask = 1<<keyBits - 1
	keyLow  = 8 // bits of the number
)

// along returns the place along an axis.
func (k key) along(axis int) int { return int(k>>(keyLow+keyBits*(2-axis))) & keyMask }

// finish sorts a block into leaves.
func finish(items []item, normals []normal, ids []int32, starts []uint8) {
	var start [classes + 1]int
	for i := range items {
		start[items[i][3]>>numberBits+1]++
	}
	for k := range classes {
		start[k+1] += start[k]
	}
	lo, hi := between(items, 1)
	shift := 0
	for max(hi[0]-lo[0], hi[1]-lo[1], hi[2]-lo[2])>>shift > keyMask {
		shift++
	}
	var all [blockSize]key
	end := start
	for i := range items {
		x := &items[i]
		c := x[3] >> numberBits
		all[end[c]] = key((x[0]-lo[0])>>shift)<<(keyLow+2*keyBits) | key((x[1]-lo[1])>>shift)<<(keyLow+keyBits) | key((x[2]-lo[2])>>shift)<<keyLow | key(i)
		end[c]++
	}
	used := starts[:0]
	for c := range classes {
		if start[c] < end[c] {
			run := all[start[c]:end[c]]
			used = leaves(run, start[c], used, grainIn(run, items, normals))
		}
	}
	for k := len(used); k < room; k++ {
		starts[k] = uint8(len(items))
	}
	for i := range ids {
		ids[i] = items[all[i]&(1<<keyLow-1)][3] & numberMask
	}
}

// leaves sorts items of one class, the first of which is number from of its block, into leaves and appends their starts.
func leaves(items []key, from int, starts []uint8, by grain) []uint8 {
	if len(items) <= leafSize {
		return append(starts, uint8(from))
	}
	half := leafSize
	for half*2 < len(items) {
		half *= 2
	}
	split(items, half, &by)
	starts = leaves(items[:half], from, starts, by)
	return leaves(items[half:], from+half, starts, by)
}

// split reorders items so that none of the first k lies above any of the others along the axis along which they reach
// farthest by their grain. Where that parts equal ones, they are parted along another axis.
func split(items []key, k int, by *grain) {
	axis, lo, hi := reach(items, by)
	for try := 0; len(items) > few && lo < hi; try++ {
		pivot := (lo + hi + 1) / 2
		if try < 3 { // as if they were spread evenly
			pivot = max(lo+1, lo+(hi-lo)*k/len(items))
		}
		m := under(items, axis, pivot)
		switch {
		case k == m:
			return
		case k < m:
			items, hi = items[:m], pivot-1
		default:
			items, k, lo = items[m:], k-m, pivot
		}
		if lo == hi {
			axis, lo, hi = reach(items, by)
			try = 0
		}
	}
	if lo < hi {
		sortFew(items, axis)
	}
}

// reach returns the axis along which items reach farthest by their grain, and from where to where.
func reach(items []key, by *grain) (axis, lo, hi int) {
	var low, high [3]int
	first := items[0]
	x0, y0, z0 := first.along(0), first.along(1), first.along(2)
	x1, y1, z1 := x0, y0, z0
	for _, k := range items {
		x, y, z := k.along(0), k.along(1), k.along(2)
		x0, y0, z0 = min(x0, x), min(y0, y), min(z0, z)
		x1, y1, z1 = max(x1, x), max(y1, y), max(z1, z)
	}
	low, high = [3]int{x0, y0, z0}, [3]int{x1, y1, z1}
	for k := 1; k < 3; k++ {
		if float64(high[k]-low[k])*by[k] > float64(high[axis]-low[axis])*by[axis] {
			axis = k
		}
	}
	return axis, low[axis], high[axis]
}

// under brings the items below the pivot to the front and returns how many there are. It moves all items alike, since the
// branches of a choice cost more than the moves.
func under(items []key, axis, pivot int) int {
	shift := keyLow + keyBits*(2-axis)&63
	m := 0
	for i, x := range items {
		less := int(x>>shift)&keyMask - pivot
		items[i] = items[m]
		items[m] = x
		m += int(uint(less) >> 63)
	}
	return m
}

// few is how many items are sorted by counting.
const few = 8

// sortFew sorts no more than few items along an axis, equal ones along the next: each to the place that as many others come
// before as are less.
func sortFew(items []key, axis int) {
	var old [few]key
	var place, rank [few]int
	n := copy(old[:], items)
	for i, x := range old[:n] {
		x = x >> keyLow
		place[i] = int((x<<(keyBits*axis) | x>>(keyBits*(3-axis))) & (1<<(3*keyBits) - 1))
	}
	for i := 1; i < n; i++ {
		for j := range i {
			less := int(uint(place[i]-place[j]) >> 63)
			rank[j] += less
			rank[i] += 1 - less
		}
	}
	for i, x := range old[:n] {
		items[rank[i]] = x
	}
}
