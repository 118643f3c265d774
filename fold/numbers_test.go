package fold

// Numbers worked out with an independent prototype (polygon booleans for areas, small-step rolling for motions).

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

func strip60(angle float64) spec {
	return spec{outline: box(0, 0, 60, 10), flex: [2]float64{-0.15, 0.15}, hinges: []Hinge{hinge("n", 30, 0, 30, 10, angle, 3)}, base: flat.Pt{X: 1, Y: 1}}
}

func TestOneBend(t *testing.T) {
	for _, c := range []struct {
		angle, width float64
		end          mgl64.Vec3
	}{
		{90, 4.9480084294, mgl64.Vec3{30.6759957853, 5, 30.6759957853}},
		{-90, 4.9480084294, mgl64.Vec3{30.6759957853, 5, -30.6759957853}},
		{180, 9.8960168588, mgl64.Vec3{0, 5, 6.3}},
		{-45, 2.4740042147, mgl64.Vec3{51.3288951105, 5, -21.2611244964}},
		{270, 14.8440252882, mgl64.Vec3{19.4279873559, 5, -19.4279873559}},
		{360, 19.7920337176, mgl64.Vec3{40.2079662824, 5, 0}},
	} {
		tree := strip60(c.angle).divide(t)
		near(t, "width", tree.Bends[0].Width, c.width, 1e-9)
		nearVec(t, "end", tree.place(t, 1).image(t, 60, 5, 0), c.end)
	}
	tree := strip60(90).divide(t)
	near(t, "flat", tree.Flats[0].Area, 275.2599578530, 1e-9)
	near(t, "flat", tree.Flats[1].Area, 275.2599578530, 1e-9)
	near(t, "bend", tree.Bends[0].Area, 49.4800842940, 1e-9)
	f := tree.place(t, 1)
	nearRows(t, "T", f.BoardFromFlat(1), 1e-8, 0, 0, -1, 30.67599579, 0, 1, 0, 0, 1, 0, 0, -29.32400421)
	nearVec(t, "in the bend", f.image(t, 30, 5, 0.15), mgl64.Vec3{29.6473161289, 5, 1.0286796564})
	nearVec(t, "part's seat", f.image(t, 31, 5, 0.15), mgl64.Vec3{30.2034967247, 5, 1.7968596823})
	s := tree.Bends[0].Station(flat.Pt{X: 31, Y: 5})
	near(t, "part turned", 90*s/tree.Bends[0].Width, 63.1891363535, 1e-9)
	nearVec(t, "in the bend, down", strip60(-90).divide(t).place(t, 1).image(t, 30, 5, 0.15), mgl64.Vec3{29.8594481632, 5, -0.8165476221})
	half := strip60(180).divide(t).place(t, 1)
	nearRows(t, "T180", half.BoardFromFlat(1), 1e-9, -1, 0, 0, 60, 0, 1, 0, 0, 0, 0, -1, 6.3)
	nearVec(t, "in the bend, 180", half.image(t, 30, 5, 0.15), mgl64.Vec3{28.0519915706, 5, 3.15})
}

func chain() spec {
	return spec{outline: box(0, 0, 90, 20), base: flat.Pt{X: 1, Y: 1}, hinges: []Hinge{
		hinge("a", 18, -2, 24, 22, 70, 1.4), hinge("b", 45, 25, 40, -5, -115, 2.0), hinge("c", 68, 0, 70, 20, 200, 0.8)}}
}

func TestChainOfObliqueBends(t *testing.T) {
	tree := chain().divide(t)
	for i, want := range []float64{401.1100357492, 368.3789316565, 455.6962804865, 388.4273845792} {
		near(t, "flat", tree.Flats[i].Area, want, 1e-9)
	}
	for i, want := range []float64{37.7799285016, 85.4622081854, 63.1452308416} {
		near(t, "bend", tree.Bends[i].Area, want, 1e-9)
	}
	for i, want := range []float64{1.8325957146, 4.2149701436, 3.1415926536} {
		near(t, "width", tree.Bends[i].Width, want, 1e-9)
	}
	f := tree.place(t, 1)
	nearRows(t, "T2", f.BoardFromFlat(1), 1e-8, 0.3807248408, 0.1548187898, -0.9116357485, 11.63106936,
		0.1548187898, 0.9612953025, 0.2279089371, -2.90776734, 0.9116357485, -0.2279089371, 0.3420201433, -16.7393299)
	nearRows(t, "T4", f.BoardFromFlat(3), 1e-8, -0.8681505847, 0.258125715, -0.4238934744, 107.8970828,
		0.2634790532, 0.963514259, 0.0471069126, -16.05250134, 0.4205869123, -0.07079115758, -0.9044861863, -25.19519722)
	nearVec(t, "far end", f.image(t, 89, 1, 0.1), mgl64.Vec3{30.8474171294, 8.3653593536, 12.0757982049})
	nearVec(t, "in b", f.image(t, 42.5, 10, 0), mgl64.Vec3{30.1281146341, 13.0653224703, 19.0786978063})
	nearVec(t, "in b", f.image(t, 43, 3, -0.1), mgl64.Vec3{30.1418320940, 6.0667647776, 19.2286982009})
	nearVec(t, "at 0.37", tree.place(t, 0.37).image(t, 89, 1, 0.1), mgl64.Vec3{76.8208721103, 2.2687546244, 19.2504211807})
}

// stackB is the single-sided laminate 25 PI, 13 adhesive, 18 copper, 25 adhesive, 25 PI (um; E 2.5, 0.5, 117, 0.5, 2.5 GPa).
func stackB() []stackup.Layer {
	l := func(t, e float64) stackup.Layer { return stackup.Layer{Thickness: t / 1000, Modulus: e} }
	return []stackup.Layer{l(25, 2.5), l(13, 0.5), l(18, 117), l(25, 0.5), l(25, 2.5)}
}

func TestAsymmetricStack(t *testing.T) {
	// the published check to 1e-6: rho from the neutral surface at 47.408 um from the first face
	for _, c := range []struct{ angle, rho, width, x float64 }{
		{90, 1.047408, 1.6452646391, 20.2247756805}, {-90, 1.058592, 1.6628324252, 20.2271757874}} {
		tree := spec{outline: box(0, 0, 40, 10), layers: stackB(), base: flat.Pt{X: 1, Y: 1}, hinges: []Hinge{hinge("n", 20, 0, 20, 10, c.angle, 1)}}.divide(t)
		near(t, "rho", tree.Hinges[0].NeutralRadius, c.rho, 1e-6)
		near(t, "width", tree.Bends[0].Width, c.width, 1e-6)
		near(t, "x", tree.place(t, 1).image(t, 40, 5, 0)[0], c.x, 1e-6)
		near(t, "volume", tree.Bodies[2].Volume, math.Pi/2*10*0.106*1.053, 1e-9)
	}
}

func TestRaisedNeutralSurface(t *testing.T) {
	// z_S 0.5: a second flexible stack-up, 0.5 above the reference inside a rigid one that contains both
	s := spec{outline: box(0, 0, 40, 10), base: flat.Pt{X: 1, Y: 1}, hinges: []Hinge{hinge("n", 20, 0, 20, 10)}}
	d := s.design(t)
	d.Stackups = append(d.Stackups, stackup.Stackup{Name: "upper", Layers: plain(0.2)},
		stackup.Stackup{Name: "both", Rigid: true, Layers: plain(0.7), Embeds: []stackup.Embed{{Stackup: "flex", Bottom: 0}, {Stackup: "upper", Bottom: 0.5}}})
	d.Sections = []Section{{Name: "arm", Stackup: "upper", Area: rect(-1, -1, 41, 11)}}
	tree, ps := Divide(d)
	if ps != nil {
		t.Fatal(ps)
	}
	near(t, "z_S", tree.Bends[0].Height, 0.5, 1e-12)
	nearRows(t, "T", tree.place(t, 1).BoardFromFlat(1), 1e-8, 0, 0, -1, 20.84336294, 0, 1, 0, 0, 1, 0, 0, -19.15663706)
	nearRows(t, "T at z 0", s.divide(t).place(t, 1).BoardFromFlat(1), 1e-8, 0, 0, -1, 20.34336294, 0, 1, 0, 0, 1, 0, 0, -19.65663706)
}

func TestAreasWithArcs(t *testing.T) {
	arcTo := func(x, y, vx, vy float64) flat.Vertex {
		return flat.Vertex{P: flat.Pt{X: x, Y: y}, Via: &flat.Pt{X: vx, Y: vy}}
	}
	cap9 := append(pts(0, 0, 30, 0), append([]flat.Vertex{arcTo(30, 10, 35, 5)}, pts(0, 10)...)...)
	arcs12 := []flat.Vertex{{P: flat.Pt{}}, {P: flat.Pt{X: 18}}, arcTo(22, 0, 20, 1.5), {P: flat.Pt{X: 40}}, {P: flat.Pt{X: 40, Y: 10}}, {P: flat.Pt{X: 22, Y: 10}}, arcTo(18, 10, 20, 8.5), {P: flat.Pt{Y: 10}}}
	b := flat.Pt{X: 1, Y: 1}
	one := []Hinge{hinge("n", 20, 0, 20, 10)}
	for _, c := range []struct {
		name         string
		s            spec
		bends, flats []float64
	}{
		{"hole d 1.5", spec{outline: box(0, 0, 40, 10), cutouts: []flat.Loop{disc(20, 5, 1.5)}, hinges: one, base: b}, []float64{23.3655953611}, []float64{187.4336293856, 187.4336293856}},
		{"hole d 6", spec{outline: box(0, 0, 40, 10), cutouts: []flat.Loop{disc(20, 5, 6)}, hinges: one, base: b}, []float64{5.2532385344, 5.2532385344}, []float64{180.6095945245, 180.6095945245}},
		{"hole touched", spec{outline: box(0, 0, 40, 10), cutouts: []flat.Loop{disc(23, 5, 6)}, hinges: one, base: b}, []float64{20.8328594698}, []float64{187.4336293856, 163.4591772623}},
		{"cap", spec{outline: cap9, hinges: []Hinge{hinge("n", 34, 0, 34, 10)}, base: b}, []float64{13.2827475922}, []float64{325.9871605776}},
		{"notches", spec{outline: arcs12, hinges: one, base: b}, []float64{18.2680997632}, []float64{186.4466696601, 186.4466696601}},
		{"oblique, narrowing", spec{outline: pts(0, 0, 20, 0, 22, 3, 40, 3, 40, 7, 22, 7, 20, 10, 0, 10), hinges: []Hinge{hinge("n", 19, -1, 23, 11, 120, 1.5)}, base: b},
			[]float64{25.1315523619}, []float64{191.9330437382, 68.9354038999}},
		{"short neck", spec{outline: pts(0, 0, 20, 0, 20, 8, 22, 8, 22, 0, 42, 0, 42, 20, 22, 20, 22, 12, 20, 12, 20, 20, 0, 20), hinges: []Hinge{hinge("n", 21, 8, 21, 12, 180, 1.5)}, base: b},
			[]float64{68.5309649149}, []float64{369.7345175426, 369.7345175426}},
		{"slot open right", spec{outline: pts(0, 0, 40, 0, 40, 4, 20.5, 4, 20.5, 6, 40, 6, 40, 10, 0, 10), hinges: one, base: b}, []float64{23.6194671058}, []float64{187.4336293856, 74.9734517543, 74.9734517543}},
		{"comb", spec{outline: pts(0, 0, 40, 0, 40, 8, 15, 8, 15, 12, 40, 12, 40, 20, 0, 20), hinges: []Hinge{hinge("n", 15.2, 0, 15.2, 20)}, base: b}, []float64{44.4389342117}, []float64{278.8672587713, 188.3469035085, 188.3469035085}},
	} {
		t.Run(c.name, func(t *testing.T) {
			tree := c.s.divide(t)
			if len(tree.Bends) != len(c.bends) || len(tree.Flats) != len(c.flats) {
				t.Fatalf("%d bends and %d flats, want %d and %d", len(tree.Bends), len(tree.Flats), len(c.bends), len(c.flats))
			}
			for i, w := range c.bends {
				near(t, "bend", tree.Bends[i].Area, w, 1e-9)
			}
			for i, w := range c.flats {
				near(t, "flat", tree.Flats[i].Area, w, 1e-9)
			}
		})
	}
}

func frame(hinges ...Hinge) spec {
	return spec{outline: box(0, 0, 60, 40), cutouts: []flat.Loop{rect(10, 10, 50, 30)}, hinges: hinges, base: flat.Pt{X: 1, Y: 1}}
}

func TestLoopsStayOpen(t *testing.T) {
	for _, c := range []struct {
		name      string
		s         spec
		at        float64
		off, turn float64
	}{
		{"two radii", frame(hinge("a", 30, 0, 30, 10), hinge("b", 30, 30, 30, 40, 90, 2.5)), 1, math.Sqrt2 * (1 - math.Pi/4), 0},
		{"two radii, half way", frame(hinge("a", 30, 0, 30, 10), hinge("b", 30, 30, 30, 40, 90, 2.5)), 0.5, 0.0795071534, 0},
		{"two angles", frame(hinge("a", 30, 0, 30, 10), hinge("b", 30, 30, 30, 40, 91)), 1, 0.0199182112, 1},
		{"one arm", frame(hinge("a", 30, -1, 30, 10)), 1, 1.8423000905, 90},
		{"one arm, half way", frame(hinge("a", 30, -1, 30, 10)), 0.5, 0.9701647367, 45},
		{"one line", frame(hinge("a", 30, -1, 30, 41)), 1, 0, 0},
		{"one line, part way", frame(hinge("a", 30, -1, 30, 41)), 0.3, 0, 0},
	} {
		cs := c.s.divide(t).place(t, c.at).Closures()
		if len(cs) != 1 {
			t.Fatalf("%s: %d loops", c.name, len(cs))
		}
		near(t, c.name+" off", cs[0].Off, c.off, 1e-9)
		near(t, c.name+" turn", cs[0].Turn, c.turn, 1e-9)
		near(t, c.name+" parts of off", math.Hypot(cs[0].Along, cs[0].Across), cs[0].Off, 1e-12)
		near(t, c.name+" parts of turn", math.Hypot(cs[0].Tilt, cs[0].Twist), cs[0].Turn, 1e-9)
	}
}

func TestVertexLoop(t *testing.T) {
	g := 2 * math.Atan(math.Cos(85*math.Pi/180)/math.Cos(15*math.Pi/180)) * 180 / math.Pi
	near(t, "g", g, 10.3117029276, 1e-9)
	ray := func(name string, dir, angle float64) Hinge {
		s, c := sinCos(dir)
		return hinge(name, 0, 0, 60*c, 60*s, angle, 0.5)
	}
	tree := spec{outline: box(-30, -30, 30, 30), cutouts: []flat.Loop{disc(0, 0, 16)}, base: flat.Pt{X: 20, Y: 8},
		hinges: []Hinge{ray("a", 0, 90), ray("b", 70, -g), ray("c", 170, 90), ray("d", 280, g)}}.divide(t)
	one := tree.place(t, 1).Closures()
	if len(one) != 1 {
		t.Fatalf("%d loops", len(one))
	}
	near(t, "off", one[0].Off, 0.0455029662, 1e-9)
	near(t, "turn", one[0].Turn, 0, 1e-9)
	half := tree.place(t, 0.5).Closures()
	near(t, "off half way", half[0].Off, 0.8249391118, 1e-8)
	near(t, "turn half way", half[0].Turn, 1.5628399321, 1e-8)
	for _, want := range []float64{685.4562731253, 764.3899222294, 916.6905761378, 985.4781889177} {
		found := false
		for _, f := range tree.Flats {
			found = found || math.Abs(f.Area-want) < 1e-9
		}
		if !found {
			t.Errorf("no flat of %.10f mm2", want)
		}
	}
}

func TestUWithTwoArms(t *testing.T) {
	w := 1.6 * math.Pi / 2
	tree := spec{outline: box(0, 0, 100, 40), cutouts: []flat.Loop{rect(6, 10, 94, 30)}, base: flat.Pt{X: 1, Y: 1}, hinges: []Hinge{
		hinge("a1", 40-w/2, 0, 40-w/2, 10), hinge("a2", 60+w/2, 0, 60+w/2, 10), hinge("b", 50, 30, 50, 40, 180, 11.5)}}.divide(t)
	for at, want := range map[float64]float64{1: 0, 0.25: 0.0677337180, 0.5: 0.2119921804, 0.75: 0.2681015832} {
		near(t, "open", tree.place(t, at).Closures()[0].Off, want, 1e-9)
	}
}

func TestTube(t *testing.T) {
	var hs []Hinge
	for i, x := range []float64{10.8639379797, 24.5918139392, 46.3196898987, 60.0475658582} {
		hs = append(hs, hinge(string(rune('a'+i)), x, 0, x, 10, 90, 1))
	}
	tree := spec{outline: box(0, 0, 70.9115038379, 10), hinges: hs, base: flat.Pt{X: 1, Y: 1}}.divide(t)
	f := tree.place(t, 1)
	nearRows(t, "end", f.BoardFromFlat(4), 2e-9, 1, 0, 0, -70.9115038379, 0, 1, 0, 0, 0, 0, 1, 0)
	nearVec(t, "panel 3", Apply(f.BoardFromFlat(2), mgl64.Vec3{}), mgl64.Vec3{35.4557519189, 0, 14.2})
	near(t, "width", tree.Bends[0].Width, 1.7278759595, 1e-9)
}

func TestBoardWithArcsAndFillets(t *testing.T) {
	outline := []flat.Vertex{{}, {P: flat.Pt{X: 70}, Round: 2}, {P: flat.Pt{X: 70, Y: 24}, Round: 2}, {P: flat.Pt{X: 35, Y: 30}, Via: &flat.Pt{X: 52, Y: 28}}, {P: flat.Pt{Y: 24}}}
	window, _ := flat.Rect(10, 4, 14, 6, 0.5)
	notch, _ := flat.Build(pts(20, 5, 22, 5, 21, 7))
	tree := spec{outline: outline, cutouts: []flat.Loop{disc(5, 12, 3.2), window, notch}, flex: [2]float64{-0.093, 0.093},
		areas:  []area{{"main", rect(0, 0, 30, 24), true, 0.686, nil}, {"wing", rect(44, 0, 70, 24), true, 0.686, nil}},
		hinges: []Hinge{hinge("neck", 37, -1, 37, 31, 180, 1.5)}}.divide(t)
	near(t, "board", tree.Board.Area(), 1892.2407165220, 1e-9)
	near(t, "main", tree.Flats[0].Area, 912.1253925065, 1e-9)
	near(t, "wing", tree.Flats[1].Area, 830.7803059668, 1e-9)
	near(t, "neck", tree.Bends[0].Area, 149.3350180487, 1e-9)
	near(t, "width", tree.Bends[0].Width, 5.0045570972, 1e-9)
	want := map[string]float64{"section:main": 702.1721246434, "section:wing": 622.8115553830, "flex:main": 209.9532678631, "flex:wing": 207.9687505838, "bend:neck": 149.3350180487}
	for _, b := range tree.Bodies {
		near(t, b.Name, b.Area, want[b.Name], 1e-9)
		if b.Kind == KindBend {
			near(t, "volume", b.Volume, 27.7763133570, 1e-9)
		}
	}
	if len(tree.Bodies) != len(want) {
		t.Errorf("%d bodies", len(tree.Bodies))
	}
	nearRows(t, "wing", tree.place(t, 1).BoardFromFlat(1), 1e-9, -1, 0, 0, 74, 0, 1, 0, 0, 0, 0, -1, 3.186)
	found := false
	for _, e := range tree.Design.Outline {
		found = found || e.P.Dist(flat.Pt{X: 70, Y: 22.4735412791}) < 1e-9 && e.Q.Dist(flat.Pt{X: 68.5191303217, Y: 24.4049924716}) < 1e-9
	}
	if !found {
		t.Error("the fillet at (70, 24) does not touch where it should")
	}
}
