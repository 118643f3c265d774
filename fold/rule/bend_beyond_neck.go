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
	Source:   "geometry (computed)",
	Severity: finding.Warning,
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
		fits := bend.Width - 2*max(near, far) // the line stays where it is
		hint := fmt.Sprintf("make the neck %s longer", mm(near+far))
		if r := fits/math.Abs(h.Angle*math.Pi/180) - bend.Concave(h.Angle); r > touch {
			hint += fmt.Sprintf(", or lower the inside radius to %.2f mm", math.Floor(r*100+1e-6)/100)
		}
		out = append(out, finding.Finding{
			Severity: finding.Warning, On: []string{"hinge:" + h.Name}, At: at(where), Place: h.Place,
			Value: finding.Number(max(near, far)), Limit: finding.Number(0), Unit: "mm",
			Message: fmt.Sprintf("the bend area of %s, %s wide, reaches %s past the end of its neck: the wide part beside it would have to bend as well", bend.Name, mm(bend.Width), mm(max(near, far))),
			Hint:    hint,
		})
	}
	return out
}

// beyond returns how far a bend area reaches past the neck's end on its near and far side, and where it does so more. A neck's end is a
// shoulder: a piece of the outer border beside all stretches of the hinge line that runs roughly along the hinge, with the
// material on the side away from the line. A fillet belongs to the neck up to its shoulder. Where that material is rigid or
// stiffened, bend-on-rigid speaks instead.
func (b Board) beyond(bend *fold.Bend) (near, far float64, where flat.Pt) {
	if !isNeck(bend) {
		return 0, 0, where
	}
	u := bend.Dir.Left()
	lo, hi := waist(bend)
	tiltLo, tiltHi := tilts(bend, lo, hi)
	var nearEnd, farEnd flat.Pt
	for _, p := range shoulders(bend) {
		mid := p.P.Mid(p.Q)
		t, dir, tilt := mid.Dot(u), p.Tangent(0), tiltLo
		if t > hi {
			tilt = tiltHi
		}
		if t >= lo && t <= hi || angleTo(dir, u) > min(shoulderTurn, tilt-sharpTurn) || b.stiffNear(mid, besideRigid) {
			continue
		}
		sp, sq := bend.Station(p.P), bend.Station(p.Q)
		outward := dir.Left().Dot(bend.Dir) // side on which the material lies
		switch in, out := max(sp, sq), bend.Width-min(sp, sq); {
		case outward < 0 && in < bend.Width/2 && in > max(near, touch):
			near, nearEnd = in, mid
		case outward > 0 && out < bend.Width/2 && out > max(far, touch):
			far, farEnd = out, mid
		}
	}
	if near < far {
		return near, far, farEnd
	}
	return near, far, nearEnd
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

// tilts returns the angles in degrees, 0 to 90, between the hinge and the border of its bend where the line ends: 90 for a
// neck with parallel sides.
func tilts(bend *fold.Bend, lo, hi float64) (atLo, atHi float64) {
	u := bend.Dir.Left()
	atLo, atHi = 90, 90
	nearLo, nearHi := math.Inf(1), math.Inf(1)
	for _, e := range bend.Region[0] {
		from := e.P
		for _, to := range e.Points(1e-3) {
			a, b := bend.Station(from)-bend.Width/2, bend.Station(to)-bend.Width/2
			t, dir := from.Mid(to).Dot(u), to.Sub(from)
			if a != b && a*b <= 0 {
				t = from.Add(dir.Mul(a / (a - b))).Dot(u)
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
	return atLo, atHi
}

// angleTo returns the angle in degrees, 0 to 90, between two lines with these directions.
func angleTo(a, b flat.Pt) float64 {
	return math.Atan2(math.Abs(a.Cross(b)), math.Abs(a.Dot(b))) * 180 / math.Pi
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
