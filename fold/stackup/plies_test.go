package stackup

import (
	"math"
	"testing"
)

// Four plies of 0.12 with air gaps of 0.05, 180 degrees about an inside radius of 1.5 mm (geometry, computed
// apart); and the step from ply to ply at 90 degrees and without gaps.
func TestBookbinder(t *testing.T) {
	book := SamePlies(4, 0.12, 0.05)
	for i, want := range []float64{4.9009, 5.4350, 5.9690, 6.5031} {
		near(t, "ply", book.Lengths(180, 1.5, 0)[i], want, 0.00005)
		near(t, "ply with legs", book.Lengths(180, 1.5, 20)[i], want+20, 0.00005)
	}
	for _, c := range []struct{ angle, gap, want float64 }{{180, 0.05, 0.53407}, {90, 0.05, 0.26704}, {90, 0, 0.18850}, {180, 0, 0.37699}} {
		p := SamePlies(2, 0.12, c.gap)
		l := p.Lengths(c.angle, 1.5, 0)
		near(t, "step", l[1]-l[0], c.want, 0.000006)
		near(t, "pitch", p.Pitches()[0]*c.angle*math.Pi/180, c.want, 0.000006)
	}
	near(t, "thickness", book.Thickness(), 4*0.12+3*0.05, 1e-15)
	// the published rule of 1.5 ply thicknesses for each next ply is 90 degrees without a gap, 4.5 % short
	near(t, "rule", 1.5/(math.Pi/2), 1-0.045, 0.0005)
}

// Plies are judged each by its own thickness: the innermost of equal ones has the least ratio, a thick outer one may be worse.
func TestRatios(t *testing.T) {
	r := SamePlies(3, 0.1, 0.05).Ratios(1)
	for i, want := range []float64{10, 11.5, 13} {
		near(t, "ratio", r[i], want, 1e-12)
	}
	mixed := Pile{Plies: []Ply{{0.1, 0.05}, {0.3, 0.15}}, Gap: 0.1}
	if r := mixed.Ratios(1); math.Abs(r[0]-10) > 1e-12 || math.Abs(r[1]-4) > 1e-12 {
		t.Errorf("%v", r)
	}
}

// Plies made of laminates: each follows its own neutral surface, and a pile of two is the pile laid out by hand.
func TestPliesOfLaminates(t *testing.T) {
	b, c := stackB(), stackC()
	p := Pile{Plies: []Ply{b.Ply(Top), c.Ply(Bottom)}, Gap: 0.1}
	l := p.Lengths(90, 1, 3)
	near(t, "inner", l[0], math.Pi/2*(1+0.047408)+3, 1e-6)
	near(t, "outer", l[1], math.Pi/2*(1+0.106+0.1+0.017951)+3, 1e-6)
	near(t, "pitch", p.Pitches()[0], 0.106-0.047408+0.1+0.017951, 1e-6)
}

// Two equal plies of 0.12 without a gap, 180 degrees, length 5.28: surplus 0.377, buckle 0.90 mm (worked apart).
func TestEqualPlies(t *testing.T) {
	s := SamePlies(2, 0.12, 0).EqualPlies(180, 1.5, 0)
	near(t, "surplus", s[0].Surplus, 0.377, 0.0005)
	near(t, "height", s[0].Height, 0.90, 0.005)
	if s[1] != (Slack{Small: true}) || !s[0].Small {
		t.Errorf("%+v", s)
	}
	if s := SamePlies(4, 0.12, 0.05).EqualPlies(180, 1.5, 0); s[0].Small || !s[2].Small {
		t.Errorf("%+v", s)
	}
}

// The small-slope height beside the elastica of a strip between level clamps, 2 E(p)/K(p) - 1 = c/L and h/L = p/K(p): too much
// by what the doc comment says. The heights are those worked apart by shooting.
func TestWhereSmallSlopesEnd(t *testing.T) {
	for _, c := range []struct{ gap, height, over float64 }{{0.95, 0.14011, 0.016}, {0.90, 0.19492, 0.033}, {0.80, 0.26632, 0.069}} {
		p := root(0, 1, func(p float64) float64 { k, e := elliptic(p); return c.gap - (2*e/k - 1) })
		k, _ := elliptic(p)
		near(t, "elastica", p/k, c.height, 0.000006)
		small := 2 / math.Pi * math.Sqrt(1-c.gap)
		near(t, "too much", small/(p/k)-1, c.over, 0.0006)
	}
	// the steepest slope of the half-wave pair h (1 - cos(2 pi x/L))/2 is pi h/L: 36 degrees at a surplus of a tenth
	near(t, "slope", math.Pi*2/math.Pi*math.Sqrt(0.1)*180/math.Pi, 36, 0.3)
}

// elliptic returns the complete integrals K and E of modulus p by the arithmetic-geometric mean.
func elliptic(p float64) (k, e float64) {
	a, b, c := 1.0, math.Sqrt(1-p*p), p
	sum, power := 0.0, 0.5
	for range 30 {
		sum += power * c * c
		a, b, c, power = (a+b)/2, math.Sqrt(a*b), (a-b)/2, 2*power
	}
	k = math.Pi / (2 * a)
	return k, k * (1 - sum)
}

// Folded the wrong way the shortest ply lies outside and lacks pitch times angle for each ply of the pile; the longest has as
// much too much. Closed to the radius returned, the shortest just reaches.
func TestWrongWay(t *testing.T) {
	book := SamePlies(4, 0.12, 0.05)
	lacks, radius := book.WrongWay(180, 1.5)
	for i, want := range []float64{3, 1, -1, -3} {
		near(t, "lacks", lacks[i], want*math.Pi*0.17, 1e-12)
	}
	near(t, "radius", radius, 1.5-3*0.17, 1e-12)
	b := Pile{Plies: []Ply{stackB().Ply(Top), stackB().Ply(Top), stackC().Ply(Bottom)}, Gap: 0.05}
	lacks, radius = b.WrongWay(90, 1)
	made := b.Lengths(90, 1, 0)
	over := Pile{Plies: []Ply{stackC().Ply(Top), stackB().Ply(Bottom), stackB().Ply(Bottom)}, Gap: 0.05}
	need, closed := over.Lengths(90, 1, 0), over.Lengths(90, radius, 0)
	short := math.Inf(-1)
	for i := range made {
		near(t, "lacks", lacks[i], need[2-i]-made[i], 1e-12)
		short = max(short, closed[2-i]-made[i])
	}
	near(t, "just reaches", short, 0, 1e-12)
	if _, radius := SamePlies(20, 0.2, 0.1).WrongWay(90, 1); radius >= 0 {
		t.Errorf("a book that cannot be folded the other way is said to close at %v", radius)
	}
}

func TestPliesOfNonsense(t *testing.T) {
	p := SamePlies(2, 0.1, 0)
	for _, bad := range [][3]float64{{-1, 1, 0}, {90, -1, 0}, {90, 1, -1}, {math.NaN(), 1, 0}} {
		if p.Lengths(bad[0], bad[1], bad[2]) != nil || p.EqualPlies(bad[0], bad[1], bad[2]) != nil {
			t.Errorf("%v", bad)
		}
	}
	if l, _ := p.WrongWay(90, math.NaN()); l != nil {
		t.Error(l)
	}
	if l, r := p.WrongWay(0, 1); l[0] != 0 || l[1] != 0 || r != 1 {
		t.Errorf("unbent: %v %v", l, r)
	}
	if (Pile{}).Thickness() != 0 || len((Pile{}).Lengths(90, 1, 0)) != 0 || (Pile{}).Pitches() != nil {
		t.Error("an empty pile")
	}
}
