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

// No point is farther from the straight line between its places at two moments than the bound on how velocities change allows:
// tried at points of bodies, bends and walls at random, on boards that go ways at random.
func TestStraightLinesAreNearEnough(t *testing.T) {
	r := rand.New(rand.NewPCG(71, 72))
	tight := 0.0
	for range 12 {
		src := wander(r)
		p := &programs(t, src)[0]
		w, err := newSweeper(context.Background(), p, wallsOf(p), 0.05)
		if err != nil {
			t.Fatal(err)
		}
		for range 2000 {
			step := r.IntN(len(p.Steps))
			k := r.IntN(len(p.Steps[step].Breaks()) - 1)
			mid := p.Steps[step].Breaks()[k] + (0.01+0.98*r.Float64())*(p.Steps[step].Breaks()[k+1]-p.Steps[step].Breaks()[k])
			half := r.Float64() * min(mid-p.Steps[step].Breaks()[k], p.Steps[step].Breaks()[k+1]-mid)
			tr := w.tracks[r.IntN(len(w.tracks))]
			a, links := tr.a, tr.linksA
			if r.IntN(2) == 0 {
				a, links = tr.b, tr.linksB
			}
			m := w.instantAt(step, mid)
			if m.ready() == nil {
				t.Fatal(m.err)
			}
			point := r.IntN(len(m.as(a).points))
			at := func(u float64) vec {
				n := w.instantAt(step, mid+half*u)
				if n.ready() == nil {
					t.Fatal(n.err)
				}
				return fold.Apply(fold.Invert(n.housingFromLink(tr.under)).Mul4(n.housingFromOwn(a)), n.as(a).points[point])
			}
			side, u := float64(2*r.IntN(2)-1), 0.3+0.4*r.Float64()
			off := length(sub(at(side*u), along(at(0), u, sub(at(side), at(0)))))
			bound := m.pace(a, links, half).change * half * half / 8
			if off > bound+1e-9 {
				t.Fatalf("%s of %s - %s in step %d at %v, half %v: off by %v, bound %v\n%s", a.name, tr.a.name, tr.b.name, step+1, mid, half, off, bound, src)
			}
			if bound > 1e-6 {
				tight = max(tight, off/bound)
			}
		}
	}
	if tight < 0.7 {
		t.Errorf("the bound is far off: at best %v of it is reached", tight)
	}
}

// A plate slides and turns on a wide floor, at rest on it or just its clearance above: that is clear all the way. A bump of
// 0.02 mm on its way is found, and where it begins.
func TestSlidingOnAFloor(t *testing.T) {
	for _, gap := range []float64{0, 0.3} {
		for _, way := range []string{"{move: [100, -80, 0]}, {move: [100, 0, 0]}", "{move: [100, 0, 0], turn: [0, 0, 90]}", "{move: [100, 0, 0], turn: [0, 0, 400]}"} {
			line, floor := boxPiece("floor", -300, -200, -5, 300, 200, -0.5-gap)
			seq := "  - {move: board, into: floor, path: [" + way + ", {move: [0, 0, 0]}]}\n"
			m := sweep(t, plank(gap, line, seq), floor)
			if g := stepGap(t, m, 1, "enclosure"); !m.Covered || len(m.Findings) > 0 || math.Abs(g.Gap-gap) > 1e-9 || g.Low < gap-Resolution-1e-9 {
				t.Errorf("%v above, %s: covered %v, %s, %+v", gap, way, m.Covered, told(m), g)
			}
		}
	}
	line, floor := boxPiece("floor", -300, -200, -5, 300, 200, -0.5)
	bumpLine, bump := boxPiece("bump", 82, 4, -5, 82.01, 6, -0.48)
	m := sweep(t, plank(0, line+bumpLine, "  - {move: board, into: floor, path: [{move: [100, -80, 0]}, {move: [100, 0, 0]}, {move: [0, 0, 0]}]}\n"), floor, bump)
	if told(m) != "contact-in-motion section:main enclosure:bump" || len(m.Findings) > 0 && !strings.Contains(m.Findings[0].Message, "from 59 % on") { // (100 - 82.01) / 200 past half
		t.Errorf("%s: %+v", told(m), m.Findings)
	}
}

// A fin of 0.02 mm is crossed by a part of 0.1 mm on a way of 2 m: for less than 1e-4 of the step.
func TestFinCrossedForAMoment(t *testing.T) {
	for _, at := range []float64{123.4567, 999.999, 1777.7} {
		line, fin := boxPiece("fin", at, -5, 0.55, at+0.02, 15, 3)
		src := strings.Replace(plank(0, line, "  - {move: board, into: fin, path: [{move: [2000, 0, 0]}, {move: [0, 0, 0]}]}\n"),
			"clearance", "components: {P1: {side: top, at: [30, 5], size: [0.1, 0.1, 0.1]}}\nclearance", 1)
		m := sweep(t, src, fin)
		if want := fmt.Sprintf("from %s on", percent(1-(at+0.02-29.95)/2000)); told(m) != "contact-in-motion component:P1 enclosure:fin" || !strings.Contains(m.Findings[0].Message, want) {
			t.Errorf("fin at %v: %s, want %s: %+v", at, told(m), want, m.Findings)
		}
	}
}
