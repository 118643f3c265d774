package proximity

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

const (
	// Tolerance is how far (mm) a distance may lie above the true minimum: pairs that are no more than half of it nearer
	// are not looked for, which ends the search among the many equal distances between parallel faces at once; the rest
	// is rounding.
	Tolerance = 1e-9
	// Contact is the distance (mm) up to which two triangles count as touching, so that rounding of a pose does not part
	// faces that lie on each other.
	Contact = 1e-9
)

// Nearest is where two surfaces come nearest.
type Nearest struct {
	D    float64    // distance, mm; at most Tolerance above the true minimum of the triangles
	Low  float64    // D less both chord errors, not below 0: the true surfaces are no nearer
	A, B int32      // the triangles, by their numbers in the lists given to New
	X, Y mgl64.Vec3 // points of A and B that lie D apart, world
}

// Query asks about two surfaces at one placing after another. It keeps the nearest pair of one placing to start from at
// the next, and its memory: after the first few placings nothing is allocated. Not for use from several goroutines at once;
// each needs its own.
type Query struct {
	a, b         *Surface
	swapped      bool     // a is the second of the caller's surfaces
	move         rigid    // from a to b
	world        rigid    // from b
	backA        rigid    // from the frame of a's boxes to b
	backB        *rigid   // from the frame of b's boxes to b; nil if they are the same
	boxes        [2]rigid // from the frame of a's boxes to that of b's, and the other way
	toB, toA     *rigid   // these; nil if they change nothing
	fromA, fromB node     // the last ones, in the frame of the other's boxes
	leafA, leafB node     // leaves, in the frame of b

	best  near
	way   xyz     // unit, from a to b at the best pair; zero if there is none
	bound float64 // squared: boxes this far apart are of no interest; -Inf ends the search
	limit float64 // its root
	stop  float64 // a distance that ends the search
	count int     // see Visited
	todo  []pair
	skipA Mask // triangles to leave out
	skipB Mask
	pa    loaded // leaves in work
	pb    loaded
}

// near is the nearest pair so far: triangles in the leaves' order, points in the frame of b.
type near struct {
	d    float64
	a, b int32 // -1: none yet
	x, y vec
}

// NewQuery returns a query about surfaces a and b, both placed where their points lie.
func NewQuery(a, b *Surface) *Query {
	q := &Query{a: a, b: b, todo: make([]pair, 0, 64)}
	if len(b.ids) < len(a.ids) {
		q.a, q.b, q.swapped = b, a, true
	}
	if q.b.turned {
		back := q.b.frame.inverse()
		q.backB = &back
	}
	q.pb.which = -1
	q.Forget()
	q.Place(mgl64.Ident4(), mgl64.Ident4())
	return q
}

// Place moves both surfaces: the matrices are rigid motions from the surfaces' frames to the world. Others give wrong
// answers.
func (q *Query) Place(worldFromA, worldFromB mgl64.Mat4) {
	if q.swapped {
		worldFromA, worldFromB = worldFromB, worldFromA
	}
	a, b := rigidOf(worldFromA), rigidOf(worldFromB)
	q.world = b
	q.move = still
	if a != b {
		back := b.inverse()
		q.move = back.after(&a)
	}
	into, from := q.b.frame, q.a.frame.inverse()
	q.backA = q.move.after(&from)
	q.toB, q.toA, q.fromA.of, q.fromB.of = nil, nil, nil, nil
	if q.move != still || into != q.a.frame {
		q.boxes[0] = into.after(&q.backA)
		q.boxes[1] = q.boxes[0].inverse()
		q.toB, q.toA = &q.boxes[0], &q.boxes[1]
	}
	q.pa.which, q.leafA.of = -1, nil
}

// Forget drops the pair that the next search would start from. Where several pairs are equally near within Tolerance,
// which of them a search returns may depend on where it starts.
func (q *Query) Forget() { q.best.a = -1 }

// Distance returns the nearest points of the surfaces; common points if they meet. A surface inside the other's material
// is at the distance of the surfaces. ok is false if they are limit or more apart, or one has no triangles.
func (q *Query) Distance(limit float64) (n Nearest, ok bool) {
	if !q.search(limit, -1) {
		return n, false
	}
	b := &q.best
	n = Nearest{D: b.d, A: q.a.ids[b.a], B: q.b.ids[b.b], X: q.world.apply(b.x), Y: q.world.apply(b.y)}
	n.Low = max(0, n.D-q.a.chord-q.b.chord)
	if q.swapped {
		n.A, n.B, n.X, n.Y = n.B, n.A, n.Y, n.X
	}
	return n, true
}

// Visited returns how many pairs of nodes of both trees all searches of the query have divided or compared: a measure of work
// that is the same on every machine.
func (q *Query) Visited() int { return q.count }

// Within reports whether the surfaces are limit or less apart, to Tolerance. It stops at the first pair that is, and so is
// faster than Distance.
func (q *Query) Within(limit float64) bool {
	if limit < 0 {
		return false
	}
	return q.search(math.Nextafter(limit+Tolerance/2, math.Inf(1)), limit+Tolerance/2)
}

// Touching reports whether the surfaces meet: whether any two of their triangles come within Contact.
func (q *Query) Touching() bool { return q.Within(Contact / 2) }

// search finds the nearest pair below limit and reports whether there is one. It ends at the first that is no farther
// apart than stop.
func (q *Query) search(limit, stop float64) bool {
	if len(q.a.ids) == 0 || len(q.b.ids) == 0 || !(limit > 0) {
		return false
	}
	seed := q.best
	q.best, q.way = near{d: limit, a: -1}, xyz{}
	q.stop = stop
	q.tighten()
	if seed.a >= 0 {
		q.tryAgain(seed.a, seed.b)
	}
	q.descend()
	if q.best.a < 0 {
		q.best = seed // a place to start from still
		return false
	}
	return true
}

// far stands for no limit: beyond any distance, and nearer than an empty box.
const far = 1e60

// tighten sets the bound from the best distance.
func (q *Query) tighten() {
	d := min(q.best.d, far)
	if q.best.a >= 0 {
		d -= Tolerance / 2
	}
	q.limit, q.bound = d, d*d
	if d <= 0 || q.best.a >= 0 && q.best.d <= q.stop {
		q.limit, q.bound = 0, math.Inf(-1)
	}
}
