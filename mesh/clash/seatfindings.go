package clash

import (
	"fmt"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

// seatGap returns the gap at a seat, judged. Where the seat gives way (squeeze), what the piece grows is taken off; on a
// hard seat the piece rests, and grows to its other sides.
func (c *checker) seatGap(s *seating) Gap {
	t := &s.contact
	g := Gap{Between: [2]string{t.of.name, s.wall.name}, Kind: "enclosure", Gap: t.gap - s.growth(), Required: -s.Squeeze,
		At: [2]mgl64.Vec3{positive(t.x), positive(t.y)}, Judged: true, Posture: c.posture, Seat: s.Name}
	out := fold.Turn(s.housingFromFlat, vec{0, 0, s.Side.Sign()})
	g.Low = g.Gap - t.of.chordAt(t.x, out) - s.wall.chordAt(t.y, along(vec{}, -1, out))
	slack := max(rounding(t.of, s.wall), 1e-9*s.Squeeze, 1e-9*s.Bond)
	switch {
	case g.Gap < -s.Squeeze-Touch-slack:
		g.Rule = "contact"
	case g.Low+s.growth() > s.Bond+seated+slack && c.demanded(s):
		g.Rule = "not-seated"
	}
	if g.Between[0] > g.Between[1] {
		g.Between[0], g.Between[1], g.At[0], g.At[1] = g.Between[1], g.Between[0], g.At[1], g.At[0]
	}
	return g
}

// growth returns what the piece grows toward the seat, mm.
func (s *seating) growth() float64 {
	if s.Squeeze > 0 {
		return s.wall.grows
	}
	return 0
}

// demanded reports whether contact is wanted in the checked posture: the seat stands to the piece as in the folded posture.
// What has moved away from its piece since is not expected to touch it.
func (c *checker) demanded(s *seating) bool {
	own := c.tree.Angles()
	if s.wall == nil || len(s.on) == 0 || slices.Equal(own, c.folded.Angles) {
		return true
	}
	rest, err := c.tree.Place(own)
	if err != nil {
		return true
	}
	now, err := c.pieceFromFlat(c.folded, s)
	then, err2 := c.pieceFromFlat(rest, s)
	if err != nil || err2 != nil {
		return true
	}
	for _, e := range s.Area {
		p := vec{e.P.X, e.P.Y, 0}
		if length(sub(fold.Apply(now, p), fold.Apply(then, p))) > Touch {
			return false
		}
	}
	return true
}

// pieceFromFlat returns the motion of what sits relative to the seat's piece.
func (c *checker) pieceFromFlat(f *fold.Folded, s *seating) (mgl64.Mat4, error) {
	m, err := housingFromPiece(f, s.wall.wall.Piece)
	return fold.Invert(m).Mul4(c.housing).Mul4(f.BodyMotion(s.on[0].body)), err
}

// judgeSeat returns the gap at a seat and what is wrong with it, either empty. A component without a height has no body that
// could sit; that it was not checked is said instead.
func (c *checker) judgeSeat(s *seating) ([]judged, []finding.Finding) {
	at := s.place()
	f := finding.Finding{Rule: "not-seated", Severity: finding.Error, On: c.seatNames(s), Posture: c.posture, At: &at, Place: s.Place,
		Unit: "mm", Source: fmt.Sprintf("seat %s of the design; up to %s over the bond counts as seated", s.Name, c.mm(seated))}
	if s.missing != "" {
		return nil, c.notThere(s, f)
	}
	g := c.seatGap(s)
	f.On = []string{s.contact.of.name, s.wall.name}
	switch g.Rule {
	case "not-seated":
		c.standsOff(s, &f)
	case "contact":
		c.presses(s, &g, &f)
	default:
		return []judged{{Gap: g}}, nil
	}
	return []judged{{Gap: g}}, []finding.Finding{f}
}

// place returns where in the flat a seat is: the middle of its area, or a point of an area that is hollow there.
func (s *seating) place() [2]float64 {
	b := s.Area.Box()
	p := b.Min.Mid(b.Max)
	if !s.Area.Contains(p) {
		p = flat.Region{s.Area.CCW()}.Inside()
	}
	return [2]float64{p.X, p.Y}
}

// seatNames returns the bodies that a seat means, or the names as they are written.
func (c *checker) seatNames(s *seating) []string {
	out := []string{s.On, s.Against}
	for _, m := range c.members {
		if sits(m, s.On) && out[0] == s.On {
			out[0] = m.name
		}
	}
	if len(s.on) > 0 {
		out[0] = s.on[0].name
	}
	if s.wall != nil {
		out[1] = s.wall.name
	}
	return out
}

// takenAway reports whether a name means a piece that the sequence takes away before it ends.
func (c *checker) takenAway(name string) bool {
	left := c.tree.Design.Left()
	for i := range c.tree.Design.Enclosure {
		if !left[i] && fold.NameMatches(name, string(fold.KindEnclosure)+":"+c.tree.Design.Enclosure[i].Name) {
			return true
		}
	}
	return false
}

// notThere words a seat at which nothing can be measured.
func (c *checker) notThere(s *seating, f finding.Finding) []finding.Finding {
	if s.wall == nil && c.takenAway(s.Against) {
		c.unchecked = append(c.unchecked, finding.Unchecked{What: "seat", On: []string{string(fold.KindEnclosure) + ":" + bareName(s.Against)},
			Why: "the sequence takes it away before the end, so that nothing is said about seat " + s.Name + " at rest; in motion contact there is allowed"})
		return nil
	}
	for _, p := range c.tree.Design.Components {
		if len(s.on) == 0 && p.Height == nil && len(p.Boxes) == 0 && fold.NameMatches(s.On, "component:"+p.Name) {
			c.unchecked = append(c.unchecked, finding.Unchecked{What: "seat", On: []string{"component:" + p.Name},
				Why: "it has no height, so that nothing can be said about seat " + s.Name})
			return nil
		}
	}
	if !c.demanded(s) {
		return nil
	}
	f.Message = s.missing
	f.Hint = "correct the seat's area, side or names (on, against), or move the piece under it"
	return []finding.Finding{f}
}

// standsOff words a body that does not reach its seat.
func (c *checker) standsOff(s *seating, f *finding.Finding) {
	t := &s.contact
	f.Value, f.Limit = finding.Number(t.gap), finding.Number(s.Bond+seated)
	out := fold.Turn(s.housingFromFlat, vec{0, 0, s.Side.Sign()})
	where := "off"
	switch {
	case out[2] < -0.7:
		where = "above"
	case out[2] > 0.7:
		where = "below"
	}
	f.Message = fmt.Sprintf("%s stands %s %s %s (bond %s) on %s", s.name, c.mm(t.gap), where, s.Name, c.mm(s.Bond), bareName(s.wall.name))
	f.Hint = fmt.Sprintf("move %s by %s along %s to seat it, or the piece as much the other way", s.name, c.mm(t.gap-s.Bond), direction(out))
	if name := c.between(s); name != "" {
		f.Hint += fmt.Sprintf("; %s lies between, name it as what sits with on: %s", name, bareName(name))
	}
}

// between returns the name of a stiffener that covers some of a seat's area, "" for none.
func (c *checker) between(s *seating) string {
	for _, m := range c.members {
		if m.kind == fold.KindStiffener && m.body.Side == s.Side && m.body.Flat == s.on[0].body.Flat && !slices.Contains(s.on, m) && len(facesIn(m, s)) > 0 {
			return m.name
		}
	}
	return ""
}

// presses words a body that goes deeper into its seat than that gives way.
func (c *checker) presses(s *seating, g *Gap, f *finding.Finding) {
	f.Rule = "contact"
	f.Value, f.Limit = finding.Number(-g.Gap), finding.Number(s.Squeeze)
	grown := ""
	if s.growth() > 0 {
		grown = c.grown(s.wall)
	}
	f.Message = fmt.Sprintf("%s presses %s into %s at seat %s%s, squeeze %s allowed", s.name, c.mm(-g.Gap), bareName(s.wall.name), s.Name, grown, c.mm(s.Squeeze))
	in := fold.Turn(s.housingFromFlat, vec{0, 0, -s.Side.Sign()})
	f.Hint = fmt.Sprintf("move %s by %s along %s, or allow squeeze: %s if what lies there gives way so far", s.name, c.up(-g.Gap-s.Squeeze), direction(in), c.number(-g.Gap, 1))
	f.Source = fmt.Sprintf("seat %s of the design; overlaps up to %s count as touching", s.Name, c.mm(Touch))
}
