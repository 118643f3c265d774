package clash

import (
	"cmp"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/tolerance"
	"foldfit/mesh"
)

// Gap is the measured distance between two bodies.
type Gap struct {
	Between  [2]string // body names, in alphabetical order
	Kind     string    // "board", "components" or "enclosure"
	Gap      float64   // mm, less what a piece of the enclosure grows; below zero a penetration depth
	Low      float64   // lower bound: Gap less the chord errors of both meshes as far as curved surfaces make it; see chordAt
	Flat     *float64  // gap in the flat state; nil for a pair with an enclosure piece
	Required float64
	At       [2]mgl64.Vec3 // nearest points, housing frame, in the order of Between; in an overlap both ends of the way out
	Judged   bool          // false: the layout's business, measured but never a finding
	Posture  string
	Rule     string              // the finding that this gap makes: "contact", "clearance", "not-seated" or "" for none
	Way      mgl64.Vec3          // takes the first body away from the second, unit, housing frame; zero where nothing tells
	Faces    [2][]tolerance.Face // what of meshes lies across the way at the nearest points: see tolerance.Measured
	Seat     string              // the seat at which this gap was measured, straight across the board; "" = the nearest points
}

// Result is what a check of gaps found.
type Result struct {
	Gaps      []Gap // those under their required clearance and the smallest of each kind, worst first
	Findings  []finding.Finding
	Unchecked []finding.Unchecked
}

// Check measures the gaps between all bodies of a folded board and the enclosure; see CheckAs. The posture is "folded".
func Check(a *mesh.Assembly, walls []Wall) Result { return CheckAs(a, walls, "folded") }

// CheckAs measures the gaps between all bodies of a board in the named posture, and between them and the enclosure, and
// judges them by the design's clearances.
//
// Which pairs are compared: all, except those that lie on or beside each other by design (see relation), and pieces of the
// enclosure with each other. What a pair must keep: the clearance of its kind, or of the design's exception for it; inside
// the board no more than it has in the flat state and than a bend between the two leaves by its radius. Bodies that never
// move relative to each other, and those that folding does not bring nearer, are never findings.
//
// Seats are judged for themselves (see seating) and taken out of the other comparisons. Pieces that ride on the board are
// placed first (see StandWall), so walls are passed as they were read.
//
// Gaps are between the meshes, where a limit is near between finer ones; see measure for how exact they are. Not reported
// as contact: overlaps up to Touch. Everything is in the housing's frame, mm.
func CheckAs(a *mesh.Assembly, walls []Wall, posture string) Result {
	c := newChecker(a, walls, posture)
	var out Result
	var found []judged
	for _, kind := range []string{"board", "components", "enclosure"} {
		found = append(found, c.search(kind)...)
	}
	for _, s := range c.seats {
		gaps, list := c.judgeSeat(s)
		found, out.Findings = append(found, gaps...), append(out.Findings, list...)
	}
	slices.SortStableFunc(found, func(x, y judged) int {
		return cmp.Or(cmp.Compare(x.Gap.Gap-x.Required, y.Gap.Gap-y.Required), slices.Compare(x.Between[:], y.Between[:]))
	})
	for _, j := range found {
		if j.pair != nil {
			j.tell(&j.Gap)
		}
		out.Gaps = append(out.Gaps, j.Gap)
		if j.Rule != "" && j.Seat == "" {
			out.Findings = append(out.Findings, c.report(&j))
		}
	}
	out.Findings = append(out.Findings, c.unusedPairs()...)
	finding.Sort(out.Findings)
	out.Unchecked = append(c.unchecked, c.effort.unchecked()...)
	return out
}

// checker holds what all comparisons share.
type checker struct {
	tree    *fold.Tree
	folded  *fold.Folded
	housing mgl64.Mat4 // from board coordinates
	chord   float64
	posture string
	group   []int // by flat: what moves together
	members []*member
	seats   []*seating
	finer   map[finerKey]*member
	effort  *effort

	unchecked []finding.Unchecked
}

func newChecker(a *mesh.Assembly, walls []Wall, posture string) *checker {
	return newCheckerAt(a, a.Folded.Tree.HousingFromBoard(), walls, posture)
}

// newCheckerAt is newChecker with the board anywhere in the housing.
func newCheckerAt(a *mesh.Assembly, housingFromBoard mgl64.Mat4, walls []Wall, posture string) *checker {
	t := a.Folded.Tree
	c := &checker{tree: t, folded: a.Folded, housing: housingFromBoard, chord: a.Chord, posture: posture,
		group: moveAlike(t), finer: map[finerKey]*member{}, effort: &effort{left: restEffort}}
	for i := range a.Bodies {
		c.members = append(c.members, bodyMember(t, c.housing, &a.Bodies[i]))
	}
	for _, w := range walls {
		c.addWall(w)
	}
	for _, m := range c.members {
		m.means = meanings(t.Design.Clearance.Pairs, m.name)
	}
	c.sit()
	return c
}

// addWall adds a wall where it stands, and says what it does not allow to check.
func (c *checker) addWall(w Wall) {
	standing, err := StandWall(c.folded, w)
	if err != nil {
		c.unchecked = append(c.unchecked, finding.Unchecked{What: "enclosure", On: []string{w.name()}, Why: err.Error()})
		return
	}
	c.members = append(c.members, wallMember(&standing))
	if !w.Closed {
		c.unchecked = append(c.unchecked, finding.Unchecked{What: "inside", On: []string{w.name()},
			Why: "the mesh is not closed: cannot tell inside from outside; distances to its surface are judged all the same"})
	}
}

// pair is two members to compare; a moves out of the way more easily than b.
type pair struct {
	a, b     *member
	rel      relation
	apart    float64 // between their boxes
	class    float64 // clearance of the kind
	required float64 // that, or of the exception
	seats    []*seating
	left     *rest // of b, what the seats leave; made when first asked for
}

// pairs returns the pairs of a kind that are compared, nearest boxes first.
func (c *checker) pairs(kind string) []pair {
	var out []pair
	d := &c.tree.Design.Clearance
	for i, a := range c.members {
		for _, b := range c.members[i+1:] {
			if kindOf(a, b) != kind {
				continue
			}
			p := pair{a: a, b: b, rel: c.relate(a, b), class: classOf(d, kind)}
			if p.rel == untested {
				continue
			}
			if b.rank < a.rank {
				p.a, p.b = b, a
			}
			p.apart = math.Sqrt(a.box.distance2(&b.box))
			p.seats = c.seatsOf(p.a, p.b)
			p.required = p.class
			if k := c.pairRule(a, b); k >= 0 {
				p.required = d.Pairs[k].Gap
			}
			out = append(out, p)
		}
	}
	slices.SortStableFunc(out, func(x, y pair) int { return cmp.Compare(x.apart, y.apart) })
	return out
}

// search returns the gaps of a kind that are listed: all too small ones, those that only an exception allows, and the
// smallest; of the pairs that are not judged only if there are no others.
func (c *checker) search(kind string) []judged {
	var out []judged
	var best, rest *judged
	all := c.pairs(kind)
	for _, never := range []bool{false, true} {
		for i := range all {
			p := &all[i]
			if (p.rel == layout) != never || never && best != nil {
				continue
			}
			limit := math.Inf(1)
			if best != nil {
				limit = max(p.required, p.class, best.Gap.Gap, Touch) // bodies that touch may overlap: always looked at
			}
			j, ok := c.judge(p, limit)
			switch {
			case !ok:
			case !j.Judged && (rest == nil || j.Gap.Gap < rest.Gap.Gap):
				rest = &j
			case j.Judged && (best == nil || j.Gap.Gap < best.Gap.Gap):
				best = &j
			}
			if ok && j.Judged && (j.Rule != "" || p.required < p.class && j.effective() < p.class-j.slack) {
				out = append(out, j)
			}
		}
	}
	if best == nil {
		best = rest
	}
	if best != nil && !slices.ContainsFunc(out, func(j judged) bool { return j.Between == best.Between }) {
		out = append(out, *best)
	}
	return out
}
