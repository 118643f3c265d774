package elastica

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

func free(t *testing.T, h Hinge) *Free {
	t.Helper()
	f, err := h.Free()
	if err != nil {
		t.Fatalf("%+v: %v", h, err)
	}
	return f
}

// randomHinge returns a bend of up to the given angle, either way, with run-outs of 0 to 12 radii.
func randomHinge(rng *rand.Rand, most float64) Hinge {
	h := Hinge{Angle: most * (2*rng.Float64() - 1), Radius: math.Exp(2*rng.Float64() - 1)}
	h.Near, h.Far = h.Radius*12*math.Pow(rng.Float64(), 3), h.Radius*12*math.Pow(rng.Float64(), 3)
	if rng.IntN(4) == 0 {
		h.Near = 0
	}
	return h
}

// TestFreeU: a U with equal run-outs against the clamped U of the same gap and length.
func TestFreeU(t *testing.T) {
	for _, r := range []float64{0.001, 0.1, 0.3, 0.5, 1, 2, 5, 20} {
		for _, toward := range []float64{1, -1} {
			h := Hinge{Angle: 180 * toward, Radius: 1.5, Near: r, Far: r}
			f := free(t, h)
			l, err := ClampedU(3, 2*r+1.5*math.Pi)
			if err != nil {
				t.Fatal(err)
			}
			want, _ := l.MinRadius()
			rel(t, "radius", f.Radius, want, 1e-9)
			rel(t, "of drawn", f.OfDrawn, want/1.5, 1e-9)
			near(t, "wider", f.Wider, l.Reach-1.5-r, 1e-9)
			rel(t, "clamp", f.Moment[0]*toward, 1/l.Clamp, 1e-8)
			rel(t, "squeeze", f.Force[1]*toward, l.Pull, 1e-8)
			reach, _ := f.Reach(0)
			rel(t, "reach", reach, l.Reach, 1e-9)
			if l.Clamp < 0 {
				rel(t, "back", f.Back, -l.Clamp, 1e-8)
			} else if !math.IsInf(f.Back, 1) {
				t.Errorf("run-outs %g: bends back to %g", r, f.Back)
			}
		}
	}
}

// TestFreeUFigures: any slack costs a U at most 16.5 percent of its radius, at the length at which its ends are straight.
func TestFreeUFigures(t *testing.T) {
	least := math.Inf(1)
	for i := range 60 {
		r := 0.02 * float64(i)
		f := free(t, Hinge{Angle: 180, Radius: 1, Near: r, Far: r})
		least = min(least, f.OfDrawn)
	}
	near(t, "worst", least, 2*0.4173134, 1e-4)
	worst := (2.1884396 - math.Pi/2)
	f := free(t, Hinge{Angle: 180, Radius: 1, Near: worst, Far: worst})
	near(t, "at the straight-ended length", f.OfDrawn, 2*0.4173134, 1e-7)
	near(t, "its wider", f.Wider, 2*0.8346268-1-worst, 1e-6)
}

// TestFreeCorner: right-angle bends with equal run-outs against the symmetric corner; 2 percent of length cost 16 percent of
// radius, 15 percent half of it.
func TestFreeCorner(t *testing.T) {
	for _, r := range []float64{0.05, 0.2, 1, 4} {
		h := Hinge{Angle: 90, Radius: 1, Near: r, Far: r}
		f := free(t, h)
		l, err := Corner(1+r, math.Pi/2+2*r)
		if err != nil {
			t.Fatal(err)
		}
		want, _ := l.MinRadius()
		rel(t, "radius", f.Radius, want, 1e-9)
		near(t, "wider", f.Wider, l.Reach-(1+r)*math.Sqrt2/2+math.Sqrt2-1, 1e-9)
	}
	for _, w := range [][2]float64{{1.02, 0.84}, {1.15, 0.5}} {
		l, _ := Corner(1, math.Pi/2*w[0])
		r, _ := l.MinRadius()
		near(t, "radius", r, w[1], 0.01)
	}
}

// TestFreeDrawn: without run-outs the free shape is the drawn arc.
func TestFreeDrawn(t *testing.T) {
	for _, a := range []float64{0.01, 17, 90, -90, 180, 270, 360} {
		h := Hinge{Angle: a, Radius: 1.58}
		f := free(t, h)
		rel(t, "radius", f.Radius, 1.58, 1e-14)
		rel(t, "of drawn", f.OfDrawn, 1, 1e-14)
		near(t, "wider", f.Wider, 0, 1e-14)
		near(t, "off", f.Off, 0, 1e-14)
		if f.Force != [2]float64{} || !math.IsInf(f.Back, 1) {
			t.Errorf("%g degrees: force %v, bends back to %g", a, f.Force, f.Back)
		}
		for _, p := range f.Points(10) {
			near(t, "heading", p.Heading, a*p.S/f.Clamps.Length, 1e-12)
			rel(t, "curvature", p.Curvature, math.Copysign(1/1.58, a), 1e-14)
		}
	}
}

// TestFreeRandom: no more energy than drawn, the drawn ends, and what the figures say of the points.
func TestFreeRandom(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for range 60 {
		h := randomHinge(rng, 300)
		f := free(t, h)
		l := f.Clamps.Length
		if drawn := math.Abs(h.turn()) / (2 * h.Radius); f.Energy > drawn*(1+1e-12) {
			t.Errorf("%+v: energy %g, drawn %g", h, f.Energy, drawn)
		}
		c := h.Clamps()
		end := f.At(l)
		near(t, "x", end.X, c.X, 1e-11*l)
		near(t, "y", end.Y, c.Y, 1e-11*l)
		near(t, "turn", end.Heading, h.Angle, 1e-10)
		checkShot(t, f.Shape)
		checkLeast(t, f.Shape, rng)
		checkFigures(t, h, f)
	}
}

// checkFigures compares Radius, Back, Wider and Off with many points of the shape.
func checkFigures(t *testing.T, h Hinge, f *Free) {
	t.Helper()
	up := h
	up.Angle = math.Abs(h.Angle)
	sin, cos := math.Sincos(up.turn() / 2)
	side := math.Copysign(1, h.Angle)
	var most, back, reach, off float64
	for _, p := range f.Points(3000) {
		k := p.Curvature * side
		most, back = max(most, math.Abs(k)), max(back, -k)
		reach = max(reach, p.X*sin-p.Y*side*cos)
		off = max(off, up.distance(p.X, p.Y*side))
	}
	l := f.Clamps.Length
	near(t, "radius", 1/f.Radius, most, 2e-5*most)
	near(t, "back", 1/f.Back, back, 2e-5*most)
	near(t, "wider", f.Wider, reach-h.Near*sin-h.Radius*(1-cos), 1e-5*l)
	if f.Off < off || f.Off > off+l/6000 {
		t.Errorf("%+v: off %g, by points %g", h, f.Off, off)
	}
	if f.Off < math.Abs(f.Wider)*(1-1e-9) && f.Wider > 0 {
		t.Errorf("%+v: reaches %g further, but is only %g off", h, f.Wider, f.Off)
	}
	rel(t, "where", math.Abs(f.Curvature(f.Where)), 1/f.Radius, 1e-12)
}

// TestDrawnDistance: the drawn shape's own points are on it, points beside it as far as they were put.
func TestDrawnDistance(t *testing.T) {
	for _, a := range []float64{30, 90, 180, 250} {
		h := Hinge{Angle: a, Radius: 2, Near: 1, Far: 3}
		l := h.Clamps().Length
		for i := range 101 {
			s := l * float64(i) / 100
			b := max(0, min(h.turn(), (s-h.Near)/h.Radius))
			sin, cos := math.Sincos(b)
			over := max(0, s-h.Near-h.Radius*h.turn())
			x, y := min(s, h.Near)+h.Radius*sin+over*cos, h.Radius*(1-cos)+over*sin
			near(t, "on", h.distance(x, y), 0, 1e-14)
			near(t, "outside", h.distance(x+0.3*sin, y-0.3*cos), 0.3, 1e-14)
			near(t, "inside", h.distance(x-0.3*sin, y+0.3*cos), 0.3, 1e-14)
		}
	}
}

// TestFreeTurned: walked from the other end, mirrored and scaled it is the same shape.
func TestFreeTurned(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	for range 20 {
		h := randomHinge(rng, 240)
		f := free(t, h)
		for _, o := range []Hinge{{h.Angle, h.Radius, h.Far, h.Near}, {-h.Angle, h.Radius, h.Near, h.Far}} {
			g := free(t, o)
			rel(t, "radius", g.Radius, f.Radius, 1e-8)
			near(t, "wider", g.Wider, f.Wider, 1e-8*f.Clamps.Length)
			near(t, "off", g.Off, f.Off, 1e-7*f.Clamps.Length)
			near(t, "back", 1/g.Back, 1/f.Back, 1e-8/f.Radius)
		}
		g := free(t, Hinge{h.Angle, 8 * h.Radius, 8 * h.Near, 8 * h.Far})
		if g.Radius != 8*f.Radius || g.Wider != 8*f.Wider || g.Off != 8*f.Off {
			t.Errorf("%+v: eight times larger: %g %g %g, not %g %g %g", h, g.Radius, g.Wider, g.Off, f.Radius, f.Wider, f.Off)
		}
	}
}

// TestFreeContinuous: from no run-outs at all, a little more run-out changes the shape a little; so does a little more angle.
func TestFreeContinuous(t *testing.T) {
	last := 1.0
	for i := range 80 {
		f := free(t, Hinge{Angle: 160, Radius: 1, Near: 0.05 * float64(i), Far: 0.03 * float64(i)})
		if math.Abs(f.OfDrawn-last) > 0.1 {
			t.Errorf("run-out %g: %g of drawn after %g", 0.05*float64(i), f.OfDrawn, last)
		}
		last = f.OfDrawn
	}
	last = 0
	for i := range 60 {
		f := free(t, Hinge{Angle: 3 + 4*float64(i), Radius: 1, Near: 1, Far: 2})
		if i > 0 && math.Abs(1/f.OfDrawn-last) > 0.1 {
			t.Errorf("angle %d: 1/%g of drawn after %g", 3+4*i, 1/f.OfDrawn, last)
		}
		last = 1 / f.OfDrawn
	}
}

// TestFreeShallow: for small angles the whole shape shrinks with the angle.
func TestFreeShallow(t *testing.T) {
	shape := func(a float64) (float64, float64) {
		f := free(t, Hinge{Angle: a, Radius: 1 / a, Near: 0.01, Far: 0.02})
		return f.Radius * a, f.Force[0]
	}
	r, p := shape(0.3)
	for _, a := range []float64{0.1, 0.01, 0.001} {
		ra, pa := shape(a)
		rel(t, "radius", ra, r, 1e-4)
		rel(t, "force", pa, p, 1e-4)
	}
}

func TestHingeErrors(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, w := range []struct {
		h    Hinge
		says string
	}{
		{Hinge{0, 1, 1, 1}, "no bend"}, {Hinge{361, 1, 1, 1}, "no bend"}, {Hinge{90, 0, 1, 1}, "radius must be above 0"},
		{Hinge{90, -1, 1, 1}, "radius must be above 0"}, {Hinge{90, 1, -0.1, 1}, "below 0"}, {Hinge{90, 1, 1, -0.1}, "below 0"},
		{Hinge{nan, 1, 1, 1}, "numbers"}, {Hinge{90, inf, 1, 1}, "numbers"}, {Hinge{90, 1, nan, 1}, "numbers"}, {Hinge{90, 1, 1, inf}, "numbers"},
		{Hinge{360, 1, 1e5, 1e5}, "taut"},
	} {
		if f, err := w.h.Free(); err == nil || !strings.Contains(err.Error(), w.says) {
			t.Errorf("%+v: %v, %v; want an error with %q", w.h, f, err, w.says)
		}
	}
}

// TestFreeIsLeast: the few starts of Free find what the many of Solve find.
func TestFreeIsLeast(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for range 25 {
		h := randomHinge(rng, 300)
		f, s := free(t, h), solve(t, h.Clamps())
		if f.Energy > s.Energy*(1+1e-8) {
			t.Errorf("%+v: energy %.12g, from many starts %.12g", h, f.Energy, s.Energy)
		}
	}
}
