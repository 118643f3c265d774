package fold

import (
	"fmt"

	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

// findOverlaps reports bend areas that have more than a line in common: there is no shape then.
func (dv *divider) findOverlaps() {
	bs := dv.t.Bends
	for i := range bs {
		for j := range i {
			both := flat.Intersect(bs[j].Region, bs[i].Region)
			if len(both) == 0 {
				continue
			}
			dv.t.Foldable = false
			dv.t.Findings = append(dv.t.Findings, dv.overlap(&bs[j], &bs[i], both))
		}
	}
}

// overlap words the finding for two bend areas.
func (dv *divider) overlap(a, b *Bend, both []flat.Region) finding.Finding {
	all := join(both)
	at := both[0].Inside()
	ha, hb := &dv.d.Hinges[a.Hinge], &dv.d.Hinges[b.Hinge]
	move := dv.overlapDepth(b, all)
	hint := fmt.Sprintf("move hinge %s or %s by at least %.4f away from the other, or lower an inside radius", ha.Name, hb.Name, move)
	if a.Hinge == b.Hinge {
		hint = "lower the inside radius"
	} else if half := b.Width / 2; dv.onEdgeOfHub(a, b) {
		hint = fmt.Sprintf("the line is drawn on an edge from which the bend area should start: move it out by w/2 = %.4f, or write it as `tangent` with `into`", half)
	}
	return finding.Finding{
		Rule: "bend-overlap", Severity: finding.Error,
		On: []string{"hinge:" + ha.Name, "hinge:" + hb.Name}, At: &[2]float64{at.X, at.Y}, Place: hb.Place,
		Value: finding.Number(all.Area()), Limit: finding.Number(0), Unit: "mm2",
		Message: fmt.Sprintf("the bend areas of %s (%.4f mm wide) and %s (%.4f mm wide) overlap by %.4f mm2 at %v: there is no folded shape",
			a.Name, a.Width, b.Name, b.Width, all.Area(), at),
		Hint: hint, Source: "geometry: a sheet cannot bend about two lines at one place (computed)",
	}
}

// overlapDepth returns how far an overlap reaches across bend b, in mm.
func (dv *divider) overlapDepth(b *Bend, all flat.Region) float64 {
	s := dv.stripOf(b)
	lo, hi := span(all, s.Across)
	return hi - lo
}

// stripOf returns the strip that a bend was cut by.
func (dv *divider) stripOf(b *Bend) flat.Strip {
	for _, p := range dv.plans {
		if p.hinge == b.Hinge {
			return p.strip
		}
	}
	return flat.Strip{}
}

// onEdgeOfHub reports whether the lines of two bends cross near a corner of the board that both touch: the usual sign of
// hinges drawn on a hub's edges.
func (dv *divider) onEdgeOfHub(a, b *Bend) bool {
	for _, la := range a.Lines {
		for _, lb := range b.Lines {
			for _, p := range la {
				for _, q := range lb {
					if p.Dist(q) <= reach {
						return true
					}
				}
			}
		}
	}
	return false
}

// span returns the least and largest value of f over the corners of r and points along its arcs.
func span(r flat.Region, f func(flat.Pt) float64) (lo, hi float64) {
	first := true
	for _, e := range r.Edges() {
		for _, p := range append(e.Points(1e-3), e.P) {
			v := f(p)
			if first {
				lo, hi, first = v, v, false
			}
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	return lo, hi
}
