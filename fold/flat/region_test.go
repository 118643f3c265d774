package flat

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// randomEdge returns a line or an arc of up to a full turn less a little, either way round.
func randomEdge(r *rand.Rand) Edge {
	if r.IntN(3) == 0 {
		return Line(randomPt(r, 10), randomPt(r, 10))
	}
	c, rad, a := randomPt(r, 10), 0.1+5*r.Float64(), 2*math.Pi*r.Float64()
	sweep := (0.01 + 6.2*r.Float64()) * float64(1-2*r.IntN(2))
	at := func(a float64) Pt { s, k := math.Sincos(a); return c.Add(Pt{k, s}.Mul(rad)) }
	return Edge{at(a), at(a + sweep), c, rad, sweep}
}

func randomPt(r *rand.Rand, n float64) Pt { return Pt{n * r.Float64(), n * r.Float64()} }

func TestEdges(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 1))
	for range 300 {
		e := randomEdge(r)
		if e.At(0) != e.P || e.At(1) != e.Q {
			t.Errorf("ends: %+v", e)
		}
		closePt(t, "middle", e.Mid(), e.At(0.5), 0)
		length, area, sum := 0.0, 0.0, e.P
		const n = 2000
		for i := 1; i <= n; i++ { // by small steps
			p := e.At(float64(i) / n)
			length, area = length+p.Dist(sum), area+sum.Cross(p)/2
			sum = p
		}
		close(t, "length", e.Len(), length, 1e-4)
		close(t, "moment", e.Moment(), area, 1e-3)
		for _, k := range []float64{0, 0.2, 0.5, 0.9, 1} {
			h := 1e-6
			a, b := max(0, k-h), min(1, k+h)
			closePt(t, "tangent", e.Tangent(k), e.At(b).Sub(e.At(a)).Unit(), 3e-5)
			closePt(t, "run backwards", e.Rev().At(1-k), e.At(k), 1e-12)
			closePt(t, "tangent backwards", e.Rev().Tangent(1-k), e.Tangent(k).Mul(-1), 1e-11)
		}
		if got, want := e.Rev().Moment(), -e.Moment(); math.Abs(got-want) > 1e-12 {
			t.Errorf("moment backwards %g, want %g", got, want)
		}
		if e.IsArc() {
			close(t, "curvature", e.Curvature()*e.R, math.Copysign(1, e.Sweep), 1e-12)
			close(t, "on the circle", e.At(0.3).Dist(e.C), e.R, 1e-12)
		} else if e.Curvature() != 0 {
			t.Error("a line is not curved")
		}
		b, tight := e.Box(), EmptyBox()
		for i := range n + 1 {
			tight = tight.With(e.At(float64(i) / n))
		}
		closePt(t, "box", b.Min, tight.Min, 2e-5)
		closePt(t, "box", b.Max, tight.Max, 2e-5)
		if q := tight.Grow(-1e-12); !(b.Min.X <= q.Min.X && b.Min.Y <= q.Min.Y && b.Max.X >= q.Max.X && b.Max.Y >= q.Max.Y) {
			t.Errorf("box %v leaves out a point of %+v", b, e)
		}
		p := randomPt(r, 12)
		near := math.Inf(1)
		for i := range n + 1 {
			near = min(near, p.Dist(e.At(float64(i)/n)))
		}
		close(t, "distance", Loop{e}.Distance(p), near, 1e-2)
		if got := e.Near(e.At(r.Float64())); !got {
			t.Error("a point of an edge is not near it")
		}
		if e.Near(p) != (Loop{e}.Distance(p) <= Snap) {
			t.Error("near differs from distance")
		}
		if t.Failed() {
			t.Fatalf("%+v", e)
		}
	}
}

func TestParts(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 2))
	for range 2000 {
		e := randomEdge(r)
		if math.Abs(e.Sweep) > 4 {
			continue
		}
		k := r.Float64()
		m := e.At(k)
		a, b := e.Part(0, k, e.P, m), e.Part(k, 1, m, e.Q)
		close(t, "lengths", a.Len()+b.Len(), e.Len(), 1e-9)
		close(t, "moments", a.Moment()+b.Moment(), e.Moment(), 1e-9)
		closePt(t, "parts run along the whole", a.At(0.5), e.At(k/2), 1e-10)
		// snapped ends: the part still goes through them, and stays within a few Snap of the edge
		p, q := e.P.Add(randomPt(r, Snap)), e.Q.Add(randomPt(r, Snap))
		s := e.Part(0, 1, p, q)
		for i := range 11 {
			x := s.At(float64(i) / 10)
			if d := (Loop{e}).Distance(x); d > 4*Snap {
				t.Errorf("bent by %g: %+v", d, e)
			}
			if s.IsArc() {
				close(t, "on the new circle", x.Dist(s.C), s.R, 1e-10)
			}
		}
	}
	tiny := Edge{Pt{2, 0}, Pt{2, 0}.turned(1e-6), Pt{}, 2, 1e-6}
	if got := tiny.Part(0, 1, tiny.P, tiny.Q.Add(Pt{9e-7, 0})); got.IsArc() {
		t.Errorf("a bent arc of 2e-6 mm is a line, not %+v", got)
	}
}

func TestChords(t *testing.T) {
	for _, c := range []struct {
		r, a, chord float64
		want        int
	}{
		{1, 1e-9, 1, 1}, {10, 0.1, 1, 1}, {1, math.Pi / 2, 100, 1}, {1, math.Pi, 100, 2}, {1, 2 * math.Pi, 100, 4},
		{1, math.Pi / 2, 0, 1}, {0, math.Pi, 0.1, 2}, {1, math.Pi, -1, 2}, {1, math.Pi, 1, 2},
		{1, 4 * math.Acos(0.9), 0.1, 2}, // exactly two chords of sagitta 0.1
	} {
		if got := Chords(c.r, c.a, c.chord); got != c.want {
			t.Errorf("Chords(%g, %g, %g) = %d, want %d", c.r, c.a, c.chord, got, c.want)
		}
	}
	r := rand.New(rand.NewPCG(21, 3))
	for range 2000 {
		e := randomEdge(r)
		chord := math.Pow(10, -4*r.Float64())
		ps := append([]Pt{e.P}, e.Points(chord)...)
		if ps[len(ps)-1] != e.Q {
			t.Error("the last point is not Q")
		}
		if !e.IsArc() {
			if len(ps) != 2 {
				t.Error("a line has one chord")
			}
			continue
		}
		worst := 0.0
		for i := 1; i < len(ps); i++ {
			worst = max(worst, e.R-ps[i-1].Mid(ps[i]).Dist(e.C))
		}
		if worst > chord*(1+1e-6) {
			t.Errorf("sagitta %g, asked for %g: %+v", worst, chord, e)
		}
		if n := len(ps) - 1; n > 1 && n > Chords(e.R, math.Abs(e.Sweep), 1e9) { // not finer than needed
			step := math.Abs(e.Sweep) / float64(n-1)
			if sag := e.R * (1 - math.Cos(step/2)); sag < chord*(1-1e-6) {
				t.Errorf("%d chords where %d have a sagitta of %g, allowed %g", n, n-1, sag, chord)
			}
		}
		if n := len(ps) - 1; float64(n) < 2*math.Abs(e.Sweep)/math.Pi-1e-6 {
			t.Errorf("%d chords for %g radians", n, e.Sweep)
		}
	}
}

func TestLoops(t *testing.T) {
	l := mustBuild(t, corner(0, 0, 0), corner(10, 0, 2), arcTo(10, 8, 13, 4), corner(0, 8, 1))
	if l.Rev().Area() != -l.Area() || l.Rev().CCW().Area() != l.Area() || l.CCW().Area() != l.Area() {
		t.Error("turning round changes the area")
	}
	ps := l.Points(1e-4)
	sum := 0.0
	for i, p := range ps {
		sum += p.Cross(ps[(i+1)%len(ps)]) / 2
	}
	if sum >= l.Area()+1e-4*l.Len() || sum < l.Area()-1e-4*l.Len() {
		t.Errorf("area of the points %g, of the loop %g", sum, l.Area())
	}
	r := Region{l, disc(4, 4, 2).Rev()}
	close(t, "area with a hole", r.Area(), l.Area()-math.Pi, 1e-12)
	if r.Box() != l.Box() || len(r.Edges()) != len(l)+2 {
		t.Error("box or edges of a region")
	}
	if (Region{}).Area() != 0 || (Loop{}).Area() != 0 || (Region{}).Contains(Pt{}) || (Region{}).Inside() != (Pt{}) || !math.IsInf((Loop{}).Distance(Pt{}), 1) {
		t.Error("empty regions")
	}
	// far out, rounding of coordinates must not spoil the area
	far := move{0.7, Pt{-71234.5, 68765.4}}.region(r)
	close(t, "area far out", far.Area(), r.Area(), 3e-9)
	flat := mustBuild(t, corner(0, 0, 0), corner(100, 0, 0), arcTo(100, 50, 100.001, 25), corner(0, 50, 0))
	close(t, "area of a nearly straight arc", flat.Area(), 5000+2.0/3*50*0.001, 1e-9)
}

func TestPoints(t *testing.T) {
	p, q := Pt{3, 4}, Pt{-1, 2}
	for what, ok := range map[string]bool{
		"add": p.Add(q) == Pt{2, 6}, "sub": p.Sub(q) == Pt{4, 2}, "mul": p.Mul(2) == Pt{6, 8}, "dot": p.Dot(q) == 5, "cross": p.Cross(q) == 10,
		"len": p.Len() == 5, "dist": p.Dist(Pt{0, 0}) == 5, "unit": p.Unit() == Pt{0.6, 0.8}, "unit of zero": Pt{}.Unit() == Pt{}, "left": p.Left() == Pt{-4, 3}, "mid": p.Mid(q) == Pt{1, 3},
	} {
		if !ok {
			t.Error(what)
		}
	}
	b := EmptyBox().With(p).With(q)
	if b != (Box{Pt{-1, 2}, Pt{3, 4}}) || b.Grow(1) != (Box{Pt{-2, 1}, Pt{4, 5}}) || b.Join(Box{Pt{0, 0}, Pt{1, 1}}) != (Box{Pt{-1, 0}, Pt{3, 4}}) {
		t.Errorf("box %v", b)
	}
	if EmptyBox().Meets(b) || !b.Meets(Box{Pt{3, 4}, Pt{9, 9}}) || b.Meets(Box{Pt{3.1, 0}, Pt{9, 9}}) || b.Meets(Box{Pt{0, 4.1}, Pt{1, 9}}) {
		t.Error("meets")
	}
}

// TestContains compares with a winding number by angles over fine chords.
func TestContains(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 4))
	inside := 0
	for range 1500 {
		reg := sources[r.IntN(len(sources))].make(r)
		if reg == nil {
			continue
		}
		for range 10 {
			p := randomPt(r, 9)
			if r.IntN(3) == 0 { // level with corners, or on chords of arcs
				e := reg[0][r.IntN(len(reg[0]))]
				p = [3]Pt{{p.X, e.P.Y}, {e.P.X, p.Y}, e.P.Mid(e.Q)}[r.IntN(3)]
			}
			if near(reg, p, 1e-3) {
				continue
			}
			turns := 0.0
			for _, l := range reg {
				ps := l.Points(1e-4)
				for i, q := range ps {
					u, v := q.Sub(p), ps[(i+1)%len(ps)].Sub(p)
					turns += math.Atan2(u.Cross(v), u.Dot(v))
				}
			}
			want := turns > math.Pi
			inside += count(want)
			if reg.Contains(p) != want {
				t.Fatalf("%v: %v, by angles %v turns, in\n%s", p, !want, turns/2/math.Pi, dump(reg))
			}
		}
	}
	if inside < 1000 {
		t.Errorf("only %d points inside", inside)
	}
}

func TestStretches(t *testing.T) {
	square := Region{box(0, 0, 10, 10)}
	ring := Region{box(0, 0, 10, 10), disc(5, 5, 4).Rev()}
	step := Region{polygon(0, 0, 20, 0, 20, 5, 40, 5, 40, 15, 0, 15)}
	comb := Region{polygon(0, 0, 9, 0, 9, 5, 8, 3, 7, 5, 6, 3, 5, 5, 4, 5, 4, 3, 0, 3)} // points and a flat top at y 5
	h := 2 / math.Sqrt2
	for _, c := range []struct {
		name  string
		r     Region
		a, u  Pt
		want  []float64
		exact float64
	}{
		{"across", square, Pt{-3, 4}, Pt{1, 0}, []float64{3, 13}, 0},
		{"backwards", square, Pt{-3, 4}, Pt{-1, 0}, []float64{-13, -3}, 0},
		{"beside", square, Pt{-3, 14}, Pt{1, 0}, nil, 0},
		{"along an edge", square, Pt{-3, 10}, Pt{1, 0}, nil, 0},
		{"within Snap of an edge, inside", square, Pt{-3, 10 - 9e-7}, Pt{1, 0}, nil, 0},
		{"within Snap of an edge, outside", square, Pt{-3, 10 + 9e-7}, Pt{1, 0}, nil, 0},
		{"just inside", square, Pt{-3, 10 - 2e-6}, Pt{1, 0}, []float64{3, 13}, 0},
		{"diagonal through corners", square, Pt{0, 0}, Pt{math.Sqrt2 / 2, math.Sqrt2 / 2}, []float64{0, 10 * math.Sqrt2}, 1e-12},
		{"touches a corner", square, Pt{0, 10}, Pt{math.Sqrt2 / 2, math.Sqrt2 / 2}, nil, 0},
		{"through a hole", ring, Pt{0, 5}, Pt{1, 0}, []float64{0, 3, 7, 10}, 1e-12},
		{"touches the hole", ring, Pt{0, 3}, Pt{1, 0}, []float64{0, 5, 5, 10}, 1e-12},
		{"touches the hole within Snap", ring, Pt{0, 3 + 9e-7}, Pt{1, 0}, []float64{0, 5, 5, 10}, 1e-12},
		{"cuts the hole 2e-6 deep", ring, Pt{0, 3 + 2e-6}, Pt{1, 0}, []float64{0, 5 - math.Sqrt(8e-6), 5 + math.Sqrt(8e-6), 10}, 1e-8},
		{"hole, oblique", ring, Pt{5, 5}, Pt{math.Sqrt2 / 2, -math.Sqrt2 / 2}, []float64{-5 * math.Sqrt2, -2, 2, 5 * math.Sqrt2}, 1e-12},
		{"partly along an edge of a step", step, Pt{20, 0}, Pt{0, 1}, []float64{5, 15}, 0},
		{"along a step's top", step, Pt{0, 5}, Pt{1, 0}, []float64{0, 20}, 0},
		{"points and flats of a comb", comb, Pt{0, 5}, Pt{1, 0}, nil, 0},
		{"through the comb's teeth", comb, Pt{0, 4}, Pt{1, 0}, []float64{4, 5.5, 6.5, 7.5, 8.5, 9}, 1e-12},
		{"roots of the comb", comb, Pt{0, 3}, Pt{1, 0}, []float64{4, 6, 6, 8, 8, 9}, 1e-12},
		{"tip narrower than Snap", Region{polygon(4.9, 0, 5.1, 0, 5, 1)}, Pt{0, 1 - 2e-6}, Pt{1, 0}, nil, 0},
		{"touches a disc", Region{disc(0, 0, 4)}, Pt{-h, h}.Add(Pt{-5, -5}), Pt{math.Sqrt2 / 2, math.Sqrt2 / 2}, nil, 0},
	} {
		for _, u := range []float64{1, -1} { // the same line run the other way gives the same stretches
			var got, want []float64
			for _, s := range c.r.Stretches(c.a, c.u.Mul(u)) {
				got = append(got, s[:]...)
			}
			for _, w := range c.want {
				want = append(want, w*u)
			}
			slices.Sort(want)
			if len(got) != len(want) {
				t.Errorf("%s (%g): %v, want %v", c.name, u, got, want)
				continue
			}
			for i := range got {
				if math.Abs(got[i]-want[i]) > c.exact+1e-15 {
					t.Errorf("%s (%g): %v, want %v", c.name, u, got, want)
					break
				}
			}
		}
	}
}

// TestStretchesOfRandomLines draws lines through corners and centres, along edges, and anywhere: stretches alternate with
// gaps as Contains says, and their lengths, summed over parallel lines, make the area.
func TestStretchesOfRandomLines(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 5))
	found := 0
	for range 3000 {
		reg := sources[r.IntN(len(sources)-1)].make(r)
		if reg == nil {
			continue
		}
		es := reg.Edges()
		e, f := es[r.IntN(len(es))], es[r.IntN(len(es))]
		a, b := [3]Pt{e.P, e.C, randomPt(r, 9)}[r.IntN(3)], [3]Pt{f.P, e.Q, randomPt(r, 9)}[r.IntN(3)]
		if a.Dist(b) < 0.1 {
			continue
		}
		u := b.Sub(a).Unit()
		last, centre := -1e9, Pt{5, 5}.Sub(a).Dot(u)
		for _, s := range append(reg.Stretches(a, u), [2]float64{1e9, 1e9}) {
			if s[0] < last || s[1] < s[0] {
				t.Fatalf("out of order: %v", s)
			}
			if p := a.Add(u.Mul((max(last, centre-20) + min(s[0], centre+20)) / 2)); s[0]-last > 1e-3 && !near(reg, p, 1e-5) && reg.Contains(p) {
				t.Fatalf("%v on the line %v along %v is inside but in no stretch of\n%s", p, a, u, dump(reg))
			}
			if p := a.Add(u.Mul((s[0] + s[1]) / 2)); s[0] < 1e8 && !near(reg, p, 1e-5) && !reg.Contains(p) {
				t.Fatalf("the stretch %v on the line %v along %v is outside\n%s", s, a, u, dump(reg))
			}
			last = s[1]
			found++
		}
	}
	if found < 5000 {
		t.Errorf("only %d stretches", found)
	}
	reg := Region{mustBuild(t, corner(0, 0, 0), corner(10, 0, 2), arcTo(10, 8, 13, 4), corner(0, 8, 1)), disc(4, 4, 2).Rev()}
	u := Pt{math.Cos(0.3), math.Sin(0.3)}
	sum, n := 0.0, 20000
	for i := range n {
		off := -20 + 40*(float64(i)+0.5)/float64(n)
		for _, s := range reg.Stretches(u.Left().Mul(off), u) {
			sum += (s[1] - s[0]) * 40 / float64(n)
		}
	}
	close(t, "area by strips", sum, reg.Area(), 1e-4)
}

func TestInside(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 6))
	for range 1000 {
		reg := sources[r.IntN(len(sources))].make(r)
		if reg == nil {
			continue
		}
		p := reg.Inside()
		if near(reg, p, 1e-5) {
			if lo := reg.Area() / lenOf(reg); lo > 1e-3 {
				t.Fatalf("%v lies on the border of\n%s", p, dump(reg))
			}
			continue
		}
		if !reg.Contains(p) {
			t.Fatalf("%v lies outside\n%s", p, dump(reg))
		}
	}
	thin := Region{box(3, 4, 9, 4+5e-7)}
	if p := thin.Inside(); !near(thin, p, 1e-6) {
		t.Errorf("inside of a sliver: %v", p)
	}
}

func TestMeet(t *testing.T) {
	a := box(0, 0, 10, 10)
	for _, c := range []struct {
		name string
		b    Loop
		want bool
		at   Pt
	}{
		{"crossing", box(5, 5, 15, 15), true, Pt{10, 5}},
		{"inside", box(2, 2, 8, 8), false, Pt{}},
		{"around", box(-2, -2, 18, 18), false, Pt{}},
		{"touching edges", box(10, 2, 12, 8), true, Pt{10, 2}},
		{"touching within Snap", box(10+9e-7, 2, 12, 8), true, Pt{10, 2}},
		{"2e-6 apart", box(10+2e-6, 2, 12, 8), false, Pt{}},
		{"corner on corner", box(10, 10, 12, 12), true, Pt{10, 10}},
		{"circle touching inside", disc(8, 5, 4), true, Pt{10, 5}},
		{"circle touching outside within Snap", disc(12+5e-7, 5, 4), true, Pt{10, 5}},
		{"circle beside", disc(12+2e-6, 5, 4), false, Pt{}},
		{"same loop", a, true, Pt{0, 0}},
	} {
		for _, swap := range []bool{false, true} {
			x, y := a, c.b
			if swap {
				x, y = y, x
			}
			p, got := Meet(x, y)
			if got != c.want {
				t.Errorf("%s: %v", c.name, got)
			}
			if got && (Loop(x).Distance(p) > Snap || Loop(y).Distance(p) > Snap) {
				t.Errorf("%s: %v lies on one border only", c.name, p)
			}
		}
	}
	// circles of 5 mm and of 1 km radius meet where the small one's numbers say
	for _, swap := range []bool{false, true} {
		b, rb := Pt{0, -1e6 + 3}, 1e6
		ps, n := circleCircle(Pt{}, 5, b, rb, Snap)
		if swap {
			ps, n = circleCircle(b, rb, Pt{}, 5, Snap)
		}
		for _, p := range ps[:n] { // x2 + y2 = 25 and x2 + (y - b)2 = rb2
			y := 3 - 16/(2*(1e6-3))
			closePt(t, "circles of very different size", Pt{math.Abs(p.X), p.Y}, Pt{math.Sqrt(25 - y*y), y}, 1e-9)
		}
		if n != 2 {
			t.Errorf("%d points", n)
		}
	}
	if p, ok := Meet(a, box(10, 10, 12, 12)); !ok || p.Dist(Pt{10, 10}) > Snap {
		t.Errorf("corner on corner: %v", p)
	}
}

// TestPairs compares the sweep with a comparison of all with all.
func TestPairs(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 7))
	for range 300 {
		var bs []Box
		for range 1 + r.IntN(30) {
			p, w := randomPt(r, 10), randomPt(r, math.Pow(10, 1-3*r.Float64()))
			bs = append(bs, Box{p, p.Add(w)})
		}
		for _, split := range []int{0, len(bs) / 3} {
			want := 0
			for i := range bs {
				for j := range i {
					want += count(bs[i].Meets(bs[j]) && (split == 0 || j < split && split <= i))
				}
			}
			seen := map[[2]int]bool{}
			boxPairs(bs, split, func(i, j int) {
				if seen[[2]int{i, j}] || i >= j || !bs[i].Meets(bs[j]) || split > 0 && (i >= split || j < split) {
					t.Fatalf("pair %d %d", i, j)
				}
				seen[[2]int{i, j}] = true
			})
			if len(seen) != want && !(split == 0 && len(bs)/3 == 0) {
				t.Errorf("%d pairs, want %d", len(seen), want)
			}
		}
	}
}
