package pattern

import (
	"errors"
	"fmt"
	"math"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
)

// mostCrease is the largest angle of one crease in degrees; folds beyond it get several.
const mostCrease = 120.0

// Crease says how to crease a fold instead of bending it, so that the part beyond lands where the board's does: N creases of the same
// angle on the corners of the polygon about the neutral arc. Lengths in mm.
type Crease struct {
	N     int     // creases
	Each  float64 // degrees
	Apart float64 // from one crease to the next
	Width float64 // of the bend area on the sheet: from one tangent point to the other along the polygon
}

// CreaseOf returns the creases for a fold by angle (degrees, either sense) of a bend area of that width. With R the neutral radius
// and a the angle the polygon's sides are 2 R tan(a/2N), half of that at both ends. Angle 0 gives the zero value.
func CreaseOf(angle, width float64) Crease {
	angle = math.Abs(angle)
	if angle == 0 {
		return Crease{}
	}
	n := max(1, int(math.Ceil(angle/mostCrease-1e-9)))
	side := 2 * width / (angle * (math.Pi / 180)) * math.Tan(angle/float64(2*n)*(math.Pi/180))
	return Crease{n, angle / float64(n), side, side * float64(n)}
}

// words returns what stands beside the hinge.
func (c Crease) words() string {
	if c.N == 1 {
		return "crease"
	}
	return fmt.Sprintf("%d creases of %s, %s mm apart", c.N, decimals(c.Each, 0, 2), decimals(c.Apart, 2, 2))
}

// creaseTable is the bending help of a sheet that is creased.
func creaseTable(t *fold.Tree) table {
	out := table{{"hinge", "step", "fold", "creases", "each", "apart", "bend area", "on the board"}}
	for i := range t.Design.Hinges {
		h := &t.Design.Hinges[i]
		width := widthOf(t, i)
		if h.Angle == 0 || width == 0 {
			continue
		}
		c := CreaseOf(h.Angle, width)
		row := []string{draw.Cut(draw.Plain(h.Name), 14), stepNumbers(t.Design, h.Name), decimals(math.Abs(h.Angle), 0, 2) + " " + sideName(toward(h.Angle)),
			fmt.Sprint(c.N), decimals(c.Each, 0, 2), "-", decimals(c.Width, 2, 3), decimals(width, 2, 3)}
		if c.N > 1 {
			row[5] = decimals(c.Apart, 2, 2)
		}
		out = append(out, row)
	}
	return out.withoutSteps(t)
}

// stretch takes the board to the sheet that is creased: flats are shifted, bend areas stretched across. nil changes nothing.
type stretch struct {
	tree   *fold.Tree
	moved  []flat.Pt // by flat
	longer []float64 // by bend, mm
	board  flat.Region
}

// stretched returns the sheet for creasing, or what keeps it from being made.
func stretched(t *fold.Tree) (*stretch, error) {
	if !t.Foldable {
		return nil, errors.New("bend areas overlap: their lengths cannot be shifted for creasing")
	}
	s := &stretch{tree: t, moved: make([]flat.Pt, len(t.Flats)), longer: make([]float64, len(t.Bends))}
	for i := range t.Bends {
		b := &t.Bends[i]
		s.longer[i] = CreaseOf(t.Design.Hinges[b.Hinge].Angle, b.Width).Width - b.Width
	}
	for i, f := range t.Flats {
		if f.Parent >= 0 {
			s.moved[i] = s.beside(f.Bend, f.Far)
		}
	}
	for _, j := range t.Joints {
		if s.moved[j.Flat].Dist(s.beside(j.Bend, j.Far)) > 1e-6 {
			return nil, fmt.Errorf("the flex makes a loop through %s: its lengths cannot be shifted for creasing", t.Bends[j.Bend].Name)
		}
	}
	return s, s.cutOut()
}

// beside returns the shift of the flats on one side of a bend.
func (s *stretch) beside(bend int, far bool) flat.Pt {
	b := &s.tree.Bends[bend]
	out := s.moved[b.Parent]
	if far {
		out = out.Add(b.Dir.Mul(s.longer[bend]))
	}
	return out
}

// inBend returns where a point of a bend area goes.
func (s *stretch) inBend(bend int, p flat.Pt) flat.Pt {
	b := &s.tree.Bends[bend]
	return p.Add(s.moved[b.Parent]).Add(b.Dir.Mul(s.longer[bend] * b.Station(p) / b.Width))
}

// ofFlat returns an edge of a flat on the sheet.
func (s *stretch) ofFlat(i int, e flat.Edge) flat.Edge {
	d := s.moved[i]
	return flat.Edge{P: e.P.Add(d), Q: e.Q.Add(d), C: e.C.Add(d), R: e.R, Sweep: e.Sweep}
}

// ofBend returns an edge of a bend area on the sheet; an arc becomes chords within 0.005 mm.
func (s *stretch) ofBend(i int, e flat.Edge) []flat.Edge {
	var out []flat.Edge
	p := s.inBend(i, e.P)
	for _, q := range e.Points(chord / 10) {
		q = s.inBend(i, q)
		out = append(out, flat.Line(p, q))
		p = q
	}
	return out
}

// cutOut finds the sheet's border: the borders of all flats and bend areas without the joints between them.
func (s *stretch) cutOut() error {
	seen := once{newGrid(s.tree.Board.Box()), flat.Snap}
	for _, j := range s.tree.Joints {
		seen.grid.add(flat.Line(j.P, j.Q))
	}
	var edges []flat.Edge
	for i, f := range s.tree.Flats {
		for _, e := range f.Region.Edges() {
			for _, part := range seen.rest(e) {
				edges = append(edges, s.ofFlat(i, part))
			}
		}
	}
	for i := range s.tree.Bends {
		for _, e := range s.tree.Bends[i].Region.Edges() {
			for _, part := range seen.rest(e) {
				edges = append(edges, s.ofBend(i, part)...)
			}
		}
	}
	var err error
	s.board, err = chained(edges)
	return err
}

// border finds the edge that goes on where another ends.
type border struct {
	edges  []flat.Edge
	starts map[[2]int][]int // by cell of a grid: the edges that begin there
	used   []bool
}

// chainSnap is the width of the cells, and up to where an end and a beginning count as one point, in mm.
const chainSnap = 4 * flat.Snap

func cell(p flat.Pt) [2]int {
	return [2]int{int(math.Floor(p.X / chainSnap)), int(math.Floor(p.Y / chainSnap))}
}

// next returns an unused edge that begins at p, -1 for none.
func (c *border) next(p flat.Pt) int {
	at := cell(p)
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			for _, i := range c.starts[[2]int{at[0] + dx, at[1] + dy}] {
				if !c.used[i] && c.edges[i].P.Dist(p) < chainSnap {
					return i
				}
			}
		}
	}
	return -1
}

// loop takes the edges from i on, as far as they go.
func (c *border) loop(i int) flat.Loop {
	var out flat.Loop
	for ; i >= 0; i = c.next(out[len(out)-1].Q) {
		e := c.edges[i]
		if n := len(out); n > 0 {
			e.P = out[n-1].Q
		}
		c.used[i] = true
		out = append(out, e)
	}
	return out
}

// chained joins edges, each of which begins where another ends, to loops. Loops thinner than a sliver, which drawings with rounded
// coordinates have beside their tangent lines, are left out.
func chained(edges []flat.Edge) (flat.Region, error) {
	const sliver = 1e-4
	c := &border{edges, map[[2]int][]int{}, make([]bool, len(edges))}
	for i, e := range edges {
		c.starts[cell(e.P)] = append(c.starts[cell(e.P)], i)
	}
	var out flat.Region
	for i := range edges {
		if c.used[i] {
			continue
		}
		loop := c.loop(i)
		n := len(loop)
		if loop[n-1].Q.Dist(loop[0].P) > chainSnap {
			return nil, fmt.Errorf("the sheet for creasing has no closed border near %v", loop[n-1].Q)
		}
		loop[n-1].Q = loop[0].P
		if math.Abs(loop.Area()) > sliver*loop.Len()/2 {
			out = append(out, loop)
		}
	}
	return out, nil
}

// creases returns the lines of a bend on the sheet, from its near side to its far side.
func (s *stretch) creases(bend int) [][2]flat.Pt {
	b := &s.tree.Bends[bend]
	c := CreaseOf(s.tree.Design.Hinges[b.Hinge].Angle, b.Width)
	var out [][2]flat.Pt
	for k := range c.N {
		at := (float64(k) + 0.5) / float64(c.N) * b.Width
		u := b.Dir.Left()
		base := b.Origin.Add(b.Dir.Mul(at))
		for _, x := range b.Region.Stretches(base, u) {
			out = append(out, [2]flat.Pt{s.inBend(bend, base.Add(u.Mul(x[0]))), s.inBend(bend, base.Add(u.Mul(x[1])))})
		}
	}
	return out
}

// place returns by how much something is shifted that stands at a point: with its flat or its bend; not at all off the board.
func (s *stretch) place(p flat.Pt) flat.Pt {
	for i, f := range s.tree.Flats {
		if f.Region.Contains(p) {
			return s.moved[i]
		}
	}
	for i := range s.tree.Bends {
		if s.tree.Bends[i].Region.Contains(p) {
			return s.inBend(i, p).Sub(p)
		}
	}
	return flat.Pt{}
}
