package pattern

import (
	"math"
	"math/rand/v2"
	"testing"

	"foldfit/export/draw"
	"foldfit/fold/flat"
)

// regions for hatching, some with corners, edges and arcs exactly on hatch lines.
func regions(t testing.TB) []flat.Region {
	const on = hatchStart * hatchStep
	ring := flat.Region{draw.Circle(at(on, on), 20), draw.Circle(at(on, on), 7.5).Rev()}
	grid := flat.Region{rect(on, on, on+4*hatchStep, on+3*hatchStep)}
	diamond := flat.Region{draw.Polygon(at(10, 0), at(0, 10), at(-10, 0), at(0, -10))}
	board := flat.Region{beacon(t).Outline}
	for _, c := range beacon(t).Cutouts {
		board = append(board, c.Rev())
	}
	return []flat.Region{ring, grid, diamond, board}
}

var directions = []flat.Pt{{X: 1}, {Y: 1}, {X: math.Sqrt2 / 2, Y: math.Sqrt2 / 2}, {X: -math.Sqrt2 / 2, Y: math.Sqrt2 / 2}, {X: 0.6, Y: -0.8}}

// Hatch lines are the board's own stretches on the lattice, found in another way.
func TestHatchAgreesWithStretches(t *testing.T) {
	for i, r := range regions(t) {
		for _, u := range directions {
			got, want := 0.0, 0.0
			for _, s := range hatch(r, u, nil) {
				got += s[0].Dist(s[1])
				off := s[0].Dot(u.Left())/hatchStep - hatchStart
				if math.Abs(off-math.Round(off)) > 1e-9 || !r.Contains(s[0].Add(s[1].Sub(s[0]).Mul(0.37))) && alongEdges(r, u) == 0 {
					t.Errorf("region %d along %v: %v is off the lattice or outside", i, u, s)
				}
			}
			for k := -60; k <= 60; k++ {
				base := u.Left().Mul((float64(k) + hatchStart) * hatchStep)
				for _, s := range r.Stretches(base, u) {
					want += s[1] - s[0]
				}
			}
			// A line along an edge is no stretch, but it may be a hatch line.
			if along := alongEdges(r, u); math.Abs(got-want) > along+1e-6 {
				t.Errorf("region %d along %v: %v of hatch lines, %v of stretches, %v along edges", i, u, got, want, along)
			}
		}
	}
}

// alongEdges returns the length of the edges that run along hatch lines.
func alongEdges(r flat.Region, u flat.Pt) float64 {
	out := 0.0
	for _, e := range r.Edges() {
		a, b := e.P.Dot(u.Left())/hatchStep-hatchStart, e.Q.Dot(u.Left())/hatchStep-hatchStart
		if !e.IsArc() && math.Abs(a-b) < 1e-9 && math.Abs(a-math.Round(a)) < 1e-9 {
			out += e.Len()
		}
	}
	return out
}

// The distance of the lines times their length is the area, and clear boxes take their share out of it.
func TestHatchCoversTheArea(t *testing.T) {
	r := flat.Region{draw.Circle(at(3, 4), 60), draw.Circle(at(10, 0), 15).Rev()}
	clear := []flat.Box{{Min: at(-40, -20), Max: at(-10, 10)}, {Min: at(-20, 0), Max: at(-15, 30)}}
	want := r.Area() - 30*30 - 5*20
	for _, u := range directions {
		got := 0.0
		for _, s := range hatch(r, u, clear) {
			got += s[0].Dist(s[1]) * hatchStep
			for _, b := range clear {
				if (line{s[0], s[1]}).enters(b.Grow(-1e-9)) {
					t.Errorf("%v enters %v", s, b)
				}
			}
		}
		if math.Abs(got-want) > 0.02*want {
			t.Errorf("along %v: hatch stands for %v mm2, want %v", u, got, want)
		}
	}
}

// Arcs cut for hatching stay the same arc.
func TestMonotone(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		a, sweep := rnd.Float64()*7, (rnd.Float64()*2-1)*2*math.Pi
		r, c := 0.1+rnd.Float64()*50, at(rnd.Float64()*9, rnd.Float64()*9)
		point := func(a float64) flat.Pt { return c.Add(at(math.Cos(a), math.Sin(a)).Mul(r)) }
		e := flat.Edge{P: point(a), Q: point(a + sweep), C: c, R: r, Sweep: sweep}
		n := directions[rnd.IntN(len(directions))]
		parts, sum := monotone(e, n), 0.0
		if parts[0].P != e.P || parts[len(parts)-1].Q != e.Q {
			t.Fatal("the ends moved")
		}
		for i, p := range parts {
			sum += p.Sweep
			if i > 0 && parts[i-1].Q != p.P {
				t.Fatal("the parts do not join")
			}
			rising := p.Q.Dot(n) > p.P.Dot(n)
			for k := range 20 {
				v := p.Tangent((float64(k) + 0.5) / 20).Dot(n)
				if v > 1e-6 && !rising || v < -1e-6 && rising {
					t.Fatalf("%+v is not monotone along %v", p, n)
				}
			}
		}
		if math.Abs(sum-sweep) > 1e-9 {
			t.Fatalf("parts turn %v, want %v", sum, sweep)
		}
	}
}
