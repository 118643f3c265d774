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

// batch is how many intervals are looked at between two moments at which what was found is shared, fewBatch where a mesh is not
// closed, since its work is counted then: the same on any number of processors.
const (
	batch    = 64
	fewBatch = 12
)

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
	has        [len(kinds)]bool    // tracks of a kind
	dropped    [len(kinds)]bool    // not all of a kind were followed
	need       float64             // no track must keep more
	todo       []spell             // taken from the queue last
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
	off     float64 // how far anything is from straight lines to its ends

	nodes       int // work beyond the usual: nodes compared for distances
	overlapWork int // triangles compared for overlaps
}

func newSearch(w *sweeper, step int) *search {
	s := &search{sweeper: w, step: step, motion: &w.program.Steps[step], instants: map[float64]*instant{}, queue: w.spare[:0]}
	for k := range s.low {
		s.best[k].gap, s.low[k] = math.Inf(1), math.Inf(1)
	}
	return s
}

// fill queues every track that is there: at the ends of each leg and in between.
func (s *search) fill() {
	s.countSeats()
	breaks := s.motion.Breaks()
	s.queue = slices.Grow(s.queue, len(s.tracks)*(2*len(breaks)-1))
	for _, t := range s.tracks {
		if t.dropped() || !s.takesPart(t) {
			continue
		}
		for i, b := range breaks {
			s.queue = append(s.queue, spell{t, b, b, math.Inf(-1)})
			if i > 0 {
				s.queue = append(s.queue, spell{t, breaks[i-1], b, math.Inf(-1)})
			}
		}
		s.all++
		s.has[t.kind] = true
		s.need = max(s.need, t.proof)
	}
}

// takesPart reports whether both actors of a track are there in the step.
func (s *search) takesPart(t *track) bool { return s.there(s.step, t.a) && s.there(s.step, t.b) }

// countSeats lets what a body and its seats keep count among the smallest gaps of the step where nothing else of their kind does:
// of a board whose housing is seats and nothing else.
func (s *search) countSeats() {
	var others [len(kinds)]bool
	for _, t := range s.tracks {
		others[t.kind] = others[t.kind] || !t.guards && !t.quiet && !t.empty() && s.takesPart(t)
	}
	for _, t := range s.tracks {
		if t.presses {
			t.quiet = others[t.kind]
		}
	}
}

// run divides intervals until all are settled or the work is stopped.
func (s *search) run() {
	s.fill()
	s.glance()
	heap.Init(&s.queue)
	for len(s.queue) > 0 {
		if s.ctx.Err() != nil || s.failed != nil || s.exhausted() {
			s.leave()
			return
		}
		todo := s.next()
		s.looked += len(todo)
		for i, l := range s.lookAt(todo, (*search).measure) {
			s.take(&todo[i], &l)
		}
		if s.all > 0 {
			s.tell(float64(s.step) + min(1, s.done/s.all))
		}
	}
	s.spare = s.queue
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

// room returns what the chord errors leave of Resolution; all of it where they alone are wider.
func (t *track) room() float64 {
	if chords := t.chords(); chords < Resolution {
		return max(Resolution-chords, finest/4)
	}
	return Resolution
}

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
	out := s.todo[:0]
	most := s.mostGoal()
	n := s.atOnce()
	for len(out) < n && len(s.queue) > 0 {
		if s.queue[0].low >= most {
			s.settleAll()
			break
		}
		p := s.queue.take()
		if p.track.dropped() {
			s.drop(&p)
			continue
		}
		if p.low >= s.goal(&p) {
			s.settle(&p, p.low, p.track.countsFrom(p.low))
			continue
		}
		out = append(out, p)
	}
	slices.SortStableFunc(out, func(a, b spell) int {
		return cmp.Or(a.track.number-b.track.number, cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to))
	})
	s.todo = out
	return out
}

// mostGoal returns a gap that no goal is larger than.
func (s *search) mostGoal() float64 {
	most := s.need
	for k := range s.best {
		if s.has[k] {
			most = max(most, s.best[k].gap)
		}
	}
	return most
}

// settleAll settles what is left in the queue.
func (s *search) settleAll() {
	for i := range s.queue {
		p := &s.queue[i]
		if p.track.dropped() {
			s.drop(p)
			continue
		}
		s.settle(p, p.low, p.track.countsFrom(p.low))
	}
	s.queue = s.queue[:0]
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
		least -= t.room()
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

// sized returns a slice of n zero values, in the memory of buffer if there is room.
func sized[T any](buffer *[]T, n int) []T {
	*buffer = slices.Grow((*buffer)[:0], n)[:n]
	clear(*buffer)
	return *buffer
}

// inTurn does n things on all processors.
func inTurn(n int, do func(i int)) {
	var turn atomic.Int64
	var all sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		all.Go(func() {
			for i := int(turn.Add(1)) - 1; i < n; i = int(turn.Add(1)) - 1 {
				do(i)
			}
		})
	}
	all.Wait()
}

// lookAt looks at intervals on all processors: those of one track one after the other. What it returns holds until the next.
func (s *search) lookAt(todo []spell, see func(*search, *spell, moments) look) []look {
	out, at := sized(&s.looks, len(todo)), sized(&s.moments, len(todo))
	for i := range todo {
		p := &todo[i]
		at[i] = moments{s.instantOf(p.from), s.instantOf((p.from + p.to) / 2), s.instantOf(p.to)}
	}
	starts := sized(&s.starts, 0)
	for i := range todo {
		if i == 0 || todo[i].track != todo[i-1].track {
			starts = append(starts, i)
		}
	}
	starts = append(starts, len(todo))
	s.starts = starts
	inTurn(len(starts)-1, func(k int) {
		for i := starts[k]; i < starts[k+1]; i++ {
			if at[i].mid().ready() != nil {
				out[i] = see(s, &todo[i], at[i])
			}
		}
	})
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
	s.wear(t, (p.from+p.to)/2, l)
	if l.seen {
		s.note(p, l)
	}
	low := max(p.low, l.low)
	switch {
	case l.contact && (l.moves <= pocket || !t.atStart && !t.atEnd):
		s.done += p.to - p.from
	case low >= s.goal(p):
		s.settle(p, low, t.countsFrom(low))
	case l.moves <= min(finest, t.room()), l.seen && low >= l.gap-min(finest, t.room()):
		s.settle(p, low, l.counts)
	default:
		mid := (p.from + p.to) / 2
		s.queue.add(spell{t, p.from, mid, low})
		s.queue.add(spell{t, mid, p.to, low})
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

// Push adds a spell at the end.
func (q *queue) Push(x any) { *q = append(*q, x.(spell)) }

// Pop takes the last one.
func (q *queue) Pop() any {
	x := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return x
}

// add is heap.Push without a copy of the spell on the heap of the program.
func (q *queue) add(p spell) {
	*q = append(*q, p)
	heap.Fix(q, len(*q)-1)
}

// take is heap.Pop likewise.
func (q *queue) take() spell {
	p, last := (*q)[0], len(*q)-1
	(*q)[0] = (*q)[last]
	if *q = (*q)[:last]; last > 0 {
		heap.Fix(q, 0)
	}
	return p
}
