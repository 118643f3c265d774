package flat

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Strip is the endless band of half width Half (more than a few Snap) about the line through At along the unit vector U.
// Its two border lines are side 0 (to the right of U) and side 1 (to the left).
type Strip struct {
	At, U Pt
	Half  float64
}

// Across returns the signed distance of p from the centre line, positive to the left of U.
func (s Strip) Across(p Pt) float64 { return p.Sub(s.At).Dot(s.U.Left()) }

// Along returns the arc length of p's foot on the centre line, from At.
func (s Strip) Along(p Pt) float64 { return p.Sub(s.At).Dot(s.U) }

// offset returns the signed distance of border line side.
func (s Strip) offset(side int) float64 { return float64(2*side-1) * s.Half }

// depth returns how far p lies inside border line side, negative outside it.
func (s Strip) depth(p Pt, side int) float64 {
	return s.Half + float64(1-2*side)*s.Across(p)
}

// StripPiece is one connected piece of the board inside a strip.
type StripPiece struct {
	Strip  int
	Region Region
	links  [][]link
}

// Cutter cuts one board by strips. Every border line is met with the board once, so that neighbours share their points
// bit for bit. What is cut out of the board and what is left always add up to it: the board's edges are shared out, and
// joints are made where the shares do not close, never by asking what is inside.
type Cutter struct {
	board  Region
	strips []Strip
	nodes  *nodes
	edges  []Edge
	parts  []link       // the board's edges split at all border lines; tag = number of the edge they are part of
	picked []StripPiece // those that are taken
	needed map[int]bool // where their joints end
}

// link is a directed edge between two nodes. Its tag is the number of a board edge, or below zero that of a border line.
type link struct {
	Edge
	from, to int
	tag      int
}

// jointTag returns the tag of links on a border line; sideOfTag gets the side back.
func jointTag(strip, side int) int { return -1 - (2*strip + side) }
func sideOfTag(tag int) int        { return (-1 - tag) & 1 }

// NewCutter prepares board to be cut by strips. Border lines that pass the board's corners, arcs or each other's crossings
// within Snap go through them.
func NewCutter(board Region, strips []Strip) *Cutter {
	c := &Cutter{board: board, strips: strips, nodes: newNodes(), edges: board.Edges()}
	for i := range c.edges {
		var at []float64
		for _, s := range strips {
			for side := range 2 {
				at = append(at, c.edges[i].crossLine(s.At, s.U.Left(), s.offset(side))...)
			}
		}
		c.split(i, at)
	}
	return c
}

// split appends the parts of board edge i between the given parameters to c.parts.
func (c *Cutter) split(i int, at []float64) {
	e := c.edges[i]
	slices.Sort(at)
	from, end, t0 := c.nodes.id(e.P), c.nodes.id(e.Q), 0.0
	for k := range len(at) + 1 {
		t, to := 1.0, end
		if k < len(at) {
			t = at[k]
			to = c.nodes.id(e.At(t))
		}
		if from == to && (t-t0)*e.Len() < 10*Snap {
			continue
		}
		c.parts = append(c.parts, link{e.Part(t0, t, c.nodes.pts[from], c.nodes.pts[to]), from, to, i})
		from, t0 = to, t
	}
}

// Pieces returns the connected pieces of the board inside strip number i, also those that its written line does not cross.
// What reaches into the strip by no more than Snap is left out. It fails, with the place in words, where the board's border
// runs so close along a border line that the two cannot be told apart; for a board whose loops keep more than a few Snap
// apart that does not happen.
func (c *Cutter) Pieces(i int) ([]StripPiece, error) {
	links, err := c.enclose(i)
	if err != nil {
		return nil, err
	}
	loops, err := traceLinks(links)
	if err != nil {
		return nil, err
	}
	var out []StripPiece
	for _, group := range nest(plain(loops), nil) {
		p := StripPiece{Strip: i}
		for _, k := range group {
			p.links = append(p.links, loops[k])
		}
		p.Region = plain(p.links)
		out = append(out, p)
	}
	return out, nil
}

// Where a part of the board's border lies.
const (
	inside = iota
	outside
	onSide // on border line 0; onSide+1: on border line 1
)

// place returns where an edge lies that crosses neither border line: its point farthest from them decides.
func (s Strip) place(e *Edge) int {
	out := inside
	for side := range 2 {
		far := 0.0
		for _, p := range [3]Pt{e.P, e.Mid(), e.Q} {
			if d := s.depth(p, side); math.Abs(d) > math.Abs(far) {
				far = d
			}
		}
		if far < -Snap {
			return outside
		}
		if far <= Snap {
			out = onSide + side
		}
	}
	return out
}

// enclose returns the border of the board in strip i: the board's edges inside, and what closes them along the border lines:
// board edges that lie there, and joints. Walking along a border line, the board begins where more of the edges inside end
// than begin, and ends where more begin.
func (c *Cutter) enclose(i int) ([]link, error) {
	s := c.strips[i]
	var links []link
	var along [2][]link
	extra := make([]int, len(c.nodes.pts)) // edges inside that end at a node, less those that begin
	for _, l := range c.parts {
		switch at := s.place(&l.Edge); at {
		case inside:
			links = append(links, l)
			extra[l.to]++
			extra[l.from]--
		case onSide, onSide + 1:
			along[at-onSide] = append(along[at-onSide], l)
		}
	}
	for side := range 2 {
		ids := c.onLine(s, side)
		open := make([]int, len(ids)) // between a node and the next: whether the board is inside; -1 in tips thinner than Snap
		n := 0
		for k, v := range ids {
			n += extra[v]
			extra[v] = 0
			if open[k] = n; n*n > 1 || n != 0 && k+1 == len(ids) {
				return nil, c.unclear(v)
			}
		}
		var err error
		if links, err = c.bridge(links, ids, open, along[side], jointTag(i, side)); err != nil {
			return nil, err
		}
	}
	for v, n := range extra {
		if n != 0 {
			return nil, c.unclear(v)
		}
	}
	return links, nil
}

// bridge appends what leads from node to node of a border line where it is open: a board edge that lies there, else a joint.
func (c *Cutter) bridge(links []link, ids, open []int, along []link, tag int) ([]link, error) {
	place := map[int]int{}
	for k, v := range ids {
		place[v] = k
	}
	for _, l := range along {
		from, to, want := place[l.from], place[l.to], 1
		if from > to {
			from, to, want = to, from, -1
		}
		if from < to && !slices.ContainsFunc(open[from:to], func(n int) bool { return n != want }) {
			links = append(links, l)
			clear(open[from:to])
		}
	}
	for k, v := range ids {
		switch open[k] {
		case 1:
			to := ids[k+1]
			links = append(links, link{Line(c.nodes.pts[v], c.nodes.pts[to]), v, to, tag})
		case -1:
			return nil, c.unclear(v)
		}
	}
	return links, nil
}

// unclear is the failure to tell what is inside at a node.
func (c *Cutter) unclear(v int) error {
	return fmt.Errorf("near %v the border of a bend area and the edge of the board lie too close together to tell which is which", c.nodes.pts[v])
}

// onLine returns the nodes on a border line in the order in which pieces to its left run along it.
func (c *Cutter) onLine(s Strip, side int) []int {
	var ids []int
	for v, p := range c.nodes.pts {
		if math.Abs(s.depth(p, side)) <= Snap {
			ids = append(ids, v)
		}
	}
	sign := float64(1 - 2*side)
	slices.SortStableFunc(ids, func(a, b int) int {
		return cmp.Compare(sign*s.Along(c.nodes.pts[a]), sign*s.Along(c.nodes.pts[b]))
	})
	return ids
}

// traceLinks joins links to closed loops; see trace.
func traceLinks(links []link) ([][]link, error) {
	spans := make([]span, len(links))
	for i, l := range links {
		spans[i] = span{l.from, l.to, l.Edge, l.Edge}
	}
	loops, err := trace(spans)
	if err != nil {
		return nil, err
	}
	out := make([][]link, len(loops))
	for i, l := range loops {
		for _, k := range l {
			out[i] = append(out[i], links[k])
		}
	}
	return out, nil
}

// plain returns the region bounded by loops of links.
func plain(loops [][]link) Region {
	out := make(Region, len(loops))
	for i, ls := range loops {
		out[i] = make(Loop, len(ls))
		for k, l := range ls {
			out[i][k] = l.Edge
		}
	}
	return out
}
