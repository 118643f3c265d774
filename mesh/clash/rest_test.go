package clash

import (
	"math"
	"math/rand/v2"
	"testing"

	"foldfit/fold/flat"
)

// What columns leave of a shape is at the same distance, and lies in the same bodies, whether it is cut out of all the shape
// or told from it.
func TestRest(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 4))
	counts := map[string]int{}
	for trial := range 300 {
		pins := sheet(8, 9, 9, -1, 2, 0.3).shifted(-4, -4, 0)
		for range trial % 4 {
			pins = pins.with(rod(5, 0.3, 0, -0.5, 0.5).shifted(6*r.Float64()-3, 6*r.Float64()-3, 3+r.Float64()))
		}
		s := []solid{pins, tube(16, 1, 5, -1, 1), rod(24, 3, 0, -4, 4)}[trial%3].moved(tumble(r, 1)).shape()
		var areas []flat.Loop
		for range 1 + trial%3 {
			areas = append(areas, randomArea(r, 3+r.IntN(7), 4*r.Float64()-2, 4*r.Float64()-2, 0.5, 3))
		}
		columns := placed(r, areas)
		a := block(-2, -1, -0.3, 2, 1, 0.3).moved(tumble(r, 6)).shape()
		left, whole := s.rest(columns), s.without(columns)
		got, ok, clear := left.apart(a, math.Inf(1))
		want, found := measure(a, whole, math.Inf(1))
		apart := !found || want.gap > hair
		if deep, ok := left.measure(a, math.Inf(1), plenty); ok != found || ok && !close2(deep.gap, want.gap, 1e-6) {
			t.Errorf("trial %d: measured %v %v, want %v %v", trial, deep.gap, ok, want.gap, found)
		}
		switch {
		case clear != apart && (want.gap < -Touch || apart):
			t.Errorf("trial %d: clear %v, gap %v", trial, clear, want.gap)
		case clear && (ok != found || ok && !close2(got.gap, want.gap, 2*tie)):
			t.Errorf("trial %d: gap %v, want %v", trial, got.gap, want.gap)
		case clear && ok:
			counts["clear"]++
			tr, wholly := s.tri(got.b), newShape([]vec{got.y}, [][3]int32{{0, 0, 0}}, false)
			if !onTriangle(got.y, &tr) {
				t.Errorf("trial %d: the nearest point is not on triangle %d", trial, got.b)
			}
			if n, _ := distance(wholly, whole, math.Inf(1)); n.d > 1e-9 {
				t.Errorf("trial %d: the nearest point was taken out", trial)
			}
		default:
			counts["meet"]++
		}
	}
	if min(counts["clear"], counts["meet"]) < 30 {
		t.Errorf("one-sided: %v", counts)
	}
}

// A piece of a housing that lies in a body is found whether a column cuts it or not.
func TestRestWithinBody(t *testing.T) {
	floor := block(-9, -9, -3, 9, 9, -2)
	body := block(-5, -5, -1, 5, 5, 1).shape()
	lines := linesOf([]flat.Pt{{X: 0, Y: -1}, {X: 2, Y: -1}, {X: 2, Y: 1}, {X: 0, Y: 1}})
	for name, c := range map[string]struct {
		pin  solid
		want bool
	}{
		"beside":     {block(-2, -1, -0.5, -1, 0, 0.5), true},
		"cut":        {block(-1, -0.5, -0.5, 1, 0.5, 0.5), true},
		"in it":      {block(0.5, -0.5, -0.5, 1.5, 0.5, 0.5), false},
		"far from b": {block(7, 7, -0.5, 8, 8, 0.5), false},
	} {
		var col column
		for _, l := range lines {
			col = append(col, &plane{vec{l.n.X, l.n.Y, 0}, l.d})
		}
		r := floor.with(c.pin).shape().rest([]column{col})
		if _, _, clear := r.apart(body, math.Inf(1)); clear == c.want {
			t.Errorf("%s: clear %v", name, clear)
		}
	}
}
