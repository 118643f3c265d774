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

// levels places every stack-up in height: flexible ones by the layers that they share and by the rigid stack-ups that they run
// through, else with their neutral surface on the reference's; rigid ones where the flex that runs on inside them says, else
// with their mid-height on the flex's mid-height.
func (d *Design) levels() (map[string]Level, []finding.Problem) {
	ref := d.reference()
	if ref == nil {
		return d.rigidLevels(), nil
	}
	out := map[string]Level{ref.Name: flexLevel(ref, 0)}
	problems := d.spreadLevels(ref, out)
	for i := range d.Stackups {
		s := &d.Stackups[i]
		if _, placed := out[s.Name]; s.Rigid || placed {
			continue
		}
		out[s.Name] = flexLevel(s, 0)
		problems = append(problems, d.spreadLevels(s, out)...)
	}
	for i := range d.Stackups {
		if s := &d.Stackups[i]; s.Rigid {
			out[s.Name] = rigidLevel(s, out, ref)
		}
	}
	return out, problems
}

// tie says how high the bottom face of flexible stack-up b lies above that of a, and where that is written.
type tie struct {
	a, b *stackup.Stackup
	rise float64
	by   *stackup.Stackup // the rigid stack-up that holds both, or the arm itself
}

// ties returns what the design says about the heights of flexible stack-ups, in the order of the file.
func (d *Design) ties() []tie {
	var out []tie
	for i := range d.Stackups {
		r := &d.Stackups[i]
		for k, e := range r.Embeds {
			held := d.stackupNamed(e.Stackup)
			switch {
			case held == nil:
			case !r.Rigid:
				out = append(out, tie{r, held, e.Bottom, r})
			case k > 0:
				if first := d.stackupNamed(r.Embeds[0].Stackup); first != nil {
					out = append(out, tie{first, held, e.Bottom - r.Embeds[0].Bottom, r})
				}
			}
		}
	}
	return out
}

// spreadLevels places what hangs together with a placed stack-up. Two ties that disagree are a problem.
func (d *Design) spreadLevels(from *stackup.Stackup, out map[string]Level) []finding.Problem {
	var problems []finding.Problem
	ties := d.ties()
	by := map[string]string{from.Name: from.Name}
	queue := []*stackup.Stackup{from}
	for len(queue) > 0 {
		s := queue[0]
		queue = queue[1:]
		for _, t := range ties {
			other, rise := t.b, t.rise
			switch s {
			case t.a:
			case t.b:
				other, rise = t.a, -t.rise
			default:
				continue
			}
			z := out[s.Name].Bottom + rise + other.Neutral()
			if have, placed := out[other.Name]; !placed {
				out[other.Name], by[other.Name] = flexLevel(other, z), t.by.Name
				queue = append(queue, other)
			} else if t.a == s && math.Abs(have.Neutral-z) > flat.Snap {
				if other == from {
					other, have, z = s, out[s.Name], out[s.Name].Neutral+have.Neutral-z
				}
				problems = append(problems, finding.Problem{Place: other.Place,
					What: fmt.Sprintf("stack-up %s lies %.4f above %s by %s but %.4f by %s", other.Name, have.Neutral, from.Name, by[other.Name], z, t.by.Name),
					Hint: "give both flexible stack-ups the same distance in every rigid stack-up that contains them, and in the layers that they share"})
			}
		}
	}
	return problems
}

// flexLevel returns where a flexible stack-up lies whose neutral surface is at z.
func flexLevel(s *stackup.Stackup, z float64) Level {
	n := s.Neutral()
	return Level{Bottom: z - n, Neutral: z, Top: z + (s.Thickness() - n)}
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
