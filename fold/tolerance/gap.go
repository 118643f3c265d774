package tolerance

import (
	"errors"
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
)

// Measured is a gap as it was measured, in the housing's frame, mm.
type Measured struct {
	Between [2]string     // names of the bodies
	At      [2]mgl64.Vec3 // nearest points, in the order of Between; in an overlap both ends of the way out
	Gap     float64       // below zero a penetration depth
	Low     float64       // lower bound of it, where curved bodies were measured by chords; 0.1 below Gap widens what Ends returns by 0.1
	Way     mgl64.Vec3    // for bodies that touch, so that At says nothing: the direction that takes the first away from the second

	// Alone takes the two points for all there is, as for a gap that was measured straight across at one place.
	Alone bool
	// Faces are the plane faces near At of bodies that are not the board's, boxes or pieces of the design, such as the
	// triangles of a housing's mesh: each a border, followed by those of its holes. They serve to find further nearest points.
	Faces [2][]Face
}

// Face is a plane face as its border and those of its holes, in either direction, in the housing's frame.
type Face [][]mgl64.Vec3

// Gain is by how much a gap grows with one hinge: the first number where the hinge goes up (angle toward the top, line along
// its normal, see Normal), the second where it goes down. Below zero the gap shrinks. Where one pair of points is the
// nearest the second is the first with the other sign; where several are, the gap is that of whichever comes nearest.
type Gain struct {
	Angle [2]float64 // mm for each degree
	Line  [2]float64 // mm for each 0.1 mm of shift
}

// Loss returns what the gap loses at most for each degree, and for each 0.1 mm of shift, whichever way the hinge is off: not
// below zero.
func (g Gain) Loss() (perDegree, perTenth float64) {
	return max(0, -g.Angle[0], -g.Angle[1]), max(0, -g.Line[0], -g.Line[1])
}

// pair is two points that are nearest, and by how much their distance grows for a degree and for a mm of each hinge.
type pair struct {
	a, b        Point
	angle, line []float64
}

// Worth is what a gap is worth.
type Worth struct {
	Gains []Gain // by hinge of the design; exactly zero for hinges that move both bodies alike
	// Pairs says how many pairs of points are nearest: more than one where faces or edges are parallel, and then the corners
	// of what lies opposite. The gap then has a one-sided derivative for each way a hinge can be off.
	Pairs int
	// Unsure says why there may be further nearest points, with a greater loss; "" where there are none.
	Unsure string

	folded   *fold.Folded
	measured Measured
	dir      mgl64.Vec3 // board frame: takes the first body away from the second
	pairs    []pair
}

// Of returns what a gap of a folded board is worth. Derivatives are exact for the points named. Where those were found on a
// cylinder drawn with a chord error, the way apart is off by up to sqrt(2 chord/radius) radians, half the angle of a chord,
// and the derivatives by that times how fast the points slide past each other; between plane faces, edges and corners
// nothing is lost. An error says why there are none: a name that no body bears, a bend in its free shape, bodies that touch
// without a known way apart.
func Of(f *fold.Folded, m Measured) (*Worth, error) {
	boardFromHousing := fold.Invert(f.Tree.HousingFromBoard())
	way, err := m.way(f.Tree.Design)
	if err != nil {
		return nil, err
	}
	w := &Worth{folded: f, measured: m, dir: fold.Turn(boardFromHousing, way), Gains: make([]Gain, len(f.Tree.Design.Hinges))}
	at := [][2]mgl64.Vec3{m.At}
	if !m.Alone {
		var more [][2]mgl64.Vec3
		more, w.Unsure = corners(f, &m, way)
		at = append(at, more...)
	}
	for _, x := range at {
		a, err := Named(f, m.Between[0], x[0])
		if err != nil {
			return nil, err
		}
		b, err := Named(f, m.Between[1], x[1])
		if err != nil {
			return nil, err
		}
		w.pairs = append(w.pairs, w.derive(a, b))
	}
	w.Pairs = len(w.pairs)
	w.gather()
	return w, nil
}

// touching is the distance in mm under which two points give no direction.
const touching = 1e-9

// way returns the unit direction that takes the first body away from the second, housing frame. What a piece grows by is
// taken off the gap and says nothing about the direction.
func (m *Measured) way(d *fold.Design) (mgl64.Vec3, error) {
	v := m.At[0].Sub(m.At[1])
	raw := m.Gap
	for _, name := range m.Between {
		if p := pieceOf(d, name); p != nil {
			raw += p.Grows
		}
	}
	switch {
	case v.Len() > touching && raw < 0:
		return v.Mul(-1 / v.Len()), nil
	case v.Len() > touching:
		return v.Mul(1 / v.Len()), nil
	case m.Way.Len() > 0:
		return m.Way.Normalize(), nil
	}
	return v, fmt.Errorf("%s and %s touch: %w", m.Between[0], m.Between[1], errNoWay)
}

// errNoWay says that two touching bodies have no direction between them.
var errNoWay = errors.New("no way apart is known, so nothing says what the gap between them is worth")

// derive returns a pair with its derivatives: the parts of the velocities along the way apart, of those hinges that do not
// move both points alike.
func (w *Worth) derive(a, b Point) pair {
	n := len(w.Gains)
	out := pair{a: a, b: b, angle: make([]float64, n), line: make([]float64, n)}
	pa, pb := a.path(w.folded.Tree), b.path(w.folded.Tree)
	first := common(pa, pb)
	for _, v := range a.velocities(w.folded, pa, first) {
		out.angle[v.hinge] += v.Angle.Dot(w.dir)
		out.line[v.hinge] += v.Line.Dot(w.dir)
	}
	for _, v := range b.velocities(w.folded, pb, first) {
		out.angle[v.hinge] -= v.Angle.Dot(w.dir)
		out.line[v.hinge] -= v.Line.Dot(w.dir)
	}
	return out
}

// gather takes for each hinge, each way, the pair that comes nearest.
func (w *Worth) gather() {
	for i := range w.Gains {
		g := Gain{Angle: [2]float64{math.Inf(1), math.Inf(1)}, Line: [2]float64{math.Inf(1), math.Inf(1)}}
		for _, p := range w.pairs {
			for k, sign := range [2]float64{1, -1} {
				g.Angle[k] = min(g.Angle[k], sign*p.angle[i]+0)
				g.Line[k] = min(g.Line[k], sign*p.line[i]/10+0)
			}
		}
		w.Gains[i] = g
	}
}
