package rule

import (
	"fmt"
	"math"

	"foldfit/fold"
	"foldfit/fold/finding"
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
			layers = s.CopperLayers
		}
	}
	return RatioLimit(t.Design, layers, t.Design.Hinges[b.Hinge].Use)
}

// LeastRadius returns the smallest inside radius in mm that can be written at a bend's hinge so that the bend keeps the
// ratio asked of it when it stands at the given angle (degrees, not 0). The bend area's width belongs to the hinge's own
// angle: at another one the radius is another.
func LeastRadius(t *fold.Tree, bend *fold.Bend, angle float64) float64 {
	limit, _ := LimitOf(t, bend)
	return Board{Tree: t}.radiusFor(bend, widthFor(bend, limit, angle))
}

// widthFor returns the width of the bend area in mm at which a bend has the given ratio at an angle in degrees.
func widthFor(bend *fold.Bend, ratio, angle float64) float64 {
	return (ratio*bend.Thickness() + bend.Concave(angle)) * math.Abs(angle) * math.Pi / 180
}

func checkBendRatio(b Board) []finding.Finding {
	var out []finding.Finding
	for hi := range b.Tree.Hinges {
		worst, ratio := -1, math.Inf(1)
		for _, bi := range b.Tree.Hinges[hi].Bends {
			bend := &b.Tree.Bends[bi]
			limit, _ := LimitOf(b.Tree, bend)
			if r := b.radius(bend) / bend.Thickness(); under(r, limit) && r < ratio {
				worst, ratio = bi, r
			}
		}
		if worst >= 0 {
			out = append(out, b.ratioFinding(&b.Tree.Bends[worst], ratio))
		}
	}
	return out
}

// radius returns the inside radius of a bend in the posture judged, or at the design angle where nothing is folded.
func (b Board) radius(bend *fold.Bend) float64 {
	if b.Folded == nil {
		return bend.InsideRadius
	}
	return bend.RadiusAt(b.Folded.Angles[bend.Hinge])
}

func (b Board) ratioFinding(bend *fold.Bend, ratio float64) finding.Finding {
	limit, why := LimitOf(b.Tree, bend)
	h := b.hinge(bend)
	width := widthFor(bend, limit, b.angle(bend))
	f := finding.Finding{
		Severity: finding.Warning, On: []string{"hinge:" + h.Name}, Posture: b.Posture, At: at(bend.Middle()), Place: h.Place,
		Value: finding.Number(ratio), Limit: finding.Number(limit),
		Message: fmt.Sprintf("bend %s%s: inside radius %s is %s times the flex's thickness of %.3f mm; %s times is asked for (%s)",
			bend.Name, b.tighter(bend), mm(b.radius(bend)), beside(ratio, limit), bend.Thickness(), short(limit, 2), why),
		Hint:   fmt.Sprintf("an inside radius of %s passes (bend area then %s wide)", up(b.radiusFor(bend, width)), mm(width)),
		Source: b.ratioSource() + "; the ratio itself is computed",
	}
	if under(ratio, crease) {
		f.Severity, f.Limit = finding.Error, finding.Number(crease)
		f.Message = fmt.Sprintf("bend %s%s: inside radius %s is only %s times the flex's thickness of %.3f mm: a crease, not a bend; at least %d times can be built, %s times is asked for (%s)",
			bend.Name, b.tighter(bend), mm(b.radius(bend)), beside(ratio, crease), bend.Thickness(), crease, short(limit, 2), why)
	}
	return f
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
