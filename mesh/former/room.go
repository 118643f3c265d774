package former

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// room is what the board leaves to a block at a bend. Stations run across the hinge from the near tangent line, heights along it.
type room struct {
	near, far float64 // straight flex that is free of anything but flex
	past      float64 // from the flex's lower edge to where the board ends, within reach
	beside    string  // what lies beside the bend area and leaves no room, "" for nothing
}

// place finds out which style has room and on which side of the flex it begins.
func (s *Spec) place(t *fold.Tree) (why string) {
	r := s.room(t, 1, 0)
	slanted := [2]float64{max(0, min(mostFlank, r.near-clear)), max(0, min(mostFlank, r.far-clear))}
	for _, try := range []struct {
		style Style
		stem  float64
	}{{Foot, margin + clear}, {Base, math.Inf(1)}, {Foot, 0}, {Bar, margin + clear}, {Bar, 0}} {
		for _, s.zone = range [][2]float64{slanted, {}} {
			s.Style, s.Inside = try.style, s.standsOut(t)
			if r = s.better(t, try.stem); !r.fits() {
				continue
			}
			s.Near, s.Far = min(mostFlank, r.near-clear), min(mostFlank, r.far-clear)
			if s.Style != Foot || s.foot() != nil {
				s.settle(t, r, try.stem > 0)
				return ""
			}
		}
	}
	if r.beside != "" {
		return fmt.Sprintf("%s leaves no room for a block: form it by hand round a rod of %.2f mm diameter", r.beside, 2*s.Radius)
	}
	return fmt.Sprintf("there is too little straight flex beside the bend for a block: %.2f mm near, %.2f mm far, it takes %.2f (a face of %.2f and %.2f to what is thicker)",
		r.near, r.far, leastFlank+clear, leastFlank, clear)
}

// settle sets the figures that follow from the room; without a stem nothing joins a finger to the body.
func (s *Spec) settle(t *fold.Tree, r room, stem bool) {
	if s.Stem = margin; s.Style == Base {
		s.Stem = max(margin, r.past+1)
	}
	for _, i := range s.Bends {
		low, high := s.edges(t, i, t.Bends[i].Dir.Left())
		s.Width = max(s.Width, high-low)
	}
	if s.Near >= Wall && stem {
		s.Slot = s.Thickness + Fit
	}
	s.lay(t)
}

// better measures the room at both ends of the hinge and takes the one with the longer faces, then with less of the board to pass.
func (s *Spec) better(t *fold.Tree, stem float64) room {
	low, high := s.room(t, 1, stem), s.room(t, -1, stem)
	if s.Style == Base {
		low.drop()
		high.drop()
	}
	s.Mirrored = high.fits() && (!low.fits() || high.flank() > low.flank() || high.flank() == low.flank() && high.past < low.past-1e-6)
	if s.Mirrored {
		return high
	}
	return low
}

// drop notes that a base would lie too far out.
func (r *room) drop() {
	if r.past+1 > mostStem && r.beside == "" {
		r.beside = "the board, wide as it is,"
	}
}

// standsOut returns how far anything that the block may pass stands out from the flex's inside face, 0 or more.
func (s *Spec) standsOut(t *fold.Tree) float64 {
	most := 0.0
	for _, i := range s.Bends {
		b := &t.Bends[i]
		along := b.Dir.Left()
		low, high := s.edges(t, i, along)
		for k := range t.Bodies {
			body := &t.Bodies[k]
			from, to := stations(body, b, along, low-margin-clear, high+margin+clear)
			switch {
			case from > b.Width+reach || to < -reach || from > to:
			case t.Design.Hinges[s.Hinge].Angle > 0:
				most = max(most, body.Faces[1]-b.Faces[1])
			default:
				most = max(most, b.Faces[0]-body.Faces[0])
			}
		}
	}
	return most
}

// fits reports whether a block has room.
func (r *room) fits() bool {
	return r.beside == "" && min(r.near, r.far) >= leastFlank+clear-1e-9
}

// flank returns how long the shorter face may be.
func (r *room) flank() float64 { return min(mostFlank, r.near-clear, r.far-clear) }

// axis returns the direction of z: x across, y to the flex's outside, z along the hinge are right-handed.
func (s *Spec) axis(t *fold.Tree) flat.Pt {
	return t.Bends[s.Bends[0]].Dir.Left().Mul(math.Copysign(1, t.Design.Hinges[s.Hinge].Angle))
}

// room measures what all bends of the block leave to it, when it begins beyond the end of the hinge to which way*axis does not point
// and reaches that far beyond the flex's edge (stem).
func (s *Spec) room(t *fold.Tree, way, stem float64) room {
	out := room{near: math.Inf(1), far: math.Inf(1)}
	along := s.axis(t).Mul(way)
	for _, i := range s.Bends {
		b := &t.Bends[i]
		low, high := s.edges(t, i, along)
		for k := range t.Bodies {
			body := &t.Bodies[k]
			if body.Bend == i && body.Kind == fold.KindBend {
				continue
			}
			to := high + margin
			if body.Kind == fold.KindFlex || body.Kind == fold.KindBend {
				to = low - 1e-3 // it may lie against the faces, and not where the stem stands
			}
			out.take(body, b, along, [3]float64{low - max(stem, margin), to, low}, stem > 0)
		}
	}
	return out
}

// take takes the room that a body fills between two heights; edge is the height of the flex's lower edge.
func (r *room) take(body *fold.Body, b *fold.Bend, along flat.Pt, heights [3]float64, stem bool) {
	from, to, edge := heights[0], heights[1], heights[2]
	if !stem && to < edge {
		to = from
	}
	least, most := stations(body, b, along, from, to)
	switch {
	case least > most:
	case most <= flat.Snap:
		r.near = min(r.near, -most)
	case least >= b.Width-flat.Snap:
		r.far = min(r.far, least-b.Width)
	default:
		r.beside = body.Name
	}
	r.past = max(r.past, edge-lowest(body, b, along))
}

// stations returns the range of stations of a body between two heights; least > most where there is nothing of it.
func stations(body *fold.Body, b *fold.Bend, along flat.Pt, from, to float64) (least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	sides(body, b, along, func(p, q flat.Pt) {
		if u, v, ok := clip(p, q, from, to); ok {
			least, most = min(least, u.X, v.X), max(most, u.X, v.X)
		}
	})
	return least, most
}

// lowest returns the least height of a body within reach of the bend.
func lowest(body *fold.Body, b *fold.Bend, along flat.Pt) float64 {
	low := math.Inf(1)
	sides(body, b, along, func(p, q flat.Pt) {
		if u, v, ok := clip(turned(p), turned(q), -reach, b.Width+reach); ok {
			low = min(low, u.X, v.X)
		}
	})
	return low
}

// sides visits the sides of a body's footprint: x its station, y its height.
func sides(body *fold.Body, b *fold.Bend, along flat.Pt, visit func(p, q flat.Pt)) {
	at := func(p flat.Pt) flat.Pt { return flat.Pt{X: b.Station(p), Y: p.Dot(along)} }
	for _, l := range outlines(body) {
		for i, p := range l {
			visit(at(p), at(l[(i+1)%len(l)]))
		}
	}
}

// turned swaps the coordinates.
func turned(p flat.Pt) flat.Pt { return flat.Pt{X: p.Y, Y: p.X} }

// clip returns the part of a segment whose second coordinate lies from low to high.
func clip(a, b flat.Pt, low, high float64) (flat.Pt, flat.Pt, bool) {
	if a.Y > b.Y {
		a, b = b, a
	}
	if a.Y > high || b.Y < low || low >= high {
		return a, b, false
	}
	p, q := a, b
	if a.Y < low {
		p = a.Add(b.Sub(a).Mul((low - a.Y) / (b.Y - a.Y)))
	}
	if b.Y > high {
		q = a.Add(b.Sub(a).Mul((high - a.Y) / (b.Y - a.Y)))
	}
	return p, q, true
}

// outlines returns the loops of a body's footprint in the flat, arcs within 0.01 mm.
func outlines(body *fold.Body) [][]flat.Pt {
	var out [][]flat.Pt
	for _, l := range body.Region {
		out = append(out, l.Points(0.01))
	}
	sn, cs := math.Sincos(body.Turn * (math.Pi / 180))
	for _, x := range body.Boxes {
		var l []flat.Pt
		for _, c := range [4][2]float64{{x[0], x[1]}, {x[3], x[1]}, {x[3], x[4]}, {x[0], x[4]}} {
			l = append(l, body.At.Add(flat.Pt{X: c[0]*cs - c[1]*sn, Y: c[0]*sn + c[1]*cs}))
		}
		out = append(out, l)
	}
	return out
}

// lay sets the motion from flat coordinates.
func (s *Spec) lay(t *fold.Tree) {
	b, angle, e := &t.Bends[s.Bends[0]], t.Design.Hinges[s.Hinge].Angle, s.axis(t)
	sign, inside := 1.0, b.Faces[1]
	if angle < 0 {
		sign, inside = -1, b.Faces[0]
	}
	d := b.Dir
	if s.Mirrored {
		d, e = d.Mul(-1), e.Mul(-1)
	}
	low, _ := s.edges(t, s.Bends[0], e)
	s.BlockFromFlat = mgl64.Ident4()
	s.BlockFromFlat.SetRow(0, mgl64.Vec4{d.X, d.Y, 0, -d.Dot(b.Origin)})
	s.BlockFromFlat.SetRow(1, mgl64.Vec4{0, 0, -sign, sign * inside})
	s.BlockFromFlat.SetRow(2, mgl64.Vec4{e.X, e.Y, 0, s.floor() - low})
}

// floor returns the height on which the flex's edge stands.
func (s *Spec) floor() float64 {
	if s.Style == Base {
		return base + s.Stem
	}
	return s.Stem
}
