package fold

import (
	"fmt"
	"math"

	"foldfit/fold/finding"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// StackupNamed returns the design's stack-up of that name, nil for none.
func (d *Design) StackupNamed(name string) *stackup.Stackup {
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
	if s := d.StackupNamed(d.Flex); s != nil {
		return s
	}
	for _, sec := range d.Sections {
		if s := d.StackupNamed(sec.Stackup); s != nil && !s.Rigid {
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
	out, h := map[string]Level{}, d.heights()
	problems := h.spread(ref, out)
	for i := range d.Stackups {
		s := &d.Stackups[i]
		if _, placed := out[s.Name]; s.Rigid || placed {
			continue
		}
		problems = append(problems, h.spread(s, out)...)
	}
	for i := range d.Stackups {
		if s := &d.Stackups[i]; s.Rigid {
			out[s.Name] = rigidLevel(s, out, ref)
		}
	}
	return out, problems
}

// tie says how high the bottom face of one flexible stack-up lies above that of another, and where that is written.
type tie struct {
	from *stackup.Stackup
	to   *stackup.Stackup
	rise float64
	by   *stackup.Stackup // the rigid stack-up or the pile that holds both, or the arm that keeps layers of the other
}

// heights are the ties of each flexible stack-up, by name, in the order of the file.
type heights map[string][]tie

// heights returns what the design says about the heights of flexible stack-ups.
func (d *Design) heights() heights {
	named, h := map[string]*stackup.Stackup{}, heights{}
	for i := len(d.Stackups) - 1; i >= 0; i-- {
		named[d.Stackups[i].Name] = &d.Stackups[i]
	}
	for i := range d.Stackups {
		holder := &d.Stackups[i]
		first, base := holder, 0.0
		for _, e := range holder.Embeds {
			held := named[e.Stackup]
			switch {
			case held == nil:
			case holder.Rigid && first == holder:
				first, base = held, e.Bottom
			default:
				h[first.Name] = append(h[first.Name], tie{first, held, e.Bottom - base, holder})
				h[held.Name] = append(h[held.Name], tie{held, first, base - e.Bottom, holder})
			}
		}
	}
	return h
}

// spread places a flexible stack-up with its neutral surface at z = 0, and all that ties hang on it. Two ties that disagree are
// a problem.
func (h heights) spread(from *stackup.Stackup, out map[string]Level) []finding.Problem {
	var problems []finding.Problem
	out[from.Name] = flexLevel(from, 0)
	by, done := map[string]tie{}, map[string]bool{}
	for queue := []*stackup.Stackup{from}; len(queue) > 0; queue = queue[1:] {
		s := queue[0]
		done[s.Name] = true
		for _, t := range h[s.Name] {
			z := out[s.Name].Bottom + t.rise + t.to.Neutral()
			have, placed := out[t.to.Name]
			switch {
			case !placed:
				out[t.to.Name], by[t.to.Name] = flexLevel(t.to, z), t
				queue = append(queue, t.to)
			case !done[t.to.Name] && math.Abs(have.Neutral-z) > flat.Snap:
				problems = append(problems, finding.Problem{Place: t.to.Place,
					What: fmt.Sprintf("stack-up %s lies %.4f above %s %v but %.4f %v", t.to.Name, have.Neutral, from.Name, by[t.to.Name], z, t),
					Hint: "give both flexible stack-ups the same distance in every rigid stack-up that contains them, in the layers that they share and in piles"})
			}
		}
	}
	return problems
}

// String says where a tie is written.
func (t tie) String() string {
	switch {
	case t.by.Rigid:
		return "in " + t.by.Name
	case len(t.by.Plies) == 0:
		return "by the layers that " + t.by.Name + " keeps"
	case t.to == t.by:
		return "where its ply " + t.from.Name + " lies"
	}
	return "as a ply of " + t.by.Name
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
		st := d.StackupNamed(s.Stackup)
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
