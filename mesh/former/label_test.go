package former

import (
	"math"
	"math/rand/v2"
	"testing"

	"foldfit/fold/flat"
)

// ladder is a pen for tests: each character is a closed figure of strokes that share their ends, two that cross among them.
func ladder(line string, size float64) [][2]flat.Pt {
	var out [][2]flat.Pt
	corners := []flat.Pt{{X: 0.05, Y: 0.35}, {Y: 0.3}, {X: 0, Y: 0.1}, {X: 0.1}, {X: 0.3}, {X: 0.4, Y: 0.1}, {X: 0.4, Y: 0.3}, {X: 0.3, Y: 0.36},
		{X: 0.05, Y: 0.35}, {X: 0.02, Y: 0.45}, {X: 0.02, Y: 0.6}, {X: 0.1, Y: 0.72}, {X: 0.3, Y: 0.72}, {X: 0.4, Y: 0.6}, {X: 0.4, Y: 0.45}, {X: 0.3, Y: 0.36}}
	for k := range []rune(line) {
		at := flat.Pt{X: 0.7 * size * float64(k)}
		for i := 1; i < len(corners); i++ {
			out = append(out, [2]flat.Pt{at.Add(corners[i-1].Mul(size)), at.Add(corners[i].Mul(size))})
		}
		for _, x := range [][2]flat.Pt{{{X: 0.1, Y: 0.05}, {X: 0.3, Y: 0.25}}, {{X: 0.3, Y: 0.05}, {X: 0.1, Y: 0.25}}} {
			out = append(out, [2]flat.Pt{at.Add(x[0].Mul(size)), at.Add(x[1].Mul(size))})
		}
	}
	return out
}

// What is cut away is what lies within half a stroke of a line, in whatever way the strokes meet: points at random agree.
func TestWriting(t *testing.T) {
	const size = 6
	lines := []string{"ab", "c"}
	loops, frame := writing(ladder, lines, size)
	width := strokeWidth(size)
	random := rand.New(rand.NewPCG(1, 2))
	checked, inside := 0, 0
	low := flat.Pt{X: math.Inf(1), Y: math.Inf(1)}
	for i, l := range lines {
		for _, s := range ladder(l, size) {
			for _, p := range s {
				low = flat.Pt{X: min(low.X, p.X), Y: min(low.Y, p.Y-1.3*size*float64(i))}
			}
		}
	}
	for range 20000 {
		p := flat.Pt{X: frame.Max.X * random.Float64(), Y: frame.Max.Y * random.Float64()}
		least := math.Inf(1)
		for i, l := range lines {
			for _, s := range ladder(l, size) {
				move := flat.Pt{X: -low.X + frame.Min.X, Y: -low.Y - 1.3*size*float64(i)}
				half := width / 2 // the eight-cornered ends have their sides at half a width, upright and level
				least = min(least, distance(p, s[0].Add(move).Add(flat.Pt{X: half, Y: half}), s[1].Add(move).Add(flat.Pt{X: half, Y: half})))
			}
		}
		if math.Abs(least-width/2) < 0.1*width {
			continue // at an end the outline is an eight-cornered one
		}
		checked++
		if in := winding(loops, p) != 0; in != (least < width/2) {
			t.Fatalf("(%.3f, %.3f) is %.3f from a line and inside: %v", p.X, p.Y, least, in)
		} else if in {
			inside++
		}
	}
	if checked < 10000 || inside < 1000 {
		t.Errorf("%d points, %d inside", checked, inside)
	}
}

// distance returns the distance from p to the segment a b.
func distance(p, a, b flat.Pt) float64 {
	d := b.Sub(a)
	f := max(0, min(1, p.Sub(a).Dot(d)/d.Dot(d)))
	return p.Dist(a.Add(d.Mul(f)))
}

// winding returns how often the loops run round p.
func winding(loops [][]flat.Pt, p flat.Pt) int {
	n := 0
	for _, l := range loops {
		for i, a := range l {
			b := l[(i+1)%len(l)]
			switch left := b.Sub(a).Cross(p.Sub(a)); {
			case a.Y <= p.Y && b.Y > p.Y && left > 0:
				n++
			case b.Y <= p.Y && a.Y > p.Y && left < 0:
				n--
			}
		}
	}
	return n
}
