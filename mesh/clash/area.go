package clash

import (
	"math"
	"slices"

	"foldfit/fold/flat"
	"foldfit/mesh"
)

// areaChord is how far (mm) the polygons that stand for a seat's area, and the corners of its grown shape, may be off.
const areaChord = 0.005

// convexParts returns convex polygons, counter-clockwise, that fill the inside of a loop without overlapping. Arcs are cut
// into chords that deviate by at most areaChord; off is that for a loop with arcs, 0 for one without.
func convexParts(area flat.Loop) (parts [][]flat.Pt, off float64, err error) {
	for _, e := range area {
		if e.IsArc() {
			off = areaChord
		}
	}
	pts := area.CCW().Points(areaChord)
	tris, err := mesh.Triangulate([][]flat.Pt{pts})
	if err != nil {
		return nil, 0, err
	}
	for _, ring := range merged(pts, tris) {
		part := make([]flat.Pt, len(ring))
		for i, k := range ring {
			part[i] = pts[k]
		}
		parts = append(parts, part)
	}
	return parts, off, nil
}

// merged joins triangles across their common edges as long as the result is convex (Hertel and Mehlhorn, Fast triangulation
// of simple polygons, 1983).
func merged(pts []flat.Pt, tris [][3]int32) [][]int32 {
	rings := make([][]int32, len(tris))
	owner := map[[2]int32]int{}
	claim := func(i int) {
		for k, from := range rings[i] {
			owner[[2]int32{from, rings[i][(k+1)%len(rings[i])]}] = i
		}
	}
	for i, t := range tris {
		rings[i] = t[:]
		claim(i)
	}
	for _, t := range tris {
		for k := range 3 {
			from, to := t[k], t[(k+1)%3]
			i := owner[[2]int32{from, to}]
			j, inside := owner[[2]int32{to, from}]
			if from > to || !inside || i == j {
				continue // looked at from its other side, or no diagonal
			}
			if ring, ok := joined(pts, rings[i], rings[j], from, to); ok {
				rings[i], rings[j] = ring, nil
				claim(i)
			}
		}
	}
	var out [][]int32
	for _, r := range rings {
		if r != nil {
			out = append(out, r)
		}
	}
	return out
}

// joined returns two rings as one without the edge that a runs from one point to the other and b the other way; ok is false
// if that is not convex.
func joined(pts []flat.Pt, a, b []int32, from, to int32) (ring []int32, ok bool) {
	ring = append(startingAt(a, to), startingAt(b, from)[1:len(b)-1]...)
	n := len(ring)
	for i := range ring {
		p, q, r := pts[ring[i]], pts[ring[(i+1)%n]], pts[ring[(i+2)%n]]
		if q.Sub(p).Cross(r.Sub(q)) < 0 {
			return nil, false
		}
	}
	return ring, true
}

// startingAt returns a ring turned so that it begins at a point.
func startingAt(ring []int32, first int32) []int32 {
	for i, k := range ring {
		if k == first {
			return append(append([]int32(nil), ring[i:]...), ring[:i]...)
		}
	}
	return nil
}

// border is a line of the flat; points p with n . p <= d are inside.
type border struct {
	n flat.Pt
	d float64
}

// grown returns lines around a convex polygon grown by r, which must not be below 0: around its rounded corners so many
// that what they enclose is nowhere more than areaChord larger.
func grown(part []flat.Pt, r float64) []border {
	step := math.Pi / 2
	if r > areaChord {
		step = min(step, 2*math.Acos(r/(r+areaChord)))
	}
	var out []border
	n := len(part)
	for i, p := range part {
		in, leave := part[(i+n-1)%n], part[(i+1)%n]
		before, after := p.Sub(in).Unit(), leave.Sub(p).Unit()
		turn := math.Atan2(before.Cross(after), before.Dot(after))
		start := math.Atan2(-before.X, before.Y) // of the outward normal (y, -x)
		for k, most := 1, int(math.Ceil(turn/step-1e-9)); k < most; k++ {
			s, c := math.Sincos(start + turn*float64(k)/float64(most))
			normal := flat.Pt{X: c, Y: s}
			out = append(out, border{normal, normal.Dot(p) + r})
		}
		normal := flat.Pt{X: after.Y, Y: -after.X}
		out = append(out, border{normal, normal.Dot(p) + r})
	}
	return out
}

// misses reports whether a triangle, of which only x and y count, lies wholly on the outer side of one of the lines.
func misses(t *tri, lines []border, inset float64) bool {
	for i := range lines {
		if l := &lines[i]; max(l.inside(&t[0]), l.inside(&t[1]), l.inside(&t[2])) < inset {
			return true
		}
	}
	return false
}

// inside returns how far a point, of which only x and y count, lies on the inner side.
func (l *border) inside(p *vec) float64 { return l.d - (float64(l.n.X*p[0]) + float64(l.n.Y*p[1])) }

// clipped returns what of a convex polygon, given by points of which only x and y count, lies within the lines around a
// convex part of the flat and not within inset (mm) of them; nil for nothing of any width. Heights come along.
func clipped(polygon []vec, lines []border, inset float64) []vec {
	for i := range lines {
		inside := func(q vec) float64 { return lines[i].inside(&q) - inset }
		if !slices.ContainsFunc(polygon, func(q vec) bool { return inside(q) < 0 }) {
			continue
		}
		var next []vec
		for k, a := range polygon {
			b := polygon[(k+1)%len(polygon)]
			ha, hb := inside(a), inside(b)
			if ha >= 0 {
				next = append(next, a)
			}
			if ha > 0 && hb < 0 || ha < 0 && hb > 0 {
				next = append(next, along(a, ha/(ha-hb), sub(b, a)))
			}
		}
		if polygon = next; len(polygon) < 3 {
			return nil
		}
	}
	return polygon
}

// plan returns a polygon seen from the top, counter-clockwise.
func plan(polygon []vec) []flat.Pt {
	out := make([]flat.Pt, len(polygon))
	for i, p := range polygon {
		out[i] = flat.Pt{X: p[0], Y: p[1]}
	}
	if inPlan(out) < 0 {
		slices.Reverse(out)
	}
	return out
}

// inPlan returns the area of a polygon, below 0 for a clockwise one.
func inPlan(polygon []flat.Pt) float64 {
	sum := 0.0
	for i := 2; i < len(polygon); i++ {
		sum += polygon[i-1].Sub(polygon[0]).Cross(polygon[i].Sub(polygon[0]))
	}
	return sum / 2
}
