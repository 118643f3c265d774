package flat

import "math"

// Intersect returns the pieces of the area common to a and b. Arcs stay arcs. Edges within Snap of each other count as
// one, so an overlap not deeper than Snap is none; no border moves by more than about 2 Snap. A piece's loops are simple;
// they may touch each other in single points.
func Intersect(a, b Region) []Region { return overlay(a, b, false) }

// Subtract returns the pieces of a that are not in b; see Intersect.
func Subtract(a, b Region) []Region { return overlay(a, b, true) }

// overlay cuts both borders into runs where they meet, finds out which areas between the runs belong to a and to b, and
// chains the runs that part what is wanted from what is not. What is wanted is decided for each area, not for each run:
// therefore the runs always close. Should what is known of the areas contradict itself, because borders keep crossing
// within Snap, they are overlaid anew with 4, 16 or 64 times the tolerance.
func overlay(a, b Region, minus bool) []Region {
	if !a.Box().Grow(Snap).Meets(b.Box()) {
		if minus {
			return a.pieces(nil)
		}
		return nil
	}
	p, scale := planarOf(a, b), 1.0
	for k := 1.0; p.contradicts && k < 64; {
		k *= 4
		if coarse := planarOf(a.scaled(1/k), b.scaled(1/k)); !coarse.contradicts {
			p, scale = coarse, k
		}
	}
	wanted := make([]bool, len(p.inA))
	for f := range wanted {
		wanted[f] = p.inA[f] > 0 && (p.inB[f] > 0) != minus
	}
	loops, areas := p.bounded(wanted)
	if scale != 1 {
		loops = loops.scaled(scale)
	}
	return loops.pieces(areas)
}

// scaled returns r enlarged by k, a power of two: no digit changes.
func (r Region) scaled(k float64) Region {
	out := make(Region, len(r))
	for i, l := range r {
		out[i] = make(Loop, len(l))
		for n, e := range l {
			out[i][n] = Edge{e.P.Mul(k), e.Q.Mul(k), e.C.Mul(k), e.R * k, e.Sweep}
		}
	}
	return out
}

// planar is the division of the plane by two borders. Run k has two sides: 2k on its left, 2k+1 on its right; seen as a way,
// side 2k+1 runs backwards and also has its area on the left.
type planar struct {
	runs        []run
	face        []int // of each side: the area that it borders; areas are numbered, unconnected borders apart
	inA, inB    []int // of each area: winding numbers
	contradicts bool  // they do, which they cannot unless borders cross at other places than nodes
	turned      bool  // some are not 0 or 1: snapping turned slivers over, or the input overlaps itself
}

// planarOf cuts the borders of a and b where they meet. Snapping bends edges by up to Snap, so that they may meet others
// which they did not meet before: then everything is cut once more by everything, with half the tolerance, so that no edge
// is led back and forth between nodes, which lie Snap apart.
func planarOf(a, b Region) *planar {
	n := newNodes()
	runs := append(runsOf(a, 1, 0), runsOf(b, 0, 1)...)
	runs, bent := n.cut(runs, countEdges(runs[:len(a)]), Snap)
	p := newPlanar(merged(runs), len(n.pts), a, b)
	for round := 0; round < mostRounds && (bent > Snap/16 || p.contradicts || p.turned); round++ {
		before := len(p.runs)
		runs, bent = n.cut(p.runs, 0, Snap/2)
		p = newPlanar(merged(runs), len(n.pts), a, b)
		if round > 0 && bent == 0 && len(p.runs) == before {
			break // nothing left to cut
		}
	}
	return p
}

// mostRounds bounds the cutting anew; boards need one round, rarely two or three.
const mostRounds = 12

// newPlanar finds the areas between runs and the winding numbers of both regions in them.
func newPlanar(runs []run, nodes int, a, b Region) *planar {
	p := &planar{runs: runs, face: make([]int, 2*len(runs))}
	faces := p.findFaces(nodes)
	p.inA, p.inB = make([]int, faces), make([]int, faces)
	sides := make([][]int, faces) // of each area
	for s, f := range p.face {
		sides[f] = append(sides[f], s)
	}
	seen := make([]bool, faces)
	boxA, boxB := a.Box(), b.Box()
	for f := range seen {
		if seen[f] {
			continue
		}
		group := p.flood(f, sides, seen)
		p.settle(p.inA, group, sides, func(r *run) int { return r.a }, a, boxA)
		p.settle(p.inB, group, sides, func(r *run) int { return r.b }, b, boxB)
	}
	return p
}

// way returns the edge with which a side, run as a way, leaves its first node.
func (p *planar) way(side int) Edge {
	es := p.runs[side/2].edges
	if side%2 == 0 {
		return es[0]
	}
	return es[len(es)-1].Rev()
}

// findFaces numbers the areas: following the sharpest left turn at every node leads round one. Returns their number.
func (p *planar) findFaces(nodes int) int {
	leaving := make([][]int, nodes)
	for k, r := range p.runs {
		leaving[r.from] = append(leaving[r.from], 2*k)
		leaving[r.to] = append(leaving[r.to], 2*k+1)
	}
	next := make([]int, len(p.face)) // from the reverse of a way to the way that is clockwise of it
	var es []Edge
	for _, ways := range leaving {
		es = es[:0]
		for _, s := range ways {
			es = append(es, p.way(s))
		}
		order := around(es)
		for k, o := range order {
			next[ways[order[(k+1)%len(order)]]^1] = ways[o]
		}
	}
	for s := range p.face {
		p.face[s] = -1
	}
	faces := 0
	for s := range p.face {
		if p.face[s] >= 0 {
			continue
		}
		for ; p.face[s] < 0; s = next[s] {
			p.face[s] = faces
		}
		faces++
	}
	return faces
}

// flood sets the winding numbers of all areas that hang together with f, relative to those of f, and returns these areas.
func (p *planar) flood(f int, sides [][]int, seen []bool) []int {
	seen[f] = true
	group := []int{f}
	for i := 0; i < len(group); i++ {
		g := group[i]
		for _, s := range sides[g] {
			r := &p.runs[s/2]
			sign := 2*(s%2) - 1 // crossing a run from its left to its right takes away what it adds
			a, b := p.inA[g]+sign*r.a, p.inB[g]+sign*r.b
			o := p.face[s^1]
			if !seen[o] {
				seen[o] = true
				p.inA[o], p.inB[o] = a, b
				group = append(group, o)
			} else if p.inA[o] != a || p.inB[o] != b {
				p.contradicts = true
			}
		}
	}
	return group
}

// settle makes the winding numbers of connected areas absolute: a region's border has inside 1 on its left, outside 0 on its
// right. Slivers that snapping has turned over may say otherwise, so the greater length decides. Where no border of the
// region takes part all lie inside or all outside of it.
func (p *planar) settle(in, group []int, sides [][]int, count func(*run) int, r Region, box Box) {
	votes := map[int]float64{} // length that speaks for a shift
	best := 0
	var far Edge
	for _, f := range group {
		for _, s := range sides[f] {
			run := &p.runs[s/2]
			if s%2 == 1 {
				continue
			}
			if c := count(run); c != 0 {
				shift := max(c, 0) - in[f]
				votes[shift] += Loop(run.edges).Len()
				if votes[shift] > votes[best] {
					best = shift
				}
			} else if e := Loop(run.edges).longest(); e.Len() > far.Len() {
				far = e // its middle is far from what was snapped
			}
		}
	}
	if at := far.Mid(); len(votes) == 0 && box.holds(at) && r.Contains(at) {
		best = 1
	}
	for _, f := range group {
		if in[f] += best; in[f] < 0 || in[f] > 1 {
			p.turned = true
		}
	}
}

// bounded returns the border of the wanted areas, and for each of its loops which connected area it bounds: loops of the
// same number bound the same.
func (p *planar) bounded(wanted []bool) (Region, []int) {
	area := p.connected(wanted)
	var spans []span
	var ways [][]Edge
	var of []int
	for s, f := range p.face {
		if !wanted[f] || wanted[p.face[s^1]] {
			continue
		}
		r := p.runs[s/2]
		if s%2 == 1 {
			r = r.reversed()
		}
		spans = append(spans, span{r.from, r.to, r.edges[0], r.edges[len(r.edges)-1]})
		ways, of = append(ways, r.edges), append(of, area[f])
	}
	loops, err := trace(spans)
	if err != nil {
		panic("flat: the border of areas does not close") // it does: see overlay
	}
	var out Region
	var areas []int
	for _, l := range loops {
		var loop Loop
		for _, k := range l {
			loop = append(loop, ways[k]...)
		}
		if math.Abs(loop.Area()) > Snap/1000*loop.Len() { // else it runs to a point and back
			out, areas = append(out, loop), append(areas, of[l[0]])
		}
	}
	return out, areas
}

// connected numbers the wanted areas so that those that hang together across runs have the same number.
func (p *planar) connected(wanted []bool) []int {
	lead := make([]int, len(wanted))
	for f := range lead {
		lead[f] = f
	}
	find := func(f int) int {
		for lead[f] != f {
			lead[f] = lead[lead[f]]
			f = lead[f]
		}
		return f
	}
	for k := range p.runs {
		if f, g := p.face[2*k], p.face[2*k+1]; wanted[f] && wanted[g] {
			lead[find(f)] = find(g)
		}
	}
	for f := range lead {
		lead[f] = find(f)
	}
	return lead
}
