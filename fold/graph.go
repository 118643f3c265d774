package fold

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"foldfit/fold/flat"
)

// piece is a flat before it has its place in the tree, with its joints.
type piece struct {
	flat.Rest
	area     float64
	low      flat.Pt            // lowest x, then y, of its corners: its position
	shares   map[string]float64 // area by section
	stiff    map[string]float64 // area by stiffener
	name     string
	sections []string // largest share first
}

// makeFlats finds the flats between the bends, joins all to a tree from the base and lists the bodies.
func (dv *divider) makeFlats() {
	rests, err := dv.cutter.Rests()
	if err != nil {
		dv.problem(dv.d.Where.Outline, "simplify the outline near the hinges; please report this design", "the board could not be divided: %v", err)
		return
	}
	ps := make([]piece, len(rests))
	hasFlat := make([]bool, len(dv.t.Bends))
	for i, r := range rests {
		ps[i] = dv.measure(r)
		for _, j := range r.Joints {
			hasFlat[j.Piece] = true
		}
	}
	for i, ok := range hasFlat {
		if !ok {
			dv.noFlat(&dv.t.Bends[i])
		}
	}
	base, ok := dv.findBase(ps)
	if !ok || len(dv.problems) > 0 {
		return
	}
	dv.nameFlats(ps)
	dv.grow(ps, base)
	dv.makeBodies(ps)
}

// noFlat reports a bend that takes up the whole board.
func (dv *divider) noFlat(b *Bend) {
	h := &dv.d.Hinges[b.Hinge]
	lo, hi := span(b.Region, dv.stripOf(b).Across)
	widest := min(-lo, hi) * 2 // the strip may reach to the nearer end of the board
	if far := max(-lo, hi) * 2; far < b.Width {
		widest = far
	}
	most := widest/math.Abs(radians(h.Angle)) - b.Concave(h.Angle)
	hint := "lower the angle or enlarge the board"
	if most > leastRadius {
		hint = fmt.Sprintf("an inside radius under %.4f leaves a flat", most)
	}
	dv.problem(h.Place, hint, "hinge %s: its bend area, %.4f wide, takes up the whole board: no flat remains", h.Name, b.Width)
}

// measure works out a flat's area, position and what lies on it.
func (dv *divider) measure(r flat.Rest) piece {
	p := piece{Rest: r, area: r.Region.Area(), low: flat.Pt{X: math.Inf(1)}, shares: map[string]float64{}, stiff: map[string]float64{}}
	for _, e := range r.Region.Edges() {
		p.low = lower(p.low, e.P)
	}
	for _, j := range r.Joints {
		p.low = lower(lower(p.low, j.P), j.Q)
	}
	if len(r.Region) == 0 {
		return p
	}
	for i, s := range dv.d.Sections {
		if a := join(flat.Intersect(r.Region, dv.areas[i])).Area(); a > flat.Snap {
			p.shares[s.Name] = a
			p.sections = append(p.sections, s.Name)
		}
	}
	slices.SortStableFunc(p.sections, func(a, b string) int { return cmp.Compare(p.shares[b], p.shares[a]) })
	for _, s := range dv.d.Stiffeners {
		if a := join(flat.Intersect(r.Region, flat.Region{s.Area})).Area(); a > flat.Snap {
			p.stiff[s.Name] = a
		}
	}
	return p
}

// lower returns the point with the lower x, then y; x within Snap counts as equal.
func lower(a, b flat.Pt) flat.Pt {
	if b.X < a.X-flat.Snap || b.X <= a.X+flat.Snap && b.Y < a.Y {
		return b
	}
	return a
}

// before orders pieces by position.
func before(a, b flat.Pt) int {
	switch {
	case math.Abs(a.X-b.X) > flat.Snap:
		return cmp.Compare(a.X, b.X)
	case math.Abs(a.Y-b.Y) > flat.Snap:
		return cmp.Compare(a.Y, b.Y)
	}
	return 0
}

// sharesEqual is the relative difference up to which areas count as equal when the base is chosen.
const sharesEqual = 1e-6

// findBase returns the flat that stays put.
func (dv *divider) findBase(ps []piece) (int, bool) {
	switch b := dv.d.Base; {
	case b.Point != nil:
		return dv.baseAt(ps, *b.Point)
	case b.Section != "":
		best := largest(ps, func(p piece) float64 { return p.shares[b.Section] })
		if best < 0 {
			dv.problem(dv.d.Where.Base, "name a section that is not wholly inside a bend area", "base %s lies in no flat: bend areas cover it", b.Section)
			return 0, false
		}
		n := 0
		for _, p := range ps {
			if p.shares[b.Section] > 0 {
				n++
			}
		}
		if n > 1 {
			dv.t.Notes = append(dv.t.Notes, fmt.Sprintf("base %s lies in %d flats; the one with its largest share (%.2f mm2) stays put", b.Section, n, ps[best].shares[b.Section]))
		}
		return best, true
	}
	rigid := dv.largestRigid()
	best := -1
	if rigid != "" {
		best = largest(ps, func(p piece) float64 { return p.shares[rigid] })
	}
	if best < 0 {
		best = largest(ps, func(p piece) float64 { return p.area })
	}
	if best < 0 {
		dv.problem(dv.d.Where.Outline, "lower the radii", "no flat remains: bend areas cover the whole board")
	}
	return best, best >= 0
}

func (dv *divider) baseAt(ps []piece, at flat.Pt) (int, bool) {
	for i, p := range ps {
		if len(p.Region) > 0 && p.Region.Contains(at) {
			return i, true
		}
	}
	where := "off the board"
	for _, b := range dv.t.Bends {
		if b.Region.Contains(at) {
			where = "in the bend area of " + b.Name
		}
	}
	dv.problem(dv.d.Where.Base, "name a point of a flat", "the base point %v lies %s", at, where)
	return 0, false
}

// largestRigid returns the rigid section with the largest area on the board, of equal ones that with the lower position.
func (dv *divider) largestRigid() string {
	best, most, low := "", 0.0, flat.Pt{}
	for i, s := range dv.d.Sections {
		if st := dv.d.StackupNamed(s.Stackup); st == nil || !st.Rigid {
			continue
		}
		a, at := dv.areas[i].Area(), flat.Pt{X: math.Inf(1)}
		for _, e := range dv.areas[i].Edges() {
			at = lower(at, e.P)
		}
		if best == "" || a > most*(1+sharesEqual) || a > most*(1-sharesEqual) && before(at, low) < 0 {
			best, most, low = s.Name, a, at
		}
	}
	return best
}

// largest returns the piece with the largest positive value, of equal ones that with the lower position; -1 for none.
func largest(ps []piece, value func(piece) float64) int {
	best, most := -1, 0.0
	for i, p := range ps {
		v := value(p)
		if v <= 0 {
			continue
		}
		if best < 0 || v > most*(1+sharesEqual) || v > most*(1-sharesEqual) && before(p.low, ps[best].low) < 0 {
			best, most = i, v
		}
	}
	return best
}

// nameFlats names each flat after the rigid section with the largest area in it, else its stiffener, else its flex
// section, else flat-N; several flats of one name are numbered by position.
func (dv *divider) nameFlats(ps []piece) {
	order := make([]int, len(ps))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return before(ps[a].low, ps[b].low) })
	used := map[string]int{}
	nameless := 0
	for _, i := range order {
		name := dv.flatName(ps[i])
		if name == "" {
			nameless++
			ps[i].name = fmt.Sprintf("flat-%d", nameless)
			continue
		}
		ps[i].name = numbered(name, used[name])
		used[name]++
	}
}

func (dv *divider) flatName(p piece) string {
	rigid, flex := "", ""
	for _, name := range p.sections { // largest share first
		st := dv.sectionStackup(name)
		if st != nil && st.Rigid && rigid == "" {
			rigid = name
		} else if flex == "" && (st == nil || !st.Rigid) {
			flex = name
		}
	}
	if rigid != "" {
		return rigid
	}
	best, most := "", 0.0
	for _, s := range dv.d.Stiffeners {
		if p.stiff[s.Name] > most*(1+sharesEqual) {
			best, most = s.Name, p.stiff[s.Name]
		}
	}
	if best != "" {
		return best
	}
	return flex
}

// grower joins flats and bends to a tree.
type grower struct {
	*divider
	ps     []piece
	ofBend [][]end
	number map[int]int // piece -> Tree.Flats
	queue  []int       // pieces whose bends are to be looked at
}

// end is a joint of a bend, seen from the bend.
type end struct {
	piece int
	flat.RestJoint
}

// grow builds the tree breadth first: from a flat by hinge, then along the line, then side; from a bend the near-side
// flats first, then along the line.
func (dv *divider) grow(ps []piece, base int) {
	g := &grower{divider: dv, ps: ps, ofBend: make([][]end, len(dv.t.Bends)), number: map[int]int{}}
	for i, p := range ps {
		for _, j := range p.Joints {
			g.ofBend[j.Piece] = append(g.ofBend[j.Piece], end{i, j})
		}
	}
	g.place(base, -1, -1, false)
	for len(g.queue) > 0 {
		at := g.queue[0]
		g.queue = g.queue[1:]
		joints := slices.Clone(ps[at].Joints)
		slices.SortStableFunc(joints, func(a, b flat.RestJoint) int {
			return cmp.Or(cmp.Compare(a.Piece, b.Piece), cmp.Compare(a.Side, b.Side))
		})
		for _, j := range joints {
			g.cross(at, j)
		}
	}
	if len(g.number) < len(ps) {
		dv.problem(dv.d.Where.Outline, "", "the board's pieces do not all hang together; please report this design")
		return
	}
	for bend, ends := range g.ofBend {
		for _, e := range ends {
			dv.addJoint(bend, g.number[e.piece], e.RestJoint)
		}
	}
}

// place adds piece i to the tree's flats and to those whose bends are to be looked at.
func (g *grower) place(i, parent, bend int, far bool) {
	p := &g.ps[i]
	g.number[i] = len(g.t.Flats)
	g.queue = append(g.queue, i)
	f := Flat{Name: p.name, Region: p.Region, Area: p.area, Sections: p.sections, Parent: parent, Bend: bend, Far: far}
	if f.Inside = p.Region.Inside(); len(f.Region) == 0 {
		f.Inside = p.Joints[0].P.Mid(p.Joints[0].Q)
	}
	g.t.Flats = append(g.t.Flats, f)
}

// cross hangs the bend at joint j on the piece at, unless it hangs already, and places the flats that it reaches.
func (g *grower) cross(at int, j flat.RestJoint) {
	b := &g.t.Bends[j.Piece]
	if b.Parent >= 0 {
		return
	}
	b.Parent = g.number[at]
	g.orient(b, j.Side)
	strip, ends := g.stripOf(b), g.ofBend[j.Piece]
	along := func(e end) float64 { return min(strip.Along(e.P), strip.Along(e.Q)) }
	slices.SortStableFunc(ends, func(a, c end) int {
		return cmp.Or(boolOrder(a.Side != j.Side, c.Side != j.Side), cmp.Compare(along(a), along(c)))
	})
	for _, e := range ends {
		if _, seen := g.number[e.piece]; !seen {
			g.place(e.piece, g.number[at], j.Piece, e.Side != j.Side)
		}
	}
}

func boolOrder(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// orient sets a bend's tangent-line frame so that s runs from the side on which it hangs to the other.
func (dv *divider) orient(b *Bend, near int) {
	s := dv.stripOf(b)
	side := float64(2*near - 1)
	n := s.U.Left()
	b.Dir = flat.Pt{X: -side*n.X + 0, Y: -side*n.Y + 0}
	start := s.At.Add(s.U.Mul(s.Along(b.Lines[0][0])))
	b.Origin = start.Add(n.Mul(side * s.Half))
	_, b.Reach = span(b.Region, b.Station)
}

// addJoint records a joint; joints of one bend, side and flat are in the tree together.
func (dv *divider) addJoint(bend, fl int, j flat.RestJoint) {
	b := &dv.t.Bends[bend]
	far := math.Abs(b.Station(j.P.Mid(j.Q))) > b.Width/2
	f := &dv.t.Flats[fl]
	inTree := f.Bend == bend && f.Far == far || b.Parent == fl && !far
	dv.t.Joints = append(dv.t.Joints, Joint{Bend: bend, Flat: fl, Far: far, P: j.P, Q: j.Q, Tree: inTree})
	side := &b.Near
	if far {
		side = &b.Far
	}
	if !slices.Contains(*side, fl) {
		*side = append(*side, fl)
	}
}
