package proximity

import "math"

// reach returns between which heights over the middle of box j along the unit direction n its triangles lie, by the box
// and by the slab.
//
// A point y from the middle has along n the height g (m.y) + (n - g m).y, where m is the slab's normal and g = m.n; the
// last factor is as long as the sine between n and m.
func (g *group) reach(j int, n xyz) (lo, hi float64) {
	j &= 7
	d := xyz{g.dx[j], g.dy[j], g.dz[j]}
	side := xyz{math.Abs(n.x), math.Abs(n.y), math.Abs(n.z)}.dot(d)
	m := load(&g.n[j])
	if m == (xyz{}) {
		return -side, side
	}
	cosine := m.dot(n)
	aside := m.cross(n)
	slip := math.Sqrt(aside.dot(aside) * d.dot(d))
	a, b := float64(cosine*g.lo[j]), float64(cosine*g.hi[j])
	if a > b {
		a, b = b, a
	}
	return max(-side, a-slip), min(side, b+slip)
}

// clear returns by how much the slab of node j, if it has one, parts it from node k of o; less than zero if it does not.
func (g *group) clear(j int, o *group, k int) float64 {
	j, k = j&7, k&7
	n := load(&g.n[j])
	if n == (xyz{}) {
		return -1
	}
	h := n.dot(xyz{o.x[k] - g.x[j], o.y[k] - g.y[j], o.z[k] - g.z[j]})
	lo, hi := o.reach(k, n)
	return max(h+lo-g.hi[j], g.lo[j]-h-hi)
}

// refine raises the squared distances between box j of g and those boxes of o that are nearer than bound to what the slabs
// tell. Where boxes meet, the depth of the slabs in each other, below zero, takes the place of the distance: a contact is
// sooner found where they are deep.
func (g *group) refine(j int, o *group, low *[wide]float64, bound float64) {
	for k := range low {
		if low[k] >= bound {
			continue
		}
		switch d := max(g.clear(j, o, k), o.clear(k, g, j)); {
		case d > 0 && float64(d*d) > low[k]:
			low[k] = float64(d * d)
		case d < 0 && low[k] == 0:
			low[k] = d
		}
	}
}
