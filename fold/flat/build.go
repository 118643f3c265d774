package flat

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

// Build returns the closed loop through the vertices, corners rounded, run counter-clockwise, or all the reasons why
// there is none.
func Build(items []Vertex) (Loop, []BuildError) { return nil, nil }

// Rect returns the counter-clockwise rectangle from (x0, y0) to (x1, y1), its corners rounded with radius corner.
func Rect(x0, y0, x1, y1, corner float64) (Loop, []BuildError) { return nil, nil }

// Circle returns the counter-clockwise circle about c, as two half circles that start at its largest x.
func Circle(c Pt, diameter float64) (Loop, []BuildError) { return nil, nil }

// Contains reports whether p is inside r (left of its edges); points within Snap of an edge may go either way.
func (r Region) Contains(p Pt) bool { return false }
