package report

import (
	"fmt"
	"slices"

	"foldfit/fold"
	"foldfit/mesh/clash"
)

type motionJSON struct {
	Covered bool         `json:"covered"`
	Scope   string       `json:"scope"`
	Steps   []motionStep `json:"steps"`
}

// motionStep is the smallest gap of a kind in one step: the true one lies between gap_low and gap.
type motionStep struct {
	Step     int       `json:"step"`
	Name     string    `json:"name"`
	Posture  string    `json:"posture"`
	Kind     string    `json:"kind"`
	Gap      num       `json:"gap"`
	GapLow   num       `json:"gap_low"`
	Progress num       `json:"progress"`
	Between  [2]string `json:"between"`
	At       [2][3]num `json:"at"`
	Contact  bool      `json:"contact"` // the bodies overlap: gap is the depth at that progress, how deep they would go was not looked for
}

// motion returns what was proven of the way, for programs.
func (r Run) motion() *motionJSON {
	if r.Motion == nil {
		return nil
	}
	out := &motionJSON{Covered: r.Motion.Covered, Scope: r.Motion.Scope, Steps: []motionStep{}}
	for _, s := range r.Motion.Steps {
		out.Steps = append(out.Steps, motionStep{s.Step, s.Name, s.Posture, s.Kind, num(s.Gap), num(s.Low), num(s.Progress), s.Between,
			[2][3]num{vector(s.At[0]), vector(s.At[1])}, s.Contact})
	}
	return out
}

// motionWords says what was proven of the way, and how near things come in each step.
func (r Run) motionWords(s speech) []string {
	if r.Motion == nil {
		return nil
	}
	out := []string{r.MotionProof() + ": " + r.Motion.Scope}
	for _, n := range r.Motion.Steps {
		out = append(out, fmt.Sprintf("%s, %s: %s at %.0f%s%%", r.stepWords(n), n.Kind, nearWords(n, s), 100*n.Progress, tie))
	}
	return out
}

// MotionProof returns in words how far the way was proven: "proven clear at every moment". "" where nobody asked.
func (r Run) MotionProof() string {
	switch {
	case r.Motion == nil:
		return ""
	case r.Motion.Stopped:
		return "NOT wholly proven"
	case len(r.Motion.Findings) > 0:
		return "followed through every moment, with findings"
	}
	return "proven clear at every moment"
}

// nearWords says how near two bodies come, or how deep they overlap.
func nearWords(n clash.StepGap, s speech) string {
	if n.Gap < 0 && n.Gap == n.Low {
		return fmt.Sprintf("%s and %s overlap, %s deep", n.Between[0], n.Between[1], s.size(-n.Gap))
	}
	return fmt.Sprintf("%s to %s between %s and %s", s.size(n.Low), s.size(n.Gap), n.Between[0], n.Between[1])
}

// stepWords says which step is meant: "step 2 (close)", "to posture open", or "on the way" where nobody has said how.
func (r Run) stepWords(n clash.StepGap) string {
	switch {
	case n.Posture != fold.FoldedPosture:
		return "to posture " + n.Posture
	case len(r.Tree.Design.Sequence) == 0:
		return "on the way"
	case n.Name != "":
		return fmt.Sprintf("step %d (%s)", n.Step, n.Name)
	}
	return fmt.Sprintf("step %d", n.Step)
}

// motionGaps returns, for programs, the gaps of the motion that stand beside those at rest: of every pair with a finding the
// worst, and of a written sequence the smallest of each kind.
func (r Run) motionGaps() []gapJSON {
	if r.Motion == nil {
		return nil
	}
	list := slices.Clone(r.Motion.Worst)
	for _, g := range r.smallestOnTheWay() {
		if !slices.ContainsFunc(list, func(o clash.StepGap) bool { return o.Between == g.Between && o.Gap <= g.Gap }) {
			list = append(list, g)
		}
	}
	var out []gapJSON
	for _, g := range list {
		step, progress := g.Step, num(g.Progress)
		out = append(out, gapJSON{Between: g.Between, Kind: g.Kind, Gap: num(g.Gap), GapLow: num(g.Low), Required: num(g.Required), Judged: true,
			At: [2][3]num{vector(g.At[0]), vector(g.At[1])}, Posture: g.Posture, Step: &step, Progress: &progress})
	}
	return out
}

// smallestOnTheWay returns the smallest gap of each kind in a written sequence.
func (r Run) smallestOnTheWay() (out []clash.StepGap) {
	if len(r.Tree.Design.Sequence) == 0 {
		return nil
	}
	for _, g := range r.Motion.Steps {
		i := slices.IndexFunc(out, func(o clash.StepGap) bool { return o.Kind == g.Kind })
		switch {
		case g.Posture != fold.FoldedPosture:
		case i < 0:
			out = append(out, g)
		case g.Gap < out[i].Gap:
			out[i] = g
		}
	}
	return out
}
