package sheet

import (
	"cmp"
	"slices"
)

// slot is a label in a row: where it wants to stand, how much room it takes, and where it stands in the end.
type slot struct{ want, width, at float64 }

// spread sets the slots of a row side by side between lo and hi, in the order of where they want to be and as near to there as the
// others let them (least squares); false where there is no room for all of them.
func spread(row []*slot, lo, hi float64) bool {
	slices.SortStableFunc(row, func(a, b *slot) int { return cmp.Compare(a.want, b.want) })
	total := 0.0
	for _, s := range row {
		total += s.width
	}
	if total > hi-lo {
		return false
	}
	type heap struct {
		first, last int
		width, mean float64
	} // touching slots; mean of the left end they want
	var heaps []heap
	for i, s := range row {
		h := heap{i, i, s.width, s.want - s.width/2}
		for h.mean = clamp(h.mean, lo, hi-h.width); len(heaps) > 0; heaps = heaps[:len(heaps)-1] {
			p := heaps[len(heaps)-1]
			if p.mean+p.width <= h.mean {
				break
			}
			n, m := float64(p.last-p.first+1), float64(h.last-h.first+1)
			mean := (p.mean*n + (h.mean-p.width)*m) / (n + m)
			h = heap{p.first, h.last, p.width + h.width, clamp(mean, lo, hi-p.width-h.width)}
		}
		heaps = append(heaps, h)
	}
	for _, h := range heaps {
		x := h.mean
		for _, s := range row[h.first : h.last+1] {
			s.at = x + s.width/2
			x += s.width
		}
	}
	return true
}

// clamp returns v moved into [lo, hi].
func clamp(v, lo, hi float64) float64 { return max(lo, min(v, hi)) }
