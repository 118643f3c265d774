package clash

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"foldfit/fold"
	"foldfit/mesh"
)

// wallsOf returns the boxes of a design's enclosure as walls.
func wallsOf(p *fold.Program) []Wall {
	var out []Wall
	for i := range p.Tree.Design.Enclosure {
		e := &p.Tree.Design.Enclosure[i]
		w := wall(e.Name, e.Box[0][0], e.Box[0][1], e.Box[0][2], e.Box[1][0], e.Box[1][1], e.Box[1][2])
		w.Piece, w.Mesh = e, w.Mesh.Place(fold.RigidMotion(e.Turn, e.Move))
		out = append(out, w)
	}
	return out
}

// posed returns the members of a check with the board and its walls as they stand at a moment: skinned and placed anew.
func posed(t *testing.T, w *sweeper, n *instant, walls []Wall) map[string]*member {
	t.Helper()
	a, err := mesh.Skin(n.state.Folded, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]*member{}
	for i := range a.Bodies {
		m := bodyMember(w.tree, n.state.HousingFromBoard, &a.Bodies[i])
		out[m.name] = m
	}
	for i := range walls {
		placed := walls[i]
		placed.Mesh = placed.Mesh.Place(n.state.Pieces[i].HousingFromPiece)
		m := wallMember(&placed)
		out[m.name] = m
	}
	return out
}

// On boards at random that go ways at random: nothing at moments in between, measured as at rest, is nearer than what was
// proven, the smallest gap is among them to Resolution, and each contact is found.
func TestSweepAgainstSamples(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	const chords, samples = 0.03, 12
	contacts, gaps := 0, 0
	for range 5 {
		src := wander(r)
		p := &programs(t, src)[0]
		walls := wallsOf(p)
		m := Sweep(context.Background(), []fold.Program{*p}, walls, 0.01, nil)
		if !m.Covered {
			t.Fatalf("not covered: %+v", m.Unchecked)
		}
		w, err := newSweeper(context.Background(), p, walls, 0.01)
		if err != nil {
			t.Fatal(err)
		}
		w.settleEnds()
		found := map[[2]string]bool{}
		for _, f := range m.Findings {
			found[[2]string(f.On)] = true
		}
		for step := range p.Steps {
			least := [len(kinds)]float64{math.Inf(1), math.Inf(1), math.Inf(1)}
			for i := range samples + 1 {
				n := w.instantAt(step, float64(i)/samples)
				if n.ready() == nil {
					t.Fatal(n.err)
				}
				as := posed(t, w, n, walls)
				for _, tr := range w.tracks {
					q := tr.pair
					q.a, q.b = as[tr.a.name], as[tr.b.name]
					reading, ok := w.checkAt(n).read(&q, q.a, q.b, 3)
					if !ok || tr.a.body != nil && tr.b.body != nil && reading.gap >= tr.flatGap()-Nearer-2*Resolution {
						continue
					}
					least[tr.kind] = min(least[tr.kind], reading.gap)
					if reading.gap < -chords && !tr.atEnd && !found[[2]string{tr.a.name, tr.b.name}] {
						t.Errorf("step %d at %v: %s is %v in %s\n%s", step+1, n.at, tr.a.name, -reading.gap, tr.b.name, src)
					} else if reading.gap < 0 {
						contacts++
					}
				}
			}
			for k, kind := range kinds {
				if math.IsInf(least[k], 0) {
					continue
				}
				if g := stepGap(t, m, step+1, kind); !g.Contact {
					gaps++
					if least[k] < g.Low-chords || g.Gap-g.Low > Resolution+chords {
						t.Errorf("step %d, %s: %v in between, proven %v to %v\n%s", step+1, kind, least[k], g.Low, g.Gap, src)
					}
				}
			}
		}
	}
	if contacts < 20 || gaps < 20 {
		t.Errorf("%d contacts and %d gaps test too little", contacts, gaps)
	}
}
