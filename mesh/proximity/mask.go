package proximity

// Mask is a set of triangles, by their numbers in the list given to New; nil is empty.
type Mask []uint64

// NewMask returns an empty set for triangles with numbers below n.
func NewMask(n int) Mask { return make(Mask, (n+63)/64) }

// Add puts triangle i, which must be below n, into the set.
func (m Mask) Add(i int32) { m[i>>6] |= 1 << (i & 63) }

// Has reports whether triangle i is in the set.
func (m Mask) Has(i int32) bool { return int(i>>6) < len(m) && m[i>>6]>>(i&63)&1 != 0 }

// PassOver makes the query leave out some triangles of either surface from now on, as if they had not been given to New.
func (q *Query) PassOver(a, b Mask) {
	if q.swapped {
		a, b = b, a
	}
	q.skipA, q.skipB = a, b
	q.Forget()
}

// skips reports whether a pair of triangles, in the order of the leaves, is left out.
func (q *Query) skips(i, j int32) bool {
	return q.skipA.Has(q.a.ids[i]) || q.skipB.Has(q.b.ids[j])
}
