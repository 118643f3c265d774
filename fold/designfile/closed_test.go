package designfile

import (
	"math"
	"slices"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/fold/rule"
	"foldfit/fold/stackup"
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
		if n := len(s.Plies); n > 0 && (n < 2 || n > 50 || s.Rigid || math.Abs(s.Pile(stackup.Top).Thickness()-s.Thickness()) > 1e-9*s.Thickness()) {
			t.Errorf("%s: pile %+v", name, s)
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
		follows := p.Follows != nil
		if (p.Box == nil) == (p.Mesh == "") || p.On != "" && (follows || !sections[p.On]) || p.Grows < 0 {
			t.Errorf("%s: enclosure %+v", name, p)
		}
		if follows && (!hasHinge(d, p.Follows.Hinge) || p.Follows.Share < 0 || p.Follows.Share > 1) {
			t.Errorf("%s: enclosure %s follows %+v", name, p.Name, *p.Follows)
		}
	}
	checkLoops(t, name, d)
	checkAsked(t, name, d)
	checkMotion(t, name, d)
}

// hasHinge reports whether the design has a hinge of this name.
func hasHinge(d *fold.Design, name string) bool {
	return slices.ContainsFunc(d.Hinges, func(h fold.Hinge) bool { return h.Name == name })
}

// checkAsked checks postures, seats, limits and concessions.
func checkAsked(t testing.TB, name string, d *fold.Design) {
	t.Helper()
	for _, p := range d.Postures {
		for _, a := range p.Angles {
			if p.Name == "folded" || p.Name == "flat" || !hasHinge(d, a.Hinge) || math.Abs(a.Angle) > 360 {
				t.Errorf("%s: posture %+v", name, p)
			}
		}
	}
	var sitters, pieces []string
	for _, s := range d.Sections {
		sitters = append(sitters, "section:"+s.Name, "flex:"+s.Name)
	}
	for _, s := range d.Stiffeners {
		sitters = append(sitters, "stiffener:"+s.Name, "flex:"+s.Name)
	}
	for _, c := range d.Components {
		sitters = append(sitters, "component:"+c.Name)
	}
	for _, p := range d.Enclosure {
		pieces = append(pieces, "enclosure:"+p.Name)
	}
	stands := func(written string, list []string) bool {
		return slices.ContainsFunc(list, func(full string) bool { return fold.NameMatches(subName.ReplaceAllString(written, ""), full) })
	}
	for _, s := range d.Seats {
		sits := stands(s.On, sitters) || strings.HasPrefix(s.On, "flex:")
		if !sits || !stands(s.Against, pieces) || !(s.Area.Area() > 0) || s.Bond < 0 || s.Squeeze < 0 {
			t.Errorf("%s: seat %+v", name, s)
		}
	}
	for _, l := range d.Limits.Overrides {
		if !slices.Contains(rule.LimitKeys(), l.Rule) || l.Value < 0 {
			t.Errorf("%s: limit %+v", name, l)
		}
	}
	for _, c := range d.Concessions {
		if c.Rule == "" || c.Because == "" || c.By == "" || slices.Contains(rule.NotConceded(), c.Rule) {
			t.Errorf("%s: concession %+v", name, c)
		}
	}
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
