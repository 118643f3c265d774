package pattern

import (
	"math"
	"math/rand/v2"
	"testing"

	"foldfit/export/draw"
	"foldfit/fold/flat"
)

// What goes through is as long as the union of what was entered, for stretches of one line and for arcs of one circle.
func TestOnceKeepsTheUnion(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		lines, arcs := newOnce(flat.Box{Max: flat.Pt{X: 50, Y: 50}}), newOnce(flat.Box{Max: flat.Pt{X: 50, Y: 50}})
		var covered [1000]bool
		lineLength, arcLength := 0.0, 0.0
		u := at(0.6, 0.8)
		for range 8 {
			a, b := r.IntN(1000), r.IntN(1000)
			if a == b {
				continue
			}
			for i := min(a, b); i < max(a, b); i++ {
				covered[i] = true
			}
			p, q := float64(a)/1000, float64(b)/1000
			for _, e := range lines.rest(flat.Line(u.Mul(50*p), u.Mul(50*q))) {
				lineLength += e.Len()
			}
			for _, e := range arcs.rest(arc(at(20, 20), 10, 2*math.Pi*p, 2*math.Pi*(q-p))) {
				arcLength += e.Len()
			}
		}
		want := 0.0
		for _, c := range covered {
			if c {
				want++
			}
		}
		if math.Abs(lineLength/50*1000-want) > 0.1 || math.Abs(arcLength/(20*math.Pi)*1000-want) > 0.1 {
			t.Fatalf("the union is %v, lines have %v, arcs %v", want, lineLength/50*1000, arcLength/(20*math.Pi)*1000)
		}
	}
}

// arc returns an arc about c that begins at an angle.
func arc(c flat.Pt, r, from, sweep float64) flat.Edge {
	on := func(a float64) flat.Pt { return c.Add(at(math.Cos(a), math.Sin(a)).Mul(r)) }
	return flat.Edge{P: on(from), Q: on(from + sweep), C: c, R: r, Sweep: sweep}
}

// A border that shares an edge with another loses that edge and keeps the rest in one run; one that shares none stays closed.
func TestOnceKeepsLoopsClosed(t *testing.T) {
	o := newOnce(flat.Box{Max: flat.Pt{X: 50, Y: 50}})
	first := o.loops(rect(0, 0, 10, 10))
	second := o.loops(rect(10, 0, 20, 10), draw.Circle(at(30, 5), 2))
	if len(first) != 1 || !first[0].Closed {
		t.Errorf("the first border: %+v", first)
	}
	if len(second) != 2 && len(second) != 3 || !second[len(second)-1].Closed || second[0].Closed {
		t.Fatalf("the second borders: %+v", second)
	}
	length := 0.0
	for _, r := range second[:len(second)-1] {
		length += flat.Loop(r.Edges).Len()
	}
	if math.Abs(length-30) > 1e-9 {
		t.Errorf("%v mm of the second border are left, want 30", length)
	}
	if again := o.loops(rect(0, 0, 10, 10)); len(again) != 0 {
		t.Errorf("drawn again: %+v", again)
	}
}
