package report

import (
	"encoding/json"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/flat"
)

// num is a number of the JSON results: full double precision, zero without a sign.
type num float64

// MarshalJSON writes the shortest digits that give the same double again.
func (n num) MarshalJSON() ([]byte, error) {
	if n == 0 {
		return []byte("0"), nil
	}
	return json.Marshal(float64(n))
}

// some returns a number that is there; maybe one that may not be.
func some(v float64) *num { n := num(v); return &n }

func maybe(v *float64) *num {
	if v == nil {
		return nil
	}
	return some(*v)
}

func point(p flat.Pt) [2]num { return [2]num{num(p.X), num(p.Y)} }

func line(l [2]flat.Pt) [2][2]num { return [2][2]num{point(l[0]), point(l[1])} }

func vector(v mgl64.Vec3) [3]num { return [3]num{num(v[0]), num(v[1]), num(v[2])} }

func both(v [2]float64) [2]num { return [2]num{num(v[0]), num(v[1])} }

// rows returns a matrix row by row.
func rows(m mgl64.Mat4) [16]num {
	var out [16]num
	for r := range 4 {
		for c := range 4 {
			out[4*r+c] = num(m.At(r, c))
		}
	}
	return out
}

// list returns l, or an empty list for nil, so that JSON says [] and not null.
func list[T any](l []T) []T {
	if l == nil {
		return []T{}
	}
	return l
}
