package rule

import (
	"fmt"
	"math"
	"slices"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

var bendBeyondNeck = Rule{
	ID:       "bend-beyond-neck",
	Title:    "the neck is as long as its bend area is wide",
	Why:      "A bend runs on sideways as far as the board does. Where a neck is shorter than the bend area, the wide parts beside it have to bend too, or the bend stays tighter than drawn.",
	Limit:    always(fmt.Sprintf("no more than %g mm past the neck's end", neckDepth)),
	Source:   "geometry (computed)",
	How:      measured("how far the bend area runs on past the narrow part, across the bend", "outline, hinge line, width of the bend area"),
	Severity: finding.Warning,
	Tightest: true,
	Check:    checkBeyondNeck,
}

const (
	neckDepth    = 0.01 // mm by which a bend area may reach past a neck's end
	shoulderTurn = 40.0 // degrees between hinge line and board edge up to which the edge is a neck's end, not its side
)

func checkBeyondNeck(b Board) []finding.Finding {
	var out []finding.Finding
	for i := range b.Tree.Bends {
		bend := &b.Tree.Bends[i]
		near, far, where := b.beyond(bend)
		if max(near, far) <= neckDepth {
			continue
		}
		h := b.hinge(bend)
		hint := fmt.Sprintf("make the neck %s longer", b.say().Up(near+far))
		hint += b.smaller(bend, max(near, far))
		out = append(out, finding.Finding{
			Severity: finding.Warning, On: []string{"hinge:" + h.Name}, At: at(where), Place: h.Place,
			Value: finding.Number(max(near, far)), Limit: finding.Number(0), Unit: "mm",
			Message: fmt.Sprintf("the bend area of %s, %s wide, reaches %s past the end of its neck: the wide part beside it would have to bend as well", bend.Name, b.say().Length(bend.Width), b.say().Length(max(near, far))),
			Hint:    hint,
		})
	}
	return out
}

// beyond returns how far a bend area reaches past the neck's end on its near and far side, and where it does so more. A
// neck's end is a shoulder: a piece of the outer border beside all stretches of the hinge line that runs roughly along the
// hinge, with the material on the side away from the line. A fillet belongs to the neck up to its shoulder. Where that
// material is rigid or stiffened, bend-on-rigid speaks instead; two shoulders on one side of a wide bend are a notch, which
// is cutout-end-in-bend's business.
func (b Board) beyond(bend *fold.Bend) (near, far float64, where flat.Pt) {
	var ends [2]neckEnds // where the hinge line begins and where it ends
	lo, hi := waist(bend)
	tilt := tilts(bend, lo, hi)
	u := bend.Dir.Left()
	for _, p := range shoulders(bend) {
		mid := p.P.Mid(p.Q)
		t, dir, k := mid.Dot(u), p.Tangent(0), 0
		if t > hi {
			k = 1
		}
		outward := dir.Left().Dot(bend.Dir) // side on which the material lies
		if t >= lo && t <= hi || angleTo(dir, u) > min(shoulderTurn, tilt[k]-sharpTurn) || b.stiffBeside(bend, mid, outward) {
			continue
		}
		ends[k].take(bend, p, outward)
	}
	var worst neckEnds
	neck := isNeck(bend)
	for _, e := range ends {
		if neck || e.near == 0 || e.far == 0 {
			worst = worst.and(e)
		}
	}
	if worst.far > worst.near {
		return worst.near, worst.far, worst.farAt
	}
	return worst.near, worst.far, worst.nearAt
}

// neckEnds says how far (mm) a bend area reaches past its neck's ends on one side of the neck, and where; 0 = not.
type neckEnds struct {
	near, far     float64
	nearAt, farAt flat.Pt
}

// and returns the larger of the depths on either end.
func (e neckEnds) and(o neckEnds) neckEnds {
	if o.near > e.near {
		e.near, e.nearAt = o.near, o.nearAt
	}
	if o.far > e.far {
		e.far, e.farAt = o.far, o.farAt
	}
	return e
}

// take notes a shoulder, if the material lies on the side of it that is away from the hinge line.
func (e *neckEnds) take(bend *fold.Bend, shoulder flat.Edge, outward float64) {
	p, q := bend.Station(shoulder.P), bend.Station(shoulder.Q)
	switch in, out := max(p, q), bend.Width-min(p, q); {
	case outward < 0 && in < bend.Width/2 && in > max(e.near, touch):
		e.near, e.nearAt = in, shoulder.P.Mid(shoulder.Q)
	case outward > 0 && out < bend.Width/2 && out > max(e.far, touch):
		e.far, e.farAt = out, shoulder.P.Mid(shoulder.Q)
	}
}

// shoulders returns the pieces of a bend's outer border that may be a neck's end: lines, the chords of outward arcs, and
// the directions in which inward arcs begin and end.
func shoulders(bend *fold.Bend) []flat.Edge {
	var out []flat.Edge
	for _, e := range bend.Region[0] {
		if e.Sweep < 0 {
			for t, p := range []flat.Pt{e.P, e.Q} {
				d := e.Tangent(float64(t)).Mul(flat.Snap)
				out = append(out, flat.Line(p.Sub(d), p.Add(d)))
			}
			continue
		}
		from := e.P
		for _, to := range e.Points(1e-3) {
			out = append(out, flat.Line(from, to))
			from = to
		}
	}
	return out
}

// tilts returns the angles in degrees, 0 to 90, between the hinge and the border of its bend where the line begins and
// ends: 90 for a neck with parallel sides.
func tilts(bend *fold.Bend, lo, hi float64) [2]float64 {
	u := bend.Dir.Left()
	atLo, atHi := 90.0, 90.0
	nearLo, nearHi := math.Inf(1), math.Inf(1)
	for _, e := range bend.Region[0] {
		from := e.P
		for _, to := range e.Points(1e-3) {
			a, b := bend.Station(from)-bend.Width/2, bend.Station(to)-bend.Width/2
			dir := to.Sub(from)
			if a != b && a*b <= 0 {
				t := from.Add(dir.Mul(a / (a - b))).Dot(u)
				if d := math.Abs(t - lo); d < nearLo {
					nearLo, atLo = d, angleTo(dir, u)
				}
				if d := math.Abs(t - hi); d < nearHi {
					nearHi, atHi = d, angleTo(dir, u)
				}
			}
			from = to
		}
	}
	return [2]float64{atLo, atHi}
}

// angleTo returns the angle in degrees, 0 to 90, between two lines with these directions.
func angleTo(a, b flat.Pt) float64 {
	return math.Atan2(math.Abs(a.Cross(b)), math.Abs(a.Dot(b))) * 180 / math.Pi
}

// stiffBeside reports whether a rigid section or a stiffener lies at a shoulder, or reaches into the bend below it.
func (b Board) stiffBeside(bend *fold.Bend, p flat.Pt, outward float64) bool {
	s := 2*touch - bend.Station(p)
	if outward > 0 {
		s += bend.Width - 4*touch
	}
	return b.stiffNear(p, besideRigid) || b.stiffNear(p.Add(bend.Dir.Mul(s)), 0)
}

// stiffNear reports whether a rigid section or a stiffener lies at p or within dist mm.
func (b Board) stiffNear(p flat.Pt, dist float64) bool {
	d := b.Tree.Design
	return d.RigidNear(p, dist) || slices.ContainsFunc(d.Stiffeners, func(s fold.Stiffener) bool {
		return s.Area.Contains(p) || s.Area.Distance(p) <= dist
	})
}

// waist returns where the stretches of the hinge line begin and end, as lengths along the hinge.
func waist(bend *fold.Bend) (lo, hi float64) {
	u := bend.Dir.Left()
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, l := range bend.Lines {
		for _, p := range l {
			t := p.Dot(u)
			lo, hi = min(lo, t), max(hi, t)
		}
	}
	return lo, hi
}

// neckShare is how narrow a bend area must be on its centre line, as a share of its largest extent along the hinge, to be
// a neck; less narrow, what goes in and comes out is a notch.
const neckShare = 0.8

func isNeck(bend *fold.Bend) bool {
	u := bend.Dir.Left()
	from, to := math.Inf(1), math.Inf(-1)
	for _, p := range bend.Region[0].Points(1e-3) {
		from, to = min(from, p.Dot(u)), max(to, p.Dot(u))
	}
	lo, hi := waist(bend)
	return hi-lo < neckShare*(to-from)
}
