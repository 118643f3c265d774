package enclosure

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
)

// examine drops repeated triangles and those without area from distinct triangles with the given edges, turns those that face
// the wrong way, and judges what is left. A needle whose three corners are distinct still counts for the edges, because it
// fills the crack between its neighbours. loose marks the points where edges are open. tris is used up.
func examine(points []mgl64.Vec3, tris [][3]int32, e edges, workers int) (_ [][3]int32, h Health, loose []bool) {
	if e.repeats {
		if tris, h.Duplicates = dropRepeats(len(points), tris); h.Duplicates > 0 {
			e = countEdges(len(points), tris, workers)
		}
	}
	if e.twisted > 0 {
		if h.Turned = align(len(points), tris); h.Turned > 0 {
			e = countEdges(len(points), tris, workers)
		}
	}
	h.Open, h.Overused, h.Twisted, h.Closed = e.open, e.overused, e.twisted, e.closed
	h.judgeShells(points, tris, e.uneven)
	h.Closed = h.Closed && h.TwoSided == 0
	tris = dropNeedles(points, tris, workers)
	h.Triangles = len(tris)
	return tris, h, e.uneven
}

// distinct returns the triangles whose corners differ, each from its smallest number on so that repeats look alike. They take
// the place of tris.
func distinct(tris [][3]int32) [][3]int32 {
	kept := tris[:0]
	for _, t := range tris {
		a, b, c := t[0], t[1], t[2]
		switch {
		case a == b || b == c || c == a:
			continue
		case b < a && b < c:
			a, b, c = b, c, a
		case c < a && c < b:
			a, b, c = c, a, b
		}
		kept = append(kept, [3]int32{a, b, c})
	}
	return kept
}

// judgeShells counts the shells, and turns the closed ones that stand inside out. A shell within others turns with the
// outermost of them: a cavity stays a cavity. Where nesting is not known, all turn together or none.
func (h *Health) judgeShells(points []mgl64.Vec3, tris [][3]int32, uneven []bool) {
	n, of := findShells(len(points), tris)
	h.Shells = n
	shells := measureShells(points, tris, n, of, uneven)
	h.Unnested = !nest(points, tris, shells)
	total := 0.0
	for i := range shells {
		total += shells[i].volume
	}
	for i := range shells {
		s := &shells[i]
		if s.twoSided(points, tris) {
			h.TwoSided++
		}
		wrong := s.insideOut()
		switch {
		case h.Unnested:
			wrong = total < 0
		case s.outer >= 0:
			outermost := &shells[s.outer]
			wrong = outermost.insideOut()
			h.Nested++
			if outermost.volume*s.volume < 0 {
				h.Cavities++
			}
		}
		if wrong {
			h.Inverted++
			for _, t := range s.tris {
				turn(&tris[t])
			}
		}
	}
}

// insideOut reports whether a closed shell has its inside where the outside should be, beyond rounding.
func (s *shell) insideOut() bool {
	size := s.hi.Sub(s.lo).Len()
	return s.volume < -1e-14*size*size*size
}

// thinnest is the part of a shell's area times its size that its volume must be, so that it is more than a skin with a face on
// either side: a film of 1e-6 mm around a board has more.
const thinnest = 1e-9

// twoSided reports whether a shell has no room in it beyond rounding.
func (s *shell) twoSided(points []mgl64.Vec3, tris [][3]int32) bool {
	size := s.hi.Sub(s.lo).Len()
	if math.Abs(s.volume) > 10*thinnest*size*size*size {
		return false
	}
	area := 0.0
	for _, i := range s.tris {
		a, b, c := points[tris[i][0]], points[tris[i][1]], points[tris[i][2]]
		area += b.Sub(a).Cross(c.Sub(a)).Len() / 2
	}
	return math.Abs(s.volume) <= thinnest*area*size
}

// dropNeedles removes triangles that have no area within rounding.
func dropNeedles(points []mgl64.Vec3, tris [][3]int32, workers int) [][3]int32 {
	needles := make([][]int32, workers)
	inParallel(workers, func(w int) {
		for i := len(tris) * w / workers; i < len(tris)*(w+1)/workers; i++ {
			if t := tris[i]; needle(points[t[0]], points[t[1]], points[t[2]]) {
				needles[w] = append(needles[w], int32(i))
			}
		}
	})
	all := slices.Concat(needles...)
	if len(all) == 0 {
		return tris
	}
	kept := tris[:0]
	for i, t := range tris {
		if len(all) > 0 && all[0] == int32(i) {
			all = all[1:]
			continue
		}
		kept = append(kept, t)
	}
	return kept
}

// needle reports whether a triangle has no area within rounding.
func needle(a, b, c mgl64.Vec3) bool {
	u, v := b.Sub(a), c.Sub(a)
	longest := max(u.LenSqr(), v.LenSqr(), c.Sub(b).LenSqr())
	return u.Cross(v).LenSqr() <= 1e-24*longest*longest
}
