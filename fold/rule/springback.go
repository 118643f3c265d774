package rule

import (
	"fmt"
	"slices"
	"strings"

	"foldfit/fold"
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
	alike := map[string][]opened{} // those held to the usual tolerance, by who forms them
	for hi := range b.Tree.Hinges {
		o, ok := b.opened(hi)
		h := &b.Tree.Design.Hinges[hi]
		switch {
		case !ok:
		case h.TolAngle != 0 || b.springConceded(h):
			out = append(out, b.springFinding(o))
		default:
			alike[h.Formed] = append(alike[h.Formed], o)
		}
	}
	for _, by := range []string{"fabricator", "bench"} {
		if len(alike[by]) > 0 {
			out = append(out, b.springTogether(alike[by]))
		}
	}
	return out
}

// opened is the bend of a hinge that loses most of its angle when it is let go.
type opened struct {
	bend        int
	flex        bending.Flex
	spring      bending.Spring
	lost, limit float64 // degrees
}

// opened returns the worst bend of a hinge that is formed; false where it keeps its tolerance, or that is not known.
func (b Board) opened(hinge int) (opened, bool) {
	h := &b.Tree.Design.Hinges[hinge]
	worst := opened{limit: h.TolAngle}
	if worst.limit == 0 {
		worst.limit = usualTolerance
	}
	for _, i := range b.Tree.Hinges[hinge].Bends {
		if !formed(h.Formed) {
			continue
		}
		f := b.work(i).drawn.Cylinder(h.Angle)
		if spring, known := f.Springback(); known && (1-spring.Low)*f.Angle > worst.lost {
			worst.bend, worst.flex, worst.spring, worst.lost = i, f, spring, (1-spring.Low)*f.Angle
		}
	}
	return worst, over(worst.lost, worst.limit)
}

// springConceded reports whether a concession speaks of the springback of this very hinge: it then gets a finding of its own.
func (b Board) springConceded(h *fold.Hinge) bool {
	return slices.ContainsFunc(b.Tree.Design.Concessions, func(c fold.Concession) bool {
		return c.Rule == "springback" && covers(c.On, []string{"hinge:" + h.Name})
	})
}

// springTogether returns one finding about hinges that are formed alike and held to the usual tolerance: that of the worst, and what
// the others lose.
func (b Board) springTogether(list []opened) finding.Finding {
	worst := list[0]
	for _, o := range list {
		if o.lost > worst.lost*(1+slack) {
			worst = o
		}
	}
	f := b.springFinding(worst)
	if len(list) == 1 {
		return f
	}
	var others []string
	f.On = nil
	for _, o := range list {
		h := b.hinge(&b.Tree.Bends[o.bend])
		f.On = append(f.On, "hinge:"+h.Name)
		if o.bend != worst.bend {
			others = append(others, fmt.Sprintf("%s, which loses up to %s of %s degrees", h.Name, besideFrom(0, o.lost, o.limit), short(o.flex.Angle, 2)))
		}
	}
	f.Message += "; also formed so: " + strings.Join(others, ", ")
	f.Hint += "; the bend schedule says it for each hinge, and `tolerance: {angle: ...}` what one may lose"
	return f
}

func (b Board) springFinding(o opened) finding.Finding {
	bend := &b.Tree.Bends[o.bend]
	h, f, s, lost, limit := b.hinge(bend), o.flex, o.spring, o.lost, o.limit
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
