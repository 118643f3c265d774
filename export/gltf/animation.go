package gltf

import (
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	lib "github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"

	"foldfit/fold"
)

// animate adds the animation `fold`, if anything moves.
//
// Rotation between keys is exact, as each axis is fixed and spherical interpolation turns at a constant rate. Translation
// is linear along the legs, hence exact too, since a leg's node stands at the point that shifts straight. The joints of a
// bend move by cubic splines: off by at most (turn)^4/384 times the fourth derivative of the motion, under 1/4 of the arc
// length: 0.06 um for each 100 mm of a bend's width.
func (b *builder) animate() error {
	b.clip = &lib.Animation{Name: "fold"}
	for _, r := range b.rigs {
		if r == nil {
			continue
		}
		keys := hingeKeys(b.plan, r.bend.Hinge)
		for _, j := range r.joints {
			if j.s != 0 && len(keys) > 0 {
				b.animateJoint(r, j, keys)
			}
		}
	}
	if err := b.animateMovers(); err != nil {
		return err
	}
	for _, v := range b.veils {
		b.animatePresence(v.node, v.changes)
	}
	if len(b.clip.Channels) > 0 {
		b.showMarksAtTheEnd()
		b.clip.Extras = b.clipExtras()
		b.doc.Animations = []*lib.Animation{b.clip}
	}
	return nil
}

// animateJoint adds the two channels of one joint.
func (b *builder) animateJoint(r *rig, j joint, keys []hingeKey) {
	times := make([]float32, len(keys))
	places := make([][3]float32, 0, 3*len(keys))
	turns := make([][4]float32, len(keys))
	for k, key := range keys {
		p := r.pose(j.s, key.angle)
		var before, place, after [3]float32
		for i := range 3 {
			before[i], place[i], after[i] = float32(p.rate[i]*key.before), float32(p.place[i]), float32(p.rate[i]*key.after)
		}
		times[k] = key.time
		places = append(places, before, place, after)
		turns[k] = narrow(p.rotation())
	}
	b.channel(j.node, lib.TRSTranslation, lib.InterpolationCubicSpline, times, places)
	b.channel(j.node, lib.TRSRotation, lib.InterpolationLinear, times, turns)
}

// animateMovers adds the channels of the board and of the pieces that go along paths.
func (b *builder) animateMovers() error {
	keys, err := b.moverKeys(b.plan, fold.TheBoard)
	if err != nil {
		return err
	}
	b.animateMotion(b.board, keys, func(s *fold.State) mgl64.Mat4 { return b.sceneFromHousing.Mul4(s.HousingFromBoard) })
	for _, c := range b.carriages {
		keys, err := b.moverKeys(b.plan, c.piece)
		if err != nil {
			return err
		}
		pivot := atPoint(b.Program.Pivot(c.piece))
		b.animateMotion(c.node, keys, func(s *fold.State) mgl64.Mat4 { return s.Pieces[c.piece].HousingFromPiece.Mul4(pivot) })
	}
	return nil
}

// animateMotion adds the two channels of a node that goes along a path: where tells its place in its parent's frame, in
// board axes and mm.
func (b *builder) animateMotion(node int, keys []stateKey, where func(*fold.State) mgl64.Mat4) {
	if len(keys) == 0 {
		return
	}
	times := make([]float32, len(keys))
	places := make([][3]float32, len(keys))
	turns := make([][4]float32, len(keys))
	last := mgl64.QuatIdent()
	for k, key := range keys {
		m := motion(where(key.state))
		q := mgl64.Mat4ToQuat(m).Normalize()
		if q.Dot(last) < 0 {
			q = q.Scale(-1) // the same rotation; the next key goes on from here the short way
		}
		last = q
		times[k], places[k] = key.time, single(m.Col(3).Vec3())
		turns[k] = narrow([4]float64{q.V[0] + 0, q.V[1] + 0, q.V[2] + 0, q.W + 0})
	}
	b.channel(node, lib.TRSTranslation, lib.InterpolationLinear, times, places)
	b.channel(node, lib.TRSRotation, lib.InterpolationLinear, times, turns)
}

// animatePresence scales a node to nothing while it is not there, which glTF names as the way to hide one.
func (b *builder) animatePresence(node int, changes []change) {
	times := make([]float32, len(changes))
	scales := make([][3]float32, len(changes))
	for k, c := range changes {
		times[k] = c.time
		if c.there {
			scales[k] = [3]float32{1, 1, 1}
		}
	}
	b.channel(node, lib.TRSScale, lib.InterpolationStep, times, scales)
}

// showMarksAtTheEnd hides marks while anything moves: they belong to the end, which is then shown a little longer.
func (b *builder) showMarksAtTheEnd() {
	t := end(b.plan)
	for _, node := range b.marks {
		b.animatePresence(node, []change{{0, false}, {t, true}, {t + hold, true}})
	}
}

// channel adds a track of keys for one property of a node.
func (b *builder) channel(node int, path lib.TRSProperty, way lib.Interpolation, times []float32, values any) {
	s := &lib.AnimationSampler{Input: b.times(times), Output: modeler.WriteAccessor(b.doc, lib.TargetNone, values), Interpolation: way}
	b.clip.Samplers = append(b.clip.Samplers, s)
	target := lib.AnimationChannelTarget{Node: lib.Index(node), Path: path}
	b.clip.Channels = append(b.clip.Channels, &lib.AnimationChannel{Sampler: len(b.clip.Samplers) - 1, Target: target})
}

// clock is an accessor of key times.
type clock struct {
	times    []float32
	accessor int
}

// times returns the accessor of the given key times, shared by all tracks that have the same.
func (b *builder) times(times []float32) int {
	for _, c := range b.clocks {
		if slices.Equal(c.times, times) {
			return c.accessor
		}
	}
	acc := modeler.WriteAccessor(b.doc, lib.TargetNone, times)
	b.doc.Accessors[acc].Min = []float64{float64(times[0])}
	b.doc.Accessors[acc].Max = []float64{float64(times[len(times)-1])}
	b.clocks = append(b.clocks, clock{times, acc})
	return acc
}

// narrow rounds a quaternion to glTF's precision.
func narrow(q [4]float64) [4]float32 {
	return [4]float32{float32(q[0]), float32(q[1]), float32(q[2]), float32(q[3])}
}
