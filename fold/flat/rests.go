package flat

import (
	"errors"
	"math"
)

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

// Take marks pieces as cut out. Pieces that overlap must not be taken together.
func (c *Cutter) Take(pieces []StripPiece) {
	c.picked = pieces
	c.needed = jointEnds(pieces)
}

// Taken returns the region of taken piece i, without the points that only other strips' lines would need.
func (c *Cutter) Taken(i int) Region { return plain(c.tidy(c.picked[i].links)) }

// Rests returns what the taken pieces leave of the board: pieces with an area first, then those of none. Areas add up to
// the board's but for borders bent by up to 2 Snap; if they do not (taken pieces overlap) it fails.
func (c *Cutter) Rests() ([]Rest, error) {
	links, joints, flats := c.left()
	loops, err := traceLinks(links)
	if err != nil {
		return nil, err
	}
	var solid [][]link
	for _, l := range loops {
		if r, ok := thin(l, joints); ok {
			flats = append(flats, r)
			continue
		}
		solid = append(solid, l)
	}
	var out []Rest
	for _, group := range nest(plain(solid), nil) {
		var r Rest
		var ls [][]link
		for _, k := range group {
			ls = append(ls, solid[k])
			r.Joints = appendJoints(r.Joints, solid[k], joints)
		}
		r.Region = plain(c.tidy(ls))
		out = append(out, r)
	}
	return append(out, flats...), c.audit(out)
}

// joint is a border line's segment seen from the rest: it runs against the way in which the piece's border runs.
type joint struct {
	link
	piece int
}

// jointShift is added to the number of a joint to make its link's tag; board edges have smaller numbers.
const jointShift = 1 << 40

// left returns the links of the rests' borders, the joints among them by number, and the rests of no area.
func (c *Cutter) left() (links []link, joints []joint, flats []Rest) {
	gone := map[[3]int]bool{} // board parts that belong to a taken piece
	for k, p := range c.picked {
		for _, loop := range p.links {
			for _, l := range loop {
				if l.tag >= 0 {
					gone[[3]int{l.tag, l.from, l.to}] = true
				} else {
					joints = append(joints, joint{link{l.Rev(), l.to, l.from, l.tag}, k})
				}
			}
		}
	}
	for _, l := range c.parts {
		if !gone[[3]int{l.tag, l.from, l.to}] {
			links = append(links, l)
		}
	}
	dead, flats := onEachOther(joints)
	for i, j := range joints {
		if !dead[i] {
			j.tag = jointShift + i
			links = append(links, j.link)
		}
	}
	return links, joints, flats
}

// onEachOther finds joints of two pieces that lie on each other: between them is a rest of no area.
func onEachOther(joints []joint) (map[int]bool, []Rest) {
	at := map[[2]int][]int{}
	for i, j := range joints {
		at[[2]int{j.from, j.to}] = append(at[[2]int{j.from, j.to}], i)
	}
	dead := map[int]bool{}
	var flats []Rest
	for i, j := range joints {
		for _, k := range at[[2]int{j.to, j.from}] {
			if o := joints[k]; !dead[i] && !dead[k] && o.piece != j.piece {
				dead[i], dead[k] = true, true
				flats = addFlat(flats, RestJoint{j.piece, sideOfTag(j.tag), j.P, j.Q}, RestJoint{o.piece, sideOfTag(o.tag), j.P, j.Q})
			}
		}
	}
	return dead, flats
}

// addFlat adds a rest of no area between two joints, or adds them to one that goes on at their end.
func addFlat(flats []Rest, a, b RestJoint) []Rest {
	for i := range flats {
		f := &flats[i]
		same, meets := true, false
		for _, j := range f.Joints {
			same = same && (j.Piece == a.Piece && j.Side == a.Side || j.Piece == b.Piece && j.Side == b.Side)
			meets = meets || j.P == a.P || j.P == a.Q || j.Q == a.P || j.Q == a.Q
		}
		if same && meets {
			f.Joints = append(f.Joints, a, b)
			return flats
		}
	}
	return append(flats, Rest{Joints: []RestJoint{a, b}})
}

// thin returns the rest of no area that a loop bounds which has nothing but joints and is not wider than about Snap.
func thin(loop []link, joints []joint) (Rest, bool) {
	var r Rest
	l := plain([][]link{loop})[0]
	if math.Abs(l.Area()) > Snap*l.Len()/2 {
		return r, false
	}
	r.Joints = appendJoints(nil, loop, joints)
	return r, len(r.Joints) == len(loop)
}

// appendJoints appends the joints among the links of a loop.
func appendJoints(out []RestJoint, loop []link, joints []joint) []RestJoint {
	for _, l := range loop {
		if l.tag >= jointShift {
			j := joints[l.tag-jointShift]
			out = append(out, RestJoint{j.piece, sideOfTag(j.tag), l.P, l.Q})
		}
	}
	return out
}

// audit compares the areas of the taken pieces and the rests with the board's.
func (c *Cutter) audit(rests []Rest) error {
	sum, border := 0.0, 0.0
	for _, e := range c.edges {
		border += e.Len()
	}
	for _, p := range c.picked {
		sum += p.Region.Area()
		for _, l := range p.Region {
			border += l.Len()
		}
	}
	for _, r := range rests {
		sum += r.Region.Area()
	}
	if all := c.board.Area(); math.Abs(sum-all) > 1e-9*all+2*Snap*border {
		return errors.New("the areas of flats and bend areas do not add up to the board's area")
	}
	return nil
}

// jointEnds returns the nodes at which the pieces' joints end; board edges need no other points.
func jointEnds(pieces []StripPiece) map[int]bool {
	need := map[int]bool{}
	for _, p := range pieces {
		for _, loop := range p.links {
			for _, l := range loop {
				if l.tag < 0 {
					need[l.from], need[l.to] = true, true
				}
			}
		}
	}
	return need
}

// tidy joins parts of one board edge again where no joint ends between them.
func (c *Cutter) tidy(piece [][]link) [][]link {
	out := make([][]link, len(piece))
	for i, loop := range piece {
		out[i] = c.tidyLoop(loop)
	}
	return out
}

func (c *Cutter) tidyLoop(loop []link) []link {
	merges := func(a, b link) bool {
		return a.tag >= 0 && a.tag < len(c.edges) && a.tag == b.tag && a.to == b.from && !c.needed[a.to] && !c.isEnd(a.tag, a.to)
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
			m := &out[last]
			whole := c.edges[m.tag]
			m.Q, m.to = l.Q, l.to
			m.C, m.R, m.Sweep = whole.C, whole.R, m.Sweep+l.Sweep
			m.Edge = m.Edge.fitted()
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
