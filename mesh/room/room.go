package room

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/mesh"
)

// Room is what a rod meets at one bend: before the flex is wrapped about it, and after. In between it rolls from the middle of
// the bend area to both tangent lines, and comes no nearer to what lies on the bend's own flats than at the end.
type Room struct {
	Bend     int     // in Tree.Bends
	Diameter float64 // of the rod: twice the hinge's inside radius, mm
	// Flat is the rod resting on the middle of the bend area of the flat board, against components on that side.
	Flat Place
	// Folded is the rod in the bend as the assembly stands, against all bodies but the bend and what lies behind its tangent
	// planes on the flats that it joins. Nothing where the hinge stands at 0.
	Folded Place
}

// Place is a rod in one place, brought there in two ways.
type Place struct {
	Laid    Meeting // a rod as long as the bend area, laid in from above
	Entered Meeting // one that comes in along its axis past one end of the bend area: of both ends the one with more room
}

// Meeting is the nearest of what a rod may meet.
type Meeting struct {
	Body    int     // in Tree.Bodies; -1 for none: the gap is then infinite
	Gap     float64 // mm between rod and body; below zero the rod does not fit: by how much its axis is too near, twice the radius where all of it lies inside
	Chord   float64 // by how much the gap may be off either way: the chord error of the body's mesh, 0 for plane faces
	Largest float64 // diameter of the largest rod that would fit there, mm: on the flat face, or in the drawn arc; 0 for none
	End     int     // Entered: past which end of the hinge's line, 0 for its first point, 1 for its last
}

// Rooms returns the room for a rod at each bend of a board, in the order of Tree.Bends. Fold the board to the posture in which
// the rod is still in place: other hinges that bend later should be flat. Distances are exact between the rod and the
// bodies' meshes. Bends count as drawn, also where the assembly has them in a free shape.
func Rooms(a *mesh.Assembly) []Room {
	t := a.Folded.Tree
	out := make([]Room, len(t.Bends))
	for i := range t.Bends {
		b := &t.Bends[i]
		h := &t.Design.Hinges[b.Hinge]
		out[i] = Room{Bend: i, Diameter: 2 * h.Radius, Flat: onFlat(a, b, h), Folded: inFold(a, b, h)}
	}
	return out
}

// Alone returns the room at each bend with its hinge at the design's angle and all others flat: as for hinges that are formed
// one by one, each before those that would shut the way in. Bodies are drawn with the given chord error (mm). An error is
// that of fold.Place or mesh.Skin.
func Alone(t *fold.Tree, chord float64) ([]Room, error) {
	out := make([]Room, len(t.Bends))
	for h := range t.Hinges {
		if len(t.Hinges[h].Bends) == 0 {
			continue
		}
		angles := make([]float64, len(t.Hinges))
		angles[h] = t.Design.Hinges[h].Angle
		f, err := t.Place(angles)
		if err != nil {
			return nil, err
		}
		a, err := mesh.Skin(f, chord)
		if err != nil {
			return nil, err
		}
		all := Rooms(a)
		for _, i := range t.Hinges[h].Bends {
			out[i] = all[i]
		}
	}
	return out, nil
}

// rod is a round rod and the frame in which it lies: its axis runs through the origin at along; across is the near flat's normal to
// the hinge there, up the third direction.
type rod struct {
	radius            float64
	at                mgl64.Vec3
	across, up, along mgl64.Vec3
	from, to          float64 // the bend area along the axis
	onFace            bool    // it rests on a plane face, which a rod of another size touches at the same line
}

// onFlat returns what the rod meets on the flat board.
func onFlat(a *mesh.Assembly, b *fold.Bend, h *fold.Hinge) Place {
	side := sideOf(h.Angle)
	u := b.Dir.Left()
	foot := b.Origin.Add(b.Dir.Mul(b.Width / 2))
	r := rod{radius: h.Radius, onFace: true, at: mgl64.Vec3{foot.X, foot.Y, face(b.Faces, side) + side.Sign()*h.Radius},
		across: mgl64.Vec3{b.Dir.X, b.Dir.Y, 0}, up: mgl64.Vec3{0, 0, side.Sign()}, along: mgl64.Vec3{u.X, u.Y, 0}}
	r.from, r.to = reach(b)
	return r.meet(a, b, func(body *mesh.Body) []mgl64.Vec3 {
		source := &a.Folded.Tree.Bodies[body.Source]
		if body.Kind != fold.KindComponent || behind(b, source, side) {
			return nil
		}
		return body.Flat
	}, math.Inf(1))
}

// inFold returns what the rod meets in the folded bend. Its axis is that of the cylinder: 1/curvature over the neutral surface at
// the near tangent line.
func inFold(a *mesh.Assembly, b *fold.Bend, h *fold.Hinge) Place {
	angle := a.Folded.Angles[b.Hinge]
	if angle == 0 {
		return Place{nothing(math.Inf(1)), nothing(math.Inf(1))}
	}
	m := a.Folded.BoardFromFlat(b.Parent)
	u := b.Dir.Left()
	r := rod{radius: h.Radius, at: fold.Apply(m, mgl64.Vec3{b.Origin.X, b.Origin.Y, b.Height + b.Width/(angle*math.Pi/180)}),
		across: fold.Turn(m, mgl64.Vec3{b.Dir.X, b.Dir.Y, 0}), up: fold.Turn(m, mgl64.Vec3{0, 0, 1}), along: fold.Turn(m, mgl64.Vec3{u.X, u.Y, 0})}
	r.from, r.to = reach(b)
	return r.meet(a, b, func(body *mesh.Body) []mgl64.Vec3 {
		source := &a.Folded.Tree.Bodies[body.Source]
		own := source.Bend >= 0 && &a.Folded.Tree.Bends[source.Bend] == b
		joined := own || slices.Contains(b.Near, source.Flat) || slices.Contains(b.Far, source.Flat)
		if own && body.Kind == fold.KindBend || joined && behind(b, source, sideOf(angle)) {
			return nil
		}
		return body.Points
	}, 2*b.RadiusAt(angle))
}

// sideOf returns the side that is concave at an angle.
func sideOf(angle float64) fold.Side {
	if angle < 0 {
		return fold.Bottom
	}
	return fold.Top
}

// face returns the height of the face on a side.
func face(z [2]float64, side fold.Side) float64 {
	if side == fold.Top {
		return z[1]
	}
	return z[0]
}

// behind reports whether a body does not rise over the concave face of a bend, in the flat: the rod then never comes to it.
func behind(b *fold.Bend, body *fold.Body, side fold.Side) bool {
	return side.Sign()*(body.Face(side)-face(b.Faces, side)) <= flat.Snap
}

// reach returns from where to where a bend area reaches along its hinge, from the foot of its origin.
func reach(b *fold.Bend) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, l := range b.Region {
		for _, p := range l.Points(1e-3) {
			at := p.Sub(b.Origin).Dot(b.Dir.Left())
			from, to = min(from, at), max(to, at)
		}
	}
	return from, to
}

// meet returns what the rod meets of those bodies for which points returns where they stand. No rod thicker than most fits.
func (r *rod) meet(a *mesh.Assembly, b *fold.Bend, points func(*mesh.Body) []mgl64.Vec3, most float64) Place {
	line := a.Folded.Tree.Hinges[b.Hinge].Line
	last := 1 // the end of the line beyond `to`
	if line[1].Sub(line[0]).Dot(b.Dir.Left()) < 0 {
		last = 0
	}
	spans := [3][2]float64{{r.from, r.to}, {math.Inf(-1), r.to}, {r.from, math.Inf(1)}}
	out := [3]Meeting{nothing(most), nothing(most), nothing(most)}
	out[1].End, out[2].End = 1-last, last
	for i := range a.Bodies {
		body := &a.Bodies[i]
		at := r.local(points(body))
		for k, m := range out {
			near, largest := r.measure(at, body.Triangles, spans[k])
			if gap := near - r.radius; gap < m.Gap {
				out[k].Body, out[k].Gap, out[k].Chord = body.Source, gap, body.Chord
			}
			out[k].Largest = min(m.Largest, largest)
		}
	}
	if out[2].Gap > out[1].Gap {
		return Place{out[0], out[2]}
	}
	return Place{out[0], out[1]}
}

// nothing is what a rod meets that meets nothing; thicker ones than most do not fit.
func nothing(most float64) Meeting {
	return Meeting{Body: -1, Gap: math.Inf(1), Largest: most}
}
