package rule

import (
	"fmt"
	"math"

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

// beyond returns how far a bend area reaches past the neck's end on its near and far side, and where. A neck's end is a
// piece of the outer border, beside all stretches of the hinge line, that runs roughly along the hinge with the material
// on the side away from the line. Where that material is rigid, bend-on-rigid speaks instead.
func (b Board) beyond(bend *fold.Bend) (near, far float64, where flat.Pt) {
	u := bend.Dir.Left()
	lo, hi := waist(bend)
	if !isNeck(bend) {
		return 0, 0, where
	}
	for _, e := range bend.Region[0] {
		from := e.P
		for _, to := range e.Points(1e-3) {
			mid, dir := from.Mid(to), to.Sub(from).Unit()
			from = to
			t, s := mid.Dot(u), bend.Station(mid)
			if t > lo && t < hi || math.Abs(dir.Dot(u)) < math.Cos(shoulderTurn*math.Pi/180) || s < touch || s > bend.Width-touch {
				continue
			}
			edge := -s // from here to the tangent line on this side
			if s > bend.Width/2 {
				edge = bend.Width - s
			}
			if b.Tree.Design.RigidNear(mid.Add(bend.Dir.Mul(edge)), touch) {
				continue
			}
			outward := dir.Left().Dot(bend.Dir) // side on which the material lies
			switch {
			case s < bend.Width/2 && outward < 0 && s > near:
				near, where = s, mid
			case s > bend.Width/2 && outward > 0 && bend.Width-s > far:
				far, where = bend.Width-s, mid
			}
		}
	}
	return near, far, where
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
