package pattern

import (
	"math"
	"slices"

	"foldfit/fold/flat"
)

// hatchStep is the distance between hatch lines in mm; hatchStart moves them off the round coordinates on which boards
// have their edges. A line shorter than hatchLeast is not drawn.
const (
	hatchStep  = 2.5
	hatchStart = 0.37
	hatchLeast = 0.02
)

// hatch returns the lines along the unit vector u, hatchStep apart, that lie in r and in none of the clear boxes. The
// lines of all areas hatched along the same u belong to one lattice. Ends are exact to rounding.
func hatch(r flat.Region, u flat.Pt, clear []flat.Box) [][2]flat.Pt {
	n := u.Left()
	var out [][2]flat.Pt
	for _, row := range crossings(r, u) {
		slices.Sort(row.at)
		base := n.Mul(row.off)
		for i := 0; i+1 < len(row.at); i += 2 {
			for _, s := range outside(base, u, [2]float64{row.at[i], row.at[i+1]}, clear) {
				if s[1]-s[0] > hatchLeast {
					out = append(out, [2]flat.Pt{base.Add(u.Mul(s[0])), base.Add(u.Mul(s[1]))})
				}
			}
		}
	}
	return out
}

// row is one hatch line: its distance from the origin and where, along u, borders cross it.
type row struct {
	off float64
	at  []float64
}

// crossings returns all hatch lines that meet r. Every border point belongs to exactly one side of a line (on it counts as
// beyond), so that each line is crossed an even number of times, corners on the line included.
func crossings(r flat.Region, u flat.Pt) []row {
	n := u.Left()
	lo, hi := math.Inf(1), math.Inf(-1)
	var parts []flat.Edge
	for _, e := range r.Edges() {
		for _, m := range monotone(e, n) {
			parts = append(parts, m)
			lo, hi = min(lo, m.P.Dot(n)), max(hi, m.P.Dot(n))
		}
	}
	if len(parts) == 0 {
		return nil
	}
	first := math.Ceil(lo/hatchStep - hatchStart)
	rows := make([]row, max(0, int(math.Floor(hi/hatchStep-hatchStart)-first)+1))
	for i := range rows {
		rows[i].off = (first + float64(i) + hatchStart) * hatchStep
	}
	for _, e := range parts {
		a, b := e.P.Dot(n), e.Q.Dot(n)
		from := max(0, int(math.Floor(min(a, b)/hatchStep-hatchStart-first)))
		for i := from; i < len(rows) && rows[i].off <= max(a, b); i++ {
			if (a >= rows[i].off) != (b >= rows[i].off) {
				rows[i].at = append(rows[i].at, meets(e, u, rows[i].off))
			}
		}
	}
	return rows
}

// monotone cuts an arc where its direction of travel is square to n, so that each part rises or falls along n. The parts
// share their ends bit for bit.
func monotone(e flat.Edge, n flat.Pt) []flat.Edge {
	if !e.IsArc() {
		return []flat.Edge{e}
	}
	start := math.Atan2(e.P.Y-e.C.Y, e.P.X-e.C.X)
	sweep := math.Abs(e.Sweep)
	var cuts []float64
	for _, a := range []float64{math.Atan2(n.Y, n.X), math.Atan2(-n.Y, -n.X)} {
		turn := math.Mod((a-start)*math.Copysign(1, e.Sweep)+4*math.Pi, 2*math.Pi)
		if turn > 0 && turn < sweep {
			cuts = append(cuts, turn/sweep)
		}
	}
	slices.Sort(cuts)
	var out []flat.Edge
	from, p := 0.0, e.P
	for _, t := range cuts {
		q := e.At(t)
		out = append(out, e.Part(from, t, p, q))
		from, p = t, q
	}
	return append(out, e.Part(from, 1, p, e.Q))
}

// meets returns where, along u, a monotone edge crosses the line at distance off from the origin. A monotone arc lies on
// one side of its centre, which tells its crossing from that of the rest of the circle.
func meets(e flat.Edge, u flat.Pt, off float64) float64 {
	n := u.Left()
	if !e.IsArc() {
		a, b := e.P.Dot(n), e.Q.Dot(n)
		return e.At((off - a) / (b - a)).Dot(u)
	}
	h := off - e.C.Dot(n)
	half := math.Sqrt(max(0, (e.R-h)*(e.R+h)))
	if e.Mid().Sub(e.C).Dot(u) < 0 {
		half = -half
	}
	return e.C.Dot(u) + half
}

// outside returns the parts of the stretch s of the line through base along u that lie in none of the boxes.
func outside(base, u flat.Pt, s [2]float64, clear []flat.Box) [][2]float64 {
	out := [][2]float64{s}
	for _, b := range clear {
		lo, hi := inside(base, u, b)
		var next [][2]float64
		for _, t := range out {
			if lo >= hi || hi <= t[0] || lo >= t[1] {
				next = append(next, t)
				continue
			}
			if lo > t[0] {
				next = append(next, [2]float64{t[0], lo})
			}
			if hi < t[1] {
				next = append(next, [2]float64{hi, t[1]})
			}
		}
		out = next
	}
	return out
}

// inside returns the interval of the line through base along u that lies in b; lo >= hi means none.
func inside(base, u flat.Pt, b flat.Box) (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	for _, ax := range [2][4]float64{{base.X, u.X, b.Min.X, b.Max.X}, {base.Y, u.Y, b.Min.Y, b.Max.Y}} {
		p, d, from, to := ax[0], ax[1], ax[2], ax[3]
		if d == 0 {
			if p <= from || p >= to {
				return 0, 0
			}
			continue
		}
		a, c := (from-p)/d, (to-p)/d
		lo, hi = max(lo, min(a, c)), min(hi, max(a, c))
	}
	return lo, hi
}
