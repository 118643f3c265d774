package clash

import (
	"cmp"
	"slices"
)

const (
	mostFaces    = 32 // planes of each body that are looked at for pockets, the largest first
	mostWalls    = 16 // pairs of planes to part, the nearest first
	mostCorners  = 80 // corners that are tried
	opposite     = -sameTurn
	mostAskew    = 0.999 // cosine between two planes from which on they make no corner
	beyondCorner = 4     // times Touch: how far beyond a corner a body may come clear
)

// intoPocket returns a way out that is shorter than the best so far if there is one into a corner between faces of b that a
// overlaps, else the best: a post that sits askew in its hole comes free along neither of two walls, but along both at once.
// On the way there it may be stuck in other places until the corner is reached.
func (m *mover) intoPocket(best walk) walk {
	cuts := m.walls(best.last.depth)
	var corners []vec
	add := func(s vec, ok bool) {
		if l := length(s); ok && l > hair && l < best.last.depth-hair {
			corners = append(corners, s)
		}
	}
	for i := range cuts {
		for j := range i {
			if c := dot(cuts[i].n, cuts[j].n); c > mostAskew || c < -mostAskew {
				continue
			}
			add(foot(cuts[i], cuts[j], cut{n: unit(cross(cuts[i].n, cuts[j].n))}))
			for k := range j {
				add(foot(cuts[i], cuts[j], cuts[k]))
			}
		}
	}
	slices.SortStableFunc(corners, func(a, b vec) int { return cmp.Compare(length(a), length(b)) })
	for _, s := range corners[:min(len(corners), mostCorners)] {
		w := walk{view: newView(unit(s)), run: length(s) - m.reach}
		if m.advance(&w, length(s)+beyondCorner*Touch) && w.last.depth < best.last.depth-hair {
			return m.descend(w)
		}
	}
	return best
}

// walls returns the cuts by which faces of a that lie beyond faces of b opposite to them come out again, those of less than
// most, the nearest first.
func (m *mover) walls(most float64) []cut {
	var as, bs []int32
	for _, p := range m.cross {
		as, bs = append(as, p[0]), append(bs, p[1])
	}
	near := m.a.bounds()
	own := m.a.planes(append(distinct(as), thinned(m.a.around(m.b.bounds()))...))
	var cuts []cut
	for _, q := range m.b.planes(append(distinct(bs), thinned(m.b.around(near))...)) {
		for _, p := range own {
			if h := q.h + p.h; dot(p.n, q.n) < opposite && h > hair && h < most {
				cuts = append(cuts, cut{q.n, h})
			}
		}
	}
	slices.SortStableFunc(cuts, func(a, b cut) int { return cmp.Compare(a.h, b.h) })
	cuts = slices.CompactFunc(cuts, func(a, b cut) bool { return a.same(&b) })
	return cuts[:min(len(cuts), mostWalls)]
}

// planes returns the planes of some faces, those of the largest area first, as unit normals with their heights.
func (s *shape) planes(tris []int32) []cut {
	type face struct {
		cut
		area float64
	}
	var found []face
	for _, i := range tris {
		t := s.tri(i)
		n := t.normal()
		area := length(n)
		if area == 0 {
			continue
		}
		n = along(vec{}, 1/area, n)
		c := cut{n, dot(n, t[0])}
		k := slices.IndexFunc(found, func(f face) bool { return f.same(&c) })
		if k < 0 {
			if len(found) == mostSamples {
				continue
			}
			k = len(found)
			found = append(found, face{cut: c})
		}
		found[k].area += area
	}
	slices.SortStableFunc(found, func(a, b face) int { return cmp.Compare(b.area, a.area) })
	var out []cut
	for _, f := range found[:min(len(found), mostFaces)] {
		out = append(out, f.cut)
	}
	return out
}
