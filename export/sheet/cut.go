package sheet

import (
	"cmp"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/mesh"
	"foldfit/mesh/clash"
)

// cut is a section through a gap: a plane through both of its points.
type cut struct {
	letter string
	gap    clash.Gap
	origin mgl64.Vec3
	camera camera // its right and up lie in the plane
}

// mostCuts is how many sections the page has at most.
const mostCuts = 3

// wide is how much more (mm) than is required a gap may have and still have a section, beside the worst of all.
const wide = 5.0

// worstGaps returns sections through the gaps of the posture shown that keep least of what is required, each pair once.
func (p *page) worstGaps() []cut {
	gaps := slices.DeleteFunc(slices.Clone(p.run.Gaps), func(g clash.Gap) bool {
		return !g.Judged || g.Posture != p.run.Posture || g.Seat != "" && g.Rule == ""
	})
	slices.SortStableFunc(gaps, func(a, b clash.Gap) int { return cmp.Compare(a.Gap-a.Required, b.Gap-b.Required) })
	var out []cut
	for _, g := range gaps {
		if len(out) == mostCuts {
			break
		}
		if len(out) > 0 && g.Gap > g.Required+wide || slices.ContainsFunc(out, func(c cut) bool { return c.gap.Between == g.Between }) {
			continue
		}
		out = append(out, p.cutAt(string(rune('A'+len(out))), g))
	}
	return out
}

// cutAt returns the section through a gap: of the planes through both of its points the first that cuts both bodies there, beginning with the
// vertical one, or where the gap is vertical the one across the first bend.
func (p *page) cutAt(letter string, g clash.Gap) cut {
	z := mgl64.Vec3{0, 0, 1}
	along := z
	if d := g.At[1].Sub(g.At[0]); d.Len() > 1e-6 {
		along = d.Normalize()
	}
	out := cut{letter: letter, gap: g, origin: g.At[0].Add(g.At[1]).Mul(0.5)}
	var first *cut
	for _, second := range []mgl64.Vec3{z, p.across(), {1, 0, 0}, {0, 1, 0}, {1, 1, 1}, {1, -1, 1}, {1, 1, -1}, {-1, 1, 1}} {
		n := along.Cross(second)
		if n.Len() < 0.4*second.Len() {
			continue
		}
		out.camera = plane(along, n.Normalize())
		if p.cutsBoth(&out) {
			return out
		}
		if first == nil {
			c := out
			first = &c
		}
	}
	return *first
}

// plane returns the view of a plane from its normal n: the vertical upward, in a level plane the direction along it.
func plane(along, n mgl64.Vec3) camera {
	up := mgl64.Vec3{0, 0, 1}
	if math.Abs(up.Dot(n)) > 0.9 {
		up = along
	}
	up = up.Sub(n.Mul(up.Dot(n))).Normalize()
	return camera{right: up.Cross(n), up: up, toward: n}
}

// cutsBoth reports whether a section cuts both bodies at the points between which the gap was measured.
func (p *page) cutsBoth(c *cut) bool {
	for i, name := range c.gap.Between {
		at, _ := c.camera.project(c.gap.At[i].Sub(c.origin))
		found := false
		for _, list := range [][]mesh.Mesh{p.solid.bodies, p.solid.walls} {
			for k := range list {
				if list[k].Name != name {
					continue
				}
				for _, l := range slice(&list[k], c.origin, c.camera) {
					found = found || l.Distance(at) < 0.05
				}
			}
		}
		if !found {
			return false
		}
	}
	return true
}

// across returns the direction across the first bend, in the housing's frame.
func (p *page) across() mgl64.Vec3 {
	t := p.run.Tree
	if len(t.Bends) == 0 {
		return mgl64.Vec3{1, 0, 0}
	}
	b := &t.Bends[0]
	m := t.HousingFromBoard().Mul4(p.run.Folded.BoardFromFlat(b.Parent))
	return fold.Turn(m, mgl64.Vec3{b.Dir.X, b.Dir.Y, 0})
}

// slice returns what a plane through the origin cuts of a closed mesh, in the plane's coordinates (mm): outer loops
// counter-clockwise, holes clockwise. Exact for the mesh but for rounding. A point on the plane counts as above it.
func slice(m *mesh.Mesh, origin mgl64.Vec3, c camera) flat.Region {
	height := make([]float64, len(m.Points))
	for i, p := range m.Points {
		height[i] = p.Sub(origin).Dot(c.toward)
	}
	next := map[span]span{}
	var starts []span
	for _, t := range m.Triangles {
		if down, up, cut := crossed(t, height); cut {
			next[down] = up
			starts = append(starts, down)
		}
	}
	at := func(s span) flat.Pt {
		a, b := m.Points[s[0]], m.Points[s[1]]
		p, _ := c.project(a.Add(b.Sub(a).Mul(height[s[0]] / (height[s[0]] - height[s[1]]))).Sub(origin))
		return p
	}
	var out flat.Region
	done := map[span]bool{}
	for _, s := range starts {
		var pts []flat.Pt
		for open := true; open && !done[s]; s, open = next[s], has(next, s) { // where a mesh is open the loop is closed by a straight line
			done[s] = true
			if p := at(s); len(pts) == 0 || p.Dist(pts[len(pts)-1]) > flat.Snap {
				pts = append(pts, p)
			}
		}
		if len(pts) > 1 && pts[0].Dist(pts[len(pts)-1]) <= flat.Snap {
			pts = pts[:len(pts)-1]
		}
		if len(pts) > 2 {
			out = append(out, draw.Polygon(pts...))
		}
	}
	return out
}

// span is an edge of a mesh by its two points, the lower number first.
type span [2]int32

func has(m map[span]span, s span) bool { _, found := m[s]; return found }

// crossed returns the edges of a triangle on which its border goes down through the plane and comes up again: seen from above the cut
// runs from the first to the second, with the body to its left.
func crossed(t [3]int32, height []float64) (down, up span, cut bool) {
	for k := range 3 {
		a, b := t[k], t[(k+1)%3]
		switch above, goes := height[a] >= 0, height[b] >= 0; {
		case above && !goes:
			down, cut = span{min(a, b), max(a, b)}, true
		case !above && goes:
			up = span{min(a, b), max(a, b)}
		}
	}
	return down, up, cut
}
