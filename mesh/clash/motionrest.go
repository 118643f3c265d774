package clash

// settleEnds lowers what pairs must keep in motion to what they have where the check at rest speaks: at the program's end, and
// at its beginning if that is the folded posture. A jig, of which it does not speak, may touch what it holds at the end of any
// step.
func (w *sweeper) settleEnds() {
	all := func(*track) bool { return true }
	last := len(w.program.Steps) - 1
	w.settleAt(when{last, 1}, all, func(t *track, l *look) {
		t.atEnd = t.atEnd || l.overlaps()
		t.limitTo(max(l.gap, 0))
	})
	if w.fromFolded() {
		w.settleAt(when{0, 0}, all, func(t *track, l *look) {
			t.atStart = t.atStart || l.overlaps()
			t.limitTo(max(l.gap, 0))
		})
	}
	for i := range w.program.Steps {
		held := when{i, 1}
		w.settleAt(held, func(t *track) bool { return w.takenAway(t.b) }, func(t *track, l *look) { w.touchJig(t, held, l) })
	}
}

// overlaps reports whether bodies share space deeper than Touch, or more than may be.
func (l *look) overlaps() bool { return l.contact || l.gap < -Touch }

// touchJig lowers what a pair must keep if a jig touches there, within seated; deeper in it than Touch only by what the chord
// errors of curved faces may be.
func (w *sweeper) touchJig(t *track, at when, l *look) {
	if !l.overlaps() {
		if l.gap <= seated {
			t.limitTo(max(l.gap, 0))
		}
		return
	}
	if deepest := -Touch - t.chords(); t.chords() > 0 {
		if r, ok := w.closeUp(t, at); ok && r.gap >= deepest {
			t.limitTo(deepest)
		}
	}
}

// settleAt looks at the tracks of some kind at one moment, and tells of those that are near.
func (w *sweeper) settleAt(at when, which func(*track) bool, tell func(*track, *look)) {
	s := newSearch(w, at.step)
	var todo []spell
	for _, t := range w.tracks {
		if which(t) && w.there(at.step, t.a) && w.there(at.step, t.b) {
			todo = append(todo, spell{track: t, from: at.at, to: at.at})
		}
	}
	looks := s.lookAt(todo, func(s *search, p *spell, at moments) look {
		n := at.mid()
		limit := max(p.track.required, 0) + hair
		if n.boxesApart(p.track)-p.track.b.grows >= limit {
			return look{}
		}
		return s.see(n, p.track, limit)
	})
	for i := range looks {
		if looks[i].seen {
			tell(todo[i].track, &looks[i])
		}
	}
}
