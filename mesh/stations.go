package mesh

import (
	"math"
	"slices"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// A bend is cut along stations: lines parallel to its hinge. Between two of them its faces are plane. curl holds what
// decides how many there must be, in one posture.
type curl struct {
	turn    float64 // |radians| per mm of arc length, on the neutral surface; the most of a free shape
	outer   float64 // radius of the outer face, mm; turn * turn * outer is what bends a face most
	thick   float64 // mm
	stretch float64 // length at mid-thickness by length on the neutral surface
	sag     float64 // allowed distance between the outer face's cylinder and a chord, mm
	twist   float64 // allowed distance between a side wall and its two triangles, mm
	arc     float64 // allowed distance between the region's arcs and their chords, mm

	from, to float64 // the stations where it begins and ends to curve
}

// curlOf returns the curl of bend i over r: of its cylinder, or of a free shape as sharp all over as where it bends most. The
// distance between a curve and its chord grows with the curvature, and that of a face with how far it lies outside the bend.
func curlOf(f *fold.Folded, i int, r flat.Region, chord float64) curl {
	b := &f.Tree.Bends[i]
	angle := f.Angles[b.Hinge]
	if f.Free(i) == nil {
		return newCurl(b, r, angle, chord)
	}
	top, bottom := f.Sharpest(i)
	c := newCurl(b, r, 0, chord)
	c.from, c.to = f.Span(i)
	if c.turn = max(top, bottom); c.turn == 0 {
		return c
	}
	outside := max(top*(1+top*(b.Height-b.Faces[0])), bottom*(1+bottom*(b.Faces[1]-b.Height)))
	c.outer = outside / (c.turn * c.turn)
	c.stretch = 1 - c.turn*math.Abs((b.Faces[0]+b.Faces[1])/2-b.Height)
	c.divide(b, r, chord)
	return c
}

// newCurl divides the allowed chord error among its three sources. A chord of the cylinder lies off it in the radial
// direction, the other two lie across: together they stay within the root of the sum of squares. What does not occur
// leaves its share to the others.
func newCurl(b *fold.Bend, r flat.Region, angle, chord float64) curl {
	k := angle * (math.Pi / 180) / b.Width
	thick := b.Faces[1] - b.Faces[0]
	c := curl{turn: math.Abs(k), thick: thick, sag: chord, twist: chord, arc: chord, to: b.Width,
		stretch: 1 - float64(k*((b.Faces[0]+b.Faces[1])/2-b.Height))}
	if angle == 0 {
		return c
	}
	c.outer = b.RadiusAt(angle) + thick
	c.divide(b, r, chord)
	return c
}

// divide gives each source that occurs its share of the chord error.
func (c *curl) divide(b *fold.Bend, r flat.Region, chord float64) {
	arcs, oblique := slopes(b, r)
	switch {
	case arcs:
		c.sag, c.twist, c.arc = 0.6*chord, 0.4*chord, 0.4*chord
	case oblique:
		c.sag, c.twist = 0.6*chord, 0.8*chord
	}
}

// slopes reports whether r has arcs, and straight edges neither along the hinge line nor square to it.
func slopes(b *fold.Bend, r flat.Region) (arcs, oblique bool) {
	for _, e := range r.Edges() {
		d := e.Q.Sub(e.P)
		arcs = arcs || e.IsArc()
		oblique = oblique || !e.IsArc() && math.Abs(d.Dot(b.Dir)) > flat.Snap && math.Abs(d.Cross(b.Dir)) > flat.Snap
	}
	return arcs, oblique
}

// step returns how far apart stations may lie for the sake of the faces, in mm.
func (c curl) step() float64 {
	if c.turn == 0 {
		return math.Inf(1)
	}
	width := c.to - c.from
	return width / float64(flat.Chords(c.outer, c.turn*width, c.sag))
}

// lean returns the part of a side's direction along the hinge line at mid-thickness, 0 to 1; 0 for a side that has no
// extent across it.
func (c curl) lean(across, along float64) float64 {
	if math.Abs(across) <= flat.Snap {
		return 0
	}
	return math.Abs(along) / math.Hypot(along, across*c.stretch)
}

// off returns the largest distance between the mesh and the true body, given the widest gap between stations, the
// largest product of gap and lean, and the sagitta of the region's arcs.
func (c curl) off(gap, leaning, sagitta float64) float64 {
	sag := c.outer * (1 - math.Cos(c.turn*gap/2))
	return math.Hypot(sag, sagitta+c.thick*c.turn*leaning/4)
}

// reach is the extent of a side across the hinge line, with its lean.
type reach struct{ from, to, lean float64 }

// stations are arc lengths from the near tangent line, rising.
type stations struct {
	at     []float64
	groups []float64 // the least of each group of values within flat.Snap of it ...
	index  []int32   // ... and its place in at
}

// newStations returns a station for each of the given values (those within flat.Snap share one) and as many between them
// as the curl needs: the gap is at most step, and where sides lean their walls keep the twist.
func newStations(values []float64, sides []reach, c curl) *stations {
	st := &stations{}
	values = slices.Clone(values)
	slices.Sort(values)
	for _, v := range values {
		if n := len(st.groups); n == 0 || v-st.groups[n-1] > flat.Snap {
			st.groups = append(st.groups, v)
		}
	}
	parts := st.parts(sides, c, c.step())
	for i, v := range st.groups {
		st.index = append(st.index, int32(len(st.at)))
		st.at = append(st.at, v)
		if i+1 == len(st.groups) {
			break
		}
		gap := st.groups[i+1] - v
		for k := 1; k < parts[i]; k++ {
			st.at = append(st.at, v+gap*float64(k)/float64(parts[i]))
		}
	}
	return st
}

// stationOf returns the arc length of p into the bend; within flat.Snap of where the bend begins or ends that line's.
func (c curl) stationOf(b *fold.Bend, p flat.Pt) float64 {
	switch v := b.Station(p); {
	case math.Abs(v-c.from) <= flat.Snap:
		return c.from
	case math.Abs(v-c.to) <= flat.Snap:
		return c.to
	default:
		return v
	}
}

// parts returns into how many parts each gap between groups is divided.
func (st *stations) parts(sides []reach, c curl, step float64) []int {
	lean := make([]float64, len(st.groups))
	for _, s := range sides {
		for i := st.group(min(s.from, s.to)); i < st.group(max(s.from, s.to)); i++ {
			lean[i] = max(lean[i], s.lean)
		}
	}
	parts := make([]int, len(st.groups))
	for i := range len(st.groups) - 1 {
		gap := st.groups[i+1] - st.groups[i]
		most := max(gap/step, gap*c.turn*c.thick*lean[i]/(4*c.twist))
		parts[i] = max(1, int(math.Ceil(most-1e-9)))
	}
	return parts
}

// group returns the number of the group of a value.
func (st *stations) group(v float64) int {
	i, found := slices.BinarySearch(st.groups, v)
	if !found {
		i--
	}
	return i
}

// of returns the station of a value that was given.
func (st *stations) of(v float64) int32 { return st.index[st.group(v)] }
