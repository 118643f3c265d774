package enclosure

import (
	"fmt"

	"github.com/go-gl/mathgl/mgl64"
)

// add appends a copy of points and triangles, moved by fileFromPart. A mirrored copy keeps its outside outside.
func (r *raw) add(points []mgl64.Vec3, tris [][3]int32, fileFromPart mgl64.Mat4) {
	m, first := fileFromPart, int32(len(r.points))
	for _, p := range points {
		var q mgl64.Vec3
		for k := range 3 {
			q[k] = float64(m[k]*p[0]) + float64(m[4+k]*p[1]) + float64(m[8+k]*p[2]) + m[12+k]
		}
		r.points = append(r.points, q)
	}
	mirrored := m.Mat3().Det() < 0
	for _, t := range tris {
		a, b, c := first+t[0], first+t[1], first+t[2]
		if mirrored {
			b, c = c, b
		}
		r.tris = append(r.tris, [3]int32{a, b, c})
	}
}

// amount is how much a reader would have to hold.
type amount struct{ triangles, points, copies int64 }

// plus returns the sum of two amounts.
func (a amount) plus(b amount) amount {
	return amount{a.triangles + b.triangles, a.points + b.points, a.copies + b.copies}
}

// errTooMuch refuses a file that asks for too much.
var errTooMuch = fmt.Errorf("more than %d triangles, %d points or %d copies: simplify the mesh", MostTriangles, mostPoints, mostCopies)

// errRepeats refuses a small file that asks for much by copies.
var errRepeats = fmt.Errorf("the copies of objects come to more than %d triangles or points beyond those that the file holds: simplify the mesh", mostRepeated)

// check returns an error for an amount beyond what is read, of which so much stands in the file itself.
func (a amount) check(held amount) error {
	switch {
	case a.tooMuch():
		return errTooMuch
	case a.triangles-held.triangles > mostRepeated, a.points-held.points > mostRepeated:
		return errRepeats
	}
	return nil
}

// tooMuch reports whether an amount is beyond what is read.
func (a amount) tooMuch() bool {
	return a.triangles > MostTriangles || a.points > mostPoints || a.copies > mostCopies
}
