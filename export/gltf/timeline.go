package gltf

import (
	"math"
	"slices"

	"foldfit/fold"
)

// How long the animation takes, in seconds. All starts and ends are whole quarters, which float32 holds exactly.
const (
	duration   = 4    // without a sequence: from flat to the posture
	bendTime   = 1.5  // a step that bends
	legTime    = 1    // each leg of a path
	changeTime = 0.5  // a step that only brings pieces in or takes them away
	pause      = 0.25 // between two steps
	hold       = 1    // how long the end is shown where marks appear with it
)

// keyTurn is the largest turn of a hinge between two keys, in radians (10 degrees); legTurn that of a leg, in degrees.
const (
	keyTurn = math.Pi / 18
	legTurn = 30
)

// span is one motion on the clock.
type span struct {
	start, length float64 // seconds
	step          int     // of the program
	motion        *fold.Motion
}

// spans returns what the animation plays: the program's steps, without one the way from flat to the scene's posture with
// all hinges in step. A still scene has none.
func (b *builder) spans() []span {
	switch angles := b.Assembly.Folded.Angles; {
	case b.still():
		return nil
	case b.Program == nil:
		return []span{{length: duration, motion: &fold.Motion{From: make([]float64, len(angles)), To: angles}}}
	}
	var out []span
	start := 0.0
	for i := range b.Program.Steps {
		m := &b.Program.Steps[i]
		s := span{start, changeTime, i, m}
		if len(m.Legs) > 0 {
			s.length = legTime * float64(len(m.Legs))
		} else if !slices.Equal(m.From, m.To) {
			s.length = bendTime
		}
		out = append(out, s)
		start += s.length + pause
	}
	return out
}

// still reports whether the scene stands still: a moment of a sequence, or a board with free shapes of bends, which are
// known in this posture alone.
func (b *builder) still() bool {
	for i := range b.tree.Bends {
		if b.Assembly.Folded.Free(i) != nil {
			return true
		}
	}
	return b.State != nil
}

// at returns the time at a share of the span, as the file stores it.
func (s *span) at(share float64) float32 { return float32(s.start + s.length*share) }

// shareAt returns how far the span is at a stored time, from 0 to 1.
func (s *span) shareAt(time float32) float64 {
	return min(max((float64(time)-s.start)/s.length, 0), 1)
}

// end returns when the last span ends.
func end(spans []span) float32 {
	if len(spans) == 0 {
		return 0
	}
	return spans[len(spans)-1].at(1)
}

// hingeKey is a hinge at one time: its angle in radians and its rate, in radians a second, up to then and from then on.
type hingeKey struct {
	time                 float32
	angle, before, after float64
}

// hingeKeys returns the keys of a hinge: none outside the spans that turn it, where it keeps its angle.
func hingeKeys(spans []span, hinge int) []hingeKey {
	var out []hingeKey
	for i := range spans {
		s := &spans[i]
		from, to := s.motion.From[hinge]*(math.Pi/180), s.motion.To[hinge]*(math.Pi/180)
		if from == to {
			continue
		}
		first, n := len(out), pieces(to-from, keyTurn)
		rate := (to - from) / s.length
		for k := range n + 1 {
			t := s.at(float64(k) / float64(n))
			out = append(out, hingeKey{t, from + (to-from)*s.shareAt(t), rate, rate})
		}
		out[first].before, out[len(out)-1].after = 0, 0
	}
	return out
}

// pieces returns in how many equal pieces a turn is cut so that none is above most.
func pieces(turn, most float64) int { return max(1, int(math.Ceil(math.Abs(turn)/most-1e-9))) }

// stateKey is a moment of the program.
type stateKey struct {
	time  float32
	state *fold.State
}

// moverKeys returns the moments between which a mover (an enclosure piece, or fold.TheBoard) shifts straight and turns about
// one axis at a constant rate; none for what no step moves.
func (b *builder) moverKeys(spans []span, mover int) ([]stateKey, error) {
	var out []stateKey
	for i := range spans {
		s := &spans[i]
		legs := s.motion.Legs
		if len(legs) == 0 || s.motion.Mover != mover {
			continue
		}
		shares := []float64{0}
		for l := range legs {
			n := pieces(legs[l].Angle, legTurn)
			for k := range n {
				shares = append(shares, (float64(l)+float64(k+1)/float64(n))/float64(len(legs)))
			}
		}
		for _, share := range shares {
			t := s.at(share)
			state, err := b.Program.State(s.step, s.shareAt(t))
			if err != nil {
				return nil, err
			}
			out = append(out, stateKey{t, state})
		}
	}
	return out, nil
}

// change is a moment from which on something is there or not.
type change struct {
	time  float32
	there bool
}

// presence returns when an enclosure piece comes and goes; the first moment is 0. Nil for one that is there all the time.
func (b *builder) presence(spans []span, piece int) ([]change, error) {
	var out []change
	for i := range spans {
		if b.Program == nil {
			break
		}
		s := &spans[i]
		state, err := b.Program.State(s.step, 0)
		if err != nil {
			return nil, err
		}
		if there := state.Pieces[piece].Present; len(out) == 0 || out[len(out)-1].there != there {
			out = append(out, change{s.at(0), there})
		}
	}
	if len(out) == 1 && out[0].there {
		return nil, nil
	}
	return out, nil
}
