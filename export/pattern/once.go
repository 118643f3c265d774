package pattern

import (
	"cmp"
	"math"
	"slices"

	"foldfit/export/draw"
	"foldfit/fold/flat"
)

// once keeps a machine from going over a line twice: of what is entered it lets through only what lies on nothing entered before.
type once struct {
	grid *grid
	near float64 // how far apart, in mm, two lines may lie that count as one, and up to which length a line counts as none
}

// newOnce returns an empty one for a drawing about as large as b, as near as the page can show.
func newOnce(b flat.Box) once { return once{newGrid(b), 1e-4} }

// chain returns what is left of a chain of edges. A closed chain that is left whole stays closed.
func (o once) chain(edges []flat.Edge, closed bool) []draw.Run {
	var out []draw.Run
	whole := true
	for _, e := range edges {
		parts := o.rest(e)
		whole = whole && len(parts) == 1 && parts[0] == e
		for _, p := range parts {
			if n := len(out); n > 0 && out[n-1].Edges[len(out[n-1].Edges)-1].Q == p.P {
				out[n-1].Edges = append(out[n-1].Edges, p)
				continue
			}
			out = append(out, draw.Run{Edges: []flat.Edge{p}})
		}
	}
	if closed && whole && len(out) == 1 {
		out[0].Closed = true
	}
	return out
}

// lines returns what is left of straight lines, each a run of its own.
func (o once) lines(list [][2]flat.Pt) []draw.Run {
	var out []draw.Run
	for _, l := range list {
		out = append(out, o.chain([]flat.Edge{flat.Line(l[0], l[1])}, false)...)
	}
	return out
}

// loops returns what is left of closed borders.
func (o once) loops(list ...flat.Loop) []draw.Run {
	var out []draw.Run
	for _, l := range list {
		out = append(out, o.chain(l, true)...)
	}
	return out
}

// rest returns the parts of e that lie on no edge entered so far, in order, and enters e.
func (o once) rest(e flat.Edge) []flat.Edge {
	length := e.Len()
	if length <= o.near {
		return nil
	}
	var hidden [][2]float64
	for _, i := range o.grid.near(e, o.near) {
		hidden = append(hidden, shared(e, o.grid.edges[i], o.near)...)
	}
	o.grid.add(e)
	if len(hidden) == 0 {
		return []flat.Edge{e}
	}
	slices.SortFunc(hidden, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	var out []flat.Edge
	from := 0.0
	for _, h := range append(hidden, [2]float64{1, 1}) {
		if (h[0]-from)*length > o.near {
			out = append(out, e.Part(from, h[0], e.At(from), e.At(h[0])))
		}
		from = max(from, h[1])
	}
	return out
}

// near returns the edges that may touch e, each once, in the order in which they were entered.
func (g *grid) near(e flat.Edge, near float64) []int32 {
	var out []int32
	g.each(e.Box().Grow(near), func(c [2]int) bool {
		for _, i := range g.cells[c] {
			out = append(out, g.owner[i])
		}
		return true
	})
	slices.Sort(out)
	return slices.Compact(out)
}

// shared returns which stretches of e, 0 to 1 along it, lie on m.
func shared(e, m flat.Edge, near float64) [][2]float64 {
	if e.IsArc() != m.IsArc() {
		return nil
	}
	var at [][2]float64
	if e.IsArc() {
		at = sharedArc(e, m, near)
	} else {
		at = sharedLine(e, m, near)
	}
	var out [][2]float64
	for _, s := range at {
		lo, hi := max(s[0], 0), min(s[1], 1)
		if (hi-lo)*e.Len() > near {
			out = append(out, [2]float64{lo, hi})
		}
	}
	return out
}

func sharedLine(e, m flat.Edge, near float64) [][2]float64 {
	length, u := e.Len(), e.Q.Sub(e.P).Unit()
	p, q := m.P.Sub(e.P), m.Q.Sub(e.P)
	if math.Abs(p.Cross(u)) > near || math.Abs(q.Cross(u)) > near {
		return nil
	}
	a, b := p.Dot(u)/length, q.Dot(u)/length
	return [][2]float64{{min(a, b), max(a, b)}}
}

// sharedArc returns where m runs, in turns of e; it may begin before e and after its end.
func sharedArc(e, m flat.Edge, near float64) [][2]float64 {
	if e.C.Dist(m.C) > near || math.Abs(e.R-m.R) > near {
		return nil
	}
	if e.Sweep*m.Sweep < 0 {
		m = m.Rev()
	}
	a, b := e.P.Sub(e.C), m.P.Sub(m.C)
	ahead := math.Atan2(a.Cross(b), a.Dot(b)) / e.Sweep // how far m begins beyond e's begin, in sweeps of e
	turn := 2 * math.Pi / math.Abs(e.Sweep)
	long := m.Sweep / e.Sweep
	return [][2]float64{{ahead - turn, ahead - turn + long}, {ahead, ahead + long}, {ahead + turn, ahead + turn + long}}
}
