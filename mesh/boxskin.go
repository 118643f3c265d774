package mesh

import (
	"cmp"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
)

// wallEdge is an edge of a wall: from its corner number at to the next.
type wallEdge struct {
	low, high int // places of its ends
	wall, at  int
}

// skin returns the solid's walls as triangles, and whether every edge is shared by two walls only. Corners of walls become
// one node where walls follow one another across edges; where four walls meet in an edge, those of one cell follow one
// another. (Two cells that touch along an edge and are joined at both of its ends still share that edge.)
func (s *gridSolid) skin() (*builder, bool) {
	walls := s.walls()
	same := newSets(4 * len(walls))
	edges := edgesOfWalls(walls)
	for len(edges) > 0 {
		n := 1
		for n < len(edges) && edges[n].low == edges[0].low && edges[n].high == edges[0].high {
			n++
		}
		for k := 0; k+1 < n; k += 2 {
			e, f := edges[k], edges[k+1]
			same.join(4*e.wall+e.at, 4*f.wall+(f.at+1)%4)
			same.join(4*e.wall+(e.at+1)%4, 4*f.wall+f.at)
		}
		edges = edges[n:]
	}
	b := s.nodes(walls, same)
	return b, paired(directedEdges(b.triangles)) == nil
}

// edgesOfWalls lists the walls' edges; those between the same places follow one another, in them those of one cell.
func edgesOfWalls(walls []wallOf) []wallEdge {
	var out []wallEdge
	for i, w := range walls {
		for k := range 4 {
			p, q := w.corners[k], w.corners[(k+1)%4]
			out = append(out, wallEdge{min(p, q), max(p, q), i, k})
		}
	}
	slices.SortFunc(out, func(a, b wallEdge) int {
		return cmp.Or(a.low-b.low, a.high-b.high, walls[a.wall].cell-walls[b.wall].cell, a.wall-b.wall)
	})
	return out
}

// nodes numbers the walls' corners and cuts each wall into two triangles.
func (s *gridSolid) nodes(walls []wallOf, same sets) *builder {
	b := &builder{}
	number := map[int]int32{}
	for i, w := range walls {
		var c [4]int32
		for k, place := range w.corners {
			root := same.find(4*i + k)
			n, ok := number[root]
			if !ok {
				n = int32(len(b.points))
				number[root] = n
				b.points = append(b.points, s.point(place))
			}
			c[k] = n
		}
		b.add(c[0], c[1], c[2], w.normal, w.normal, w.normal)
		b.add(c[0], c[2], c[3], w.normal, w.normal, w.normal)
	}
	return b
}

// point returns where a place is.
func (s *gridSolid) point(place int) mgl64.Vec3 {
	x := place % (s.size[0] + 1)
	y := place / (s.size[0] + 1) % (s.size[1] + 1)
	z := place / (s.size[0] + 1) / (s.size[1] + 1)
	return mgl64.Vec3{s.at[0][x], s.at[1][y], s.at[2][z]}
}

// sets keeps things sorted into sets that can be joined; each set is known by one of its members.
type sets []int

func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = i
	}
	return s
}

// find returns the member by which i's set is known.
func (s sets) find(i int) int {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// join makes one set of those of i and k, known by the smaller of their names.
func (s sets) join(i, k int) {
	i, k = s.find(i), s.find(k)
	s[max(i, k)] = min(i, k)
}
