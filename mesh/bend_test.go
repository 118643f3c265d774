package mesh

import (
	"math"
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// notched returns the region of a bend area, x 0 to 5, y 0 to 10, with arc notches, a slanted side and a round hole.
func notched(t testing.TB) flat.Region {
	t.Helper()
	l, errs := flat.Build([]flat.Vertex{{}, {P: flat.Pt{X: 1}}, {P: flat.Pt{X: 4}, Via: &flat.Pt{X: 2.5, Y: 1.5}}, {P: flat.Pt{X: 5}},
		{P: flat.Pt{X: 5, Y: 10}}, {P: flat.Pt{X: 2, Y: 12}}, {P: flat.Pt{Y: 10}}})
	if errs != nil {
		t.Fatal(errs)
	}
	return flat.Region{l, disc(2.2, 6, 3).Rev()}
}

var angles = []float64{0, 1e-6, 10, 90, -90, 180, 270, -270, 360, -360}

// A bend of straight, square outline consists of slabs of equal angle a: each is sin(a)/a of the true sector.
func TestBendVolumeSquare(t *testing.T) {
	for _, faces := range [][2]float64{{-0.1, 0.1}, {-0.05, 0.15}, {-0.2, 0}} {
		for _, angle := range angles {
			tree := bendTree(flat.Region{rect(0, 0, 4, 10)}, flat.Pt{}, flat.Pt{X: 1}, 4, angle, faces, 0)
			b := skin(t, tree, 1, 0.01).Bodies[0]
			if err := b.Check(); err != nil {
				t.Fatal(err)
			}
			a := angle * math.Pi / 180 / float64(len(b.Stations)-1)
			want := tree.Bodies[0].Volume
			if a != 0 {
				want *= math.Sin(a) / a
			}
			near(t, "volume", b.Volume(), want, 1e-12)
			if e := euler(b.Mesh); e != 2 {
				t.Errorf("Euler characteristic %d", e)
			}
			if b.Stations[0] != 0 || b.Stations[len(b.Stations)-1] != 4 {
				t.Errorf("stations %v", b.Stations)
			}
			sag := (tree.Bends[0].RadiusAt(angle) + 0.2) * (1 - math.Cos(a/2))
			if angle == 0 {
				sag = 0
				if len(b.Stations) != 2 {
					t.Errorf("flat bend has %d stations", len(b.Stations))
				}
			}
			near(t, "chord", b.Chord, sag, 1e-12)
			if b.Chord > 0.01+1e-12 {
				t.Errorf("chord %g", b.Chord)
			}
		}
	}
}

// The volume comes near Pappus's as the chord error falls: in proportion to it, that is to the square of the chord length.
func TestBendVolumeConverges(t *testing.T) {
	for _, angle := range angles {
		for _, turn := range []float64{0, 37} {
			tree := bendTree(turned(notched(t), turn), flat.Pt{}, flat.Pt{X: math.Cos(turn * math.Pi / 180), Y: math.Sin(turn * math.Pi / 180)},
				5, angle, [2]float64{-0.05, 0.15}, 0.02)
			area := tree.Bodies[0].Area
			for _, chord := range []float64{0.04, 0.01, 0.0025, 0.0006} {
				b := skin(t, tree, 1, chord).Bodies[0]
				if err := b.Check(); err != nil {
					t.Fatal(err)
				}
				if e := euler(b.Mesh); e != 0 {
					t.Fatalf("Euler characteristic %d, want 0", e)
				}
				// faces: 2/3 of the sagitta on average, they err alike; walls: arcs of the flat region
				if err := math.Abs(b.Volume() - tree.Bodies[0].Volume); err > chord*(0.2*area/1.5+0.2*20) {
					t.Errorf("angle %g chord %g: volume off by %g", angle, chord, err)
				}
			}
		}
	}
}

// Symmetrical flex keeps its volume while it folds; other flex changes as Pappus says.
func TestBendVolumeWhileFolding(t *testing.T) {
	tree := bendTree(flat.Region{rect(0, 0, 4, 10), disc(2, 5, 2).Rev()}, flat.Pt{}, flat.Pt{X: 1}, 4, 180, [2]float64{-0.1, 0.1}, 0)
	flatVolume := skin(t, tree, 0, 1e-4).Bodies[0].Volume()
	for _, fraction := range []float64{0.1, 0.5, 1, -1, 1.8} {
		near(t, "volume", skin(t, tree, fraction, 1e-4).Bodies[0].Volume(), flatVolume, 2e-4*flatVolume)
	}
}

func TestBendPointsOnCylinder(t *testing.T) {
	for _, angle := range angles {
		tree := bendTree(notched(t), flat.Pt{}, flat.Pt{X: 1}, 5, angle, [2]float64{-0.05, 0.15}, 0.02)
		a := skin(t, tree, 1, 0.01)
		b := a.Bodies[0]
		bend := &tree.Bends[0]
		for i, p := range b.Flat {
			xy := flat.Pt{X: p[0], Y: p[1]}
			if b.Points[i] != a.Folded.BendPoint(0, xy, p[2]) {
				t.Fatal("a point is off the cylinder")
			}
			if d := bend.Station(xy) - b.Stations[b.Station[i]]; math.Abs(d) > flat.Snap {
				t.Fatalf("a point is %g off its station", d)
			}
		}
		for i := 1; i < len(b.Stations); i++ {
			if b.Stations[i] <= b.Stations[i-1] {
				t.Fatal("stations do not rise")
			}
		}
		checkNormals(t, a, &b)
	}
}

// checkNormals demands unit normals: radial on the faces, on the triangle's outer side everywhere and near its own normal.
func checkNormals(t *testing.T, a *Assembly, b *Body) {
	t.Helper()
	for i, tr := range b.Triangles {
		p := b.Points[tr[0]]
		n := b.Points[tr[1]].Sub(p).Cross(b.Points[tr[2]].Sub(p))
		if n.Len() == 0 {
			continue
		}
		n = n.Normalize()
		for k, c := range b.Normals[i] {
			near(t, "length of a normal", c.Len(), 1, 1e-12)
			if c.Dot(n) < 0.8 {
				t.Fatalf("normal %v of a triangle with normal %v", c, n)
			}
			frame := a.Folded.BoardFromStation(0, b.Stations[b.Station[tr[k]]])
			if fold.Turn(frame, b.FlatNormals[i][k]).Sub(c).Len() > 1e-12 {
				t.Fatal("normals in the flat and on the board differ")
			}
			if z := b.FlatNormals[i][k][2]; z != 0 {
				axis := fold.Turn(frame, mgl64.Vec3{0, 0, z})
				if axis.Sub(c).Len() > 1e-12 {
					t.Fatal("a face's normal is not radial")
				}
			}
		}
	}
}

// At a whole turn the end faces lie on each other, but the body stays closed by its numbers.
func TestWholeTurn(t *testing.T) {
	tree := bendTree(flat.Region{rect(0, 0, 4, 10)}, flat.Pt{}, flat.Pt{X: 1}, 4, 360, [2]float64{-0.1, 0.1}, 0)
	b := skin(t, tree, 1, 0.01).Bodies[0]
	if err := b.Check(); err != nil {
		t.Fatal(err)
	}
	twins := 0
	for i, p := range b.Points {
		for k := range i {
			if b.Points[k].Sub(p).Len() < 1e-12 {
				twins++
			}
		}
	}
	if twins != 4 {
		t.Errorf("%d pairs of points in one place, want the 4 of the end faces", twins)
	}
}

// A mirrored bend is the mirrored mesh, as far as volume and area go; the sign of the angle mirrors through the sheet.
func TestBendMirrored(t *testing.T) {
	for _, angle := range []float64{90, 200} {
		tree := bendTree(notched(t), flat.Pt{}, flat.Pt{X: 1}, 5, angle, [2]float64{-0.05, 0.15}, 0)
		over := bendTree(notched(t), flat.Pt{}, flat.Pt{X: 1}, 5, -angle, [2]float64{-0.15, 0.05}, 0)
		a, b := skin(t, tree, 1, 0.01).Bodies[0], skin(t, over, 1, 0.01).Bodies[0]
		near(t, "points", float64(len(b.Points)), float64(len(a.Points)), 0)
		near(t, "area", b.Area(), a.Area(), 0.01)
		near(t, "volume", b.Volume(), a.Volume(), 0.01)
	}
}

// Where holes touch each other or a tangent line the body stays closed, and has no triangle without area in its faces.
func TestBendTouching(t *testing.T) {
	for name, r := range map[string]flat.Region{
		"two holes share a point": {rect(0, 0, 4, 10), disc(1, 5, 1).Rev(), disc(2, 5, 1).Rev()},
		"above each other":        {rect(0, 0, 4, 10), disc(2, 4, 1).Rev(), disc(2, 5, 1).Rev()},
		"on the near line":        {rect(0, 0, 4, 10), disc(0.5, 5, 1).Rev()},
		"on the far line":         {rect(0, 0, 4, 10), disc(3.5, 5, 1).Rev()},
		"on both":                 {rect(0, 0, 4, 10), disc(2, 5, 4).Rev()},
		"on the border":           {rect(0, 0, 4, 10), rect(1, 1, 3, 3).Rev(), loop(pts(2, 3, 3, 5, 1, 5)).Rev()},
		"corner on the border":    {rect(0, 0, 4, 10), loop(pts(2, 0, 3, 2, 1, 2)).Rev()},
		"corner on the line":      {rect(0, 0, 4, 10), loop(pts(0, 5, 2, 4, 2, 6)).Rev()},
		"corner within snap":      {rect(0, 0, 4, 10), loop(pts(3e-7, 5, 2, 4, 2, 6)).Rev()},
		"corner beyond by snap":   {rect(0, 0, 4, 10), loop(pts(-3e-7, 5, 2, 4, 2, 6)).Rev()},
		"pinched":                 {loop(pts(0, 0, 4, 0, 4, 10, 0, 10, 0, 6, 2, 5, 2-1e-9, 5, 0, 4))},
	} {
		t.Run(name, func(t *testing.T) {
			for _, angle := range angles {
				tree := bendTree(r, flat.Pt{}, flat.Pt{X: 1}, 4, angle, [2]float64{-0.1, 0.1}, 0)
				b := skin(t, tree, 1, 0.001).Bodies[0]
				if err := b.Check(); err != nil {
					t.Fatal(err)
				}
				near(t, "volume", b.Volume(), tree.Bodies[0].Volume, 0.01)
				for i, tr := range b.Triangles {
					p, q, s := b.Flat[tr[0]], b.Flat[tr[1]], b.Flat[tr[2]]
					if b.FlatNormals[i][0][2] != 0 && q.Sub(p).Cross(s.Sub(p)).Len() == 0 {
						t.Fatalf("a face has a triangle without area at %v", p)
					}
				}
			}
		})
	}
}

func loop(v []flat.Vertex) flat.Loop {
	var l flat.Loop
	for i := range v {
		l = append(l, flat.Line(v[i].P, v[(i+1)%len(v)].P))
	}
	return l.CCW()
}

// Sides that run to a point and straight back, and necks without width, leave no trace.
func TestPolygonUnfolds(t *testing.T) {
	for _, c := range []struct {
		name  string
		xy    []float64
		rings []int
	}{
		{"square", []float64{0, 0, 4, 0, 4, 4, 0, 4}, []int{4}},
		{"needle", []float64{0, 0, 4, 0, 6, 0, 4, 0, 4, 4, 0, 4}, []int{4}},
		{"needle at the start", []float64{0, -3, 0, 0, 4, 0, 4, 4, 0, 4, 0, 0}, []int{4}},
		{"needle around the start", []float64{0, 0, 4, 0, 4, 4, 0, 4, 0, 0, 0, -3}, []int{4}},
		{"needle of two sides", []float64{0, 0, 4, 0, 5, 0, 6, 0, 5, 0, 4, 0, 4, 4, 0, 4}, []int{4}},
		{"neck without width", []float64{0, 0, 4, 0, 4, 2, 7, 2, 7, 0, 9, 0, 9, 4, 7, 4, 7, 2, 4, 2, 4, 4, 0, 4}, []int{5, 5}},
		{"nothing but there and back", []float64{0, 0, 4, 0, 6, 0, 4, 0}, nil},
		{"a point twice", []float64{0, 0, 4, 0, 4, 0, 4, 4, 0, 4}, []int{4}},
	} {
		v := pts(c.xy...)
		var l flat.Loop
		for i := range v {
			l = append(l, flat.Line(v[i].P, v[(i+1)%len(v)].P))
		}
		var got []int
		for _, ring := range cut(flat.Region{l}, 1) {
			got = append(got, len(ring))
		}
		if !slices.Equal(got, c.rings) {
			t.Errorf("%s: rings of %v sides, want %v", c.name, got, c.rings)
		}
	}
}
