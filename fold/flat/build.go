package flat

import (
	"fmt"
	"math"
)

// Vertex is one item of a written loop: a point reached by a straight edge or, with Via set, by an arc through Via;
// Round is the radius that rounds this corner, 0 for a sharp one.
type Vertex struct {
	P     Pt
	Round float64
	Via   *Pt
}

// BuildError says why a written loop is not one; Vertex is the index of the item to blame.
type BuildError struct {
	Vertex     int
	What, Hint string
}

// String returns the point for messages, to 0.0001 mm without trailing zeros.
func (p Pt) String() string { return fmt.Sprintf("(%s, %s)", Num(p.X), Num(p.Y)) }

// Num returns a length for messages: four decimals, trailing zeros removed.
func Num(v float64) string {
	v = math.Round(v*1e4)/1e4 + 0.0
	return fmt.Sprintf("%g", v)
}

// Build returns the closed loop through the vertices, corners rounded, run counter-clockwise, or all the reasons why
// there is none (those of the first kind that occurs: points, edges, roundings, room for them, crossings). Arcs go through
// the written points, before rounding; one of more than 4 radians comes as two edges. A last point equal to the first is
// dropped. Cost: n log n for outlines whose edges are short beside the whole.
func Build(items []Vertex) (Loop, []BuildError) {
	items, index := dropClosing(items)
	if errs := checkPoints(items, index); errs != nil {
		return nil, errs
	}
	segs, errs := segments(items, index)
	if errs != nil {
		return nil, errs
	}
	fillets, errs := fillets(items, index, segs)
	if errs != nil {
		return nil, errs
	}
	loop, owner, errs := trim(items, index, segs, fillets)
	if errs != nil {
		return nil, errs
	}
	if i, p, ok := selfMeet(loop); ok {
		return nil, []BuildError{{owner[i], fmt.Sprintf("the loop crosses or touches itself at %v", p), "draw it without crossing; two areas that touch are two loops"}}
	}
	return loop.CCW(), nil
}

// dropClosing removes a last point that repeats the first (an arc to it then leads to the first), and returns for each kept
// item its index as written.
func dropClosing(items []Vertex) ([]Vertex, []int) {
	items = append([]Vertex(nil), items...)
	index := make([]int, len(items))
	for i := range index {
		index[i] = i
	}
	last := len(items) - 1
	if last < 1 || items[0].Via != nil || items[0].P.Dist(items[last].P) > Snap {
		return items, index
	}
	if items[last].Via != nil {
		items[0].Via, index[0] = items[last].Via, last
	}
	items[0].Round = max(items[0].Round, items[last].Round)
	return items[:last], index[:last]
}

// checkPoints reports coordinates that cannot be used and loops that are too short.
func checkPoints(items []Vertex, index []int) []BuildError {
	var errs []BuildError
	curved := false
	for i, v := range items {
		curved = curved || v.Via != nil
		for _, p := range []*Pt{&v.P, v.Via} {
			if p != nil && !(math.Abs(p.X) <= Far && math.Abs(p.Y) <= Far) {
				errs = append(errs, BuildError{index[i], fmt.Sprintf("coordinate beyond %g mm", Far), "check the units; move the board near the origin"})
			}
		}
		if !(v.Round >= 0 && v.Round <= Far) {
			errs = append(errs, BuildError{index[i], "a rounding radius is zero or a positive length", ""})
		}
	}
	if len(items) < 2 || len(items) < 3 && !curved {
		e := BuildError{0, fmt.Sprintf("a loop needs at least three corners, or two with an arc between; this one has %d", len(items)), ""}
		if curved {
			e.Hint = circleHint
		}
		errs = append(errs, e)
	}
	return errs
}

// segments returns the edges between the written points; edge i ends at item i.
func segments(items []Vertex, index []int) ([]Edge, []BuildError) {
	var errs []BuildError
	segs := make([]Edge, len(items))
	for i, v := range items {
		p := items[(i+len(items)-1)%len(items)].P
		if v.Via != nil {
			e, what, hint := arcThrough(p, *v.Via, v.P)
			if what == "" && !within(e.Box()) {
				what, hint = fmt.Sprintf("the arc from %v via %v to %v reaches beyond %g mm", p, *v.Via, v.P, Far), "move via nearer to the chord"
			}
			if what != "" {
				errs = append(errs, BuildError{index[i], what, hint})
			}
			segs[i] = e
			continue
		}
		if p.Dist(v.P) <= Snap {
			errs = append(errs, BuildError{index[i], fmt.Sprintf("edge of no length at %v", v.P), "remove the repeated point"})
		}
		segs[i] = Line(p, v.P)
	}
	return segs, errs
}

// within reports whether a box keeps to the coordinates that are accepted.
func within(b Box) bool {
	return b.Min.X >= -Far && b.Min.Y >= -Far && b.Max.X <= Far && b.Max.Y <= Far
}

const circleHint = "write a full circle as {circle: [x, y], diameter: d}"

// arcThrough returns the arc from p through via to q, or what is wrong and the way out.
func arcThrough(p, via, q Pt) (e Edge, what, hint string) {
	switch {
	case p.Dist(q) <= Snap:
		return e, fmt.Sprintf("the arc ends where it starts, at %v", q), circleHint
	case p.Dist(via) <= Snap || q.Dist(via) <= Snap:
		return e, fmt.Sprintf("the arc's via point %v is one of its ends", via), "give a point between the ends, on the arc"
	}
	a, b := via.Sub(p), q.Sub(p)
	if math.Abs(b.Cross(a))/b.Len() <= Snap {
		return e, fmt.Sprintf("the arc from %v via %v to %v is straight", p, via, q), "move via off the chord, or write a plain point"
	}
	d := 2 * a.Cross(b)
	aa, bb := a.Dot(a), b.Dot(b)
	c := p.Add(Pt{(float64(b.Y*aa) - float64(a.Y*bb)) / d, (float64(a.X*bb) - float64(b.X*aa)) / d})
	if r := c.Dist(p); !(r <= flattest) {
		return e, fmt.Sprintf("the arc from %v via %v to %v is too flat: its radius would be %.3g mm", p, via, q, r), "write a plain point"
	}
	return arcAbout(p, q, c, via.Sub(p).Cross(q.Sub(via)) > 0), "", ""
}

// arcAbout returns the arc from p to q about c, counter-clockwise or not.
func arcAbout(p, q, c Pt, ccw bool) Edge {
	u, v := p.Sub(c), q.Sub(c)
	sweep := math.Atan2(u.Cross(v), u.Dot(v))
	if ccw && sweep <= 0 {
		sweep += 2 * math.Pi
	}
	if !ccw && sweep >= 0 {
		sweep -= 2 * math.Pi
	}
	return Edge{P: p, Q: q, C: c, R: (u.Len() + v.Len()) / 2, Sweep: sweep}
}

// Rect returns the counter-clockwise rectangle from (x0, y0) to (x1, y1), its corners rounded with radius corner.
func Rect(x0, y0, x1, y1, corner float64) (Loop, []BuildError) {
	if !(x0 < x1 && y0 < y1) {
		return nil, []BuildError{{0, fmt.Sprintf("the rectangle [%s, %s, %s, %s] is empty or turned round", Num(x0), Num(y0), Num(x1), Num(y1)), "write [x0, y0, x1, y1] with x0 < x1 and y0 < y1"}}
	}
	return Build([]Vertex{{P: Pt{x0, y0}, Round: corner}, {P: Pt{x1, y0}, Round: corner}, {P: Pt{x1, y1}, Round: corner}, {P: Pt{x0, y1}, Round: corner}})
}

// Circle returns the counter-clockwise circle about c, as two half circles that start at its largest x.
func Circle(c Pt, diameter float64) (Loop, []BuildError) {
	if !(diameter > 2*Snap && diameter <= Far) || !(math.Abs(c.X) <= Far && math.Abs(c.Y) <= Far) {
		return nil, []BuildError{{0, fmt.Sprintf("a circle needs a positive diameter and a place within %g mm", Far), ""}}
	}
	r := diameter / 2
	a, b := Pt{c.X + r, c.Y}, Pt{c.X - r, c.Y}
	return Loop{{P: a, Q: b, C: c, R: r, Sweep: math.Pi}, {P: b, Q: a, C: c, R: r, Sweep: math.Pi}}, nil
}
