package flat

// pieces returns the connected pieces of r: each outer loop with the holes in it, in the order of the outer loops. Loops
// for which the same number is given are known to bound the same area; nil where nothing is known.
func (r Region) pieces(area []int) []Region {
	var out []Region
	for _, group := range nest(r, area) {
		var piece Region
		for _, i := range group {
			piece = append(piece, r[i])
		}
		out = append(out, piece)
	}
	return out
}

// outer is an outer loop with the numbers of the loops of its piece, its own first.
type outer struct {
	group []int
	size  float64
	box   Box
}

// nest groups loops that bound areas: each outer loop, then the holes in it. See pieces for area.
func nest(loops []Loop, area []int) [][]int {
	var outers []outer
	var holes []int
	of := map[int]int{} // the largest outer loop of an area
	for i, l := range loops {
		size := l.Area()
		if size <= 0 {
			holes = append(holes, i)
			continue
		}
		if area != nil {
			if k, ok := of[area[i]]; !ok || size > outers[k].size {
				of[area[i]] = len(outers)
			}
		}
		outers = append(outers, outer{[]int{i}, size, l.Box()})
	}
	for _, h := range holes {
		k, ok := -1, false
		if area != nil {
			k, ok = of[area[h]]
		}
		if !ok {
			k = smallestAround(loops, outers, loops[h].longest().Mid())
		}
		if k >= 0 {
			outers[k].group = append(outers[k].group, h)
		}
	}
	out := make([][]int, len(outers))
	for k, o := range outers {
		out[k] = o.group
	}
	return out
}

// smallestAround returns the smallest outer loop that holds p. If none does, which only happens within Snap of a border, it
// returns the largest, so that no hole is lost; -1 if there is none.
func smallestAround(loops []Loop, outers []outer, p Pt) int {
	best, largest := -1, -1
	for k, o := range outers {
		if largest < 0 || o.size > outers[largest].size {
			largest = k
		}
		if (best < 0 || o.size < outers[best].size) && (len(outers) == 1 || o.box.holds(p) && loops[o.group[0]].Contains(p)) {
			best = k
		}
	}
	if best < 0 {
		return largest
	}
	return best
}

// longest returns the longest edge of l.
func (l Loop) longest() Edge {
	var best Edge
	most := -1.0
	for _, e := range l {
		if n := e.Len(); n > most {
			best, most = e, n
		}
	}
	return best
}
