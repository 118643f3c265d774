package fold

import (
	"fmt"
	"math"

	"foldfit/fold/finding"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// stackupNamed returns the design's stack-up of that name, nil for none.
func (d *Design) stackupNamed(name string) *stackup.Stackup {
	for i := range d.Stackups {
		if d.Stackups[i].Name == name {
			return &d.Stackups[i]
		}
	}
	return nil
}

// reference returns the flexible stack-up whose neutral surface is z = 0: the one named by flex, else that of the first
// flexible section; nil for a board that is rigid throughout.
func (d *Design) reference() *stackup.Stackup {
	if s := d.stackupNamed(d.Flex); s != nil {
		return s
	}
	for _, sec := range d.Sections {
		if s := d.stackupNamed(sec.Stackup); s != nil && !s.Rigid {
			return s
		}
	}
	return nil
}

// levels places every stack-up in height: flexible ones by their neutral surfaces, rigid ones where the flex that runs on
// inside them says, else with their mid-height on the flex's mid-height.
func (d *Design) levels() (map[string]Level, []finding.Problem) {
	ref := d.reference()
	if ref == nil {
		return d.rigidLevels(), nil
	}
	out := map[string]Level{ref.Name: flexLevel(ref, 0)}
	var problems []finding.Problem
	for i := range d.Stackups {
		s := &d.Stackups[i]
		if s.Rigid || s == ref {
			continue
		}
		z, what := d.flexHeight(s, ref)
		if what != "" {
			problems = append(problems, finding.Problem{Place: s.Place, What: what, Hint: "give both flexible stack-ups the same distance in every rigid stack-up that contains them"})
		}
		out[s.Name] = flexLevel(s, z)
	}
	for i := range d.Stackups {
		if s := &d.Stackups[i]; s.Rigid {
			out[s.Name] = rigidLevel(s, out, ref)
		}
	}
	return out, problems
}

// flexLevel returns where a flexible stack-up lies whose neutral surface is at z.
func flexLevel(s *stackup.Stackup, z float64) Level {
	n := s.Neutral()
	return Level{Bottom: z - n, Neutral: z, Top: z + (s.Thickness() - n)}
}

// flexHeight returns the height of flexible stack-up s over the reference: their distance in the rigid stack-ups that
// contain both, 0 where none does.
func (d *Design) flexHeight(s, ref *stackup.Stackup) (float64, string) {
	z, from := 0.0, ""
	for i := range d.Stackups {
		r := &d.Stackups[i]
		if !r.Rigid {
			continue
		}
		a, okA := embedBottom(r, s.Name)
		b, okB := embedBottom(r, ref.Name)
		if !okA || !okB {
			continue
		}
		here := (a + s.Neutral()) - (b + ref.Neutral())
		if from != "" && math.Abs(here-z) > flat.Snap {
			return z, fmt.Sprintf("stack-up %s lies %.4f above %s in %s but %.4f in %s", s.Name, z, ref.Name, from, here, r.Name)
		}
		if from == "" {
			z, from = here, r.Name
		}
	}
	return z, ""
}

func embedBottom(r *stackup.Stackup, name string) (float64, bool) {
	for _, e := range r.Embeds {
		if e.Stackup == name {
			return e.Bottom, true
		}
	}
	return 0, false
}

// rigidLevel returns where a rigid stack-up lies: on the flexible stack-up it contains, else centred on the reference.
func rigidLevel(s *stackup.Stackup, known map[string]Level, ref *stackup.Stackup) Level {
	bottom := (known[ref.Name].Bottom+known[ref.Name].Top)/2 - s.Thickness()/2
	if len(s.Embeds) > 0 {
		e := s.Embeds[0]
		if b, ok := embedBottom(s, ref.Name); ok {
			e = stackup.Embed{Stackup: ref.Name, Bottom: b}
		}
		if lv, ok := known[e.Stackup]; ok {
			bottom = lv.Bottom - e.Bottom
		}
	}
	return Level{Bottom: bottom, Neutral: bottom + s.Neutral(), Top: bottom + s.Thickness()}
}

// rigidLevels places the stack-ups of a board without any flexible one: every mid-height at z = 0.
func (d *Design) rigidLevels() map[string]Level {
	out := map[string]Level{}
	for i := range d.Stackups {
		s := &d.Stackups[i]
		half := s.Thickness() / 2
		out[s.Name] = Level{Bottom: -half, Neutral: s.Neutral() - half, Top: half}
	}
	return out
}

// flexUnder returns the flexible stack-up at p: that of a flexible section there, the one that runs on inside a rigid
// section there, else the design's flex. Borders belong to the section that is first in the file.
func (d *Design) flexUnder(p flat.Pt) string {
	for _, s := range d.Sections {
		st := d.stackupNamed(s.Stackup)
		if st == nil || !s.Area.Contains(p) {
			continue
		}
		if !st.Rigid {
			return st.Name
		}
		if len(st.Embeds) > 0 {
			return st.Embeds[0].Stackup
		}
	}
	if d.Flex == "" {
		if ref := d.reference(); ref != nil {
			return ref.Name
		}
	}
	return d.Flex
}
