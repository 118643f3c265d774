package report

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"foldfit/fold"
	"foldfit/fold/tolerance"
	"foldfit/mesh/clash"
)

// worthJSON is what a gap is worth: how it changes with every hinge that moves its two bodies against each other, and what the
// hinges' tolerances leave of it.
type worthJSON struct {
	Hinges      []worthOfJSON `json:"hinges"`
	AtTolerance *[2]num       `json:"at_tolerance"` // least and most gap at the ends of the tolerances, mm; null without any
	OneSided    bool          `json:"one_sided"`    // several pairs of points are nearest, and the worst counts each way
	Unsure      *string       `json:"unsure"`       // why the figures may be too small, or there are none
}

type worthOfJSON struct {
	Hinge     string `json:"hinge"`
	PerDegree [2]num `json:"per_degree"` // mm of gap for a degree more toward the top, and toward the bottom
	PerTenth  [2]num `json:"per_tenth"`  // mm of gap for 0.1 mm of the line along its normal, and against it
}

// worth returns what a gap is worth; nil where it cannot be told: nothing says in which direction bodies that touch part, or
// flex is left to its free shape (err is tolerance.ErrFree then).
func (r Run) worth(g clash.Gap) (*tolerance.Worth, error) {
	angles, err := r.Tree.PostureAngles(g.Posture)
	if err != nil || r.Folded == nil {
		return nil, err
	}
	f, err := r.Tree.Place(angles)
	if err != nil {
		return nil, err
	}
	return tolerance.Of(f, tolerance.Measured{Between: g.Between, At: g.At, Gap: g.Gap, Low: g.Low, Way: g.Way, Faces: g.Faces, Alone: g.Seat != ""})
}

// anyShift reports whether the design gives a tolerance to any hinge.
func anyShift(d *fold.Design) bool {
	return slices.ContainsFunc(d.Hinges, func(h fold.Hinge) bool { return h.TolAngle > 0 || h.TolLine > 0 })
}

// worthOf returns the same for programs.
func (r Run) worthOf(g clash.Gap) *worthJSON {
	w, err := r.worth(g)
	if errors.Is(err, tolerance.ErrFree) {
		why := err.Error()
		return &worthJSON{Hinges: []worthOfJSON{}, Unsure: &why}
	}
	if w == nil || err != nil {
		return nil
	}
	out := &worthJSON{Hinges: []worthOfJSON{}, OneSided: w.Pairs > 1}
	for i, gain := range w.Gains {
		if gain != (tolerance.Gain{}) {
			out.Hinges = append(out.Hinges, worthOfJSON{r.Tree.Design.Hinges[i].Name, both(gain.Angle), both(gain.Line)})
		}
	}
	if anyShift(r.Tree.Design) {
		ends := w.Exact(tolerance.Tolerances(r.Tree.Design))
		out.AtTolerance = &[2]num{num(ends.Least), num(ends.Most)}
	}
	if w.Unsure != "" {
		out.Unsure = &w.Unsure
	}
	return out
}

// most hinges that the text names for one gap.
const worthNamed = 3

// worthWords says what the judged gaps are worth, one line for each that a hinge changes.
func (r Run) worthWords(s speech) []string {
	var out []string
	for _, g := range r.Gaps {
		w, err := r.worth(g)
		if w == nil || err != nil || !g.Judged {
			continue
		}
		if words := r.lossWords(w, s); words != "" {
			where := ""
			if r.several() {
				where = " (posture " + g.Posture + ")"
			}
			out = append(out, g.Between[0]+" - "+g.Between[1]+where+": "+words)
		}
	}
	return out
}

// lossWords says which hinges a gap hangs on most.
func (r Run) lossWords(w *tolerance.Worth, s speech) string {
	order := make([]int, len(w.Gains))
	for i := range order {
		order[i] = i
	}
	loss := func(i int) float64 { angle, line := w.Gains[i].Loss(); return angle + line }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(loss(b), loss(a)) })
	var parts []string
	step, stepWords := s.tenth()
	for _, i := range order {
		angle, line := w.Gains[i].Loss()
		if len(parts) == worthNamed || angle < 5e-4 && line < 5e-4 {
			break
		}
		var by []string
		if angle >= 5e-4 {
			by = append(by, s.size(angle)+" a degree")
		}
		if line >= 5e-4 {
			by = append(by, s.size(line*step/0.1)+" each "+stepWords+" of the line")
		}
		parts = append(parts, r.Tree.Design.Hinges[i].Name+" "+strings.Join(by, " and "))
	}
	if len(parts) == 0 {
		return ""
	}
	out := strings.Join(parts, "; ")
	if anyShift(r.Tree.Design) {
		ends := w.Exact(tolerance.Tolerances(r.Tree.Design))
		out += fmt.Sprintf("; %s to %s at the ends of the tolerances", s.size(ends.Least), s.size(ends.Most))
	}
	return out
}
