package clash

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/bending"
	"foldfit/fold/elastica"
	"foldfit/mesh"
)

// neck is a strip 10 wide: plates 20 long and so thick, x 0 to 20 and at the far end, with a bend between them that has
// straight run-outs, and a base at the origin.
func neck(angle, radius, near, far, plate float64, more string) string {
	w := (radius + 0.1) * math.Abs(angle) * math.Pi / 180
	end := 20 + near + w + far
	return fmt.Sprintf(`outline: [[0, 0], [%.17g, 0], [%.17g, 10], [0, 10]]
stackups: {film: {thickness: 0.2}, plate: {thickness: %v, rigid: true}}
flex: film
base: {at: [1, 1]}
sections: {main: {stackup: plate, area: {rect: [0, 0, 20, 10]}}, wing: {stackup: plate, area: {rect: [%.17g, 0, %.17g, 10]}}}
hinges: {neck: {line: [[%.17g, -1], [%.17g, 11]], angle: %v, radius: %v}}
`, end+20, end+20, plate, end, end+20, 20+near+w/2, 20+near+w/2, angle, radius) + more
}

// u is a neck of 180 degrees whose flex is so many times as long as its neutral surfaces are apart.
func u(ratio, radius, plate float64, more string) string {
	slack := (ratio - math.Pi/2) * (radius + 0.1)
	return neck(180, radius, slack, slack, plate, more)
}

// relaxed meshes a board with all bends in their free shape.
func relaxed(t testing.TB, src string) *mesh.Assembly {
	t.Helper()
	free, kept := bending.Relax(board(t, src, 0.01).Folded, func(int) bool { return true })
	if len(kept) > 0 {
		t.Fatal(kept)
	}
	a, err := mesh.Skin(free, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

const wide = "clearance: {board: 50, components: 50, enclosure: 0.02}\n"

// Free flex between two rigid sections that fold clear is never a finding, however it bulges and whatever clearance is asked for:
// there is none but what the plates, thicker than the flex, have with each other as drawn.
func TestFreeFlexIsClear(t *testing.T) {
	for _, ratio := range []float64{1.6, 2, 2.19, 2.5, 3, 4} {
		for _, plate := range []float64{0.2, 0.6, 1.6, 2.6} {
			var want []string
			if plate > 0.2 {
				want = []string{"clearance section:main section:wing"}
			}
			expect(t, fmt.Sprintf("a U %g D long between plates %g thick", ratio, plate), Check(relaxed(t, u(ratio, 1.5, plate, wide)), away()), want...)
		}
	}
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 30 {
		angle, radius := (20+160*rnd.Float64())*float64(1-2*rnd.IntN(2)), 0.5+2*rnd.Float64()
		near, far := 6*rnd.Float64(), 6*rnd.Float64()
		what := fmt.Sprintf("%.1f degrees, R %.2f, run-outs %.2f and %.2f", angle, radius, near, far)
		src := neck(angle, radius, near, far, 0.4, wide)
		var plates []string
		for _, r := range rules(Check(board(t, src, 0.01), away())) {
			if !strings.Contains(r, "flex:") {
				plates = append(plates, r)
			}
		}
		expect(t, what, Check(relaxed(t, src), away()), plates...)
	}
}

// Without run-outs the free shape is the drawn arc: the check says the same of both, past half a turn as well, where the bend
// meets its own plates from 298.07 degrees on (GEOMETRY N7).
func TestFreeArcIsTheDrawnOne(t *testing.T) {
	for _, angle := range []float64{90, 180, 240, 297.9, 298.3, 320, -320} {
		src := neck(angle, 1.5, 0, 0, 1.6, "")
		drawn, free := Check(board(t, src, 0.01), nil), Check(relaxed(t, src), nil)
		if got, want := rules(free), rules(drawn); !reflect.DeepEqual(got, want) {
			t.Errorf("%g degrees: %q, drawn %q", angle, got, want)
		}
		hits := find(free, "bend:neck", "section:main")
		if meets := hits != nil && hits.Rule == "contact"; meets != (math.Abs(angle) > 298.0724868529) {
			t.Errorf("%g degrees: the bend meets its plate: %v, %+v", angle, meets, hits)
		}
		for _, g := range drawn.Gaps {
			if f := find(free, g.Between[0], g.Between[1]); f == nil || math.Abs(f.Gap-g.Gap) > 1e-6 {
				t.Errorf("%g degrees: %v is %+v, drawn %+v", angle, g.Between, f, g)
			}
		}
	}
}

// With run-outs as well a bend that comes all the way round goes into the rigid plate that holds it.
func TestFreeFlexMeetsItsPlate(t *testing.T) {
	for _, angle := range []float64{330, -330} {
		r := Check(relaxed(t, neck(angle, 1.5, 0.2, 0.3, 1.6, "")), nil)
		for _, plate := range []string{"section:main", "section:wing"} {
			if g := find(r, "bend:neck", plate); g == nil || g.Rule != "contact" {
				t.Errorf("%g degrees: no contact of the bend with %s: %q", angle, plate, rules(r))
			}
		}
	}
}

// A U longer than 2.19 times the distance of its boards bulges past them: at L/D 3 it is 1.05039 D wide (TRADE 12.3), so it
// comes 0.0806 mm below the lower board's flex of D 3.2. The drawn run-out stays level.
func TestBulgeMeetsWall(t *testing.T) {
	src := u(3, 1.5, 1.6, "clearance: {enclosure: 0.01}\n")
	bulge := 3.2 * (1.05039 - 1) / 2
	shelf := func(top float64) []Wall { return []Wall{wall("shelf", 20.2, -1, -2, 28, 11, -0.1-top)} }
	between := shelf(bulge / 2)
	expect(t, "drawn", Check(board(t, src, 0.01), between))
	r := Check(relaxed(t, src), between)
	expect(t, "free", r, "contact bend:neck enclosure:shelf")
	if g := find(r, "bend:neck", "enclosure:shelf"); g != nil && !close2(-g.Gap, bulge/2, 2e-4) {
		t.Errorf("the flex goes %g into the shelf, want %g", -g.Gap, bulge/2)
	}
	r = Check(relaxed(t, src), shelf(bulge+0.02))
	expect(t, "below the bulge", r)
	if g := find(r, "bend:neck", "enclosure:shelf"); g == nil || !close2(g.Gap, 0.02, 2e-4) {
		t.Errorf("%+v, want 0.02 between flex and shelf", g)
	}
}

// What the free loop reaches further than the drawn arc, which the elastica tells, is taken off the gap to a wall before it.
func TestFreeLoopComesNearer(t *testing.T) {
	for _, ratio := range []float64{1.7, 2, 2.5} {
		src, slack := u(ratio, 1.5, 0.4, ""), (ratio-math.Pi/2)*1.6
		free, err := elastica.Hinge{Angle: 180, Radius: 1.6, Near: slack, Far: slack}.Free()
		if err != nil {
			t.Fatal(err)
		}
		const apart = 1.0
		x := 20 + slack + 1.7 + apart // the drawn outer face, and the gap
		r := Check(relaxed(t, src), []Wall{wall("east", x, -1, -5, x+1, 11, 10)})
		if g := find(r, "bend:neck", "enclosure:east"); g == nil || g.Gap < apart-free.Wider-1e-9 || g.Low > apart-free.Wider+1e-9 || g.Gap-g.Low > 0.01 {
			t.Errorf("L/D %g: %+v, want %g less %g between gap and low", ratio, g, apart, free.Wider)
		}
	}
}

// A part on a run-out stays where the drawn flat is and is no finding against the flex under it; one on the plate that the loop
// comes down to is.
func TestPartsAtFreeFlex(t *testing.T) {
	part := func(x, height float64) string {
		return fmt.Sprintf("components: {U1: {side: top, at: [%g, 5], size: [1, 1, %g]}}\n", x, height)
	}
	expect(t, "on the run-out", Check(relaxed(t, neck(90, 1.5, 4, 4, 0.2, part(22, 0.5))), nil))
	expect(t, "on the plate", Check(relaxed(t, neck(180, 0.9, 0, 8, 0.2, part(17, 1.5))), nil))
	expect(t, "so high that it meets the flex over it", Check(relaxed(t, neck(180, 0.9, 0, 8, 0.2, part(17, 2.5))), nil), "contact component:U1 bend:neck")
}

// Up to where a free shape first comes behind its clamp's plane all of it lies in front, and right after that it does not; a
// level U never does.
func TestReturns(t *testing.T) {
	for _, s := range []struct {
		src        string
		near, back bool // whether it comes behind the near and the far clamp
	}{{u(2, 1.5, 0.4, ""), false, false}, {u(3, 1.5, 0.4, ""), false, false}, {neck(90, 1.5, 2, 1, 0.4, ""), false, false},
		{neck(180, 0.9, 0, 8, 0.4, ""), true, false}, {neck(180, 0.9, 8, 0, 0.4, ""), false, true}, {neck(300, 1.5, 1, 1, 0.4, ""), true, true}} {
		a := relaxed(t, s.src)
		c := newChecker(a, nil, "folded")
		tree := a.Folded.Tree
		body := &tree.Bodies[slices.IndexFunc(tree.Bodies, func(b fold.Body) bool { return b.Name == "bend:neck" })]
		from, to := a.Folded.Span(0)
		for _, near := range []bool{true, false} {
			at, want := c.returns(body, near), s.near
			ahead := c.aheadOf(body, from, 1)
			if !near {
				want = s.back
				far := c.aheadOf(body, to, -1)
				ahead = func(s float64) float64 { return far(from + to - s) }
			}
			if math.IsInf(at, 1) == want {
				t.Errorf("near %v: comes back after %g", near, at)
			}
			for k := range 3000 {
				if s := (to - from) * float64(k) / 3000; s <= at && ahead(from+s) < -1e-5 {
					t.Errorf("near %v: at %g of %g it is %g behind", near, s, at, -ahead(from+s))
				}
			}
			if want && ahead(from+at+1e-3) > 0 {
				t.Errorf("near %v: after %g it is still in front", near, at)
			}
		}
	}
}

// A clamp whose corners were rounded in the file, so that the plate reaches past the clamp's line by a hair, is no contact; nor
// are the two halves of a slotted neck with each other.
func TestRoundedClampAndSlot(t *testing.T) {
	const design = `outline: [[0, 0], [60, 0], [60, 10], [0, 10]]
cutouts: [{rect: [24, 4, 36, 6]}]
stackups: {film: {thickness: 0.2}, plate: {thickness: 0.6, rigid: true}}
flex: film
base: {at: [1, 1]}
sections:
  main: {stackup: plate, area: [[0, 0], [20.00004, 0], [19.99996, 10], [0, 10]]}
  wing: {stackup: plate, area: [[40.00004, 0], [60, 0], [60, 10], [39.99996, 10]]}
hinges: {neck: {line: [[30, -1], [30, 11]], angle: %v, radius: 1.5}}
`
	for _, angle := range []float64{40, 90, -120, 180} {
		expect(t, fmt.Sprint(angle), Check(relaxed(t, fmt.Sprintf(design, angle)), away()))
	}
}
