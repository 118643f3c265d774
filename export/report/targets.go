package report

import (
	"fmt"
	"math"

	"foldfit/fold"
)

type targetJSON struct {
	Name   string `json:"name"`
	On     string `json:"on"`
	At     [3]num `json:"at"` // where the point has landed, housing's frame
	Across num    `json:"across"`
	Along  num    `json:"along"`
	Tilt   num    `json:"tilt"`
	Turn   *num   `json:"turn"`
	OK     bool   `json:"ok"`
}

// landed is a target with where its point has landed.
type landed struct {
	*fold.Target
	fold.Landing
}

// landings returns where the targets' points are in the folded posture; none where that was not checked.
func (r Run) landings() []landed {
	if r.Folded == nil || r.Posture != fold.FoldedPosture {
		return nil
	}
	var out []landed
	for i := range r.Tree.Design.Targets {
		t := &r.Tree.Design.Targets[i]
		if l, err := r.Folded.Measure(t); err == nil {
			out = append(out, landed{t, l})
		}
	}
	return out
}

// targets returns the targets for programs.
func (r Run) targets() []targetJSON {
	out := []targetJSON{}
	for _, l := range r.landings() {
		t := targetJSON{Name: l.Name, On: l.On, Across: num(l.Across), Along: num(l.Along), Tilt: num(l.Tilt), OK: l.OK}
		for k := range 3 {
			t.At[k] = num(l.Landing.Point[k])
		}
		if l.Turn != nil {
			t.Turn = some(*l.Turn)
		}
		out = append(out, t)
	}
	return out
}

// targetWords says where the targets' points have landed: "J1-in-slot: component:J1 lands 0.01 mm across and 0.03 mm along, tilted by
// 0.0 deg: on target".
func (r Run) targetWords(s speech) []string {
	var out []string
	for _, l := range r.landings() {
		words := fmt.Sprintf("%s: %s lands %s across and %s along, tilted by %s deg", l.Name, l.On, s.size(l.Across), s.size(l.Along), fixed(l.Tilt, 2))
		if l.Turn != nil {
			words += fmt.Sprintf(", turned by %s deg", fixed(math.Abs(*l.Turn), 2))
		}
		verdict := ": on target"
		if !l.OK {
			verdict = ": MISSED"
		}
		out = append(out, words+verdict)
	}
	return out
}
