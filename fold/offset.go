package fold

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/flat"
)

// Offset is where something stands beside its place at rest, in the housing's frame: turned about the fixed x, then y,
// then z direction (degrees) through its origin, then shifted (mm). The origin of an enclosure piece is that of its own
// mesh or box, the origin of the board the flat point (0, 0, 0). The zero value is the place at rest.
type Offset struct {
	Turn [3]float64
	Move mgl64.Vec3
}

// String writes the offset as the design file does.
func (o Offset) String() string {
	out := "{move: " + triple(o.Move)
	if o.Turn != [3]float64{} {
		out += ", turn: " + triple(o.Turn)
	}
	return out + "}"
}

func triple(v [3]float64) string {
	return fmt.Sprintf("[%s, %s, %s]", flat.Num(v[0]), flat.Num(v[1]), flat.Num(v[2]))
}

// Leg is the way from one placement to the next: one straight shift of the origin and one turn about a fixed axis through
// it, both at constant rate. Where just one number of the turn changes, the leg turns by that much about that number's
// axis, whole turns included; where several do, the short way round.
type Leg struct {
	From, To Offset
	Axis     mgl64.Vec3 // unit, housing's frame; zero where the leg does not turn
	Angle    float64    // degrees about Axis, right-handed
}

// ambiguous is how near (as the cosine of half the angle) a turn may come to half a turn before both ways round are short.
const ambiguous = 1e-9

// newLeg returns the leg between two placements; false where it turns by half a turn and several numbers change, so that
// nothing says which way round.
func newLeg(from, to Offset) (Leg, bool) {
	l := Leg{From: from, To: to}
	changed, count := 0, 0
	for k := range 3 {
		if from.Turn[k] != to.Turn[k] {
			changed, count = k, count+1
		}
	}
	switch count {
	case 0:
		return l, true
	case 1:
		// what turns about x comes before the turns about y and z, which carry its axis along
		carried := from.Turn
		for k := range changed + 1 {
			carried[k] = 0
		}
		axis := mgl64.Vec3{}
		axis[changed] = 1
		l.Axis, l.Angle = Turn(RigidMotion(carried, mgl64.Vec3{}), axis), to.Turn[changed]-from.Turn[changed]
		return l, true
	}
	rotation := RigidMotion(to.Turn, mgl64.Vec3{}).Mul4(Invert(RigidMotion(from.Turn, mgl64.Vec3{})))
	q := mgl64.Mat4ToQuat(rotation)
	if q.W < 0 {
		q = q.Scale(-1)
	}
	if sine := q.V.Len(); sine > 0 {
		l.Axis, l.Angle = q.V.Mul(1/sine), 2*math.Atan2(sine, q.W)*(180/math.Pi)
	}
	return l, q.W > ambiguous
}

// HousingFromRest returns the motion at u of the way (0 to 1, beyond counts as the end), from the place at rest, whose
// origin is at pivot in the housing's frame. Both ends are the placements as written, bit for bit.
func (l *Leg) HousingFromRest(u float64, pivot mgl64.Vec3) mgl64.Mat4 {
	switch {
	case u <= 0:
		return l.From.housingFromRest(pivot)
	case u >= 1:
		return l.To.housingFromRest(pivot)
	}
	m := RigidMotion(l.From.Turn, mgl64.Vec3{})
	if l.Angle != 0 {
		m = rotationAbout(l.Axis, l.Angle*u).Mul4(m)
	}
	move := mgl64.Vec3{}
	for k := range move {
		move[k] = between(l.From.Move[k], l.To.Move[k], u)
	}
	return aboutPoint(m, pivot, move)
}

// housingFromRest returns the motion of the placement, for something whose origin is at pivot at rest.
func (o Offset) housingFromRest(pivot mgl64.Vec3) mgl64.Mat4 {
	return aboutPoint(RigidMotion(o.Turn, mgl64.Vec3{}), pivot, o.Move)
}

// aboutPoint returns the rotation m about pivot instead of the origin, followed by a shift.
func aboutPoint(m mgl64.Mat4, pivot, move mgl64.Vec3) mgl64.Mat4 {
	t := move.Add(pivot.Sub(Turn(m, pivot)))
	m.SetCol(3, mgl64.Vec4{t[0], t[1], t[2], 1})
	return clean(m)
}

// rotationAbout returns the rotation about a unit axis through the origin, in degrees, right-handed.
func rotationAbout(axis mgl64.Vec3, deg float64) mgl64.Mat4 {
	s, c := sinCos(deg)
	m := mgl64.Ident4()
	for r := range 3 {
		for k := range 3 {
			m[k*4+r] = float64((1 - c) * axis[r] * axis[k])
		}
		m[r*4+r] += c
	}
	for k := range 3 {
		a, b := (k+1)%3, (k+2)%3
		m[a*4+b] += float64(s * axis[k])
		m[b*4+a] -= float64(s * axis[k])
	}
	return clean(m)
}

// between returns the value at u of the way from a to b; exact at both ends, and where both are equal.
func between(a, b, u float64) float64 {
	if a == b {
		return a
	}
	return float64(a*(1-u)) + float64(b*u)
}
