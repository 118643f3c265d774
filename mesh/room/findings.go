package room

import (
	"fmt"
	"math"
	"strconv"

	"foldfit/fold"
	"foldfit/fold/finding"
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
	units := t.Design.Units
	at := [2]float64{b.Middle().X, b.Middle().Y}
	f := finding.Finding{
		Rule: "forming-room", Severity: finding.Advice, On: []string{"hinge:" + h.Name, t.Bodies[m.Body].Name}, At: &at, Place: h.Place,
		Value: finding.Number(m.Gap), Limit: finding.Number(0), Unit: "mm",
		Message: fmt.Sprintf("bend %s: a rod of %s, twice the inside radius, meets %s by %s %s", b.Name, length(units, 2*h.Radius, math.Round), t.Bodies[m.Body].Name, length(units, -m.Gap, math.Round), when),
		Hint:    "move the part away from the bend area, form without a rod, or form before the part is placed",
		Source:  "common practice, no source: formed over a rod; the room is computed",
	}
	if m.Largest > 0 {
		f.Hint = fmt.Sprintf("a rod of up to %s has room; or move the part away from the bend area, or form before it is placed", length(units, m.Largest, math.Floor))
	}
	return f
}

// length writes a length given in mm in the design's units to about 0.01 mm, rounded to the last decimal the given way.
func length(u fold.Units, mm float64, round func(float64) float64) string {
	decimals, unit := 2, string(fold.MM)
	switch u {
	case fold.Mil:
		decimals, unit = 1, string(u)
	case fold.Inch:
		decimals, unit = 4, string(u)
	}
	scale := math.Pow10(decimals)
	return strconv.FormatFloat(round(mm/u.Length()*scale+1e-6)/scale, 'f', decimals, 64) + " " + unit
}
