package rule

import (
	"fmt"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

var bendOnRigid = Rule{
	ID:       "bend-on-rigid",
	Title:    "rigid sections and stiffeners stay out of the bend areas",
	Why:      "A rigid section or a bonded plate does not bend: the flex breaks at its edge, or the bend moves elsewhere and gets tighter.",
	Limit:    always("not at all"),
	Source:   "geometry (computed)",
	How:      measured("how far the rigid area reaches into the bend area, across it", "sections, stiffeners, hinge line, width of the bend area"),
	Severity: finding.Error,
	Tightest: true,
	Check:    checkOnRigid,
}

func checkOnRigid(b Board) []finding.Finding {
	var out []finding.Finding
	for i := range b.Tree.Bends {
		bend := &b.Tree.Bends[i]
		stiff := b.stiffIn(bend)
		for _, s := range stiff {
			out = append(out, b.onRigid(bend, s, stiff))
		}
	}
	return out
}

// stiffIn returns the rigid sections and stiffeners that reach into a bend.
func (b Board) stiffIn(bend *fold.Bend) []intruder {
	d := b.Tree.Design
	var stiff []intruder
	for _, s := range d.Sections {
		if d.RigidSection(s.Name) {
			stiff = intruding(stiff, bend, "section", s.Name, s.Area)
		}
	}
	for _, s := range d.Stiffeners {
		stiff = intruding(stiff, bend, "stiffener", s.Name, s.Area)
	}
	return stiff
}

// intruder is a rigid area that reaches into a bend.
type intruder struct {
	kind, name string
	depth      float64 // mm across the bend
	where      flat.Pt // a point of the deepest part
	side       int     // tangent line that it comes over: -1 near, 1 far, 0 both or none
}

// intruding adds an area to the list if it reaches into a bend.
func intruding(list []intruder, bend *fold.Bend, kind, name string, area flat.Loop) []intruder {
	if !area.Box().Meets(bend.Region.Box()) {
		return list
	}
	in := intruder{kind: kind, name: name}
	for _, r := range flat.Intersect(bend.Region, flat.Region{area}) {
		lo, hi := span(bend, r)
		if hi-lo <= in.depth {
			continue
		}
		in.depth, in.where, in.side = hi-lo, r.Inside(), 0
		switch near, far := lo <= flat.Snap, hi >= bend.Width-flat.Snap; {
		case near && !far:
			in.side = -1
		case far && !near:
			in.side = 1
		}
	}
	if in.depth <= touch {
		return list
	}
	return append(list, in)
}

// onRigid reports one of the rigid areas that reach into a bend.
func (b Board) onRigid(bend *fold.Bend, in intruder, all []intruder) finding.Finding {
	h := b.hinge(bend)
	return finding.Finding{
		Severity: finding.Error, On: []string{"hinge:" + h.Name, in.kind + ":" + in.name}, At: at(in.where), Place: h.Place,
		Value: finding.Number(in.depth), Limit: finding.Number(0), Unit: "mm",
		Message: fmt.Sprintf("%s %s reaches %s into the bend area of %s, which is %s wide", in.kind, in.name, b.say().Length(in.depth), bend.Name, b.say().Length(bend.Width)),
		Hint:    b.wayOut(bend, in, all),
	}
}

// wayOut says what to do about a rigid area: with others on the other side of the bend only a longer flex, or a lower radius,
// helps.
func (b Board) wayOut(bend *fold.Bend, in intruder, all []intruder) string {
	across := intruder{}
	for _, o := range all {
		if o.side*in.side < 0 && o.depth > across.depth {
			across = o
		}
	}
	switch {
	case across.depth > 0:
		return fmt.Sprintf("make the flex between %s and %s %s longer%s", in.name, across.name, b.say().Up(in.depth+across.depth), b.smaller(bend, max(in.depth, across.depth)))
	case in.side == 0:
		return fmt.Sprintf("move the hinge line off %s, or end %s before the bend area", in.name, in.name)
	}
	return fmt.Sprintf("move the hinge line %s away from %s, or end %s that much earlier%s", b.say().Up(in.depth), in.name, in.name, b.smaller(bend, in.depth))
}

// smaller returns the inside radius at which a bend area would end depth mm earlier on either side, the line where it is, as
// another way out; "" where the flex does not take that radius.
func (b Board) smaller(bend *fold.Bend, depth float64) string {
	r := b.say().floor(b.radiusFor(bend, bend.Width-2*depth), b.say().decimals())
	if least, ok := b.leastBent(bend.Hinge); !ok || under(r, least) {
		return ""
	}
	what := "inside radius"
	if b.hinge(bend).Formed == "free" {
		what = "drawn inside radius"
	}
	return ", or lower the " + what + " to " + b.say().Down(r)
}
