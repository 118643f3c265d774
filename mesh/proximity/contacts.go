package proximity

import (
	"cmp"
	"slices"
)

// Contacts appends to dst the pairs of triangles, one of each surface, that come within Contact of each other, by their
// numbers in the lists given to New, in rising order. Triangles that only share a corner, an edge or part of a plane count.
func (q *Query) Contacts(dst [][2]int32) [][2]int32 {
	if len(q.a.ids) == 0 || len(q.b.ids) == 0 {
		return dst
	}
	from := len(dst)
	seed := q.best
	q.bound = 4 * Contact * Contact // rounding of boxes must lose none
	q.todo = append(q.todo[:0], pair{la: int8(len(q.a.levels) - 1), lb: int8(len(q.b.levels) - 1)})
	for n := len(q.todo); n > 0; n = len(q.todo) {
		e := q.todo[n-1]
		q.todo = q.todo[:n-1]
		if e.la == 0 && e.lb == 0 {
			dst = q.touching(dst, e.a, e.b)
			continue
		}
		q.spread(&e)
	}
	q.best = seed
	slices.SortFunc(dst[from:], func(x, y [2]int32) int { return cmp.Or(cmp.Compare(x[0], y[0]), cmp.Compare(x[1], y[1])) })
	return dst
}

// touching appends the touching pairs of two leaves.
func (q *Query) touching(dst [][2]int32, a, b int32) [][2]int32 {
	some := q.fetch(a, b, 2*Contact)
	for i := range q.pa.count {
		if some>>i&1 == 0 {
			continue
		}
		p := &q.pa.faces[i&3]
		for j := range q.pb.count {
			r := &q.pb.faces[j&3]
			if !p.within(&r.box, q.bound) || q.skips(q.pa.first+i, q.pb.first+j) || !p.touches(r) {
				continue
			}
			hit := [2]int32{q.a.ids[q.pa.first+i], q.b.ids[q.pb.first+j]}
			if q.swapped {
				hit[0], hit[1] = hit[1], hit[0]
			}
			dst = append(dst, hit)
		}
	}
	return dst
}

// touches reports whether two triangles come within Contact. Most that meet are pierced by an edge, and most that do not
// are parted along a product of two edges; only the rest needs a distance.
func (f *face) touches(o *face) bool {
	f.finish()
	o.finish()
	if f.beyond(o, 2*Contact) || o.beyond(f, 2*Contact) {
		return false
	}
	ho, hf := f.heights(o), o.heights(f)
	if _, ok := meeting(f, o, &hf, &ho); ok {
		return true
	}
	if f.parted(f.q.sub(f.p), o) || f.parted(f.r.sub(f.q), o) || f.parted(f.p.sub(f.r), o) {
		return false
	}
	n := nearest{d2: far}
	n.compare(f, o)
	return n.d2 <= Contact*Contact
}

// parted reports whether the triangles are clearly apart along the product of edge u of f and an edge of o.
func (f *face) parted(u xyz, o *face) bool {
	return f.apart(u.cross(o.q.sub(o.p)), o) || f.apart(u.cross(o.r.sub(o.q)), o) || f.apart(u.cross(o.p.sub(o.r)), o)
}

// apart reports whether the triangles are clearly apart along n.
func (f *face) apart(n xyz, o *face) bool {
	a, b, c := n.dot(f.p.sub(o.p)), n.dot(f.q.sub(o.p)), n.dot(f.r.sub(o.p))
	d, e := n.dot(o.q.sub(o.p)), n.dot(o.r.sub(o.p))
	gap := max(min(a, b, c)-max(0, d, e), min(0, d, e)-max(a, b, c))
	return gap > 0 && float64(gap*gap) > 16*Contact*Contact*n.dot(n)
}
