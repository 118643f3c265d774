package proximity

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
)

// nastySoup returns up to 120 triangles: whole ones, needles, points, doubles, twins back to back, neighbours with common edges,
// and many in a few planes, some of them parallel to the axes.
func nastySoup(r *rand.Rand) soup {
	s := random(r, 1+r.IntN(60), math.Pow(10, 1.5*r.Float64()-1))
	for range r.IntN(60) {
		t := s.tris[r.IntN(len(s.tris))]
		p, q := s.points[t[0]], s.points[t[1]]
		switch r.IntN(6) {
		case 0:
			t = [3]int32{t[0], t[1], s.point(along(p, r.Float64(), sub(q, p)))}
		case 1:
			t = [3]int32{t[0], t[0], t[r.IntN(2)]}
		case 2:
			t[1], t[2] = t[2], t[1]
		case 3: // in its plane
			t = [3]int32{t[1], t[0], s.point(along(q, r.Float64()*2, sub(p, s.points[t[2]])))}
		case 4: // on a grid
			k, h := r.IntN(3), float64(r.IntN(4))
			for i := range t {
				c := vec{float64(r.IntN(10)), float64(r.IntN(10)), float64(r.IntN(10))}
				c[k] = h
				t[i] = s.point(c)
			}
		}
		s.tris = append(s.tris, t)
	}
	return s
}

// nastyMotion returns a motion: any, or one that keeps planes on each other, or puts a point of a on one of b.
func nastyMotion(r *rand.Rand, a, b soup) mgl64.Mat4 {
	switch r.IntN(4) {
	case 0:
		return here
	case 1:
		return mgl64.Translate3D(float64(r.IntN(5)-2), float64(r.IntN(5)-2), 0.01*float64(r.IntN(3)))
	case 2:
		m := tumble(r, 0)
		n := rigidOf(m)
		d := sub(b.points[r.IntN(len(b.points))], n.apply(a.points[r.IntN(len(a.points))]))
		return mgl64.Translate3D(d[0], d[1], d[2]).Mul4(m)
	}
	return tumble(r, 9)
}

// nastyMask returns a set with a share of n triangles, or none, and the others.
func nastyMask(r *rand.Rand, n int) (Mask, []int32) {
	if r.IntN(3) == 0 {
		return nil, numbersTo(n)
	}
	m, share := NewMask(n), r.Float64()*1.1
	for i := range int32(n) {
		if r.Float64() < share {
			m.Add(i)
		}
	}
	return m, slices.DeleteFunc(numbersTo(n), m.Has)
}

func numbersTo(n int) []int32 {
	out := make([]int32, n)
	for i := range out {
		out[i] = int32(i)
	}
	return out
}

// only returns the surface of some triangles.
func (s soup) only(numbers []int32) soup {
	out := soup{points: s.points}
	for _, i := range numbers {
		out.tris = append(out.tris, s.tris[i])
	}
	return out
}

// One query after another about nasty surfaces, carried from placing to placing, with some triangles left out, against all pairs.
func TestNastySurfaces(t *testing.T) {
	for seed := range uint64(150) {
		r := rand.New(rand.NewPCG(seed, 77))
		a, b := nastySoup(r), nastySoup(r)
		q := NewQuery(a.surface(), b.surface())
		var maskA, maskB Mask
		keptA, keptB := numbersTo(len(a.tris)), numbersTo(len(b.tris))
		for step := range 6 {
			if step%2 == 1 {
				maskA, keptA = nastyMask(r, len(a.tris))
				maskB, keptB = nastyMask(r, len(b.tris))
				q.PassOver(maskA, maskB)
			}
			m, n := nastyMotion(r, a, b), here
			if r.IntN(2) == 0 {
				n = tumble(r, 20)
				m = n.Mul4(m)
			}
			q.Place(m, n)
			checkQuery(t, seed, q, a.moved(m), b.moved(n), keptA, keptB)
		}
	}
}

// checkQuery asks all that a query answers about two placed surfaces of which some triangles count.
func checkQuery(t *testing.T, seed uint64, q *Query, a, b soup, keptA, keptB []int32) {
	t.Helper()
	want, hits := all(a.only(keptA), b.only(keptB))
	for i, h := range hits {
		hits[i] = [2]int32{keptA[h[0]], keptB[h[1]]}
	}
	for _, limit := range []float64{want - 1e-8, math.Inf(1), want + 1e-8} {
		got, ok := q.Distance(limit)
		if ok != (want < limit) || ok && !close2(got.D, want, Tolerance) {
			t.Fatalf("seed %d: %v %v below %v, comparing all %v", seed, got.D, ok, limit, want)
		}
		if ok {
			checkPoints(t, a, b, got)
			if !slices.Contains(keptA, got.A) || !slices.Contains(keptB, got.B) {
				t.Fatalf("seed %d: triangles %d and %d are left out", seed, got.A, got.B)
			}
		}
		if q.Within(want+1e-8) != (len(keptA) > 0 && len(keptB) > 0) || want > 1e-7 && q.Within(want-1e-8) {
			t.Fatalf("seed %d: within a distance of %v", seed, want)
		}
	}
	if q.Touching() != (want <= Contact) {
		t.Fatalf("seed %d: touching %v at a distance of %v", seed, q.Touching(), want)
	}
	if list := q.Contacts(nil); !slices.Equal(list, hits) {
		t.Fatalf("seed %d: %d contacts, comparing all %d", seed, len(list), len(hits))
	}
}

// Surfaces may be asked from several goroutines at once, with the same answers as from one.
func TestSharedSurface(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	a, b := ball(2, 40).welded().surface(), block(vec{-3, -2, -4}, vec{3, 2, 4}, 9).welded().surface()
	var at []mgl64.Mat4
	var want []reply
	for range 20 {
		at = append(at, tumble(r, 6))
		want = append(want, replyAt(a, b, at[len(at)-1]))
	}
	var all sync.WaitGroup
	for range 4 {
		c, d := New(a.points, a.tris, 0), b // one made here, whose rims are yet to be found by two
		for range 2 {
			all.Go(func() {
				for i, m := range at {
					if got := replyAt(c, d, m); got != want[i] {
						t.Errorf("placing %d: %v, want %v", i, got, want[i])
					}
				}
			})
		}
	}
	all.Wait()
}

// reply is what a fresh query says, and how often a surface winds about a point.
type reply struct {
	n       Nearest
	winding float64
}

func replyAt(a, b *Surface, m mgl64.Mat4) reply {
	q := NewQuery(a, b)
	q.Place(m, here)
	n, _ := q.Distance(math.Inf(1))
	return reply{n, a.Winding(m.Col(3).Vec3())}
}
