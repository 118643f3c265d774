package fold

import (
	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/finding"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// Design is one rigid-flex board as its designer describes it: the flat shape, what it is made of, where it bends and
// what surrounds it. Lengths mm, angles degrees. Lists keep the order of the file.
type Design struct {
	Name        string // title's name, or the design file's stem
	Title       Title
	Units       Units
	Datum       flat.Pt
	Outline     flat.Loop   // counter-clockwise
	Cutouts     []flat.Loop // counter-clockwise, as areas
	Stackups    []stackup.Stackup
	Materials   []stackup.Material // the design's own, beside the built-in ones
	Flex        string             // stack-up of every area that no section covers; "" = none
	Sections    []Section
	Base        Base
	Place       Placement
	Hinges      []Hinge
	Stiffeners  []Stiffener
	Components  []Component
	Enclosure   []Piece
	Clearance   Clearance
	Loop        LoopLimit
	Postures    []Posture // end shapes beside the folded one
	Seats       []Seat
	Sequence    []Step   // the order in which the board is folded and put in; none = not said
	Targets     []Target // what must land where
	Limits      Limits
	Concessions []Concession
	Where       Places
	Incomplete  bool // a problem already reported kept part of the board's shape, stack-ups or sections from being read
}

// Places holds the positions in the file of keys that have no object of their own.
type Places struct {
	File                                     string
	Outline, Flex, Base, Place, Loop, Hinges finding.Place
	Sequence                                 finding.Place
	Cutouts                                  []finding.Place
}

// Title names a design on drawings; every field is optional.
type Title struct{ Name, Number, Revision, Company, Drawn, Date string }

// Units is the unit of plain numbers in the design and of text reports.
type Units string

// Units of a design file.
const (
	MM   Units = "mm"
	Mil  Units = "mil"
	Inch Units = "in"
)

// Length returns how many mm one unit is; the zero value counts as mm.
func (u Units) Length() float64 {
	switch u {
	case Mil:
		return 0.0254
	case Inch:
		return 25.4
	}
	return 1
}

// Side is the board's top or bottom side. The zero value is Top.
type Side int

// The two sides of a board.
const (
	Top Side = iota
	Bottom
)

// String returns "top" or "bottom".
func (s Side) String() string { return [...]string{"top", "bottom"}[s] }

// Sign returns +1 for the top, -1 for the bottom: the direction of z away from the board.
func (s Side) Sign() float64 { return 1 - 2*float64(s) }

// Section is a named area with its own stack-up. It may overshoot the outline.
type Section struct {
	Name    string
	Stackup string
	Area    flat.Loop // counter-clockwise
	Place   finding.Place
}

// Base says which flat stays put: a section, a point, or (neither given) the default of the contract.
type Base struct {
	Section string
	Point   *flat.Pt
}

// Placement takes the board into the housing's frame: the named face of the base to z = 0, then turn about x, y, z
// (degrees, fixed axes, in this order), then move. The zero value is the identity.
type Placement struct {
	Datum string // "top", "bottom" or "" = z stays
	Turn  [3]float64
	Move  mgl64.Vec3
}

// Hinge is a line about which the flex bends.
type Hinge struct {
	Name              string
	Line              [2]flat.Pt // the middle of the bend area, or its first tangent line
	Tangent           bool       // Line is a tangent line and the bend area lies on the side of Into
	Into              flat.Pt
	Angle             float64 // degrees, + toward top, within one turn
	Written           float64 // +1 or -1: the sense in which the design counts this hinge's angles (toward: bottom is -1)
	Radius            float64 // inside radius, mm
	Use               string  // "install", "dynamic" or ""
	Cycles            float64 // 0 = not given
	Between           *[2]float64
	Formed            string  // "fabricator", "bench", "free" or ""
	TolAngle, TolLine float64 // 0 = not given
	Place             finding.Place
}

// Stiffener is a plate bonded to a side of the board.
type Stiffener struct {
	Name                string
	Side                Side
	Material            string
	Thickness, Adhesive float64
	Area                flat.Loop // counter-clockwise
	Place               finding.Place
}

// Component is an electronic part's body. Exactly one of Size, Boxes, Diameter is set; Height is nil where it is not known
// (then a Size has no third value that counts, and there is no body).
type Component struct {
	Name     string
	Side     Side
	At       flat.Pt
	On       string  // section, for parts whose place lies off the board
	Turn     float64 // degrees counter-clockwise seen from the top, on both sides
	Size     *[2]float64
	Boxes    [][6]float64 // x0 y0 z0 x1 y1 z1, z away from the board
	Diameter float64
	Height   *float64
	Standoff float64
	Below    float64
	Mass     float64
	Place    finding.Place
}

// Piece is one body around the board: a box or a mesh file.
type Piece struct {
	Name      string
	Box       *[2]mgl64.Vec3
	Mesh      string     // path as written, relative to the design's folder
	Units     string     // of the mesh: "mm", "cm", "m", "in", "mil" or "" (STL: mm, with a note)
	Turn      [3]float64 // degrees about the fixed x, y, z axes of the piece's own origin
	Move      mgl64.Vec3
	Chord     float64
	Role      string
	On        string        // section whose flat it rides on; then written in flat coordinates
	Follows   *Follow       // or the hinge it turns with; then written in flat coordinates too
	Grows     float64       // mm, taken off every gap to it
	MeshPlace finding.Place // where the mesh is named
	Place     finding.Place
}

// Follow lets a piece move with the flex of a hinge: Share 1 as what lies beyond the hinge, 0.5 as the middle of the bend.
type Follow struct {
	Hinge string
	Share float64
}

// Posture is a named end shape: an angle for some hinges, the others keep their own.
type Posture struct {
	Name   string
	Angles []HingeAngle
	Place  finding.Place
}

// HingeAngle is an angle in degrees, + toward top, for one hinge.
type HingeAngle struct {
	Hinge string
	Angle float64
}

// Seat is an area where a board body is meant to touch an enclosure piece.
type Seat struct {
	Name    string
	On      string // section, stiffener or component, bare or prefixed
	Side    Side
	Area    flat.Loop // counter-clockwise, flat coordinates
	Against string    // enclosure piece
	Bond    float64   // thickness of what lies between, mm
	Squeeze float64   // overlap that is allowed, mm
	Place   finding.Place
}

// Limits choose what the rules ask for.
type Limits struct {
	Profile   string // "common" (also ""), "strict"
	Overrides []LimitValue
	Source    string        // where overrides come from, for the findings; "" = the design file
	File      string        // file of further limits as the design writes it, relative to its folder; what the design says itself goes before it
	Place     finding.Place // where the file is named
}

// LimitValue replaces one limit of a profile.
type LimitValue struct {
	Rule  string
	Value float64
	Place finding.Place
}

// Concession accepts a deviation from a rule, down to a bound.
type Concession struct {
	Rule    string
	On      []string // names, bare or prefixed, * matches
	DownTo  *float64 // worst value accepted; nil = no bound, which is reported
	Because string
	By      string
	Place   finding.Place
}

// Clearance holds the required distances by class, and exceptions by pair. The zero value judges contact only.
type Clearance struct {
	Board, Components, Enclosure float64
	Pairs                        []Pair
}

// Pair overrides the clearance between two bodies; names may be bare or prefixed, * matches. A negative gap allows an
// overlap of that depth.
type Pair struct {
	Between [2]string
	Gap     float64
	Because string
	Place   finding.Place
}

// LoopLimit is how far a loop may stay open (mm, degrees) before it is reported.
type LoopLimit struct{ Gap, Angle float64 }

// DefaultLoop is the limit where the design gives none.
var DefaultLoop = LoopLimit{Gap: 0.2, Angle: 1}
