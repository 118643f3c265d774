package rule

// Figure is something that foldfit works out and that is no rule.
type Figure struct {
	ID    string // as it is asked for: foldfit rules free-shape
	Title string // what it is, one line
	How   Method
}

// Figures returns what foldfit works out beside the rules, in the order of their names.
func Figures() []Figure {
	return []Figure{
		{"angle-kept", "share of its angle that formed flex keeps when it is let go", springMethod},
		{"bend-width", "flat width of a bend area", widthMethod},
		{"copper-strain", "strain in the layers of a bend", strainMethod},
		{"elongation", "least inside radius for an allowed elongation of the copper, by the standard's formula", elongationMethod},
		{"free-shape", "the shape flex takes when only its rigid edges hold it", freeMethod},
		{"holding-moment", "moment that holds a bend", momentMethod},
		{"life", "cycles until the copper of flex that works breaks", lifeMethod},
		{"neutral-radius", "radius of the surface in a bend that is neither stretched nor pressed", neutralMethod},
		{"ratio", "inside radius over thickness", ratioMethod},
		{"squeezing-force", "force with which flex folded back pushes two plates apart", squeezeMethod},
	}
}

// FigureOf returns the figure of that name, and whether there is one.
func FigureOf(id string) (Figure, bool) {
	for _, f := range Figures() {
		if f.ID == id {
			return f, true
		}
	}
	return Figure{}, false
}

var (
	widthMethod = Method{
		Formula: "bend allowance: angle x neutral radius (angle in radians)",
		Inputs:  "the hinge's angle and inside radius, the stack-up's layers",
		Source:  "geometry", Trust: "exact for nominal sizes",
	}
	neutralMethod = Method{
		Formula: "inside radius + distance from the inside face to the neutral surface; transformed section: sum(E t y) / sum(E t)",
		Inputs:  "thickness and modulus of every layer, copper mixed by its coverage with what fills its gaps; half the thickness of a plain sheet",
		Source:  "laminated plates", Trust: "exact for elastic layers; no better than their moduli unless the layers are symmetric",
	}
	ratioMethod = Method{
		Formula: "inside radius / thickness",
		Inputs: "the stack-up's thickness in the bend, covers and adhesives counted; the radius of the drawn cylinder at the angle judged, or with `formed: free` the least " +
			"one of the free shape; loose plies each by its own thickness",
		Source: "geometry", Trust: "the ratio is computed; the fabricator's word goes before the limit",
	}
	strainMethod = Method{
		Formula: "distance from the neutral surface / neutral radius",
		Inputs:  "thickness and modulus of every layer, the radius as for the ratio; of the copper the face that is farthest from the neutral surface",
		Source:  "plane sections", Trust: "exact for elastic layers on a cylinder; where films or foil yield it shifts",
	}
	elongationMethod = Method{
		Formula: "one copper layer: R = (c/2) (100-EB)/EB - D; two: R = (d/2 + c) (100-EB)/EB - D",
		Inputs:  "EB allowed elongation in %, c copper thickness, d what lies between two copper layers, D what lies between copper and inside face",
		Source:  "IPC-2223, 5.2.3.4, as commonly quoted, not read",
		Trust:   "a lower bound and no rule: it puts the neutral surface into the copper's middle, allows creases and can be negative",
	}
	momentMethod = Method{
		Formula: "EI / (1 - 0.34^2) / neutral radius x width",
		Inputs:  "thickness and modulus of every layer, Poisson's ratio 0.34 of film and copper, the width of the flex",
		Source:  "plate theory", Trust: "elastic and freshly bent, hence an upper bound: copper yields, films creep",
	}
	squeezeMethod = Method{
		Formula: "2.871 EI / D^2 x width, D between the neutral surfaces of the legs",
		Inputs:  "as for the moment; only at 180 degrees",
		Source:  "elastica of a U between plates on which its ends slide", Trust: "an upper bound in the same way",
	}
	springMethod = Method{
		Formula: "layers elastic up to their yield stress, bent and let go until neither force nor moment is left",
		Inputs:  "thickness and modulus of every layer, yield stress of the softest foil, films once elastic and once yielding at 69 MPa, the drawn inside radius",
		Source:  "our extension of the sheet-metal formula to laminates", Trust: "real films lie between or beyond; time and heat are left out",
	}
	lifeMethod = Method{
		Formula: "Engelmaier: de = N^-0.6 Df^0.75 + 0.9 (Su/E) (exp(Df)/0.36)^(0.1785 log10(1e5/N)), solved for N; de = distance from the neutral surface x change of curvature",
		Inputs:  "the angles between which the bend works, fatigue ductility Df, tensile strength Su and modulus E of the foil: typical values, not your foil's",
		Source:  "recalled; the form of IPC-TR-579", Trust: "order of magnitude, a factor of ten each way; plating, sharp edges and holes shorten life",
	}
	freeMethod = Method{
		Formula: "elastica between clamps at the run-outs' ends, least energy",
		Inputs:  "the drawn radius and angle, the straight flex on both sides up to the next rigid or stiffened edges, which stay where they are drawn",
		Source:  "Euler 1744", Trust: "exact for an even elastic strip; set, weight and touching itself are left out",
	}
)
