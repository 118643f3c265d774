package clash

import (
	"math"
	"math/rand/v2"
	"testing"
)

// plateWithHole is a plate around a hole of the given half size, made of four blocks that overlap at its corners.
func plateWithHole(hole, outer, half float64) solid {
	return block(-outer, -outer, -half, -hole, outer, half).with(block(hole, -outer, -half, outer, outer, half)).
		with(block(-outer, -outer, -half, outer, -hole, half)).with(block(-outer, hole, -half, outer, outer, half))
}

// A post that sits askew in a square hole comes free by the shift into the middle: by what it lacks to both walls.
func TestPenetrationPostInHole(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	for trial := range 60 {
		play := math.Pow(10, -2.5+2*r.Float64())
		x, y := play+0.02+0.5*r.Float64(), play+0.02+0.5*r.Float64()
		if trial%3 == 0 {
			y = play * (2*r.Float64() - 1) // within the play across the other way
		}
		m := tumble(r, 9)
		post := block(-2+play, -2+play, -3, 2-play, 2-play, 3).shifted(x*float64(1-trial%2*2), y, 0)
		o, ok := penetration(post.moved(m).shape(), plateWithHole(2, 10, 0.5).moved(m).shape(), plenty)
		want := math.Hypot(x-play, max(y-play, 0))
		if !ok || !close2(o.depth, want, 1e-9) {
			t.Errorf("trial %d, play %.4f: depth %v along %v, want %v", trial, play, o.depth, o.dir, want)
		}
	}
}
