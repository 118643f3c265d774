package rule

import (
	"fmt"
	"math"

	"foldfit/fold/finding"
	"foldfit/fold/stackup"
)

var loosePlies = Rule{
	ID:    "loose-plies",
	Title: "loose plies have the lengths that their bend asks for",
	Why: "Sheets that are bonded at their ends only have ways of different length round a bend. Cut to one length, the inner ones have too much and buckle inward; " +
		"made progressively (bookbinder) they bend one way only, folded the other way the outer ones are too short.",
	Limit:    always("no ply too long, none too short"),
	Source:   "geometry (computed); the height of the buckle is that of a straight clamped strip at small slopes",
	Severity: finding.Advice,
	Tightest: true,
	How: Method{"length of a ply = angle x its own neutral radius + straight parts; surplus e against the outermost; height of the buckle about (2/pi) sqrt(e L)",
		"thickness and neutral surface of every ply, the gap between them, inside radius, run-outs to the rigid edges", "geometry; clamped arch at small slopes",
		"lengths are exact for plies that keep their places; the height is a size, not a shape: it says too much by 3 % at e = L/10"},
	Check: checkLoosePlies,
}

func checkLoosePlies(b Board) []finding.Finding {
	var out []finding.Finding
	for i := range b.Tree.Bends {
		bend := &b.Tree.Bends[i]
		s := b.flex(i).Stack
		if len(s.Plies) == 0 {
			continue
		}
		for _, angle := range b.angles(bend.Hinge) {
			if s.Progressive {
				out = append(out, b.wrongWay(i, s, angle)...)
			} else {
				out = append(out, b.buckled(i, s, angle)...)
			}
		}
	}
	return out
}

// buckled reports plies of equal length whose inner ones have more than the gap between them takes up.
func (b Board) buckled(i int, s stackup.Stackup, angle float64) []finding.Finding {
	bend := &b.Tree.Bends[i]
	straight := 0.0
	if near, far, held := b.Tree.RunOuts(i); held {
		straight = near + far
	}
	slack := s.Pile(b.work(i).drawn.Cylinder(angle).Inside).EqualPlies(math.Abs(angle), bend.RadiusAt(angle), straight)
	if len(slack) == 0 {
		return nil
	}
	worst := slack[0]
	for _, x := range slack {
		if x.Surplus > worst.Surplus {
			worst = x
		}
	}
	if !over(worst.Height, 0) {
		return nil
	}
	h := b.hinge(bend)
	f := finding.Finding{Severity: finding.Advice, On: []string{"hinge:" + h.Name}, At: at(bend.Middle()), Place: h.Place,
		Value: finding.Number(worst.Height), Limit: finding.Number(0), Unit: "mm",
		Message: fmt.Sprintf("bend %s at %s degrees: of its %d plies of equal length the innermost has %s too much and buckles inward by about %s", bend.Name,
			short(angle, 2), len(s.Plies), b.say().Length(worst.Surplus), b.say().Length(worst.Height)),
		Hint: "leave so much room inside the bend, or make the plies progressive (lengths: progressive), which bends this way only",
	}
	if !worst.Small {
		f.Message += "; that is beyond small slopes, take it as much room"
	}
	return []finding.Finding{f}
}

// wrongWay reports progressive plies that are folded against the way that they are made for, which is their hinge's own.
func (b Board) wrongWay(i int, s stackup.Stackup, angle float64) []finding.Finding {
	bend := &b.Tree.Bends[i]
	h := b.hinge(bend)
	if angle*h.Angle >= 0 {
		return nil
	}
	lacks, _ := s.Pile(b.work(i).drawn.Cylinder(h.Angle).Inside).WrongWay(math.Abs(angle), bend.RadiusAt(angle))
	worst := 0.0
	for _, x := range lacks {
		worst = max(worst, x)
	}
	if !over(worst, 0) {
		return nil
	}
	return []finding.Finding{{Severity: finding.Warning, On: []string{"hinge:" + h.Name}, At: at(bend.Middle()), Place: h.Place,
		Value: finding.Number(worst), Limit: finding.Number(0), Unit: "mm",
		Message: fmt.Sprintf("bend %s at %s degrees bends progressive plies the wrong way: one of them is too short by %s", bend.Name, short(angle, 2), b.say().Length(worst)),
		Hint:    "progressive plies bend the way of their hinge's own angle only: take the other posture or range out, or make the plies equally long (lengths: equal)",
	}}
}
