package tolerance

import (
	"math"
	"math/rand/v2"
	"testing"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// step sizes of central differences: the truncation, step squared times third derivatives, and the rounding are both near 1e-8.
const (
	dAngle = 1e-3 // degrees
	dLine  = 1e-4 // mm
)

// boards calls check with random chains, folded to random angles.
func boards(t *testing.T, n int, check func(r *rand.Rand, f *fold.Folded)) {
	t.Helper()
	r := rand.New(rand.NewPCG(3, 5))
	for range n {
		tree := divide(t, chain(r, false))
		angles := tree.Angles()
		for i := range angles {
			angles[i] *= r.Float64()
			if r.IntN(6) == 0 {
				angles[i] = 0
			}
		}
		check(r, place(t, tree, angles...))
		if t.Failed() {
			return
		}
	}
}

func TestPlacesAreInverted(t *testing.T) {
	boards(t, 200, func(r *rand.Rand, f *fold.Folded) {
		for i := range f.Tree.Bodies {
			p, z := somewhere(r, &f.Tree.Bodies[i])
			at := image(f, i, p, z)
			got, err := OnBody(f, i, at)
			if err != nil {
				t.Fatal(err)
			}
			name := f.Tree.Bodies[i].Name
			near(t, name+": distance in the flat", got.At.Dist(p), 0, 1e-9)
			near(t, name+": height", got.Z, z, 1e-9)
			nearVec(t, name+": place", got.Place(f), at, 1e-9)
		}
	})
}

func TestInverseOfWideBends(t *testing.T) {
	for _, angle := range []float64{360, 359, 270, 181, 1e-7, -1e-7, -200, -359.9} {
		sign := math.Copysign(1, angle)
		tree := divide(t, "outline: [[0, 0], [60, 0], [60, 10], [0, 10]]\n"+stacks+"base: {at: [1, 1]}\nhinges: {a: {line: [[30, -1], [30, 11]], angle: "+flat.Num(360*sign)+", radius: 2}}\n")
		f := place(t, tree, angle)
		b := &tree.Bends[0]
		for _, share := range []float64{0, 1e-6, 0.3, 0.5, 0.8, 0.999} {
			want := flat.Pt{X: b.Origin.X + share*b.Width, Y: 4}
			got := inBend(f, 0, f.BendPoint(0, want, 0.04))
			near(t, "station at "+flat.Num(angle), got.Station, share*b.Width, 1e-9)
			near(t, "height at "+flat.Num(angle), got.Z, 0.04, 1e-9)
			near(t, "along", got.At.Y, 4, 1e-9)
		}
	}
}

func TestAnglesAgainstDifferences(t *testing.T) {
	boards(t, 60, func(r *rand.Rand, f *fold.Folded) {
		for i := range f.Tree.Bodies {
			p, z := somewhere(r, &f.Tree.Bodies[i])
			on, _ := OnBody(f, i, image(f, i, p, z))
			motions := on.Motions(f)
			for h := range f.Angles {
				up, down := append([]float64(nil), f.Angles...), append([]float64(nil), f.Angles...)
				up[h] += dAngle
				down[h] -= dAngle
				want := image(place(t, f.Tree, up...), i, p, z).Sub(image(place(t, f.Tree, down...), i, p, z)).Mul(1 / (2 * dAngle))
				nearVec(t, f.Tree.Bodies[i].Name+" with "+f.Tree.Design.Hinges[h].Name, motions[h].Angle, want, 1e-7)
			}
		}
	})
}

// Against designs that are divided again with the line moved.
func TestLinesAgainstMovedDesigns(t *testing.T) {
	boards(t, 40, func(r *rand.Rand, f *fold.Folded) {
		for h := range f.Angles {
			off := make([]Shift, len(f.Angles))
			off[h].Line = dLine
			up, err := Folded(f.Tree, f.Angles, off)
			if err != nil {
				t.Fatal(err)
			}
			off[h].Line = -dLine
			down, err := Folded(f.Tree, f.Angles, off)
			if err != nil {
				t.Fatal(err)
			}
			for i := range f.Tree.Bodies {
				b := &f.Tree.Bodies[i]
				if up.Tree.Bodies[i].Name != b.Name || down.Tree.Bodies[i].Name != b.Name {
					t.Fatalf("the bodies are not in the same order")
				}
				p, z := somewhere(r, b)
				if b.Bend >= 0 { // clear of the tangent lines, where the motion changes
					s := f.Tree.Bends[b.Bend].Station(p)
					if s < 2*dLine || s > f.Tree.Bends[b.Bend].Width-2*dLine {
						continue
					}
				}
				on, _ := OnBody(f, i, image(f, i, p, z))
				want := image(up, i, p, z).Sub(image(down, i, p, z)).Mul(1 / (2 * dLine))
				nearVec(t, b.Name+" with "+f.Tree.Design.Hinges[h].Name, on.Motions(f)[h].Line, want, 1e-6)
			}
		}
	})
}

func TestSlopes(t *testing.T) {
	for _, a := range []float64{-6.2, -1, -0.2, 0.2, 0.21, 0.5, 3} {
		sin, cos := math.Sincos(a)
		s, v := slopes(a, sin, cos)
		// the closed form next to where the series takes over, and the series just below
		below, sb := slopes(math.Nextafter(a, 0), sin, cos)
		near(t, "sinc'", below, s, 1e-13)
		near(t, "versine'", sb, v, 1e-13)
		const h = 1e-5
		near(t, "sinc' by differences", s, (math.Sin(a+h)/(a+h)-math.Sin(a-h)/(a-h))/(2*h), 1e-9)
		near(t, "versine' by differences", v, ((1-math.Cos(a+h))/(a+h)-(1-math.Cos(a-h))/(a-h))/(2*h), 1e-9)
	}
	if s, v := slopes(0, 0, 1); s != 0 || v != 0.5 {
		t.Errorf("slopes at 0: %g %g", s, v)
	}
}

// Mirrored about x, the points move as the mirrored points.
func TestMirroredBoards(t *testing.T) {
	for seed := range uint64(30) {
		src := func(m bool) *fold.Folded { return place(t, divide(t, chain(rand.New(rand.NewPCG(seed, 1)), m))) }
		f, g := src(false), src(true)
		for i := range f.Tree.Bodies {
			b := &f.Tree.Bodies[i]
			p, z := somewhere(rand.New(rand.NewPCG(seed, 2)), b)
			at := image(f, i, p, z)
			at[0] = 130 - at[0]
			k := -1
			for n := range g.Tree.Bodies {
				if c := &g.Tree.Bodies[n]; c.Kind == b.Kind && image(g, n, flat.Pt{X: 130 - p.X, Y: p.Y}, z).Sub(at).Len() < 1e-9 {
					k = n
				}
			}
			if k < 0 {
				t.Fatalf("%s has no mirror image", b.Name)
			}
			on, _ := OnBody(f, i, image(f, i, p, z))
			of, _ := OnBody(g, k, at)
			for h, want := range on.Motions(f) {
				got := of.Motions(g)[h]
				want.Angle[0], want.Line[0] = -want.Angle[0], -want.Line[0]
				nearVec(t, b.Name+" by angle", got.Angle, want.Angle, 1e-9)
				nx, mx := Normal(f.Tree, h).X, Normal(g.Tree, h).X
				if (nx > 0) != (mx > 0) { // the normals are mirror images of each other
					nearVec(t, b.Name+" by line", got.Line, want.Line, 1e-9)
				} else {
					nearVec(t, b.Name+" by line", got.Line.Mul(-1), want.Line, 1e-9)
				}
			}
		}
	}
}
