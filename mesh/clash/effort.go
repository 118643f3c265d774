package clash

import (
	"fmt"
	"slices"
	"sync/atomic"

	"foldfit/fold"
	"foldfit/fold/finding"
)

// A mesh of thousands of faces that cross each other can ask for more work than anybody waits for. So work is counted, never
// timed, and has bounds. What they cut short is told as not checked.
const (
	restEffort  = 8_000_000 // pairs of triangles compared for the depths of all pairs at rest
	leastEffort = 20_000    // for one depth, whatever was spent before
	touchEffort = 200_000   // pairs of triangles compared to see whether bodies overlap by more than Touch

	openWear   = 6_000_000 // how much following a mesh that is not closed may take beyond what sound ones do
	closedWear = 6_000_000 // of a closed mesh: only what finding out about overlaps takes counts
	mostLooked = 1_500_000 // intervals measured of a program that nobody has written: ten seconds or so
	mostPairs  = 120_000   // pairs of bodies of such a program
	usualNodes = 1 << 13   // nodes compared for a distance that are not counted
	usualFaces = 1 << 13   // triangles compared for an overlap that are not counted
)

// effort is what may still be spent on depths, and on which meshes it did not suffice. The zero value is nothing left; nil
// stands for no bound on all depths together.
type effort struct {
	left  int
	rough []string
}

// most returns how many pairs of triangles may be compared for one depth.
func (e *effort) most() int {
	if e == nil {
		return plenty
	}
	return min(max(e.left, leastEffort), plenty)
}

// spend notes what a reading has taken.
func (e *effort) spend(p *pair, r *reading) {
	if e == nil {
		return
	}
	e.left -= r.spent
	if r.rough && !slices.Contains(e.rough, p.b.name) {
		e.rough = append(e.rough, p.b.name)
	}
}

// unchecked says where depths are not the least.
func (e *effort) unchecked() []finding.Unchecked {
	if e == nil {
		return nil
	}
	return roughDepths(e.rough)
}

func roughDepths(of []string) []finding.Unchecked {
	if len(of) == 0 {
		return nil
	}
	return []finding.Unchecked{{What: "depth", On: of,
		Why: "so many faces cross those of other bodies that the shortest ways out were not all sought: a depth told is that of one way out, a shorter one may exist"}}
}

// worn is how far a piece of the enclosure has been followed beyond usual work, and whether it is followed still.
type worn struct {
	spent int
	over  bool
	rough atomic.Bool // a depth told of it may not be the least
}

// rough says where depths told of the motion are not the least.
func (w *sweeper) rough() []finding.Unchecked {
	var of []string
	for _, a := range w.actors {
		if a.worn.rough.Load() {
			of = append(of, a.name)
		}
	}
	return roughDepths(of)
}

// depthEffort returns how many pairs of triangles may be compared to tell how deep a contact of a track is.
func (t *track) depthEffort() int {
	if wall := t.wallOf(); wall != nil && (wall.worn.over || !wall.closed) {
		return touchEffort
	}
	return plenty
}

// wallOf returns the piece of the enclosure of a track, nil if it has none.
func (t *track) wallOf() *actor {
	switch {
	case t.b.wall != nil:
		return t.b
	case t.a.wall != nil:
		return t.a
	}
	return nil
}

// dropped reports whether the track's piece of the enclosure is no longer followed.
func (t *track) dropped() bool {
	wall := t.wallOf()
	return wall != nil && wall.worn.over
}

// wear counts the work of a look at a track at a moment, and gives up its piece of the enclosure once that is too much.
func (s *search) wear(t *track, at float64, l *look) {
	wall := t.wallOf()
	if wall == nil || wall.worn.over {
		return
	}
	most := closedWear
	wall.worn.spent += l.overlapWork
	if !wall.closed {
		wall.worn.spent += l.nodes
		most = openWear
	}
	if wall.worn.spent <= most {
		return
	}
	wall.worn.over = true
	s.covered = false
	s.unchecked = append(s.unchecked, finding.Unchecked{What: "motion", On: []string{wall.name},
		Why: fmt.Sprintf("so many of its %d faces lie near or cross those of the board at once that to follow it takes too long: given up in %s at %s",
			len(wall.mesh.Triangles), s.stepName(s.step), percent(at))})
}

// drop leaves an interval of a dropped track as it is.
func (s *search) drop(p *spell) {
	k := p.track.kind
	s.dropped[k] = true
	s.low[k] = min(s.low[k], p.low-p.track.chords())
	s.done += p.to - p.from
}

// exhausted reports whether a program that nobody has written has taken all the work that it may. A written one is followed to
// its end.
func (w *sweeper) exhausted() bool { return w.unwritten() && w.looked > mostLooked }

// tooMany reports whether a program that nobody has written has more pairs of bodies than are followed.
func tooMany(p *fold.Program) bool {
	w, n := sweeper{program: p}, len(p.Tree.Bodies)
	return w.unwritten() && n*(n-1)/2 > mostPairs
}

// unfollowed says why the way that stands in for a sequence is not proven.
func unfollowed(why string) finding.Unchecked {
	return finding.Unchecked{What: "motion", Aside: true,
		Why: "the way from flat with all hinges together, which stands in for a sequence: " + why + "; write a sequence, which is followed to its end"}
}

// atOnce returns how many intervals are looked at before their work is counted.
func (w *sweeper) atOnce() int {
	for _, a := range w.actors {
		if a.wall != nil && !a.closed {
			return fewBatch
		}
	}
	return batch
}

// beyond returns what is counted of some work.
func beyond(work, usual int) int { return max(work-usual, 0) }
