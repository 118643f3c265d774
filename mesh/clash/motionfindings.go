package clash

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/mesh"
)

// remark is a finding of a track, when it shows, and the gap then.
type remark struct {
	finding.Finding
	when
	worst StepGap
}

// told returns what is wrong with the program: one finding for a pair, a contact before a gap. Where they are only advice
// the first contact stands for all, or the smallest gap.
func (w *sweeper) told(list []remark) (out []finding.Finding) {
	if len(list) > 1 && w.severity(finding.Error) == finding.Advice {
		first := slices.MinFunc(list, func(a, b remark) int {
			return cmp.Or(cmp.Compare(b.Rule, a.Rule), // contacts first
				cmp.Compare(a.step, b.step), cmp.Compare(a.at, b.at))
		})
		if n := len(list) - 1; n == 1 {
			first.Message += "; another pair meets on that way or comes too near"
		} else {
			first.Message += fmt.Sprintf("; %d more pairs meet on that way or come too near", n)
		}
		list = []remark{first}
	}
	for _, t := range list {
		out = append(out, t.Finding)
	}
	return out
}

// remarks returns the findings of all tracks, in their order.
func (w *sweeper) remarks() []remark {
	found := make([]*remark, len(w.tracks))
	inTurn(len(w.tracks), func(i int) { found[i] = w.remarkOf(i) })
	var out []remark
	for _, r := range found {
		if r != nil {
			out = append(out, *r)
		}
	}
	return out
}

// remarkOf returns the finding of a track, nil for none. Guards are told with the track that they follow.
func (w *sweeper) remarkOf(i int) *remark {
	if w.tracks[i].guards {
		return nil
	}
	one := w.tracks[i : i+1]
	for n := i + 1; n < len(w.tracks) && w.tracks[n].guards; n++ {
		one = w.tracks[i : n+1]
	}
	if t, c, begin := w.firstCollision(one); t != nil {
		f, g := w.collides(t, c, begin)
		return &remark{f, c, g}
	}
	var nearest *track
	for _, t := range one {
		if t.worst != nil && (nearest == nil || t.worst.gap < nearest.worst.gap) {
			nearest = t
		}
	}
	if nearest == nil {
		return nil
	}
	f, g := w.tooNear(nearest, nearest.worst)
	return &remark{f, nearest.worst.when, g}
}

// firstCollision returns which of the tracks of a pair is the first to collide, nil for none; a contact that was seen of it, and
// the progress at which that begins.
func (w *sweeper) firstCollision(tracks []*track) (first *track, seen when, begin float64) {
	seen.step = len(w.program.Steps)
	for _, t := range tracks {
		c := t.collision()
		if c == nil || c.step > seen.step {
			continue
		}
		if at := w.beginning(t, *c); c.step < seen.step || at < begin {
			first, seen, begin = t, *c, at
		}
	}
	return first, seen, begin
}

// collision returns the first contact seen that is not that of the bodies at rest, nil for none.
func (t *track) collision() *when {
	var first *when
	for i := range t.contacts {
		c := &t.contacts[i]
		if t.atStart && !t.firstClear.less(*c) || t.atEnd && !c.less(t.lastClear) {
			continue
		}
		if first == nil || c.less(*first) {
			first = c
		}
	}
	return first
}

// severity returns that of a finding: nothing but advice where nobody has said that the program runs like this.
func (w *sweeper) severity(s finding.Severity) finding.Severity {
	moving := 0
	for _, m := range w.program.Steps {
		for i := range m.From {
			if m.From[i] != m.To[i] {
				moving++
			}
		}
	}
	if w.program.Written || w.fromFolded() && moving <= 1 {
		return s
	}
	return finding.Advice
}

// stepName says which step is meant: "2 of 4 (close)".
func (w *sweeper) stepName(step int) string {
	out := fmt.Sprintf("%d of %d", step+1, len(w.program.Steps))
	if n := w.program.Steps[step].Name; n != "" {
		out += " (" + n + ")"
	}
	return out
}

// inStep says in which motion something happens.
func (w *sweeper) inStep(step int) string {
	switch {
	case w.program.Written:
		return "in step " + w.stepName(step)
	case w.fromFolded():
		return "on the way from folded to " + w.program.Posture
	}
	return "on the way from flat to folded, all hinges together,"
}

// percent writes a progress.
func percent(at float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", 100*at), ".0") + " %" }

// about begins a finding about a track.
func (w *sweeper) about(t *track, m when, rule string, s finding.Severity) finding.Finding {
	f := finding.Finding{Rule: rule, Severity: w.severity(s), On: []string{t.a.name, t.b.name}, Posture: w.program.Posture, Place: t.a.place}
	f.Unit = "mm"
	if w.program.Written {
		f.Place = w.program.Steps[m.step].Place
	}
	return f
}

// collides words a contact, which was seen at a moment and begins at a progress of its step, and returns the gap when it was seen.
func (w *sweeper) collides(t *track, seen when, begin float64) (finding.Finding, StepGap) {
	f := w.about(t, seen, "contact-in-motion", finding.Error)
	n := w.instantAt(seen.step, begin)
	n.ready()
	l := w.see(n, t, hair)
	f.At = w.inFlat(n, t, l.x)
	c := w.check
	f.Message = fmt.Sprintf("%s runs into %s %s from %s on, at %s%s", t.a.name, t.b.name, w.inStep(seen.step), percent(begin), c.point(l.x), c.grown(t.b.member))
	f.Hint = "let it move when or where there is room: another order of steps, or another path"
	if f.Severity == finding.Advice {
		f.Hint = "say in which order the hinges bend: sequence: [{bend: [...]}, ...]; then it is judged"
	}
	if begin == 0 && seen.step == 0 && t.b.wall != nil {
		f.Hint = fmt.Sprintf("if %s is not there yet, let a later step bring it in (add, or into); otherwise let the board begin clear of it", bareName(t.b.name))
	}
	allowed := max(0, -t.required)
	f.Limit = finding.Number(allowed)
	r, ok := w.closeUp(t, seen)
	if ok && r.gap < 0 {
		f.Value = finding.Number(-r.gap)
		f.Message += fmt.Sprintf("; at %s it is %s deep in it", percent(seen.at), c.mm(-r.gap))
		f.Hint += fmt.Sprintf("; %[1]s moved by %[2]s along %[3]s would come free there", t.a.name, c.up(-r.gap), direction(r.dir))
	}
	f.Source = fmt.Sprintf("two bodies cannot share space; overlaps up to %s count as touching; nothing is left out between the moments looked at", c.mm(Touch))
	if !ok || r.gap > 0 {
		r = reading{x: l.x, y: l.x}
	}
	return f, w.stepGap(t, seen, &r, r.gap, true)
}

// beginning returns the progress at which the first contact in a step begins, to half of Resolution in what moves; seen is one
// of its contacts. Nothing before is left out.
func (w *sweeper) beginning(t *track, seen when) float64 {
	own := *t
	own.quiet, own.worst, own.proof = true, nil, min(t.proof, 0) // nothing but contact
	// a search of its own, since others run meanwhile
	s := newSearch(&sweeper{ctx: w.ctx, program: w.program, tree: w.tree, chord: w.chord, check: w.check, tight: w.tight, bends: w.bends}, seen.step)
	from := 0.0
	if t.atStart && t.firstClear.step == seen.step {
		from = min(t.firstClear.at, seen.at)
	}
	if l := s.lookOnce(&own, from, from); l.contact {
		return from
	}
	for _, b := range append(s.motion.Breaks(), seen.at) {
		if b = min(b, seen.at); b > from {
			if at, ok := s.firstContact(&own, from, b); ok {
				return at
			}
			from = b
		}
	}
	return seen.at
}

// firstContact returns where in an interval of one leg the first contact begins; false if there is none.
func (s *search) firstContact(t *track, from, to float64) (at float64, ok bool) {
	l, mid := s.lookOnce(t, from, to), (from+to)/2
	switch {
	case !l.contact && l.low >= s.goal(&spell{track: t}):
		return 0, false
	case l.moves <= finest || mid <= from || mid >= to:
		if end := s.lookOnce(t, to, to); l.contact || end.contact {
			return to, true
		}
		return 0, false
	}
	if at, ok = s.firstContact(t, from, mid); ok {
		return at, ok
	}
	if l.contact {
		return mid, true
	}
	return s.firstContact(t, mid, to)
}

// lookOnce looks at one interval.
func (s *search) lookOnce(t *track, from, to float64) (l look) {
	at := moments{s.instantOf(from), s.instantOf((from + to) / 2), s.instantOf(to)}
	if at.mid().ready() != nil {
		l = s.measure(&spell{t, from, to, math.Inf(-1)}, at)
	}
	return l
}

// tooNear words the smallest gap of a track, which is too small, and returns it as measured more finely.
func (w *sweeper) tooNear(t *track, worst *sighting) (finding.Finding, StepGap) {
	m := worst.when
	f := w.about(t, m, "clearance-in-motion", finding.Warning)
	c := w.check
	n := w.instantAt(m.step, m.at)
	n.ready()
	l := w.see(n, t, math.Inf(1))
	r := reading{gap: l.gap, x: l.x, y: l.y, dir: unit(sub(l.x, l.y))}
	if fine, ok := w.closeUp(t, m); ok && !t.guards {
		r = fine
	}
	f.At = w.inFlat(n, t, r.x)
	gap, required := max(r.gap, 0), w.requiredAt(n, t, r.gap)
	f.Value, f.Limit = finding.Number(gap), finding.Number(required)
	f.Message = fmt.Sprintf("%s comes within %s of %s %s at %s, at %s%s; %s are required", t.a.name, c.mm(gap), t.b.name, w.inStep(m.step),
		percent(m.at), c.point(r.x), c.grown(t.b.member), c.mm(required))
	toward := ""
	if r.dir != (vec{}) {
		toward = " along " + direction(r.dir)
	}
	f.Hint = fmt.Sprintf("lead %s %s farther%s there, or allow it: clearance: {pairs: [{between: [%s, %s], gap: %s}]}", t.a.name,
		c.up(required-gap), toward, t.a.name, t.b.name, c.down(max(0, min(gap, worst.gap-Resolution)))) // as much as is proven
	f.Source = fmt.Sprintf("clearance of the design (%s), and no more than both keep at rest; the smallest gap on the way to %s", kinds[t.kind], c.mm(Resolution))
	return f, w.stepGap(t, m, &r, worst.gap-Resolution, false)
}

// inFlat returns where in the flat a point of a track in the housing lies; nil if neither body is flat.
func (w *sweeper) inFlat(n *instant, t *track, p vec) *[2]float64 {
	for _, a := range []*actor{t.a, t.b} {
		if a.body != nil && !a.bends() {
			q := fold.Apply(fold.Invert(n.housingFromOwn(a)), p)
			return &[2]float64{q[0], q[1]}
		}
	}
	return nil
}

// closeUp measures a pair at a moment as the check at rest does, depth and all, between meshes ten times as fine (beside seats
// the same, and for guards of all of both), in the frame of the wall if there is one; the reading is in the housing's frame.
func (w *sweeper) closeUp(t *track, m when) (r reading, ok bool) {
	n := w.instantAt(m.step, m.at)
	if n.ready() == nil {
		return r, false
	}
	base := mgl64.Ident4()
	if t.b.wall != nil {
		base = n.housingFromOwn(t.b)
	}
	baseFromA, most := fold.Invert(base).Mul4(n.housingFromOwn(t.a)), t.depthEffort()
	switch {
	case t.guards:
		r, ok = measureWith(moved(t.a.solidForm(), baseFromA), t.b.solidForm(), math.Inf(1), most)
	case len(t.seats) > 0 || t.a.wall != nil:
		r, ok = t.fixed[0].measure(baseFromA, most)
	default:
		a, okA := w.fine(t.a, n, base)
		b, okB := w.fine(t.b, n, base)
		p := t.pair
		p.a, p.b = a, b
		if okA && okB {
			r, ok = w.checkAt(n).readWith(&p, a, b, math.Inf(1), most)
		}
	}
	if wall := t.wallOf(); wall != nil && r.rough {
		wall.worn.rough.Store(true)
	}
	r.gap -= t.b.grows
	r.x, r.y, r.dir = fold.Apply(base, r.x), fold.Apply(base, r.y), fold.Turn(base, r.dir)
	return r, ok
}

// fine returns an actor at a moment in the frame base, a body with a tenth of the chord error.
func (w *sweeper) fine(a *actor, n *instant, base mgl64.Mat4) (*member, bool) {
	if a.wall != nil {
		a.solidForm()
		return a.member, true
	}
	b, err := mesh.SkinBody(n.state.Folded, a.index, w.chord/10)
	if err != nil {
		return nil, false
	}
	m := bodyMember(w.tree, fold.Invert(base).Mul4(n.state.HousingFromBoard), b)
	m.means = a.means
	return m, true
}
