package elastica

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Loop is the mirror-symmetric equilibrium of a strip between two clamps that are each other's mirror image. Radii are
// positive where the strip bends as at its apex, negative where it bends the other way, infinite where it is straight.
type Loop struct {
	Turn, Gap, Length float64 // as asked for
	Apex              float64 // radius in the middle
	Clamp             float64 // radius at either clamp
	Reach             float64 // from the line through the clamps to the apex
	Width             float64 // largest extent along that line
	Pull              float64 // force/EI with which the clamps pull the strip's ends apart; negative: they squeeze
}

// MinRadius returns the loop's least radius, without sign, and whether it is the one at the clamps.
func (l Loop) MinRadius() (radius float64, atClamp bool) {
	apex, clamp := math.Abs(l.Apex), math.Abs(l.Clamp)
	return min(apex, clamp), clamp < apex
}

// Symmetric returns the loop of a strip of the given length that turns by the given angle (0 to 360 degrees) between
// clamps a gap apart. The gap is measured across the mirror axis and counts negative when the ends lie past each other; turn
// 180 is a U, turn 0 an arch. Closed form in elliptic integrals (Carlson's), with one number found by bisection to its last
// bit; relative error below 1e-11. Errors: a turn or length out of range, a gap that is not shorter than the length, a strip
// too taut for floating point (slack under 0.3 percent in a U, under 1 to 2 percent with the ends past each other or after a
// full turn). Whether the loop is stable, and whether a lopsided shape holds less energy, is Clamps' question.
func Symmetric(turn, gap, length float64) (Loop, error) {
	slack := (length - gap) / length
	switch {
	case !(turn >= 0 && turn <= 360):
		return Loop{}, fmt.Errorf("a symmetric loop turns by 0 to 360 degrees, not %g", turn)
	case !(length > 0) || math.IsInf(length, 0):
		return Loop{}, fmt.Errorf("the length must be above 0, it is %g", length)
	case !(slack > 0 && slack < 2):
		return Loop{}, fmt.Errorf("a strip of length %g cannot bridge a gap of %g in a loop: the gap must be shorter", length, gap)
	}
	half := newHalf(turn)
	reversed, err := half.fit(slack)
	if reversed {
		err = half.bendBack(slack)
	}
	if err != nil {
		return Loop{}, err
	}
	return half.loop(turn, gap, length), nil
}

// ClampedU returns the loop between two parallel clamps that are level and a gap apart, as between two stacked rigid boards.
func ClampedU(gap, length float64) (Loop, error) { return Symmetric(180, gap, length) }

// PearLoop returns the loop of a strip whose two ends are clamped face to face (Peirce 1930): the U of gap 0.
func PearLoop(length float64) (Loop, error) { return Symmetric(180, 0, length) }

// Arch returns the arch of a strip between two clamps on one line that face each other, a span apart.
func Arch(span, length float64) (Loop, error) { return Symmetric(0, span, length) }

// Corner returns the loop between two clamps at right angles, each a leg away from the corner where their lines meet.
func Corner(leg, length float64) (Loop, error) { return Symmetric(90, leg*math.Sqrt2, length) }

// half is one half of a loop, from its apex to its clamp, scaled to a curvature of 1 at the apex. With the heading psi
// counted from the apex, k^2 = 1 - n sin^2(psi/2). The half ends at psi = turn/2, before the curvature changes sign
// (end = k at the clamp >= 0) or after (end < 0; then psi rises beyond turn/2 to 2 asin(p), n = 1/p^2, and falls again).
type half struct {
	sin2, cos2 float64 // squared sine and cosine of half the heading at the clamp
	n          float64
	end        float64
	length     float64 // of the half
	short      float64 // length less its extent across the mirror axis
	reach      float64
}

func newHalf(turn float64) *half {
	s, c := math.Sincos(turn / 4 * math.Pi / 180)
	if turn == 360 {
		c = 0
	}
	return &half{sin2: s * s, cos2: c * c}
}

// most is the largest logarithm of 1 + end, and of 1/(1 - p^2): beyond it the arguments of the elliptic integrals are out of range.
const most = 230

// fit searches the halves whose curvature keeps its sign for the one with the wanted slack. It returns true when all of
// them have less slack than that, an error when even the tautest has more.
func (h *half) fit(slack float64) (reversed bool, err error) {
	try := func(w float64) float64 {
		h.setEnd(math.Expm1(w))
		return slack - h.short/h.length
	}
	low := 0.0
	if h.cos2 == 0 {
		low = 1e-50 // a full turn: its ends never get quite straight
	}
	if h.sin2 == 0 || try(low) > 0 {
		return true, nil
	}
	if try(most) < 0 {
		return false, fmt.Errorf("the strip is too taut: its length exceeds the gap by %.3g of itself, at least %.3g can be solved",
			slack, h.short/h.length)
	}
	try(bisect(low, most, func(w float64) bool { return try(w) < 0 }))
	return false, nil
}

// bendBack searches the halves whose curvature changes sign on the way; an error when even the slackest has too little slack.
func (h *half) bendBack(slack float64) error {
	const least = -700
	below := func(w float64) bool {
		h.setModulus(w)
		return h.short/h.length < slack
	}
	if h.cos2 == 0 || below(most) {
		return fmt.Errorf("the strip is pulled too tight: its ends lie past each other by %.4f of its length, at most %.4f can be solved",
			slack-1, h.short/h.length-1)
	}
	below(bisect(least, most, below))
	return nil
}

// rd returns Carlson's R_D(x, y, 1), scaled so that a large y stays in range.
func rd(x, y float64) float64 {
	q := max(1, math.Sqrt(y))
	return mathext.EllipticRD(x/q, y/q, 1/q) / (q * math.Sqrt(q))
}

// setEnd makes the half whose curvature at the clamp is end >= 0.
func (h *half) setEnd(end float64) {
	s := math.Sqrt(h.sin2)
	h.end, h.n = end, (1-end)*(1+end)/h.sin2
	h.length = 2 * s * mathext.EllipticRF(h.cos2, end*end, 1)
	h.short = 4 * s * h.sin2 / 3 * rd(h.cos2, end*end)
	h.reach = 4 * h.sin2 / (1 + end)
}

// setModulus makes the half whose curvature changes sign, with modulus p^2 = sin2 + cos2/(1+exp(-w)).
func (h *half) setModulus(w float64) {
	p2 := h.sin2 + h.cos2/(1+math.Exp(-w))
	q2 := h.cos2 / (1 + math.Exp(w)) // 1 - p2
	p, s := math.Sqrt(p2), math.Sqrt(h.sin2/p2)
	c2 := h.cos2 / (1 + math.Exp(-w)) / p2
	f := 2*mathext.EllipticRF(0, q2, 1) - s*mathext.EllipticRF(c2, h.cos2, 1)
	d := 2*rd(0, q2) - s*s*s*rd(c2, h.cos2)
	h.end, h.n = -math.Sqrt(c2), 1/p2
	h.length = 2 * p * f
	h.short = 4 * p * p2 * d / 3
	h.reach = 4 * p2 * (1 + math.Sqrt(c2))
}

// widest returns the extent across the mirror axis from the apex to where the strip first runs along the axis (psi = 90),
// 0 if it never does.
func (h *half) widest() float64 {
	top := h.sin2
	if h.end < 0 {
		top = 1 / h.n
	}
	if top <= 0.5 {
		return 0
	}
	s := math.Sqrt(0.5)
	rest := 1 - h.n/2
	return 2*s*mathext.EllipticRF(0.5, rest, 1) - 4*s*0.5/3*rd(0.5, rest)
}

// loop scales two halves to the wanted length.
func (h *half) loop(turn, gap, length float64) Loop {
	scale := length / (2 * h.length)
	return Loop{
		Turn: turn, Gap: gap, Length: length,
		Apex: scale, Clamp: scale / h.end, Reach: scale * h.reach,
		Width: max(math.Abs(gap), 2*scale*h.widest()),
		Pull:  -h.n / 4 / (scale * scale),
	}
}

// bisect returns the place between lo and hi where below turns from true to false, to the last bit.
func bisect(lo, hi float64, below func(float64) bool) float64 {
	for {
		mid := lo + (hi-lo)/2
		if mid <= lo || mid >= hi {
			return mid
		}
		if below(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
}
