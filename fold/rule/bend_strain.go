package rule

import (
	"fmt"

	"foldfit/fold/bending"
	"foldfit/fold/finding"
)

var bendStrain = Rule{
	ID:    "bend-strain",
	Title: "the copper of flex that works is stretched no more than it bears",
	Why: "Bent once, copper bears several per cent; bent to and fro it hardens and cracks unless it stays near its elastic range. Only hinges of " +
		"`use: dynamic` are judged.",
	Limit:    always("the elongation commonly quoted for dynamic use, 0.3 % for rolled annealed foil; no figure is quoted for electrodeposited foil, which is then not judged"),
	Source:   strainSource,
	How:      strainMethod,
	Severity: finding.Warning,
	Tightest: true,
	Check:    checkBendStrain,
}

const strainSource = "IPC-2223, as commonly quoted (recalled, not read); the strain itself is computed"

// strained is the copper of a bend where it is stretched most while it works.
type strained struct {
	bend   int
	flex   bending.Flex
	strain float64 // a fraction
	limit  float64 // a fraction
	why    string  // what the limit rests on
	source string
}

// strained returns how far the copper of bend i is stretched at the tighter end of its work; false where that is not known, or no
// limit is.
func (b Board) strained(i int) (strained, bool) {
	out := strained{bend: i, flex: b.work(i).tightest()}
	strain, known := out.flex.Copper()
	limit, limited := b.strainLimit(&out)
	out.strain, out.limit = strain, limit
	return out, known && limited
}

// strainLimit returns the elongation that is allowed, and fills what it rests on.
func (b Board) strainLimit(s *strained) (float64, bool) {
	if v, whose, ok := override(b.Tree.Design, "bend-strain"); ok {
		s.why, s.source = whose, whose+"; the strain itself is computed"
		return v / 100, true
	}
	e, known := bending.Elongation(s.flex.Stack, s.flex.Side(), "dynamic")
	s.why, s.source = "allowed elongation of "+e.Foil.Material+" in dynamic use, as commonly quoted", strainSource
	return e.Limit, known
}

func checkBendStrain(b Board) []finding.Finding {
	var out []finding.Finding
	for hi := range b.Tree.Hinges {
		var worst *strained
		for _, i := range b.dynamic(hi) {
			if s, known := b.strained(i); known && over(s.strain, s.limit) && (worst == nil || s.strain > worst.strain) {
				worst = &s
			}
		}
		if worst != nil {
			out = append(out, b.strainFinding(*worst))
		}
	}
	return out
}

// dynamic returns the bends of a hinge that is dynamic, none of another's.
func (b Board) dynamic(hinge int) []int {
	if b.Tree.Design.Hinges[hinge].Use != "dynamic" {
		return nil
	}
	return b.Tree.Hinges[hinge].Bends
}

func (b Board) strainFinding(s strained) finding.Finding {
	bend := &b.Tree.Bends[s.bend]
	h := b.hinge(bend)
	strain, limit := 100*s.strain, 100*s.limit
	return finding.Finding{
		Severity: finding.Warning, On: []string{"hinge:" + h.Name}, At: at(bend.Middle()), Place: h.Place,
		Value: finding.Number(strain), Limit: finding.Number(limit), Unit: "%", Source: s.source,
		Message: fmt.Sprintf("bend %s works %s: at %s degrees, %s, its copper is strained by %s %%; at most %s %% is asked for (%s)%s", bend.Name, betweenWords(h),
			short(s.flex.Angle, 2), b.radiusWords(s.flex), beside(strain, limit), short(limit, 3), s.why, b.quotedRadius(s)),
		Hint: b.strainHint(s),
	}
}

// quotedRadius returns what the standard's formula makes of the same elongation, "" where it has no form.
func (b Board) quotedRadius(s strained) string {
	e, known := s.flex.Stack.ElongationRadius(s.flex.Side(), s.limit)
	if !known {
		return ""
	}
	return fmt.Sprintf("; for that elongation the formula of IPC-2223, as commonly quoted, gives an inside radius of %s: a lower bound and no rule, "+
		"since it puts the neutral surface into the copper's middle", b.say().Length(e.Quoted))
}

func (b Board) strainHint(s strained) string {
	out, ok := b.leastStrained(s, 0)
	switch {
	case !ok && s.flex.Shaped:
		return "no drawn radius lets the free shape pass between these rigid edges; lengthen the flex, or guide it along a cylinder of a larger radius (no `formed: free` then)"
	case !ok:
		return "use a thinner stack-up with its copper nearer to the neutral surface"
	}
	return fmt.Sprintf("an inside radius of %s passes (bend area then %s wide), or copper nearer to the neutral surface%s", b.say().Up(out.radius), b.say().Length(out.width), b.noRoom(s.bend, out))
}

// leastStrained returns what must be drawn so that the copper keeps its limit, as least does.
func (b Board) leastStrained(s strained, from float64) (written, bool) {
	radius, known := s.flex.Stack.CopperRadius(s.flex.Inside, s.limit)
	if !known {
		return written{}, false
	}
	return b.least(s.bend, s.flex, from, radius, func(f bending.Flex) bool {
		strain, known := f.Copper()
		return known && !over(strain, s.limit)
	})
}

// widthForStrain returns the least width of the area of bend i, and not less than from, at which its copper keeps its limit; any
// will do where that is not judged.
func (b Board) widthForStrain(i int, from float64) (float64, bool) {
	if b.hinge(&b.Tree.Bends[i]).Use != "dynamic" {
		return from, true
	}
	s, known := b.strained(i)
	if !known {
		return from, true
	}
	out, ok := b.leastStrained(s, from)
	return out.width, ok
}
