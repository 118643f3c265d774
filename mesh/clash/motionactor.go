package clash

import (
	"sync"
	"sync/atomic"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/mesh"
)

// actor is a body or a wall that takes part in a motion. Its member's points stand in the frame that it moves with: flat
// coordinates for bodies and pieces that ride, the housing's frame at rest for other pieces. Those of a bend are flat; see
// bent.
type actor struct {
	*member
	skin   *mesh.Body // nil for a wall
	number int        // among the actors
	bend   int        // number among those that are bends
	piece  int        // number of a wall's piece in the design; -1 for none
	at     mount
	way    []link // from the actor to the housing
	worn   worn

	once sync.Once
	form *shape
}

// mount is what an actor is fixed to.
type mount struct {
	flat    int // -1: to no flat
	bend    int // -1: to no bend
	station float64
}

// solidForm returns the actor's surface in its own frame; safe for use by several goroutines.
func (a *actor) solidForm() *shape {
	a.once.Do(func() {
		a.form = shared(a.member.shape())
	})
	return a.form
}

// shared makes all of a shape that is made when first asked for, so that several goroutines may use it.
func shared(s *shape) *shape {
	s.surface()
	s.connected()
	return s
}

// bends reports whether the actor is a bend, whose form changes as its hinge turns.
func (a *actor) bends() bool { return a.kind == fold.KindBend }

// newBodyActor returns a body of the board, as skinned in any posture.
func newBodyActor(t *fold.Tree, b *mesh.Body) *actor {
	own := *b
	own.Points, own.Normals = b.Flat, b.FlatNormals
	body := &t.Bodies[b.Source]
	a := &actor{member: bodyMember(t, mgl64.Ident4(), &own), skin: b, piece: -1, at: mount{flat: body.Flat, bend: body.Bend}}
	switch {
	case body.Bend < 0:
	case a.bends():
		a.at.flat = t.Bends[body.Bend].Parent
	default:
		a.at.station = t.Bends[body.Bend].Station(body.At)
	}
	a.way = wayOf(t, a.at, a.bends())
	return a
}

// newWallActor returns a piece of the enclosure.
func newWallActor(t *fold.Tree, w *Wall) (*actor, error) {
	a := &actor{member: wallMember(w), piece: -1, at: mount{-1, -1, 0}}
	for i := range t.Design.Enclosure {
		if p := &t.Design.Enclosure[i]; w.Piece == p || w.Piece != nil && w.Piece.Name == p.Name {
			a.piece = i
		}
	}
	if !w.rides() {
		if a.piece >= 0 {
			a.way = []link{{kind: linkLegs, mover: a.piece}}
		}
		return a, nil
	}
	var err error
	if a.at, err = riderMount(t, w.Piece); err == nil {
		a.way = wayOf(t, a.at, false)
	}
	return a, err
}

// riderMount returns what a piece that rides on the board is fixed to.
func riderMount(t *fold.Tree, p *fold.Piece) (mount, error) {
	if p.On != "" {
		f, err := t.Place(make([]float64, len(t.Design.Hinges)))
		if err == nil {
			_, err = f.BoardFromPiece(p)
		}
		return mount{t.FlatOfSection(p.On), -1, 0}, err
	}
	for i, h := range t.Design.Hinges {
		if h.Name != p.Follows.Hinge {
			continue
		}
		if bends := t.Hinges[i].Bends; len(bends) > 0 {
			return mount{-1, bends[0], p.Follows.Share * t.Bends[bends[0]].Width}, nil
		}
		return mount{flatAt(t, h.Line[0].Mid(h.Line[1])), -1, 0}, nil
	}
	return mount{0, -1, 0}, nil
}

// instant is the board and its surroundings at one moment of a step.
type instant struct {
	w    *sweeper
	step int
	at   float64

	once  sync.Once
	state *fold.State
	err   error
	axes  []axis                  // by flat
	paces []atomic.Pointer[paces] // by actor; see pace

	bent []bent // by the actors' bend
}

// bent is a bend as it stands at some angle, in the flat coordinates of its near flat.
type bent struct {
	once, formed sync.Once
	as           *member
	bands        [2]struct { // against its near flat, and against its far flat
		once sync.Once
		list []band
	}
}

// ready works out the state; it is nil where there is none.
func (n *instant) ready() *fold.State {
	n.once.Do(func() {
		if n.state, n.err = n.w.program.State(n.step, n.at); n.err == nil {
			n.axes = axesOf(n.state)
			n.paces = make([]atomic.Pointer[paces], len(n.w.actors))
		}
	})
	return n.state
}

// axesOf returns for each flat beyond a bend the axis at the bend's end.
func axesOf(s *fold.State) []axis {
	t := s.Folded.Tree
	out := make([]axis, len(t.Flats))
	for i := range t.Flats {
		if f := &t.Flats[i]; f.Far {
			b := &t.Bends[f.Bend]
			out[i] = axisAt(b, b.Width, s.HousingFromBoard.Mul4(s.Folded.BoardFromFlat(i)))
		}
	}
	return out
}

// housingFromOwn returns where an actor's frame stands.
func (n *instant) housingFromOwn(a *actor) mgl64.Mat4 {
	s := n.state
	switch {
	case a.wall != nil && a.piece < 0:
		return mgl64.Ident4()
	case a.wall != nil:
		return s.Pieces[a.piece].HousingFromPiece
	case a.bends():
		return s.HousingFromBoard.Mul4(s.Folded.BoardFromFlat(a.at.flat))
	}
	return s.HousingFromBoard.Mul4(s.Folded.BodyMotion(a.body))
}

// as returns an actor as it is shaped at that moment, in its own frame.
func (n *instant) as(a *actor) *member {
	if !a.bends() {
		return a.member
	}
	b := &n.bent[a.bend]
	b.once.Do(func() { b.as = bentMember(n.w.tree, a, n.state.Folded.Angles) })
	return b.as
}

// form returns the surface of an actor at that moment, in its own frame.
func (n *instant) form(a *actor) *shape {
	if !a.bends() {
		return a.solidForm()
	}
	m := n.as(a)
	n.bent[a.bend].formed.Do(func() { shared(m.shape()) })
	return m.shape()
}

// bentMember returns a bend at the given angles of all hinges: each of its points rides on the tangent plane at its station.
func bentMember(t *fold.Tree, a *actor, angles []float64) *member {
	b := &t.Bends[a.body.Bend]
	own := *a.skin
	own.Points, own.Normals = make([]mgl64.Vec3, len(own.Flat)), nil
	frames := make([]mgl64.Mat4, len(own.Stations))
	for i, s := range own.Stations {
		frames[i] = b.NearFromStation(angles[b.Hinge], s)
	}
	for i, p := range own.Flat {
		own.Points[i] = fold.Apply(frames[own.Station[i]], p)
	}
	return bodyMember(t, mgl64.Ident4(), &own)
}
