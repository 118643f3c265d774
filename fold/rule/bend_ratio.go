package rule

import (
	"fmt"
	"math"

	"foldfit/fold"
	"foldfit/fold/bending"
	"foldfit/fold/finding"
	"foldfit/fold/stackup"
)

var bendRatio = Rule{
	ID:    "bend-ratio",
	Title: "the inside radius is large enough for the flex's thickness",
	Why: "The outer copper stretches by about half the thickness over the radius. A ratio of 10 keeps the copper of a double-sided flex near 2 %; " +
		"below 3 the flex is creased rather than bent.",
	Limit: func(p Profile) string {
		return fmt.Sprintf("%g times the thickness with one copper layer, %g with two, %g with more, %g in dynamic use; under %d times it is an error",
			p.Ratio[0], p.Ratio[1], p.Ratio[2], p.DynamicRatio, crease)
	},
	Source:   "common practice, as commonly quoted from fabricators and guidelines; profile strict: IPC-2223, as commonly quoted; the ratio itself is computed",
	How:      ratioMethod,
	Severity: finding.Warning,
	Tightest: true,
	Check:    checkBendRatio,
}

// crease is the ratio below which a bend cannot be built.
const crease = 3

// LimitOf returns the least ratio asked of a bend of this tree, and what it rests on.
func LimitOf(t *fold.Tree, b *fold.Bend) (float64, string) {
	layers := -1
	for _, s := range t.Design.Stackups {
		if s.Name == b.Stackup {
			layers = JudgedCopper(s)
		}
	}
	return RatioLimit(t.Design, layers, t.Design.Hinges[b.Hinge].Use)
}

// JudgedCopper returns the number of copper layers that the ratio's limit goes by: plating on foil is one with it, etched copper is
// none, and of loose plies, which bend each by itself, the one with most counts; -1 where the stack-up does not say.
func JudgedCopper(s stackup.Stackup) int { return copperSheets(s) }

// stand is a bend at an angle at which it is judged.
type stand struct {
	bend    int
	flex    bending.Flex
	when    string // " at 120 degrees (posture open)"; "" at the hinge's own angle
	posture string // "" where the angle belongs to no posture
}

// stands returns where the bends of a hinge are judged: in the posture, and if the hinge is dynamic at both ends between which
// it is said to work.
func (b Board) stands(hinge int) []stand {
	var out []stand
	h := &b.Tree.Design.Hinges[hinge]
	for _, i := range b.Tree.Hinges[hinge].Bends {
		out = append(out, stand{i, b.flex(i), b.tighter(&b.Tree.Bends[i]), b.Posture})
		if h.Use != "dynamic" || h.Between == nil {
			continue
		}
		w := b.work(i)
		for k, f := range []bending.Flex{w.from, w.to} {
			when := fmt.Sprintf(" at %s degrees (it works %s)", short(h.Between[k], 2), betweenWords(h))
			out = append(out, stand{i, f, when, ""})
		}
	}
	return out
}

// betweenWords says between which angles a hinge works, as the design counts them.
func betweenWords(h *fold.Hinge) string {
	from, to := 0.0, math.Abs(h.Angle)
	if h.Between != nil {
		from, to = h.Between[0], h.Between[1]
	}
	return fmt.Sprintf("between %s and %s degrees", short(from, 2), short(to, 2))
}

func checkBendRatio(b Board) []finding.Finding {
	var out []finding.Finding
	for hi := range b.Tree.Hinges {
		var worst *stand
		for _, s := range b.stands(hi) {
			limit, _ := LimitOf(b.Tree, &b.Tree.Bends[s.bend])
			if r := s.flex.Ratio(); under(r, limit) && (worst == nil || r < worst.flex.Ratio()) {
				worst = &s
			}
		}
		if worst != nil {
			out = append(out, b.ratioFinding(*worst))
		}
	}
	return out
}

func (b Board) ratioFinding(s stand) finding.Finding {
	bend := &b.Tree.Bends[s.bend]
	limit, why := LimitOf(b.Tree, bend)
	h, ratio := b.hinge(bend), s.flex.Ratio()
	f := finding.Finding{
		Severity: finding.Warning, On: []string{"hinge:" + h.Name}, Posture: s.posture, At: at(bend.Middle()), Place: h.Place,
		Value: finding.Number(ratio), Limit: finding.Number(limit),
		Message: fmt.Sprintf("bend %s%s: %s is %s times %s; %s times is asked for (%s)",
			bend.Name, s.when, b.radiusWords(s.flex), beside(ratio, limit), b.thicknessWords(s.flex), short(limit, 2), why),
		Hint:   b.ratioHint(s, limit),
		Source: b.ratioSource() + "; the ratio itself is computed",
	}
	if under(ratio, crease) {
		f.Severity, f.Limit = finding.Error, finding.Number(crease)
		f.Message = fmt.Sprintf("bend %s%s: %s is only %s times %s: a crease, not a bend; at least %d times can be built, %s times is asked for (%s)",
			bend.Name, s.when, b.radiusWords(s.flex), beside(ratio, crease), b.thicknessWords(s.flex), crease, short(limit, 2), why)
	}
	return f
}

// radiusWords says which inside radius the flex has, and where that comes from if it is not the drawn one.
func (b Board) radiusWords(f bending.Flex) string {
	if !f.Shaped {
		return "inside radius " + b.say().Length(f.Drawn)
	}
	return fmt.Sprintf("inside radius %s (free shape between its rigid edges: run-outs of %s and %s; drawn %s)", b.say().Length(f.Free.Radius), b.say().Length(f.Free.Near), b.say().Length(f.Free.Far), b.say().Length(f.Drawn))
}

// thicknessWords says which thickness a ratio counts with.
func (b Board) thicknessWords(f bending.Flex) string {
	if len(f.Stack.Plies) > 0 {
		return "the thickness of one of its loose plies"
	}
	return "the flex's thickness of " + b.say().Fine(f.Stack.Thickness())
}

// ratioHint returns the way out of a ratio that is too small.
func (b Board) ratioHint(s stand, limit float64) string {
	need := bending.RatioRadius(s.flex.Stack, s.flex.Inside, limit)
	out, ok := b.least(s.bend, s.flex, 0, need, keepsRatio(limit))
	if !s.flex.Shaped {
		return fmt.Sprintf("an inside radius of %s passes (bend area then %s wide)%s", b.say().Up(out.radius), b.say().Length(out.width), b.noRoom(s.bend, out))
	}
	return b.freeHint(s, out, ok, need)
}

// freeHint returns the ways out for flex that is left to its free shape: another drawn radius, if one passes, or something that
// holds it at the inside radius that is needed.
func (b Board) freeHint(s stand, out written, ok bool, need float64) string {
	held := "let something that stays in place hold the flex on its arc (without `formed: free`)"
	if b.hinge(&b.Tree.Bends[s.bend]).Use == "dynamic" {
		held = "guide it along a cylinder over all of its way (no `formed: free` then)"
	}
	if d := b.work(s.bend).drawn; under(s.flex.Drawn, need) {
		arc := b.write(s.bend, cylinder(d, s.flex, need))
		held += " at an inside radius of " + b.say().Up(arc.radius) + b.noRoom(s.bend, arc)
	} else {
		held += " at the drawn radius"
	}
	if !ok {
		return "no drawn radius lets the free shape pass between these rigid edges; " + held
	}
	return fmt.Sprintf("a drawn inside radius of %s lets the free shape pass (bend area then %s wide)%s, or %s", b.say().Up(out.radius), b.say().Length(out.width), b.noRoom(s.bend, out), held)
}

// ratioSource says where the ratio that is asked for comes from.
func (b Board) ratioSource() string {
	if _, whose, ok := override(b.Tree.Design, "bend-ratio"); ok {
		return whose
	}
	return profileOf(b.Tree.Design.Limits).Source
}

// tighter says in which posture a bend is judged where that is not its hinge's own angle: " at 120 degrees (posture open)".
func (b Board) tighter(bend *fold.Bend) string {
	angle := b.angle(bend)
	if angle == b.hinge(bend).Angle {
		return ""
	}
	return fmt.Sprintf(" at %s degrees (posture %s)", short(angle, 2), b.Posture)
}
