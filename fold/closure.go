package fold

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// Closure says how far a loop stays open at one joint outside the tree: the joint's end points as the bend carries them
// against where the flat has them.
type Closure struct {
	Bend, Flat  int
	Off         float64 // largest distance between the two images of the joint's end points, mm
	Turn        float64 // angle between the two rotations, degrees
	Along       float64 // parts of Off: along the hinge line, and across it
	Across      float64
	Tilt, Twist float64 // parts of Turn: about the hinge line, and out of it
}

// Closures returns one closure for each bend, side and flat that the tree leaves open; none on a board without loops. Values
// of a loop that closes are rounding, about 1e-13 mm.
func (f *Folded) Closures() []Closure {
	t := f.Tree
	type key struct {
		bend, flat int
		far        bool
	}
	at := map[key]int{}
	var out []Closure
	for _, j := range t.Joints {
		if j.Tree {
			continue
		}
		k := key{j.Bend, j.Flat, j.Far}
		c := f.closure(j)
		i, seen := at[k]
		if !seen {
			at[k] = len(out)
			out = append(out, c)
		} else if c.Off > out[i].Off {
			out[i] = c
		}
	}
	return out
}

// closure measures one joint.
func (f *Folded) closure(j Joint) Closure {
	b := &f.Tree.Bends[j.Bend]
	carried := f.flats[b.Parent]
	if j.Far {
		carried = f.BoardFromStation(j.Bend, b.Width)
	}
	own := f.flats[j.Flat]
	c := Closure{Bend: j.Bend, Flat: j.Flat}
	axis := Turn(carried, mgl64.Vec3{-b.Dir.Y, b.Dir.X, 0})
	for _, p := range [2]mgl64.Vec3{{j.P.X, j.P.Y, b.Height}, {j.Q.X, j.Q.Y, b.Height}} {
		v := Apply(own, p).Sub(Apply(carried, p))
		if off := v.Len(); off > c.Off || c.Off == 0 {
			c.Off = off
			c.Along = math.Abs(v.Dot(axis))
			c.Across = v.Sub(axis.Mul(v.Dot(axis))).Len()
		}
	}
	turn := rotationVector(carried, own)
	c.Turn = turn.Len()
	c.Tilt = math.Abs(turn.Dot(axis))
	c.Twist = turn.Sub(axis.Mul(turn.Dot(axis))).Len()
	return c
}

// rotationVector returns axis times angle (degrees, board frame) of the rotation that takes a's directions to b's.
func rotationVector(a, b mgl64.Mat4) mgl64.Vec3 {
	r := b.Mul4(Invert(a))
	// twice the sine times the axis, and the trace
	v := mgl64.Vec3{r[6] - r[9], r[8] - r[2], r[1] - r[4]}
	s, c := v.Len()/2, (r[0]+r[5]+r[10]-1)/2
	angle := math.Atan2(s, c) * (180 / math.Pi)
	if s > 1e-9 {
		return v.Mul(angle / (2 * s))
	}
	if c > 0 {
		return mgl64.Vec3{}
	}
	// half a turn: the axis from the largest diagonal of (R + 1)/2
	best := mgl64.Vec3{}
	for i := range 3 {
		col := mgl64.Vec3{r[i*4], r[i*4+1], r[i*4+2]}
		col[i]++
		if col.Len() > best.Len() {
			best = col
		}
	}
	return best.Normalize().Mul(angle)
}
