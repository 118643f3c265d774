package flat

// Loop is a closed chain of edges: each ends where the next begins, the last where the first begins.
type Loop []Edge

// Area returns the enclosed area in mm2, exact to rounding, positive for a counter-clockwise loop.
func (l Loop) Area() float64 {
	a := 0.0
	for _, e := range l {
		a += e.momentAbout(l[0].P)
	}
	return a
}

// Len returns the length of l in mm.
func (l Loop) Len() float64 {
	sum := 0.0
	for _, e := range l {
		sum += e.Len()
	}
	return sum
}

// Rev returns l run the other way round.
func (l Loop) Rev() Loop {
	out := make(Loop, len(l))
	for i, e := range l {
		out[len(l)-1-i] = e.Rev()
	}
	return out
}

// CCW returns l run counter-clockwise.
func (l Loop) CCW() Loop {
	if l.Area() < 0 {
		return l.Rev()
	}
	return l
}

// Box returns the bounding box of l.
func (l Loop) Box() Box {
	b := EmptyBox()
	for _, e := range l {
		b = b.Join(e.Box())
	}
	return b
}

// Points returns the corners of l with its arcs cut into chords (see Edge.Points), each point once, in order.
func (l Loop) Points(chord float64) []Pt {
	var out []Pt
	for _, e := range l {
		out = append(out, e.Points(chord)...)
	}
	return out
}

// Region is an area bounded by loops that do not cross: outer loops counter-clockwise, holes clockwise. A piece is a
// region with exactly one outer loop, which comes first. The zero value is the empty region.
type Region []Loop

// Area returns the area in mm2, exact to rounding.
func (r Region) Area() float64 {
	a := 0.0
	for _, l := range r {
		a += l.Area()
	}
	return a
}

// Box returns the bounding box of r.
func (r Region) Box() Box {
	b := EmptyBox()
	for _, l := range r {
		b = b.Join(l.Box())
	}
	return b
}

// Edges returns all edges of r, loop after loop.
func (r Region) Edges() []Edge {
	var out []Edge
	for _, l := range r {
		out = append(out, l...)
	}
	return out
}
