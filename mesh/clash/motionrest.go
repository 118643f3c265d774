package clash

// settleEnds lowers what pairs must keep in motion to what they have where the check at rest speaks: at the program's end, and
// at its beginning if that is the folded posture. A jig, of which it does not speak, may touch what it holds at the end of any
// step.
func (w *sweeper) settleEnds() {
	all := func(*track) bool { return true }
	end, begin := when{len(w.program.Steps) - 1, 1}, when{0, 0}
	w.settleAt(end, all, func(t *track, l *look) { t.atEnd = w.settleTo(t, end, l) || t.atEnd })
	if w.fromFolded() {
		w.settleAt(begin, all, func(t *track, l *look) { t.atStart = w.settleTo(t, begin, l) || t.atStart })
	}
	for i := range w.program.Steps {
		held := when{i, 1}
		w.settleAt(held, func(t *track) bool { return !t.presses && w.takenAway(t.b) }, func(t *track, l *look) { w.touchJig(t, held, l) })
	}
}

// settleTo lowers what a pair must keep to what it has at rest, and reports whether it may be in contact near there: on a seat it
// may only press as deep.
func (w *sweeper) settleTo(t *track, rest when, l *look) (contact bool) {
	if !t.presses {
		t.limitTo(max(l.gap, 0))
		return l.overlaps()
	}
	if r, ok := w.closeUp(t, rest); ok && l.contact {
		t.limitTo(r.gap)
	}
	return false
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
