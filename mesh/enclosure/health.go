package enclosure

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
)

// Health says how sound a mesh is.
type Health struct {
	Triangles  int  // kept
	Shells     int  // pieces that share no point
	Open       int  // edges that only one triangle has
	Overused   int  // edges that more than two triangles have
	Twisted    int  // edges whose two triangles disagree about which side is outside
	Degenerate int  // triangles without area, dropped
	Duplicates int  // repeated triangles, dropped
	Flipped    bool // the whole mesh was inside out and has been turned
	Trailing   int  // bytes after the last facet of a binary file, ignored
	Closed     bool // each edge is run through as often one way as the other: inside and outside can be told apart
	Box        [2]mgl64.Vec3
}

// String returns the health in one line, lengths in mm.
func (h Health) String() string {
	var b strings.Builder
	size := h.Box[1].Sub(h.Box[0])
	fmt.Fprintf(&b, "%s, %s, %.5g x %.5g x %.5g mm, ", count(h.Triangles, "triangle"), count(h.Shells, "shell"), size[0], size[1], size[2])
	if h.Closed {
		b.WriteString("closed")
	} else {
		b.WriteString("not closed")
	}
	faults := []struct {
		n    int
		what string
	}{{h.Open, "open edge"}, {h.Overused, "edge"}, {h.Twisted, "edge"}}
	words := []string{"", " with more than two triangles", " where outside changes"}
	for i, f := range faults {
		if f.n > 0 {
			fmt.Fprintf(&b, "; %s%s", count(f.n, f.what), words[i])
		}
	}
	if h.Degenerate > 0 || h.Duplicates > 0 {
		fmt.Fprintf(&b, "; dropped %d without area, %d repeated", h.Degenerate, h.Duplicates)
	}
	if h.Flipped {
		b.WriteString("; it was inside out and has been turned")
	}
	if h.Trailing > 0 {
		fmt.Fprintf(&b, "; %s at the end ignored", count(h.Trailing, "byte"))
	}
	return b.String()
}

// count returns "1 triangle", "2 triangles".
func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// examine drops repeated triangles and those without area from the triangles that index lists by corners, and judges what
// is left. A needle whose three corners are distinct still counts for the edges, because it fills the crack between its
// neighbours.
func examine(points []mgl64.Vec3, index []int32) ([][3]int32, Health) {
	var h Health
	all := make([][3]int32, 0, len(index)/3)
	for i := 0; i < len(index); i += 3 {
		a, b, c := index[i], index[i+1], index[i+2]
		switch { // start with the smallest number, so that repeats look alike
		case a == b || b == c || c == a:
			h.Degenerate++
			continue
		case b < a && b < c:
			a, b, c = b, c, a
		case c < a && c < b:
			a, b, c = c, a, b
		}
		all = append(all, [3]int32{a, b, c})
	}
	all, h.Duplicates = dropRepeats(len(points), all)
	h.countEdges(len(points), all)
	h.Shells = shells(len(points), all)
	kept := all[:0]
	for _, t := range all {
		if needle(points[t[0]], points[t[1]], points[t[2]]) {
			h.Degenerate++
			continue
		}
		kept = append(kept, t)
	}
	h.Triangles = len(kept)
	return kept, h
}

// needle reports whether a triangle has no area within rounding.
func needle(a, b, c mgl64.Vec3) bool {
	u, v := b.Sub(a), c.Sub(a)
	longest := max(u.LenSqr(), v.LenSqr(), c.Sub(b).LenSqr())
	return u.Cross(v).Len() <= 1e-12*longest
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
	repeat := make([]bool, len(tris))
	dropped := 0
	for k := range points {
		bin := order[start[k]:start[k+1]]
		slices.SortFunc(bin, func(i, j int32) int { return cmp.Or(slices.Compare(tris[i][1:], tris[j][1:]), cmp.Compare(i, j)) })
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

// countEdges fills Open, Overused, Twisted and Closed. An edge between points i < k is kept in bin i as 2k, or 2k+1 if it is
// run from k to i.
func (h *Health) countEdges(points int, tris [][3]int32) {
	edge := func(n int) (lo, code int32) {
		i, k := tris[n/3][n%3], tris[n/3][(n+1)%3]
		if i < k {
			return i, 2 * k
		}
		return k, 2*i + 1
	}
	start, order := groups(points, 3*len(tris), func(n int) int32 { lo, _ := edge(n); return lo })
	for i, n := range order {
		_, order[i] = edge(int(n))
	}
	h.Closed = len(tris) > 0
	for k := range points {
		bin := order[start[k]:start[k+1]]
		slices.Sort(bin)
		for n := 0; n < len(bin); {
			to, uses, balance := bin[n]/2, 0, 0
			for ; n < len(bin) && bin[n]/2 == to; n++ {
				uses++
				balance += 1 - 2*int(bin[n]%2)
			}
			h.count(uses, balance)
		}
	}
}

// count enters one edge that has the given number of triangles; balance is how many more run it one way than the other.
func (h *Health) count(uses, balance int) {
	switch {
	case uses == 1:
		h.Open++
	case uses > 2:
		h.Overused++
	case balance != 0:
		h.Twisted++
	}
	h.Closed = h.Closed && balance == 0
}

// shells counts the pieces that share no point.
func shells(points int, tris [][3]int32) int {
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
	n := 0
	used := make([]bool, points)
	for _, t := range tris {
		for _, k := range t {
			if !used[k] {
				used[k] = true
				n++
			}
			if a, b := find(t[0]), find(k); a != b {
				root[max(a, b)] = min(a, b)
				n--
			}
		}
	}
	return n
}
