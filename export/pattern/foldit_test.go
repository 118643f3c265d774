package pattern

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// mockFold is what a person at the bench reads off a printed page about one fold.
type mockFold struct {
	centre []flat.Edge
	angle  float64 // degrees, + toward the reader
	rod    float64 // diameter, mm
}

// readFolds reads the folds off a page: lines and words from the drawing, rods from the table.
func readFolds(t *testing.T, page *node, side fold.Side) map[string]mockFold {
	t.Helper()
	out := map[string]mockFold{}
	var cells []string
	for _, n := range page.find(t, "rods").texts() {
		cells = append(cells, n.title)
	}
	columns := slices.Index(cells, "creased") + 1
	name, rod := 0, slices.Index(cells[:columns], "rod")
	for row := columns; row+columns <= len(cells); row += columns {
		if len(strings.Fields(cells[row])) > 1 {
			break // the words below the table
		}
		g := page.find(t, "hinge-"+cells[row+name])
		f := mockFold{centre: g.stroked(t, func(n *node) bool { return n.attr["stroke-dasharray"] != "" })}
		words := strings.Fields(strings.ReplaceAll(strings.TrimPrefix(g.title, cells[row]+":"), ",", ""))
		angle, err := strconv.ParseFloat(words[0], 64)
		diameter, errRod := strconv.ParseFloat(cells[row+rod], 64)
		if err != nil || errRod != nil || words[1] != "toward" {
			t.Fatalf("%q with the rod %q", g.title, cells[row+rod])
		}
		f.angle, f.rod = angle, diameter
		if words[2] != sideName(side) {
			f.angle = -angle
		}
		out[cells[row]] = f
	}
	return out
}

// wrapped takes a point beyond a fold to where it comes to lie when the sheet is wrapped round the rod: the bend is an arc about the
// centre line, as long as the rod and the sheet make it. from is on the side that stays.
func (f mockFold) wrapped(centre flat.Edge, from flat.Pt, p mgl64.Vec3, stock float64) mgl64.Vec3 {
	u := centre.Q.Sub(centre.P).Unit()
	n := u.Left()
	if from.Sub(centre.P).Dot(n) > 0 {
		n = n.Mul(-1)
	}
	q := flat.Pt{X: p[0], Y: p[1]}.Sub(centre.P)
	along, across, up := q.Dot(u), q.Dot(n), p[2]
	way := math.Copysign(1, f.angle)
	a, r := math.Abs(f.angle)*math.Pi/180, f.rod/2+stock/2
	half := a * r / 2
	sin, cos := math.Sincos(a)
	x := -half + r*sin + (across-half)*cos - way*up*sin
	z := r*(1-cos) + (across-half)*sin + way*up*cos
	at := centre.P.Add(u.Mul(along)).Add(n.Mul(x))
	return mgl64.Vec3{at.X, at.Y, way * z}
}

// mock folds a point of the sheet: over every fold that the straight way from the base crosses, the last one first.
func mock(folds map[string]mockFold, base, p flat.Pt, stock float64) (mgl64.Vec3, int) {
	type hit struct {
		at     float64
		fold   mockFold
		centre flat.Edge
	}
	var hits []hit
	for _, f := range folds {
		for _, c := range f.centre {
			d, e := p.Sub(base), c.Q.Sub(c.P)
			s, k := c.P.Sub(base).Cross(e)/d.Cross(e), c.P.Sub(base).Cross(d)/d.Cross(e)
			if 0 < s && s < 1 && 0 <= k && k <= 1 {
				hits = append(hits, hit{s, f, c})
			}
		}
	}
	slices.SortFunc(hits, func(a, b hit) int { return cmp.Compare(b.at, a.at) })
	out := mgl64.Vec3{p.X, p.Y, 0}
	for _, h := range hits {
		out = h.fold.wrapped(h.centre, base, out, stock)
	}
	return out, len(hits)
}

// depth returns how many bends lie between a flat and the base.
func depth(tree *fold.Tree, i int) int {
	n := 0
	for ; tree.Flats[i].Parent >= 0; i = tree.Flats[i].Parent {
		n++
	}
	return n
}

// Fold the printed pattern: read back from the page, wrapped round the printed rods with a sheet of the stated thickness, every flat
// lands within 0.05 mm of where the folded board has it, whichever side is printed.
func TestMockUpLandsOnTheBoard(t *testing.T) {
	for _, make := range []func(testing.TB) *fold.Design{strip80, beacon, lamp, chain} {
		for _, side := range sides {
			for _, stock := range []float64{0.1, 0.25} {
				tree, page := shown(t, make(t), Options{Side: side, Stock: stock})
				folds := readFolds(t, page, side)
				if len(folds) != len(tree.Design.Hinges) {
					t.Fatalf("%s: %d folds on the page, %d hinges", tree.Design.Name, len(folds), len(tree.Design.Hinges))
				}
				shift := page.find(t, "outline").box(t).Min.Sub(view{mirrored: side == fold.Bottom}.region(tree.Board).Box().Min)
				checkMock(t, tree, side, folds, shift, stock)
			}
		}
	}
}

// checkMock compares the corners of all flats.
func checkMock(t *testing.T, tree *fold.Tree, side fold.Side, folds map[string]mockFold, shift flat.Pt, stock float64) {
	t.Helper()
	folded, err := tree.Place(tree.Angles())
	if err != nil {
		t.Fatal(err)
	}
	v := view{mirrored: side == fold.Bottom}
	onPage := func(p flat.Pt) flat.Pt { return v.pt(p).Add(shift) }
	for i, fl := range tree.Flats {
		seen := 0
		for _, e := range fl.Region.Edges() {
			p := e.P.Mul(0.9).Add(fl.Inside.Mul(0.1))
			got, n := mock(folds, onPage(tree.Flats[0].Inside), onPage(p), stock)
			if n != depth(tree, i) {
				continue // the straight way leaves the board
			}
			seen++
			want := fold.Apply(folded.BoardFromFlat(i), mgl64.Vec3{p.X, p.Y, 0})
			if v.mirrored {
				want[0], want[2] = -want[0], -want[2]
			}
			want = want.Add(mgl64.Vec3{shift.X, shift.Y, 0})
			if d := got.Sub(want).Len(); d > 0.05 {
				t.Errorf("%s, side %v, stock %v: %s lands %.3f mm off", tree.Design.Name, side, stock, fl.Name, d)
				break
			}
		}
		if seen == 0 {
			t.Errorf("%s: no corner of %s was compared", tree.Design.Name, fl.Name)
		}
	}
}
