package stackup

import "math"

// Ply is one sheet of a pile of loose plies: its thickness and the distance from its face toward the inside of the bend to
// its neutral surface, mm.
type Ply struct{ Thickness, Inner float64 }

// Ply returns a stack-up as a ply bent with that side inside.
func (s Stackup) Ply(inside Side) Ply { return Ply{Thickness: s.Thickness(), Inner: s.Inner(inside)} }

// Pile is flex of several plies that are bonded at their ends only, from the inside of the bend outward, with the same air
// gap (mm) between neighbours. Each ply lies on a cylinder of its own, about one axis: plain geometry, exact for plies that
// keep their places and do not stretch.
type Pile struct {
	Plies []Ply
	Gap   float64
}

// SamePlies returns a pile of n equal symmetric plies; its pitch is thickness + gap.
func SamePlies(n int, thickness, gap float64) Pile {
	p := Pile{Gap: gap}
	for range n {
		p.Plies = append(p.Plies, Ply{thickness, thickness / 2})
	}
	return p
}

// Thickness returns the thickness of the whole pile with its gaps, mm.
func (p Pile) Thickness() float64 {
	t := p.Gap * float64(max(0, len(p.Plies)-1))
	for _, x := range p.Plies {
		t += x.Thickness
	}
	return t
}

// InsideRadii returns the inside radius of each ply, mm, for that of the pile.
func (p Pile) InsideRadii(radius float64) []float64 {
	out := make([]float64, len(p.Plies))
	for i, x := range p.Plies {
		out[i] = radius
		radius += x.Thickness + p.Gap
	}
	return out
}

// Pitches returns the distance between the neutral surfaces of neighbouring plies, mm, one fewer than plies. A bookbinder's
// outer ply is longer by pitch times angle in radians: pi/2 pitches at 90 degrees (the published rule of 1.5 ply thicknesses,
// rounded and without a gap), pi at 180.
func (p Pile) Pitches() []float64 {
	var out []float64
	for i := 1; i < len(p.Plies); i++ {
		a, b := p.Plies[i-1], p.Plies[i]
		out = append(out, a.Thickness-a.Inner+p.Gap+b.Inner)
	}
	return out
}

// Ratios returns the inside radius over the thickness of each ply. Loose plies are judged each by its own thickness
// (it follows from mechanics; bonded ones by that of the whole pile): the least of these is the pile's.
func (p Pile) Ratios(radius float64) []float64 {
	out := p.InsideRadii(radius)
	for i, x := range p.Plies {
		out[i] /= x.Thickness
	}
	return out
}

// Lengths returns the length of each ply of a progressive pile (bookbinder) for a bend by angle (degrees, 0 or more) to an
// inside radius, with straight mm of flat flex in all: angle in radians times the ply's neutral radius, plus straight. Nil
// for input that makes no sense.
func (p Pile) Lengths(angle, radius, straight float64) []float64 {
	if !(angle >= 0 && radius >= 0 && straight >= 0) {
		return nil
	}
	out := p.InsideRadii(radius)
	for i, x := range p.Plies {
		out[i] = angle*(math.Pi/180)*(out[i]+x.Inner) + straight
	}
	return out
}

// Slack is what a ply of a pile of equal plies has too much in the bend.
type Slack struct {
	Surplus float64 // mm, against the outermost ply, for whose path all are cut
	Height  float64 // mm, about how far it buckles inward; compare with the room there
	Small   bool    // the slope is small enough for Height: surplus at most a tenth of the length
}

// EqualPlies returns what each ply of a pile of equally long plies, tied at both ends, has too much when the pile is bent:
// the outermost is taut, each other one is longer than its path and buckles toward the inside by about (2/pi) sqrt(e L),
// e its surplus and L its length with the straight parts. Surplus is exact; the height is that of a straight strip between
// clamps under small-slope theory, which says too much: by 1.6 % at e = L/20, 3.3 % at L/10 and 6.9 % at L/5 (against the
// elastica), when the strip stands at 36 degrees at L/10. A ply in a bend starts out curved, and its neighbours are in the
// way: take it as a size, not as a shape. Nil for input that makes no sense.
func (p Pile) EqualPlies(angle, radius, straight float64) []Slack {
	lengths := p.Lengths(angle, radius, straight)
	if lengths == nil {
		return nil
	}
	out, longest := make([]Slack, len(lengths)), 0.0
	for _, l := range lengths {
		longest = max(longest, l)
	}
	for i, l := range lengths {
		e := longest - l
		out[i] = Slack{Surplus: e, Height: 2 / math.Pi * math.Sqrt(e*longest), Small: e <= longest/10}
	}
	return out
}

// WrongWay returns what each ply of a bookbinder lacks, in mm (below 0: has too much), when it is folded by the same angle to
// the same inside radius, but the other way: then the shortest ply lies outside. The second result is the inside radius
// down to which it would have to close until no ply lacks anything; below 0 it cannot be folded that way at all. Plies are given
// as for the right way. Plain geometry; the straight parts cancel. Nil for input that makes no sense.
func (p Pile) WrongWay(angle, radius float64) ([]float64, float64) {
	made := p.Lengths(angle, radius, 0)
	if made == nil {
		return nil, 0
	}
	n := len(p.Plies)
	over := Pile{Plies: make([]Ply, n), Gap: p.Gap}
	for i, x := range p.Plies {
		over.Plies[n-1-i] = Ply{x.Thickness, x.Thickness - x.Inner}
	}
	needed, worst := over.Lengths(angle, radius, 0), 0.0
	lacks := make([]float64, n)
	for i := range lacks {
		lacks[i] = needed[n-1-i] - made[i]
		worst = max(worst, lacks[i])
	}
	if angle == 0 {
		return lacks, radius
	}
	return lacks, radius - worst/(angle*(math.Pi/180))
}
