package mesh

import (
	"cmp"
	"errors"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// A strip is the polygon of a bend area on its stations: every side is cut where it crosses one, so that each piece either
// lies on a station or spans the slab between two. s counts across the hinge line from the near tangent line, t along it,
// so that (s, t) is the flat turned.
type strip struct {
	bend *fold.Bend
	st   *stations

	at         []flat.Pt
	t          []float64
	station    []int32
	prev, next []int32
	out        [][2]flat.Pt // of the piece that begins at a node

	lines  [][]int32 // the nodes on each station by t, without tips
	place  []int32   // of each node in its line; -1 for a tip
	widest float64   // gap between stations, mm
	lean   float64   // largest product of gap and lean of a side across it
}

// errLines says that sides cross each other on their way from station to station.
var errLines = errors.New("the borders of the bend area cross")

// newStrip cuts a polygon at stations as close as the curl wants.
func newStrip(b *fold.Bend, poly polygon, c curl) *strip {
	var values []float64
	var sides []reach
	for _, ring := range poly {
		for i, s := range ring {
			q := ring[(i+1)%len(ring)].p
			from, to := c.stationOf(b, s.p), c.stationOf(b, q)
			values = append(values, from)
			sides = append(sides, reach{from, to, c.lean(to-from, q.Sub(s.p).Dot(b.Dir.Left()))})
		}
	}
	sp := &strip{bend: b, st: newStations(values, sides, c)}
	for _, ring := range poly {
		sp.addRing(ring, c)
	}
	for i := 1; i < len(sp.st.at); i++ {
		sp.widest = max(sp.widest, sp.st.at[i]-sp.st.at[i-1])
	}
	sp.sortLines()
	return sp
}

// addRing appends a ring's sides, cut at the stations.
func (sp *strip) addRing(ring []side, c curl) {
	first := int32(len(sp.at))
	for i, s := range ring {
		q := ring[(i+1)%len(ring)].p
		from, to := c.stationOf(sp.bend, s.p), c.stationOf(sp.bend, q)
		lean := c.lean(to-from, q.Sub(s.p).Dot(sp.bend.Dir.Left()))
		k, last := sp.st.of(from), sp.st.of(to)
		p, out := s.p, s.out[0]
		for k != last {
			step := int32(sign(float64(last - k)))
			gap := sp.st.at[k+step] - sp.st.at[k]
			sp.lean = max(sp.lean, lean*max(gap, -gap))
			if k+step == last {
				break
			}
			f := (sp.st.at[k+step] - from) / (to - from)
			n := flat.Line(s.out[0], s.out[1]).At(f).Unit()
			sp.addNode(p, k, [2]flat.Pt{out, n})
			p, out = flat.Line(s.p, q).At(f), n
			k += step
		}
		sp.addNode(p, k, [2]flat.Pt{out, s.out[1]})
	}
	n := int32(len(sp.at))
	for i := first; i < n; i++ {
		sp.next = append(sp.next, i+1)
		sp.prev = append(sp.prev, i-1)
	}
	sp.next[n-1], sp.prev[first] = first, n-1
}

// addNode appends a node at p on station k, where a piece with the given normals begins.
func (sp *strip) addNode(p flat.Pt, k int32, out [2]flat.Pt) {
	sp.at = append(sp.at, p)
	sp.t = append(sp.t, p.Dot(sp.bend.Dir.Left()))
	sp.station = append(sp.station, k)
	sp.out = append(sp.out, out)
}

// isTip reports whether the area at node v lies in a wedge strictly on one side of its station.
func (sp *strip) isTip(v int32) bool {
	p, n := sp.station[sp.prev[v]], sp.station[sp.next[v]]
	return p == n && p != sp.station[v] && orient(sp.at[sp.prev[v]], sp.at[v], sp.at[sp.next[v]]) > 0
}

// sortLines sorts the nodes on each station by t. Of two nodes in one place the one whose sides point lower comes first:
// the area below the place is its own, the area above the other's.
func (sp *strip) sortLines() {
	sp.lines = make([][]int32, len(sp.st.at))
	sp.place = make([]int32, len(sp.at))
	for v := range int32(len(sp.at)) {
		sp.place[v] = -1
		if !sp.isTip(v) {
			k := sp.station[v]
			sp.lines[k] = append(sp.lines[k], v)
		}
	}
	for _, line := range sp.lines {
		slices.SortFunc(line, func(v, w int32) int {
			if sp.t[v] != sp.t[w] {
				return cmp.Compare(sp.t[v], sp.t[w])
			}
			return cmp.Or(cmp.Compare(sp.rise(v), sp.rise(w)), cmp.Compare(v, w))
		})
		for i, v := range line {
			sp.place[v] = int32(i)
		}
	}
}

// rise tells how far the two sides at a node point up along the station, -2 to 2.
func (sp *strip) rise(v int32) float64 {
	up, p := sp.bend.Dir.Left(), sp.at[v]
	return sp.at[sp.prev[v]].Sub(p).Unit().Dot(up) + sp.at[sp.next[v]].Sub(p).Unit().Dot(up)
}

// slabs returns for each gap between stations the pieces that span it, by their first node, from low to high t.
func (sp *strip) slabs() [][]int32 {
	slabs := make([][]int32, len(sp.st.at))
	for v, n := range sp.next {
		if k := min(sp.station[v], sp.station[n]); k != max(sp.station[v], sp.station[n]) {
			slabs[k] = append(slabs[k], int32(v))
		}
	}
	for _, slab := range slabs {
		slices.SortFunc(slab, func(v, w int32) int {
			return cmp.Or(cmp.Compare(sp.t[v]+sp.t[sp.next[v]], sp.t[w]+sp.t[sp.next[w]]), cmp.Compare(v, w))
		})
	}
	return slabs
}

// mesh returns the closed body between two heights, in the flat.
func (sp *strip) mesh(faces [2]float64) (*builder, error) {
	b := &builder{}
	for _, z := range faces {
		for _, p := range sp.at {
			b.points = append(b.points, mgl64.Vec3{p.X, p.Y, z})
		}
	}
	rise := int32(len(sp.at))
	for _, slab := range sp.slabs() {
		for i := 0; i < len(slab); i += 2 {
			if i+1 == len(slab) {
				return nil, errLines
			}
			if err := sp.trapezoid(b, slab[i], slab[i+1]); err != nil {
				return nil, err
			}
		}
	}
	for v := range rise {
		b.wall(v, sp.next[v], rise, sp.out[v])
	}
	if paired(directedEdges(b.triangles)) != nil {
		return nil, errLines
	}
	return b, nil
}

// trapezoid covers the area between two pieces that span a slab: the lower one runs from left to right, the upper one
// back.
func (sp *strip) trapezoid(b *builder, low, high int32) error {
	if sp.station[low] > sp.station[sp.next[low]] || sp.station[high] < sp.station[sp.next[high]] {
		return errLines
	}
	left, okLeft := sp.chain(low, sp.next[high])
	right, okRight := sp.chain(sp.next[low], high)
	if !okLeft || !okRight {
		return errLines
	}
	rise := int32(len(sp.at))
	for i, k := 0, 0; i+1 < len(left) || k+1 < len(right); {
		if i+1 == len(left) || k+1 < len(right) && sp.share(right, k+1) <= sp.share(left, i+1) {
			b.cap(left[i], right[k], right[k+1], rise)
			k++
		} else {
			b.cap(left[i], right[k], left[i+1], rise)
			i++
		}
	}
	return nil
}

// chain returns the nodes on a station from v up to w.
func (sp *strip) chain(v, w int32) ([]int32, bool) {
	if v == w {
		return []int32{v}, true
	}
	i, k := sp.place[v], sp.place[w]
	if i < 0 || k < i {
		return nil, false
	}
	return sp.lines[sp.station[v]][i : k+1], true
}

// share returns how far up its chain node number i lies, 0 to 1.
func (sp *strip) share(chain []int32, i int) float64 {
	low, high := sp.t[chain[0]], sp.t[chain[len(chain)-1]]
	if high == low {
		return 1
	}
	return (sp.t[chain[i]] - low) / (high - low)
}
