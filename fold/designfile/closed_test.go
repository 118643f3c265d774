package designfile

import (
	"math"
	"testing"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// checkClosed checks what Parse promises of every design, good or not.
func checkClosed(t testing.TB, name string, d *fold.Design) {
	t.Helper()
	stackups, sections := map[string]bool{}, map[string]bool{}
	for _, s := range d.Stackups {
		stackups[s.Name] = true
		if len(s.Layers) == 0 || !(s.Thickness() > 0) {
			t.Errorf("%s: stack-up %s without layers", name, s.Name)
		}
		if n := s.Neutral(); !(n >= 0 && n <= s.Thickness()) {
			t.Errorf("%s: stack-up %s has its neutral surface at %g of %g", name, s.Name, n, s.Thickness())
		}
	}
	for _, s := range d.Sections {
		sections[s.Name] = true
		if !stackups[s.Stackup] || len(s.Area) == 0 {
			t.Errorf("%s: section %s has no stack-up or no area", name, s.Name)
		}
	}
	if d.Flex != "" && !stackups[d.Flex] || d.Base.Section != "" && !sections[d.Base.Section] {
		t.Errorf("%s: flex %q or base %q does not exist", name, d.Flex, d.Base.Section)
	}
	if len(d.Outline) == 0 && !d.Incomplete {
		t.Errorf("%s: no outline, and not incomplete", name)
	}
	for _, h := range d.Hinges {
		if math.Abs(h.Written) != 1 || math.Abs(h.Angle) > 360 || h.Angle != 0 && h.Radius < leastRadius || h.Line[0].Dist(h.Line[1]) <= flat.Snap {
			t.Errorf("%s: hinge %+v", name, h)
		}
	}
	for _, c := range d.Components {
		shapes := 0
		for _, has := range []bool{c.Size != nil, c.Boxes != nil, c.Diameter > 0} {
			if has {
				shapes++
			}
		}
		if shapes != 1 || c.On != "" && !sections[c.On] || c.Height != nil && !(*c.Height > 0) {
			t.Errorf("%s: component %+v", name, c)
		}
	}
	for _, p := range d.Enclosure {
		if (p.Box == nil) == (p.Mesh == "") {
			t.Errorf("%s: enclosure %+v", name, p)
		}
	}
	checkLoops(t, name, d)
}

// checkLoops checks that loops run counter-clockwise and stay where coordinates are believed.
func checkLoops(t testing.TB, name string, d *fold.Design) {
	t.Helper()
	loops := append([]flat.Loop(nil), d.Cutouts...)
	if d.Outline != nil {
		loops = append(loops, d.Outline)
	}
	for _, s := range d.Sections {
		loops = append(loops, s.Area)
	}
	for _, s := range d.Stiffeners {
		loops = append(loops, s.Area)
	}
	for _, l := range loops {
		if !(l.Area() > 0) {
			t.Errorf("%s: a loop of area %g", name, l.Area())
		}
	}
	if len(d.Cutouts) != len(d.Where.Cutouts) {
		t.Errorf("%s: %d cutouts, %d places", name, len(d.Cutouts), len(d.Where.Cutouts))
	}
}
