package clash

import (
	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/mesh"
)

// Wall is an enclosure piece as a mesh in the housing's frame.
type Wall struct {
	Piece  *fold.Piece
	Mesh   mesh.Mesh
	Closed bool // closed and consistently oriented: inside and outside can be told apart
}

// Gap is the measured distance between two bodies.
type Gap struct {
	Between  [2]string // body names, in a fixed order
	Kind     string    // "board", "components" or "enclosure"
	Gap      float64   // mm; below zero a penetration depth
	Low      float64   // lower bound: Gap less the chord errors of both meshes
	Flat     *float64  // gap in the flat state; nil for a pair with an enclosure piece
	Required float64
	At       [2]mgl64.Vec3 // nearest points, housing frame, in the order of Between
	Judged   bool          // false: the layout's business, measured but never a finding
	Posture  string
}

// Result is what a check of gaps found.
type Result struct {
	Gaps      []Gap // those under their required clearance and the smallest of each kind, worst first
	Findings  []finding.Finding
	Unchecked []finding.Unchecked
}

// Check measures the gaps between all bodies of a folded board and the enclosure.
func Check(a *mesh.Assembly, walls []Wall) Result { return Result{} }
