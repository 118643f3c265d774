package clash

import (
	"cmp"
	"container/heap"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"foldfit/fold"
)

// batch is how many intervals are looked at between two moments at which what was found is shared: the same on any number
// of processors.
const batch = 64

// mostInstants bounds how many moments are kept for other pairs.
const mostInstants = 256

// pocket is how far (mm) anything may move in an interval in contact that is not divided, where the pair is in contact at rest:
// what comes clear and back within it is taken for one contact.
const pocket = 0.5

// search follows all pairs through one step: the intervals that may come nearest first.
type search struct {
	*sweeper
	step     int
	motion   *fold.Motion
	queue    queue
	instants map[float64]*instant

	best       [len(kinds)]nearest
	low        [len(kinds)]float64 // proven for all settled intervals of a kind
	done, all  float64             // intervals by their length
	incomplete bool
}

// nearest is the smallest gap of a kind so far.
type nearest struct {
	track   *track
	gap, at float64
	x, y    vec
	contact bool
}

// spell is an interval of the step for one track, with what is known about it.
type spell struct {
	track    *track
	from, to float64
	low      float64 // no gap in it is smaller
}

// look is what was seen of a spell.
type look struct {
	low     float64
	seen    bool // a gap was measured
	gap     float64
	x, y    vec
	counts  bool // the gap is one of those that count, see countsFrom
	contact bool
	short   bool    // the gap is smaller than it must be, and no contact
	moves   float64 // how far anything moves within the spell from its middle
}

func newSearch(w *sweeper, step int) *search {
	s := &search{sweeper: w, step: step, motion: &w.program.Steps[step], instants: map[float64]*instant{}}
	for k := range s.low {
		s.best[k].gap, s.low[k] = math.Inf(1), math.Inf(1)
	}
	breaks := s.motion.Breaks()
	for _, t := range w.tracks {
		if !w.there(step, t.a) || !w.there(step, t.b) {
			continue
		}
		for i, b := range breaks {
			s.queue = append(s.queue, spell{t, b, b, math.Inf(-1)})
			if i > 0 {
				s.queue = append(s.queue, spell{t, breaks[i-1], b, math.Inf(-1)})
			}
		}
		s.all++
	}
	return s
}

// run divides intervals until all are settled or the work is stopped.
func (s *search) run() {
	s.glance()
	heap.Init(&s.queue)
	for len(s.queue) > 0 {
		if s.ctx.Err() != nil || s.failed != nil {
			s.leave()
			return
		}
		todo := s.next()
		for i, l := range s.lookAt(todo, (*search).measure) {
			s.take(&todo[i], &l)
		}
		if s.all > 0 {
			s.tell(float64(s.step) + min(1, s.done/s.all))
		}
	}
}

// leave notes what is known of the intervals that were not settled.
func (s *search) leave() {
	s.incomplete = true
	for i := range s.queue {
		k := s.queue[i].track.kind
		s.low[k] = min(s.low[k], s.queue[i].low-s.queue[i].track.chords())
	}
}

// chords returns the chord errors of both meshes.
func (t *track) chords() float64 { return t.a.mesh.Chord + t.b.mesh.Chord }

// glance bounds every interval by the boxes around both bodies.
func (s *search) glance() {
	for from := 0; from < len(s.queue); from += 64 * batch {
		part := s.queue[from:min(len(s.queue), from+64*batch)]
		for i, l := range s.lookAt(part, (*search).boxes) {
			part[i].low = l.low
		}
	}
}

// next takes the intervals that may come nearest and are not settled.
func (s *search) next() []spell {
	var out []spell
	for len(out) < batch && len(s.queue) > 0 {
		p := heap.Pop(&s.queue).(spell)
		if p.low >= s.goal(&p) {
			s.settle(&p, p.low, p.track.countsFrom(p.low))
			continue
		}
		out = append(out, p)
	}
	slices.SortStableFunc(out, func(a, b spell) int {
		return cmp.Or(a.track.number-b.track.number, cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to))
	})
	return out
}

// goal returns the gap that must be proven for an interval: what the track must keep, or if it has come nearer what is a
// little nearer still; and what may be the smallest of its kind, at the end of a leg without tolerance. A gap that the
// bodies have in the flat is no matter of folding.
func (s *search) goal(p *spell) float64 {
	t := p.track
	need := t.proof
	if need <= 0 {
		need -= Touch
	}
	if t.worst != nil {
		need = min(need, max(t.worst.gap-Resolution, min(need, 0)))
	}
	if t.quiet {
		return need
	}
	least := s.best[t.kind].gap
	if p.from < p.to {
		least -= Resolution
	}
	if t.flat != nil {
		least = min(least, *t.flat-Nearer)
	}
	return max(need, least)
}

// settle notes what was proven for an interval; counts says whether any gap in it may be one of those that count.
func (s *search) settle(p *spell, low float64, counts bool) {
	if counts {
		s.low[p.track.kind] = min(s.low[p.track.kind], low-p.track.chords())
	}
	s.done += p.to - p.from
	if low >= 0 {
		p.track.clearAt(when{s.step, p.from})
		p.track.clearAt(when{s.step, p.to})
	}
}

// lookAt looks at intervals on all processors: those of one track one after the other.
func (s *search) lookAt(todo []spell, see func(*search, *spell, moments) look) []look {
	out := make([]look, len(todo))
	at := make([]moments, len(todo))
	for i := range todo {
		p := &todo[i]
		at[i] = moments{s.instantOf(p.from), s.instantOf((p.from + p.to) / 2), s.instantOf(p.to)}
	}
	var starts []int
	for i := range todo {
		if i == 0 || todo[i].track != todo[i-1].track {
			starts = append(starts, i)
		}
	}
	starts = append(starts, len(todo))
	var turn atomic.Int64
	var all sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(starts)-1) {
		all.Go(func() {
			for k := int(turn.Add(1)); k < len(starts); k = int(turn.Add(1)) {
				for i := starts[k-1]; i < starts[k]; i++ {
					if at[i].mid().ready() != nil {
						out[i] = see(s, &todo[i], at[i])
					}
				}
			}
		})
	}
	all.Wait()
	for i := range at {
		for _, n := range at[i] {
			if n.err != nil {
				s.failed = n.err
			}
		}
	}
	return out
}

// instantOf returns a moment of the step, kept for a while.
func (s *search) instantOf(at float64) *instant {
	n := s.instants[at]
	if n == nil {
		if len(s.instants) >= mostInstants {
			clear(s.instants)
		}
		n = s.instantAt(s.step, at)
		s.instants[at] = n
	}
	return n
}

// take adds what was seen of an interval, and divides it if that settles nothing.
func (s *search) take(p *spell, l *look) {
	t := p.track
	if l.seen {
		s.note(p, l)
	}
	low := max(p.low, l.low)
	switch {
	case l.contact && (l.moves <= pocket || !t.atStart && !t.atEnd):
		s.done += p.to - p.from
	case low >= s.goal(p):
		s.settle(p, low, t.countsFrom(low))
	case l.moves <= finest, l.seen && low >= l.gap-finest:
		s.settle(p, low, l.counts)
	default:
		mid := (p.from + p.to) / 2
		heap.Push(&s.queue, spell{t, p.from, mid, low})
		heap.Push(&s.queue, spell{t, mid, p.to, low})
	}
}

// note keeps what a measured gap tells about its track and its kind.
func (s *search) note(p *spell, l *look) {
	t, at := p.track, when{s.step, (p.from + p.to) / 2}
	if l.contact {
		t.contacts = append(t.contacts, at)
	} else if t.clearAt(at); l.short && (t.worst == nil || l.gap < t.worst.gap) {
		t.worst = &sighting{at, l.gap}
	}
	b := &s.best[t.kind]
	if l.counts && (l.gap < b.gap || l.gap == b.gap && b.track != nil && t.number < b.track.number) {
		*b = nearest{t, l.gap, at.at, l.x, l.y, l.contact}
	}
}

// queue is a heap of intervals, the lowest bound first.
type queue []spell

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	a, b := &q[i], &q[j]
	switch {
	case a.low != b.low:
		return a.low < b.low
	case a.track.number != b.track.number:
		return a.track.number < b.track.number
	case a.from != b.from:
		return a.from < b.from
	}
	return a.to < b.to
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }

// Push adds a spell.
func (q *queue) Push(x any) { *q = append(*q, x.(spell)) }

// Pop takes the last one.
func (q *queue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}
