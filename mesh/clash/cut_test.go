package clash

import (
	"fmt"
	"math"
	"testing"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// closedVolume returns a shape's volume and the number of its edges that are not run both ways equally often.
func closedVolume(s *shape) (volume float64, open int) {
	runs := map[[2]int32]int{}
	for _, t := range s.tris {
		a, b, c := s.points[t[0]], s.points[t[1]], s.points[t[2]]
		volume += dot(a, cross(b, c)) / 6
		for k := range 3 {
			runs[[2]int32{t[k], t[(k+1)%3]}]++
			runs[[2]int32{t[(k+1)%3], t[k]}]--
		}
	}
	for _, n := range runs {
		if n > 0 {
			open++
		}
	}
	return volume, open
}

// Both sides of a cut are closed and together make the whole, for plates with holes and for bends.
func TestPartsAreClosedAndAddUp(t *testing.T) {
	src := `outline: [[0, 0], [60, 0], [60, 10], [0, 10]]
cutouts: [{circle: [10, 5], diameter: 4}, {rect: [14, 2, 18, 8]}, {circle: [30, 4], diameter: 2}]
stackups: {film: {thickness: 0.2}}
flex: film
hinges: {neck: {line: [[29, -1], [31, 11]], angle: 200, radius: 1.5}}
`
	a := board(t, src, 0.02)
	c := newChecker(a, nil, "folded")
	for _, m := range c.members {
		whole, open := closedVolume(m.shape())
		if open > 0 {
			t.Fatalf("%s itself is not closed", m.name)
		}
		for _, x := range []float64{2, 9.5, 10, 12, 14, 16, 18, 27, 28.4, 30, 32, 50} {
			at := func(p vec) float64 { return p[0] - x }
			if m.kind == fold.KindBend { // cut along its stations, where the cut is plane
				bend := &a.Folded.Tree.Bends[m.body.Bend]
				at = func(p vec) float64 { return bend.Station(flat.Pt{X: p[0], Y: p[1]}) - x/5 }
			}
			up := m.part(at)
			down := m.part(func(p vec) float64 { return -at(p) })
			sum := 0.0
			for _, s := range []*shape{up, down} {
				if s == nil {
					continue
				}
				v, open := closedVolume(s)
				sum += v
				if open > 0 || v <= 0 {
					t.Errorf("%s cut at %v: volume %v, %d open edges", m.name, x, v, open)
				}
			}
			loose := 1e-9
			if m.kind == fold.KindBend { // the walls of an oblique bend are not plane: its cut is only so to the chord error
				loose = 2 * 0.02
			}
			if !close2(sum, whole, loose) {
				t.Errorf("%s cut at %v: parts of %v make %v", m.name, x, sum, whole)
			}
		}
	}
}

// A cut along a wall of the body itself: the wall belongs to the side where the body is.
func TestPartAtItsOwnWall(t *testing.T) {
	b := block(0, 0, 0, 4, 4, 1).with(block(4, 1, 0, 6, 3, 1)) // a step at x = 4, where two walls lie in the cut
	m := &member{points: b.points, flat: b.points, mesh: meshOf(b), closed: true}
	for _, sign := range []float64{1, -1} {
		s := m.part(func(p vec) float64 { return sign * (p[0] - 4) })
		v, open := closedVolume(s)
		want := map[float64]float64{1: 4, -1: 16}[sign]
		if open > 0 || !close2(v, want, 1e-12) {
			t.Errorf("side %v: volume %v, %d open edges, want %v", sign, v, open, want)
		}
	}
	if m.part(func(p vec) float64 { return p[0] - 9 }) != nil || m.part(func(p vec) float64 { return p[0] - 6 }) != nil {
		t.Error("a part beyond the body")
	}
	if m.part(func(p vec) float64 { return p[0] }) != m.shape() {
		t.Error("the whole body is not itself")
	}
}

// The triangles of a part keep the numbers of the mesh, and lie in its planes.
func TestPartNumbers(t *testing.T) {
	b := rod(9, 2, 5, 0, 3)
	m := &member{points: b.points, flat: b.points, mesh: meshOf(b), closed: true}
	s := m.part(func(p vec) float64 { return p[2] - 1 + 0.1*p[0] })
	for i, id := range s.ids {
		if id < 0 {
			continue
		}
		k := m.mesh.Triangles[id]
		from := tri{b.points[k[0]], b.points[k[1]], b.points[k[2]]}
		part := s.tri(int32(i))
		for _, p := range part {
			if off(p, &from) > 1e-9 {
				t.Errorf("triangle %d of the part is not on triangle %d", i, id)
			}
		}
	}
}

func TestMoveAlike(t *testing.T) {
	tree := &fold.Tree{Flats: make([]fold.Flat, 6), Bends: []fold.Bend{{Near: []int{0, 2}, Far: []int{1, 5}}, {Hinge: 1, Near: []int{2, 4}, Far: []int{3}}}}
	if got := fmt.Sprint(moveAlike(tree)); got != "[0 1 0 3 0 1]" {
		t.Errorf("groups %v", got)
	}
}

// Flats on two arms of one side of a bend never move relative to each other; those across are an arch apart.
func TestArch(t *testing.T) {
	src := `outline: [[0, 0], [60, 0], [60, 4], [20, 4], [20, 6], [60, 6], [60, 10], [0, 10]]
stackups: {film: {thickness: 0.2}}
flex: film
base: {at: [1, 1]}
hinges: {neck: {line: [[40, -1], [40, 11]], angle: 100, radius: 1.5}}
clearance: {board: 9}
`
	a := board(t, src, 0.01)
	c := newChecker(a, nil, "folded")
	body := func(name string) *member {
		for _, m := range c.members {
			if m.name == name {
				return m
			}
		}
		t.Fatalf("no %s in %v", name, a.Folded.Tree.Flats)
		return nil
	}
	palm, one, two := body("flex:flat-1"), body("flex:flat-2"), body("flex:flat-3")
	want := 2 * 1.5 * math.Sin(50*math.Pi/180)
	for _, arm := range []*member{one, two} {
		if got := c.arch(palm.body, arm.body); !close2(got, want, 1e-12) {
			t.Errorf("palm to %s: %v, want %v", arm.name, got, want)
		}
	}
	for _, own := range []*member{palm, one} {
		if got := c.arch(body("bend:neck").body, own.body); !math.IsInf(got, 1) {
			t.Errorf("bend to its own %s: %v", own.name, got)
		}
	}
	if got := c.arch(one.body, two.body); !math.IsInf(got, 1) {
		t.Errorf("arm to arm, two bends apart: %v", got)
	}
	expect(t, "two arms", Check(a, away()))
}
