package stackup

import "foldfit/fold/finding"

// Material is a substance a layer is made of.
type Material struct {
	Name      string
	Modulus   float64 // GPa, in plane
	Low, High float64 // GPa, between which sources put the modulus; 0, 0 = one source only, or the design's own figure
	Density   float64 // g/cm3; 0 = not known
	Copper    bool
	Source    string // where the modulus comes from and how far to trust it
}

// Layer is one sheet of a stack-up.
type Layer struct {
	Material  string  // as written; "" for the single sheet of a stack-up given by its thickness alone
	Role      string  // "coverlay", "coverlay-adhesive", "" ...: the user's word, kept
	Thickness float64 // mm
	Modulus   float64 // GPa, effective: copper already mixed with what fills its gaps by coverage; 1 for a plain sheet
	Coverage  float64 // share of the area covered by copper, 0 (etched away) to 1; 1 where not given; 0 with copper's own modulus counts as not given
	Copper    bool
}

// Air is the material of the gaps between loose plies: without stiffness.
const Air = "air"

// Embed says that a flexible stack-up runs on inside this one.
type Embed struct {
	Stackup string  // name of the flexible stack-up
	Bottom  float64 // height, above this stack-up's bottom face, of the embedded stack-up's own bottom face (as if nothing were left out)
}

// Stackup is a laminate, layers from top to bottom, or a pile of loose ones. All fields are set by the reader; the zero value has no layers.
type Stackup struct {
	Name         string
	Rigid        bool
	Plain        bool // given by thickness only, or a pile that holds such a sheet
	Layers       []Layer
	Embeds       []Embed   // in a rigid stack-up: the flex that runs on inside; in an arm: the flex whose layers it keeps; in a pile: its plies
	CopperLayers int       // -1 when not known
	Lip          float64   // how far the layers that stop at the rigid edge, such as the coverlay, run under it, mm; 0 = not given. Kept as a fact: nothing is computed with it
	Plies        []Stackup // loose sheets from top to bottom, bonded at their ends only; Layers then holds all of their layers with air between
	Gap          float64   // air between neighbouring plies, mm
	Progressive  bool      // each ply as long as its own path (bookbinder); else all are equally long
	Place        finding.Place
}

// Thickness returns the sum of the layers' thicknesses in mm.
func (s Stackup) Thickness() float64 {
	t := 0.0
	for _, l := range s.Layers {
		t += l.Thickness
	}
	return t
}

// Neutral returns the height of the neutral surface above the bottom face in mm: sum(E t y)/sum(E t), y the mid-height
// of a layer (transformed section; exact for linear elastic layers bonded without slip). A stack without any stiffness
// gives its mid-height.
//
// Loose plies have a neutral surface each. Theirs together is the mean of those heights, each ply counting alike: the surface on
// which the drawn flat lies, as long as the plies of a bookbinder are on average. A definition of ours; it is the middle of a pile
// that is its own mirror image.
func (s Stackup) Neutral() float64 {
	if len(s.Plies) > 0 {
		sum := 0.0
		for _, l := range s.leaves(Bottom) {
			sum += l.below + l.Neutral()
		}
		return sum / float64(len(s.Plies))
	}
	y, stiff, moment := 0.0, 0.0, 0.0
	for i := len(s.Layers) - 1; i >= 0; i-- {
		l := s.Layers[i]
		et := l.Modulus * l.Thickness
		stiff += et
		moment += et * (y + l.Thickness/2)
		y += l.Thickness
	}
	if stiff == 0 {
		return y / 2
	}
	return moment / stiff
}
