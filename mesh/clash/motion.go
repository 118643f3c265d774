package clash

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/finding"
)

const (
	// Resolution is how wide (mm) the interval of a smallest gap in motion is at most, between meshes.
	Resolution = 0.01
	// Nearer is by how much (mm) folding must bring two bodies of the board nearer than they are in the flat state to count
	// among the smallest gaps of a step. What they must keep is judged all the same.
	Nearer = 0.1
	// finest is the motion (mm) under which an interval is not divided further.
	finest = Resolution / 2
)

// Motion is what a sweep of programs has proven.
type Motion struct {
	Covered   bool      // every pair of bodies was followed all the way: shown clear, or found too near
	Stopped   bool      // the work ended early: not even all that is in Scope is proven
	Scope     string    // in words: what way that was, and of what
	Steps     []StepGap // the smallest gaps, by program, step and kind
	Worst     []StepGap // of each pair that has a finding, at its worst moment, in the order in which pairs are followed
	Findings  []finding.Finding
	Unchecked []finding.Unchecked // pieces that were not followed, and why the work ended early
}

// StepGap is the smallest gap of a kind of pairs in one step. The true smallest lies between Low and Gap.
type StepGap struct {
	Step     int           // from 1
	Name     string        // of the step, "" for none
	Posture  string        // that the program ends at
	Kind     string        // "board", "components" or "enclosure"
	Gap, Low float64       // mm, as of clash.Gap; of two bodies of the board only what folding brings Nearer counts
	Required float64       // mm: what the design asks of the pair
	Progress float64       // where in the step Gap was measured, 0 to 1
	Between  [2]string     // in alphabetical order
	At       [2]mgl64.Vec3 // the nearest points, housing frame, in the order of Between
	Contact  bool          // the bodies overlap: Gap is the depth at Progress and Low the same, how deep they would go was not looked for
}

// Sweep follows the bodies of a board and its enclosure through programs, with nothing left out between the moments that it
// looks at. Every interval of a step is divided until, from a gap measured in it and bounds on how far any point moves
// meanwhile (see speed), each pair is proven to keep what is required of it and not to come nearer than the smallest gap
// of its kind less Resolution; or a contact is found. An interval in which nothing moves as far as half of Resolution is
// not divided further, so that clearances are proven to Resolution, and what is thinner than that on both sides may pass.
//
// Pairs, required clearances and what pieces grow are those of CheckAs; besides, a piece that rides on the board must not run
// into another one. In motion a pair need keep no more than it has at
// the program's end (for a program that starts folded also at its start), which the check at rest judges, and two bodies of
// the board no more than in the flat: so what only comes to its place is no finding, and no overlap is told twice. On its way
// to a seat the board may come near to what the piece has there when seated, touch it and slide along it, and press into it as
// deep as the seat gives way (squeeze) or as they overlap at rest, no deeper; the rest of the piece is judged.
//
// Bends are cylinders, also those of hinges that are formed free, which Scope and Unchecked name then; sizes are nominal. Findings are contact-in-motion (error), clearance-in-motion and loop-open-in-motion
// (warning); all of them only advice in a program of which nobody has said how it runs: several hinges together that no
// sequence orders, and all from flat without a sequence. Walls are passed as they were read. When ctx ends, what was
// proven by then is returned, not covered. progress, which may be nil, is told the share done, from one goroutine. The
// result is the same on any number of processors.
func Sweep(ctx context.Context, programs []fold.Program, walls []Wall, chord float64, progress func(done float64)) Motion {
	out := Motion{Scope: scopeOf(programs)}
	total, before := 0, 0
	for i := range programs {
		total += len(programs[i].Steps)
	}
	for i := range programs {
		if tooMany(&programs[i]) {
			out.Stopped = true
			out.Unchecked = append(out.Unchecked, unfollowed("the board has so many bodies that it was not followed"))
			continue
		}
		w, err := newSweeper(ctx, &programs[i], walls, chord)
		if err != nil {
			out.Stopped = true
			out.Unchecked = append(out.Unchecked, finding.Unchecked{What: "motion", Why: err.Error()})
			continue
		}
		w.tell = func(done float64) {
			if progress != nil {
				progress((float64(before) + done) / float64(total))
			}
		}
		w.run()
		before += len(programs[i].Steps)
		out.add(w)
	}
	out.Covered = len(programs) > 0 && !out.Stopped && len(out.Unchecked) == 0
	if len(programs) > 0 {
		out.noteFree(programs[0].Tree)
	}
	finding.Sort(out.Findings)
	return out
}

// noteFree says which hinges have another shape on the way than the one that is followed: a matter of Scope.
func (m *Motion) noteFree(t *fold.Tree) {
	if free := freelyFormed(t); len(free) > 0 {
		m.Unchecked = append(m.Unchecked, finding.Unchecked{What: "motion", On: free, Aside: true,
			Why: "formed free: on the way a cylinder stands for the flex, whose true shape there nobody has computed; at rest it is judged as it is"})
	}
}

// add adds what one program has shown.
func (m *Motion) add(w *sweeper) {
	m.Stopped = m.Stopped || !w.covered
	m.Steps = append(m.Steps, w.gaps...)
	list := w.remarks()
	for i := range list {
		m.Worst = append(m.Worst, list[i].worst)
	}
	m.Findings = append(append(m.Findings, w.open...), w.told(list)...)
	for _, u := range append(w.unchecked, w.rough()...) {
		same := func(o finding.Unchecked) bool {
			return o.What == u.What && o.Why == u.Why && slices.Equal(o.On, u.On)
		}
		if !slices.ContainsFunc(m.Unchecked, same) {
			m.Unchecked = append(m.Unchecked, u)
		}
	}
}

// scopeOf says in words what way is followed.
func scopeOf(programs []fold.Program) string {
	if len(programs) == 0 {
		return "nothing"
	}
	bends := "cylindrical bends"
	if free := freelyFormed(programs[0].Tree); len(free) > 0 {
		bends += " (" + strings.Join(free, ", ") + " too, formed free)"
	}
	var ways []string
	for i := range programs {
		switch p := &programs[i]; {
		case p.Written:
			ways = append(ways, "the sequence from flat to folded")
		case p.Posture == fold.FoldedPosture:
			ways = append(ways, "from flat to folded, all hinges together, the board by itself")
		default:
			ways = append(ways, "from folded to "+p.Posture)
		}
	}
	return strings.Join(ways, "; ") + "; " + bends + ", nominal sizes, gaps to 0.01 mm"
}

// freelyFormed returns the hinges that are formed free, which on the way are cylinders all the same.
func freelyFormed(t *fold.Tree) []string {
	var out []string
	for i := range t.Design.Hinges {
		if h := &t.Design.Hinges[i]; h.Formed == "free" && len(t.Hinges[i].Bends) > 0 {
			out = append(out, "hinge:"+h.Name)
		}
	}
	return out
}

// run follows the program's steps.
func (w *sweeper) run() {
	w.covered = true
	w.settleEnds()
	for i := range w.program.Steps {
		if w.ctx.Err() != nil {
			w.stopped(i)
			return
		}
		s := newSearch(w, i)
		s.run()
		w.gaps = append(w.gaps, s.smallest()...)
		if s.incomplete {
			w.stopped(i)
			return
		}
		w.tell(float64(i + 1))
	}
	w.followLoops()
}

// stopped notes that the work ended in a step.
func (w *sweeper) stopped(step int) {
	w.covered = false
	if w.exhausted() {
		w.unchecked = append(w.unchecked, unfollowed("its bodies come near each other so often that it was followed in part only"))
		return
	}
	why := "stopped in step " + w.stepName(step) + "; what was proven before is told"
	if w.failed != nil {
		why = w.failed.Error()
	}
	w.unchecked = append(w.unchecked, finding.Unchecked{What: "motion", Why: why})
}

// smallest returns the smallest gap of each kind in a step; of a step, or a kind, that was not finished none of which nothing but a possible
// overlap is proven.
func (s *search) smallest() []StepGap {
	var out []StepGap
	for k := range kinds {
		b := &s.best[k]
		if b.track == nil || (s.incomplete || s.dropped[k]) && s.low[k] < 0 && !b.contact {
			continue
		}
		r := reading{gap: b.gap, x: b.x, y: b.y}
		if b.contact {
			if deep, ok := s.closeUp(b.track, when{s.step, b.at}); ok && deep.gap < 0 {
				r = deep
			}
		}
		out = append(out, s.stepGap(b.track, when{s.step, b.at}, &r, s.low[k], b.contact))
	}
	return out
}

// stepGap returns a gap of a track as it is told; low is how small it may be in truth.
func (w *sweeper) stepGap(t *track, m when, r *reading, low float64, contact bool) StepGap {
	required := t.pair.required
	if t.presses {
		required = t.required
	}
	g := StepGap{Step: m.step + 1, Name: w.program.Steps[m.step].Name, Posture: w.program.Posture, Kind: kinds[t.kind],
		Gap: r.gap, Low: min(r.gap, low), Required: max(0, required), Progress: m.at,
		Between: [2]string{t.a.name, t.b.name}, At: [2]mgl64.Vec3{positive(r.x), positive(r.y)}, Contact: contact}
	if contact {
		g.Low = g.Gap
	}
	if cmp.Compare(g.Between[0], g.Between[1]) > 0 {
		g.Between[0], g.Between[1], g.At[0], g.At[1] = g.Between[1], g.Between[0], g.At[1], g.At[0]
	}
	return g
}
