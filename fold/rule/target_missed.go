package rule

import (
	"fmt"
	"math"
	"strings"

	"foldfit/fold"
	"foldfit/fold/finding"
)

var targetMissed = Rule{
	ID:       "target-missed",
	Title:    "what must land in the housing lands there",
	Why:      "A connector beside its mate, or an edge beside its slot, makes the assembly force the flex, or fail.",
	Limit:    always("the target's `within`"),
	Source:   "the design's own; where the point lands is computed",
	Severity: finding.Warning,
	How: Method{"off = landed - wanted; along = off . facing, across = |off - along facing|, tilt = angle between axis and facing, turn = angle about facing",
		"the target's point, axis, place and facing; the folded board in the housing's frame", "geometry",
		"exact for the nominal sizes and ideal cylinders; tolerances and springback are left out"},
	Check: checkTargets,
}

// checkTargets judges the targets in the folded posture: they say where the finished board lands.
func checkTargets(b Board) []finding.Finding {
	if b.Folded == nil || b.Posture != fold.FoldedPosture {
		return nil
	}
	var out []finding.Finding
	for i := range b.Tree.Design.Targets {
		t := &b.Tree.Design.Targets[i]
		if l, err := b.Folded.Measure(t); err == nil && !l.OK {
			out = append(out, b.missedTarget(t, l))
		}
	}
	return out
}

// missedTarget reports the worst bound that a target misses, and names the others.
func (b Board) missedTarget(t *fold.Target, l fold.Landing) finding.Finding {
	var parts []string
	worst := l.Missed[0]
	for _, m := range l.Missed {
		parts = append(parts, b.say().miss(m))
		if far(m) > far(worst) {
			worst = m
		}
	}
	f := finding.Finding{Severity: finding.Warning, On: []string{"target:" + t.Name}, Posture: fold.FoldedPosture, Place: t.Place,
		Value: worst.Value, Limit: worst.Limit, Unit: worst.Unit,
		Message: fmt.Sprintf("target %s: %s lands at (%s), wanted at (%s): %s", t.Name, t.On, b.say().coordinates(l.Point), b.say().coordinates(t.At), strings.Join(parts, ", "))}
	off := t.At.Sub(l.Point)
	f.Hint = fmt.Sprintf("what is on target lies by (%s) from where it lands, in the housing's frame", b.say().coordinates(off))
	if off.Len() < 0.0005 {
		f.Hint = "the place is right, the direction is not: turn the part, or change the angles of the hinges before it"
	}
	return f
}

// far returns by what part of its limit a bound is missed; a direction that cannot be told is worst.
func far(m fold.Miss) float64 {
	if m.Value == nil {
		return math.Inf(1)
	}
	return math.Abs(*m.Value-*m.Limit) / max(math.Abs(*m.Limit), 1e-3)
}

// miss says how a bound is missed: "across 0.31 mm, limit 0.2".
func (l Lengths) miss(m fold.Miss) string {
	if m.Value == nil {
		return m.What + " cannot be told: the axis to turn by points along facing"
	}
	per, decimals, unit := 1.0, 2, m.Unit
	if unit == "mm" {
		per, decimals, unit = l.Units.Length(), l.decimals(), l.Unit()
	}
	return fmt.Sprintf("%s %s %s, limit %s", m.What, besideFrom(decimals, *m.Value/per, *m.Limit/per), unit, short(*m.Limit/per, decimals+1))
}
