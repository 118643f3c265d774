package report

import (
	"fmt"

	"foldfit/fold/rule"
	"foldfit/fold/stackup"
)

// bendSource says where a figure of the answer comes from.
type bendSource struct {
	Of      string `json:"of"`
	Formula string `json:"formula"`
	Source  string `json:"source"`
	Trust   string `json:"trust"`
}

// words returns the source as one line of text.
func (s bendSource) words() string { return s.Formula + "; " + s.Source + "; " + s.Trust }

// sources returns one entry for each kind of figure that the answer holds.
func (q BendAsked) sources(a BendAnswer) []bendSource {
	neutral := bendSource{"neutral", "transformed section: sum(E t y) / sum(E t)", "laminated plates", "exact for elastic layers; no better than their moduli unless the layers are symmetric"}
	if q.Stack.Plain {
		neutral = bendSource{"neutral", "taken at half the thickness", "one material throughout", "right for symmetric layers; K is 0.3 to 0.7 in bare clad"}
	}
	out := []bendSource{
		{"width", "bend allowance: angle x neutral radius", "geometry", "exact for nominal sizes"}, neutral,
		{"ratio", "inside radius / thickness", "limit: " + a.Limit.Source, "the ratio is computed; the fabricator's word goes before the limit"},
		{"strain", "distance from the neutral surface / neutral radius", "plane sections", "exact for elastic layers on a cylinder; where films or foil yield it shifts"},
	}
	for _, s := range []struct {
		there bool
		bendSource
	}{
		{a.Elongation != nil, elongationSource(a)},
		{a.Hold != nil, bendSource{"hold", fmt.Sprintf("EI / (1 - %.2f^2) / neutral radius", stackup.Poisson), "plate theory", "elastic and freshly bent, hence an upper bound: copper yields, films creep"}},
		{a.Hold != nil && a.Hold.Squeeze != nil, bendSource{"squeeze", "2.871 EI / D^2, D between the neutral surfaces of the legs", "elastica of a U between plates on which its ends slide", "an upper bound in the same way"}},
		{a.Springback != nil, bendSource{"springback", "layers elastic up to their yield stress, bent and let go", "our extension of the sheet-metal formula to laminates",
			"real films lie between or beyond; time and heat are left out"}},
		{a.Life != nil, bendSource{"life", "Engelmaier: de = N^-0.6 Df^0.75 + 0.9 (Su/E) (exp(Df)/0.36)^(0.1785 log10(1e5/N))", "recalled; the form of IPC-TR-579", "order of magnitude, a factor of ten each way"}},
		{a.Free != nil, bendSource{"free", "elastica between clamps at the run-outs' ends, least energy", "Euler 1744", "exact for an even elastic strip; set, weight and touching itself are left out"}},
	} {
		if s.there {
			out = append(out, s.bendSource)
		}
	}
	return out
}

// elongationSource returns the form of the standard's formula for the number of copper layers.
func elongationSource(a BendAnswer) bendSource {
	formula := "R = (c/2) (100-EB)/EB - D"
	if len(a.Copper) == 2 {
		formula = "R = (d/2 + c) (100-EB)/EB - D"
	}
	return bendSource{"elongation", formula, "IPC-2223, 5.2.3.4, as commonly quoted, not read",
		"a lower bound and no rule: it puts the neutral surface into the copper's middle, allows creases and can be negative"}
}

// source returns the entry about one kind of figure.
func (a BendAnswer) source(of string) string {
	for _, s := range a.Sources {
		if s.Of == of {
			return s.words()
		}
	}
	return ""
}

// notKnown says what is missing for figures that the answer lacks.
func (q BendAsked) notKnown(a BendAnswer) []string {
	_, foils := q.foils()
	if q.Stack.Plain {
		out := []string{"A plain sheet has no layers: strain in the copper, radius for an elongation, moment, springback and life are not known. Give a stack-up with layers (--stack FILE)."}
		if q.Stack.CopperLayers < 0 {
			out = append(out, "The number of copper layers is not given: the limit is the one for two.")
		}
		return out
	}
	var out []string
	switch {
	case len(a.Copper) == 0:
		return append(out, "There is no copper in this stack-up: no strain, springback or life of copper.")
	case !foils:
		return append(out, "The kind of foil of a copper layer is not known: no elongation, springback or life.")
	}
	if a.Elongation == nil {
		out = append(out, "Radius for an elongation: no allowed elongation is quoted for this foil in "+a.Use+" use.")
	} else if a.Elongation.Quoted == nil {
		out = append(out, fmt.Sprintf("The elongation formula of IPC-2223 is for one or two copper layers, not %d.", len(a.Copper)))
	}
	if a.Springback == nil {
		out = append(out, "Springback: the yield stress of a foil is not known.")
	}
	return out
}

// cautions says what the answer leaves out.
func (q BendAsked) cautions(a BendAnswer) []string {
	out := []string{Cautions()[0],
		"This is one bend by itself: stiffeners, holes, parts and edges in or beside it, and whether the board fits, are not looked at. foldfit check does that for a design.",
		"Limits are common practice, as commonly quoted. The fabricator's word goes before them.",
	}
	if a.Life != nil {
		out = append(out, fmt.Sprintf("Life rests on the foil's ductility (%g), strength and modulus: typical values, not your foil's. Plating in the bend, sharp edges and holes shorten it.", a.Life.Ductility))
	}
	if a.Limit.Crease {
		out = append(out, fmt.Sprintf("Under %d times the thickness flex is creased rather than bent: strains and shapes here are formal.", rule.CreaseRatio))
	}
	return out
}
