package mesh

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"foldfit/fold/flat"
)

// orientRational is orient in rational numbers.
func orientRational(a, b, c flat.Pt) int {
	r := func(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }
	sub := func(x, y float64) *big.Rat { return new(big.Rat).Sub(r(x), r(y)) }
	left := new(big.Rat).Mul(sub(b.X, a.X), sub(c.Y, a.Y))
	return left.Cmp(new(big.Rat).Mul(sub(b.Y, a.Y), sub(c.X, a.X)))
}

func TestOrientExact(t *testing.T) {
	rnd := rand.New(rand.NewPCG(21, 22))
	zero, close := 0, 0
	for range 20000 {
		scale := math.Pow(10, float64(rnd.IntN(12)-6))
		p := func() flat.Pt { return flat.Pt{X: scale * (rnd.Float64() - 0.5), Y: scale * (rnd.Float64() - 0.5)} }
		a, b := p(), p()
		f := 3*rnd.Float64() - 1
		c := flat.Pt{X: a.X + f*(b.X-a.X), Y: a.Y + f*(b.Y-a.Y)}
		switch rnd.IntN(4) {
		case 0: // on the line to rounding
		case 1: // one step beside it
			c.X = math.Nextafter(c.X, 1)
		case 2: // exactly on it: coordinates of few digits
			a, b = round(a, scale), round(b, scale)
			c = flat.Pt{X: 2*b.X - a.X, Y: 2*b.Y - a.Y}
		case 3:
			c = p()
		}
		want := orientRational(a, b, c)
		if want == 0 {
			zero++
		}
		if got := exactOrient(a, b, c); got != want {
			t.Fatalf("exactOrient(%v, %v, %v) = %d, want %d", a, b, c, got, want)
		}
		for k, got := range []int{orient(a, b, c), orient(b, c, a), -orient(b, a, c), -orient(c, b, a)} {
			if got != want {
				t.Fatalf("orient of %v, %v, %v in order %d = %d, want %d", a, b, c, k, got, want)
			}
		}
		if left := (b.X - a.X) * (c.Y - a.Y); math.Abs(b.Sub(a).Cross(c.Sub(a))) < 1e-15*math.Abs(left) {
			close++
		}
	}
	if zero < 1000 || close < 5000 {
		t.Errorf("only %d in line and %d close to it", zero, close)
	}
}

func round(p flat.Pt, scale float64) flat.Pt {
	s := scale / 1024
	s = math.Exp2(math.Round(math.Log2(s)))
	return flat.Pt{X: s * math.Round(p.X/s), Y: s * math.Round(p.Y/s)}
}
