package flat

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// source makes one random region of a kind.
type source struct {
	name string
	make func(r *rand.Rand) Region
}

func single(l Loop) Region {
	if l == nil {
		return nil
	}
	return Region{l}
}

func gridPt(r *rand.Rand, n int) Pt { return Pt{float64(r.IntN(n)), float64(r.IntN(n))} }

// sources are kinds of regions in a field of about 10 x 10 mm.
var sources = []source{
	{"star", func(r *rand.Rand) Region { return single(star(r, Pt{3 + 4*r.Float64(), 3 + 4*r.Float64()}, 5, false)) }},
	{"star with arcs", func(r *rand.Rand) Region { return single(star(r, Pt{3 + 4*r.Float64(), 3 + 4*r.Float64()}, 5, true)) }},
	{"columns", func(r *rand.Rand) Region { return Region{columns(r, gridPt(r, 4), 2+r.IntN(5), 5)} }},
	{"circle", func(r *rand.Rand) Region { p := gridPt(r, 8); return Region{disc(p.X, p.Y, float64(1+r.IntN(6)))} }},
	{"rounded", func(r *rand.Rand) Region { return Region{tabbed(r, gridPt(r, 6), 5)} }},
	{"diamond", func(r *rand.Rand) Region {
		p, s := gridPt(r, 8), float64(1+r.IntN(3))
		return Region{polygon(p.X+s, p.Y, p.X, p.Y+s, p.X-s, p.Y, p.X, p.Y-s)}
	}},
	{"holed", func(r *rand.Rand) Region { return holed(r, box(0, 0, 8, 8), 4) }},
	{"holed columns", func(r *rand.Rand) Region { return holed(r, columns(r, Pt{0, 0}, 8, 8), 3) }},
	{"sliver", func(r *rand.Rand) Region {
		p, a, w := gridPt(r, 8), 2*math.Pi*r.Float64(), math.Pow(10, -5*r.Float64())
		s, c := math.Sincos(a)
		q := p.Add(Pt{c, s}.Mul(1 + 7*r.Float64()))
		m := p.Mid(q).Add(Pt{-s, c}.Mul(w))
		return Region{polygon(p.X, p.Y, q.X, q.Y, m.X, m.Y)}
	}},
}

// TestOverlayOfRandomRegions pairs every kind of region with every other, straight on the grid and turned and moved far out.
func TestOverlayOfRandomRegions(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	rounds := 60
	if testing.Short() {
		rounds = 10
	}
	pairs := 0
	for _, sa := range sources {
		for _, sb := range sources {
			for i := range rounds {
				a, b := sa.make(r), sb.make(r)
				if a == nil || b == nil {
					continue
				}
				if i%3 == 1 {
					m := move{2 * math.Pi * r.Float64(), Pt{100 * r.Float64(), 0}}
					a, b = m.region(a), m.region(b)
				}
				pairs++
				slack, strict := 1e-10, true
				if sa.name == "sliver" || sb.name == "sliver" { // its two sides may lie within Snap
					slack, strict = 2*Snap*lenOf(a), false
				}
				checkOverlay(t, r, a, b, slack, strict)
				if t.Failed() {
					t.Fatalf("%s and %s, round %d:\n%s\n%s", sa.name, sb.name, i, dump(a), dump(b))
				}
			}
		}
	}
	if pairs < rounds*60 {
		t.Errorf("only %d pairs", pairs)
	}
}

func dump(r Region) string { return fmt.Sprintf("%#v", r) }

// nearPair returns a region, another one or itself, and the latter with its points moved by 1e-9 to 1e-4 mm.
func nearPair(seed uint64) (a, other, b Region, d float64) {
	r := rand.New(rand.NewPCG(3, seed))
	d = math.Pow(10, -9+5*r.Float64())
	a = sources[r.IntN(len(sources))].make(r)
	other = a
	if r.IntN(2) == 0 {
		other = sources[r.IntN(len(sources))].make(r)
	}
	for i, l := range other {
		s := shaken(r, l, d)
		if s == nil || len(b) > 0 && touches(b, s) {
			return nil, nil, nil, 0
		}
		if i > 0 {
			s = s.Rev()
		}
		b = append(b, s)
	}
	if r.IntN(2) == 0 {
		m := move{2 * math.Pi * r.Float64(), Pt{5e4 * r.Float64(), 3e4 * r.Float64()}}
		a, other, b = m.region(a), m.region(other), m.region(b)
	}
	return a, other, b, d
}

func touches(r Region, l Loop) bool {
	for _, o := range r {
		if _, ok := Meet(o, l); ok {
			return true
		}
	}
	return false
}

// TestOverlayOfNearlyCoincidentRegions: areas add up to within 2 Snap along the border, and what two regions have in common
// changes by no more than the strip in which points were moved. First those that earlier versions got wrong.
func TestOverlayOfNearlyCoincidentRegions(t *testing.T) {
	rounds := 1500
	if testing.Short() {
		rounds = 200
	}
	pairs, coarse := 0, 0
	for _, seed := range append([]uint64{139374, 25018}, upTo(rounds)...) {
		a, other, b, d := nearPair(seed)
		if a == nil || b == nil {
			continue
		}
		pairs++
		coarse += count(planarOf(a, b).contradicts)
		border := lenOf(a) + lenOf(b)
		both, _ := checkOverlay(t, rand.New(rand.NewPCG(4, seed)), a, b, 2*Snap*border, false)
		if got, want := areaOf(both), areaOf(Intersect(a, other)); math.Abs(got-want) > (2*Snap+2*d)*border {
			t.Errorf("common %.9f, before the points were moved %.9f", got, want)
		}
		if got, want := areaOf(Intersect(b, a)), areaOf(both); math.Abs(got-want) > 2*Snap*border {
			t.Errorf("common %.12f, asked the other way round %.12f", want, got)
		}
		if t.Failed() {
			t.Fatalf("seed %d, moved by %g:\n%s\n%s", seed, d, dump(a), dump(b))
		}
	}
	if pairs < rounds/2 || coarse != 1 {
		t.Errorf("%d pairs, %d with a coarser tolerance", pairs, coarse)
	}
}

// upTo returns the numbers below n.
func upTo(n int) []uint64 {
	out := make([]uint64, n)
	for i := range out {
		out[i] = uint64(i)
	}
	return out
}

// TestThinAreasBetweenRegions: what is deeper than Snap is an area, what is not is none; ring and crescent keep their holes.
func TestThinAreasBetweenRegions(t *testing.T) {
	plate := Region{box(0, 0, 10, 10)}
	for _, d := range []float64{-3e-6, -1.5e-6, -9e-7, -1e-9, 1e-9, 9e-7, 1.5e-6, 3e-6} {
		over := Region{box(0, 0, 10, 10+d)}
		want := 0
		if d > Snap {
			want = 1
		}
		if got := Subtract(over, plate); len(got) != want || want == 1 && math.Abs(areaOf(got)-10*d) > 1e-9 {
			t.Errorf("%g deep: %d pieces, %g mm2", d, len(got), areaOf(got))
		}
		beside := Region{box(0, 10-d, 10, 20)}
		if got := Intersect(plate, beside); len(got) != want {
			t.Errorf("overlap %g deep: %d pieces", d, len(got))
		}
		if got := areaOf(Intersect(plate, over)); math.Abs(got-100-10*min(d, 0)) > 10*Snap {
			t.Errorf("common with a plate %g higher: %.9f", d, got)
		}
	}
	bulge := Region{mustBuild(t, corner(0, 0, 0), arcTo(4, 0, 2, -3e-6), corner(4, 4, 0), corner(0, 4, 0))}
	if got := Subtract(bulge, Region{box(0, 0, 4, 4)}); len(got) != 1 || math.Abs(areaOf(got)-8e-6) > 1e-10 {
		t.Errorf("bulge of 3e-6: %d pieces, %g mm2", len(got), areaOf(got))
	}
	for _, shift := range []float64{0, 3e-7, 8e-7, 2e-6} {
		for _, grow := range []float64{-2e-6, -8e-7, 0, 5e-7, 1e-6, 1.6e-6, 2.1e-6, 5e-6} {
			for _, turn := range []float64{0, 0.3, 1.7} {
				m := move{turn, Pt{3, 4}}
				a := m.region(append(plate[:1:1], disc(5, 5, 1).Rev()))
				b := m.region(append(plate[:1:1], disc(5+shift, 5, 1+grow).Rev()))
				bound := 2 * Snap * math.Pi
				both, only := Intersect(a, b), Subtract(a, b)
				if got := areaOf(both) + areaOf(only); math.Abs(got-a.Area()) > bound {
					t.Errorf("hole moved by %g, grown by %g: %.9f of %.9f", shift, grow, got, a.Area())
				}
				if got := areaOf(only); got > (shift+max(grow, 0))*math.Pi+bound {
					t.Errorf("hole moved by %g, grown by %g: %.9f outside", shift, grow, got)
				}
				checkPieces(t, "holes", append(both, only...), false)
			}
		}
	}
}
