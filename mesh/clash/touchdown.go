package clash

import (
	"math"
	"slices"

	"foldfit/fold"
)

// touchdown is where a seat's piece comes nearest to what sits on it, measured across the board.
type touchdown struct {
	gap     float64 // below 0 the depth that the piece reaches into the body
	of      *member
	x, y    vec     // on the body and on the piece, housing frame
	deepest float64 // least height outward that the piece reaches within the area
}

// touchDown measures between the faces of what sits and the seat's piece, straight across the board, within the area. What
// the piece has on the other side of the body (beyond its mid-height, with no material between) is not the seat's.
func (s *seating) touchDown(faces []seatFace) {
	s.contact = touchdown{gap: math.Inf(1), deepest: math.Inf(1)}
	surface := s.wall.shape()
	flatFromHousing := fold.Invert(s.housingFromFlat)
	for _, f := range faces {
		col := newColumn(f.lines, s.Side, 0, s.housingFromFlat)
		col = col[:len(col)-1] // on both sides of the board
		line := map[*plane]border{}
		for i, h := range col {
			line[h] = f.lines[i]
		}
		var lines []border
		surface.inColumn(col, func(i int32, near column) {
			lines = lines[:0]
			for _, h := range near {
				lines = append(lines, line[h])
			}
			t := surface.tri(i)
			for k := range t {
				t[k] = fold.Apply(flatFromHousing, t[k])
			}
			s.approach(&f, &t, lines)
		})
	}
}

// approach takes a triangle of the piece, in flat coordinates, into account. Of the lines around the face those are given
// that pass over it.
func (s *seating) approach(f *seatFace, t *tri, lines []border) {
	if min(s.outward(t[0][2]), s.outward(t[1][2]), s.outward(t[2][2]))-s.outward(f.z) > seatReach || misses(t, lines, 0) {
		return
	}
	n := t.normal()
	facing := s.outward(n[2])
	if facing > 0 && s.wall.closed || math.Abs(facing) <= 1e-6*length(n) {
		return
	}
	over := clipped(slices.Clone(t[:]), lines, 0)
	if !covers(over) {
		return
	}
	nearest, middle := over[0], vec{}
	for _, p := range over {
		middle = along(middle, 1/float64(len(over)), p)
		if s.outward(p[2]) < s.outward(nearest[2]) {
			nearest = p
		}
	}
	height := s.outward(nearest[2])
	gap := height - s.outward(f.z)
	half := vec{middle[0], middle[1], (f.of.body.Faces[0] + f.of.body.Faces[1]) / 2}
	if gap > seatReach || s.outward(middle[2]) < s.outward(half[2]) && s.parted(middle, half) {
		return
	}
	s.contact.deepest = min(s.contact.deepest, height)
	if gap < s.contact.gap {
		face := vec{nearest[0], nearest[1], f.z}
		s.contact.gap, s.contact.of = gap, f.of
		s.contact.x, s.contact.y = fold.Apply(s.housingFromFlat, face), fold.Apply(s.housingFromFlat, nearest)
	}
}

// parted reports whether the piece's material ends between two flat points; of an open mesh nobody can tell, then it counts
// as parted.
func (s *seating) parted(p, q vec) bool {
	if !s.wall.closed {
		return true
	}
	return s.wall.shape().leftBy(fold.Apply(s.housingFromFlat, p), fold.Apply(s.housingFromFlat, q))
}

// leftBy reports whether the segment from p to q passes a triangle from inside out.
func (s *shape) leftBy(p, q vec) bool {
	way := emptyBox().with(p).with(q)
	d := sub(q, p)
	for i := int32(0); int(i) < len(s.nodes); {
		n := &s.nodes[i]
		if b := n.box(); !b.meets(&way) {
			i = s.next(i)
			continue
		}
		i++
		if n.right != 0 {
			continue
		}
		for k := n.first; k < n.first+n.count; k++ {
			t := s.tri(s.at(k))
			out := t.normal()
			h := heights(&tri{p, q, q}, out, t[0])
			if _, ok := pierces(p, q, h[0], h[1], &t, out); ok && dot(out, d) > 0 {
				return true
			}
		}
	}
	return false
}
