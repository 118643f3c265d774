package mesh

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"foldfit/fold/flat"
)

// A sweep triangulates loops from left to right. A vertical line, leaning a hair so that points above each other come one
// after the other, passes over the points. It meets the area in spans: each lies between a lower and an upper edge.
// What is already triangulated ends in each span in a chain of links from the lower edge's left end to the upper edge's
// left end. A new point joins the end of its span's chain, and triangles are cut off as long as corners are convex. After
// that the point reached last is the rightmost of the chain, which sees the whole span: a point in the middle of a span
// (where a hole begins) is joined to it.
//
// An edge is named by its first point; to the left of it lies the area. So edges that run to the right are lower edges.
type sweep struct {
	at         []flat.Pt
	prev, next []int32
	links      []link
	spans      spanTree
	spanOf     []*span // of each edge that the line crosses
	out        [][3]int32
}

// link is a point of a chain; -1 ends the chain.
type link struct{ point, down, up int32 }

// errCrossing says that the sweep met edges in an order that loops without crossings cannot give.
var errCrossing = errors.New("the loops cross or run the wrong way round")

// newSweep joins the loops' points to rings.
func newSweep(loops [][]flat.Pt) (*sweep, error) {
	n := 0
	for _, l := range loops {
		n += len(l)
	}
	if n > math.MaxInt32/4 {
		return nil, fmt.Errorf("%d points are too many", n)
	}
	s := &sweep{at: make([]flat.Pt, 0, n), prev: make([]int32, n), next: make([]int32, n),
		links: make([]link, 0, n+n/4), spanOf: make([]*span, n), out: make([][3]int32, 0, n+2*len(loops))}
	for _, l := range loops {
		first := int32(len(s.at))
		if len(l) < 3 {
			return nil, fmt.Errorf("a loop of %d points has no area", len(l))
		}
		for i, p := range l {
			if q := l[(i+1)%len(l)]; p == q || !finite(p) {
				return nil, fmt.Errorf("the point (%g, %g) repeats or is not finite", p.X, p.Y)
			}
			s.at = append(s.at, p)
			s.next[first+int32(i)] = first + int32((i+1)%len(l))
			s.prev[first+int32((i+1)%len(l))] = first + int32(i)
		}
	}
	return s, nil
}

// finite reports whether p has finite coordinates.
func finite(p flat.Pt) bool { return !math.IsInf(p.X, 0) && !math.IsInf(p.Y, 0) && p == p }

// run passes the line over all points.
func (s *sweep) run() error {
	for _, v := range s.order() {
		var err error
		switch left, right := s.toRight(s.prev[v], v), s.toRight(v, s.next[v]); {
		case left && right:
			err = s.passLower(v)
		case !left && !right:
			err = s.passUpper(v)
		case left:
			err = s.close(v)
		case s.convex(v):
			err = s.start(v)
		default:
			err = s.split(v)
		}
		if err != nil {
			return fmt.Errorf("%w near (%.6g, %.6g)", err, s.at[v].X, s.at[v].Y)
		}
	}
	return nil
}

// toRight reports whether the edge from u to v runs to the right.
func (s *sweep) toRight(u, v int32) bool { return before(s.at[u], s.at[v]) }

// convex reports whether the corner at v turns left, or is a needle.
func (s *sweep) convex(v int32) bool { return orient(s.at[s.prev[v]], s.at[v], s.at[s.next[v]]) >= 0 }

// order returns the points from left to right. Where points coincide, those with an edge on their left come first; of the
// others (starts and splits) one whose edges enclose another's comes before it.
func (s *sweep) order() []int32 {
	order := make([]int32, len(s.at))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(u, v int32) int {
		p, q := s.at[u], s.at[v]
		if p != q {
			return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y))
		}
		if s.opens(u) != s.opens(v) {
			if s.opens(u) {
				return 1
			}
			return -1
		}
		if s.opens(u) {
			lowU, highU := s.fork(u)
			lowV, highV := s.fork(v)
			return cmp.Or(orient(p, lowV, lowU), orient(p, highU, highV), cmp.Compare(u, v))
		}
		return cmp.Compare(u, v)
	})
	return order
}

// opens reports whether both edges of v run to its right.
func (s *sweep) opens(v int32) bool { return s.toRight(v, s.prev[v]) && s.toRight(v, s.next[v]) }

// fork returns the right ends of the lower and the upper edge of a point whose edges both run to its right.
func (s *sweep) fork(v int32) (low, high flat.Pt) {
	low, high = s.at[s.next[v]], s.at[s.prev[v]]
	if !s.convex(v) {
		low, high = high, low
	}
	return low, high
}

// start begins a span at v.
func (s *sweep) start(v int32) error {
	below, inside := s.spans.find(s, v)
	if inside {
		return errCrossing
	}
	l := s.link(v)
	sp := &span{low: v, high: s.prev[v], bottom: l, top: l, last: l}
	s.spanOf[sp.low], s.spanOf[sp.high] = sp, sp
	s.spans.insert(sp, below)
	return nil
}

// split divides a span at v, where a hole begins.
func (s *sweep) split(v int32) error {
	lower, inside := s.spans.find(s, v)
	if !inside {
		return errCrossing
	}
	seen := lower.last
	twin := s.link(s.links[seen].point)
	upper := &span{low: v, high: lower.high, bottom: twin, top: lower.top}
	if seen == lower.top {
		upper.top = twin
	} else {
		s.tie(twin, s.links[seen].up)
		s.links[seen].up = -1
	}
	lower.high, lower.top = s.prev[v], seen
	s.spanOf[lower.high], s.spanOf[upper.low], s.spanOf[upper.high] = lower, upper, upper
	s.pushHigh(lower, v, false)
	s.pushLow(upper, v, false)
	s.spans.insert(upper, lower)
	return nil
}

// passLower moves on from one lower edge to the next.
func (s *sweep) passLower(v int32) error {
	sp := s.spanOf[s.prev[v]]
	if sp == nil || sp.low != s.prev[v] {
		return errCrossing
	}
	s.pushLow(sp, v, false)
	sp.low, s.spanOf[v] = v, sp
	return nil
}

// passUpper moves on from one upper edge to the next.
func (s *sweep) passUpper(v int32) error {
	sp := s.spanOf[v]
	if sp == nil || sp.high != v {
		return errCrossing
	}
	s.pushHigh(sp, v, false)
	sp.high, s.spanOf[s.prev[v]] = s.prev[v], sp
	return nil
}

// close ends the span above the edge that comes to v and below the edge that leaves it; or, where these are two spans with
// a hole between them that ends at v, merges them.
func (s *sweep) close(v int32) error {
	upper, lower := s.spanOf[s.prev[v]], s.spanOf[v]
	if upper == nil || lower == nil || upper.low != s.prev[v] || lower.high != v {
		return errCrossing
	}
	if upper == lower {
		s.pushLow(upper, v, true)
		s.spans.remove(upper)
		return nil
	}
	s.pushHigh(lower, v, false)
	s.pushLow(upper, v, false)
	joint := lower.top
	s.tie(joint, s.links[upper.bottom].up)
	lower.high, lower.top, lower.last = upper.high, upper.top, joint
	s.spanOf[lower.high] = lower
	s.spans.remove(upper)
	return nil
}

// link returns a new link of no chain.
func (s *sweep) link(point int32) int32 {
	s.links = append(s.links, link{point: point, down: -1, up: -1})
	return int32(len(s.links) - 1)
}

// tie makes link b follow link a in a chain.
func (s *sweep) tie(a, b int32) { s.links[a].up, s.links[b].down = b, a }

// pushLow puts v at the lower end of a span's chain and cuts off what triangles it can; all if force is set.
func (s *sweep) pushLow(sp *span, v int32, force bool) {
	for sp.bottom != sp.top {
		end := s.links[sp.bottom]
		far := s.links[end.up].point
		if !force && !s.cuts(end.point, v, far, end.point, far, v) {
			break
		}
		s.out = append(s.out, [3]int32{end.point, v, far})
		sp.bottom = end.up
	}
	l := s.link(v)
	s.tie(l, sp.bottom)
	sp.bottom, sp.last = l, l
}

// pushHigh puts v at the upper end of a span's chain and cuts off what triangles it can.
func (s *sweep) pushHigh(sp *span, v int32, force bool) {
	for sp.bottom != sp.top {
		end := s.links[sp.top]
		far := s.links[end.down].point
		if !force && !s.cuts(far, v, end.point, end.point, far, v) {
			break
		}
		s.out = append(s.out, [3]int32{far, v, end.point})
		sp.top = end.down
	}
	l := s.link(v)
	s.tie(sp.top, l)
	sp.top, sp.last = l, l
}

// cuts reports whether the triangle a b c may be cut off: it has area, or its corners are in line and end, which goes,
// does not lie between the two that stay (then the loops touch here).
func (s *sweep) cuts(a, b, c, end, far, v int32) bool {
	switch orient(s.at[a], s.at[b], s.at[c]) {
	case 1:
		return true
	case -1:
		return false
	}
	return !before(s.at[far], s.at[end]) || !before(s.at[end], s.at[v])
}
