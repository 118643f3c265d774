package proximity

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
)

// all compares all triangles of two placed surfaces with all: the least distance and the pairs within Contact.
func all(a, b soup) (least float64, hits [][2]int32) {
	least = math.Inf(1)
	for i, t := range a.tris {
		p := Triangle{a.points[t[0]], a.points[t[1]], a.points[t[2]]}
		for j, u := range b.tris {
			q := Triangle{b.points[u[0]], b.points[u[1]], b.points[u[2]]}
			d, _, _ := TriangleDistance(&p, &q, math.Inf(1))
			if least = min(least, d); d <= Contact {
				hits = append(hits, [2]int32{int32(i), int32(j)})
			}
		}
	}
	return least, hits
}

// someSurfaces are small surfaces of all kinds.
func someSurfaces(r *rand.Rand) []soup {
	slivers := random(r, 200, 0.05)
	for i := range slivers.points {
		slivers.points[i][i%3] *= 3
	}
	needles := random(r, 200, 1)
	for i := range needles.tris {
		u := &needles.tris[i]
		u[2] = u[i%3] // every third is a whole triangle, the others have no area, half of them but for rounding
		if i%2 == 0 && i%3 < 2 {
			p, q := needles.points[u[0]], needles.points[u[1]]
			u[2] = needles.point(along(p, r.Float64(), sub(q, p)))
		}
	}
	return []soup{
		needles, random(r, 200, 1), random(r, 300, 0.3), slivers, random(r, 3, 2),
		block(vec{-3, -2, -0.4}, vec{3, 2, 0.4}, 4), ball(2, 16), pipe(1.5, 0, 5, -2, 2, 20, 6),
		ball(1, 8).with(block(vec{2, 2, 2}, vec{3, 4, 5}, 1)),
	}
}

func TestAgainstAllPairs(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	surfaces := someSurfaces(r)
	touching := 0
	for n := range 120 {
		a, b := surfaces[n%len(surfaces)], surfaces[r.IntN(len(surfaces))]
		ma, mb := tumble(r, 3), tumble(r, 3)
		want, hits := all(a.moved(ma), b.moved(mb))
		q := NewQuery(a.surface(), b.surface())
		q.Place(ma, mb)
		got, ok := q.Distance(math.Inf(1))
		if !ok || !close2(got.D, want, Tolerance) {
			t.Fatalf("pair %d: %v, comparing all %v", n, got.D, want)
		}
		checkPoints(t, a.moved(ma), b.moved(mb), got)
		if list := q.Contacts(nil); !slices.Equal(list, hits) {
			t.Fatalf("pair %d: %d contacts, comparing all %d", n, len(list), len(hits))
		}
		if q.Touching() != (len(hits) > 0) {
			t.Fatalf("pair %d: touching %v with %d contacts", n, q.Touching(), len(hits))
		}
		checkLimits(t, q, want)
		touching += min(1, len(hits))
	}
	if touching < 20 || touching > 100 {
		t.Errorf("%d of 120 pairs touch: too few of one kind", touching)
	}
}

// Far from the origin, with needles and with all triangles in one point, distances are as exact as elsewhere.
func TestFarAway(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	point := soup{points: []vec{{1, 2, 3}}, tris: make([][3]int32, 300)}
	surfaces := append(someSurfaces(r), point, ball(2, 30))
	away := mgl64.Translate3D(9e4, -1e5, 8e4)
	for n := range 24 {
		a := surfaces[n%len(surfaces)].moved(tumble(r, 3)).moved(away).rounded24()
		b := surfaces[r.IntN(len(surfaces))].moved(tumble(r, 3)).moved(away)
		if n%2 == 0 {
			a, b = b, a
		}
		want, _ := all(a, b)
		got, ok := NewQuery(a.surface(), b.surface()).Distance(math.Inf(1))
		if !ok || !close2(got.D, want, Tolerance) {
			t.Errorf("pair %d: %v, comparing all %v", n, got.D, want)
		}
	}
}

// checkPoints tests that the nearest points lie on the triangles named, as far apart as said.
func checkPoints(t *testing.T, a, b soup, n Nearest) {
	t.Helper()
	if !close2(length(sub(n.X, n.Y)), n.D, 1e-12) {
		t.Fatalf("points %v apart, distance %v", length(sub(n.X, n.Y)), n.D)
	}
	p, q := a.tris[n.A], b.tris[n.B]
	f := Triangle{a.points[p[0]], a.points[p[1]], a.points[p[2]]}
	g := Triangle{b.points[q[0]], b.points[q[1]], b.points[q[2]]}
	d, _, _ := TriangleDistance(&Triangle{n.X, n.X, n.X}, &f, math.Inf(1))
	e, _, _ := TriangleDistance(&Triangle{n.Y, n.Y, n.Y}, &g, math.Inf(1))
	if max(d, e) > 1e-12 {
		t.Fatalf("points %v and %v off their triangles", d, e)
	}
}

// checkLimits tests that a limit just above the distance finds it and one below does not.
func checkLimits(t *testing.T, q *Query, want float64) {
	t.Helper()
	if want < 1e-6 {
		return
	}
	for _, limit := range []float64{want * 0.9, want - 1e-8, want + 1e-8, want * 2} {
		found := limit > want
		if n, ok := q.Distance(limit); ok != found || ok && !close2(n.D, want, Tolerance) {
			t.Fatalf("distance %v: limit %v finds %v, %v", want, limit, n.D, ok)
		}
		if q.Within(limit) != found {
			t.Fatalf("distance %v: within %v is %v", want, limit, !found)
		}
	}
}

// The order of the surfaces does not matter, nor where both stand together.
func TestSymmetry(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	surfaces := someSurfaces(r)
	for n := range 60 {
		a, b := surfaces[n%len(surfaces)].surface(), surfaces[n/len(surfaces)].surface()
		m, common := tumble(r, 5), tumble(r, 50)
		q, back, moved := NewQuery(a, b), NewQuery(b, a), NewQuery(a, b)
		q.Place(m, here)
		back.Place(here, m)
		moved.Place(common.Mul4(m), common)
		d, _ := q.Distance(math.Inf(1))
		e, _ := back.Distance(math.Inf(1))
		f, _ := moved.Distance(math.Inf(1))
		if !close2(d.D, e.D, Tolerance) || !close2(d.D, f.D, Tolerance) {
			t.Fatalf("pair %d: %v, swapped %v, moved together %v", n, d.D, e.D, f.D)
		}
		hits := q.Contacts(nil)
		swapped := back.Contacts(nil)
		for i := range swapped {
			swapped[i][0], swapped[i][1] = swapped[i][1], swapped[i][0]
		}
		slices.SortFunc(swapped, func(x, y [2]int32) int { return slices.Compare(x[:], y[:]) })
		if !slices.Equal(hits, swapped) || !slices.Equal(hits, moved.Contacts(nil)) {
			t.Fatalf("pair %d: contacts depend on the order or the place", n)
		}
	}
}

func TestKnownDistances(t *testing.T) {
	n := 96
	inner := math.Cos(math.Pi / float64(n))
	cases := []struct {
		name string
		a, b soup
		want float64
	}{
		{"plates over each other", block(vec{0, 0, 0}, vec{30, 20, 1}, 9), block(vec{5, 5, 1.05}, vec{40, 40, 2}, 7), 0.05},
		{"plates side by side", block(vec{0, 0, 0}, vec{30, 20, 1}, 9), block(vec{30.3, 0, 0}, vec{40, 20, 1}, 7), 0.3},
		{"corner to corner", block(vec{0, 0, 0}, vec{1, 1, 1}, 3), block(vec{3, 3, 2}, vec{4, 4, 4}, 2), 3},
		{"faces touch", block(vec{0, 0, 0}, vec{1, 1, 1}, 3), block(vec{1, 0, 0}, vec{2, 1, 1}, 4), 0},
		{"inside", block(vec{4, 4, 4}, vec{6, 6, 6}, 5), block(vec{0, 0, 0}, vec{10, 10, 10}, 6), 4},
		{"balls pole to pole", ball(2, 32), ball(3, 24).moved(mgl64.Translate3D(0, 0, 7.5)), 2.5},
		{"cylinder in a bore", pipe(4, 0, 2*math.Pi, -5, 5, n, 10), pipe(5, 0, 2*math.Pi, -9, 9, n, 12).flipped(), inner},
		{"cylinders side by side", pipe(4, 0, 2*math.Pi, -5, 5, n, 10), pipe(5, 0, 2*math.Pi, -9, 9, n, 12).moved(mgl64.Translate3D(10, 0, 0)), 1},
	}
	r := rand.New(rand.NewPCG(9, 10))
	for _, c := range cases {
		for range 3 {
			q := NewQuery(c.a.surface(), c.b.surface())
			n, ok := q.Distance(math.Inf(1))
			m := tumble(r, 20)
			turned := NewQuery(c.a.moved(m).surface(), c.b.moved(m).surface())
			e, _ := turned.Distance(math.Inf(1))
			if !ok || !close2(n.D, c.want, Tolerance) || !close2(e.D, c.want, Tolerance) {
				t.Errorf("%s: %v, turned %v, want %v", c.name, n.D, e.D, c.want)
			}
		}
	}
}

// Chord errors of both surfaces are taken off the lower end of the distance.
func TestLow(t *testing.T) {
	a, b := block(vec{0, 0, 0}, vec{1, 1, 1}, 1), block(vec{1.3, 0, 0}, vec{2, 1, 1}, 1)
	for _, c := range []struct{ a, b, want float64 }{{0, 0, 0.3}, {0.1, 0, 0.2}, {0.1, 0.05, 0.15}, {0.2, 0.2, 0}} {
		n, _ := NewQuery(New(a.points, a.tris, c.a), New(b.points, b.tris, c.b)).Distance(math.Inf(1))
		if !close2(n.Low, c.want, 1e-12) || !close2(n.D, 0.3, 1e-12) {
			t.Errorf("chords %v and %v: %v to %v", c.a, c.b, n.Low, n.D)
		}
	}
}

// The big scenes: known gaps, and the same answers cold and from the last pair.
func TestScenes(t *testing.T) {
	a, b := board5k().surface(), house100k().surface()
	q := NewQuery(a, b)
	known := map[string]float64{"gap_3": 3, "gap_1": 1, "near_0.05": 0.05, "near_0.05_turned": 0.05}
	for _, p := range append(poses[:6:6], sunk...) {
		q.Place(p.m, here)
		q.Forget()
		cold, _ := q.Distance(math.Inf(1))
		q.Place(p.m.Mul4(mgl64.Translate3D(1e-3, 0, 1e-3)), here)
		q.Distance(math.Inf(1))
		q.Place(p.m, here)
		seeded, _ := q.Distance(math.Inf(1))
		if !close2(cold.D, seeded.D, Tolerance) {
			t.Errorf("%s: %v cold, %v from the last pair", p.name, cold.D, seeded.D)
		}
		if want, ok := known[p.name]; ok && !close2(cold.D, want, 1e-6) { // coordinates have 24 bits
			t.Errorf("%s: %v", p.name, cold.D)
		}
		if meets := len(q.Contacts(nil)) > 0; meets != (cold.D == 0) || meets != q.Touching() {
			t.Errorf("%s: distance %v, contacts %v, touching %v", p.name, cold.D, meets, q.Touching())
		}
	}
}

func TestNothingToCompare(t *testing.T) {
	s, none := ball(1, 8).surface(), New(nil, nil, 0)
	bad := New([]vec{{}, {1, 0, 0}}, [][3]int32{{0, 1, 2}, {-1, 0, 1}}, 0)
	for _, pair := range [][2]*Surface{{s, none}, {none, s}, {none, none}, {s, bad}} {
		q := NewQuery(pair[0], pair[1])
		if _, ok := q.Distance(math.Inf(1)); ok || q.Touching() || q.Within(1e9) || len(q.Contacts(nil)) > 0 {
			t.Error("found a distance to nothing")
		}
	}
	q := NewQuery(s, s)
	if _, ok := q.Distance(0); ok || q.Within(-1) || !q.Within(0) {
		t.Error("limits 0 and -1")
	}
}

// Triangles that name no points do not shift the numbers of the others.
func TestNumbers(t *testing.T) {
	a := soup{[]vec{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, [][3]int32{{0, 1, 9}, {0, 1, 2}}}
	n, ok := NewQuery(a.surface(), ball(1, 8).moved(mgl64.Translate3D(0, 0, 3)).surface()).Distance(math.Inf(1))
	if !ok || n.A != 1 || !close2(n.D, 2, 1e-12) {
		t.Errorf("%+v", n)
	}
}

// A query about moving bodies needs no memory after its first placings.
func TestAllocations(t *testing.T) {
	q := NewQuery(board5k().surface(), house100k().surface())
	step := 0.0
	ask := func() {
		step += 1e-4
		q.Place(mgl64.Translate3D(step, 0, -12.9).Mul4(mgl64.HomogRotate3DZ(0.1+step)), here)
		q.Distance(math.Inf(1))
		q.Within(0.05)
		q.Touching()
	}
	for range 30 {
		ask()
	}
	if n := testing.AllocsPerRun(50, ask); n != 0 {
		t.Errorf("%v allocations a query", n)
	}
}

// The answer does not depend on what was asked before, but for ties within Tolerance.
func TestManyPlacings(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	a, b := random(r, 700, 0.5).surface(), ball(3, 40).surface()
	q := NewQuery(a, b)
	for range 200 {
		m := tumble(r, 12)
		q.Place(m, here)
		got, ok := q.Distance(4)
		fresh := NewQuery(a, b)
		fresh.Place(m, here)
		want, found := fresh.Distance(4)
		if ok != found || !close2(got.D, want.D, Tolerance) {
			t.Fatalf("%v %v, a fresh query %v %v", got.D, ok, want.D, found)
		}
	}
}
