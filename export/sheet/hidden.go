package sheet

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/flat"
	"foldfit/mesh"
)

// camera is a parallel projection: unit directions to the right and up on the page, and toward the viewer.
type camera struct{ right, up, toward mgl64.Vec3 }

// The views. Third-angle: the top view stands above the front view, the view from the right to its right.
var (
	fromFront = camera{mgl64.Vec3{1, 0, 0}, mgl64.Vec3{0, 0, 1}, mgl64.Vec3{0, -1, 0}}
	fromTop   = camera{mgl64.Vec3{1, 0, 0}, mgl64.Vec3{0, 1, 0}, mgl64.Vec3{0, 0, 1}}
	fromRight = camera{mgl64.Vec3{0, 1, 0}, mgl64.Vec3{0, 0, 1}, mgl64.Vec3{1, 0, 0}}
	isometric = camera{
		mgl64.Vec3{math.Sqrt2 / 2, math.Sqrt2 / 2, 0},
		mgl64.Vec3{-1, 1, 2}.Mul(1 / math.Sqrt(6)),
		mgl64.Vec3{1, -1, 1}.Mul(1 / math.Sqrt(3)),
	}
)

// project returns where a point stands on the page, in mm at full size, and how near it is to the viewer.
func (c camera) project(p mgl64.Vec3) (flat.Pt, float64) {
	return flat.Pt{X: p.Dot(c.right), Y: p.Dot(c.up)}, p.Dot(c.toward)
}

// cover is a triangle that hides what is behind it: its corners on the page, and its depth there as a plane.
type cover struct {
	p      [3]flat.Pt
	at     flat.Pt // a point where the depth is base
	base   float64
	slope  flat.Pt // change of depth along x and y
	behind float64 // how far a line must lie behind it to be hidden, mm
}

// screen holds all triangles of a view in the fields of a grid.
type screen struct {
	covers []cover
	min    flat.Pt
	cell   float64
	cols   int
	cells  [][]int32
}

// newScreen projects meshes. Triangles seen edge-on hide nothing.
func newScreen(c camera, list []mesh.Mesh) *screen {
	s := &screen{}
	box := flat.EmptyBox()
	for i := range list {
		m := &list[i]
		for _, t := range m.Triangles {
			if x, ok := c.cover(m.Points[t[0]], m.Points[t[1]], m.Points[t[2]]); ok {
				s.covers = append(s.covers, x)
				box = box.With(x.p[0]).With(x.p[1]).With(x.p[2])
			}
		}
	}
	if len(s.covers) == 0 {
		return s
	}
	size := box.Max.Sub(box.Min)
	s.min, s.cell = box.Min, max(size.X, size.Y, 1e-3)/128
	s.cols = int(size.X/s.cell) + 1
	s.cells = make([][]int32, s.cols*(int(size.Y/s.cell)+1))
	for i := range s.covers {
		p := &s.covers[i].p
		b := flat.EmptyBox().With(p[0]).With(p[1]).With(p[2])
		for y := s.index(b.Min.Y - s.min.Y); y <= s.index(b.Max.Y-s.min.Y); y++ {
			for x := s.index(b.Min.X - s.min.X); x <= s.index(b.Max.X-s.min.X); x++ {
				if k := y*s.cols + x; x < s.cols && k < len(s.cells) {
					s.cells[k] = append(s.cells[k], int32(i))
				}
			}
		}
	}
	return s
}

// index returns the number of a field along one axis.
func (s *screen) index(v float64) int { return int(math.Floor(v / s.cell)) }

// cover returns a triangle of the screen; false for one that is seen edge-on.
func (c camera) cover(a, b, d mgl64.Vec3) (cover, bool) {
	n := b.Sub(a).Cross(d.Sub(a))
	length := n.Len()
	face := n.Dot(c.toward)
	if length == 0 || math.Abs(face) < 1e-4*length {
		return cover{}, false
	}
	var x cover
	var depth float64
	x.p[0], depth = c.project(a)
	x.p[1], _ = c.project(b)
	x.p[2], _ = c.project(d)
	x.at, x.base = x.p[0], depth
	x.slope = flat.Pt{X: -n.Dot(c.right) / face, Y: -n.Dot(c.up) / face}
	x.behind = 3*chord + 2*chord*x.slope.Len()
	return x, true
}

// hides reports whether a point of the page at a depth lies behind some triangle.
func (s *screen) hides(p flat.Pt, depth float64) bool {
	x, y := s.index(p.X-s.min.X), s.index(p.Y-s.min.Y)
	k := y*s.cols + x
	if x < 0 || y < 0 || x >= s.cols || k >= len(s.cells) {
		return false
	}
	for _, i := range s.cells[k] {
		if c := &s.covers[i]; c.base+p.Sub(c.at).Dot(c.slope) > depth+c.behind && c.holds(p) {
			return true
		}
	}
	return false
}

// holds reports whether p lies in the triangle, border included.
func (c *cover) holds(p flat.Pt) bool {
	const slack = 1e-9
	a, b, d := side(c.p[0], c.p[1], p), side(c.p[1], c.p[2], p), side(c.p[2], c.p[0], p)
	return a >= -slack && b >= -slack && d >= -slack || a <= slack && b <= slack && d <= slack
}

func side(a, b, p flat.Pt) float64 { return b.Sub(a).Cross(p.Sub(a)) }

// visible returns the stretches of a curve that nothing hides, as chains on the page at full size. pace is how far apart (mm) it is
// looked at; where it goes out of sight is found to a thousandth of that.
func (s *screen) visible(c camera, line curve, pace float64) [][]flat.Pt {
	var out [][]flat.Pt
	var run []flat.Pt // the stretch that is still in sight
	for i := 0; i+1 < len(line.points); i++ {
		p, _ := c.project(line.points[i])
		q, _ := c.project(line.points[i+1])
		list := s.stretches(c, line.points[i], line.points[i+1], int(math.Ceil(p.Dist(q)/pace)))
		if len(run) > 0 && (len(list) == 0 || list[0][0] > 0) {
			out, run = append(out, run), nil
		}
		for _, u := range list {
			if len(run) == 0 {
				run = []flat.Pt{p.Add(q.Sub(p).Mul(u[0]))}
			}
			run = append(run, p.Add(q.Sub(p).Mul(u[1])))
			if u[1] < 1 {
				out, run = append(out, run), nil
			}
		}
	}
	if len(run) > 0 {
		out = append(out, run)
	}
	return out
}

// stretches returns from where to where, as shares of its length, the line from a to b is in sight, looking in the middle of n parts.
func (s *screen) stretches(c camera, a, b mgl64.Vec3, n int) [][2]float64 {
	seen := func(u float64) bool {
		p, depth := c.project(a.Add(b.Sub(a).Mul(u)))
		return !s.hides(p, depth)
	}
	var out [][2]float64
	n = max(1, n)
	was, last := false, 0.0
	for k := range n {
		u := (float64(k) + 0.5) / float64(n)
		now := seen(u)
		edge := 0.0
		if k > 0 && now != was {
			edge = border(seen, last, u)
		}
		switch {
		case now && !was:
			out = append(out, [2]float64{edge, 1})
		case !now && was:
			out[len(out)-1][1] = edge
		}
		was, last = now, u
	}
	return out
}

// border returns where between lo and hi something changes.
func border(seen func(float64) bool, lo, hi float64) float64 {
	first := seen(lo)
	for range 10 {
		if mid := (lo + hi) / 2; seen(mid) == first {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}
