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
	Source: "common practice, as commonly quoted from fabricators and IPC guidelines: 6, 10 and 20 times the thickness for one, two and more copper layers, " +
		"100 times (one or two layers) in dynamic use; the ratio itself is computed",
	Severity: finding.Warning,
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
	return RatioLimit(t.Design.Limits, layers, t.Design.Hinges[b.Hinge].Use)
}

// Ratio returns inside radius over thickness of bend i in a posture; infinite where it is flat.
func Ratio(f *fold.Folded, i int) float64 {
	b := &f.Tree.Bends[i]
	return b.RadiusAt(f.Angles[b.Hinge]) / b.Thickness()
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
	least := limit * bend.Thickness()
	width := (least + bend.Concave(h.Angle)) * math.Abs(h.Angle) * math.Pi / 180
	f := finding.Finding{
		Severity: finding.Warning, On: []string{"hinge:" + h.Name}, Posture: b.Posture, At: at(bend.Middle()), Place: h.Place,
		Value: finding.Number(ratio), Limit: finding.Number(limit),
		Message: fmt.Sprintf("bend %s: inside radius %s is %.2f times the flex's thickness of %.3f mm; %g times is asked for (%s)",
			bend.Name, mm(b.radius(bend)), ratio, bend.Thickness(), limit, why),
		Hint: fmt.Sprintf("an inside radius of %s passes (bend area then %s wide)", up(least), mm(width)),
	}
	if under(ratio, crease) {
		f.Severity, f.Limit = finding.Error, finding.Number(crease)
		f.Message = fmt.Sprintf("bend %s: inside radius %s is only %.2f times the flex's thickness of %.3f mm: a crease, not a bend; at least %d times can be built, %g times is asked for (%s)",
			bend.Name, mm(b.radius(bend)), ratio, bend.Thickness(), crease, limit, why)
	}
	return f
}

// up prints a length rounded up to 0.01 mm, so that the printed number passes.
func up(v float64) string { return fmt.Sprintf("%.2f mm", math.Ceil(v*100-1e-6)/100) }
