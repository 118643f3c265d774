package bending

import (
	"math"
	"testing"

	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// TestStrainIsStretch folds a board and measures how far neighbouring points at the heights of all interfaces move apart: that is
// the strain that the formula gives, for every worked stack, bent either way and at other angles than the hinge's own.
func TestStrainIsStretch(t *testing.T) {
	for name, s := range map[string]stackup.Stackup{"A": stackA, "B": stackB, "C": stackC, "C turned": turned(stackC)} {
		for _, c := range []struct{ own, at float64 }{{90, 90}, {-90, -90}, {180, 120}, {-120, -30}, {60, -45}} {
			tree := strip(t, s, c.own, 1.2, 1, 1)
			f, err := tree.Place([]float64{c.at})
			if err != nil {
				t.Fatal(err)
			}
			flex := At(tree, 0, c.at)
			bent, ok := flex.Strains()
			if !ok {
				t.Fatal(name, c)
			}
			b := &tree.Bends[0]
			stretch := func(z float64) float64 {
				const step = 1e-4
				p := b.Middle()
				q, r := p.Add(b.Dir.Mul(step)), p.Sub(b.Dir.Mul(step))
				return f.BendPoint(0, q, z).Sub(f.BendPoint(0, r, z)).Len()/(2*step) - 1
			}
			z := b.Faces[1]
			for i, l := range s.Layers {
				upper, lower := bent.Layers[i].Inner, bent.Layers[i].Outer
				if flex.Inside == stackup.Bottom {
					upper, lower = lower, upper
				}
				near(t, name+" upper face", stretch(z), upper, 1e-7)
				z -= l.Thickness
				near(t, name+" lower face", stretch(z), lower, 1e-7)
			}
			near(t, "faces", z, b.Faces[0], 1e-12)
		}
	}
}

// Worked stacks: strains in copper at an inside radius of 1 mm, computed apart from the transformed section (to 1e-4 %), and
// those of stack A at the ratios that are asked for.
func TestWorkedStrains(t *testing.T) {
	at := func(s stackup.Stackup, radius float64) float64 {
		strain, ok := Flex{Stack: s, Angle: 90, Drawn: radius}.Copper()
		if !ok {
			t.Fatal("no strain")
		}
		return strain
	}
	near(t, "A", at(stackA, 1), 0.028228, 5e-7)
	near(t, "B", at(stackB, 1), 0.008982, 5e-7)
	near(t, "C", at(stackC, 1), 0.017227, 5e-7)
	for ratio, want := range map[float64]float64{6: 0.02914, 10: 0.01804, 12: 0.01516, 20: 0.00924, 24: 0.00773, 100: 0.001885} {
		near(t, "A at a ratio", at(stackA, ratio*0.161), want, 5e-6)
	}
	if _, ok := (Flex{Stack: stackup.Stackup{Plain: true, Layers: []stackup.Layer{{Thickness: 0.2, Modulus: 1}}}, Angle: 90, Drawn: 1}).Copper(); ok {
		t.Error("strain in the copper of a plain sheet")
	}
}

// Worked stiffness of stack A, 2.6960 N.mm per mm: moment and squeezing force of a wide strip, Poisson's ratio 0.34.
func TestForces(t *testing.T) {
	f := Flex{Stack: stackA, Angle: 180, Drawn: 1, Width: 12}
	wide := 2.6960 * 12 / (1 - 0.34*0.34)
	moment, ok := f.Moment()
	force, okForce := f.Squeeze()
	if !ok || !okForce {
		t.Fatal("not known")
	}
	near(t, "moment", moment, wide/1.0805, 1e-3)
	near(t, "force", force, wide*2.87108/(2.161*2.161), 1e-3)
	f.Angle = 90
	if _, ok := f.Squeeze(); ok {
		t.Error("a right angle between plates")
	}
}

// The free shape of a U between level clamps, by the published kind of table: least radius over the distance D of the neutral
// surfaces, computed three ways (TwoPlates: the constant of two-point bending of fibres, recalled).
func TestFreeU(t *testing.T) {
	inner := stackA.Inner(stackup.Top)
	for share, want := range map[float64]float64{math.Pi / 2: 0.5, 1.70: 0.457104, 1.80: 0.438663, 2: 0.421168, 2.18844: 0.417313, 2.5: 0.423970} {
		const radius = 1.5
		d := 2 * (radius + inner)
		run := (share - math.Pi/2) * d / 2
		tree := strip(t, stackA, 180, radius, run, run)
		f := At(tree, 0, 180)
		if f.Free == nil {
			t.Fatalf("L/D %g: no free shape", share)
		}
		near(t, "least radius", f.Free.Radius, want*d-inner, 2e-6*d)
		near(t, "run-out", f.Free.Near, run, 1e-9)
		if f.Shaped || f.Radius() != f.Drawn {
			t.Error("flex that is held has its free shape")
		}
		g := At(strip(t, stackA, 180, radius, run, run, free), 0, 180)
		near(t, "left to itself", g.Ratio(), g.Free.Radius/0.161, 1e-9)
		near(t, "between", f.Between(run, run).Free.Radius, f.Free.Radius, 1e-9)
	}
}

// A cylinder without run-outs is its own free shape, at every angle.
func TestFreeCylinder(t *testing.T) {
	for _, angle := range []float64{30, 90, -90, 180, 250} {
		f := At(strip(t, stackB, angle, 2, 0, 0, free), 0, angle)
		if f.Free == nil || !f.Shaped {
			t.Fatalf("%g: %+v", angle, f.Free)
		}
		near(t, "radius", f.Radius(), 2, 1e-9)
		near(t, "of drawn", f.Free.OfDrawn, 1, 1e-9)
	}
}

// Seen in a mirror the run-outs change places, turned over top and bottom do: nothing else changes.
func TestMirrored(t *testing.T) {
	a := At(strip(t, stackB, 110, 1.5, 0.7, 2.2, free), 0, 110)
	for name, b := range map[string]Flex{
		"mirrored":    At(strip(t, stackB, 110, 1.5, 2.2, 0.7, free), 0, 110),
		"turned over": At(strip(t, turned(stackB), -110, 1.5, 0.7, 2.2, free), 0, -110),
	} {
		strainA, _ := a.Copper()
		strainB, _ := b.Copper()
		momentA, _ := a.Moment()
		momentB, _ := b.Moment()
		springA, _ := a.Springback()
		springB, _ := b.Springback()
		near(t, name+" radius", b.Radius(), a.Radius(), 1e-8)
		near(t, name+" ratio", b.Ratio(), a.Ratio(), 1e-7)
		near(t, name+" strain", strainB, strainA, 1e-9)
		near(t, name+" moment", momentB, momentA, 1e-9)
		near(t, name+" springback", springB.Low, springA.Low, 1e-9)
		near(t, name+" wider", b.Free.Wider, a.Free.Wider, 1e-8)
	}
}

// Loose plies are judged each by its own thickness: 50 and 100 um, 30 um apart, about 1 mm.
func TestLoosePlies(t *testing.T) {
	thin, thick := laminate("P", 50), laminate("P", 100)
	s := stackup.Stackup{Plies: []stackup.Stackup{thin, thick}, Gap: 0.03}
	f := Flex{Stack: s, Angle: 90, Drawn: 1}
	near(t, "thin ply inside", f.Ratio(), 1.08/0.1, 1e-12)
	f.Inside = stackup.Bottom
	near(t, "thick ply inside", f.Ratio(), 1/0.1, 1e-12)
	near(t, "radius", RatioRadius(s, stackup.Top, 10.8), 1, 1e-12)
	near(t, "radius", RatioRadius(s, stackup.Bottom, 10), 1, 1e-12)
	near(t, "bonded", RatioRadius(stackA, stackup.Top, 10), 1.61, 1e-12)
	one, _ := Flex{Stack: thick, Angle: 90, Drawn: 1}.Moment()
	other, _ := Flex{Stack: thin, Angle: 90, Drawn: 1.13}.Moment()
	both, ok := f.Moment()
	near(t, "moment", both, one+other, 1e-12)
	if !ok {
		t.Error("no moment of loose plies")
	}
	pair := stackup.Loose([]stackup.Stackup{stackA, stackA}, 0.05, false)
	strain, _ := Flex{Stack: pair, Angle: 90, Drawn: 1}.Copper()
	alone, _ := Flex{Stack: stackA, Angle: 90, Drawn: 1}.Copper()
	near(t, "strain of the inner ply", strain, alone, 1e-12)
}

// A wider bend area about the written line takes as much from both run-outs, from the far one where a tangent line is written.
func TestWidened(t *testing.T) {
	tree := strip(t, stackA, 90, 1.5, 2, 3)
	d := Of(tree, 0)
	wide := d.Widened(d.Width + 1)
	near(t, "near", wide.Near, 1.5, 1e-9)
	near(t, "far", wide.Far, 2.5, 1e-9)
	near(t, "radius", wide.Cylinder(90).Drawn, 1.5+2/math.Pi, 1e-12)
	near(t, "widest", d.Widest(), d.Width+4, 1e-9)

	h := &tree.Design.Hinges[0]
	h.Line = [2]flat.Pt{{X: 22}, {X: 22, Y: 10}}
	h.Tangent, h.Into = true, flat.Pt{X: 23, Y: 5}
	d = Of(tree, 0)
	wide = d.Widened(d.Width + 1)
	near(t, "near stays", wide.Near, 2, 1e-9)
	near(t, "far gives", wide.Far, 2, 1e-9)
	near(t, "widest", d.Widest(), d.Width+3, 1e-9)
}
