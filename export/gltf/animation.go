package gltf

import (
	"math"

	lib "github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"
)

// duration of the animation in seconds.
const duration = 4

// keyTurn is the largest turn of a bend between two keys, in radians (10 degrees). Rotation between keys is exact, as the
// axis is fixed; translation by cubic splines is off by at most (turn)^4/384 times the fourth derivative of the motion,
// under 1/4 of the arc length: 0.06 um for each 100 mm of a bend's width.
const keyTurn = math.Pi / 18

// animate adds the animation `fold`: from flat to the scene's posture, all hinges in step. A board that stands flat has
// none, nor has one with free shapes: they are known in this posture alone.
func (b *builder) animate() {
	if b.anyFree() {
		return
	}
	a := &lib.Animation{Name: "fold"}
	for _, r := range b.rigs {
		if r == nil || r.turn == 0 {
			continue
		}
		keys := 1 + max(1, int(math.Ceil(math.Abs(r.turn)/keyTurn-1e-9)))
		for _, j := range r.joints {
			if j.s != 0 {
				b.animateJoint(a, r, j, keys)
			}
		}
	}
	if len(a.Channels) > 0 {
		b.doc.Animations = []*lib.Animation{a}
	}
}

// anyFree reports whether a bend has its free shape.
func (b *builder) anyFree() bool {
	for i := range b.tree.Bends {
		if b.Assembly.Folded.Free(i) != nil {
			return true
		}
	}
	return false
}

// animateJoint adds the two channels of one joint.
func (b *builder) animateJoint(a *lib.Animation, r *rig, j joint, keys int) {
	places := make([][3]float32, 0, 3*keys)
	turns := make([][4]float32, 0, keys)
	for k := range keys {
		p := r.pose(j.s, float64(keyTime(k, keys))/duration)
		var rate, place [3]float32
		for i := range 3 {
			rate[i], place[i] = float32(p.rate[i]/duration), float32(p.place[i])
		}
		places = append(places, rate, place, rate)
		q := p.rotation()
		turns = append(turns, [4]float32{float32(q[0]), float32(q[1]), float32(q[2]), float32(q[3])})
	}
	times := b.times(keys)
	add := func(path lib.TRSProperty, way lib.Interpolation, output int) {
		a.Samplers = append(a.Samplers, &lib.AnimationSampler{Input: times, Output: output, Interpolation: way})
		target := lib.AnimationChannelTarget{Node: lib.Index(j.node), Path: path}
		a.Channels = append(a.Channels, &lib.AnimationChannel{Sampler: len(a.Samplers) - 1, Target: target})
	}
	add(lib.TRSTranslation, lib.InterpolationCubicSpline, modeler.WriteAccessor(b.doc, lib.TargetNone, places))
	add(lib.TRSRotation, lib.InterpolationLinear, modeler.WriteAccessor(b.doc, lib.TargetNone, turns))
}

// keyTime returns the time of key k in seconds, as the file stores it.
func keyTime(k, keys int) float32 { return float32(duration * float64(k) / float64(keys-1)) }

// times returns the accessor of so many evenly spread key times, shared by all who have as many.
func (b *builder) times(keys int) int {
	if acc, ok := b.keyTimes[keys]; ok {
		return acc
	}
	list := make([]float32, keys)
	for k := range list {
		list[k] = keyTime(k, keys)
	}
	acc := modeler.WriteAccessor(b.doc, lib.TargetNone, list)
	b.doc.Accessors[acc].Min = []float64{float64(list[0])}
	b.doc.Accessors[acc].Max = []float64{float64(list[keys-1])}
	b.keyTimes[keys] = acc
	return acc
}
