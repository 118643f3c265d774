package elastica

import (
	"math"
	"testing"
	"time"
)

// FuzzClamps: any four numbers give an error or a strip that joins the clamps, in bounded time.
func FuzzClamps(f *testing.F) {
	for _, s := range []Clamps{
		{0, 1, 180, 2}, {1, 0, 0, 1}, {1, 0, 0, 1.1}, {0, 0, 360, 1}, {0, 0, 180, 1}, {-0.5, 0.1, -700, 1}, {0, 0.999, 180, 1}, {1e-9, 1e-9, 1e-9, 1e-8},
		{0, 1, 90, 1.0000001}, {0.5, 0, 720, 1}, {1e150, 1e150, 30, 1e200}, {5e-324, 0, 5e-324, 1}, {1, 1e-12, 0, 1.0000001}, {0.59, -0.76, 282.9, 1},
	} {
		f.Add(s.X, s.Y, s.Turn, s.Length)
	}
	f.Fuzz(func(t *testing.T, x, y, turn, length float64) {
		c := Clamps{x, y, turn, length}
		start := time.Now()
		s, err := c.Solve()
		if d := time.Since(start); d > 60*time.Second {
			t.Errorf("%+v took %v", c, d)
		}
		if err != nil {
			if err.Error() == "" || s != nil {
				t.Errorf("%+v: %v and %q", c, s, err)
			}
			return
		}
		end := s.At(length)
		near(t, "x", end.X/length, x/length, 1e-9)
		near(t, "y", end.Y/length, y/length, 1e-9)
		near(t, "turn", end.Heading, turn, 1e-9)
		if r, at := s.MinRadius(); !(r > 0) || !(at >= 0 && at <= length) {
			t.Errorf("%+v: radius %g at %g", c, r, at)
		}
		if reach, _ := s.Reach(77); !(math.Abs(reach) <= length*(1+1e-12)) {
			t.Errorf("%+v: reaches %g", c, reach)
		}
	})
}

// FuzzFree: any four numbers give an error or a shape with no more energy than the drawn one.
func FuzzFree(f *testing.F) {
	for _, h := range []Hinge{
		{180, 1.58, 0, 0}, {180, 1, 1, 1}, {-90, 2, 0.3, 4}, {360, 1, 3, 5}, {1e-3, 1, 1, 1}, {359, 1, 18, 20}, {45, 1e-9, 1, 1}, {120, 1e9, 1, 0},
		{200, 1, 1e-12, 0}, {90, 1, 1e6, 1e6}, {5e-324, 1, 1, 1}, {180, 1e-300, 1e-300, 1e-300}, {180, 1e300, 1e300, 1e300},
	} {
		f.Add(h.Angle, h.Radius, h.Near, h.Far)
	}
	f.Fuzz(func(t *testing.T, angle, radius, before, after float64) {
		h := Hinge{angle, radius, before, after}
		s, err := h.Free()
		if err != nil {
			return
		}
		l := s.Clamps.Length
		if drawn := math.Abs(h.turn()) / (2 * radius); !(s.Energy*l <= drawn*l*(1+1e-9)) {
			t.Errorf("%+v: energy %g, drawn %g", h, s.Energy, drawn)
		}
		if !(s.Radius > 0 && s.OfDrawn > 0 && s.Back >= s.Radius && s.Off >= 0 && s.Where >= 0 && s.Where <= l) || math.IsNaN(s.Wider) {
			t.Errorf("%+v: %+v", h, s)
		}
	})
}

// FuzzSymmetric: any three numbers give an error or a finite loop.
func FuzzSymmetric(f *testing.F) {
	for _, s := range [][3]float64{{180, 1, 2}, {0, 0.9, 1}, {360, 0.1, 1}, {360, -0.99, 1}, {90, 1, 1.003}, {1e-300, 0.5, 1}, {359.9999999, 0, 1}, {180, 1e-300, 1e300}} {
		f.Add(s[0], s[1], s[2])
	}
	f.Fuzz(func(t *testing.T, turn, gap, length float64) {
		l, err := Symmetric(turn, gap, length)
		if err != nil {
			return
		}
		r, _ := l.MinRadius()
		if !(r > 0 && r <= length*1e15) && !math.IsInf(r, 1) || !(l.Reach >= 0 && l.Reach <= length/2*(1+1e-9)) || !(l.Width <= length*(1+1e-9)) || math.IsNaN(l.Pull) {
			t.Errorf("turn %g, gap %g, length %g: %+v", turn, gap, length, l)
		}
	})
}
