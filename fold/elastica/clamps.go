package elastica

import (
	"fmt"
	"math"
	"sort"
)

// Clamps hold a strip at its two ends. The near clamp is at the origin and heads along +x.
type Clamps struct {
	X, Y   float64 // the far clamp
	Turn   float64 // heading of the far clamp in degrees, whole turns counted: 370 is a loop more than 10
	Length float64 // of the strip between the clamps
}

// Solve returns the shape of least energy that the strip can rest in, to a relative 1e-9 in lengths, forces and curvatures.
// It slides down from several starts (without, with one and with two waves of either sign) and takes the lowest place where
// it comes to rest; that no lower one exists is not proved. Of mirror images with the same energy it returns the one that lies further
// to the left of the heading of the near clamp, or of the far one where the strip turns right.
//
// Errors: numbers that are not finite, a length not above 0, a turn beyond 720 degrees, clamps further apart than the strip is
// long, a strip so taut between clamps that do not look along it that the bends at its ends are shorter than about 1/1000 of it, and,
// with long strips wound through more than a turn, a strip that finds no rest.
func (c Clamps) Solve() (*Shape, error) { return c.solve(manyStarts) }

// solve is Solve from the given starts.
func (c Clamps) solve(starts []start) (*Shape, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	if c.Turn < 0 || c.Turn == 0 && c.Y < 0 {
		s, err := Clamps{c.X, -c.Y, -c.Turn, c.Length}.solve(starts)
		if err != nil {
			return nil, err
		}
		return s.mirrored(), nil
	}
	p := c.problem()
	if c.straight() {
		return newShape(c, &rest{strip: newStrip(1, func(float64) float64 { return 0 })}), nil
	}
	for _, r := range p.rests(starts) {
		if r = r.sharpened(p.goal); r != nil {
			return newShape(c, r), nil
		}
	}
	return nil, fmt.Errorf("found no shape at rest for a strip of length %g that turns %g degrees between clamps %g apart",
		c.Length, c.Turn, math.Hypot(c.X, c.Y))
}

// straight says whether the strip just spans clamps that look along it.
func (c Clamps) straight() bool { return c.Turn == 0 && c.Y == 0 && c.X == c.Length }

// check refuses clamps that hold no strip.
func (c Clamps) check() error {
	far := math.Hypot(c.X, c.Y)
	switch {
	case math.IsNaN(far+c.Turn+c.Length) || math.IsInf(far+c.Turn+c.Length, 0):
		return fmt.Errorf("clamps at (%g, %g), turn %g, length %g: not all are numbers", c.X, c.Y, c.Turn, c.Length)
	case !(c.Length > 0):
		return fmt.Errorf("the length must be above 0, it is %g", c.Length)
	case math.Abs(c.Turn) > 720:
		return fmt.Errorf("a turn of %g degrees is more than two full turns", c.Turn)
	case far > c.Length:
		return fmt.Errorf("the clamps are %g apart, the strip is only %g long: it is %g too short", far, c.Length, far-c.Length)
	}
	if c.straight() {
		return nil
	}
	if least := c.problem().elements(); least > finest {
		return fmt.Errorf("the strip is too taut to be solved: %g long between clamps %g apart that do not look along it", c.Length, far)
	}
	return nil
}

// problem is what a strip of length 1 has to do.
type problem struct {
	turn float64 // radians
	goal
}

func (c Clamps) problem() problem {
	return problem{c.Turn * math.Pi / 180, goal{(c.Length - c.X) / c.Length, c.Y / c.Length}}
}

// Numbers of elements.
const (
	coarsest = 8
	finest   = 512
)

// elements returns how many elements the strip needs. A strip of tension P that leaves a clamp at an angle b bends within a
// length of 1/sqrt P and loses 2(1-cos(b/2))/sqrt P of its length there; the slack says how large P is.
func (p problem) elements() int {
	x, y := 1-p.short, p.rise
	// 1 - hypot(x, y), without the loss of digits for a taut strip
	slack := (p.short*(1+x) - y*y) / (1 + math.Hypot(x, y))
	chord := math.Atan2(y, x)
	off := 2 - math.Cos(chord/2) - math.Cos(math.Remainder(p.turn-chord, 2*math.Pi)/2)
	need := 2 * off / slack / 4
	n := coarsest
	for float64(n) < need && n <= finest {
		n *= 2
	}
	if !(need >= 0) || slack <= 0 {
		return 2 * finest
	}
	return n
}

// start is a heading to slide down from: an even turn with one and two waves on it, in radians.
type start struct{ one, two float64 }

// Starts. The even turn alone leads to the least energy nine times in ten; the others were kept because each was the only one
// that did for some of 500 random clamps.
var (
	fewStarts  = []start{{}, {1.2, 0}, {-1.2, 0}}
	manyStarts = append(fewStarts, start{4, 0}, start{-4, 0}, start{6, 0}, start{-6, 0}, start{0, 2.5}, start{0, -2.5}, start{0, 4},
		start{0, -4}, start{2.4, 2.5}, start{2.4, -2.5}, start{-2.4, 2.5}, start{-2.4, -2.5})
)

// strip returns the start's heading on n elements.
func (w start) strip(p problem, n int) *strip {
	size := min(1, math.Sqrt(2*p.short)+p.turn)
	return newStrip(n, func(s float64) float64 {
		return p.turn*s + size*(w.one*math.Sin(math.Pi*s)+w.two*math.Sin(2*math.Pi*s))
	})
}

// rests returns where the strip comes to rest from the starts, least energy first, ties by lie.
func (p problem) rests(starts []start, more ...*strip) []*rest {
	n := p.elements()
	for _, w := range starts {
		more = append(more, w.strip(p, n))
	}
	var out []*rest
	for _, st := range more {
		if st = st.closed(p.goal); st == nil {
			continue
		}
		if r := st.relax(p.goal, 100); r != nil {
			out = append(out, r)
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i].energy(), out[j].energy()
		if math.Abs(a-b) > 1e-9*(a+b) {
			return a < b
		}
		return out[i].lie() > out[j].lie()+1e-9
	})
	return out
}

// lie returns the area between the strip and the near clamp's line, positive to the left.
func (st *strip) lie() float64 {
	sum, y := 0.0, 0.0
	for e := range st.bubble {
		_, rise := st.run(e)
		sum += y + rise/2
		y += rise
	}
	return sum * st.size()
}
