package flat

import (
	"math"
	"slices"
)

// Strip is the endless band of half width Half about the line through At along the unit vector U. Its two border lines
// are side 0 (to the right of U) and side 1 (to the left).
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

// Joint is a segment of a strip's border line inside the board, where a cut-out piece meets the rest. The piece lies to
// the left of P -> Q.
type Joint struct {
	Strip, Side int
	P, Q        Pt
}

// StripPiece is one connected piece of the board inside a strip.
type StripPiece struct {
	Strip  int
	Region Region
	links  [][]link
}

// Rest is a connected piece of what the cut pieces leave of the board, and its joints with them.
type Rest struct {
	Region Region // empty where two pieces share a border line: a rest of no area
	Joints []RestJoint
}

// RestJoint says that a rest meets cut piece number Piece along the segment P-Q of that piece's border line Side.
type RestJoint struct {
	Piece, Side int
	P, Q        Pt
}

// Cutter cuts one board by strips. Every border line is met with the board once, so that neighbours share their points
// bit for bit.
type Cutter struct {
	board  Region
	strips []Strip
	nodes  *nodes
	parts  []link // the board's edges split at all border lines; tag = index of the edge they are part of
	edges  []Edge
	picked []StripPiece
}

// NewCutter prepares board to be cut by strips.
func NewCutter(board Region, strips []Strip) *Cutter {
	c := &Cutter{board: board, strips: strips, nodes: newNodes(), edges: board.Edges()}
	for i, e := range c.edges {
		var at []Pt
		for _, s := range strips {
			for side := range 2 {
				for _, t := range e.crossLine(s.At, s.U.Left(), s.offset(side)) {
					at = append(at, e.At(t))
				}
			}
		}
		c.parts = c.nodes.split(c.parts, e, at, i)
	}
	return c
}

// Tags of links that are not board edges: joints count down from -1, two for each strip.
func jointTag(strip, side int) int { return -1 - (2*strip + side) }

// Pieces returns the connected pieces of the board inside strip number i, also those that its written line does not cross.
func (c *Cutter) Pieces(i int) []StripPiece {
	s := c.strips[i]
	var links []link
	var along [2][]link
	for _, l := range c.parts {
		switch side := s.sideOf(l.Edge); {
		case side >= 0:
			along[side] = append(along[side], l)
		case math.Abs(s.Across(l.Mid())) < s.Half:
			links = append(links, l)
		}
	}
	for side := range 2 {
		links = append(links, c.border(i, side, along[side])...)
	}
	loops, err := chain(links)
	if err != nil {
		return nil
	}
	var out []StripPiece
	for _, p := range pieces(loops) {
		out = append(out, StripPiece{Strip: i, Region: regionOf(p), links: p})
	}
	return out
}

// sideOf returns the border line that e runs along, -1 for none.
func (s Strip) sideOf(e Edge) int {
	for side := range 2 {
		off := s.offset(side)
		if math.Abs(s.Across(e.P)-off) <= Snap && math.Abs(s.Across(e.Q)-off) <= Snap && math.Abs(s.Across(e.Mid())-off) <= Snap {
			return side
		}
	}
	return -1
}

// border returns the links that close the pieces of strip i on one side: joints through the board, and board edges that
// run along the border with the strip's inside as material.
func (c *Cutter) border(i, side int, along []link) []link {
	s := c.strips[i]
	var ids []int
	seen := map[int]bool{}
	for _, l := range c.parts {
		if !seen[l.from] && math.Abs(s.Across(c.nodes.pts[l.from])-s.offset(side)) <= Snap {
			seen[l.from] = true
			ids = append(ids, l.from)
		}
	}
	slices.SortStableFunc(ids, func(a, b int) int { return cmpFloat(s.Along(c.nodes.pts[a]), s.Along(c.nodes.pts[b])) })
	var out []link
	for k := 1; k < len(ids); k++ {
		a, b := ids[k-1], ids[k]
		if side == 1 {
			a, b = b, a // the strip's inside lies to the left of the link
		}
		if edges := between(s, along, c.nodes.pts[a], c.nodes.pts[b]); len(edges) > 0 {
			for _, l := range edges {
				if l.from == a && l.to == b {
					out = append(out, l)
				}
			}
			continue
		}
		p, q := c.nodes.pts[a], c.nodes.pts[b]
		if c.board.Contains(p.Mid(q)) {
			out = append(out, link{Line(p, q), a, b, jointTag(i, side)})
		}
	}
	return out
}

// between returns the links along the border that cover the middle of a-b.
func between(s Strip, along []link, a, b Pt) []link {
	t := s.Along(a.Mid(b))
	var out []link
	for _, l := range along {
		if min(s.Along(l.P), s.Along(l.Q)) < t && t < max(s.Along(l.P), s.Along(l.Q)) {
			out = append(out, l)
		}
	}
	return out
}

// Take marks pieces as cut out. Pieces that overlap must not be taken together.
func (c *Cutter) Take(pieces []StripPiece) { c.picked = pieces }

// Taken returns the region of taken piece i, without the points that only other strips' lines would need.
func (c *Cutter) Taken(i int) Region { return regionOf(c.tidy(c.picked[i].links, c.needed())) }

// Rests returns what the taken pieces leave of the board: pieces with an area first, then those of none.
func (c *Cutter) Rests() ([]Rest, error) {
	gone := map[[3]int]bool{} // board parts that belong to a taken piece
	var joints []link         // reversed: the rest lies to their left
	var owner []int
	for k, p := range c.picked {
		for _, l := range p.links {
			for _, e := range l {
				if e.tag >= 0 {
					gone[[3]int{e.tag, e.from, e.to}] = true
					continue
				}
				joints = append(joints, link{e.Rev(), e.to, e.from, e.tag})
				owner = append(owner, k)
			}
		}
	}
	dead, flats := zeroRests(joints, owner, c.nodes)
	var links []link
	for _, l := range c.parts {
		if !gone[[3]int{l.tag, l.from, l.to}] {
			links = append(links, l)
		}
	}
	const shift = 1 << 40 // joints travel through the chaining as tags beyond every edge
	for i, j := range joints {
		if !dead[i] {
			links = append(links, link{j.Edge, j.from, j.to, shift + i})
		}
	}
	loops, err := chain(links)
	if err != nil {
		return nil, err
	}
	var out []Rest
	need := c.needed()
	for _, p := range pieces(loops) {
		r := Rest{}
		for _, l := range p {
			for _, e := range l {
				if e.tag >= shift {
					i := e.tag - shift
					r.Joints = append(r.Joints, RestJoint{owner[i], sideOfTag(joints[i].tag), e.P, e.Q})
				}
			}
		}
		r.Region = regionOf(c.tidy(p, need))
		out = append(out, r)
	}
	return append(out, flats...), nil
}

func sideOfTag(tag int) int { return (-1 - tag) & 1 }

// zeroRests finds joints of two pieces that lie on each other: between them is a rest of no area.
func zeroRests(joints []link, owner []int, n *nodes) (map[int]bool, []Rest) {
	at := map[[2]int][]int{}
	for i, j := range joints {
		at[[2]int{j.from, j.to}] = append(at[[2]int{j.from, j.to}], i)
	}
	dead := map[int]bool{}
	var out []Rest
	for i, j := range joints {
		if dead[i] {
			continue
		}
		for _, k := range at[[2]int{j.to, j.from}] {
			if !dead[k] && owner[k] != owner[i] {
				dead[i], dead[k] = true, true
				out = append(out, Rest{Joints: []RestJoint{
					{owner[i], sideOfTag(j.tag), j.P, j.Q}, {owner[k], sideOfTag(joints[k].tag), j.P, j.Q}}})
				break
			}
		}
	}
	return dead, out
}

// needed returns the nodes at which the taken pieces' joints end; board edges need no other points.
func (c *Cutter) needed() map[int]bool {
	need := map[int]bool{}
	for _, p := range c.picked {
		for _, l := range p.links {
			for _, e := range l {
				if e.tag < 0 {
					need[e.from], need[e.to] = true, true
				}
			}
		}
	}
	return need
}

// tidy joins parts of one board edge again where no joint ends between them.
func (c *Cutter) tidy(piece [][]link, need map[int]bool) [][]link {
	out := make([][]link, len(piece))
	for i, loop := range piece {
		out[i] = c.tidyLoop(loop, need)
	}
	return out
}

func (c *Cutter) tidyLoop(loop []link, need map[int]bool) []link {
	merges := func(a, b link) bool {
		return a.tag >= 0 && a.tag < len(c.edges) && a.tag == b.tag && a.to == b.from && !need[a.to] && !c.isEnd(a.tag, a.to)
	}
	first := 0
	for first < len(loop) && merges(loop[(first+len(loop)-1)%len(loop)], loop[first]) {
		first++
	}
	if first == len(loop) {
		return loop
	}
	var out []link
	for k := range loop {
		l := loop[(first+k)%len(loop)]
		if last := len(out) - 1; last >= 0 && merges(out[last], l) {
			m := out[last]
			m.Edge.Q, m.to = l.Q, l.to
			m.Sweep += l.Sweep
			out[last] = m
			continue
		}
		out = append(out, l)
	}
	return out
}

// isEnd reports whether node id is an end of board edge number tag.
func (c *Cutter) isEnd(tag, id int) bool {
	p := c.nodes.pts[id]
	return p.Dist(c.edges[tag].P) <= Snap || p.Dist(c.edges[tag].Q) <= Snap
}
