package clash

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// A piece of the enclosure that asks for too much work is told as not followed, from where it was given up; nothing is said of
// it from there on, and the rest is followed.
func TestPieceThatTakesTooLongIsTold(t *testing.T) {
	src, post := liftPast(0, 52, 20, 40) // in the arm's way
	if m := sweep(t, src, post); !strings.Contains(told(m), "contact-in-motion") || m.Stopped {
		t.Fatalf("%s, stopped %v", told(m), m.Stopped)
	}
	for _, most := range []int{closedWear, openWear} {
		w, err := newSweeper(context.Background(), &programs(t, src)[0], []Wall{post}, 0.01)
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range w.actors {
			a.closed = a.closed && most == closedWear
		}
		s := newSearch(w, 0)
		for _, tr := range w.tracks {
			if tr.wallOf() != nil {
				s.wear(tr, 0.5, &look{nodes: most - 1, overlapWork: 1})
			}
			if tr.dropped() {
				t.Fatalf("given up after %d", tr.wallOf().worn.spent)
			}
		}
		w.tell = func(float64) {
			for _, tr := range w.tracks {
				s.wear(tr, 0.5, &look{overlapWork: most})
			}
		}
		w.run()
		var m Motion
		m.add(w)
		if !m.Stopped || len(m.Unchecked) != 1 || m.Unchecked[0].On[0] != "enclosure:post" || m.Unchecked[0].Aside {
			t.Errorf("stopped %v, %+v", m.Stopped, m.Unchecked)
		}
		if stepGap(t, m, 1, "board").Gap <= 0 {
			t.Errorf("%+v", m.Steps)
		}
	}
}

// The way that stands in for a sequence ends when its work is done, as an aside; a sequence is followed to its end.
func TestOnlyWrittenWaysHaveNoEnd(t *testing.T) {
	for _, sequence := range []string{"", "sequence: [{bend: [neck]}]\n"} {
		w, err := newSweeper(context.Background(), &programs(t, strip(90, 1.5, sequence))[0], nil, 0.01)
		if err != nil {
			t.Fatal(err)
		}
		w.tell, w.looked = func(float64) {}, mostLooked+1
		w.run()
		if w.covered != (sequence != "") || !w.covered && !w.unchecked[0].Aside {
			t.Errorf("%q: covered %v, %+v", sequence, w.covered, w.unchecked)
		}
	}
}

// A chain of very many hinges without a sequence is not followed at all.
func TestManyBodiesWithoutSequence(t *testing.T) {
	const n = 125
	var sections, hinges strings.Builder
	for i := range n {
		fmt.Fprintf(&sections, "  s%d: {stackup: plate, area: {rect: [%d, 0, %d, 10]}}\n", i, 12*i, 12*i+5)
		fmt.Fprintf(&hinges, "  h%d: {line: [[%v, -1], [%v, 11]], angle: %d, radius: 3}\n", i, 12*float64(i)+8.5, 12*float64(i)+8.5, 20-i%2*40)
	}
	src := fmt.Sprintf("outline: [[0, 0], [%d, 0], [%d, 10], [0, 10]]\nstackups: {film: {thickness: 0.2}, plate: {thickness: 1, rigid: true}}\nflex: film\nsections:\n", 12*n+5, 12*n+5) +
		sections.String() + "hinges:\n" + hinges.String()
	if m := sweep(t, src); m.Covered || !m.Stopped || len(m.Steps) > 0 || len(m.Unchecked) != 1 || !m.Unchecked[0].Aside {
		t.Errorf("%+v", m)
	}
}

// What is left for depths shrinks as they are sought, but for no depth below what plain bodies take; the pieces whose depths are
// not the least are named once.
func TestEffortForDepths(t *testing.T) {
	e := &effort{left: restEffort}
	p := &pair{b: &member{name: "enclosure:tray"}}
	if e.most() != restEffort || (*effort)(nil).most() != plenty {
		t.Errorf("%d", e.most())
	}
	e.spend(p, &reading{spent: restEffort - 30_000})
	if e.most() != 30_000 || e.unchecked() != nil {
		t.Errorf("%d, %+v", e.most(), e.unchecked())
	}
	for range 2 {
		e.spend(p, &reading{spent: 30_000, rough: true})
	}
	if u := e.unchecked(); e.most() != leastEffort || len(u) != 1 || len(u[0].On) != 1 || u[0].On[0] != "enclosure:tray" {
		t.Errorf("%d, %+v", e.most(), u)
	}
}

// Within thousands of shells that face the same way nobody knows what is material; to find that out ends.
func TestManyShellsWithinEachOther(t *testing.T) {
	var all solid
	for i := range 3000 {
		r := 10 + float64(i)*0.01
		b := block(-r, -r, -r, r, r, r)
		for _, c := range b.tris {
			from := int32(len(all.points))
			all.tris = append(all.tris, [3]int32{c[0] + from, c[1] + from, c[2] + from})
		}
		all.points = append(all.points, b.points...)
	}
	s := newShape(all.points, all.tris, true)
	in, asked := s.holds(vec{0.1, 0.2, 0.3})
	if in || !s.doubtful(vec{0.1, 0.2, 0.3}) || asked > 2*mostAsked {
		t.Errorf("in %v, doubtful %v after %d triangles", in, s.doubtful(vec{0.1, 0.2, 0.3}), asked)
	}
	if !s.contains(vec{39.985, 0.1, 0.2}) {
		t.Error("not in the outermost shell")
	}
}

// What pairs share about how a body moves is what each would find for itself, whatever was asked before.
func TestPacesAreShared(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 6 {
		p := &programs(t, wander(r))[0]
		w, err := newSweeper(context.Background(), p, wallsOf(p), 0.05)
		if err != nil {
			t.Fatal(err)
		}
		n := w.instantAt(r.IntN(len(p.Steps)), 0.3)
		if n.ready() == nil {
			t.Fatal(n.err)
		}
		for range 200 {
			tr := w.tracks[r.IntN(len(w.tracks))]
			half := float64(r.IntN(3)) / 8
			if k := len(tr.linksA); k > 0 {
				own := n.pacesOf(tr.a, tr.linksA, half)[k-1]
				if got := n.pace(tr.a, tr.linksA, half); got != own || n.speed(tr.a, tr.linksA) != own.speed {
					t.Fatalf("%s by %d links, half %v: %v, want %v", tr.a.name, k, half, got, own)
				}
			}
		}
	}
}
