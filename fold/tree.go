package fold

import "foldfit/fold/flat"

// Tree is a divided board: its flats and bends, how they hang together, and the bodies on them. Made by Divide; never
// changed afterwards.
type Tree struct {
	Design   *Design
	Board    flat.Region // outline and cutouts
	Hinges   []HingeInfo // one for each of the design's hinges
	Bends    []Bend      // by hinge, then along the line
	Flats    []Flat      // breadth first from the base, which is Flats[0]
	Joints   []Joint
	Levels   map[string]Level // by stack-up name
	Bodies   []Body
	Foldable bool      // false: bend areas overlap, there are no flats
	Overlaps []Overlap // bend areas that have an area in common; any makes the board not foldable
	Notes    []string  // what was decided on the user's behalf
}

// Level says where a stack-up lies: heights of its bottom face, neutral surface and top face in mm, z = 0 on the neutral
// surface of the design's flex.
type Level struct{ Bottom, Neutral, Top float64 }

// HingeInfo is what follows from a hinge for all of its bends.
type HingeInfo struct {
	NeutralRadius float64    // mm; 0 for a hinge of angle 0
	Width         float64    // flat width of the bend area, mm
	Moved         float64    // how far the line was moved to lay a tangent line on an edge, mm
	Line          [2]flat.Pt // the centre line as used: first to last point of its stretches, in canonical direction
	Bends         []int
}

// Bend is one connected bend area.
type Bend struct {
	Name         string
	Hinge        int
	Region       flat.Region  // a piece; edges on the tangent lines are its joints
	Lines        [][2]flat.Pt // stretches of the centre line, in canonical direction
	Origin       flat.Pt      // o: a point of the near tangent line
	Dir          flat.Pt      // d: unit normal, near -> far; s = (p-o).d runs from 0 to Width
	Width        float64
	Near         []int // flats on the near side (toward the base); Near[0] carries the bend
	Far          []int
	Parent       int // the flat that carries it: Near[0]
	Stackup      string
	Height       float64    // z of its neutral surface
	Faces        [2]float64 // z of its bottom and top face in the flat
	Area         float64
	InsideRadius float64 // of the concave face at the design angle
	Reach        float64 // largest s that the board reaches; below Width only at a free end
}

// Flat is a connected piece that stays plane.
type Flat struct {
	Name     string
	Region   flat.Region // a piece; empty for the flat of area 0 between two bends that share a tangent line
	Area     float64
	Inside   flat.Pt  // a point of it
	Sections []string // sections that have a share in it, largest first
	Parent   int      // flat, -1 for the base
	Bend     int      // bend that joins it to its parent, -1 for the base
	Far      bool     // on the far side of Bend
	Bodies   []int
}

// Joint is a segment of a tangent line where a bend meets a flat.
type Joint struct {
	Bend, Flat int
	Far        bool
	P, Q       flat.Pt
	Tree       bool // part of the spanning tree
}

// Kind is what a body is.
type Kind string

// Kinds of bodies; the prefix of a body's name.
const (
	KindSection   Kind = "section"
	KindFlex      Kind = "flex"
	KindBend      Kind = "bend"
	KindComponent Kind = "component"
	KindStiffener Kind = "stiffener"
	KindEnclosure Kind = "enclosure"
)

// Body is a solid in flat coordinates: a prism over a region, a set of boxes on a component's place, or a bend. On a flat
// it moves with the flat; a component whose place is in a bend area rides the tangent plane there.
type Body struct {
	Name   string // "section:main"
	Kind   Kind
	Flat   int          // index, -1 if on a bend
	Bend   int          // index, -1 if on a flat
	Region flat.Region  // the footprint; for a component with boxes empty
	Boxes  [][6]float64 // component with boxes: in the component's own frame x0 y0 z0 x1 y1 z1, z absolute as in Faces
	At     flat.Pt      // component: its place
	Turn   float64      // component: degrees counter-clockwise
	Faces  [2]float64   // z of bottom and top
	Seat   float64      // component, stiffener: z of the face it sits on
	Side   Side
	Area   float64
	Volume float64 // in the design's folded posture, exact; for a component with boxes that of their union
	Source int     // index in the design's list of its kind, -1 for flex bodies
}

// Overlap is an area that two bends would both take up.
type Overlap struct {
	A, B   int     // bends, A before B
	Area   float64 // mm2
	Depth  float64 // how far it reaches across the bends, the lesser of the two, mm
	At     flat.Pt // a point of it
	Corner bool    // the two centre lines end at one point of the board's edge: lines drawn on a hub's edges
}

// Thickness returns the flex's thickness in the bend, mm.
func (b *Bend) Thickness() float64 { return b.Faces[1] - b.Faces[0] }

// Middle returns a point of the bend's centre line, inside the board.
func (b *Bend) Middle() flat.Pt { return b.Lines[0][0].Mid(b.Lines[0][1]) }
