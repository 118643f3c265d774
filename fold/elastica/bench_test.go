package elastica

import "testing"

func BenchmarkFree(b *testing.B) {
	for _, w := range []struct {
		name string
		h    Hinge
	}{
		{"U", Hinge{180, 1.58, 0.5, 0.5}}, {"right angle", Hinge{90, 1, 2, 2}}, {"uneven", Hinge{120, 1, 0.3, 8}}, {"shallow", Hinge{5, 2, 3, 1}}, {"loop", Hinge{270, 1, 3, 6}},
	} {
		b.Run(w.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := w.h.Free(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkSolve(b *testing.B) {
	for b.Loop() {
		if _, err := (Clamps{0.3, 0.4, 130, 1}).Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPoints(b *testing.B) {
	s, err := Clamps{0.3, 0.4, 130, 1}.Solve()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		s.Points(200)
	}
}

func BenchmarkSymmetric(b *testing.B) {
	for b.Loop() {
		if _, err := ClampedU(1, 2); err != nil {
			b.Fatal(err)
		}
	}
}
