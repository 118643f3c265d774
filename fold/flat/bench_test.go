package flat

import (
	"math"
	"testing"
)

func BenchmarkBuild10000(b *testing.B) {
	l := wavy(10000)[0]
	items := make([]Vertex, len(l))
	for i, e := range l {
		items[i].P = e.Q
	}
	for b.Loop() {
		if _, errs := Build(items); errs != nil {
			b.Fatal(errs)
		}
	}
}

func benchOverlay(b *testing.B, r, s Region) {
	for b.Loop() {
		if len(Intersect(r, s)) == 0 || len(Subtract(r, s)) == 0 {
			b.Fatal("nothing")
		}
	}
}

// Each of these is an Intersect and a Subtract.
func BenchmarkOverlay10000ByRect(b *testing.B) {
	benchOverlay(b, wavy(10000), Region{box(20, -5, 50, 60)})
}
func BenchmarkOverlay400HolesByRect(b *testing.B) {
	benchOverlay(b, perforated(20), Region{box(20, -5, 50, 60)})
}
func BenchmarkOverlay10000ByItsMove(b *testing.B) {
	benchOverlay(b, wavy(10000), move{0, Pt{0.013, 0.1}}.region(wavy(10000)))
}
func BenchmarkOverlaySmall(b *testing.B) {
	benchOverlay(b, Region{box(0, 0, 40, 10)}, Region{box(10, -1, 50, 8)})
}

func benchCut(b *testing.B, r Region, strips []Strip) {
	for b.Loop() {
		c := NewCutter(r, strips)
		var all []StripPiece
		for i := range strips {
			ps, err := c.Pieces(i)
			if err != nil {
				b.Fatal(err)
			}
			all = append(all, ps...)
		}
		c.Take(all)
		for i := range all {
			c.Taken(i)
		}
		if _, err := c.Rests(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCut10000By3(b *testing.B) {
	benchCut(b, wavy(10000), []Strip{stripAt(Pt{30, 25}, 1.4, 2), stripAt(Pt{60, 25}, 1.6, 2), stripAt(Pt{80, 25}, math.Pi/2, 2)})
}

func BenchmarkCut10000AlongTeeth(b *testing.B) {
	benchCut(b, wavy(10000), []Strip{stripAt(Pt{10, 0.15}, 0, 0.1)})
}

func BenchmarkCut400HolesBy2(b *testing.B) {
	s := stripAt(Pt{50, 50}, 17.3*math.Pi/180, 3.1)
	benchCut(b, perforated(20), []Strip{s, {s.At.Add(s.U.Left().Mul(20)), s.U, 2.2}})
}

func BenchmarkInside10000(b *testing.B) {
	r := wavy(10000)
	for b.Loop() {
		r.Inside()
	}
}

func BenchmarkContains10000(b *testing.B) {
	r := wavy(10000)
	for b.Loop() {
		r.Contains(Pt{40, 20})
	}
}
