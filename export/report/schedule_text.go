package report

import (
	"fmt"
	"math"
	"strings"

	"foldfit/fold/bending"
	"foldfit/fold/flat"
	"foldfit/fold/rule"
)

// fact is one line of a hinge in the schedule.
type fact struct{ Label, Words string }

// schedule writes the bend schedule: a headline for each hinge, and below it the facts.
func (p *page) schedule(r Run) {
	if len(r.Tree.Design.Hinges) == 0 {
		p.list("Bend schedule", []string{"none: the design has no hinges"})
		return
	}
	s := r.Schedule()
	p.section("Bend schedule")
	for i := range s.Hinges {
		h := &s.Hinges[i]
		p.item(h.headline(p.speech))
		for _, f := range h.facts(s.Datum, p.speech) {
			p.wrap(f.Label+": "+f.Words, 4, 6)
		}
	}
	for _, line := range s.remarks(p.speech) {
		p.item(line)
	}
}

// remarks says what holds for the whole schedule.
func (s Schedule) remarks(sp speech) []string {
	var out []string
	for _, name := range s.Flat {
		out = append(out, name+" stays flat: its angle is 0")
	}
	if len(s.Hinges) == 0 {
		return out
	}
	return append(out,
		"positions: on the flat board seen from its top side, from the datum "+sp.point(s.Datum.X, s.Datum.Y)+"; angles: rotation from flat, not the angle between the legs",
		"free: the least inside radius that the flex takes when only its rigid or stiffened edges hold it, placed as drawn (elastica, computed); advice, unless the hinge is formed: free",
		"foldfit rules NAME says how a figure comes about and how far to trust it: "+strings.Join(figureNames, ", "))
}

// figureNames are the names under which the rules explain the schedule's figures.
var figureNames = []string{"neutral-radius", "bend-width", "bend-ratio", "bend-strain", "elongation", "free-shape", "holding-moment", "springback", "bend-life"}

// headline says what a hinge does: "wing folds 180 deg toward top about neck: inside radius 1.50, width 5.03 mm, ratio 7.5".
func (s *Scheduled) headline(sp speech) string {
	who, verb := "the free end", "folds"
	if len(s.Carries) > 0 {
		who = together(s.Carries)
	}
	if len(s.Carries) > 1 {
		verb = "fold"
	}
	out := fmt.Sprintf("%s %s %s toward %s about %s: inside radius %s, width %s, ratio %s", who, verb,
		degrees(s.Angle), toward(s.Hinge), s.Name, sp.length(s.Radius), sp.size(s.Width), short(s.Flex().Ratio(), 1))
	if s.Flex().Shaped {
		out += " (free shape)"
	}
	return out
}

// degrees returns an angle without its sign.
func degrees(angle float64) string { return short(math.Abs(angle), 2) + tie + "deg" }

// facts returns what there is to know of a hinge.
func (s *Scheduled) facts(datum flat.Pt, sp speech) []fact {
	out := []fact{{"line", s.place(datum, sp)}, {"flex", s.flexWords(sp)}, {"asked", s.askedWords(sp)}, {"bent", s.bentWords()},
		{"free", s.freeWords(sp)}, {"made", s.madeWords(sp)}}
	if len(s.Flex().Stack.Plies) > 0 {
		out = append(out, fact{"plies", s.plyWords(sp)})
	}
	if s.Formed == "fabricator" || s.Formed == "bench" {
		out = append(out, fact{"springback", s.springWords()})
	}
	if s.Use == "dynamic" {
		out = append(out, fact{"life", s.lifeWords()})
	}
	return out
}

// place says where the hinge line and the borders of its bend area lie, from the datum.
func (s *Scheduled) place(datum flat.Pt, sp speech) string {
	span := func(l [2]flat.Pt) string {
		a, b := l[0].Sub(datum), l[1].Sub(datum)
		return sp.point(a.X, a.Y) + " to " + sp.point(b.X, b.Y)
	}
	out := span(s.Centre)
	if s.Moved != 0 {
		out += fmt.Sprintf(", moved by %s %s onto an edge", fixed(math.Abs(s.Moved)/sp.units.Length(), 5), sp.unit())
	}
	out += "; tangent lines " + span(s.Tangents[0]) + " and " + span(s.Tangents[1])
	if len(s.Bends) > 1 {
		out += "; bends " + together(s.Bends)
	}
	return out
}

// flexWords says what is bent.
func (s *Scheduled) flexWords(sp speech) string {
	stack := s.Flex().Stack
	copper := "number of copper layers not known"
	if n := s.copperLayers(); n != nil {
		copper = plural(*n, "copper layer")
	}
	return fmt.Sprintf("%s, %s thick, %s, %s wide; neutral radius %s", stack.Name, sp.thickness(stack.Thickness())+tie+sp.unit(), copper, sp.size(s.FlexWidth), sp.size(s.Neutral))
}

// askedWords says which radii are asked for.
func (s *Scheduled) askedWords(sp speech) string {
	out := "ratio " + short(s.Asked, 2) + " (" + s.Because + ")"
	if s.Least == nil {
		out += "; no inside radius passes here"
	} else {
		out += s.leastWords(sp)
	}
	e := s.Stretch
	if e == nil || e.Quoted == nil {
		return out
	}
	return out + fmt.Sprintf("; elongation formula of IPC-2223, as quoted: %s for %s%s%% in %s use, a lower bound", sp.size(*e.Quoted), short(100*e.Limit, 2), tie, useWord(s.Hinge))
}

// leastWords says from which inside radius on a hinge passes. Flex left to its free shape may pass however it is drawn: the least
// radius that can be written is then none to form it to.
func (s *Scheduled) leastWords(sp speech) string {
	switch {
	case s.Flex().Shaped && *s.Least <= rule.Sharpest:
		return "; its free shape passes whatever inside radius is drawn"
	case s.Flex().Shaped:
		return "; its free shape passes with a drawn inside radius of " + sp.upward(*s.Least) + " or more"
	}
	return "; passes with an inside radius of " + sp.upward(*s.Least) + " or more"
}

// bentWords says what bending does to the copper, and what holds it.
func (s *Scheduled) bentWords() string {
	strain, stack := strainOf(s.Flex()), s.Flex().Stack
	switch {
	case stack.Plain:
		return "strain and moment not known: the stack-up gives no layers"
	}
	out := "no copper"
	if strain != nil {
		out = "copper strain " + size(*strain) + tie + "%"
	}
	if s.Moment == nil {
		return out + "; moment not known"
	}
	return out + "; at most " + figures(num(*s.Moment), 2) + tie + "N.mm hold it as drawn"
}

// freeWords says what the flex does of itself: "0.85 of drawn (1.87 mm), loop reaches 0.090 mm further".
func (s *Scheduled) freeWords(sp speech) string {
	f := s.Free
	switch {
	case f == nil && !s.Held:
		return "not known: another bend or the board's end comes before a rigid or stiffened edge"
	case f == nil:
		return "not known: no shape was found between its clamps, or it creases there"
	}
	way := "further"
	if f.Wider < 0 {
		way = "less far"
	}
	return fmt.Sprintf("%.2f of drawn (%s), loop reaches %s %s", f.OfDrawn, sp.size(f.Radius), sp.size(math.Abs(f.Wider)), way)
}

// madeWords says what the design says of the making.
func (s *Scheduled) madeWords(sp speech) string {
	out := map[string]string{"": "formed by: not given", "fabricator": "formed by the fabricator", "bench": "formed on the bench", "free": "left to its free shape"}[s.Formed]
	if s.Formed == "free" && !s.Flex().Shaped {
		out += ", which is not known: ratio and strain are those of the drawn cylinder"
	}
	out = useWord(s.Hinge) + " use" + s.worksWords() + "; " + out
	if s.Step != nil {
		out += fmt.Sprintf(", first in step %d", *s.Step)
	}
	var parts []string
	if s.TolAngle != 0 {
		parts = append(parts, degrees(s.TolAngle))
	}
	if s.TolLine != 0 {
		parts = append(parts, sp.size(s.TolLine)+" on the line")
	}
	if parts == nil {
		return out + "; tolerance: not given"
	}
	return out + "; tolerance: " + together(parts)
}

// worksWords says how often a hinge in dynamic use bends, and between which angles.
func (s *Scheduled) worksWords() string {
	if s.Use != "dynamic" {
		return ""
	}
	out := " with an unknown number of cycles"
	if s.Cycles != 0 {
		out = ", " + short(s.Cycles, 0) + " cycles"
	}
	from, to := bending.Ends(s.Hinge)
	return out + " between " + s.sided(from) + " and " + s.sided(to)
}

// sided returns an angle with its side.
func (s *Scheduled) sided(angle float64) string {
	switch {
	case angle == 0:
		return "flat"
	case angle < 0:
		return degrees(angle) + " toward bottom"
	}
	return degrees(angle) + " toward top"
}

// springWords says what is left of the angle once the flex is let go, and to which angle to form it.
func (s *Scheduled) springWords() string {
	if s.Spring == nil {
		return "not known: the stress at which its copper yields is not"
	}
	form := "no former bends it far enough, let the hardware hold it"
	switch low, high := s.form(); {
	case low != nil && high != nil:
		form = fmt.Sprintf("form it to %.0f to %.0f%sdeg, and let the hardware hold it", *low, *high, tie)
	case low != nil:
		form = fmt.Sprintf("form it to %.0f%sdeg or as far as a former reaches, and let the hardware hold it", *low, tie)
	}
	kept := fixed(100*s.Spring.Low, 0)
	if high := fixed(100*s.Spring.High, 0); high != kept {
		kept += " to " + high
	}
	return fmt.Sprintf("let go it keeps %s%s%% of its angle (films elastic or yielding): %s", kept, tie, form)
}

// lifeWords says how long the copper lasts.
func (s *Scheduled) lifeWords() string {
	l := s.Life
	if l == nil {
		return "not known: the kind of its copper foil is not, or nothing works"
	}
	out := fmt.Sprintf("%s (%s, strain range %s%s%%)", cycleRange(num(l.Low), num(l.High), num(l.Cycles)),
		l.Foil.Material, size(num(l.Range)), tie)
	if l.Elastic > 0.5 {
		out += "; mostly elastic here: the figure says little"
	}
	return out
}
