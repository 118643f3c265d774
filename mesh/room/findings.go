package room

import (
	"fmt"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/rule"
)

// touch is the depth in mm up to which a rod may reach into a body unnoticed.
const touch = 0.001

// Findings returns an advice for each hinge that is formed by the fabricator or on the bench and has no room for a rod of twice its
// inside radius laid into its bend, because of what stands on the board: the worst of its bends.
func Findings(t *fold.Tree, rooms []Room) []finding.Finding {
	var out []finding.Finding
	for hi := range t.Hinges {
		h := &t.Design.Hinges[hi]
		if h.Formed != "fabricator" && h.Formed != "bench" {
			continue
		}
		worst := nothing(0)
		bend, flat := -1, false
		for _, i := range t.Hinges[hi].Bends {
			for k, m := range []Meeting{rooms[i].Flat.Laid, rooms[i].Folded.Laid} {
				if m.Body >= 0 && m.Gap+m.Chord < -touch && (bend < 0 || m.Gap < worst.Gap) {
					worst, bend, flat = m, i, k == 0
				}
			}
		}
		if bend >= 0 {
			out = append(out, noRoom(t, h, &t.Bends[bend], worst, flat))
		}
	}
	return out
}

func noRoom(t *fold.Tree, h *fold.Hinge, b *fold.Bend, m Meeting, flat bool) finding.Finding {
	when := "once the flex is wrapped about it"
	if flat {
		when = "laid on the flat board"
	}
	say := rule.Lengths{Units: t.Design.Units}
	at := [2]float64{b.Middle().X, b.Middle().Y}
	f := finding.Finding{
		Rule: "forming-room", Severity: finding.Advice, On: []string{"hinge:" + h.Name, t.Bodies[m.Body].Name}, At: &at, Place: h.Place,
		Value: finding.Number(m.Gap), Limit: finding.Number(0), Unit: "mm",
		Message: fmt.Sprintf("bend %s: a rod of %s, twice the inside radius, meets %s by %s %s", b.Name, say.Length(2*h.Radius), t.Bodies[m.Body].Name, say.Length(-m.Gap), when),
		Hint:    "move the part away from the bend area, form without a rod, or form before the part is placed",
		Source:  "common practice, no source: formed over a rod; the room is computed",
	}
	if m.Largest > 0 {
		f.Hint = fmt.Sprintf("a rod of up to %s has room; or move the part away from the bend area, or form before it is placed", say.Down(m.Largest))
	}
	return f
}
