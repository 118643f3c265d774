package flat

import (
	"encoding/binary"
	"math"
	"testing"
)

// FuzzBuild feeds any numbers: Build may refuse, but what it returns is closed, counter-clockwise, and does not meet itself.
func FuzzBuild(f *testing.F) {
	for _, items := range [][]Vertex{
		pts(0, 0, 10, 0, 10, 10),
		{corner(0, 0, 0), corner(70, 0, 2), corner(70, 24, 2), arcTo(35, 30, 52, 28), corner(0, 24, 0)},
		{arcTo(5, 0, 0, -5), arcTo(-5, 0, 0, 5)},
		{corner(0, 0, 6), corner(10, 0, 6), corner(10, 30, 0), corner(0, 30, 0)},
		pts(0, 0, 10, 0, math.NaN(), 10),
		pts(0, 0, 1e300, 0, 1e300, math.Inf(-1)),
		{corner(0, 0, 0), corner(1e5, 0, 0), arcTo(1e5, 1e5, 1e5+3e-6, 5e4), corner(0, 1e5, 1e5)},
		{corner(0, 0, math.MaxFloat64), corner(1, 0, 5e-324), corner(0, 1, 0)},
		{corner(0, 0, 0), corner(1e-6, 0, 0), corner(1e-6, 1e-6, 1e-7)},
	} {
		f.Add(encode(items))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		items := decode(data)
		l, errs := Build(items)
		if (l == nil) == (errs == nil) {
			t.Fatalf("loop %v and errors %v", l, errs)
		}
		for _, e := range errs {
			if e.Vertex < 0 || e.Vertex >= max(1, len(items)) || e.What == "" {
				t.Errorf("error %+v of %d items", e, len(items))
			}
		}
		if l == nil {
			return
		}
		for i, e := range l {
			if e.Q != l[(i+1)%len(l)].P {
				t.Errorf("gap at %v", e.Q)
			}
			if !(math.Abs(e.Sweep) <= 4) || e.IsArc() && !(e.R > 0) {
				t.Errorf("edge %+v", e)
			}
		}
		if a := l.Area(); !(a >= 0) {
			t.Errorf("area %g", a)
		}
		selfPairs(l, func(i, j int) { // asked with half the tolerance, for rounding
			for _, p := range meet(&l[i], &l[j], Snap/2) {
				if !(j == i+1 && p.Dist(l[i].Q) <= 2*Snap || i == 0 && j == len(l)-1 && p.Dist(l[0].P) <= 2*Snap) {
					t.Errorf("edges %+v and %+v meet at %v", l[i], l[j], p)
				}
			}
		})
	})
}

// encode writes items for the fuzzer: a byte that says whether there is a via point (1) and how numbers are written (2: as
// they are, else in 1/64 mm, so that small changes make good shapes), then up to five numbers.
func encode(items []Vertex) []byte {
	var data []byte
	for _, v := range items {
		kind, xs := byte(0), []float64{v.P.X, v.P.Y, v.Round}
		if v.Via != nil {
			kind, xs = 1, append(xs, v.Via.X, v.Via.Y)
		}
		for _, x := range xs {
			if x*64 != math.Round(x*64) || math.Abs(x) > 500 {
				kind |= 2
			}
		}
		data = append(data, kind)
		for _, x := range xs {
			if kind&2 != 0 {
				data = binary.LittleEndian.AppendUint64(data, math.Float64bits(x))
			} else {
				data = binary.LittleEndian.AppendUint16(data, uint16(int16(x*64)))
			}
		}
	}
	return data
}

func decode(data []byte) []Vertex {
	var items []Vertex
	for len(data) > 0 && len(items) < 64 {
		kind, n, size := data[0], 3, 2
		if kind&1 != 0 {
			n = 5
		}
		if kind&2 != 0 {
			size = 8
		}
		if len(data) < 1+n*size {
			break
		}
		var x [5]float64
		for i := range n {
			if b := data[1+i*size:]; size == 8 {
				x[i] = math.Float64frombits(binary.LittleEndian.Uint64(b))
			} else {
				x[i] = float64(int16(binary.LittleEndian.Uint16(b))) / 64
			}
		}
		v := Vertex{P: Pt{x[0], x[1]}, Round: x[2]}
		if n == 5 {
			v.Via = &Pt{x[3], x[4]}
		}
		items, data = append(items, v), data[1+n*size:]
	}
	return items
}

// FuzzOverlay overlays two loops on a small grid, where everything coincides: areas add up and swapping the two changes
// nothing.
func FuzzOverlay(f *testing.F) {
	f.Add([]byte{0x00, 0x40, 0x44, 0x04}, []byte{0x22, 0x62, 0x66, 0x26}, byte(0))
	f.Add([]byte{0x00, 0x40, 0x44, 0x04}, []byte{0x00, 0x40, 0x44, 0x04}, byte(0x21))
	f.Add([]byte{0x00, 0x40, 0x44, 0x04}, []byte{0x40, 0x44, 0x80}, byte(0x12))
	f.Add([]byte{0x00, 0x40, 0x42, 0x22, 0x24, 0x04}, []byte{0x20, 0x42, 0x24, 0x02}, byte(0x55))
	f.Fuzz(func(t *testing.T, as, bs []byte, arcs byte) {
		a, b := gridLoop(as, arcs&15), gridLoop(bs, arcs>>4)
		if a == nil || b == nil {
			return
		}
		ra, rb := Region{a}, Region{b}
		ab, ba := Intersect(ra, rb), Intersect(rb, ra)
		onlyA, onlyB := Subtract(ra, rb), Subtract(rb, ra)
		tol := 1e-9 * (ra.Area() + rb.Area())
		close(t, "a", areaOf(ab)+areaOf(onlyA), ra.Area(), tol)
		close(t, "b", areaOf(ba)+areaOf(onlyB), rb.Area(), tol)
		close(t, "common", areaOf(ab), areaOf(ba), tol)
		checkPieces(t, "a", append(ab, onlyA...), true)
		checkPieces(t, "b", append(ba, onlyB...), true)
	})
}

// gridLoop reads a loop with corners on a 16 x 16 grid; bits of arcs make the first edges arcs that bulge by a quarter of
// the chord. Nil if it is none.
func gridLoop(data []byte, arcs byte) Loop {
	if len(data) > 24 {
		return nil
	}
	var items []Vertex
	for i, c := range data {
		v := Vertex{P: Pt{float64(c >> 4), float64(c & 15)}}
		if i > 0 && i < 5 && arcs>>(i-1)&1 == 1 {
			p := items[i-1].P
			via := p.Mid(v.P).Add(v.P.Sub(p).Left().Mul(-0.25))
			v.Via = &via
		}
		items = append(items, v)
	}
	l, errs := Build(items)
	if errs != nil {
		return nil
	}
	return l
}
