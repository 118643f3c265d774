package clash

import (
	"context"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/mesh"
)

// kinds are those of pairs, in the order of reports.
var kinds = [...]string{"board", "components", "enclosure"}

// sweeper follows one program.
type sweeper struct {
	ctx     context.Context
	program *fold.Program
	tree    *fold.Tree
	chord   float64
	check   *checker // with members in their own frames, folded as the posture at the program's end
	tight   []float64
	begins  []*fold.State // of the steps: their pieces are there or not all through
	left    []bool        // by enclosure piece: there when the sequence has ended
	actors  []*actor
	tracks  []*track
	bends   int // how many actors are bends
	lefts   map[string]*rest
	looked  int // intervals measured
	tell    func(done float64)

	spare   []spell // memory that steps use one after the other
	looks   []look
	moments []moments
	starts  []int

	covered   bool
	failed    error
	gaps      []StepGap
	open      []finding.Finding // of loops
	unchecked []finding.Unchecked
}

// newSweeper prepares a program: its bodies, as finely divided as their tightest angles ask for, and the pairs to follow.
func newSweeper(ctx context.Context, p *fold.Program, walls []Wall, chord float64) (*sweeper, error) {
	w := &sweeper{ctx: ctx, program: p, tree: p.Tree, chord: chord, tight: tightest(p), left: p.Tree.Design.Left(), lefts: map[string]*rest{}}
	for i := range p.Steps {
		s, err := p.State(i, 0)
		if err != nil {
			return nil, err
		}
		w.begins = append(w.begins, s)
	}
	end, err := p.State(len(p.Steps)-1, 1)
	if err != nil {
		return nil, err
	}
	if err := w.addBodies(); err != nil {
		return nil, err
	}
	w.addWalls(walls)
	w.check = &checker{tree: p.Tree, folded: end.Folded, housing: mgl64.Ident4(), chord: chord, posture: p.Posture,
		group: moveAlike(p.Tree), finer: map[finerKey]*member{}}
	for _, a := range w.actors {
		a.means = meanings(p.Tree.Design.Clearance.Pairs, a.name)
		w.check.members = append(w.check.members, a.member)
	}
	return w, w.addTracks(walls)
}

// addBodies adds the bodies of the board.
func (w *sweeper) addBodies() error {
	tight, err := w.tree.Place(w.tight)
	if err != nil {
		return err
	}
	skin, err := mesh.Skin(tight, w.chord)
	if err != nil {
		return err
	}
	for i := range skin.Bodies {
		a := newBodyActor(w.tree, &skin.Bodies[i])
		if a.bends() && bothWays(w.program, w.tree.Bends[a.body.Bend].Hinge) {
			a.mesh.Chord *= 2 // bent the other way a face may lie farther out, by less than its own radius
		}
		w.addActor(a)
	}
	return nil
}

// tightest returns for each hinge the angle of the steps' ends that bends it most.
func tightest(p *fold.Program) []float64 {
	out := make([]float64, len(p.Tree.Design.Hinges))
	for _, m := range p.Steps {
		for i := range out {
			for _, a := range [2]float64{m.From[i], m.To[i]} {
				if math.Abs(a) > math.Abs(out[i]) {
					out[i] = a
				}
			}
		}
	}
	return out
}

// bothWays reports whether a hinge bends toward both sides on the way.
func bothWays(p *fold.Program, hinge int) bool {
	least, most := 0.0, 0.0
	for _, m := range p.Steps {
		least, most = min(least, m.From[hinge], m.To[hinge]), max(most, m.From[hinge], m.To[hinge])
	}
	return least < 0 && most > 0
}

func (w *sweeper) addActor(a *actor) {
	a.number = len(w.actors)
	if a.bends() {
		a.bend = w.bends
		w.bends++
	}
	w.actors = append(w.actors, a)
}

// addWalls adds the pieces that are there at some step, and notes those that are not followed.
func (w *sweeper) addWalls(walls []Wall) {
	var absent, unread []string
	for i := range walls {
		a, err := newWallActor(w.tree, &walls[i])
		switch {
		case err != nil:
			w.unchecked = append(w.unchecked, finding.Unchecked{What: "motion", On: []string{walls[i].name()}, Why: err.Error()})
		case w.everThere(a):
			w.addActor(a)
		case w.unwritten():
			absent = append(absent, a.name)
		}
	}
	for i := range w.tree.Design.Enclosure {
		p := &w.tree.Design.Enclosure[i]
		if !slices.ContainsFunc(walls, func(o Wall) bool { return o.Piece != nil && o.Piece.Name == p.Name }) {
			unread = append(unread, string(fold.KindEnclosure)+":"+p.Name)
		}
	}
	if len(absent) > 0 {
		w.unchecked = append(w.unchecked, finding.Unchecked{What: "motion", On: absent, Aside: true,
			Why: "the design has no sequence, which would say how board and enclosure come together"})
	}
	if len(unread) > 0 {
		w.unchecked = append(w.unchecked, finding.Unchecked{What: "motion", On: unread, Why: "there is no mesh of it"})
	}
}

// unwritten reports whether the program is the one that stands in for a sequence.
func (w *sweeper) unwritten() bool {
	return !w.program.Written && w.program.Posture == fold.FoldedPosture
}

// everThere reports whether a wall is there in any step.
func (w *sweeper) everThere(a *actor) bool {
	for i := range w.program.Steps {
		if w.there(i, a) {
			return true
		}
	}
	return false
}

// there reports whether an actor is there in a step.
func (w *sweeper) there(step int, a *actor) bool {
	if a.wall == nil || a.piece < 0 {
		return a.wall == nil || !w.unwritten()
	}
	return w.begins[step].Pieces[a.piece].Present
}

// fromFolded reports whether the program starts from the folded posture, which is judged at rest.
func (w *sweeper) fromFolded() bool { return w.program.Posture != fold.FoldedPosture }

// instantAt returns a moment of a step.
func (w *sweeper) instantAt(step int, at float64) *instant {
	return &instant{w: w, step: step, at: at, bent: make([]bent, w.bends)}
}

// checkAt returns a checker with the board as it stands at a moment.
func (w *sweeper) checkAt(n *instant) *checker {
	c := *w.check
	c.folded, c.housing = n.state.Folded, n.state.HousingFromBoard
	c.finer = map[finerKey]*member{}
	return &c
}

// addTracks lists the pairs to follow.
func (w *sweeper) addTracks(walls []Wall) error {
	seats, err := w.seatPairs(walls)
	if err != nil {
		return err
	}
	of := map[*member]*actor{}
	for _, a := range w.actors {
		of[a.member] = a
	}
	for k, kind := range kinds {
		for _, p := range w.check.pairs(kind) {
			if p.rel == layout {
				continue
			}
			t := &track{pair: p, kind: k, a: of[p.a], b: of[p.b], required: p.required, firstClear: never, lastClear: before}
			t.linksA, t.linksB, t.under = apart(t.a.way, t.b.way)
			t.proof = t.required
			if p, ok := seats[[2]string{t.a.name, t.b.name}]; ok {
				t.pair.seats = p.seats
				w.addTrack(append([]*track{t}, w.besideSeat(t, p)...)...)
			} else if w.divide(t) {
				w.addTrack(t)
			}
		}
	}
	w.addRiders()
	return nil
}

// addRiders lists the pairs of a piece that rides on the board and any other piece that it moves against, both closed: what the
// board carries must not run into the housing. The check at rest leaves such pairs to whoever made the pieces, which may fit
// into each other: so nothing but contact is told, and no gap.
func (w *sweeper) addRiders() {
	var open []string
	for _, a := range w.actors {
		if a.wall == nil || !a.wall.rides() {
			continue
		}
		for _, b := range w.actors {
			if b.wall == nil || b == a || b.wall.rides() && b.number < a.number {
				continue
			}
			t := riderTrack(a, b)
			switch moves := len(t.linksA)+len(t.linksB) > 0; {
			case moves && a.closed && b.closed:
				w.addTrack(t)
			case moves && !a.closed:
				open = append(open, a.name)
			case moves:
				open = append(open, b.name)
			}
		}
	}
	if len(open) > 0 {
		slices.Sort(open)
		w.unchecked = append(w.unchecked, finding.Unchecked{What: "motion", On: slices.Compact(open),
			Why: "the mesh is not closed: it was not compared with other pieces, of which one or the other rides on the board"})
	}
}

// riderTrack returns the track of two pieces.
func riderTrack(a, b *actor) *track {
	t := &track{kind: slices.Index(kinds[:], "enclosure"), a: a, b: b, whole: true, quiet: true, firstClear: never, lastClear: before}
	if a.grows > b.grows {
		t.a, t.b = b, a
	}
	t.pair = pair{a: t.a.member, b: t.b.member, rel: whole}
	t.linksA, t.linksB, t.under = apart(t.a.way, t.b.way)
	return t
}

func (w *sweeper) addTrack(tracks ...*track) {
	for _, t := range tracks {
		t.number = len(w.tracks)
		w.tracks = append(w.tracks, t)
	}
}
