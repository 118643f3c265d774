package flat

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

func pts(xy ...float64) []Vertex {
	var out []Vertex
	for i := 0; i+1 < len(xy); i += 2 {
		out = append(out, Vertex{P: Pt{xy[i], xy[i+1]}})
	}
	return out
}

// arcTo returns an item reached by an arc.
func arcTo(x, y, viaX, viaY float64) Vertex { return Vertex{P: Pt{x, y}, Via: &Pt{viaX, viaY}} }

// corner returns an item with a rounded corner.
func corner(x, y, r float64) Vertex { return Vertex{P: Pt{x, y}, Round: r} }

func mustBuild(t testing.TB, items ...Vertex) Loop {
	t.Helper()
	l, errs := Build(items)
	if errs != nil {
		t.Fatalf("refused: %v", errs)
	}
	for i, e := range l {
		if e.Q != l[(i+1)%len(l)].P {
			t.Errorf("gap at %v", e.Q)
		}
	}
	return l
}

func close(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

func closePt(t testing.TB, what string, got, want Pt, tol float64) {
	t.Helper()
	if !(got.Dist(want) <= tol) {
		t.Errorf("%s = (%.12g, %.12g), want (%.12g, %.12g)", what, got.X, got.Y, want.X, want.Y)
	}
}

func TestBuildRefuses(t *testing.T) {
	v := func(items ...Vertex) []Vertex { return items }
	for _, c := range []struct {
		name   string
		items  []Vertex
		vertex int
		want   []string
	}{
		{"roundings overlap on an edge", v(corner(0, 0, 6), corner(10, 0, 6), corner(10, 30, 0), corner(0, 30, 0)), 1,
			[]string{"overlap by 2.0000", "(0, 0) (radius 6) and (10, 0) (radius 6)", "at most radius 5 and 5"}},
		{"unequal roundings overlap", v(corner(0, 0, 8), corner(10, 0, 4), corner(10, 30, 0), corner(0, 30, 0)), 1,
			[]string{"overlap by 2.0000", "at most radius 6.6666 and 3.3333"}},
		{"rounding too large for an edge", v(corner(0, 0, 11), corner(10, 0, 0), corner(10, 30, 0), corner(0, 30, 0)), 0,
			[]string{"the corner at (0, 0) cannot be rounded with radius 11", "at most 10 fits"}},
		{"rounding too large for an arc", v(corner(0, 0, 0), corner(20, 0, 8), arcTo(0, 0, 10, 10)), 1, []string{"cannot be rounded with radius 8", "at most 5 fits"}},
		{"straight corner", v(corner(0, 0, 0), corner(5, 0, 1), corner(10, 0, 0), corner(10, 10, 0)), 1, []string{"(5, 0) is straight", "third number"}},
		{"tangent continuation", v(corner(0, 0, 0), corner(10, 0, 1), arcTo(10, 10, 15, 5), corner(0, 10, 0)), 1, []string{"(10, 0) is straight"}},
		{"rounding out of sight", v(corner(0, 0, 1e-9), corner(10, 0, 0), corner(10, 10, 0)), 0, []string{"radius 1e-09 leaves nothing"}},
		{"via in line", v(corner(0, 0, 0), corner(10, 0, 0), arcTo(10, 10, 10, 4), corner(0, 10, 0)), 2, []string{"from (10, 0) via (10, 4) to (10, 10) is straight", "plain point"}},
		{"via in line beyond the end", v(corner(0, 0, 0), corner(10, 0, 0), arcTo(10, 10, 10, 14), corner(0, 10, 0)), 2, []string{"is straight"}},
		{"via a hair off the line", v(corner(0, 0, 0), corner(10, 0, 0), arcTo(10, 10, 10+9e-7, 4), corner(0, 10, 0)), 2, []string{"is straight"}},
		{"flat beyond measure", v(corner(0, 0, 0), corner(1000, 0, 0), arcTo(1000, 1000, 1000+2e-6, 500), corner(0, 1000, 0)), 2, []string{"too flat", "6.25e+10"}},
		{"arc beyond all bounds", v(corner(0, 0, 0), corner(10, 0, 0), arcTo(10, 1, 12e4, 0.5), corner(0, 10, 0)), 2, []string{"beyond 100000 mm"}},
		{"arc that runs beyond all bounds", v(corner(0, 0, 0), corner(9e4, 0, 0), arcTo(9e4, 1, 9.9e4, 2e4), corner(0, 10, 0)), 2, []string{"reaches beyond 100000 mm"}},
		{"via at the start", v(corner(0, 0, 0), corner(10, 0, 0), arcTo(10, 10, 10, 0), corner(0, 10, 0)), 2, []string{"via point (10, 0) is one of its ends"}},
		{"via at the end", v(corner(0, 0, 0), corner(10, 0, 0), arcTo(10, 10, 10, 10), corner(0, 10, 0)), 2, []string{"via point (10, 10) is one of its ends"}},
		{"arc ends where it starts", v(corner(0, 0, 0), corner(10, 0, 0), arcTo(10, 0, 15, 5), corner(0, 10, 0)), 2, []string{"ends where it starts, at (10, 0)", "diameter"}},
		{"closing arc straight", v(corner(0, 0, 0), corner(10, 0, 0), corner(0, 10, 0), arcTo(0, 0, 0, 5)), 3, []string{"from (0, 10) via (0, 5) to (0, 0) is straight"}},
		{"closing arc to an arc", v(arcTo(0, 0, 5, 5), corner(10, 0, 0), corner(0, 10, 0), corner(0, 0, 0)), 0, []string{"ends where it starts"}},
		{"only an arc back", v(corner(0, 0, 0), arcTo(0, 0, 5, 5)), 0, []string{"this one has 1", "circle"}},
		{"repeated point", v(pts(0, 0, 10, 0, 10, 5e-7, 10, 10)...), 2, []string{"edge of no length at (10, 0)", "repeated"}},
		{"closing point twice", v(pts(0, 0, 10, 0, 10, 10, 0, 0, 0, 0)...), 0, []string{"no length"}},
		{"two points", v(pts(0, 0, 10, 0)...), 0, []string{"three corners", "has 2"}},
		{"nothing", nil, 0, []string{"has 0"}},
		{"NaN", v(pts(0, 0, 10, math.NaN(), 10, 10)...), 1, []string{"beyond 100000 mm", "units"}},
		{"infinite", v(pts(0, 0, 10, 0, math.Inf(1), 10)...), 2, []string{"beyond 100000 mm"}},
		{"far away", v(pts(0, 0, 10, 0, 10, -100000.001)...), 2, []string{"beyond 100000 mm"}},
		{"NaN via", v(corner(0, 0, 0), arcTo(10, 0, math.NaN(), 1), corner(0, 10, 0)), 1, []string{"beyond"}},
		{"negative radius", v(corner(0, 0, 0), corner(10, 0, -1), corner(0, 10, 0)), 1, []string{"rounding radius"}},
		{"NaN radius", v(corner(0, 0, 0), corner(10, 0, math.NaN()), corner(0, 10, 0)), 1, []string{"rounding radius"}},
		{"crosses itself", v(pts(0, 0, 10, 10, 10, 0, 0, 10)...), 1, []string{"crosses or touches itself at (5, 5)"}},
		{"touches itself at a point", v(pts(0, 0, 10, 0, 10, 10, 5, 0, 0, 10)...), 1, []string{"itself at (5, 0)"}},
		{"touches itself within Snap", v(pts(0, 0, 10, 0, 10, 10, 5, 9e-7, 0, 10)...), 1, []string{"itself at (5, 0)"}},
		{"runs along itself", v(pts(0, 0, 10, 0, 10, 5, 6, 5, 6, 0, 4, 0, 4, 5, 0, 5)...), 1, []string{"itself"}},
		{"spike outward", v(pts(0, 0, 10, 0, 10, 5, 15, 5, 10, 5, 10, 10, 0, 10)...), 2, []string{"itself at"}},
		{"spike along the edge before", v(pts(0, 0, 10, 0, 6, 0, 6, 10)...), 1, []string{"itself at (6, 0)"}},
		{"arc through an edge", v(corner(0, 0, 0), arcTo(10, 0, 5, 4.5), corner(10, 4, 0), corner(0, 4, 0)), 1, []string{"itself"}},
		{"arc touches an edge", v(corner(0, 0, 0), arcTo(10, 0, 5, 5), corner(10, 5, 0), corner(0, 5, 0)), 1, []string{"itself at (5, 5)"}},
		{"point twice", v(pts(0, 0, 5, 5, 10, 0, 10, 10, 5, 5, 0, 10)...), 1, []string{"itself at (5, 5)"}},
	} {
		l, errs := Build(c.items)
		if l != nil || len(errs) == 0 {
			t.Errorf("%s: accepted", c.name)
			continue
		}
		e := errs[0]
		for _, w := range c.want {
			if text := e.What + " | " + e.Hint; !strings.Contains(text, w) {
				t.Errorf("%s: %q lacks %q", c.name, text, w)
			}
		}
		if e.Vertex != c.vertex {
			t.Errorf("%s: blames item %d, want %d", c.name, e.Vertex, c.vertex)
		}
	}
	if _, errs := Build([]Vertex{{P: Pt{1e6, 0}}, {P: Pt{0, 1e6}}, {Round: -1}}); len(errs) != 3 {
		t.Errorf("not all at once: %v", errs)
	}
}

func TestTheLargestRadiusOfAnErrorFits(t *testing.T) {
	// what a hint offers is accepted, and 0.001 more is not
	shapes := []func(r float64) []Vertex{
		func(r float64) []Vertex {
			return []Vertex{corner(0, 0, r), corner(10, 0, r), corner(12, 30, 0), corner(0, 30, 0)}
		},
		func(r float64) []Vertex { return []Vertex{corner(0, 0, 0), corner(20, 0, r), arcTo(0, 0, 10, 10)} },
		func(r float64) []Vertex {
			return []Vertex{corner(0, 0, 0), arcTo(20, 0, 10, -7), {P: Pt{0, 0}, Via: &Pt{10, 9}, Round: r}}
		},
		func(r float64) []Vertex {
			return []Vertex{corner(0, 0, r), corner(7, 1, r), corner(9, 8, r), corner(1, 6, r)}
		},
	}
	for i, shape := range shapes {
		_, errs := Build(shape(100))
		if len(errs) == 0 {
			t.Fatalf("shape %d: radius 100 accepted", i)
		}
		lo, hi := 0.0, 100.0 // the largest radius, by trial
		for range 60 {
			if mid := (lo + hi) / 2; buildable(shape(mid)) {
				lo = mid
			} else {
				hi = mid
			}
		}
		_, errs = Build(shape(lo * 1.05))
		if len(errs) == 0 {
			t.Fatalf("shape %d: %g fits, %g does not, %g does", i, lo, hi, lo*1.05)
		}
		least := math.Inf(1)
		for _, e := range errs {
			least = min(least, lastNumber(t, e.Hint))
		}
		if least > lo || least < lo-0.00011 {
			t.Errorf("shape %d: offered %g, the largest that fits is %.6f: %v", i, least, lo, errs)
		}
	}
}

func buildable(items []Vertex) bool { _, errs := Build(items); return errs == nil }

// lastNumber returns the last number in a text.
func lastNumber(t *testing.T, s string) float64 {
	t.Helper()
	got := math.NaN()
	for _, w := range strings.Fields(s) {
		if v, err := strconv.ParseFloat(w, 64); err == nil {
			got = v
		}
	}
	if math.IsNaN(got) {
		t.Errorf("no number in %q", s)
	}
	return got
}

func TestBuildShapes(t *testing.T) {
	square := mustBuild(t, pts(0, 0, 10, 0, 10, 10, 0, 10)...)
	close(t, "square", square.Area(), 100, 0)
	closing := mustBuild(t, pts(0, 0, 10, 0, 10, 10, 0, 10, 0, 0)...)
	if len(closing) != 4 || closing.Area() != 100 {
		t.Errorf("closing point kept: %v", closing)
	}
	clockwise := mustBuild(t, pts(0, 10, 10, 10, 10, 0, 0, 0)...)
	close(t, "written clockwise", clockwise.Area(), 100, 0)
	for i, e := range clockwise {
		if next := clockwise[(i+1)%4]; e.Q != next.P {
			t.Errorf("gap at %d", i)
		}
	}
	// a closing arc is kept when the point that it leads to is dropped, and so is that point's radius
	half := mustBuild(t, corner(-5, 0, 0), corner(5, 0, 0), arcTo(-5, 0, 0, 5))
	close(t, "half disc", half.Area(), math.Pi*25/2, 1e-12)
	half = mustBuild(t, arcTo(-5, 0, 0, 5), corner(5, 0, 0))
	close(t, "half disc by a first arc", half.Area(), math.Pi*25/2, 1e-12)
	lens := mustBuild(t, arcTo(5, 0, 0, -5), arcTo(-5, 0, 0, 5))
	close(t, "disc of two arcs", lens.Area(), math.Pi*25, 1e-12)
	r := mustBuild(t, corner(0, 0, 0), corner(10, 0, 0), corner(10, 10, 0), corner(0, 10, 0), corner(0, 0, 2))
	close(t, "radius at the closing point", r.Area(), 100-(4-math.Pi), 1e-12)
	// a long arc: 300 degrees; it comes in two edges so that each has a chord to measure by
	s, c := math.Sincos(math.Pi / 6)
	cake := mustBuild(t, corner(0, 0, 0), corner(10*c, 10*s, 0), arcTo(10*c, -10*s, -10, 0))
	close(t, "300 degrees", cake.Area(), math.Pi*100*5/6, 1e-11)
	if len(cake) != 4 || cake[1].Q != cake[2].P || math.Abs(cake[1].Sweep) > 3 {
		t.Errorf("long arc: %v", cake)
	}
	full := mustBuild(t, corner(0, 0, 0), corner(10, 0, 4), corner(10, 8, 4), corner(0, 8, 0)) // roundings that just touch
	close(t, "touching roundings", full.Area(), 80-(4-math.Pi)/2*16, 1e-12)
	if len(full) != 5 {
		t.Errorf("touching roundings: %d edges", len(full))
	}
	for i := range 20 { // turned, where rounding of numbers leaves a rest of the edge between
		m := move{0.1 + 0.3*float64(i), Pt{3, 4}}
		items := []Vertex{corner(0, 0, 0), corner(10, 0, 4), corner(10, 8, 4), corner(0, 8, 0)}
		for k := range items {
			items[k].P = m.pt(items[k].P)
		}
		close(t, "touching roundings, turned", mustBuild(t, items...).Area(), full.Area(), 1e-11)
	}
}

func TestRectAndCircle(t *testing.T) {
	l, errs := Rect(1, 2, 5, 8, 0)
	if errs != nil || l.Area() != 24 || l.Box() != (Box{Pt{1, 2}, Pt{5, 8}}) {
		t.Errorf("rect: %v %v", l, errs)
	}
	l, errs = Rect(1, 2, 5, 8, 2)
	if errs != nil || len(l) != 6 {
		t.Errorf("stadium: %v %v", l, errs)
	}
	close(t, "stadium", l.Area(), 24-(4-math.Pi)*4, 1e-12)
	for _, bad := range [][5]float64{{5, 2, 1, 8, 0}, {1, 8, 5, 8, 0}, {math.NaN(), 2, 5, 8, 0}, {1, 2, 5, 8, 2.1}, {1, 2, 5, 8, -1}, {1, 2, math.Inf(1), 8, 0}} {
		if l, errs := Rect(bad[0], bad[1], bad[2], bad[3], bad[4]); errs == nil || l != nil {
			t.Errorf("rect %v accepted", bad)
		}
	}
	_, errs = Rect(1, 2, 5, 8, 2.5)
	if len(errs) == 0 || !strings.Contains(errs[0].What, "overlap by 1.0000") || !strings.Contains(errs[0].Hint, "at most radius 2 and 2") {
		t.Errorf("rect with corners too large: %v", errs)
	}
	c, errs := Circle(Pt{3, 4}, 5)
	if errs != nil || len(c) != 2 || c[0].P != (Pt{5.5, 4}) || c[0].Q != c[1].P || c[1].Q != c[0].P {
		t.Errorf("circle: %v %v", c, errs)
	}
	close(t, "circle", c.Area(), math.Pi*6.25, 1e-12)
	close(t, "round it", c.Len(), math.Pi*5, 1e-12)
	for _, bad := range [][3]float64{{0, 0, 0}, {0, 0, -1}, {0, 0, 1e-6}, {0, 0, 2e5}, {0, 0, math.NaN()}, {math.NaN(), 0, 1}, {2e5, 0, 1}, {0, 0, math.Inf(1)}} {
		if _, errs := Circle(Pt{bad[0], bad[1]}, bad[2]); errs == nil {
			t.Errorf("circle %v accepted", bad)
		}
	}
}

func TestNumbersInMessages(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{{0, "0"}, {-0.00001, "0"}, {1.5, "1.5"}, {2.00004, "2"}, {-3.14159, "-3.1416"}, {100000, "100000"}, {0.0001, "0.0001"}} {
		if got := Num(c.v); got != c.want {
			t.Errorf("%g prints %s, want %s", c.v, got, c.want)
		}
	}
	if got := (Pt{1.25, -2}).String(); got != "(1.25, -2)" {
		t.Error(got)
	}
}

// TestRoundingsTouch rounds random corners between lines and arcs: the rounding touches both written edges (its centre at
// the right distance from line or circle), goes on without a kink and turns the way of the corner.
func TestRoundingsTouch(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 9))
	kinds := map[[2]bool]int{}
	for range 4000 {
		items, radius := randomCorner(rnd)
		sharp := append([]Vertex(nil), items...)
		sharp[1].Round = 0
		before, errs := Build(sharp)
		after, errs2 := Build(items)
		if errs != nil || errs2 != nil {
			continue
		}
		a, b := edgeTo(t, before, items[1].P), edgeFrom(t, before, items[1].P)
		f, ok := newArc(after, before, radius)
		if !ok {
			t.Fatalf("no arc of radius %g in %v", radius, after)
		}
		kinds[[2]bool{a.IsArc(), b.IsArc()}]++
		for _, e := range []Edge{a, b} {
			want := radius
			if got := math.Abs(e.left(f.C)); math.Abs(got-want) > 1e-9 {
				t.Errorf("centre is %.12f from %+v, want %g", got, e, want)
			}
		}
		if turn := a.Tangent(1).Cross(b.Tangent(0)); (turn > 0) != (f.Sweep > 0) {
			t.Errorf("corner turns %g, rounding %g", turn, f.Sweep)
		}
		for i, e := range after {
			if n := after[(i+1)%len(after)]; e == f || n == f {
				if kink := e.Tangent(1).Sub(n.Tangent(0)).Len(); kink > 1e-7 {
					t.Errorf("kink of %g at %v", kink, e.Q)
				}
			}
		}
		if t.Failed() {
			t.Fatalf("%+v", items)
		}
	}
	for k, n := range kinds {
		if n < 100 {
			t.Errorf("only %d corners of kind %v", n, k)
		}
	}
	if len(kinds) != 4 {
		t.Errorf("kinds: %v", kinds)
	}
}

// randomCorner returns a triangle-like loop whose item 1 is rounded, between edges that may be arcs.
func randomCorner(r *rand.Rand) ([]Vertex, float64) {
	at := func(a float64) Pt { s, c := math.Sincos(a); return Pt{10 * c, 10 * s} }
	a0 := 2 * math.Pi * r.Float64()
	items := []Vertex{{P: at(a0)}, {P: at(a0 + 0.5 + 2*r.Float64())}, {P: at(a0 + 3.2 + 2*r.Float64())}}
	for i := 1; i <= 2; i++ {
		p, q := items[i-1].P, items[i].P
		if r.IntN(2) == 0 {
			via := p.Mid(q).Add(q.Sub(p).Left().Mul(0.6*r.Float64() - 0.3))
			items[i].Via = &via
		}
	}
	radius := 0.05 + 3*r.Float64()
	items[1].Round = radius
	return items, radius
}

func edgeTo(t *testing.T, l Loop, p Pt) Edge {
	for _, e := range l {
		if e.Q == p {
			return e
		}
	}
	t.Fatalf("no edge ends at %v", p)
	return Edge{}
}

func edgeFrom(t *testing.T, l Loop, p Pt) Edge {
	for _, e := range l {
		if e.P == p {
			return e
		}
	}
	t.Fatalf("no edge begins at %v", p)
	return Edge{}
}

// newArc returns the arc of after with that radius about a centre that before does not have.
func newArc(after, before Loop, radius float64) (Edge, bool) {
	for _, e := range after {
		old := false
		for _, o := range before {
			old = old || o.IsArc() && o.C == e.C
		}
		if e.IsArc() && !old && math.Abs(e.R-radius) < 1e-9 {
			return e, true
		}
	}
	return Edge{}, false
}

func TestRoundingNumbers(t *testing.T) {
	// between two lines: trim r tan(turn/2), as any table of tangent arcs has it
	l := mustBuild(t, corner(0, 0, 0), corner(20, 0, 3), corner(20-10*math.Cos(1), 10*math.Sin(1), 0))
	trim := 3 * math.Tan((math.Pi-1)/2)
	arc, _ := newArc(l, nil, 3)
	closePt(t, "leaves the first line", arc.P, Pt{20 - trim, 0}, 1e-12)
	closePt(t, "joins the second", arc.Q, Pt{20 - trim*math.Cos(1), trim * math.Sin(1)}, 1e-12)
	close(t, "turn", arc.Sweep, math.Pi-1, 1e-12)
	// between a line and an arc: worked out by hand and by a prototype in another language
	l = mustBuild(t, corner(0, 0, 0), corner(70, 0, 2), corner(70, 24, 2), arcTo(35, 30, 52, 28), corner(0, 24, 0))
	var f, long Edge
	for _, e := range l {
		if e.IsArc() && e.R > 100 {
			long = e
		}
		if e.IsArc() && e.P.Y > 20 && e.R < 3 {
			f = e
		}
	}
	closePt(t, "touches the line", f.P, Pt{70, 22.4735412791}, 1e-10)
	closePt(t, "touches the arc", f.Q, Pt{68.5191303217, 24.4049924716}, 1e-10)
	closePt(t, "centre of the arc", long.C, Pt{23.0625, -144.71875}, 1e-9)
	close(t, "radius of the arc", long.R, 175.1260846014, 1e-9)
	close(t, "area with cutouts", l.Area()-math.Pi*1.6*1.6-(8-(4-math.Pi)*0.25)-2, 1892.2407165220, 1e-9)
	// between two arcs: two circles of radius 5 about (-3, 0) and (3, 0) meet at (0, 4); a circle of radius 1 inside both
	// has its centre 4 from both centres, at (0, sqrt 7)
	l = mustBuild(t, corner(0, -4, 0), Vertex{P: Pt{0, 4}, Via: &Pt{2, 0}, Round: 1}, arcTo(0, -4, -2, 0))
	for _, e := range l {
		if math.Abs(e.R-1) < 1e-9 {
			closePt(t, "centre between arcs", e.C, Pt{0, math.Sqrt(7)}, 1e-12)
			closePt(t, "touches the right arc", e.P, Pt{-3, 0}.Add(Pt{3, math.Sqrt(7)}.Mul(1.25)), 1e-12)
			f = e
		}
	}
	if f.R > 1.5 {
		t.Error("no rounding between the arcs")
	}
}
