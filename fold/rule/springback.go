package rule

import (
	"fmt"

	"foldfit/fold/bending"
	"foldfit/fold/finding"
	"foldfit/fold/stackup"
)

var springback = Rule{
	ID:    "springback",
	Title: "formed flex keeps its angle when it is let go",
	Why:   "Films stay elastic where the copper yields: what was formed opens again. A part that is to fit by itself must be bent further, or the hardware has to hold it.",
	Limit: func(Profile) string {
		return fmt.Sprintf("the hinge's `tolerance: {angle: ...}`, by default %d degrees", usualTolerance)
	},
	Source:   springSource,
	How:      springMethod,
	Severity: finding.Advice,
	Tightest: true,
	Check:    checkSpringback,
}

const springSource = "the design's own; by default 5 degrees (common practice, no source); the share that is kept is computed"

// usualTolerance is how far a formed bend may miss its angle where the design gives no tolerance, in degrees (common practice,
// no source).
const usualTolerance = 5

// formed reports whether flex is bent to stay by itself.
func formed(how string) bool { return how == "fabricator" || how == "bench" }

func checkSpringback(b Board) []finding.Finding {
	var out []finding.Finding
	for i := range b.Tree.Bends {
		h := b.hinge(&b.Tree.Bends[i])
		if !formed(h.Formed) {
			continue
		}
		f := b.work(i).drawn.Cylinder(h.Angle)
		spring, known := f.Springback()
		limit := h.TolAngle
		if limit == 0 {
			limit = usualTolerance
		}
		if known && over((1-spring.Low)*f.Angle, limit) {
			out = append(out, b.springFinding(i, f, spring, limit))
		}
	}
	return out
}

func (b Board) springFinding(i int, f bending.Flex, s bending.Spring, limit float64) finding.Finding {
	bend := &b.Tree.Bends[i]
	h := b.hinge(bend)
	lost := (1 - s.Low) * f.Angle
	keeps := fmt.Sprintf("%.0f to %.0f %%", 100*s.Low, 100*s.High)
	if fmt.Sprintf("%.0f", 100*s.Low) == fmt.Sprintf("%.0f", 100*s.High) {
		keeps = fmt.Sprintf("%.0f %%", 100*s.Low)
	}
	return finding.Finding{
		Severity: finding.Advice, On: []string{"hinge:" + h.Name}, At: at(bend.Middle()), Place: h.Place,
		Value: finding.Number(lost), Limit: finding.Number(limit), Unit: "deg", Hint: formHint(s, f.Angle),
		Message: fmt.Sprintf("bend %s, formed by the %s to %s degrees about an inside radius of %s and let go, keeps %s of its angle: up to %s degrees are lost, %s are tolerated",
			bend.Name, h.Formed, short(f.Angle, 2), b.say().Length(f.Drawn), keeps, besideFrom(0, lost, limit), short(limit, 2)),
		Source: fmt.Sprintf("%s. Copper yields at %g MPa, films stay elastic or yield at %d MPa; %s", springSource, s.Yield, stackup.PolyimideYield, springMethod.Trust),
	}
}

// formHint says to which angle to form flex.
func formHint(s bending.Spring, angle float64) string {
	low, high, ok := s.Form(angle)
	switch {
	case !ok[0]:
		return "no former bends it far enough to stay: let the hardware hold it"
	case !ok[1]:
		return fmt.Sprintf("form it to %.0f degrees or as far as a former reaches, and let the hardware hold it", low)
	}
	return fmt.Sprintf("form it to %.0f to %.0f degrees, and let the hardware hold it", low, high)
}
