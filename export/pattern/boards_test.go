package pattern

import (
	"math"
	"strconv"
	"testing"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// Boards for tests, all of them ours.

func corners(xy ...float64) []flat.Vertex {
	var out []flat.Vertex
	for i := 0; i < len(xy); i += 2 {
		out = append(out, flat.Vertex{P: flat.Pt{X: xy[i], Y: xy[i+1]}})
	}
	return out
}

func build(t testing.TB, items []flat.Vertex) flat.Loop {
	t.Helper()
	l, errs := flat.Build(items)
	if errs != nil {
		t.Fatalf("outline: %v", errs)
	}
	return l
}

func rect(x0, y0, x1, y1 float64) flat.Loop {
	return draw.Rectangle(flat.Box{Min: flat.Pt{X: x0, Y: y0}, Max: flat.Pt{X: x1, Y: y1}})
}

func at(x, y float64) flat.Pt { return flat.Pt{X: x, Y: y} }

func height(h float64) *float64 { return &h }

func box(name string, side fold.Side, x, y, w, h, high, turn float64) fold.Component {
	return fold.Component{Name: name, Side: side, At: at(x, y), Size: &[2]float64{w, h}, Height: height(high), Turn: turn}
}

func bend(name string, x0, y0, x1, y1, angle, radius float64) fold.Hinge {
	h := fold.Hinge{Name: name, Line: [2]flat.Pt{at(x0, y0), at(x1, y1)}, Angle: angle, Written: 1, Radius: radius}
	if angle < 0 {
		h.Written = -1
	}
	return h
}

// base returns a design with a plain flex of 0.2 and a rigid stack-up of 1.2.
func base(name string, outline flat.Loop) *fold.Design {
	return &fold.Design{
		Name: name, Outline: outline, Flex: "film",
		Stackups: []stackup.Stackup{
			{Name: "film", Plain: true, Layers: []stackup.Layer{{Thickness: 0.2, Modulus: 1}}, CopperLayers: -1},
			{Name: "four", Rigid: true, Layers: []stackup.Layer{{Thickness: 0.5, Modulus: 22}, {Thickness: 0.2, Modulus: 1}, {Thickness: 0.5, Modulus: 22}},
				Embeds: []stackup.Embed{{Stackup: "film", Bottom: 0.5}}, CopperLayers: -1},
		},
		Loop: fold.DefaultLoop,
	}
}

func divide(t testing.TB, d *fold.Design) *fold.Tree {
	t.Helper()
	tree, problems := fold.Divide(d)
	for _, p := range problems {
		t.Fatalf("divide: %s (%s)", p.What, p.Hint)
	}
	return tree
}

// strip is 80 by 20 with one bend of half a turn, and nothing else.
func strip80(t testing.TB) *fold.Design {
	d := base("strip", build(t, corners(0, 0, 80, 0, 80, 20, 0, 20)))
	d.Hinges = []fold.Hinge{bend("neck", 40, -1, 40, 21, 180, 1.5)}
	return d
}

// beacon has two rigid sections, a neck, cutouts, a stiffener and components on both sides.
func beacon(t testing.TB) *fold.Design {
	items := corners(0, 0, 30, 0, 30, 6, 48, 6, 48, 0, 76, 0, 76, 24, 48, 24, 48, 18, 30, 18, 30, 24)
	items[6].Round = 2
	items = append(items, flat.Vertex{P: at(0, 24), Via: &flat.Pt{X: 15, Y: 25}})
	d := base("trail-beacon", build(t, items))
	d.Title = fold.Title{Name: "Trail beacon", Number: "TB-100", Revision: "B", Company: "Example", Drawn: "someone", Date: "2026-11-25"}
	hole, _ := flat.Circle(at(5, 12), 3.2)
	slot, _ := flat.Rect(10, 3, 16, 5, 0.5)
	d.Cutouts = []flat.Loop{hole, slot, build(t, corners(20, 3, 24, 3, 22, 6))}
	d.Sections = []fold.Section{{Name: "main", Stackup: "four", Area: rect(0, 0, 30, 26)}, {Name: "wing", Stackup: "four", Area: rect(50, 0, 76, 24)}}
	d.Base.Section = "main"
	d.Hinges = []fold.Hinge{bend("neck", 39, 5, 39, 19, 180, 1.5)}
	d.Stiffeners = []fold.Stiffener{{Name: "pad", Side: fold.Bottom, Material: "polyimide", Thickness: 0.2, Adhesive: 0.05, Area: rect(43, 8, 48, 16)}}
	d.Components = []fold.Component{
		box("U1", fold.Top, 17, 14, 7, 7, 0.9, 45),
		{Name: "C4", Side: fold.Bottom, At: at(60, 6), Diameter: 5, Height: height(3.5), Standoff: 0.1},
		{Name: "J1", Side: fold.Top, At: at(74, 14), Boxes: [][6]float64{{-2, -4, 0, 2, 4, 2}, {1, -3, 0, 3, 3, 1.2}}, Below: 0.8},
		{Name: "L9", Side: fold.Top, At: at(60, 16), Diameter: 6},
	}
	return d
}

// lamp is a hub with five petals of unequal length on oblique hinges, and a chain of flats with mixed signs.
func lamp(t testing.TB) *fold.Design {
	const n, apothem, half = 6, 18.0, 7.0
	var items []flat.Vertex
	reach := []float64{26, 22, 30, 24, 28, 90}
	var hinges []fold.Hinge
	for i := range n {
		a := 2 * math.Pi * float64(i) / n
		u := at(math.Cos(a), math.Sin(a))
		v := u.Left()
		for _, p := range [][2]float64{{apothem, -half}, {apothem + reach[i], -half}, {apothem + reach[i], half}, {apothem, half}} {
			items = append(items, flat.Vertex{P: u.Mul(p[0]).Add(v.Mul(p[1]))})
		}
		if i < n-1 {
			items[len(items)-2].Round, items[len(items)-3].Round = 3, 3
		}
		place := func(name string, d, angle float64) {
			p, q := u.Mul(d).Add(v.Mul(-half-1)), u.Mul(d).Add(v.Mul(half+1))
			hinges = append(hinges, bend(name, p.X, p.Y, q.X, q.Y, angle, 2))
		}
		if i < n-1 {
			place("petal-"+strconv.Itoa(i+1), apothem+5, 60)
			continue
		}
		for k, angle := range []float64{-90, 90, 45, -120, 90} {
			place("link-"+strconv.Itoa(k+1), apothem+8+16*float64(k), angle)
		}
	}
	d := base("lamp", build(t, items))
	d.Title = fold.Title{Name: "Petal lamp", Number: "PL-7", Revision: "A"}
	hub, _ := flat.Circle(at(0, 0), 30)
	d.Sections = []fold.Section{{Name: "hub", Stackup: "four", Area: hub}}
	d.Hinges = hinges
	d.Base.Section = "hub"
	for i := range n - 1 {
		a := 2 * math.Pi * float64(i) / n
		p := at(math.Cos(a), math.Sin(a)).Mul(apothem + 15)
		d.Components = append(d.Components, box("LED"+strconv.Itoa(i+1), fold.Top, p.X, p.Y, 3.5, 3.5, 0.7, 60*float64(i)))
	}
	d.Components = append(d.Components, box("U1", fold.Top, 0, 0, 5, 5, 0.9, 0), box("C1", fold.Bottom, 8, 4, 1.6, 0.8, 0.8, 0))
	d.Datum = at(0, 0)
	return d
}

// comb has two arms bent by one hinge, and a hole in each.
func comb(t testing.TB) *fold.Design {
	d := base("comb", build(t, corners(0, 0, 60, 0, 60, 10, 20, 10, 20, 16, 60, 16, 60, 30, 0, 30)))
	h1, _ := flat.Circle(at(40, 5), 2)
	h2, _ := flat.Circle(at(50, 23), 6)
	d.Cutouts = []flat.Loop{h1, h2}
	d.Hinges = []fold.Hinge{bend("both", 40, -1, 40, 31, 90, 3), bend("tip", 54, 15, 54, 31, -45, 2)}
	return d
}

// chain is a narrow strip with many hinges close to each other, some oblique.
func chain(t testing.TB) *fold.Design {
	d := base("chain", build(t, corners(0, 0, 150, 0, 150, 12, 0, 12)))
	for i := range 9 {
		x, lean := 15+15*float64(i), float64(i%3-1)
		angle := 90.0
		if i%2 == 1 {
			angle = -135
		}
		d.Hinges = append(d.Hinges, bend("fold-"+strconv.Itoa(i+1), x-lean, -1, x+lean, 13, angle, 1.2))
	}
	return d
}

// tooNear has bend areas that overlap.
func tooNear(t testing.TB) *fold.Design {
	d := beacon(t)
	d.Hinges = append(d.Hinges, bend("second", 41, 5, 41, 19, -90, 1.5))
	return d
}

// dense has a rigid board full of small parts.
func dense(t testing.TB) *fold.Design {
	d := base("dense", build(t, corners(0, 0, 100, 0, 100, 60, 0, 60)))
	d.Sections = []fold.Section{{Name: "main", Stackup: "four", Area: rect(0, 0, 70, 60)}}
	d.Hinges = []fold.Hinge{bend("lid", 80, -1, 80, 61, 180, 3)}
	for i := range 300 {
		side := fold.Top
		if i%3 == 0 {
			side = fold.Bottom
		}
		x, y := 3+3.3*float64(i%20), 3+3.7*float64(i/20)
		d.Components = append(d.Components, box("R"+strconv.Itoa(i+1), side, x, y, 1.6, 0.8, 0.5, 90*float64(i%2)))
	}
	return d
}

// mils is written in mil, with names that need care.
func mils(t testing.TB) *fold.Design {
	d := strip80(t)
	d.Units = fold.Mil
	d.Title.Name = "A <b> & \"c\" \x00\x1b[31m\u202e αβγ"
	d.Hinges[0].Angle, d.Hinges[0].Written = -90, 1
	return d
}

// gear has 10 000 corners.
func gear(t testing.TB) *fold.Design {
	var items []flat.Vertex
	for i := range 10000 {
		a := 2 * math.Pi * float64(i) / 10000
		items = append(items, flat.Vertex{P: at(math.Cos(a), math.Sin(a)).Mul(60 + 2*math.Sin(200*a))})
	}
	d := base("gear", build(t, items))
	d.Sections = []fold.Section{{Name: "main", Stackup: "four", Area: rect(-70, -70, 5, 70)}}
	d.Hinges = []fold.Hinge{bend("neck", 20, -80, 20, 80, 90, 2)}
	return d
}

// tiny is smaller than its own lettering, covered by a section, and measures from a far datum.
func tiny(t testing.TB) *fold.Design {
	d := base("tiny", build(t, corners(0, 0, 4, 0, 4, 1, 0, 1)))
	d.Sections = []fold.Section{{Name: "speck", Stackup: "four", Area: rect(0, 0, 2, 1)}}
	d.Hinges = []fold.Hinge{bend("fold", 3, -1, 3, 2, 30, 0.5)}
	d.Datum = at(-300, 20)
	return d
}

// board is a board for tests.
type board struct {
	name string
	make func(testing.TB) *fold.Design
}

var boards = []board{
	{"strip", strip80}, {"beacon", beacon}, {"lamp", lamp}, {"comb", comb}, {"chain", chain}, {"too-near", tooNear}, {"dense", dense}, {"mils", mils}, {"tiny", tiny},
}
