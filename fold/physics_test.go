package fold

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/flat"
)

// randomBoard returns a board with notches, arcs, holes and up to four hinges at any angle; many are unusable.
func randomBoard(r *rand.Rand) spec {
	n := 5 + r.IntN(12)
	var out []flat.Vertex
	for i := range n {
		a := 2 * math.Pi * (float64(i) + 0.7*r.Float64()) / float64(n)
		rad := 12 + 25*r.Float64()
		v := flat.Vertex{P: flat.Pt{X: rad * math.Cos(a), Y: rad * math.Sin(a)}}
		switch r.IntN(6) {
		case 0:
			v.Round = 0.2 + r.Float64()
		case 1:
			m := flat.Pt{}
			if i > 0 {
				m = out[i-1].P.Mid(v.P)
				v.Via = &flat.Pt{X: m.X * 1.1, Y: m.Y * 1.1}
			}
		}
		if r.IntN(5) == 0 { // grid points make coincidences
			v.P.X, v.P.Y = math.Round(v.P.X), math.Round(v.P.Y)
		}
		out = append(out, v)
	}
	s := spec{outline: out}
	for range r.IntN(4) {
		s.cutouts = append(s.cutouts, disc(20*r.Float64()-10, 20*r.Float64()-10, 1+5*r.Float64()))
	}
	for i := range 1 + r.IntN(4) {
		a, off := math.Pi*r.Float64(), 40*r.Float64()-20
		if r.IntN(3) == 0 {
			a, off = math.Pi/2*float64(r.IntN(2)), math.Round(off)
		}
		sn, cs := math.Sincos(a)
		h := hinge(string(rune('a'+i)), off*cs-60*sn, off*sn+60*cs, off*cs+60*sn, off*sn-60*cs, 360*r.Float64()-180, 0.3+2*r.Float64())
		s.hinges = append(s.hinges, h)
	}
	return s
}

func TestRandomBoardsKeepTheirArea(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	usable, folded := 0, 0
	for range 4000 {
		s := randomBoard(r)
		outline, errs := flat.Build(s.outline)
		if errs != nil {
			continue
		}
		s.cutouts = cutoutsInside(outline, s.cutouts)
		tree, ps := Divide(s.design(t))
		if ps != nil {
			continue
		}
		usable++
		checkArea(t, tree)
		if tree.Foldable {
			folded++
			checkJoints(t, tree.place(t, r.Float64()))
		}
		if t.Failed() {
			t.Fatalf("board %d: %+v", usable, s)
		}
	}
	t.Logf("%d usable boards, %d of them fold", usable, folded)
	if usable < 800 || folded < 500 {
		t.Errorf("only %d usable boards, %d fold: the test has lost its subject", usable, folded)
	}
}

func cutoutsInside(outline flat.Loop, ls []flat.Loop) []flat.Loop {
	var out []flat.Loop
next:
	for _, l := range ls {
		if _, meets := flat.Meet(outline, l); meets || !outline.Contains(l[0].P) {
			continue
		}
		for _, o := range out {
			if _, meets := flat.Meet(o, l); meets || o.Contains(l[0].P) || l.Contains(o[0].P) {
				continue next
			}
		}
		out = append(out, l)
	}
	return out
}

// checkJoints demands that bend and flat agree along every joint of the tree, at several heights, to rounding.
func checkJoints(t testing.TB, f *Folded) {
	t.Helper()
	for _, j := range f.Tree.Joints {
		if !j.Tree {
			continue
		}
		for _, p := range []flat.Pt{j.P, j.Q, j.P.Mid(j.Q)} {
			for _, z := range []float64{-0.1, 0, 0.7} {
				a := f.BendPoint(j.Bend, p, z)
				b := Apply(f.BoardFromFlat(j.Flat), mgl64.Vec3{p.X, p.Y, z})
				if d := a.Sub(b).Len(); d > 1e-9 {
					t.Errorf("bend %s and flat %s are %g apart at %v", f.Tree.Bends[j.Bend].Name, f.Tree.Flats[j.Flat].Name, d, p)
				}
			}
		}
	}
}

func TestFlatPostureIsTheIdentityBitForBit(t *testing.T) {
	f := chain().divide(t).place(t, 0)
	for i := range f.Tree.Flats {
		if f.BoardFromFlat(i) != mgl64.Ident4() {
			t.Errorf("flat %d: %v", i, f.BoardFromFlat(i))
		}
	}
	b := f.Tree.Bends[1]
	p := b.Lines[0][0].Mid(b.Lines[0][1])
	if got := f.BendPoint(1, p, 0.1); got.Sub(mgl64.Vec3{p.X, p.Y, 0.1}).Len() > 1e-14 {
		t.Errorf("%v moved to %v", p, got)
	}
}

func TestFoldingKeepsLengths(t *testing.T) {
	// the neutral surface is moved without stretch: finite differences of the image have the metric of the plane
	const eps = 1e-5
	for _, at := range []float64{0.1, 0.5, 1} {
		f := chain().divide(t).place(t, at)
		for i, b := range f.Tree.Bends {
			mid := b.Lines[0][0].Mid(b.Lines[0][1])
			for _, k := range []float64{-0.4, -0.1, 0.3} {
				p := mid.Add(b.Dir.Mul(k * b.Width)).Add(b.Dir.Left().Mul(3 * k))
				dx := f.BendPoint(i, p.Add(flat.Pt{X: eps}), 0).Sub(f.BendPoint(i, p.Sub(flat.Pt{X: eps}), 0)).Mul(1 / (2 * eps))
				dy := f.BendPoint(i, p.Add(flat.Pt{Y: eps}), 0).Sub(f.BendPoint(i, p.Sub(flat.Pt{Y: eps}), 0)).Mul(1 / (2 * eps))
				near(t, "stretch along x", dx.Dot(dx), 1, 1e-8)
				near(t, "stretch along y", dy.Dot(dy), 1, 1e-8)
				near(t, "shear", dx.Dot(dy), 0, 1e-8)
			}
		}
	}
}

func TestRollingGivesTheSameMotion(t *testing.T) {
	// an independent way: carry a frame along a line across the board in small steps, turned by the local curvature
	tree := chain().divide(t)
	f := tree.place(t, 0.8)
	const y, n = 10.0, 4000
	cuts := []float64{1, 89} // the curvature jumps on the tangent lines
	for _, b := range tree.Bends {
		x0 := b.Origin.X + (b.Origin.Y-y)*b.Dir.Y/b.Dir.X
		cuts = append(cuts, x0, x0+b.Width/b.Dir.X)
	}
	cuts = sortedUnique(cuts)
	pos, rot := mgl64.Vec3{1, y, 0}, mgl64.Ident3()
	for c := 1; c < len(cuts); c++ {
		step := (cuts[c] - cuts[c-1]) / n
		half := mgl64.Ident3()
		for _, b := range tree.Bends {
			if s := b.Station(flat.Pt{X: (cuts[c-1] + cuts[c]) / 2, Y: y}); s > 0 && s < b.Width {
				k := 0.8 * radians(tree.Design.Hinges[b.Hinge].Angle) / b.Width
				half = turnAbout(mgl64.Vec3{b.Dir.Y, -b.Dir.X, 0}, k*b.Dir.X*step/2)
			}
		}
		for range n {
			rot = rot.Mul3(half)
			pos = pos.Add(rot.Mul3x1(mgl64.Vec3{step, 0, 0}))
			rot = rot.Mul3(half)
		}
	}
	want := Apply(f.BoardFromFlat(3), mgl64.Vec3{89, y, 0})
	if d := pos.Sub(want).Len(); d > 1e-6 {
		t.Errorf("rolled to %v, placed at %v: %g apart", pos, want, d)
	}
}

// turnAbout returns the rotation about a unit axis by an angle in radians.
func turnAbout(a mgl64.Vec3, angle float64) mgl64.Mat3 {
	s, c := math.Sincos(angle)
	k := mgl64.Mat3{0, a[2], -a[1], -a[2], 0, a[0], a[1], -a[0], 0}
	return mgl64.Ident3().Add(k.Mul(s)).Add(k.Mul3(k).Mul(1 - c))
}

// mirrored returns the chain mirrored in x; turned over if angles change sign as well.
func mirrored(turnOver bool) spec {
	s := chain()
	for i := range s.outline {
		s.outline[i].P.X *= -1
	}
	for i := range s.hinges {
		s.hinges[i].Line[0].X *= -1
		s.hinges[i].Line[1].X *= -1
		if turnOver {
			s.hinges[i].Angle *= -1
		}
	}
	s.base = flat.Pt{X: -1, Y: 1}
	return s
}

func TestMirroredTurnedOverRebasedReversed(t *testing.T) {
	want := chain().divide(t).place(t, 1).image(t, 85, 7, 0.3)
	m := mirrored(false).divide(t).place(t, 1).image(t, -85, 7, 0.3)
	nearVec(t, "mirrored", mgl64.Vec3{-m[0], m[1], m[2]}, want)
	o := mirrored(true).divide(t).place(t, 1).image(t, -85, 7, -0.3)
	nearVec(t, "turned over", mgl64.Vec3{-o[0], o[1], -o[2]}, want)

	s := chain()
	s.base = flat.Pt{X: 89, Y: 1}
	tree := s.divide(t)
	f := tree.place(t, 1)
	inv := Invert(f.BoardFromFlat(tree.flatAt(t, 1, 1)))
	nearVec(t, "re-based", Apply(inv, f.image(t, 85, 7, 0.3)), want)

	r := chain()
	for i := range r.hinges {
		r.hinges[i].Line[0], r.hinges[i].Line[1] = r.hinges[i].Line[1], r.hinges[i].Line[0]
	}
	if got := r.divide(t).place(t, 1).image(t, 85, 7, 0.3); got != want {
		t.Errorf("reversed lines: %v, want %v bit for bit", got, want)
	}
}

func TestPlacementQuarterTurnsAreExact(t *testing.T) {
	m := RigidMotion([3]float64{90, 0, -90}, mgl64.Vec3{1, 2, 3})
	if got := Apply(m, mgl64.Vec3{10, 0, 0}); got != (mgl64.Vec3{1, -8, 3}) {
		t.Errorf("x goes to %v", got)
	}
	if got := Apply(m, mgl64.Vec3{0, 10, 0}); got != (mgl64.Vec3{1, 2, 13}) {
		t.Errorf("y goes to %v", got)
	}
}

// Check values of bend allowance and fold map: computed from BA = angle*(R + K t) and the fold map of a hinge-centred
// cylinder, K = 0.5 for a symmetric sheet; no published table for flex.
func TestCheckValues(t *testing.T) {
	allowance := func(angle, r, thick float64) float64 {
		return one(box(0, 0, 60, 10), hinge("n", 30, 0, 30, 10, angle, r)).withThickness(thick).divide(t).Bends[0].Width
	}
	near(t, "90, R 3, t 0.3", allowance(90, 3, 0.3), 4.94801, 1e-5)
	near(t, "180, R 1.5, t 0.2", allowance(180, 1.5, 0.2), 5.02655, 1e-5)
	near(t, "45, R 2, t 0.15", allowance(45, 2, 0.15), 1.62970, 1e-5)
	near(t, "135, R 1, t 0.11", allowance(135, 1, 0.11), 2.48579, 1e-5)
	// sheet examples published for K 0.5: 90 degrees, R 0.25 in, T 0.025 in gives 0.413 in (AC 43.13 worked example, to three decimals)
	near(t, "90, R 0.25, T 0.025 in", allowance(90, 0.25*25.4, 0.025*25.4)/25.4, 0.4123, 1e-4)

	fold := func(angle, r, thick, x float64) mgl64.Vec3 {
		return one(box(-20, 0, 60, 10), hinge("n", 0, 0, 0, 10, angle, r)).withThickness(thick).from(flat.Pt{X: -15, Y: 5}).divide(t).place(t, 1).image(t, x, 5, 0)
	}
	p := fold(90, 3, 0.3, 20)
	near(t, "90: x", p[0], 0.67600, 1e-5)
	near(t, "90: z", p[2], 20.67600, 1e-5)
	p = fold(135, 2.0, 0.2, 15)
	near(t, "135: x", p[0], -9.84630, 1e-5)
	near(t, "135: z", p[2], 12.44214, 1e-5)
}

func (s spec) withThickness(v float64) spec { s.flex = [2]float64{-v / 2, v / 2}; return s }

func BenchmarkDivide(b *testing.B) {
	s := chain()
	d := s.design(b)
	for b.Loop() {
		Divide(d)
	}
}

func BenchmarkPlace(b *testing.B) {
	tree := chain().divide(b)
	angles := tree.Angles()
	for b.Loop() {
		tree.Place(angles)
	}
}
