package clash

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"foldfit/fold"
)

// wander is a board at random with a sequence at random: hinges together and one by one, over their angle and back, the board
// shifted and turned in two legs, a lid brought in, a clip that rides and a link that follows.
func wander(r *rand.Rand) string {
	at := func(reach float64) string {
		return fmt.Sprintf("[%.3f, %.3f, %.3f]", reach*(2*r.Float64()-1), reach*(2*r.Float64()-1), reach*(2*r.Float64()-1))
	}
	src := strings.Split(chain(r), "hinges:\n")[0] + "hinges:\n"
	var angles [3]float64
	for i := range angles {
		x, lean := 22+18*float64(i), 6*r.Float64()-3
		angles[i] = math.Round(340*r.Float64()-170) + 0.5
		src += fmt.Sprintf("  h%d: {line: [[%v, -1], [%v, 11]], angle: %v, radius: %.1f}\n", i, x-lean, x+lean, angles[i], 0.5+r.Float64())
	}
	src += "enclosure:\n  lid: {box: [[0, 0, 0], [20, 10, 1]], move: [3, 4, 30]}\n  clip: {box: [[70, 2, 1], [72, 4, 3]], on: end}\n  link: {box: [[38, 2, 1], [42, 4, 3]], follows: {hinge: h1, share: 0.6}}\n"
	src += fmt.Sprintf("sequence:\n  - {bend: [h0, h2], to: {h0: %.2f, h2: %.2f}}\n  - {bend: [h1]}\n", angles[0]*(2*r.Float64()-0.9), angles[2]*(2*r.Float64()-0.9))
	src += fmt.Sprintf("  - {move: board, path: [{move: %s, turn: %s}, {move: %s, turn: [0, 70, 0]}, {move: [0, 0, 0]}]}\n", at(30), at(80), at(30))
	return src + fmt.Sprintf("  - {bend: [h0, h1, h2]}\n  - {move: lid, path: [{move: %s, turn: %s}, {move: [0, 0, 0]}]}\n", at(30), at(80))
}

// No point comes nearer to another one, or goes farther from it, than the bounds on how both move allow: tried at points of
// bodies, bends and walls at random, at moments all through each leg.
func TestSpeedIsNeverExceeded(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	tight, tried := 0.0, 0
	for range 12 {
		src := wander(r)
		p := &programs(t, src)[0]
		walls := wallsOf(p)
		w, err := newSweeper(context.Background(), p, walls, 0.05)
		if err != nil {
			t.Fatal(err)
		}
		for range 4000 {
			step := r.IntN(len(p.Steps))
			k := r.IntN(len(p.Steps[step].Breaks()) - 1)
			from, to := p.Steps[step].Breaks()[k], p.Steps[step].Breaks()[k+1]
			tr := w.tracks[r.IntN(len(w.tracks))]
			moment := func() *instant {
				n := w.instantAt(step, from+(to-from)*(0.001+0.998*r.Float64()))
				if n.ready() == nil {
					t.Fatal(n.err)
				}
				return n
			}
			m, n := moment(), moment()
			a, b := r.IntN(len(m.as(tr.a).points)), r.IntN(len(m.as(tr.b).points))
			apart := func(n *instant) float64 {
				x, y := fold.Apply(n.housingFromOwn(tr.a), n.as(tr.a).points[a]), fold.Apply(n.housingFromOwn(tr.b), n.as(tr.b).points[b])
				return length(sub(x, y))
			}
			moved := math.Abs(apart(m) - apart(n))
			bound := (m.speed(tr.a, tr.linksA) + m.speed(tr.b, tr.linksB)) * math.Abs(m.at-n.at)
			if moved > bound+1e-9 {
				t.Fatalf("%s - %s in step %d from %v to %v: moved %v, bound %v\n%s", tr.a.name, tr.b.name, step+1, m.at, n.at, moved, bound, src)
			}
			if bound > 1e-9 {
				tight, tried = max(tight, moved/bound), tried+1
			}
		}
	}
	if tight < 0.9 || tried < 10000 {
		t.Errorf("the bounds are far off: at best %v of them is reached in %d trials", tight, tried)
	}
}
