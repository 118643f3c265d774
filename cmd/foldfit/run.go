package main

import (
	"foldfit/export/report"
	"foldfit/fold/finding"
	"foldfit/fold/rule"
	"foldfit/mesh"
	"foldfit/mesh/clash"
)

// results is a board folded to one posture and checked there.
type results struct {
	report.Run
	assembly *mesh.Assembly // nil where the board has no folded shape
	walls    []clash.Wall
}

// check folds a board and checks it: the rules, then the gaps. Meshes deviate from the true surfaces by at most chord mm.
func check(b *board, chord float64) (*results, error) {
	r, err := foldTo(b, 1)
	if err != nil {
		return nil, err
	}
	if r.Folded != nil {
		if err := r.measure(chord); err != nil {
			return nil, err
		}
	}
	finding.Sort(r.Findings)
	return r, nil
}

// foldTo folds a board by a fraction of all its angles (0 flat, 1 folded) and checks the rules there.
func foldTo(b *board, fraction float64) (*results, error) {
	t := b.tree
	r := &results{walls: b.walls, Run: report.Run{
		Tree: t, Posture: "folded", Version: version, Unchecked: report.NotChecked(t), Notes: b.notes,
	}}
	if t.Foldable {
		f, err := t.Place(t.Partial(fraction))
		if err != nil {
			return nil, &usage{err.Error(), ""}
		}
		r.Folded = f
	}
	r.Findings = rule.Check(t, r.Folded, r.Posture)
	return r, nil
}

// measure makes the meshes and measures the gaps.
func (r *results) measure(chord float64) error {
	if err := r.skin(chord); err != nil {
		return err
	}
	gaps := clash.CheckAs(r.assembly, r.walls, r.Posture)
	r.Gaps = gaps.Gaps
	r.Findings = append(r.Findings, gaps.Findings...)
	r.Unchecked = append(r.Unchecked, gaps.Unchecked...)
	return nil
}

// skin makes the meshes.
func (r *results) skin(chord float64) error {
	a, err := mesh.Skin(r.Folded, chord)
	if err != nil {
		return &defect{err}
	}
	r.assembly = a
	return nil
}

// shapeless returns the findings that leave no true shape to write: overlapping bend areas, and loops that stay open in
// the folded posture. On the way there open loops are normal, the flex gives way.
func (r *results) shapeless(fraction float64) []finding.Finding {
	var out []finding.Finding
	for _, f := range r.Findings {
		open := f.Rule == "loop-open" && f.Severity == finding.Error && (fraction == 0 || fraction == 1)
		if f.Rule == "bend-overlap" || open {
			out = append(out, f)
		}
	}
	return out
}
