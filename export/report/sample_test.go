package report

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
	"foldfit/mesh/clash"
)

// strip returns a hand-made run: 30 mm of board, a fold of 180 degrees about neck, 26 mm more, one part of unknown
// height. Invented data, ours.
func strip(t *testing.T) Run {
	t.Helper()
	rho := 1.6
	width := math.Pi * rho
	left, right := 30.0, 30.0+width
	height := 0.9
	d := &fold.Design{
		Name: "Strip", Units: fold.MM, Title: fold.Title{Number: "S-1", Revision: "B"},
		Stackups: []stackup.Stackup{{
			Name: "flex", CopperLayers: 2,
			Layers: []stackup.Layer{{Thickness: 0.05, Modulus: 2.5}, {Thickness: 0.02, Modulus: 117, Copper: true}, {Thickness: 0.06, Modulus: 2.5},
				{Thickness: 0.02, Modulus: 117, Copper: true}, {Thickness: 0.05, Modulus: 2.5}},
		}},
		Hinges: []fold.Hinge{{Name: "neck", Angle: 180, Written: 1, Radius: 1.5}},
		Components: []fold.Component{
			{Name: "U1", Height: &height, Size: &[2]float64{5, 5}},
			{Name: "U7", Size: &[2]float64{5, 5}},
		},
		Enclosure: []fold.Piece{{Name: "tray"}},
		Loop:      fold.DefaultLoop,
	}
	tree := &fold.Tree{
		Design: d, Foldable: true,
		Hinges: []fold.HingeInfo{{NeutralRadius: rho, Width: width, Line: [2]flat.Pt{{X: 32, Y: 0}, {X: 32, Y: 10}}, Bends: []int{0}}},
		Bends: []fold.Bend{{
			Name: "neck", Origin: flat.Pt{X: left}, Dir: flat.Pt{X: 1}, Width: width, Near: []int{0}, Far: []int{1},
			Lines: [][2]flat.Pt{{{X: 32, Y: 0}, {X: 32, Y: 10}}}, Stackup: "flex", Faces: [2]float64{-0.1, 0.1}, Area: 10 * width, InsideRadius: 1.5,
		}},
		Flats: []fold.Flat{
			{Name: "main", Area: 300, Inside: flat.Pt{X: 15, Y: 5}, Sections: []string{"main"}, Parent: -1, Bend: -1, Bodies: []int{0}},
			{Name: "wing", Area: 260, Inside: flat.Pt{X: right + 13, Y: 5}, Parent: 0, Bend: 0, Far: true},
		},
		Bodies: []fold.Body{
			{Name: "section:main", Kind: fold.KindSection, Bend: -1, Faces: [2]float64{-0.4, 0.4}, Area: 300, Volume: 240},
			{Name: "bend:neck", Kind: fold.KindBend, Flat: -1, Faces: [2]float64{-0.1, 0.1}, Area: 10 * width, Volume: 2 * width},
			{Name: "component:U1", Kind: fold.KindComponent, Flat: 1, Bend: -1},
		},
	}
	f, err := tree.Place(tree.Angles())
	if err != nil {
		t.Fatal(err)
	}
	return Run{Tree: tree, Folded: f, Posture: "folded", Version: "test"}
}

// trouble returns the strip with a finding of every severity and two gaps.
func trouble(t *testing.T) Run {
	r := strip(t)
	flatGap := 28.05
	r.Gaps = []clash.Gap{
		{Between: [2]string{"component:U1", "enclosure:tray"}, Kind: "enclosure", Gap: -0.35, Low: -0.36, Required: 0.5, Judged: true, Rule: "contact",
			At: [2]mgl64.Vec3{{1, 2, 3}, {1, 2, math.Copysign(0, -1)}}, Posture: "folded"},
		{Between: [2]string{"component:U1", "section:main"}, Kind: "components", Gap: 1.6, Low: 1.6, Flat: &flatGap, Judged: true, Posture: "folded"},
	}
	r.Findings = []finding.Finding{
		{Rule: "contact", Severity: finding.Error, On: []string{"component:U1", "enclosure:tray"}, Posture: "folded", At: &[2]float64{39, 12},
			Place: finding.Place{File: "strip.yaml", Line: 52, Column: 3}, Value: finding.Number(-0.35), Limit: finding.Number(0), Unit: "mm",
			Message: "component:U1 runs 0.35 mm into enclosure:tray", Hint: "move U1 by 0.35 mm", Source: "geometry, chord error 0.01 mm"},
		{Rule: "bend-ratio", Severity: finding.Warning, On: []string{"hinge:neck"}, Value: finding.Number(9.9999), Limit: finding.Number(10),
			Message: "the bend is tight", Hint: "radius 2.0 passes", Source: "common practice"},
		{Rule: "bend-stackup", Severity: finding.Advice, Message: "two stack-ups"},
	}
	r.Notes = []string{"tray.stl read as mm"}
	return r
}
