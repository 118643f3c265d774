package report

import (
	"cmp"
	"slices"

	"foldfit/fold"
	"foldfit/fold/bending"
	"foldfit/fold/flat"
	"foldfit/fold/rule"
)

// Schedule is the bend schedule of a board: what whoever forms its bends needs to know of every hinge at its own angle.
// Lengths mm, angles degrees.
type Schedule struct {
	Datum  flat.Pt     // where drawings measure from; the positions below are those of the flat board
	Hinges []Scheduled // those that bend: by step of the sequence, else in the order of the design
	Flat   []string    // names of those that do not: their angle is 0
}

// Scheduled is one hinge of the bend schedule, beside what the design says of it. Pointers are nil where a figure is not
// known or does not apply.
type Scheduled struct {
	*fold.Hinge
	Index     int              // in the design's list
	Step      *int             // the first one of the sequence that bends it, 1 for the first of all; nil without one
	Bends     []string         // its bend areas
	Flexes    []bending.Flex   // what the flex does in each of them
	Tightest  int              // the one of them with the least ratio, which is judged
	Carries   []string         // flats on the far side
	Centre    [2]flat.Pt       // the hinge line as used: first to last point on the board
	Tangents  [2][2]flat.Pt    // the bend area's two borders beside it; the near one, toward the base, first
	Moved     float64          // how far the line was moved to lay a border on an edge
	Width     float64          // of the bend area
	Neutral   float64          // radius of the neutral surface
	FlexWidth float64          // length of the hinge line on the board, all bends together
	Asked     float64          // least ratio of the tightest bend
	Because   string           // what that rests on
	Least     *float64         // least inside radius to write: no bend then has a finding above advice about its radius
	Free      *bending.Free    // tightest free shape of its bends
	Held      bool             // at least one bend is held by rigid or stiffened edges on both sides
	Moment    *float64         // N.mm, holds all bends on the drawn cylinder; an upper bound
	Stretch   *bending.Stretch // allowed elongation of the copper in the tightest bend
	Spring    *bending.Spring  // of the tightest bend; only where it is formed by the fabricator or on the bench
	Life      *bending.Life    // shortest life of its bends; only in dynamic use
}

// Schedule returns the bend schedule. Free shapes cost about half a millisecond each: one a bend, and some dozens for the least
// radius of flex that is left to them.
func (r Run) Schedule() Schedule {
	out := Schedule{Datum: r.Tree.Design.Datum}
	for i := range r.Tree.Design.Hinges {
		if len(r.Tree.Hinges[i].Bends) == 0 {
			out.Flat = append(out.Flat, r.Tree.Design.Hinges[i].Name)
			continue
		}
		out.Hinges = append(out.Hinges, r.scheduled(i))
	}
	slices.SortStableFunc(out.Hinges, func(a, b Scheduled) int { return cmp.Compare(or(a.Step), or(b.Step)) })
	return out
}

// stepOf returns the number of the first step that bends a hinge, nil for none.
func stepOf(d *fold.Design, hinge string) *int {
	for i, step := range d.Sequence {
		if slices.ContainsFunc(step.Bend, func(b fold.HingeAngle) bool { return b.Hinge == hinge }) {
			n := i + 1
			return &n
		}
	}
	return nil
}

// named returns a hinge of the schedule, nil for one that stays flat.
func (s Schedule) named(hinge string) *Scheduled {
	i := slices.IndexFunc(s.Hinges, func(h Scheduled) bool { return h.Name == hinge })
	if i < 0 {
		return nil
	}
	return &s.Hinges[i]
}

// flex returns what the flex does in bend i of the tree.
func (s Schedule) flex(t *fold.Tree, i int) bending.Flex {
	hinge := t.Bends[i].Hinge
	return s.named(t.Design.Hinges[hinge].Name).Flexes[slices.Index(t.Hinges[hinge].Bends, i)]
}

// scheduled returns hinge i of the schedule; it has a bend.
func (r Run) scheduled(i int) Scheduled {
	t, info := r.Tree, &r.Tree.Hinges[i]
	s := Scheduled{Hinge: &t.Design.Hinges[i], Index: i, Carries: r.moving(i), Moved: info.Moved, Width: info.Width, Neutral: info.NeutralRadius,
		Centre: info.Line, Tangents: tangents(t, i)}
	s.Step = stepOf(t.Design, s.Name)
	for _, b := range info.Bends {
		s.addBend(t, b)
	}
	s.Asked, s.Because = rule.LimitOf(t, &t.Bends[info.Bends[s.Tightest]])
	s.Least = (*float64)(r.minRadius(i))
	s.forces()
	s.Life = s.life(t, info.Bends)
	return s
}

// addBend adds a bend.
func (s *Scheduled) addBend(t *fold.Tree, i int) {
	f := bending.At(t, i, s.Angle)
	s.Bends, s.Flexes, s.FlexWidth = append(s.Bends, t.Bends[i].Name), append(s.Flexes, f), s.FlexWidth+f.Width
	if f.Ratio() < s.Flex().Ratio() {
		s.Tightest = len(s.Flexes) - 1
	}
	if f.Free != nil && (s.Free == nil || f.Free.OfDrawn < s.Free.OfDrawn) {
		s.Free = f.Free
	}
	_, _, held := t.RunOuts(i)
	s.Held = s.Held || held
}

// tangents returns the borders of hinge i's bend area beside its line, the near one of its first bend first.
func tangents(t *fold.Tree, i int) [2][2]flat.Pt {
	info := &t.Hinges[i]
	l := info.Line
	off := l[1].Sub(l[0]).Unit().Left().Mul(info.Width / 2)
	if t.Bends[info.Bends[0]].Dir.Dot(off) < 0 {
		off = off.Mul(-1)
	}
	return [2][2]flat.Pt{{l[0].Sub(off), l[1].Sub(off)}, {l[0].Add(off), l[1].Add(off)}}
}

// Flex returns what the flex does in the tightest bend.
func (s *Scheduled) Flex() bending.Flex { return s.Flexes[s.Tightest] }

// forces fills what is known of elongation, moment and springback.
func (s *Scheduled) forces() {
	f := s.Flex()
	if e, known := bending.Elongation(f.Stack, f.Inside, s.Use); known {
		s.Stretch = &e
	}
	if spring, known := f.Springback(); known && (s.Formed == "fabricator" || s.Formed == "bench") {
		s.Spring = &spring
	}
	sum := 0.0
	for _, f := range s.Flexes {
		m, known := f.Moment()
		if !known {
			return
		}
		sum += m
	}
	s.Moment = &sum
}

// life returns the shortest life among the bends; nil where one is not known, and in other than dynamic use.
func (s *Scheduled) life(t *fold.Tree, bends []int) *bending.Life {
	if s.Use != "dynamic" {
		return nil
	}
	var least *bending.Life
	from, to := bending.Ends(s.Hinge)
	for _, b := range bends {
		l, known := bending.Working(t, b, from, to).Life()
		if !known {
			return nil
		}
		if least == nil || l.Cycles < least.Cycles {
			least = &l
		}
	}
	return least
}
