package gltf

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
	lib "github.com/qmuntal/gltf"
)

// perMetre is the number of millimetres in glTF's unit of length.
const perMetre = 1000

// axes turns a direction in board axes (z up) into glTF's axes (y up). Zeros come out positive.
func axes(d mgl64.Vec3) mgl64.Vec3 { return mgl64.Vec3{d[0] + 0, d[2] + 0, 0 - d[1]} }

// metres turns a point in board axes and mm into glTF's axes and metres.
func metres(p mgl64.Vec3) mgl64.Vec3 {
	q := axes(p)
	return mgl64.Vec3{q[0] / perMetre, q[1] / perMetre, q[2] / perMetre}
}

// motion turns a rigid motion in board axes and mm into the same motion in glTF's axes and metres.
func motion(m mgl64.Mat4) mgl64.Mat4 {
	x, y, z := axes(m.Col(0).Vec3()), axes(m.Col(1).Vec3()), axes(m.Col(2).Vec3())
	back := mgl64.Vec3{0 - y[0], 0 - y[1], 0 - y[2]}
	return frame(x, z, back, metres(m.Col(3).Vec3()))
}

// frame returns the motion that takes the coordinate axes to x, y, z and the origin to at.
func frame(x, y, z, at mgl64.Vec3) mgl64.Mat4 {
	return mgl64.Mat4FromCols(x.Vec4(0), y.Vec4(0), z.Vec4(0), at.Vec4(1))
}

// stand puts a node where the rigid motion m (glTF's axes, metres) takes its parent's frame.
func stand(n *lib.Node, m mgl64.Mat4) {
	q := mgl64.Mat4ToQuat(m).Normalize()
	n.Rotation = [4]float64{q.V[0] + 0, q.V[1] + 0, q.V[2] + 0, q.W}
	n.Translation = [3]float64(m.Col(3).Vec3())
}

// single rounds a vector to glTF's precision.
func single(v mgl64.Vec3) [3]float32 {
	return [3]float32{float32(v[0]), float32(v[1]), float32(v[2])}
}

// finite reports whether all coordinates of all points are numbers that float32 can hold.
func finite(points []mgl64.Vec3) bool {
	for _, p := range points {
		for _, x := range p {
			if !(math.Abs(x) <= math.MaxFloat32) {
				return false
			}
		}
	}
	return true
}
