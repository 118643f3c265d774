package gltf

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
	lib "github.com/qmuntal/gltf"

	"foldfit/fold"
)

// rig is the row of joints that turns one bend. Its node stands on the near tangent line at the height of the neutral
// surface, x across the bend from near to far, y up, z along the hinge: all joints move in the plane z = 0 and turn
// about z.
type rig struct {
	bend         *fold.Bend
	folded       *fold.Folded
	index        int     // of the bend
	turn         float64 // the hinge's angle in the scene's posture, radians
	node         int
	flatFromBend mgl64.Mat4
	joints       []joint
	stations     int // so many joints, the first ones, belong to the stations of the mesh
}

// joint is the tangent plane of the flex at arc length s (mm) into the bend; in the near run-out of a free shape s is below 0.
type joint struct {
	s    float64
	node int
}

// rig returns the rig of bend i; the first call adds its node and the joints of its mesh.
func (b *builder) rig(i int) *rig {
	if b.rigs[i] != nil {
		return b.rigs[i]
	}
	bend := &b.tree.Bends[i]
	d := bend.Dir
	r := &rig{
		bend: bend, folded: b.Assembly.Folded, index: i,
		turn: b.Assembly.Folded.Angles[bend.Hinge] * (math.Pi / 180),
		flatFromBend: frame(
			axes(mgl64.Vec3{d.X, d.Y, 0}), axes(mgl64.Vec3{0, 0, 1}), axes(mgl64.Vec3{d.Y, -d.X, 0}),
			metres(mgl64.Vec3{bend.Origin.X, bend.Origin.Y, bend.Height})),
	}
	b.rigs[i] = r
	n := &lib.Node{Name: "bend-joints:" + bend.Name}
	stand(n, r.flatFromBend)
	r.node = b.addNode(b.flats[bend.Parent], n)
	if m := b.bendMesh[i]; m >= 0 {
		for _, s := range b.Assembly.Bodies[m].Stations {
			b.addJoint(r, s)
		}
	}
	r.stations = len(r.joints)
	return r
}

// jointAt returns the joint at arc length s, adding one if the mesh has no station there.
func (b *builder) jointAt(r *rig, s float64) joint {
	for _, j := range r.joints {
		if math.Abs(j.s-s) <= 1e-9 {
			return j
		}
	}
	return b.addJoint(r, s)
}

func (b *builder) addJoint(r *rig, s float64) joint {
	n := &lib.Node{Name: fmt.Sprintf("joint:%s/%d", r.bend.Name, len(r.joints))}
	at := r.pose(s, r.turn)
	n.Translation, n.Rotation = at.place, at.rotation()
	j := joint{s: s, node: b.addNode(r.node, n)}
	r.joints = append(r.joints, j)
	return j
}

// flatFromJoint returns where the joint at s stands while the board is flat.
func (r *rig) flatFromJoint(s float64) mgl64.Mat4 {
	return r.flatFromBend.Mul4(mgl64.Translate3D(s/perMetre, 0, 0))
}

// pose is where a joint stands in its rig's frame.
type pose struct {
	place [3]float64 // metres
	rate  [3]float64 // derivative of place by the hinge's angle in radians
	turn  float64    // radians about z
}

// pose returns where the joint at s stands when the hinge has turned by so many radians. With the angle a = turn s/width
// there it is s (sin a/a, (1 - cos a)/a): the tangent plane of a cylinder that keeps its arc lengths. A free shape has the
// scene's posture alone.
func (r *rig) pose(s, turn float64) pose {
	if r.folded.Free(r.index) != nil {
		x, z, turned := r.folded.Neutral(r.index, s)
		return pose{place: [3]float64{x / perMetre, z / perMetre, 0}, turn: turned * (math.Pi / 180)}
	}
	share := 1.0
	a := turn
	if s != r.bend.Width {
		share, a = s/r.bend.Width, turn*s/r.bend.Width
	}
	arc := s / perMetre
	across, up := unroll(a)
	dAcross, dUp := unrollRate(a)
	return pose{
		place: [3]float64{arc * across, arc * up, 0},
		rate:  [3]float64{arc * share * dAcross, arc * share * dUp, 0},
		turn:  a,
	}
}

// rotation returns the pose's turn as a quaternion x, y, z, w. It runs on without a jump beyond 180 degrees.
func (p pose) rotation() [4]float64 {
	s, c := math.Sincos(p.turn / 2)
	return [4]float64{0, 0, s, c}
}

// near is the angle in radians below which the series are used; the first term left out is under 1e-14.
const near = 1e-2

// unroll returns sin(a)/a and (1-cos(a))/a.
func unroll(a float64) (across, up float64) {
	if math.Abs(a) < near {
		q := a * a
		return 1 - q/6 + q*q/120, a * (0.5 - q/24 + q*q/720)
	}
	s, c := math.Sincos(a)
	return s / a, (1 - c) / a
}

// unrollRate returns the derivatives of unroll by a.
func unrollRate(a float64) (across, up float64) {
	if math.Abs(a) < near {
		q := a * a
		return a * (-1.0/3 + q/30 - q*q/840), 0.5 - q/8 + q*q/144
	}
	s, c := math.Sincos(a)
	x, y := unroll(a)
	return (c - x) / a, (s - y) / a
}
