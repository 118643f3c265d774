package mesh

import (
	"cmp"
	"math"
	"slices"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// joints gives bodies that meet in the flat the same nodes: ends of edges within flat.Snap of each other become one point,
// and straight edges get a node wherever the end of another edge lies on them. Flat coordinates are those of the material,
// so one set serves a flat, the bends beside it and their bodies alike.
type joints struct {
	node map[flat.Pt]flat.Pt // each end of an edge: the first end within Snap of it
	pts  []flat.Pt           // the nodes
	grid *grid
}

// newJoints collects the ends of the edges of all bodies that share the board's area: sections, flex and bends.
func newJoints(t *fold.Tree) *joints {
	var ends []flat.Pt
	seen := map[flat.Pt]bool{}
	for i := range t.Bodies {
		if !isBoard(t.Bodies[i].Kind) {
			continue
		}
		for _, e := range t.Bodies[i].Region.Edges() {
			for _, p := range [2]flat.Pt{e.P, e.Q} {
				if !seen[p] {
					seen[p] = true
					ends = append(ends, p)
				}
			}
		}
	}
	j := &joints{node: make(map[flat.Pt]flat.Pt, len(ends))}
	g := newGrid(ends)
	for i, p := range ends {
		first := int32(i)
		g.near(p, p, flat.Snap, func(k int32) {
			if k < first && ends[k].Dist(p) <= flat.Snap && j.node[ends[k]] == ends[k] {
				first = k
			}
		})
		j.node[p] = ends[first]
		if first == int32(i) {
			j.pts = append(j.pts, p)
		}
	}
	j.grid = newGrid(j.pts)
	return j
}

// isBoard reports whether bodies of this kind divide the board's area among them.
func isBoard(k fold.Kind) bool {
	return k == fold.KindSection || k == fold.KindFlex || k == fold.KindBend
}

// fit returns a region of one of the bodies with the common nodes.
func (j *joints) fit(r flat.Region) flat.Region {
	out := make(flat.Region, len(r))
	for i, l := range r {
		for _, e := range l {
			e.P, e.Q = j.node[e.P], j.node[e.Q]
			out[i] = j.split(out[i], e)
		}
	}
	return out
}

// split appends e to l, cut at the nodes that lie on it; an arc stays whole.
func (j *joints) split(l flat.Loop, e flat.Edge) flat.Loop {
	length := e.Len()
	if e.IsArc() || length <= 2*flat.Snap {
		return append(l, e)
	}
	type stop struct {
		p  flat.Pt
		at float64
	}
	var stops []stop
	d := e.Q.Sub(e.P).Unit()
	j.grid.near(e.P, e.Q, flat.Snap, func(i int32) {
		v := j.pts[i].Sub(e.P)
		at := v.Dot(d)
		if math.Abs(d.Cross(v)) <= flat.Snap && at > flat.Snap && at < length-flat.Snap {
			stops = append(stops, stop{j.pts[i], at})
		}
	})
	slices.SortFunc(stops, func(a, b stop) int { return cmp.Compare(a.at, b.at) })
	from := e.P
	for _, s := range stops {
		l = append(l, flat.Line(from, s.p))
		from = s.p
	}
	return append(l, flat.Line(from, e.Q))
}
