package gltf

import (
	"math"

	"foldfit/fold"
	"foldfit/mesh/clash"
)

// extras is what a node says of itself beside its shape; lengths in mm, areas in mm2, volumes in mm3, angles in degrees.
type extras = map[string]any

// assetExtras says what the file is and which units its extras use.
func assetExtras() extras {
	return extras{
		"format": "foldfit-glb/1",
		"units":  "geometry in metres, y up; extras in mm, mm2, mm3 and degrees; faces_mm are heights in the flat above the neutral surface of the flex",
	}
}

// boardExtras gives the posture: each hinge's angle in degrees, + toward the top side.
func (b *builder) boardExtras() extras {
	posture := extras{}
	for i, h := range b.tree.Design.Hinges {
		posture[h.Name] = tidy(b.Assembly.Folded.Angles[i])
	}
	return extras{"posture_deg": posture, "chord_mm": b.Assembly.Chord}
}

func flatExtras(f *fold.Flat) extras {
	x := extras{"name": f.Name, "kind": "flat", "area_mm2": tidy(f.Area)}
	if len(f.Sections) > 0 {
		x["sections"] = f.Sections
	}
	return x
}

// bodyExtras describes a body of the board; its volume is the exact one, not the mesh's.
func (b *builder) bodyExtras(tb *fold.Body) extras {
	x := extras{
		"name":       tb.Name,
		"kind":       string(tb.Kind),
		"area_mm2":   tidy(tb.Area),
		"volume_mm3": tidy(tb.Volume),
		"faces_mm":   []float64{tidy(tb.Faces[0]), tidy(tb.Faces[1])},
	}
	if tb.Kind == fold.KindBend {
		b.addBendExtras(x, tb)
	}
	return x
}

// addBendExtras adds what only a bend has. Its volume depends on the angle (Pappus: area times thickness, less what lies
// nearer the centre of curvature than the neutral surface, plus what lies beyond), so it is that of the scene's posture. Of a
// free shape the width is that from clamp to clamp, and there is no one radius.
func (b *builder) addBendExtras(x extras, tb *fold.Body) {
	bend := &b.tree.Bends[tb.Bend]
	angle := b.Assembly.Folded.Angles[bend.Hinge]
	x["hinge"] = b.tree.Design.Hinges[bend.Hinge].Name
	x["angle_deg"] = tidy(angle)
	if b.Assembly.Folded.Free(tb.Bend) != nil {
		from, to := b.Assembly.Folded.Span(tb.Bend)
		x["shape"], x["width_mm"] = "free", tidy(to-from)
		return
	}
	low, high := bend.Faces[0]-bend.Height, bend.Faces[1]-bend.Height
	curvature := angle * (math.Pi / 180) / bend.Width
	x["volume_mm3"] = tidy(bend.Area * ((high - low) - curvature*(high*high-low*low)/2))
	x["width_mm"] = tidy(bend.Width)
	if angle != 0 {
		x["inside_radius_mm"] = tidy(bend.RadiusAt(angle))
	}
}

func wallExtras(w *clash.Wall) extras {
	x := extras{"name": wallName(w), "kind": string(fold.KindEnclosure), "closed": w.Closed}
	if w.Piece != nil && w.Piece.Role != "" {
		x["role"] = w.Piece.Role
	}
	return x
}

// gapExtras describes a gap. What the piece grows is taken off the gap, so its two points may be further apart.
func gapExtras(g *clash.Gap) extras {
	x := extras{
		"kind": "gap", "between": g.Between, "gap_kind": g.Kind, "gap_mm": tidy(g.Gap), "required_mm": tidy(g.Required),
		"apart_mm": tidy(g.At[1].Sub(g.At[0]).Len()), "posture": g.Posture,
	}
	if g.Rule != "" {
		x["rule"] = g.Rule
	}
	if g.Seat != "" {
		x["seat"] = g.Seat
	}
	return x
}

// clipExtras tells when each step of the sequence begins and ends, in seconds; nil without one.
func (b *builder) clipExtras() any {
	if b.Program == nil {
		return nil
	}
	steps := make([]extras, len(b.plan))
	for i := range b.plan {
		s := &b.plan[i]
		steps[i] = extras{"step": s.step + 1, "start_s": s.start, "end_s": s.start + s.length}
		if s.motion.Name != "" {
			steps[i]["name"] = s.motion.Name
		}
	}
	return extras{"posture": b.Program.Posture, "steps": steps}
}

// tidy rounds to 1e-6, far below anything a board is made to; no negative zero comes out.
func tidy(v float64) float64 { return math.Round(v*1e6)/1e6 + 0 }
