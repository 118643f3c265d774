package clash

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
)

// swing bounds how far points move within an interval of a step, from its middle to either end.
type swing struct {
	moment *moment
	turns  []float64 // by hinge, radians from the middle to an end
	leg    *fold.Leg // that the mover goes along; nil in a step that bends
	mover  int
	part   float64    // of the leg, from the middle to an end
	pivot  mgl64.Vec3 // the mover's origin at the middle
	chains map[*member][]joint
}

// joint is a bend on the way from a body to the base: up to which station, and whether the body is that bend itself.
type joint struct {
	bend    int
	station float64
	itself  bool
}

// swing returns the bounds for an interval of that length about a moment.
func (v *voyage) swing(m *moment, length float64) *swing {
	motion := &v.program.Steps[v.step]
	s := &swing{moment: m, mover: motion.Mover, turns: make([]float64, len(motion.From)), chains: map[*member][]joint{}}
	for i := range s.turns {
		s.turns[i] = math.Abs(motion.To[i]-motion.From[i]) * (math.Pi / 180) * length / 2
	}
	if len(motion.Legs) > 0 {
		leg, u := motion.LegAt(m.progress)
		s.leg, s.part = leg, length/2*float64(len(motion.Legs))
		s.pivot = v.program.Pivot(motion.Mover).Add(leg.From.Move.Add(leg.To.Move.Sub(leg.From.Move).Mul(u)))
	}
	return s
}

// between returns a bound in mm on how far two members move relative to each other.
func (s *swing) between(a, b *member) float64 {
	ca, cb := s.chain(a), s.chain(b)
	onBoardA, onBoardB := s.onBoard(a), s.onBoard(b)
	if onBoardA && onBoardB { // what both hang on moves both alike
		for len(ca) > 0 && len(cb) > 0 && ca[len(ca)-1] == cb[len(cb)-1] && !ca[len(ca)-1].itself {
			ca, cb = ca[:len(ca)-1], cb[:len(cb)-1]
		}
		return s.along(a, ca) + s.along(b, cb)
	}
	return s.along(a, ca) + s.along(b, cb) + s.carried(a) + s.carried(b)
}

// onBoard reports whether a member moves with the board.
func (s *swing) onBoard(m *member) bool { return m.body != nil || m.wall.rides() }

// chain returns the bends from a member to the base, the member's own first.
func (s *swing) chain(m *member) []joint {
	if c, ok := s.chains[m]; ok {
		return c
	}
	t := s.moment.tree
	flat, out := -1, []joint(nil)
	switch {
	case m.body != nil && m.body.Bend >= 0:
		b := &t.Bends[m.body.Bend]
		station := b.Width
		if m.kind != fold.KindBend {
			station = b.Station(m.body.At)
		}
		flat, out = b.Parent, []joint{{m.body.Bend, station, m.kind == fold.KindBend}}
	case m.body != nil:
		flat = m.body.Flat
	case m.wall.rides():
		flat, out = s.rider(m.wall.Piece)
	}
	for flat > 0 {
		f := &t.Flats[flat]
		if f.Far {
			out = append(out, joint{bend: f.Bend, station: t.Bends[f.Bend].Width})
		}
		flat = f.Parent
	}
	s.chains[m] = out
	return out
}

// rider returns the flat that a piece rides on, or the bend that it follows.
func (s *swing) rider(p *fold.Piece) (int, []joint) {
	t := s.moment.tree
	if p.On != "" {
		return t.FlatOfSection(p.On), nil
	}
	for i, h := range t.Design.Hinges {
		if h.Name == p.Follows.Hinge && len(t.Hinges[i].Bends) > 0 {
			bend := t.Hinges[i].Bends[0]
			return t.Bends[bend].Parent, []joint{{bend: bend, station: p.Follows.Share * t.Bends[bend].Width}}
		}
	}
	return 0, nil
}

// along returns a bound on how far a member's points move against the frame at the end of a chain.
//
// The end of a bend's arc of length s moves by at most s/2 for each radian that its curvature turns it (the integral of the arm over
// the arc), and what is fixed to it turns about the hinge direction there, by its distance from that line for each radian; what the
// joints further out have moved it before adds to that distance.
func (s *swing) along(m *member, chain []joint) float64 {
	d := 0.0
	for _, j := range chain {
		b := &s.moment.tree.Bends[j.bend]
		turn := s.turns[b.Hinge]
		switch {
		case turn == 0:
		case j.itself:
			d += turn * (b.Width/2 + max(math.Abs(b.Faces[0]-b.Height), math.Abs(b.Faces[1]-b.Height)))
		default:
			d += turn * (j.station/2 + s.arm(m, j) + d)
		}
	}
	return d
}

// arm returns the largest distance of a member's box from the line along the hinge at the end of a joint.
func (s *swing) arm(m *member, j joint) float64 {
	b := &s.moment.tree.Bends[j.bend]
	place := s.moment.housing.Mul4(s.moment.folded.BoardFromStation(j.bend, j.station))
	foot := b.Origin.Add(b.Dir.Mul(j.station))
	u := b.Dir.Left()
	return farthest(m.box, vec(fold.Apply(place, mgl64.Vec3{foot.X, foot.Y, b.Height})), vec(fold.Turn(place, mgl64.Vec3{u.X, u.Y, 0})))
}

// carried returns a bound on how far the leg of this step carries a member.
func (s *swing) carried(m *member) float64 {
	if s.leg == nil || !s.moves(m) {
		return 0
	}
	shift := s.leg.To.Move.Sub(s.leg.From.Move).Len()
	turn := 0.0
	if s.leg.Angle != 0 {
		turn = math.Abs(s.leg.Angle) * (math.Pi / 180) * farthest(m.box, vec(s.pivot), vec(s.leg.Axis))
	}
	return s.part * (shift + turn)
}

// moves reports whether a member goes along with the mover.
func (s *swing) moves(m *member) bool {
	if s.mover == fold.TheBoard {
		return s.onBoard(m)
	}
	d := s.moment.tree.Design
	return m.wall != nil && m.wall.Piece != nil && m.wall.Piece.Name == d.Enclosure[s.mover].Name
}

// farthest returns the largest distance of a box from a line; a convex function is largest at a corner.
func farthest(b box, p, u vec) float64 {
	most := 0.0
	for k := range 8 {
		var q vec
		for i := range 3 {
			q[i] = b.lo[i]
			if k>>i&1 == 1 {
				q[i] = b.hi[i]
			}
		}
		most = max(most, length(cross(sub(q, p), u)))
	}
	return most
}
