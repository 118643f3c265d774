package mesh

import (
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/flat"
)

// A grid solid is a union of boxes along the axes: the cells between all their coordinates that some box fills.
type gridSolid struct {
	at   [3][]float64 // coordinates of the cells' walls
	size [3]int       // number of cells
	full []bool
}

// unionOfBoxes returns the union of boxes x0 y0 z0 x1 y1 z1 as a closed body without inner walls, exact up to
// coordinates within flat.Snap of each other, which become one. Its walls are cut where any box's walls are, so no edge ends
// inside another. Boxes that touch only along an edge or at a corner do not share nodes there.
func unionOfBoxes(boxes [][6]float64) *builder {
	s := newGridSolid(boxes)
	b, closed := s.skin()
	if !closed {
		for k := range 3 {
			s.at[k] = halved(s.at[k])
		}
		b, _ = s.fill(boxes).skin()
	}
	return b
}

// newGridSolid returns the cells that the boxes fill.
func newGridSolid(boxes [][6]float64) *gridSolid {
	s := &gridSolid{}
	for k := range 3 {
		for _, b := range boxes {
			s.at[k] = append(s.at[k], b[k], b[k+3])
		}
		slices.Sort(s.at[k])
		last := 0
		for _, v := range s.at[k] {
			if v-s.at[k][last] > flat.Snap {
				last++
				s.at[k][last] = v
			}
		}
		s.at[k] = s.at[k][:last+1]
	}
	return s.fill(boxes)
}

// fill marks the cells whose middle lies in a box.
func (s *gridSolid) fill(boxes [][6]float64) *gridSolid {
	for k := range 3 {
		s.size[k] = len(s.at[k]) - 1
	}
	s.full = make([]bool, s.size[0]*s.size[1]*s.size[2])
	for c := range s.full {
		i := s.split(c)
		for _, b := range boxes {
			in := true
			for k := range 3 {
				mid := (s.at[k][i[k]] + s.at[k][i[k]+1]) / 2
				in = in && min(b[k], b[k+3]) < mid && mid < max(b[k], b[k+3])
			}
			s.full[c] = s.full[c] || in
		}
	}
	return s
}

// split returns a cell's place along x, y, z.
func (s *gridSolid) split(c int) [3]int {
	return [3]int{c % s.size[0], c / s.size[0] % s.size[1], c / s.size[0] / s.size[1]}
}

// isFull reports whether the cell at i exists and is full.
func (s *gridSolid) isFull(i [3]int) bool {
	for k := range 3 {
		if i[k] < 0 || i[k] >= s.size[k] {
			return false
		}
	}
	return s.full[i[0]+s.size[0]*(i[1]+s.size[1]*i[2])]
}

// place numbers a corner of cells.
func (s *gridSolid) place(i [3]int) int {
	return i[0] + (s.size[0]+1)*(i[1]+(s.size[1]+1)*i[2])
}

// halved returns the coordinates with the middles between them.
func halved(v []float64) []float64 {
	var out []float64
	for i, x := range v {
		if i > 0 {
			out = append(out, (v[i-1]+x)/2)
		}
		out = append(out, x)
	}
	return out
}

// wallOf is a wall of a full cell towards an empty one: four corners seen counter-clockwise from outside.
type wallOf struct {
	corners [4]int // places
	normal  mgl64.Vec3
	cell    int
}

// walls lists the solid's walls.
func (s *gridSolid) walls() []wallOf {
	var out []wallOf
	for c, full := range s.full {
		if !full {
			continue
		}
		i := s.split(c)
		for k := range 3 {
			for _, step := range [2]int{-1, 1} {
				n := i
				n[k] += step
				if !s.isFull(n) {
					out = append(out, s.wall(i, k, step, c))
				}
			}
		}
	}
	return out
}

// wall returns the wall of cell i across axis k on the side of step.
func (s *gridSolid) wall(i [3]int, k, step, cell int) wallOf {
	w := wallOf{cell: cell}
	w.normal[k] = float64(step)
	u, v := (k+1)%3, (k+2)%3
	for n, d := range [4][2]int{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
		p := i
		p[k] += (step + 1) / 2
		p[u] += d[0]
		p[v] += d[1]
		w.corners[n] = s.place(p)
	}
	if step < 0 {
		slices.Reverse(w.corners[:])
	}
	return w
}
