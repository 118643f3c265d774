package enclosure

import (
	"cmp"
	"slices"
)

// edges is what the edges of a mesh tell.
type edges struct {
	open, overused, twisted int
	repeats                 bool   // an edge is run twice the same way: triangles may repeat
	uneven                  []bool // points where an edge is run more often one way than the other
	closed                  bool   // there is no such edge
}

// countEdges counts the edges of triangles. Each worker takes a range of points; an edge belongs to its lower end.
func countEdges(points int, tris [][3]int32, workers int) edges {
	parts := make([]edges, workers)
	inParallel(workers, func(w int) {
		parts[w].uneven = make([]bool, points)
		parts[w].countRange(tris, int32(points*w/workers), int32(points*(w+1)/workers))
	})
	all := parts[0]
	all.closed = all.closed && len(tris) > 0
	for _, p := range parts[1:] {
		all.open += p.open
		all.overused += p.overused
		all.twisted += p.twisted
		all.repeats = all.repeats || p.repeats
		all.closed = all.closed && p.closed
		for i, uneven := range p.uneven {
			all.uneven[i] = all.uneven[i] || uneven
		}
	}
	return all
}

// edgeCode returns the lower end of the edge from i to k and a code for the rest: twice the higher end, plus 1 if the edge
// is run downwards.
func edgeCode(i, k int32) (lo, code int32) {
	if i < k {
		return i, 2 * k
	}
	return k, 2*i + 1
}

// countRange counts the edges whose lower end lies in from <= end < upto.
func (e *edges) countRange(tris [][3]int32, from, upto int32) {
	next := make([]int32, upto-from+1) // first where the bin of each end starts, at last where it ends
	for _, t := range tris {
		for _, lo := range [3]int32{min(t[0], t[1]), min(t[1], t[2]), min(t[2], t[0])} {
			if from <= lo && lo < upto {
				next[lo-from+1]++
			}
		}
	}
	for i := range upto - from {
		next[i+1] += next[i]
	}
	codes := make([]int32, next[upto-from])
	for _, t := range tris {
		for _, s := range [3][2]int32{{t[0], t[1]}, {t[1], t[2]}, {t[2], t[0]}} {
			if lo, code := edgeCode(s[0], s[1]); from <= lo && lo < upto {
				codes[next[lo-from]] = code
				next[lo-from]++
			}
		}
	}
	e.closed = true
	start := int32(0)
	for i := range upto - from {
		e.bin(from+i, codes[start:next[i]])
		start = next[i]
	}
}

// bin enters the edges whose lower end is lo.
func (e *edges) bin(lo int32, codes []int32) {
	sortShort(codes)
	for n := 0; n < len(codes); {
		to, uses, balance := codes[n]/2, 0, 0
		for ; n < len(codes) && codes[n]/2 == to; n++ {
			uses++
			balance += 1 - 2*int(codes[n]%2)
		}
		switch {
		case uses == 1:
			e.open++
		case uses > 2:
			e.overused++
			e.repeats = true
		case balance != 0:
			e.twisted++
			e.repeats = true
		}
		if balance != 0 {
			e.uneven[lo], e.uneven[to] = true, true
			e.closed = false
		}
	}
}

// sortShort sorts numbers, most often few.
func sortShort(s []int32) {
	if len(s) > 16 {
		slices.Sort(s)
		return
	}
	for i := 1; i < len(s); i++ {
		for k := i; k > 0 && s[k] < s[k-1]; k-- {
			s[k], s[k-1] = s[k-1], s[k]
		}
	}
}

// groups sorts n items into bins by the number of each item; bin k is order[start[k]:start[k+1]], in item order.
func groups(bins, n int, bin func(i int) int32) (start, order []int32) {
	start = make([]int32, bins+1)
	for i := range n {
		start[bin(i)+1]++
	}
	for k := range bins {
		start[k+1] += start[k]
	}
	order = make([]int32, n)
	next := slices.Clone(start[:bins])
	for i := range n {
		k := bin(i)
		order[next[k]] = int32(i)
		next[k]++
	}
	return start, order
}

// dropRepeats removes triangles that repeat an earlier one; each starts with its smallest number.
func dropRepeats(points int, tris [][3]int32) ([][3]int32, int) {
	start, order := groups(points, len(tris), func(i int) int32 { return tris[i][0] })
	rest := func(i int32) int64 { return int64(tris[i][1])<<32 | int64(tris[i][2]) }
	repeat := make([]bool, len(tris))
	dropped := 0
	for k := range points {
		bin := order[start[k]:start[k+1]]
		slices.SortFunc(bin, func(i, j int32) int { return cmp.Or(cmp.Compare(rest(i), rest(j)), cmp.Compare(i, j)) })
		for n := 1; n < len(bin); n++ {
			if tris[bin[n]] == tris[bin[n-1]] {
				repeat[bin[n]] = true
				dropped++
			}
		}
	}
	if dropped == 0 {
		return tris, 0
	}
	kept := tris[:0]
	for i, t := range tris {
		if !repeat[i] {
			kept = append(kept, t)
		}
	}
	return kept, dropped
}
