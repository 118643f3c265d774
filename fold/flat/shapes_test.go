package flat

import (
	"math"
	"math/rand/v2"
	"testing"
)

// move is a rigid motion: turned by Turn radians, then moved.
type move struct {
	Turn float64
	By   Pt
}

func (m move) pt(p Pt) Pt { return p.turned(m.Turn).Add(m.By) }

func (m move) region(r Region) Region {
	out := make(Region, len(r))
	for i, l := range r {
		for _, e := range l {
			e.P, e.Q, e.C = m.pt(e.P), m.pt(e.Q), m.pt(e.C)
			out[i] = append(out[i], e)
		}
	}
	return out
}

// polygon returns the loop through points x0 y0 x1 y1 ..., counter-clockwise.
func polygon(xy ...float64) Loop {
	var l Loop
	n := len(xy) / 2
	for i := range n {
		k := (i + 1) % n
		l = append(l, Line(Pt{xy[2*i], xy[2*i+1]}, Pt{xy[2*k], xy[2*k+1]}))
	}
	return l.CCW()
}

func box(x0, y0, x1, y1 float64) Loop { return polygon(x0, y0, x1, y0, x1, y1, x0, y1) }

func disc(x, y, d float64) Loop {
	l, errs := Circle(Pt{x, y}, d)
	if errs != nil {
		panic(errs)
	}
	return l
}

// star returns a random loop around at: straight, arcs bulging either way, or both. It may be refused: then nil.
func star(r *rand.Rand, at Pt, size float64, arcs bool) Loop {
	n := 3 + r.IntN(9)
	items := make([]Vertex, n)
	for i := range items {
		a := 2 * math.Pi * (float64(i) + 0.8*r.Float64()) / float64(n)
		s, c := math.Sincos(a)
		items[i].P = at.Add(Pt{c, s}.Mul(size * (0.3 + 0.7*r.Float64())))
	}
	for i := range items {
		p, q := items[(i+n-1)%n].P, items[i].P
		if arcs && r.IntN(2) == 0 {
			via := p.Mid(q).Add(q.Sub(p).Left().Mul(0.4*r.Float64() - 0.2))
			items[i].Via = &via
		} else if arcs && r.IntN(3) == 0 {
			items[i].Round = 0.1 * size * r.Float64()
		}
	}
	l, errs := Build(items)
	if errs != nil {
		return nil
	}
	return l
}

// columns returns a polygon of unit columns of whole heights on the grid: full of edges in line with others'.
func columns(r *rand.Rand, at Pt, n, height int) Loop {
	xy := []float64{at.X + float64(n), at.Y, at.X, at.Y}
	last := 0.0
	for i := range n {
		h := float64(1 + r.IntN(height))
		if h != last {
			xy = append(xy, at.X+float64(i), at.Y+h)
		}
		xy = append(xy, at.X+float64(i+1), at.Y+h)
		last = h
	}
	var out []float64 // without points inside straight edges
	for k := 0; k+1 < len(xy); k += 2 {
		if m := len(out); m >= 4 && out[m-1] == xy[k+1] && out[m-3] == xy[k+1] {
			out[m-2] = xy[k]
			continue
		}
		out = append(out, xy[k], xy[k+1])
	}
	if first := len(out); out[first-2] == out[0] && out[first-1] == out[1] {
		out = out[:first-2]
	}
	return polygon(out...)
}

// tabbed returns a rounded rectangle on the grid.
func tabbed(r *rand.Rand, at Pt, n int) Loop {
	w, h := float64(1+r.IntN(n)), float64(1+r.IntN(n))
	l, errs := Rect(at.X, at.Y, at.X+w, at.Y+h, 0.5*float64(r.IntN(2))*min(w, h))
	if errs != nil {
		panic(errs)
	}
	return l
}

// holed returns a piece with holes on the grid that may touch each other or the border in points or along edges.
func holed(r *rand.Rand, outer Loop, n int) Region {
	best := Region{outer}
	for range n {
		at := Pt{float64(r.IntN(8)), float64(r.IntN(8))}
		var hole Loop
		switch r.IntN(3) {
		case 0:
			hole = box(at.X, at.Y, at.X+float64(1+r.IntN(2)), at.Y+float64(1+r.IntN(2)))
		case 1:
			hole = disc(at.X, at.Y, float64(1+r.IntN(2)))
		case 2:
			hole = polygon(at.X+0.5, at.Y, at.X+1, at.Y+0.5, at.X+0.5, at.Y+1, at.X, at.Y+0.5)
		}
		if ps := Subtract(best, Region{hole}); len(ps) > 0 {
			best = ps[r.IntN(len(ps))]
		}
	}
	return best
}

// shaken returns l with every point moved by up to d; nil if it then touches itself.
func shaken(r *rand.Rand, l Loop, d float64) Loop {
	items := make([]Vertex, len(l))
	for i, e := range l {
		by := Pt{2*r.Float64() - 1, 2*r.Float64() - 1}.Mul(d)
		if r.IntN(3) == 0 {
			by = Pt{}
		}
		items[i].P = e.Q.Add(by)
		if e.IsArc() {
			via := e.Mid()
			items[i].Via = &via
		}
	}
	out, errs := Build(items)
	if errs != nil {
		return nil
	}
	return out
}

// regionsOf returns all loops of pieces, and allEdges all edges.
func regionsOf(ps []Region) Region {
	var out Region
	for _, p := range ps {
		out = append(out, p...)
	}
	return out
}

func areaOf(ps []Region) float64 {
	sum := 0.0
	for _, p := range ps {
		sum += p.Area()
	}
	return sum
}

func lenOf(r Region) float64 {
	sum := 0.0
	for _, l := range r {
		sum += l.Len()
	}
	return sum
}

// near reports whether p lies within d of an edge of r.
func near(r Region, p Pt, d float64) bool {
	for _, l := range r {
		if l.Distance(p) <= d {
			return true
		}
	}
	return false
}

// checkPieces demands that every loop closes bit for bit, that each piece has one outer loop which comes first, and that
// no loop crosses itself or another by more than Snap; with strict, that edges of all pieces meet at their ends only.
func checkPieces(t testing.TB, what string, ps []Region, strict bool) {
	t.Helper()
	for _, p := range ps {
		for i, l := range p {
			if a := l.Area(); (a > 0) != (i == 0) || a == 0 {
				t.Errorf("%s: loop %d of a piece has area %g", what, i, a)
			}
			for k, e := range l {
				if next := l[(k+1)%len(l)]; e.Q != next.P {
					t.Errorf("%s: gap from %v to %v", what, e.Q, next.P)
				}
			}
		}
	}
	edges := regionsOf(ps).Edges()
	selfPairs(edges, func(i, j int) {
		e, f := edges[i], edges[j]
		for _, p := range meet(&e, &f, Snap) {
			if min(p.Dist(e.P), p.Dist(e.Q)) <= 3*Snap && min(p.Dist(f.P), p.Dist(f.Q)) <= 3*Snap {
				continue
			}
			if strict || crosses(e, f, p) && crosses(f, e, p) {
				t.Errorf("%s: edges meet away from their ends at (%.9f, %.9f): %+v, %+v", what, p.X, p.Y, e, f)
			}
		}
	})
}

// crosses reports whether e goes from one side of f to the other at p, by more than Snap on both.
func crosses(e, f Edge, p Pt) bool {
	t, _ := e.on(p, Snap)
	before := f.side(e.At(t * 0.99))
	after := f.side(e.At(t + 0.01*(1-t)))
	return before*after < 0 && min(math.Abs(before), math.Abs(after)) > Snap
}

// side returns the distance of p from the line or circle that carries e, positive on the left of a line.
func (e Edge) side(p Pt) float64 {
	if e.IsArc() {
		return p.Dist(e.C) - e.R
	}
	return e.Tangent(0).Cross(p.Sub(e.P))
}

// checkOverlay checks both overlays of two regions: areas add up within slack (mm2), pieces are sound, and random points
// lie in exactly the pieces in which they should. It returns the pieces.
func checkOverlay(t *testing.T, r *rand.Rand, a, b Region, slack float64, strict bool) (both, only []Region) {
	t.Helper()
	both, only = Intersect(a, b), Subtract(a, b)
	all, got := a.Area(), areaOf(both)+areaOf(only)
	if math.Abs(got-all) > 1e-9*all+slack {
		t.Errorf("common %.12f and rest %.12f add up to %.12f of %.12f", areaOf(both), areaOf(only), got, all)
	}
	checkPieces(t, "common and rest", append(append([]Region(nil), both...), only...), strict)
	bb := a.Box().Join(b.Box())
	border := append(append(Region(nil), a...), b...)
	for range 20 {
		p := Pt{bb.Min.X + r.Float64()*(bb.Max.X-bb.Min.X), bb.Min.Y + r.Float64()*(bb.Max.Y-bb.Min.Y)}
		if near(border, p, 2e-5) {
			continue
		}
		inA, inB := a.Contains(p), b.Contains(p)
		if n, want := holders(both, p), count(inA && inB); n != want {
			t.Errorf("%v lies in %d common pieces, want %d", p, n, want)
		}
		if n, want := holders(only, p), count(inA && !inB); n != want {
			t.Errorf("%v lies in %d pieces of the rest, want %d", p, n, want)
		}
	}
	return both, only
}

func count(v bool) int {
	if v {
		return 1
	}
	return 0
}

func holders(ps []Region, p Pt) int {
	n := 0
	for _, r := range ps {
		n += count(r.Contains(p))
	}
	return n
}
