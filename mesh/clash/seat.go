package clash

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

const (
	// seated is how much farther (mm) than the bond's thickness a board may stand from its seat.
	seated = 0.01
	// seatReach is how far (mm) over its seat a board is still said to stand above it, rather than the piece not to be there.
	seatReach = 5
)

// seating is a seat of the design on the folded board.
type seating struct {
	*fold.Seat
	name            string     // of what sits: as the design writes it, without a prefix
	on              []*member  // the bodies that sit, all on one flat; none: see missing
	wall            *member    // nil: the design has no such piece
	housingFromFlat mgl64.Mat4 // of that flat, or of a component in a bend
	parts           [][]flat.Pt
	borders         [][]border // of the parts
	off             float64    // how far the parts may be off the area
	face            float64    // least height outward of the bodies' faces in the area
	contact         touchdown
	missing         string // why nothing can be measured; "" where contact has been
}

// outward returns the height of a flat point outward of the board on the seat's side.
func (s *seating) outward(z float64) float64 { return s.Side.Sign() * z }

// sit finds the bodies and pieces of the design's seats and measures between them.
func (c *checker) sit() {
	for i := range c.tree.Design.Seats {
		c.seats = append(c.seats, c.newSeating(&c.tree.Design.Seats[i]))
	}
}

func (c *checker) newSeating(f *fold.Seat) *seating {
	s := &seating{Seat: f, name: bareName(f.On)}
	for _, m := range c.members {
		if m.kind == fold.KindEnclosure && fold.NameMatches(f.Against, m.name) {
			s.wall = m
			break
		}
	}
	var err error
	if s.parts, s.off, err = convexParts(f.Area); err != nil {
		s.missing = "the area cannot be used: " + err.Error()
		return s
	}
	for _, p := range s.parts {
		s.borders = append(s.borders, linesOf(p))
	}
	faces := c.seatFaces(s)
	switch {
	case len(s.on) == 0:
		s.missing = "there is nothing of " + s.name + " in the area of seat " + s.Name
	case s.wall == nil:
		s.missing = "there is no piece " + f.Against + " for seat " + s.Name
	default:
		s.housingFromFlat = c.housing.Mul4(c.folded.BodyMotion(s.on[0].body))
		if s.touchDown(faces); s.contact.of == nil {
			s.missing = fmt.Sprintf("%s has nothing of %s within %s of its %s side at seat %s", s.name, bareName(s.wall.name), c.mm(seatReach), s.Side, s.Name)
		}
	}
	return s
}

// bareName returns a name without its prefix.
func bareName(name string) string {
	if _, bare, prefixed := strings.Cut(name, ":"); prefixed {
		return bare
	}
	return name
}

// seatFace is a convex part of a body's face over the area, in flat coordinates: the lines around it, its area and height.
type seatFace struct {
	of    *member
	lines []border
	area  float64
	z     float64
}

// seatFaces finds the bodies that sit, and returns their faces toward the seat within the area. Of a section in several
// flats the flat with most of the area counts.
func (c *checker) seatFaces(s *seating) []seatFace {
	var out []seatFace
	share := make([]float64, len(c.tree.Flats)+1) // the last for a component in a bend
	home := func(f seatFace) int { return (f.of.body.Flat + len(share)) % len(share) }
	for _, m := range c.members {
		if sits(m, s.On) {
			out = append(out, facesIn(m, s)...)
		}
	}
	best := 0
	for _, f := range out {
		at := home(f)
		share[at] += f.area
		if share[at] > share[best] {
			best = at
		}
	}
	out = slices.DeleteFunc(out, func(f seatFace) bool { return home(f) != best })
	s.face = math.Inf(1)
	for _, f := range out {
		s.face = min(s.face, s.outward(f.z))
		if !slices.Contains(s.on, f.of) {
			s.on = append(s.on, f.of)
		}
	}
	return out
}

// sits reports whether a member is what a seat's name means. A bare name never means what sections leave of a flat, which
// has the name of its largest section.
func sits(m *member, name string) bool {
	switch m.kind {
	case fold.KindSection, fold.KindStiffener, fold.KindComponent:
		return fold.NameMatches(name, m.name)
	case fold.KindFlex:
		return strings.HasPrefix(name, string(fold.KindFlex)) && fold.NameMatches(name, m.name)
	}
	return false
}

// facesIn returns the parts of a body's faces toward the seat that lie in its area. A hair's breadth along the border is
// left out, so that what only meets the area there does not count.
func facesIn(m *member, s *seating) []seatFace {
	var out []seatFace
	for _, t := range m.mesh.Triangles {
		face := tri{m.flat[t[0]], m.flat[t[1]], m.flat[t[2]]}
		if n := face.normal(); s.outward(n[2]) <= 0.5*length(n) {
			continue
		}
		for _, lines := range s.borders {
			if misses(&face, lines, Touch) {
				continue
			}
			if over := clipped(slices.Clone(face[:]), lines, Touch); covers(over) {
				ring := plan(over)
				out = append(out, seatFace{m, linesOf(ring), inPlan(ring), over[0][2]})
			}
		}
	}
	return out
}

// covers reports whether a polygon is more than a speck in plan.
func covers(ring []vec) bool { return math.Abs(inPlan(plan(ring))) > Touch*Touch }

// seatsOf returns the seats that take part in a pair: what sits, or if that belongs to a flat's board any of its bodies and
// stiffeners and the components on its other side, which the board keeps away from the seat, against the seat's piece.
func (c *checker) seatsOf(a, b *member) []*seating {
	var out []*seating
	for _, s := range c.seats {
		if s.wall == b && (slices.Contains(s.on, a) || len(s.on) > 0 && (onBoardOf(a, s.on[0]) || s.shields(a))) {
			out = append(out, s)
		}
	}
	return out
}

// onBoardOf reports whether two bodies belong to the board of one flat, not to its components.
func onBoardOf(a, b *member) bool {
	return a.body != nil && a.kind != fold.KindComponent && b.kind != fold.KindComponent && a.body.Flat >= 0 && a.body.Flat == b.body.Flat
}

// shields reports whether m is a component on the other side of the board that sits: the board lies between it and the seat.
func (s *seating) shields(m *member) bool {
	on := s.on[0]
	return m.kind == fold.KindComponent && on.kind != fold.KindComponent && m.body.Flat >= 0 && m.body.Flat == on.body.Flat && m.body.Side != s.Side
}

// middle returns the height from which outward a seat takes things out for a body: its own mid-height, or for a component
// that the board shields that of the board.
func (s *seating) middle(m *member) float64 {
	body := m.body
	if !slices.Contains(s.on, m) && s.shields(m) {
		body = s.on[0].body
	}
	return (body.Faces[0] + body.Faces[1]) / 2
}

// columns returns what the seats take out of a pair on the side of the body: over each seat's area, grown by the required
// clearance, from its middle outward.
func (p *pair) columns() []column {
	return p.columnsFrom(func(s *seating) float64 { return s.middle(p.a) })
}

// rest returns what the seats leave of the pair's wall.
func (p *pair) rest() *rest {
	if p.left == nil {
		p.left = p.b.shape().rest(p.wallColumns())
	}
	return p.left
}

// wallColumns returns what the seats take out of the pair's wall: as for the body, but where the board presses into the piece
// at the seat, or may, at least as deep as that.
func (p *pair) wallColumns() []column {
	return p.columnsFrom(func(s *seating) float64 {
		deep := min(s.face-s.Squeeze, s.contact.deepest) - Touch
		return s.outward(min(s.outward(s.middle(p.a)), deep))
	})
}

// columnsFrom returns the columns over the pair's seats that begin at the given heights of the flat.
func (p *pair) columnsFrom(height func(*seating) float64) []column {
	var out []column
	for _, s := range p.seats {
		r := max(0, p.required+p.b.grows) + s.off + p.b.mesh.Chord + Touch
		for _, part := range s.parts {
			out = append(out, newColumn(grown(part, r), s.Side, height(s), s.housingFromFlat))
		}
	}
	return out
}
