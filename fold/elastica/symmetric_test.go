package elastica

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mathext"
)

// near fails unless got is want to the given absolute tolerance.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) && got != want {
		t.Errorf("%s: %.12g, want %.12g within %.3g", what, got, want, tol)
	}
}

// rel is near with a relative tolerance.
func rel(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	near(t, what, got, want, tol*math.Abs(want))
}

// TestCantileverTable: tip of a strip under an end load. The figures for loads 1, 2, 5 and 10 are those of Mattiasson, Int. J.
// Numer. Methods Eng. 17 (1981), quoted from memory; the others were computed from the same integrals and by shooting.
func TestCantileverTable(t *testing.T) {
	for _, w := range [][5]float64{
		{0.25, 0.08275, 0.99588, 7.1214, 0.24897},
		{0.5, 0.16214, 0.98408, 14.0107, 0.49204},
		{1, 0.30172, 0.94357, 26.4335, 0.94357},
		{2, 0.49346, 0.83936, 44.7910, 1.67872},
		{3, 0.60325, 0.74558, 56.4946, 2.23674},
		{4, 0.66996, 0.67106, 64.2423, 2.68424},
		{5, 0.71379, 0.61237, 69.6355, 3.06186},
		{7, 0.76737, 0.52707, 76.4876, 3.68951},
		{10, 0.81061, 0.44500, 81.9493, 4.45004},
	} {
		b, err := Cantilever(w[0])
		if err != nil {
			t.Fatal(err)
		}
		near(t, "deflection", b.Deflection, w[1], 0.51e-5)
		near(t, "height left", 1-b.Shortened, w[2], 0.51e-5)
		near(t, "tip", b.Tip, w[3], 0.51e-4)
		near(t, "curvature", b.Curvature, w[4], 0.51e-5)
	}
}

// TestCantileverShooting: the clamp's curvature from the integrals, shot from the clamp, must arrive at the tip unbent.
func TestCantileverShooting(t *testing.T) {
	for _, load := range []float64{0, 1e-6, 0.3, 1, 4, 10, 40} {
		b, err := Cantilever(load)
		if err != nil {
			t.Fatal(err)
		}
		end := shoot(b.Curvature, vec{0, load}, 1, 400)
		near(t, "x", 1-end.X, b.Shortened, 1e-10)
		near(t, "y", end.Y, b.Deflection, 1e-10)
		near(t, "tip", end.Heading, b.Tip, 1e-8)
		near(t, "tip's curvature", end.Curvature, 0, 1e-9)
	}
	if b, _ := Cantilever(1e-4); math.Abs(b.Deflection/1e-4*3-1) > 1e-6 {
		t.Errorf("small loads deflect a third of the load, got %g", b.Deflection/1e-4)
	}
	if b, err := Cantilever(1e4); err != nil || !(b.Deflection > 0.98 && b.Deflection < 1) {
		t.Errorf("load 1e4: %v, %v", b, err)
	}
	for _, bad := range []float64{-1, 1.1e4, math.NaN(), math.Inf(1)} {
		if _, err := Cantilever(bad); err == nil {
			t.Errorf("load %g: no error", bad)
		}
	}
}

// TestTwoPlates: the classic constants of the two-point bend of a fibre (Matthewson, Kurkjian and Gulati, J. Am. Ceram. Soc. 69
// (1986): strain 1.198 d/(D-d), from memory), as Gamma functions and by quadrature.
func TestTwoPlates(t *testing.T) {
	s, err := TwoPlates(1)
	if err != nil {
		t.Fatal(err)
	}
	gamma := math.Sqrt(math.Pi) * math.Gamma(0.75) / math.Gamma(1.25)
	rel(t, "radius", s.MinRadius, 1/gamma, 1e-14)
	rel(t, "radius", s.MinRadius, 0.4173134, 2e-7)
	rel(t, "film strain", 0.5/s.MinRadius, 1.19814, 1e-5)
	rel(t, "arc", s.Arc, 2.188440, 3e-7)
	rel(t, "reach", s.Reach, 0.834627, 7e-7)
	rel(t, "force", s.Force, 2.87108, 2e-6)
	rel(t, "reach", s.Reach, 2*s.MinRadius, 1e-15)
	// sqrt(sin) with its root at the end taken out: t = u^2
	whole := 2 * quad.Fixed(func(u float64) float64 { return math.Sqrt(math.Sin(u*u)) * 2 * u }, 0, math.Sqrt(math.Pi/2), 200, nil, 0)
	rel(t, "quadrature", 1/s.MinRadius, whole, 1e-12)
	rel(t, "elliptic", 1/s.MinRadius, 2*math.Sqrt2*(2*mathext.CompleteE(0.5)-mathext.CompleteK(0.5)), 1e-14)
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := TwoPlates(bad); err == nil {
			t.Errorf("distance %g: no error", bad)
		}
	}
}

// TestTwoPlatesWorked: gap 3.0, flex 0.16 thick: a U drawn as a semicircle of 9.4 thicknesses sits at 7.7 between plates.
func TestTwoPlatesWorked(t *testing.T) {
	const gap, thick = 3.0, 0.16
	s, _ := TwoPlates(gap + thick)
	near(t, "neutral radius", s.MinRadius, 1.3187, 0.5e-4)
	near(t, "inside radius", s.MinRadius-thick/2, 1.2387, 0.5e-4)
	near(t, "ratio", (s.MinRadius-thick/2)/thick, 7.7, 0.05)
	near(t, "drawn ratio", gap/2/thick, 9.4, 0.05)
	near(t, "reach", s.Reach, 2.637, 0.5e-3)
}

// TestClampedUTable: U between level parallel clamps a unit apart; computed by quadrature, by shooting and by a chain of links.
func TestClampedUTable(t *testing.T) {
	for _, w := range []struct{ length, apex, clamp, least, reach, width float64 }{
		{1.20, 1.674752, 0.122040, 0.122040, 0.227501, 1},
		{1.30, 0.866448, 0.192106, 0.192106, 0.314486, 1},
		{1.40, 0.639414, 0.279422, 0.279422, 0.388897, 1},
		{1.50, 0.540139, 0.394168, 0.394168, 0.455751, 1},
		{math.Pi / 2, 0.5, 0.5, 0.5, 0.5, 1},
		{1.70, 0.457104, 0.779107, 0.457104, 0.576168, 1},
		{1.80, 0.438663, 1.130956, 0.438663, 0.632139, 1},
		{2.00, 0.421168, 3.003019, 0.421168, 0.738730, 1},
		{2.18844, 0.417313, math.Inf(-1), 0.417313, 0.834627, 1},
		{2.50, 0.423970, -3.009709, 0.423970, 0.986971, 1.00658},
		{3.00, 0.450316, -1.713604, 0.450316, 1.221674, 1.05039},
		{4.00, 0.524177, -1.403815, 0.524177, 1.673068, 1.19831},
	} {
		l, err := ClampedU(1, w.length)
		if err != nil {
			t.Fatal(err)
		}
		least, atClamp := l.MinRadius()
		near(t, "apex", l.Apex, w.apex, 0.51e-6)
		if !math.IsInf(w.clamp, 0) {
			near(t, "clamp", l.Clamp, w.clamp, 0.51e-6)
		} else if math.Abs(l.Clamp) < 1e5 {
			t.Errorf("clamp of the straight-ended U: %g", l.Clamp)
		}
		near(t, "least", least, w.least, 0.51e-6)
		near(t, "reach", l.Reach, w.reach, 0.51e-6)
		near(t, "width", l.Width, w.width, 0.51e-5)
		if atClamp != (w.length < 1.55) && w.length != math.Pi/2 {
			t.Errorf("length %g: least radius at the clamp: %v", w.length, atClamp)
		}
	}
}

// TestPearLoop: 0.4243 is the constant of Peirce's cloth loop (J. Textile Inst. 21 (1930), from memory).
func TestPearLoop(t *testing.T) {
	l, err := PearLoop(1)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "height", l.Reach, 0.42431, 0.51e-5)
	near(t, "Peirce", l.Reach, 0.4243, 0.5e-4)
	near(t, "width", l.Width, 0.20421, 0.51e-5)
	near(t, "apex", l.Apex, 0.09286, 0.51e-5)
}

// TestArchTable: arches between clamps that face each other, 2E/K - 1 = span/length.
func TestArchTable(t *testing.T) {
	for _, w := range [][3]float64{
		{0.99, 0.06346, 0.79428}, {0.95, 0.14011, 0.35251}, {0.90, 0.19492, 0.24682}, {0.80, 0.26632, 0.17095}, {0.50, 0.37331, 0.10057},
	} {
		l, err := Arch(w[0], 1)
		if err != nil {
			t.Fatal(err)
		}
		r, _ := l.MinRadius()
		near(t, "height", l.Reach, w[1], 0.51e-5)
		near(t, "radius", r, w[2], 0.51e-5)
		// h/L = p/K and R/L = 1/(8 p K) give p and K back
		p := math.Sqrt(l.Reach / (8 * r))
		k, e := mathext.CompleteK(p*p), mathext.CompleteE(p*p)
		near(t, "span", 2*e/k-1, w[0], 1e-12)
	}
	l, _ := Arch(1-1e-8, 1)
	rel(t, "shallow arch", l.Reach, 2/math.Pi*math.Sqrt(1e-8), 1e-7)
}

// TestCornerTable: right-angle clamps, each a unit from the corner.
func TestCornerTable(t *testing.T) {
	for _, w := range [][2]float64{
		{1.5, 0.3843}, {math.Pi / 2, 1}, {1.6, 0.8447}, {1.65, 0.6911}, {1.7, 0.6028}, {1.8, 0.5065}, {2, 0.4272}, {2.5, 0.3842},
	} {
		l, err := Corner(1, w[0])
		if err != nil {
			t.Fatal(err)
		}
		r, _ := l.MinRadius()
		near(t, "radius", r, w[1], 0.51e-4)
		if (l.Clamp < 0) != (w[0] > 1.6625) {
			t.Errorf("length %g: the ends reverse above 1.6625, clamp radius %g", w[0], l.Clamp)
		}
	}
}

// TestSymmetricQuadrature: the gap, the length and the reach by quadrature of 1/k, k^2 = A + B cos psi, with A and B from the
// two radii that the elliptic integrals gave.
func TestSymmetricQuadrature(t *testing.T) {
	for _, turn := range []float64{20, 90, 180, 250, 340} {
		for _, slack := range []float64{0.05, 0.3, 0.6, 0.9} {
			l, err := Symmetric(turn, 1-slack, 1)
			if err != nil {
				t.Fatal(err)
			}
			if l.Clamp < 0 {
				continue // the curvature passes through 0: TestSymmetricShooting
			}
			end := turn / 2 * math.Pi / 180
			b := (1/(l.Apex*l.Apex) - 1/(l.Clamp*l.Clamp)) / (1 - math.Cos(end))
			k := func(psi float64) float64 { return math.Sqrt(1/(l.Clamp*l.Clamp) + b*(math.Cos(psi)-math.Cos(end))) }
			integral := func(f func(float64) float64) float64 {
				sum := 0.0
				for i := range 40 {
					sum += quad.Fixed(func(u float64) float64 { psi := end * u * u; return 2 * end * u * f(psi) / k(psi) },
						float64(i)/40, float64(i+1)/40, 20, nil, 0)
				}
				return sum
			}
			if l.Apex > 20 || l.Clamp > 20 {
				continue // nearly singular
			}
			rel(t, "length", 2*integral(func(float64) float64 { return 1 }), 1, 1e-9)
			near(t, "gap", 2*integral(math.Cos), 1-slack, 1e-9)
			near(t, "reach", integral(math.Sin), l.Reach, 1e-9)
		}
	}
}

// TestSymmetricShooting: shot from one clamp with its curvature and the force, the strip must arrive at the other.
func TestSymmetricShooting(t *testing.T) {
	for turn := 0.0; turn <= 360; turn += 22.5 {
		for _, gap := range []float64{-0.7, -0.3, 0, 0.2, 0.5, 0.8} {
			l, err := Symmetric(turn, gap, 1)
			if err != nil {
				t.Fatal(err)
			}
			sin, cos := math.Sincos(turn / 2 * math.Pi / 180)
			end := shoot(1/l.Clamp, vec{l.Pull * cos, l.Pull * sin}, 1, 600)
			grow := 1e-13 * math.Exp(math.Sqrt(math.Abs(l.Pull))) // what shooting makes of the last digits
			if grow > 1e-5 {
				continue
			}
			grow = max(grow, 1e-11)
			near(t, "x", end.X, gap*cos, grow)
			near(t, "y", end.Y, gap*sin, grow)
			near(t, "turn", end.Heading, turn, 1e4*grow)
		}
	}
}

// TestSymmetricMonotone: more slack lets the loop reach further and never jumps, across the change from bent to reversed ends.
func TestSymmetricMonotone(t *testing.T) {
	for _, turn := range []float64{0, 45, 90, 135, 180} {
		last := Loop{Reach: 0}
		for i := 1; i <= 400; i++ {
			l, err := Symmetric(turn, 1-float64(i)/420+0.002, 1)
			if err != nil {
				if i < 5 {
					continue
				}
				t.Fatal(turn, i, err)
			}
			if i > 20 && (l.Reach < last.Reach && l.Gap > 0.3 || math.Abs(l.Reach-last.Reach) > 0.02) {
				t.Errorf("turn %g, gap %g: reach %g after %g", turn, l.Gap, l.Reach, last.Reach)
			}
			last = l
		}
	}
}

func TestSymmetricScale(t *testing.T) {
	a, _ := Symmetric(130, 0.6, 1)
	b, _ := Symmetric(130, 0.6*1024, 1024)
	if b.Apex != 1024*a.Apex || b.Clamp != 1024*a.Clamp || b.Reach != 1024*a.Reach || b.Pull*1024*1024 != a.Pull {
		t.Errorf("scaled by 1024: %v, %v", a, b)
	}
}

func TestSymmetricErrors(t *testing.T) {
	for _, w := range [][3]float64{
		{-1, 0.5, 1}, {361, 0.5, 1}, {math.NaN(), 0.5, 1}, {180, 1, 1}, {180, 1.5, 1}, {180, -1, 1}, {180, 0.5, 0}, {180, 0.5, -1},
		{180, 0.5, math.Inf(1)}, {180, math.NaN(), 1}, {180, 0.9999, 1}, {360, 0.999, 1}, {360, -0.999, 1}, {0, -0.999, 1}, {180, -0.9999, 1}, {180, 0.5, math.NaN()},
	} {
		if l, err := Symmetric(w[0], w[1], w[2]); err == nil {
			t.Errorf("%v: %v, no error", w, l)
		}
	}
}
