package proximity

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
)

// pairsOf are the surfaces that benchmarks compare.
var pairsOf = []struct {
	name string
	a, b func() soup
	at   mgl64.Mat4 // of b
}{
	{"5k_100k", board5k, house100k, here},
	{"50k_100k", board50k, house100k, here},
	{"50k_1M", board50k, house1m, here},
	{"50k_1M_turned", board50k, turned1m, turned.Transpose()},
	{"50k_1M_rough", board50k, rough1m, here},
}

func BenchmarkBuild(b *testing.B) {
	for _, c := range []struct {
		name string
		s    func() soup
	}{{"12", block12}, {"200", ball200}, {"50k", board50k}, {"100k", house100k}, {"1M", house1m}, {"1M_turned", turned1m}} {
		b.Run(c.name, func(b *testing.B) {
			s := c.s()
			b.ReportAllocs()
			for b.Loop() {
				s.surface()
			}
		})
	}
}

// Cold: no pair is known; the next placing is never the last one.
func BenchmarkDistance(b *testing.B) {
	for _, c := range pairsOf {
		var q *Query
		for _, p := range poses {
			b.Run(c.name+"/"+p.name, func(b *testing.B) {
				if q == nil {
					q = NewQuery(c.a().surface(), c.b().surface())
				}
				for b.Loop() {
					q.Forget()
					q.Place(p.m, c.at)
					q.Distance(math.Inf(1))
				}
			})
		}
	}
}

func BenchmarkDistanceSeeded(b *testing.B) {
	for _, c := range pairsOf {
		var q *Query
		for _, p := range poses[2:6] {
			b.Run(c.name+"/"+p.name, func(b *testing.B) {
				if q == nil {
					q = NewQuery(c.a().surface(), c.b().surface())
				}
				for b.Loop() {
					q.Place(p.m, c.at)
					q.Distance(math.Inf(1))
				}
			})
		}
	}
}

func BenchmarkBore(b *testing.B) {
	for _, c := range []struct {
		name string
		bore func() soup
	}{{"50k_100k", bore100k}, {"50k_1M", bore1m}} {
		var q *Query
		for _, p := range bores {
			for _, kind := range []string{"cold", "seeded", "touching"} {
				b.Run(c.name+"/"+p.name+"/"+kind, func(b *testing.B) {
					if q == nil {
						q = NewQuery(bend50k().surface(), c.bore().surface())
					}
					for b.Loop() {
						if q.Place(p.m, here); kind == "cold" {
							q.Forget()
						}
						if kind == "touching" {
							q.Touching()
						} else {
							q.Distance(math.Inf(1))
						}
					}
				})
			}
		}
	}
}

func BenchmarkTouching(b *testing.B) {
	for _, c := range pairsOf[1:3] {
		var q *Query
		for _, p := range append(poses[2:6:6], sunk...) {
			b.Run(c.name+"/"+p.name, func(b *testing.B) {
				if q == nil {
					q = NewQuery(c.a().surface(), c.b().surface())
				}
				for b.Loop() {
					q.Forget()
					q.Place(p.m, c.at)
					q.Touching()
				}
			})
		}
	}
}

func BenchmarkContacts(b *testing.B) {
	for _, c := range pairsOf[1:3] {
		var q *Query
		for _, p := range sunk {
			b.Run(c.name+"/"+p.name, func(b *testing.B) {
				if q == nil {
					q = NewQuery(c.a().surface(), c.b().surface())
				}
				var hits [][2]int32
				for b.Loop() {
					q.Place(p.m, c.at)
					hits = q.Contacts(hits[:0])
				}
				b.ReportMetric(float64(len(hits)), "pairs")
			})
		}
	}
}

// Small surfaces in random poses, as a board's parts meet each other.
func BenchmarkSmall(b *testing.B) {
	r := rand.New(rand.NewPCG(31, 32))
	soups := someSurfaces(r)
	var queries []*Query
	var at []mgl64.Mat4
	for i := range 64 {
		queries = append(queries, NewQuery(soups[i%8].surface(), soups[i/8].surface()))
		at = append(at, tumble(r, 9))
	}
	i := 0
	for b.Loop() {
		q := queries[i%64]
		q.Forget()
		q.Place(at[i%64], here)
		q.Distance(math.Inf(1))
		i++
	}
}
