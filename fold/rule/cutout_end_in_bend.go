package rule

import (
	"fmt"
	"math"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

var cutoutEndInBend = Rule{
	ID:       "cutout-end-in-bend",
	Title:    "slots, holes and notches do not end inside a bend",
	Why:      "The end of a cutout concentrates the strain of the bend: flex tears from there. A slot right through the bend area is fine.",
	Limit:    always("not at all"),
	Source:   "common practice, no source; place and depth are computed",
	How:      measured("distance from the end of the cutout or notch in the bend area to the nearer tangent line", "outline, cutouts, hinge line, width of the bend area"),
	Severity: finding.Warning,
	Check:    checkCutoutEnds,
}

func checkCutoutEnds(b Board) []finding.Finding {
	var out []finding.Finding
	for i := range b.Tree.Bends {
		bend := &b.Tree.Bends[i]
		for _, e := range append(holesIn(bend), endsIn(bend)...) {
			h := b.hinge(bend)
			out = append(out, finding.Finding{
				Severity: finding.Warning, On: []string{"hinge:" + h.Name}, At: at(e.at), Place: h.Place,
				Value: finding.Number(e.depth), Limit: finding.Number(0), Unit: "mm",
				Message: fmt.Sprintf("a %s ends inside the bend area of %s at %s, %s from the nearer tangent line", e.what, bend.Name, b.say().Spot(e.at), b.say().Length(e.depth)),
				Hint:    fmt.Sprintf("move it %s or more over the nearer tangent line, or cut it right through (the bend area is %s wide)", b.say().Up(e.depth), b.say().Length(bend.Width)),
			})
		}
	}
	return out
}

// end is a place where a cutout ends inside a bend; depth is the distance to the nearer tangent line.
type end struct {
	what  string
	at    flat.Pt
	depth float64
}

// holesIn returns the holes that lie wholly inside a bend.
func holesIn(bend *fold.Bend) []end {
	var out []end
	for _, l := range bend.Region[1:] {
		lo, hi := span(bend, flat.Region{l})
		c := l.Box()
		out = append(out, end{"hole", c.Min.Mid(c.Max), min(hi, bend.Width-lo)})
	}
	return out
}

// run is a piece of a bend's outer border between two joints.
type run struct {
	edges    []flat.Edge
	from, to int // tangent line where it starts and ends: 0 near, 1 far, -1 none
}

// runs splits the outer border of a bend at its joints.
func runs(bend *fold.Bend) []run {
	loop := bend.Region[0]
	side := func(e flat.Edge) int {
		for k, s := range []float64{0, bend.Width} {
			if !e.IsArc() && math.Abs(bend.Station(e.P)-s) <= flat.Snap && math.Abs(bend.Station(e.Q)-s) <= flat.Snap {
				return k
			}
		}
		return -1
	}
	first := -1
	for i, e := range loop {
		if side(e) >= 0 {
			first = i
			break
		}
	}
	if first < 0 {
		return nil
	}
	var out []run
	cur := run{from: side(loop[first])}
	for k := 1; k <= len(loop); k++ {
		e := loop[(first+k)%len(loop)]
		s := side(e)
		if s < 0 {
			cur.edges = append(cur.edges, e)
			continue
		}
		cur.to = s
		if len(cur.edges) > 0 {
			out = append(out, cur)
		}
		cur = run{from: s}
	}
	return out
}

// endsIn returns the slots that come in over a tangent line and end inside, and the notches in the sides of a bend.
func endsIn(bend *fold.Bend) []end {
	var out []end
	for _, r := range runs(bend) {
		if r.from == r.to && len(bend.Far) > 0 {
			if p, depth := r.deepest(bend); depth > touch && !r.aroundEnd(bend) {
				out = append(out, end{"slot", p, min(depth, bend.Width-depth)})
			}
			continue
		}
		if p, depth := r.notch(bend); depth > touch && !isNeck(bend) {
			out = append(out, end{"notch", p, depth})
		}
	}
	return out
}

// aroundEnd reports whether a run that leaves and returns over one tangent line goes round the outside of the bend (an
// uncrossed end of the board) rather than round a slot: then the material lies within.
func (r run) aroundEnd(bend *fold.Bend) bool {
	area := 0.0
	for _, e := range r.edges {
		area += e.Moment()
	}
	first, last := r.edges[0].P, r.edges[len(r.edges)-1].Q
	area += flat.Line(last, first).Moment()
	return area > 0
}

// deepest returns the middle of the run's end farthest from the tangent line where it starts, and its distance.
func (r run) deepest(bend *fold.Bend) (flat.Pt, float64) {
	return farthest(r.points(), func(p flat.Pt) float64 {
		if r.from == 1 {
			return bend.Width - bend.Station(p)
		}
		return bend.Station(p)
	})
}

// farthest returns the largest positive value of a measure over points and where it is taken: midway between the first and
// the last point that has it.
func farthest(points []flat.Pt, measure func(flat.Pt) float64) (at flat.Pt, most float64) {
	var first flat.Pt
	for _, p := range points {
		switch d := measure(p); {
		case d > most+flat.Snap:
			first, at, most = p, p, d
		case d > 0 && d >= most-flat.Snap:
			at = p
		}
	}
	return first.Mid(at), most
}

func (r run) points() []flat.Pt {
	out := []flat.Pt{r.edges[0].P}
	for _, e := range r.edges {
		out = append(out, e.Points(1e-3)...)
	}
	return out
}

// notchDepth is how deep in mm the side of a bend must go in and come out again to be a notch.
const notchDepth = 0.05

// notch returns the place where a side goes in and comes out again inside the bend, around a sharp inside corner or a tight
// arc, and how far from the nearer tangent line that is; of several such places the deepest. Smooth waists are no notches,
// and the fillets between a neck and the shoulders at its ends belong to those.
func (r run) notch(bend *fold.Bend) (flat.Pt, float64) {
	r.edges = withoutFillets(r.edges)
	if len(r.edges) == 0 {
		return flat.Pt{}, 0
	}
	u := bend.Dir.Left()
	inward := 1.0 // direction of u that points into the material
	if r.edges[0].Mid().Dot(u) > bend.Middle().Dot(u) {
		inward = -1
	}
	depth := func(p flat.Pt) float64 { return inward * p.Dot(u) }
	ps := r.points()
	in := goesIn(ps, depth)
	var corners []flat.Pt // the deepest
	most := math.Inf(-1)
	for i, p := range ps {
		if in[i] <= notchDepth || depth(p) < most-flat.Snap || !r.tight(p) {
			continue
		}
		if depth(p) > most+flat.Snap {
			corners, most = nil, depth(p)
		}
		corners = append(corners, p)
	}
	return farthest(corners, func(p flat.Pt) float64 { return min(bend.Station(p), bend.Width-bend.Station(p)) })
}

// goesIn returns for each point of a run how much deeper it lies than the shallowest before it and the shallowest after it.
func goesIn(ps []flat.Pt, depth func(flat.Pt) float64) []float64 {
	out := make([]float64, len(ps))
	least := math.Inf(1)
	for i := len(ps) - 1; i >= 0; i-- {
		least = min(least, depth(ps[i]))
		out[i] = depth(ps[i]) - least
	}
	least = math.Inf(1)
	for i, p := range ps {
		least = min(least, depth(p))
		out[i] = min(out[i], depth(p)-least)
	}
	return out
}

// mostFillet is the angle in radians up to which an inward arc at the end of a run is a fillet.
const mostFillet = 100 * math.Pi / 180

// withoutFillets returns the edges of a run without inward arcs at its ends.
func withoutFillets(edges []flat.Edge) []flat.Edge {
	fillet := func(e flat.Edge) bool { return e.Sweep < 0 && -e.Sweep <= mostFillet }
	for len(edges) > 0 && fillet(edges[0]) {
		edges = edges[1:]
	}
	for len(edges) > 0 && fillet(edges[len(edges)-1]) {
		edges = edges[:len(edges)-1]
	}
	return edges
}

// biteTurn is the angle in radians from which an inward arc that begins and ends inside the bend is a notch of its own,
// whatever its radius.
const biteTurn = math.Pi / 2

// tight reports whether the run has at p a sharp inside corner, an inside arc below the usual corner radius, or one that
// turns so far that it is a bite.
func (r run) tight(p flat.Pt) bool {
	for i, e := range r.edges {
		bite := -e.Sweep >= biteTurn && i > 0 && i+1 < len(r.edges)
		if e.Sweep < 0 && (under(e.R, leastCorner) || bite) && e.Near(p) {
			return true
		}
		if i+1 < len(r.edges) && e.Q.Dist(p) <= flat.Snap {
			d, t := e.Tangent(1), r.edges[i+1].Tangent(0)
			return math.Atan2(d.Cross(t), d.Dot(t)) < -sharpTurn*math.Pi/180
		}
	}
	return false
}
