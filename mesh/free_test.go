package mesh

import (
	"fmt"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/bending"
	"foldfit/fold/elastica"
	"foldfit/fold/flat"
)

// freeSpan is a strip 6 wide: two rigid plates 20 long with a bend between them that has straight run-outs.
type freeSpan struct {
	angle, radius, near, far float64
	faces                    [2]float64
	mirrored, reversed       bool
	cutouts                  []flat.Loop
}

// u is a bend of 180 degrees between level clamps whose flex is so many times as long as its neutral surfaces are apart.
func u(ratio, radius float64) freeSpan {
	slack := (ratio - math.Pi/2) * (radius + 0.1)
	return freeSpan{angle: 180, radius: radius, near: slack, far: slack, faces: [2]float64{-0.1, 0.1}}
}

// tree returns the divided board; its base is the plate that begins at the origin. On its neutral surface the near clamp is at
// (20, y, 0), mirrored at (-20, y, 0).
func (s freeSpan) tree(t testing.TB) *fold.Tree {
	t.Helper()
	inner := s.faces[1]
	if s.angle < 0 {
		inner = -s.faces[0]
	}
	w := (s.radius + inner) * math.Abs(s.angle) * math.Pi / 180
	line, end := 20+s.near+w/2, 20+s.near+w+s.far
	sign := 1.0
	if s.mirrored {
		sign = -1
	}
	x := func(a, b float64) flat.Loop { return rect(min(sign*a, sign*b), 0, max(sign*a, sign*b), 6) }
	h := hinge("n", sign*line, -1, sign*line, 7, s.angle, s.radius)
	if s.reversed {
		h.Line[0], h.Line[1] = h.Line[1], h.Line[0]
	}
	var outline []flat.Vertex
	for _, e := range x(0, end+20) {
		outline = append(outline, flat.Vertex{P: e.P})
	}
	return spec{outline: outline, cutouts: s.cutouts, flex: s.faces, hinges: []fold.Hinge{h}, base: &flat.Pt{X: sign, Y: 1},
		sections: map[string]flat.Loop{"main": x(0, 20), "wing": x(end, end+20)}}.divide(t)
}

// relaxed returns the board in its free shape at a fraction of its angle.
func relaxed(t testing.TB, tree *fold.Tree, fraction float64) *fold.Folded {
	t.Helper()
	f, err := tree.Place(tree.Partial(fraction))
	if err != nil {
		t.Fatal(err)
	}
	free, kept := bending.Relax(f, func(int) bool { return true })
	if len(kept) > 0 {
		t.Fatalf("not free at a fraction of %g: %+v", fraction, kept)
	}
	return free
}

func skinFree(t testing.TB, tree *fold.Tree, fraction, chord float64) *Assembly {
	t.Helper()
	a, err := Skin(relaxed(t, tree, fraction), chord)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// spans are free bends of many kinds.
func spans() map[string]freeSpan {
	even, odd := [2]float64{-0.1, 0.1}, [2]float64{-0.08, 0.12}
	return map[string]freeSpan{
		"right angle":       {90, 1.5, 2, 3, even, false, false, nil},
		"uneven flex":       {90, 1.5, 2, 3, odd, false, false, nil},
		"to the bottom":     {-135, 2, 1, 2, odd, false, false, nil},
		"mirrored":          {-135, 2, 1, 2, odd, true, false, nil},
		"reversed line":     {120, 2, 1, 2, odd, false, true, nil},
		"U":                 u(2, 1.5),
		"U that bulges":     u(3, 1.5),
		"beyond a half":     {250, 3, 2, 2, even, false, false, nil},
		"one run-out":       {60, 2, 0, 4, even, false, false, nil},
		"nothing but drawn": {100, 2, 0, 0, even, false, false, nil},
		"with a hole":       {90, 1.5, 3, 3, odd, false, false, []flat.Loop{disc(22, 1.5, 1.6)}},
		"small angle":       {1e-3, 2000, 1, 2, even, false, false, nil},
	}
}

// Bodies are closed, have the volume that Pappus gives them, and share the board's area; the ends stand on the rigid flats.
func TestFreeBodies(t *testing.T) {
	for name, s := range spans() {
		tree := s.tree(t)
		a := skinFree(t, tree, 1, 0.002)
		area, board := 0.0, 0.0
		for i := range a.Bodies {
			b, tb := &a.Bodies[i], &a.Folded.Tree.Bodies[i]
			if err := b.Check(); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			area += tb.Area
			near(t, name+": volume of "+b.Name, b.Volume(), tb.Volume, 0.003*tb.Area)
			if b.Chord > 0.002*(1+1e-9) {
				t.Errorf("%s: %s states a chord error of %g", name, b.Name, b.Chord)
			}
		}
		for i := range tree.Bodies {
			board += tree.Bodies[i].Area
		}
		near(t, name+": area", area, board, 1e-9*board)
		if n := len(a.Bodies); n != 3 {
			t.Errorf("%s: %d bodies, want two plates and all of the flex as the bend", name, n)
		}
		checkClamps(t, name, a)
	}
}

// checkClamps demands that the flex meets its flats at the clamps, in place and in direction.
func checkClamps(t *testing.T, name string, a *Assembly) {
	t.Helper()
	f, b := a.Folded, a.body(t, "bend:n")
	bend := &f.Tree.Bends[0]
	from, to := f.Span(0)
	near(t, name+": first station", b.Stations[0], from, 1e-12)
	near(t, name+": last station", b.Stations[len(b.Stations)-1], to, 1e-12)
	for _, end := range []struct {
		s    float64
		flat int
	}{{from, bend.Near[0]}, {to, bend.Far[0]}} {
		inside := end.s + math.Copysign(1e-11, (from+to)/2-end.s)
		for _, p := range []mgl64.Vec3{{0, 1, 0.3}, {0, 5, -0.2}} {
			q := bend.Origin.Add(bend.Dir.Mul(end.s))
			want := fold.Apply(f.BoardFromFlat(end.flat), mgl64.Vec3{q.X, p[1], p[2]})
			for _, s := range []float64{end.s, inside} {
				at := bend.Origin.Add(bend.Dir.Mul(s))
				near(t, name+": place at a clamp", f.BendPoint(0, flat.Pt{X: at.X, Y: p[1]}, p[2]).Sub(want).Len(), 0, 1e-9)
				up := fold.Turn(f.BoardFromStation(0, s), mgl64.Vec3{0, 0, 1}).Sub(fold.Turn(f.BoardFromFlat(end.flat), mgl64.Vec3{0, 0, 1}))
				near(t, name+": normal at a clamp", up.Len(), 0, 1e-9)
			}
		}
	}
}

// Every line of material across the bend keeps its length on the neutral surface; h over it the length changes by h times the
// turn.
func TestFreeArcLength(t *testing.T) {
	for name, s := range spans() {
		f := relaxed(t, s.tree(t), 1)
		bend := &f.Tree.Bends[0]
		from, to := f.Span(0)
		const n = 4000
		for _, h := range []float64{0, 0.1, -0.07} {
			sum := 0.0
			at := func(i int) mgl64.Vec3 {
				p := bend.Origin.Add(bend.Dir.Mul(from + (to-from)*float64(i)/n))
				return f.BendPoint(0, flat.Pt{X: p.X, Y: 2}, bend.Height+h)
			}
			for i := range n {
				sum += at(i + 1).Sub(at(i)).Len()
			}
			near(t, fmt.Sprintf("%s: length at %g", name, h), sum, to-from-h*s.angle*math.Pi/180, 2e-5)
		}
	}
}

// The reach of a U between level clamps over the distance of its neutral surfaces: TRADE 12.2 and 12.3, computed there by
// elliptic integrals and by shooting.
func TestFreeUReaches(t *testing.T) {
	for ratio, want := range map[float64]float64{1.7: 0.576168, 2: 0.738730, 2.18844: 0.834627, 2.5: 0.986971, 3: 1.221674, 4: 1.673068} {
		const radius, chord = 1.4, 1e-4
		a := skinFree(t, u(ratio, radius).tree(t), 1, chord)
		_, high := a.body(t, "bend:n").Box()
		near(t, fmt.Sprintf("reach/D of a U %g D long", ratio), (high[0]-20-0.1)/(2*(radius+0.1)), want, 1e-6+chord/3)
	}
}

// Mirrored boards have mirrored shapes; a reversed line changes nothing; a board turned over bends the other way.
func TestFreeSymmetry(t *testing.T) {
	s := freeSpan{110, 1.7, 1, 2.5, [2]float64{-0.08, 0.12}, false, false, nil}
	mirrored, reversed, over := s, s, s
	mirrored.mirrored, reversed.reversed = true, true
	over.angle, over.faces = -s.angle, [2]float64{-0.12, 0.08}
	f, m, r, o := relaxed(t, s.tree(t), 1), relaxed(t, mirrored.tree(t), 1), relaxed(t, reversed.tree(t), 1), relaxed(t, over.tree(t), 1)
	_, to := f.Span(0)
	for x := 20.0; x <= 23+to; x += 0.37 {
		p, z := flat.Pt{X: x, Y: 2}, 0.09
		at := f.BendPoint(0, p, z)
		if r.BendPoint(0, p, z) != at {
			t.Errorf("x %g: a reversed line moves a point", x)
		}
		q := m.BendPoint(0, flat.Pt{X: -x, Y: 2}, z)
		near(t, "mirrored", mgl64.Vec3{-q[0], q[1], q[2]}.Sub(at).Len(), 0, 1e-9)
		q = o.BendPoint(0, p, -z)
		near(t, "turned over", mgl64.Vec3{q[0], q[1], -q[2]}.Sub(at).Len(), 0, 1e-9)
	}
}

// Flat it is flat; on the way it has the free shape of the angle there.
func TestFreeOnTheWay(t *testing.T) {
	s := freeSpan{110, 1.7, 1, 2.5, [2]float64{-0.1, 0.1}, false, false, nil}
	tree := s.tree(t)
	for _, b := range skinFree(t, tree, 0, 0.01).Bodies {
		for i, p := range b.Points {
			if p.Sub(b.Flat[i]).Len() > 1e-12 {
				t.Fatalf("%s: a flat board moves %v to %v", b.Name, b.Flat[i], p)
			}
		}
	}
	f, bend := relaxed(t, tree, 0.4), &tree.Bends[0]
	want, err := elastica.Hinge{Angle: 44, Radius: bend.RadiusAt(44) + 0.1, Near: 1, Far: 2.5}.Free()
	if err != nil {
		t.Fatal(err)
	}
	for _, arc := range []float64{0.3, 1.5, 4} {
		x, z, turned := f.Neutral(0, arc-1)
		p := want.At(arc)
		near(t, "x", x, p.X-1, 1e-9)
		near(t, "z", z, p.Y, 1e-9)
		near(t, "turned", turned, p.Heading, 1e-7)
	}
}

// The promise of Skin for free shapes, tried at close places of both faces; a finer chord only tightens.
func TestFreeChordKept(t *testing.T) {
	for name, s := range spans() {
		tree := s.tree(t)
		last := math.Inf(1)
		for _, chord := range []float64{0.05, 0.01, 0.002} {
			a := skinFree(t, tree, 1, chord)
			b := a.body(t, "bend:n")
			worst := farthest(a.Folded, b)
			if worst > b.Chord*(1+1e-6)+1e-9 || b.Chord > chord*(1+1e-9) {
				t.Errorf("%s: off by %g, states %g, allowed %g", name, worst, b.Chord, chord)
			}
			if worst > last {
				t.Errorf("%s: a finer chord made it worse: %g, was %g", name, worst, last)
			}
			last = worst
		}
	}
}

// farthest returns the largest distance of the true faces from the chords between a bend's stations, 20 places for each.
func farthest(f *fold.Folded, b *Body) float64 {
	bend, worst := &f.Tree.Bends[0], 0.0
	for _, z := range bend.Faces {
		at := func(s float64) mgl64.Vec3 {
			p := bend.Origin.Add(bend.Dir.Mul(s))
			return f.BendPoint(0, flat.Pt{X: p.X, Y: 2}, z)
		}
		for i := 1; i < len(b.Stations); i++ {
			from, to := b.Stations[i-1], b.Stations[i]
			p, d := at(from), at(to).Sub(at(from)).Normalize()
			for k := range 20 {
				q := at(from + (to-from)*(float64(k)+0.5)/20).Sub(p)
				worst = max(worst, q.Sub(d.Mul(q.Dot(d))).Len())
			}
		}
	}
	return worst
}

// Two bends of one hinge that a slot parts share the flex beyond it: both lie on one surface, closed each, and their common
// border is the same line.
func TestFreeComb(t *testing.T) {
	s := freeSpan{90, 1.5, 3, 3, [2]float64{-0.1, 0.1}, false, false, []flat.Loop{rect(21.5, 2.5, 27, 3.5)}}
	a := skinFree(t, s.tree(t), 1, 0.005)
	one, two := a.body(t, "bend:n"), a.body(t, "bend:n.2")
	for _, b := range []*Body{one, two} {
		if err := b.Check(); err != nil {
			t.Fatal(err)
		}
		near(t, "volume of "+b.Name, b.Volume(), a.Folded.Tree.Bodies[b.Source].Volume, 0.1)
	}
	shared := 0
	for i, p := range one.Flat {
		for k, q := range two.Flat {
			if p.Sub(q).Len() < 1e-9 {
				shared++
				near(t, "a node that both have", one.Points[i].Sub(two.Points[k]).Len(), 0, 1e-9)
			}
		}
	}
	if shared < 8 {
		t.Errorf("they share %d nodes, want the corners of two borders at least", shared)
	}
}
