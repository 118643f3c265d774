package fold

import (
	"cmp"
	"fmt"
	"slices"

	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

// divider carries what Divide works out on the way from a design to its tree.
type divider struct {
	d        *Design
	board    flat.Region
	levels   map[string]Level
	lines    []flat.Edge   // straight edges onto which a tangent line may be laid
	areas    []flat.Region // by section: what of it lies on the board
	settling bool          // tangent lines settle on edges, see layOnEdge
	plans    []plan
	cutter   *flat.Cutter
	t        *Tree
	problems []finding.Problem
}

// Divide cuts the design's flat board into flats and bends, joins them to a tree from the base, and lists the bodies. If
// the input cannot be used it returns all the reasons and no tree. Bend areas that overlap are a finding: the tree then
// has its bends but no flats, and Foldable is false. Areas are exact to rounding (about 1e-12 relative); lines within
// flat.Snap of each other count as one.
//
// Where hinge lines with rounded numbers leave slivers, so that bend areas overlap or join by a hair or fins remain, tangent
// lines are settled on the edges beside them (moved by at most 0.003 mm) and the board is divided again.
func Divide(d *Design) (*Tree, []finding.Problem) {
	t, problems := divide(d, false)
	if len(d.Hinges) == 0 || isClean(t, problems) {
		return t, problems
	}
	if settled, more := divide(d, true); isClean(settled, more) {
		return settled, more
	}
	return t, problems
}

// fin is the area in mm2 below which a flat is a sliver that rounded numbers left.
const fin = 0.01

// isClean reports whether a division worked and left no fins.
func isClean(t *Tree, problems []finding.Problem) bool {
	return len(problems) == 0 && t.Foldable && !slices.ContainsFunc(t.Flats, func(f Flat) bool { return f.Area > 0 && f.Area < fin })
}

// divide divides the board once.
func divide(d *Design, settling bool) (*Tree, []finding.Problem) {
	dv := &divider{d: d, settling: settling}
	steps := []func(){dv.makeBoard, dv.placeStackups, dv.clipAreas, dv.planHinges, dv.cutBends}
	for i, step := range steps {
		step()
		if len(dv.problems) > 0 && i != 1 && i != 2 {
			return nil, finding.SortProblems(dv.problems)
		}
	}
	if len(dv.problems) > 0 {
		return nil, finding.SortProblems(dv.problems)
	}
	dv.findOverlaps()
	if dv.t.Foldable {
		dv.makeFlats()
	}
	if len(dv.problems) > 0 {
		return nil, finding.SortProblems(dv.problems)
	}
	return dv.t, nil
}

func (dv *divider) problem(at finding.Place, hint, format string, args ...any) {
	dv.problems = append(dv.problems, finding.Problem{Place: at, What: fmt.Sprintf(format, args...), Hint: hint})
}

// makeBoard joins outline and cutouts to the board's region.
func (dv *divider) makeBoard() {
	if len(dv.d.Outline) == 0 {
		dv.problem(dv.d.Where.Outline, "", "the board has no outline")
		return
	}
	dv.board = flat.Region{dv.d.Outline}
	for i, c := range dv.d.Cutouts {
		at := dv.cutoutPlace(i)
		if p, meets := flat.Meet(dv.d.Outline, c); meets {
			dv.problem(at, "draw the notch as part of the outline; cutouts lie inside", "cutout %d touches the outline at %v", i+1, p)
			continue
		}
		if !dv.d.Outline.Contains(c[0].P) {
			dv.problem(at, "cutouts lie inside the outline", "cutout %d lies outside the outline, at %v", i+1, c[0].P)
			continue
		}
		dv.checkCutouts(i, c, at)
		dv.board = append(dv.board, c.CCW().Rev())
	}
	dv.t = &Tree{Design: dv.d, Board: dv.board, Foldable: true}
}

// checkCutouts compares cutout i with those before it.
func (dv *divider) checkCutouts(i int, c flat.Loop, at finding.Place) {
	for j, other := range dv.d.Cutouts[:i] {
		if p, meets := flat.Meet(other, c); meets {
			dv.problem(at, "draw both as one cutout", "cutout %d touches cutout %d at %v", i+1, j+1, p)
		} else if other.Contains(c[0].P) || c.Contains(other[0].P) {
			dv.problem(at, "leave the inner one out", "cutouts %d and %d lie within each other", j+1, i+1)
		}
	}
}

func (dv *divider) cutoutPlace(i int) finding.Place {
	if i < len(dv.d.Where.Cutouts) {
		return dv.d.Where.Cutouts[i]
	}
	return dv.d.Where.Outline
}

func (dv *divider) placeStackups() {
	var ps []finding.Problem
	dv.levels, ps = dv.d.levels()
	dv.problems = append(dv.problems, ps...)
	dv.t.Levels = dv.levels
}

// clipAreas clips sections and stiffeners to the board and refuses areas off it, sections on each other, and bare board.
func (dv *divider) clipAreas() {
	for _, l := range dv.board {
		dv.lines = appendStraight(dv.lines, l)
	}
	bare := []flat.Region{dv.board}
	for i, s := range dv.d.Sections {
		dv.lines = appendStraight(dv.lines, s.Area)
		on := join(flat.Intersect(dv.board, flat.Region{s.Area}))
		dv.areas = append(dv.areas, on)
		if len(on) == 0 {
			dv.problem(s.Place, "move the area onto the board", "section %s lies wholly off the board", s.Name)
		}
		dv.checkSections(i)
		bare = subtractAll(bare, s.Area)
	}
	for _, s := range dv.d.Stiffeners {
		if len(flat.Intersect(dv.board, flat.Region{s.Area})) == 0 {
			dv.problem(s.Place, "move the area onto the board", "stiffener %s lies wholly off the board", s.Name)
		}
	}
	if dv.d.Flex == "" && len(bare) > 0 && !dv.d.Incomplete {
		dv.problem(dv.d.Where.Outline, "name the stack-up of the rest with `flex: NAME`, or enlarge a section",
			"%.4f mm2 of the board belong to no section, for example at %v, and `flex` names no stack-up for them", join(bare).Area(), bare[0].Inside())
	}
}

func appendStraight(lines []flat.Edge, l flat.Loop) []flat.Edge {
	for _, e := range l {
		if !e.IsArc() {
			lines = append(lines, e)
		}
	}
	return lines
}

// join returns the pieces as one region.
func join(pieces []flat.Region) flat.Region {
	var out flat.Region
	for _, p := range pieces {
		out = append(out, p...)
	}
	return out
}

func subtractAll(from []flat.Region, area flat.Loop) []flat.Region {
	var out []flat.Region
	for _, r := range from {
		out = append(out, flat.Subtract(r, flat.Region{area})...)
	}
	return out
}

// checkSections refuses an overlap of section i with an earlier one.
func (dv *divider) checkSections(i int) {
	for j := range i {
		both := join(flat.Intersect(flat.Region{dv.d.Sections[i].Area}, flat.Region{dv.d.Sections[j].Area}))
		if len(both) > 0 {
			dv.problem(dv.d.Sections[i].Place, "sections may overshoot the outline, not each other; move a border",
				"sections %s and %s overlap by %.4f mm2 at %v", dv.d.Sections[j].Name, dv.d.Sections[i].Name, both.Area(), both[:1].Inside())
		}
	}
}

// planHinges works out every hinge's strip. A hinge of angle 0 makes no bend.
func (dv *divider) planHinges() {
	dv.t.Hinges = make([]HingeInfo, len(dv.d.Hinges))
	for i, h := range dv.d.Hinges {
		info := HingeInfo{Line: h.Line}
		if h.Angle != 0 {
			if len(dv.d.Stackups) > 0 && dv.d.reference() == nil {
				dv.problem(h.Place, "give the bend area a stack-up without `rigid: true`", "hinge %s: the board has no flexible stack-up to bend", h.Name)
				continue
			}
			p, ps := dv.planHinge(i)
			dv.problems = append(dv.problems, ps...)
			if ps != nil {
				continue
			}
			dv.plans = append(dv.plans, p)
			lo, hi := coveredSpan(p.stretches)
			info = HingeInfo{NeutralRadius: p.rho, Width: 2 * p.strip.Half, Moved: p.moved,
				Line: [2]flat.Pt{p.strip.At.Add(p.strip.U.Mul(lo)), p.strip.At.Add(p.strip.U.Mul(hi))}}
		}
		dv.t.Hinges[i] = info
	}
}

func coveredSpan(ss []stretch) (lo, hi float64) {
	first := true
	for _, s := range ss {
		if s.covered && first {
			lo, first = s.lo, false
		}
		if s.covered {
			hi = s.hi
		}
	}
	return lo, hi
}

// cutBends cuts the bend areas out: of each strip the pieces that the written line crosses.
func (dv *divider) cutBends() {
	strips := make([]flat.Strip, len(dv.plans))
	for i, p := range dv.plans {
		strips[i] = p.strip
	}
	dv.cutter = flat.NewCutter(dv.board, strips)
	var taken []flat.StripPiece
	for i := range dv.plans {
		var mine []Bend
		var cut []flat.StripPiece
		pieces, err := dv.cutter.Pieces(i)
		if err != nil {
			h := &dv.d.Hinges[dv.plans[i].hinge]
			dv.problem(h.Place, "move the line or the edge by 0.01 mm or more", "hinge %s: %v", h.Name, err)
			continue
		}
		for _, piece := range pieces {
			if b, ok := dv.bendOf(i, piece.Region); ok {
				mine, cut = append(mine, b), append(cut, piece)
			}
		}
		order := make([]int, len(mine))
		for k := range order {
			order[k] = k
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(dv.along(i, mine[a]), dv.along(i, mine[b])) })
		for k, o := range order {
			mine[o].Name = numbered(dv.d.Hinges[dv.plans[i].hinge].Name, k)
			dv.t.Hinges[dv.plans[i].hinge].Bends = append(dv.t.Hinges[dv.plans[i].hinge].Bends, len(dv.t.Bends))
			dv.t.Bends, taken = append(dv.t.Bends, mine[o]), append(taken, cut[o])
		}
	}
	dv.cutter.Take(taken)
	for i := range dv.t.Bends {
		dv.t.Bends[i].Region = dv.cutter.Taken(i)
		dv.t.Bends[i].Area = dv.t.Bends[i].Region.Area()
	}
}

// along returns where a bend of plan i begins along the hinge line.
func (dv *divider) along(i int, b Bend) float64 { return dv.plans[i].strip.Along(b.Lines[0][0]) }

// numbered returns NAME for the first, NAME.2, NAME.3 ... for the others.
func numbered(name string, k int) string {
	if k == 0 {
		return name
	}
	return fmt.Sprintf("%s.%d", name, k+1)
}

// bendOf makes the bend of one piece of strip i, if the written line crosses that piece. A piece with a stretch that the
// line does not cover beside one that it covers is a problem.
func (dv *divider) bendOf(i int, piece flat.Region) (Bend, bool) {
	p := &dv.plans[i]
	h := &dv.d.Hinges[p.hinge]
	b := Bend{Hinge: p.hinge, Region: piece, Width: 2 * p.strip.Half, Parent: -1}
	covered, missing := 0, []string{}
	longest := 0.0
	for _, s := range p.stretches {
		from, to := p.strip.At.Add(p.strip.U.Mul(s.lo)), p.strip.At.Add(p.strip.U.Mul(s.hi))
		if !piece.Contains(from.Mid(to)) {
			continue
		}
		b.Lines = append(b.Lines, [2]flat.Pt{from, to})
		if !s.covered {
			missing = append(missing, fmt.Sprintf("%v to %v", from, to))
			continue
		}
		covered++
		if s.hi-s.lo > longest+flat.Snap {
			longest, b.Stackup = s.hi-s.lo, s.stackup
		}
	}
	if covered == 0 {
		return b, false
	}
	if len(missing) > 0 {
		dv.problem(h.Place, "extend the line over all of them, or move it so that its bend area does not join them",
			"hinge %s covers only %d of %d stretches that are joined inside its bend area (%.4f wide); missing: %s", h.Name, covered, covered+len(missing), b.Width, missing[0])
	}
	lv := dv.levels[b.Stackup]
	b.Height, b.Faces = lv.Neutral, [2]float64{lv.Bottom, lv.Top}
	b.InsideRadius = b.RadiusAt(h.Angle)
	return b, true
}
