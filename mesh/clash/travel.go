package clash

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/mesh"
)

// Travel is what was proven of a board's motion.
type Travel struct {
	Covered  bool   // every pair that is judged was shown clear, or found in contact, along the whole written path
	Scope    string // what that path was, in words
	Steps    []Narrow
	Findings []finding.Finding
}

// Narrow is the smallest gap of a kind in one step: its true value lies between Low and Gap, which are at most 0.006 mm and the
// chord errors of the two meshes apart.
type Narrow struct {
	Step     int    // 1 for the first
	Posture  string // that the motion ends at
	Name     string // of the step, "" for none
	Kind     string // "board", "components" or "enclosure"
	Between  [2]string
	Gap, Low float64
	Progress float64
	At       [2]mgl64.Vec3 // nearest points, housing frame
}

// resolution is how wide, in mm, the interval of a smallest gap may be, the chord errors of the two meshes aside.
const resolution = 0.006

// mostStops bounds how many moments of one step are looked at: a step that needs more is not covered.
const mostStops = 20000

// Move proves the motion of programs: from bounds on how far any point of a body can move in an interval of time, intervals are
// halved until each pair is shown to keep its clearance all through, or a contact is found. No moment is left out.
//
// A pair must keep the clearance that it must keep at rest, and no more than it has at either end of the step: what comes near
// only as it comes to rest is the rest's business. The design's own sequence is judged against the enclosure as well; without
// one, board and components alone, as advice. Pieces that a step brings in are absent before it. Bends are the drawn
// cylinders, in the state between; gaps are between meshes with the given chord error. Stopped by the context, it returns what
// was proven so far, not covered.
func Move(ctx context.Context, programs []fold.Program, walls []Wall, chord float64) Travel {
	out := Travel{Covered: true, Scope: scope(programs)}
	for i := range programs {
		p := &programs[i]
		for step := range p.Steps {
			v := &voyage{program: p, step: step, walls: walls, chord: chord, ctx: ctx}
			if !v.sail(&out) {
				out.Covered = false
			}
		}
	}
	finding.Sort(out.Findings)
	return out
}

// scope says in words which path was looked at.
func scope(programs []fold.Program) string {
	if len(programs) == 0 {
		return "no motion"
	}
	what := "all hinges together from flat, the enclosure left out"
	if programs[0].Written {
		what = "the steps of the sequence"
	}
	if n := len(programs) - 1; n > 0 {
		what += fmt.Sprintf(", and from folded to %d more postures", n)
	}
	return what + "; cylindrical bends, nominal sizes"
}

// voyage is one step of a program under proof.
type voyage struct {
	ctx      context.Context
	program  *fold.Program
	step     int
	walls    []Wall
	chord    float64
	pairs    []encounter
	widest   []float64 // by hinge: the largest angle in the step, of either sign
	best     map[string]*Narrow
	rigid    *mesh.Assembly // on a leg: the board's meshes
	stops    int
	complete bool
}

// encounter is a pair in a step.
type encounter struct {
	i, j     int // members
	rel      relation
	kind     string
	required float64
	allowed  float64 // overlap that a seat allows
	least    Narrow  // smallest gap found
	low      float64 // no gap of the pair is below
	chord    float64 // of both meshes
	seen     bool
	touched  bool
}

// sail proves the step and adds what it found; false where it could not be covered.
func (v *voyage) sail(out *Travel) bool {
	v.best, v.complete = map[string]*Narrow{}, true
	m := &v.program.Steps[v.step]
	v.widest = make([]float64, len(m.From))
	for i := range v.widest {
		v.widest[i] = max(math.Abs(m.From[i]), math.Abs(m.To[i]))
	}
	first, err := v.at(0)
	if err != nil {
		v.complete = false
		return false
	}
	v.list(first)
	breaks := m.Breaks()
	ends := make([]*moment, len(breaks))
	for i, b := range breaks {
		if ends[i], err = v.at(b); err != nil {
			return false
		}
	}
	v.rest(ends[0], ends[len(ends)-1])
	for i := 1; i < len(breaks); i++ {
		v.halve(breaks[i-1], breaks[i], v.all())
	}
	v.collect(out)
	return v.complete && v.ctx.Err() == nil
}

// moment is the board and its surroundings at one progress, made ready to be measured.
type moment struct {
	*checker
	state    *fold.State
	progress float64
}

// at returns the moment at a progress.
func (v *voyage) at(progress float64) (*moment, error) {
	state, err := v.program.State(v.step, progress)
	if err != nil {
		return nil, err
	}
	a, err := v.skin(state.Folded)
	if err != nil {
		return nil, err
	}
	c := newCheckerAt(a, v.standing(state), v.program.Posture, state.HousingFromBoard)
	c.widest = v.widest
	return &moment{c, state, progress}, nil
}

// skin returns the board's meshes; on a leg they are the same at every moment.
func (v *voyage) skin(f *fold.Folded) (*mesh.Assembly, error) {
	if v.rigid != nil {
		return v.rigid, nil
	}
	a, err := mesh.Skin(f, v.chord)
	if len(v.program.Steps[v.step].Legs) > 0 {
		v.rigid = a
	}
	return a, err
}

// standing returns the walls that are there at a moment, where they then stand.
func (v *voyage) standing(state *fold.State) []Wall {
	var out []Wall
	for _, w := range v.walls {
		i := -1
		if w.Piece != nil {
			i = slices.IndexFunc(v.program.Tree.Design.Enclosure, func(p fold.Piece) bool { return p.Name == w.Piece.Name })
		}
		if i >= 0 && !state.Pieces[i].Present {
			continue
		}
		if i >= 0 && state.Pieces[i].HousingFromPiece != mgl64.Ident4() {
			w.Mesh, w.stands, w.ready = w.Mesh.Place(state.Pieces[i].HousingFromPiece), true, nil
		}
		out = append(out, w)
	}
	return out
}

// list fills the pairs that are judged in this step.
func (v *voyage) list(m *moment) {
	d := &m.tree.Design.Clearance
	for i, a := range m.members {
		for j := i + 1; j < len(m.members); j++ {
			b := m.members[j]
			kind := kindOf(a, b)
			rel := m.relate(a, b)
			if rel == untested || rel == layout {
				continue
			}
			p := encounter{i: i, j: j, rel: rel, kind: kind, required: classOf(d, kind), low: math.Inf(1)}
			if k := m.pairRule(a, b); k >= 0 {
				p.required = d.Pairs[k].Gap
			}
			p.allowed = allowed(m.tree.Design, a, b)
			if b.rank < a.rank {
				p.i, p.j = j, i
			}
			v.pairs = append(v.pairs, p)
		}
	}
}

// allowed returns the overlap that a seat between two members allows.
func allowed(d *fold.Design, a, b *member) float64 {
	most := 0.0
	for _, s := range d.Seats {
		if fold.NameMatches(s.On, a.name) && fold.NameMatches(s.Against, b.name) || fold.NameMatches(s.On, b.name) && fold.NameMatches(s.Against, a.name) {
			most = max(most, s.Squeeze)
		}
	}
	return most
}

// rest lowers what each pair must keep to what it has at both ends of the step.
func (v *voyage) rest(first, last *moment) {
	for k := range v.pairs {
		p := &v.pairs[k]
		for _, m := range []*moment{first, last} {
			if r, ok := v.measure(m, p, max(p.required, 0)+Touch); ok {
				p.required = min(p.required, r.gap)
			}
		}
	}
}

// measure reads a pair at a moment and remembers the smallest gap.
func (v *voyage) measure(m *moment, p *encounter, limit float64) (reading, bool) {
	a, b := m.members[p.i], m.members[p.j]
	pr := pair{a: a, b: b, rel: p.rel}
	r, ok := m.read(&pr, a, b, limit+b.grows)
	if !ok {
		return r, false
	}
	r.gap -= b.grows
	p.chord = max(p.chord, a.mesh.Chord+b.mesh.Chord)
	if !p.seen || r.gap < p.least.Gap {
		p.seen = true
		p.least = Narrow{Step: v.step + 1, Posture: v.program.Posture, Name: v.program.Steps[v.step].Name, Kind: p.kind,
			Between: [2]string{a.name, b.name}, Gap: r.gap, Progress: m.progress, At: [2]mgl64.Vec3{positive(r.x), positive(r.y)}}
	}
	if best := v.best[p.kind]; best == nil || r.gap < best.Gap {
		n := p.least
		n.Low = n.Gap - resolution - p.chord
		v.best[p.kind] = &n
	}
	return r, true
}

// all returns the numbers of all pairs.
func (v *voyage) all() []int {
	out := make([]int, len(v.pairs))
	for i := range out {
		out[i] = i
	}
	return out
}

// halve looks at the middle of an interval and goes on with both halves for the pairs that it does not settle.
func (v *voyage) halve(from, to float64, open []int) {
	if v.stops++; v.stops > mostStops || v.ctx.Err() != nil || to-from < 1e-9 {
		v.complete = false
		return
	}
	m, err := v.at((from + to) / 2)
	if err != nil {
		v.complete = false
		return
	}
	swing := v.swing(m, to-from)
	open = slices.DeleteFunc(slices.Clone(open), func(k int) bool { return v.settled(m, &v.pairs[k], swing) })
	if len(open) > 0 {
		v.halve(from, m.progress, open)
		v.halve(m.progress, to, open)
	}
}

// settled measures a pair and reports whether the interval needs no closer look: it keeps its clearance all through and cannot
// hold the smallest gap of its kind, or its gap is known to the resolution, or it is in contact.
func (v *voyage) settled(m *moment, p *encounter, swing *swing) bool {
	a, b := m.members[p.i], m.members[p.j]
	if p.touched {
		return true
	}
	moves := swing.between(a, b)
	chord := a.mesh.Chord + b.mesh.Chord
	worth := p.required
	if best := v.best[p.kind]; best != nil {
		worth = max(worth, best.Gap-resolution)
	} else {
		worth = math.Inf(1)
	}
	if p.seen && p.least.Gap < p.required {
		worth = max(p.required, p.least.Gap)
	}
	limit := worth + moves + chord
	if math.Sqrt(a.box.distance2(&b.box))-b.grows >= limit {
		return true
	}
	r, ok := v.measure(m, p, limit)
	if !ok {
		return true
	}
	low := r.gap - moves - chord
	if r.gap < -Touch-p.allowed && r.gap < p.required {
		p.touched = true
	}
	p.low = min(p.low, low)
	return p.touched || low >= worth-flatSlack || moves <= resolution
}

// flatSlack is the difference up to which a gap counts as the required one.
const flatSlack = 1e-6

// collect adds the step's smallest gaps and findings.
func (v *voyage) collect(out *Travel) {
	for _, kind := range []string{"board", "components", "enclosure"} {
		best := v.best[kind]
		if best == nil {
			continue
		}
		if best.Between[0] > best.Between[1] {
			best.Between[0], best.Between[1] = best.Between[1], best.Between[0]
			best.At[0], best.At[1] = best.At[1], best.At[0]
		}
		out.Steps = append(out.Steps, *best)
	}
	for i := range v.pairs {
		p := &v.pairs[i]
		slack := flatSlack + p.chord
		if p.seen && p.least.Gap < p.required-slack && !(p.least.Gap < 0 && p.least.Gap >= -Touch-p.allowed) {
			out.Findings = append(out.Findings, v.report(p))
		}
	}
}

// report makes the finding of a pair that comes too near on the way.
func (v *voyage) report(p *encounter) finding.Finding {
	n := &p.least
	m := &v.program.Steps[v.step]
	f := finding.Finding{Rule: "clearance-in-motion", Severity: finding.Warning, On: n.Between[:], Posture: n.Posture, Place: m.Place,
		Value: finding.Number(n.Gap), Limit: finding.Number(p.required), Unit: "mm",
		Source: "the design's own; the gap is computed and certified between the moments looked at"}
	when := fmt.Sprintf("step %d of %d, %.0f %%", n.Step, len(v.program.Steps), 100*n.Progress)
	spot := fmt.Sprintf("(%.2f, %.2f, %.2f)", n.At[0][0]+0, n.At[0][1]+0, n.At[0][2]+0)
	if n.Gap < 0 {
		f.Rule, f.Severity = "contact-in-motion", finding.Error
		f.Limit = finding.Number(-p.allowed)
		f.Message = fmt.Sprintf("%s and %s run into each other at %s by %.2f mm or more, at %s", n.Between[0], n.Between[1], when, -n.Gap, spot)
		f.Hint = "change the order of the steps or the path, or make room there"
	} else {
		f.Message = fmt.Sprintf("%s and %s come within %.2f mm at %s, at %s; they must keep %.2f mm", n.Between[0], n.Between[1], n.Gap, when, spot, p.required)
		f.Hint = fmt.Sprintf("make %.2f mm more room on the way, or allow it: clearance: {pairs: [{between: [%s, %s], gap: %.2f}]}", p.required-n.Gap, n.Between[0], n.Between[1], math.Floor(n.Gap*100)/100)
	}
	if !v.program.Written && v.program.Posture == fold.FoldedPosture {
		f.Severity = finding.Advice
	}
	return f
}
