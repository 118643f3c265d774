package clash

import (
	"fmt"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/mesh"
)

// seatedPair is a pair in which a seat takes part, as it stands where the seat is judged.
type seatedPair struct {
	*pair
	pieceFromHousing mgl64.Mat4 // to the frame that the piece moves with
}

// takenAway reports whether an actor is a piece that the sequence takes away before it ends: a jig. The check at rest knows
// nothing of it.
func (w *sweeper) takenAway(a *actor) bool { return a.piece >= 0 && !w.left[a.piece] }

// seatPairs returns the pairs in which a seat takes part, by the names of both: as in the folded posture, or with a jig as at the
// end of the last step in which it is there.
func (w *sweeper) seatPairs(walls []Wall) (map[[2]string]seatedPair, error) {
	out := map[[2]string]seatedPair{}
	if len(w.tree.Design.Seats) == 0 || w.unwritten() {
		return out, nil
	}
	f, err := w.tree.Place(w.tree.Angles())
	if err != nil {
		return nil, err
	}
	jig := func(o Wall) bool {
		return slices.ContainsFunc(w.actors, func(a *actor) bool { return a.wall != nil && a.name == o.name() && w.takenAway(a) })
	}
	pairs, err := w.seated(f, w.tree.HousingFromBoard(), slices.DeleteFunc(slices.Clone(walls), jig))
	for _, p := range pairs {
		m, _ := housingFromPiece(f, p.b.wall.Piece)
		out[[2]string{p.a.name, p.b.name}] = seatedPair{p, fold.Invert(m)}
	}
	for _, a := range w.actors {
		if err == nil && a.wall != nil && w.takenAway(a) {
			err = w.addJig(out, a)
		}
	}
	return out, err
}

// addJig adds the pairs in which a seat on a jig takes part.
func (w *sweeper) addJig(out map[[2]string]seatedPair, a *actor) error {
	on := func(s fold.Seat) bool { return fold.NameMatches(s.Against, a.name) }
	if !slices.ContainsFunc(w.tree.Design.Seats, on) {
		return nil
	}
	last := len(w.program.Steps) - 1
	for !w.there(last, a) {
		last--
	}
	n := w.instantAt(last, 1)
	if n.ready() == nil {
		return n.err
	}
	housingFromJig := n.housingFromOwn(a)
	held := *a.wall
	held.Mesh, held.stands, held.ready = held.Mesh.Place(housingFromJig), true, nil
	pairs, err := w.seated(n.state.Folded, n.state.HousingFromBoard, []Wall{held})
	for _, p := range pairs {
		out[[2]string{p.a.name, p.b.name}] = seatedPair{p, fold.Invert(housingFromJig)}
	}
	return err
}

// seated returns the pairs with a seat of a board that stands like this among walls. A seat on a jig that presses deeper than it
// may is none: of the others the check at rest tells that.
func (w *sweeper) seated(f *fold.Folded, housingFromBoard mgl64.Mat4, walls []Wall) (out []*pair, err error) {
	a, err := mesh.Skin(f, w.chord)
	if err != nil {
		return nil, err
	}
	c := newCheckerAt(a, housingFromBoard, walls, w.program.Posture)
	c.seats = slices.DeleteFunc(c.seats, func(s *seating) bool {
		return s.missing == "" && c.takenAway(s.Against) && c.seatGap(s).Rule == "contact"
	})
	all := c.pairs("enclosure")
	for i := range all {
		if len(all[i].seats) > 0 {
			out = append(out, &all[i])
		}
	}
	return out, nil
}

// besideSeat sets what of a pair is compared beside its seats: what they leave of the body and of the piece, as it stands
// when seated. It returns the pair's guards, for its way. One keeps all of the body as far from what the seats leave of the piece.
// The others let the body come as near as it likes to what the piece has at the seats, and press into it no deeper than the
// seat gives way: one for each squeeze, which looks past softer seats.
func (w *sweeper) besideSeat(t *track, p seatedPair) (guards []*track) {
	body, piece := *p.pair, *p.pair
	body.a, body.b, body.seats = t.a.member, t.b.member, nil
	piece.a, piece.b, piece.seats, piece.left = t.a.member, t.b.member, nil, nil
	for _, s := range p.seats {
		onBody, onPiece := *s, *s
		onBody.housingFromFlat = mgl64.Ident4()
		onPiece.housingFromFlat = p.pieceFromHousing.Mul4(s.housingFromFlat)
		body.seats, piece.seats = append(body.seats, &onBody), append(piece.seats, &onPiece)
	}
	a, left := t.a.solidForm(), w.leftOf(t, &piece)
	t.fixed = left.against(shared(a.without(body.columns())), false)
	guard := *t
	guard.quiet, guard.guards = true, true
	guard.fixed = left.against(a, true)
	guards = append(guards, &guard)
	for _, squeeze := range squeezes(p.seats) {
		guards = append(guards, w.pressing(t, piece, squeeze))
	}
	return guards
}

// squeezes returns those of seats, each once, the least first.
func squeezes(seats []*seating) (out []float64) {
	for _, s := range seats {
		out = append(out, s.Squeeze)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// pressing returns the guard of a pair that lets the body overlap the piece by no more than a squeeze. The piece is all there, but
// for seats that give way farther.
func (w *sweeper) pressing(t *track, piece pair, squeeze float64) *track {
	press := *t
	press.quiet, press.guards, press.presses = true, true, true
	press.required = min(t.required, -squeeze)
	if squeeze == 0 {
		press.required = min(t.required, -t.b.grows) // it rests on a hard seat and grows to its other sides
	}
	press.proof = press.required
	for _, s := range piece.seats {
		if away := (vec{0, 0, -s.Side.Sign()}); s.Squeeze > 0 && !slices.Contains(press.away, away) {
			press.away = append(press.away, away)
		}
	}
	piece.left = nil
	piece.seats = slices.DeleteFunc(slices.Clone(piece.seats), func(s *seating) bool { return s.Squeeze <= squeeze })
	press.fixed = []part{{a: t.a.solidForm(), b: t.b.solidForm()}}
	if len(piece.seats) > 0 {
		press.fixed = w.leftOf(t, &piece).against(t.a.solidForm(), true)
	}
	return &press
}

// leftOf returns what the seats of a pair leave of its wall, in the wall's frame: one for all pairs for which that is the same.
func (w *sweeper) leftOf(t *track, p *pair) *rest {
	key := fmt.Sprint(t.b.number, p.required)
	for _, s := range p.seats {
		key += fmt.Sprint(" ", s.Name, s.middle(t.a.member))
	}
	if w.lefts[key] == nil {
		w.lefts[key] = p.rest()
		shared(w.lefts[key].cut)
	}
	return w.lefts[key]
}
