package designfile

import (
	"math"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/stackup"
)

// stackNamed returns a stack-up of d.
func stackNamed(t testing.TB, d *fold.Design, name string) stackup.Stackup {
	t.Helper()
	for _, s := range d.Stackups {
		if s.Name == name {
			return s
		}
	}
	t.Fatalf("no stack-up %s", name)
	return stackup.Stackup{}
}

// within checks a number against a wanted one.
func within(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.12g, wants %.12g", what, got, want)
	}
}

const layered = `foldfit: 1
outline: {rect: [0, 0, 40, 10]}
flex: core
stackups:
  core:
    layers:
      - {material: polyimide, thickness: 20 um, role: coverlay}
      - {material: adhesive, thickness: 30 um, role: glue}
      - {material: copper-ra, thickness: 1 oz, coverage: 0.25}
      - {material: polyimide, thickness: 50 um}
      - {material: copper-ed, thickness: 18 um, coverage: 0}
      - {material: adhesive, thickness: 25 um, role: glue}
      - {material: polyimide, thickness: 10 um, role: coverlay}
  inner: {rigid: true, layers: [{material: fr4, thickness: 0.1}, {stackup: core, without: [coverlay, glue]}, {material: fr4, thickness: 0.2, role: cap}]}
  open: {rigid: true, layers: [{stackup: inner, without: [cap]}, {material: fr4, thickness: 0.05}]}
  outer: {rigid: true, layers: [{material: copper-ed, thickness: 35 um}, {stackup: inner}, {material: fr4, thickness: 0.4}]}
  pair: {rigid: true, layers: [{stackup: core}, {material: fr4, thickness: 0.5}, {stackup: film}]}
  film: {thickness: 0.2}
  film2: {thickness: 0.2, copper-layers: 2}
  bare: {layers: [{material: copper-ra, thickness: 18 um, coverage: 0.5}]}
  held: {rigid: true, layers: [{stackup: film2}, {material: fr4, thickness: 1}]}
`

func TestLayers(t *testing.T) {
	d := parse(t, layered)
	core := stackNamed(t, d, "core")
	within(t, "thickness", core.Thickness(), 0.02+0.03+0.03406+0.05+0.018+0.025+0.01, 1e-15)
	if len(core.Layers) != 7 || core.CopperLayers != 2 || core.Plain || core.Rigid || core.Embeds != nil || core.Layers[1].Role != "glue" {
		t.Errorf("%+v", core)
	}
	// a quarter of copper at 117 GPa, three quarters of adhesive at 0.5
	within(t, "copper with coverage", core.Layers[2].Modulus, 0.25*117+0.75*0.5, 1e-12)
	within(t, "etched copper", core.Layers[4].Modulus, 0.5, 1e-12)
	within(t, "copper in air", stackNamed(t, d, "bare").Layers[0].Modulus, 58.5, 1e-12)
	if l := core.Layers[2]; !l.Copper || l.Coverage != 0.25 || l.Thickness != 0.03406 || core.Layers[0].Copper || core.Layers[0].Coverage != 1 {
		t.Errorf("%+v", core.Layers)
	}
	film := stackNamed(t, d, "film")
	if !film.Plain || film.CopperLayers != -1 || len(film.Layers) != 1 || film.Layers[0].Modulus != 1 {
		t.Errorf("%+v", film)
	}
	if n := stackNamed(t, d, "film2").CopperLayers; n != 2 {
		t.Errorf("film2 has %d copper layers", n)
	}
}

// Layers that run on keep their heights, so the bottom of the whole flex lies below them by what was left out there.
func TestEmbeds(t *testing.T) {
	d := parse(t, layered)
	inner, outer, pair, held := stackNamed(t, d, "inner"), stackNamed(t, d, "outer"), stackNamed(t, d, "pair"), stackNamed(t, d, "held")
	embeds := func(s stackup.Stackup, want ...stackup.Embed) {
		t.Helper()
		if len(s.Embeds) != len(want) {
			t.Fatalf("%s: %+v", s.Name, s.Embeds)
		}
		for i, w := range want {
			within(t, s.Name+" embeds "+w.Stackup, s.Embeds[i].Bottom, w.Bottom, 1e-15)
			if s.Embeds[i].Stackup != w.Stackup {
				t.Errorf("%s: %+v", s.Name, s.Embeds)
			}
		}
	}
	embeds(inner, stackup.Embed{Stackup: "core", Bottom: 0.2 - 0.035})
	embeds(outer, stackup.Embed{Stackup: "core", Bottom: 0.4 + 0.2 - 0.035})
	embeds(pair, stackup.Embed{Stackup: "film", Bottom: 0}, stackup.Embed{Stackup: "core", Bottom: 0.7})
	embeds(stackNamed(t, d, "open"), stackup.Embed{Stackup: "core", Bottom: 0.05 - 0.035})
	embeds(held, stackup.Embed{Stackup: "film2", Bottom: 1})
	if len(inner.Layers) != 5 || len(outer.Layers) != 7 || inner.CopperLayers != 2 || outer.CopperLayers != 3 || pair.CopperLayers != -1 || held.CopperLayers != 2 {
		t.Errorf("inner %d layers, outer %d; copper %d %d %d %d", len(inner.Layers), len(outer.Layers), inner.CopperLayers, outer.CopperLayers, pair.CopperLayers, held.CopperLayers)
	}
	// without coverlay and adhesive the softer neighbour, polyimide, fills the gaps
	within(t, "copper in the rigid stack", inner.Layers[1].Modulus, 0.25*117+0.75*2.5, 1e-12)
	// every layer that runs on is at the height, above the embedded bottom, that it has in the flex
	core := stackNamed(t, d, "core")
	for _, s := range []stackup.Stackup{inner, outer, pair} {
		for _, e := range s.Embeds {
			if e.Stackup == "core" {
				within(t, "copper in "+s.Name, copperBottom(s)-e.Bottom, copperBottom(core), 1e-15)
			}
		}
	}
}

// copperBottom returns the height of the copper-ra layer's bottom above that of the stack.
func copperBottom(s stackup.Stackup) float64 {
	y := 0.0
	for i := len(s.Layers) - 1; i >= 0; i-- {
		if s.Layers[i].Material == "copper-ra" {
			return y
		}
		y += s.Layers[i].Thickness
	}
	return math.NaN()
}

// Turning a stack-up over turns its neutral surface over.
func TestTurnedOver(t *testing.T) {
	d := parse(t, layered)
	core := stackNamed(t, d, "core")
	lines := strings.Split(layered, "\n")
	for i, j := 6, 12; i < j; i, j = i+1, j-1 {
		lines[i], lines[j] = lines[j], lines[i]
	}
	over := stackNamed(t, parse(t, strings.Join(lines, "\n")), "core")
	within(t, "neutral surface", over.Neutral(), core.Thickness()-core.Neutral(), 1e-15)
	for i := range core.Layers {
		if core.Layers[i] != over.Layers[len(over.Layers)-1-i] {
			t.Errorf("layer %d: %+v", i, core.Layers[i])
		}
	}
}

// The neutral surface of 25 um polyimide, 25 adhesive, 18 copper, 13 adhesive, 25 polyimide, from top to bottom, lies
// 47.408 um above the bottom: sum(E t y)/sum(E t), computed by hand and, below, once more.
func TestNeutralSurface(t *testing.T) {
	d := parse(t, `foldfit: 1
outline: {rect: [0, 0, 40, 10]}
flex: b
stackups:
  b:
    layers: [{material: polyimide, thickness: 25 um}, {material: adhesive, thickness: 25 um}, {material: copper-ra, thickness: 18 um},
      {material: adhesive, thickness: 13 um}, {material: polyimide, thickness: 25 um}]
`)
	sum, moment, y := 0.0, 0.0, 0.0
	for _, l := range [][2]float64{{2.5, 25}, {0.5, 13}, {117, 18}, {0.5, 25}, {2.5, 25}} {
		sum += l[0] * l[1]
		moment += l[0] * l[1] * (y + l[1]/2)
		y += l[1]
	}
	got := stackNamed(t, d, "b").Neutral() * 1000
	within(t, "neutral surface", got, moment/sum, 1e-9)
	within(t, "neutral surface", got, 47.408, 0.001)
}

// A design's own material goes before the built-in one of the same name, and that is said.
func TestOwnMaterials(t *testing.T) {
	src := board("materials: {fr4: {modulus: 18}, glue-x: {modulus: 900 MPa, density: 1200 kg/m3}}\n") +
		"sections: {a: {stackup: own, area: {rect: [0, 0, 5, 5]}}}\n"
	src = strings.Replace(src, "hard:", "own: {rigid: true, layers: [{material: fr4, thickness: 1}, {material: glue-x, thickness: 1}]}, hard:", 1)
	d, notes, problems := Parse("x.yaml", []byte(src), Options{})
	if len(problems) > 0 || len(notes) != 1 || !strings.Contains(notes[0], "materials.fr4 takes the place of the built-in fr4: 18 instead of 22 GPa") {
		t.Fatalf("notes %v, problems %s", notes, tell(problems))
	}
	l := stackNamed(t, d, "own").Layers
	if l[0].Modulus != 18 || l[1].Modulus != 0.9 || d.Materials[1].Density != 1.2 {
		t.Errorf("%+v %+v", l, d.Materials)
	}
}

// Stack-ups in stack-ups that double with every line end in a problem, not in the machine's memory.
func TestDoublingStackups(t *testing.T) {
	var s strings.Builder
	s.WriteString("foldfit: 1\noutline: {rect: [0, 0, 1, 1]}\nstackups:\n  r0: {thickness: 1, rigid: true}\n")
	for i := 1; i < 60; i++ {
		s.WriteString("  r" + trim(float64(i)) + ": {rigid: true, layers: [{stackup: r" + trim(float64(i-1)) + "}, {stackup: r" + trim(float64(i-1)) + "}]}\n")
	}
	d, _, problems := Parse("x.yaml", []byte(s.String()), Options{})
	if len(problems) != 1 || !strings.Contains(problems[0].What, "stackups.r9 has 512 layers with those of the stack-ups in it, at most 500 are read") || !d.Incomplete {
		t.Error(tell(problems))
	}
}
