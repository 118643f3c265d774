package clash

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
)

func TestPenetrationKnown(t *testing.T) {
	tray := block(0, 0, 0, 40, 30, 2).with(block(0, 0, 2, 1, 30, 10)) // floor and a wall on it
	hollow := block(0, 0, 0, 40, 30, 20).with(block(1, 1, 1, 39, 29, 19).inward())
	nail := block(-0.5, -0.5, -3, 0.5, 0.5, 7)
	lid := tube(4, 1, 20, 0, 1) // a plate with a hole
	sheet := block(-10, -10, 0, 10, 10, 0.8)
	cases := []struct {
		name  string
		a, b  solid
		depth float64
		dir   vec     // zero: any
		loose float64 // where only a bound is promised
	}{
		{"box into box, face to face", block(0, 0, 0, 2, 2, 2), block(1.7, -5, -5, 9, 5, 5), 0.3, vec{-1, 0, 0}, 0},
		{"box over box edge", block(0, 0, 0, 4, 4, 4), block(3.5, 3.8, -1, 9, 9, 5), 0.2, vec{0, -1, 0}, 0},
		{"plate into the floor", block(5, 5, 1.65, 30, 25, 2.45), tray, 0.35, vec{0, 0, 1}, 0},
		{"plate into the wall", block(0.75, 5, 2, 30, 25, 2.8), tray, 0.25, vec{1, 0, 0}, 0},
		{"plate into floor and wall", block(0.9, 5, 1.7, 30, 25, 2.8), tray, math.Hypot(0.1, 0.3), vec{}, 0},
		{"plate into a corner of three", block(0.9, 0.8, 1.7, 30, 25, 2.8), tray.with(block(0, 0, 2, 40, 1, 10)), math.Sqrt(0.01 + 0.04 + 0.09), vec{}, 0},
		{"corner through a thin wall", block(-2, 5, 4, 30, 25, 5), tray, 3, vec{1, 0, 0}, 0},
		{"cylinder into a plane", rod(48, 3, 0, 0, 10).moved(fold.RigidMotion([3]float64{90, 0, 0}, vec{0, 0, 2.8})), block(-50, -50, -5, 50, 50, 0), 0.2, vec{0, 0, 1}, 0},
		{"cylinder end into a plane", rod(48, 3, 0, -0.12, 10), block(-50, -50, -5, 50, 50, 0), 0.12, vec{0, 0, 1}, 0},
		{"nail through a sheet", nail, sheet, 3 + 0.8, vec{0, 0, 1}, 0},
		{"nail through a hole of its size", nail, tube(4, math.Sqrt2/2, 20, 0, 1).moved(fold.RigidMotion([3]float64{0, 0, 45}, vec{})), 0, vec{}, 0},
		{"peg a little to the side of its hole", nail.moved(mgl64.Translate3D(0.3, 0, 0)), tube(4, 0.65*math.Sqrt2, 20, 0, 1).moved(fold.RigidMotion([3]float64{0, 0, 45}, vec{})), 0.15, vec{-1, 0, 0}, 0},
		{"peg in a plate's hole", rod(16, 0.5, 0, -3, 7), lid, 0, vec{}, 0},
		{"the same box twice", block(0, 0, 0, 3, 4, 5), block(0, 0, 0, 3, 4, 5), 3, vec{}, 0},
		{"flush and overlapping in length", block(0, 0, 0, 10, 4, 1), block(9.4, 0, 0, 20, 4, 1), 0.6, vec{-1, 0, 0}, 0},
		{"ring around a thick post", tube(12, 1, 2, 0, 1), rod(12, 1.5, 0, -2, 5), 3, vec{0, 0, -1}, 0},
		{"loose ring around a post", tube(12, 1, 2, 0, 1), rod(12, 0.9, 0, -2, 5), 0, vec{}, 0},
		{"ring off its post's axis", tube(12, 1, 2, 0, 1).shifted(0.2, 0, 0), rod(12, 0.9, 0, -20, 20), 0.1, vec{-1, 0, 0}, 1e-9},
		{"swallowed", block(10, 10, 17, 11, 11, 18), block(0, 0, 0, 40, 30, 20), 3, vec{0, 0, 1}, 0},
		{"swallowed by a wall", block(10, 10, 0.25, 11, 11, 0.75), hollow, 0.75, vec{}, 0},
		{"in the cavity", block(10, 10, 5, 20, 20, 15), hollow, 0, vec{}, 0},
		{"filling the cavity", block(1, 1, 1, 39, 29, 19), hollow, 0, vec{}, 0},
		{"too long for the cavity", block(5, 5, 0.9, 20, 20, 19.1), hollow, 20 - 0.9, vec{}, 0},
		{"swallows a pin", hollow.with(block(50, 0, 0, 60, 9, 9)), block(52, 3, 2, 53, 4, 3), 3, vec{}, 0},
		{"board in a slot of its size", block(0, 0, 0, 10, 10, 1.6), block(-5, 5, -3, 15, 15, 0).with(block(-5, 5, 1.6, 15, 15, 3)), 0, vec{}, 0},
		{"resting on the floor", block(5, 5, 2, 6, 6, 3), tray, 0, vec{}, 0},
		{"rounding deep", block(5, 5, 2-1e-12, 6, 6, 3), tray, 0, vec{}, 0},
		{"half of Touch deep", block(5, 5, 1.9995, 6, 6, 3), tray, 0.0005, vec{0, 0, 1}, 0},
		{"twice Touch deep", block(5, 5, 1.998, 6, 6, 3), tray, 0.002, vec{0, 0, 1}, 0},
		{"apart", block(5, 5, 2.1, 6, 6, 3), tray, 0, vec{}, 0},
	}
	r := rand.New(rand.NewPCG(1, 2))
	for _, c := range cases {
		for k := range 8 {
			a, b, dir, swapped := c.a, c.b, c.dir, k%2 == 1
			if k > 1 { // anywhere in space
				m := tumble(r, 50)
				a, b, dir = a.moved(m), b.moved(m), fold.Turn(m, dir)
			}
			if swapped {
				a, b, dir = b, a, along(vec{}, -1, dir)
			}
			o, ok := penetration(a.shape(), b.shape(), plenty)
			if ok != (c.depth > 0) || !close2(o.depth, c.depth, max(1e-9, c.loose)) {
				t.Errorf("%s, swapped %v: depth %.12g along %v, want %.12g", c.name, swapped, o.depth, o.dir, c.depth)
				continue
			}
			if dir != (vec{}) && length(sub(o.dir, dir)) > 1e-6 {
				t.Errorf("%s, swapped %v: direction %v, want %v", c.name, swapped, o.dir, dir)
			}
			if ok && !close2(length(sub(o.x, o.y)), o.depth, 1e-9) {
				t.Errorf("%s: points %v %v for depth %v", c.name, o.x, o.y, o.depth)
			}
		}
	}
}

// A sound way out of an overlap: along it by a little more than the depth the bodies are apart, by a little less not.
func checkWayOut(t *testing.T, name string, a, b solid, o overlap) {
	t.Helper()
	const eps = 1e-6
	for _, k := range []float64{-eps, eps} {
		moved := a.moved(shift(along(vec{}, o.depth+k, o.dir))).shape()
		n, _ := distance(moved, b.shape(), math.Inf(1))
		stuck := n.d == 0 || within(moved, vec{}, b.shape()) || within(b.shape(), vec{}, moved)
		if stuck != (k < 0) {
			t.Errorf("%s: depth %v along %v; moved by %+g more: stuck %v, gap %v", name, o.depth, o.dir, k, stuck, n.d)
		}
	}
}

// convexDepth is the least shift that separates two convex bodies: the least, over all faces' normals and all cross products
// of edges, of how far one reaches beyond the other (separating axes). It looks at corners only and knows no triangle pairs.
func convexDepth(a, b solid) float64 {
	best := math.Inf(1)
	try := func(d vec) {
		if length(d) < 1e-6 {
			return
		}
		d = unit(d)
		lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
		for i, s := range []solid{a, b} {
			for _, p := range s.points {
				lo[i], hi[i] = min(lo[i], dot(p, d)), max(hi[i], dot(p, d))
			}
		}
		best = min(best, hi[1]-lo[0], hi[0]-lo[1])
	}
	var edges [2][]vec
	for i, s := range []solid{a, b} {
		for _, t := range s.tris {
			c := tri{s.points[t[0]], s.points[t[1]], s.points[t[2]]}
			try(c.normal())
			edges[i] = append(edges[i], sub(c[1], c[0]), sub(c[2], c[1]), sub(c[0], c[2]))
		}
	}
	for _, u := range edges[0] {
		for _, v := range edges[1] {
			try(cross(u, v))
		}
	}
	return best
}

func TestPenetrationConvexPairs(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	solids := []solid{block(-2, -1.5, -0.5, 2, 1.5, 0.5), rod(3, 2, 10, -1, 1), rod(6, 1.2, 0, -2, 2), block(-1, -1, -1, 1, 1, 1)}
	deep := 0
	for n := range 160 {
		a, b := solids[n%4].moved(tumble(r, 1.2)), solids[n/4%4].moved(tumble(r, 1.2))
		want := convexDepth(a, b)
		o, ok := penetration(a.shape(), b.shape(), plenty)
		if want <= 0.01 {
			if ok && want < 0 {
				t.Errorf("pair %d is %v apart and overlaps by %v", n, -want, o.depth)
			}
			continue
		}
		deep++
		if !ok || !close2(o.depth, want, 1e-9) {
			t.Errorf("pair %d: depth %v, want %v", n, o.depth, want)
			continue
		}
		checkWayOut(t, "convex pair", a, b, o)
		m := &mover{a: a.shape(), b: b.shape(), small: a.shape().shrunk(Touch), reach: Touch, most: plenty}
		m.stuck()
		if o, ok := m.least(m.directions(), math.Inf(1)); !ok || o.depth < want-1e-9 || o.depth > want*1.01 {
			t.Errorf("pair %d, sought as between any bodies: depth %v, want %v", n, o.depth, want)
		}
	}
	if deep < 80 {
		t.Errorf("%d overlapping pairs", deep)
	}
}

// A plate that reaches beyond a rough or bossed floor on all sides, and is shorter of a way to its side than deep, comes out
// as the highest point of the floor says.
func TestPenetrationRoughFloor(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	for trial := range 12 {
		floor := sheet(16, 30, 20, -2, 2, 0.4*r.Float64())
		for range trial % 4 {
			floor = floor.with(rod(12, 0.5+r.Float64(), 0, -1, 0.5+r.Float64()).shifted(5+20*r.Float64(), 5+10*r.Float64(), 0))
		}
		top := math.Inf(-1)
		for _, p := range floor.points {
			top = max(top, p[2])
		}
		want := 0.05 + 0.6*r.Float64()
		m := tumble(r, 9)
		plate := sheet(8, 60, 50, 0, 0.8, 0).shifted(-15, -15, top-want).moved(m)
		o, ok := penetration(plate.shape(), floor.moved(m).shape(), plenty)
		if !ok || !close2(o.depth, want, 1e-9) || length(sub(o.dir, fold.Turn(m, vec{0, 0, 1}))) > 1e-6 {
			t.Errorf("trial %d: depth %v along %v, want %v", trial, o.depth, o.dir, want)
		}
		checkWayOut(t, "rough floor", plate, floor.moved(m), o)
	}
}

// A tilted plate comes out of a floor as deep as its lowest corner lies.
func TestPenetrationTilted(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 18))
	for trial := range 12 {
		plate := sheet(6, 12, 8, -0.4, 0.8, 0).moved(fold.RigidMotion([3]float64{40*r.Float64() - 20, 40*r.Float64() - 20, 90 * r.Float64()}, vec{}))
		low := math.Inf(1)
		for _, p := range plate.points {
			low = min(low, p[2])
		}
		want := 0.02 + 2*r.Float64()
		m := tumble(r, 9)
		a, b := plate.shifted(0, 0, -low-want).moved(m), sheet(10, 80, 60, -5, 5, 0).shifted(-40, -30, 0).moved(m)
		o, ok := penetration(a.shape(), b.shape(), plenty)
		if !ok || !close2(o.depth, want, 1e-9) {
			t.Errorf("trial %d: depth %v along %v, want %v", trial, o.depth, o.dir, want)
		}
		checkWayOut(t, "tilted", a, b, o)
	}
}

// Bodies that are not convex: the way out is sound and no straight way along the axes or at random is shorter.
func TestPenetrationHollowPairs(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	solids := []solid{tube(12, 1, 2, -1, 1), block(-3, -3, -3, 3, 3, 3).with(block(-2, -2, -2, 2, 2, 2).inward()), rod(8, 1, 0, -3, 3)}
	n := 0
	for i := range 60 {
		a, b := solids[i%3].moved(tumble(r, 2)), solids[i/3%3].moved(tumble(r, 2))
		o, ok := penetration(a.shape(), b.shape(), plenty)
		if !ok {
			continue
		}
		n++
		checkWayOut(t, "hollow pair", a, b, o)
		back, ok := penetration(b.shape(), a.shape(), plenty)
		if !ok || back.depth > o.depth*1.001 || o.depth > back.depth*1.001 {
			t.Errorf("pair %d: %v, swapped %v", i, o.depth, back.depth)
		}
		m := &mover{a: a.shape(), b: b.shape(), small: a.shape().shrunk(Touch), reach: Touch, most: plenty}
		for k := range 200 {
			d := unit(vec{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()})
			if k < 6 {
				d = vec{}
				d[k/2] = float64(2*(k%2) - 1)
			}
			w := walk{view: newView(d)}
			if m.advance(&w, o.depth) && w.last.depth < o.depth-1e-9 {
				t.Errorf("pair %d: %v along %v is shorter than %v", i, w.last.depth, d, o.depth)
			}
		}
	}
	if n < 12 {
		t.Errorf("only %d of 24 pairs overlap", n)
	}
}

// An open surface has no inside; what crosses it is still found.
func TestPenetrationOpenSurface(t *testing.T) {
	b := block(0, 0, 0, 10, 10, 10)
	b.tris = b.tris[:10] // the top is missing
	open := newShape(b.points, b.tris, false)
	if o, ok := penetration(block(4, 4, 4, 5, 5, 5).shape(), open, plenty); ok {
		t.Errorf("swallowed by an open surface: %v", o.depth)
	}
	if o, ok := penetration(block(4, 4, -0.2, 5, 5, 5).shape(), open, plenty); !ok || !close2(o.depth, 0.2, 1e-9) {
		t.Errorf("depth %v, want 0.2", o.depth)
	}
}

func TestShrunk(t *testing.T) {
	for name, s := range map[string]solid{"block": block(0, 0, 0, 3, 4, 5), "tube": tube(32, 2, 2.2, 0, 1), "rod": rod(3, 1, 0, 0, 4)} {
		a := s.shape()
		small := a.shrunk(0.01)
		for i := range small.points {
			d := length(sub(small.points[i], a.points[i]))
			if !close2(d, 0.01, 1e-12) || !a.contains(small.points[i]) {
				t.Errorf("%s: point %v moved by %v to %v", name, a.points[i], d, small.points[i])
			}
		}
		if n, _ := distance(small, a, math.Inf(1)); n.d < 0.004 {
			t.Errorf("%s: shrunk to a distance of %v", name, n.d)
		}
	}
}

// When the search becomes too long, the answer is still a way out.
func TestPenetrationGivesUpSoundly(t *testing.T) {
	a, b := tube(12, 1, 2, -1, 1), block(-3, -3, -3, 3, 3, 3)
	for _, spent := range []int{0, plenty / 4, plenty} {
		m := &mover{a: a.shape(), b: b.shape(), small: a.shape().shrunk(Touch), reach: Touch, most: plenty, spent: spent}
		if !m.stuck() {
			t.Fatal("not stuck")
		}
		o, ok := m.least(m.directions(), math.Inf(1))
		if !ok || o.rough != (spent > 0) || !close2(o.depth, 4, 1e-9) || !close2(length(sub(o.x, o.y)), 4, 1e-9) {
			t.Errorf("after %d: %+v, want 4", spent, o)
		}
		checkWayOut(t, "long search", a, b, o)
	}
}
