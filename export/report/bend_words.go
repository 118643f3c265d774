package report

import (
	"fmt"

	"foldfit/fold/bending"
	"foldfit/fold/rule"
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

// sources returns one entry for each kind of figure that the answer holds. Formula, source and trust are those of the list of
// figures.
func (q BendAsked) sources(a BendAnswer) []bendSource {
	ratio := sourceOf("ratio", "ratio")
	ratio.Source = "limit: " + a.Limit.Source
	out := []bendSource{sourceOf("width", "bend-width"), q.neutral(), ratio, sourceOf("strain", "copper-strain")}
	for _, s := range []struct {
		there      bool
		of, figure string
	}{
		{a.Elongation != nil, "elongation", "elongation"},
		{a.Hold != nil, "hold", "holding-moment"},
		{a.Hold != nil && a.Hold.Squeeze != nil, "squeeze", "squeezing-force"},
		{a.Springback != nil, "springback", "angle-kept"},
		{a.Life != nil, "life", "life"},
		{a.Free != nil, "free", "free-shape"},
	} {
		if s.there {
			out = append(out, sourceOf(s.of, s.figure))
		}
	}
	return out
}

// sourceOf returns the entry about one kind of figure.
func sourceOf(of, figure string) bendSource {
	f, _ := rule.FigureOf(figure)
	return bendSource{of, f.How.Formula, f.How.Source, f.How.Trust}
}

// neutral returns the entry about the neutral surface.
func (q BendAsked) neutral() bendSource {
	if q.Stack.Plain {
		return bendSource{"neutral", "taken at half the thickness", "one material throughout", "right for symmetric layers; K is 0.3 to 0.7 in bare clad"}
	}
	return sourceOf("neutral", "neutral-radius")
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
	_, foils := bending.Foils(q.Stack)
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
