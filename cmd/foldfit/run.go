package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"slices"
	"strings"

	"foldfit/export/report"
	"foldfit/fold"
	"foldfit/fold/designfile"
	"foldfit/fold/finding"
	"foldfit/fold/rule"
	"foldfit/mesh"
	"foldfit/mesh/clash"
	"foldfit/mesh/room"
)

// results is a board checked in one or several postures.
type results struct {
	report.Run
	shapes  []*shape // one for each posture, in their order; none where the board has no folded shape
	stopped bool     // by the user, while the motion was being proven
}

// shape is a board that stands in one posture, or on the way there.
type shape struct {
	posture  string
	folded   *fold.Folded // bends as drawn
	form     *fold.Folded // what is meshed: folded, or the same with free shapes
	walls    []clash.Wall // as they were read
	assembly *mesh.Assembly
	gaps     []clash.Gap
	state    *fold.State // at a moment of the sequence: where board and pieces stand; nil at rest
}

// check checks a board in all of its postures. Meshes deviate from the true surfaces by at most chord mm.
func check(b *board, chord float64) (*results, error) {
	return checkPostures(b, b.tree.PostureNames(), chord)
}

// checkPostures checks a board in the named postures: the rules, then the gaps, then what the design concedes. The first is
// the one that the results describe in full.
func checkPostures(b *board, names []string, chord float64) (*results, error) {
	t := b.tree
	defer b.meter.end()
	b.meter.stage("measuring gaps")
	r := &results{Run: report.Run{
		Tree: t, Posture: names[0], Postures: names, Version: version, Unchecked: report.NotChecked(t), Notes: slices.Clone(b.notes),
	}}
	boards := []rule.Board{{Tree: t, Posture: names[0]}}
	if t.Foldable {
		boards = nil
		b.walls = clash.Prepare(b.walls) // for the motion too
		for _, name := range names {
			s, err := b.stand(name, 1)
			if err != nil {
				return nil, err
			}
			r.shapes = append(r.shapes, s)
			boards = append(boards, rule.Board{Tree: t, Folded: s.folded, Posture: name})
		}
		r.Folded = r.shapes[0].folded
	}
	r.Findings = rule.CheckPostures(boards)
	for _, s := range r.shapes {
		if err := s.measure(chord, &r.Run); err != nil {
			return nil, err
		}
	}
	if err := r.forming(chord); err != nil {
		return nil, err
	}
	r.move(b, names, chord)
	r.concede(names)
	return r, nil
}

// move proves the ways to the named postures, with meshes five times finer than those at rest: the design's sequence, or all
// hinges together without one. Ctrl-C ends it with what is proven by then.
func (r *results) move(b *board, names []string, chord float64) {
	all, _ := r.Tree.Programs() // its problems were told when the design was read
	programs := slices.DeleteFunc(all, func(p fold.Program) bool { return !slices.Contains(names, p.Posture) || !p.Moves() })
	if len(programs) == 0 || len(r.shapes) == 0 {
		return
	}
	ctx, release := signal.NotifyContext(context.Background(), os.Interrupt)
	defer release()
	t := clash.Sweep(ctx, programs, b.walls, chord/5, b.meter.stage("proving the motion"))
	r.Motion, r.stopped = &t, t.Stopped && ctx.Err() != nil
	r.Findings = append(r.Findings, t.Findings...)
	finding.Sort(r.Findings)
	r.Unchecked = append(r.Unchecked, t.Unchecked...)
}

// left returns the walls that the sequence leaves in place at its end: jigs that it removes are not there at rest.
func left(t *fold.Tree, walls []clash.Wall) []clash.Wall {
	programs, _ := t.Programs()
	if len(programs) == 0 || !programs[0].Written {
		return walls
	}
	end, err := programs[0].State(len(programs[0].Steps)-1, 1)
	if err != nil {
		return walls
	}
	return slices.DeleteFunc(slices.Clone(walls), func(w clash.Wall) bool {
		i := -1
		if w.Piece != nil {
			i = slices.IndexFunc(t.Design.Enclosure, func(p fold.Piece) bool { return p.Name == w.Piece.Name })
		}
		return i >= 0 && !end.Pieces[i].Present
	})
}

// forming adds what is in the way of forming rods; it belongs to no posture.
func (r *results) forming(chord float64) error {
	formed := func(h fold.Hinge) bool { return h.Formed == "fabricator" || h.Formed == "bench" }
	if !r.Tree.Foldable || !slices.ContainsFunc(r.Tree.Design.Hinges, formed) {
		return nil
	}
	rooms, err := room.Alone(r.Tree, chord)
	if err != nil {
		return &defect{err}
	}
	r.Findings = append(r.Findings, room.Findings(r.Tree, rooms)...)
	finding.Sort(r.Findings)
	return nil
}

// concede applies the design's concessions. Where only some postures were checked, a concession without a finding may have
// one in another posture, and what was left out is noted.
func (r *results) concede(names []string) {
	r.Findings = rule.Concede(r.Tree.Design, r.Findings)
	var left []string
	for _, name := range r.Tree.PostureNames() {
		if !slices.Contains(names, name) {
			left = append(left, name)
		}
	}
	if len(left) > 0 {
		r.Notes = append(r.Notes, fmt.Sprintf("only the posture %s was checked, not %s", strings.Join(names, ", "), strings.Join(left, ", ")))
		r.Findings = slices.DeleteFunc(r.Findings, func(f finding.Finding) bool { return f.Rule == "concession-unused" })
	}
}

// stand returns the board in a posture, by a fraction of all its angles (0 flat, 1 the posture).
func (b *board) stand(posture string, fraction float64) (*shape, error) {
	angles, err := b.posture(posture)
	if err != nil {
		return nil, err
	}
	for i := range angles {
		angles[i] *= fraction
	}
	f, err := b.tree.Place(angles)
	if err != nil {
		return nil, &usage{err.Error(), ""}
	}
	return &shape{posture: posture, folded: f, form: f, walls: b.walls}, nil
}

// posture returns the angles of a posture that a call names.
func (b *board) posture(name string) ([]float64, error) {
	angles, err := b.tree.PostureAngles(name)
	if err == nil {
		return angles, nil
	}
	known := append(b.tree.PostureNames(), "flat")
	hint := "postures of this design: " + strings.Join(known, ", ")
	if near := designfile.Nearest(name, known); near != "" {
		hint = fmt.Sprintf("did you mean %q? %s", near, hint)
	}
	return nil, &usage{fmt.Sprintf("the design has no posture %q", name), hint}
}

// measure makes the meshes, measures the gaps and adds what comes of them to the run. Hinges that are left to take their free
// shape are measured in it, whatever the meshes show.
func (s *shape) measure(chord float64, r *report.Run) error {
	if err := s.skin(chord); err != nil {
		return err
	}
	measured, err := s.freelyFormed(chord, r)
	if err != nil {
		return err
	}
	out := clash.CheckAs(measured, left(s.folded.Tree, s.walls), s.posture)
	s.gaps = out.Gaps
	r.Gaps = append(r.Gaps, out.Gaps...)
	for _, f := range out.Findings {
		if f.Posture != "" || !slices.ContainsFunc(r.Findings, func(o finding.Finding) bool { return sameFlat(f, o) }) {
			r.Findings = append(r.Findings, f)
		}
	}
	for _, u := range out.Unchecked {
		if !slices.ContainsFunc(r.Unchecked, func(o finding.Unchecked) bool { return o.What == u.What && slices.Equal(o.On, u.On) }) {
			r.Unchecked = append(r.Unchecked, u)
		}
	}
	return nil
}

// sameFlat reports whether two findings that belong to no posture are one.
func sameFlat(f, o finding.Finding) bool {
	return o.Posture == "" && f.Rule == o.Rule && f.Place == o.Place && f.Message == o.Message
}

// skin makes the meshes.
func (s *shape) skin(chord float64) error {
	a, err := meshed(s.form, chord)
	s.assembly = a
	return err
}

// meshed returns the meshes of a folded board; that it has none is a defect.
func meshed(f *fold.Folded, chord float64) (*mesh.Assembly, error) {
	a, err := mesh.Skin(f, chord)
	if err != nil {
		return nil, &defect{err}
	}
	return a, nil
}

// shapeless returns the findings that leave no true shape to write: overlapping bend areas, and loops that stay open in a
// posture. On the way there open loops are normal, the flex gives way.
func shapeless(list []finding.Finding, fraction float64) []finding.Finding {
	var out []finding.Finding
	for _, f := range list {
		open := f.Rule == "loop-open" && f.Severity == finding.Error && (fraction == 0 || fraction == 1)
		if f.Rule == "bend-overlap" || open {
			out = append(out, f)
		}
	}
	return out
}
