package fold

import "foldfit/fold/flat"

// findOverlaps lists bend areas that have more than a line in common: there is no shape then.
func (dv *divider) findOverlaps() {
	bs := dv.t.Bends
	for i := range bs {
		for j := range i {
			both := flat.Intersect(bs[j].Region, bs[i].Region)
			if len(both) == 0 {
				continue
			}
			all := join(both)
			depth := min(reachAcross(all, dv.stripOf(&bs[i])), reachAcross(all, dv.stripOf(&bs[j])))
			dv.t.Foldable = false
			dv.t.Overlaps = append(dv.t.Overlaps, Overlap{A: j, B: i, Area: all.Area(), Depth: depth, At: both[0].Inside(), Corner: endsMeet(&bs[j], &bs[i])})
		}
	}
}

// reachAcross returns how far a region reaches across a strip, in mm.
func reachAcross(r flat.Region, s flat.Strip) float64 {
	lo, hi := span(r, s.Across)
	return hi - lo
}

// stripOf returns the strip that a bend was cut by.
func (dv *divider) stripOf(b *Bend) flat.Strip {
	for _, p := range dv.plans {
		if p.hinge == b.Hinge {
			return p.strip
		}
	}
	return flat.Strip{}
}

// endsMeet reports whether the centre lines of two bends end at one point: the usual sign of hinges drawn on a hub's edges.
func endsMeet(a, b *Bend) bool {
	for _, la := range a.Lines {
		for _, lb := range b.Lines {
			for _, p := range la {
				for _, q := range lb {
					if p.Dist(q) <= reach {
						return true
					}
				}
			}
		}
	}
	return false
}

// span returns the least and largest value of f over the corners of r and points along its arcs.
func span(r flat.Region, f func(flat.Pt) float64) (lo, hi float64) {
	first := true
	for _, e := range r.Edges() {
		for _, p := range append(e.Points(1e-3), e.P) {
			v := f(p)
			if first {
				lo, hi, first = v, v, false
			}
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	return lo, hi
}
