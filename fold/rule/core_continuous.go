package rule

import (
	"fmt"
	"slices"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/stackup"
)

var coreContinuous = Rule{
	ID:    "core-continuous",
	Title: "the flex's copper layers run on through the rigid sections",
	Why: "Rigid-flex is held together by the flex between its plates. A flex that ends at the rigid edge is a joint, and the height at which the " +
		"flex leaves the section is not the one that was computed.",
	Limit:    always("all copper layers of the flex, with the film between them"),
	Source:   "common practice, no source; the layers are compared as written (computed)",
	Severity: finding.Advice,
	How: Method{
		Formula: "copper layers in the longest run of neighbouring layers that flex and rigid stack-up share by material and thickness; copper is compared as copper, plated or not",
		Inputs:  "the stack-up under the hinge line and those of the rigid sections on its flats",
		Source:  "a definition of ours",
		Trust:   "exact for the stack-ups as written; one that names the flex as `stackup` holds it by construction",
	},
	Check: checkContinuous,
}

func checkContinuous(b Board) []finding.Finding {
	d := b.Tree.Design
	var out []finding.Finding
	var told [][2]string // flex and rigid stack-up
	for i := range b.Tree.Bends {
		bend := &b.Tree.Bends[i]
		for _, fi := range slices.Concat(bend.Near, bend.Far) {
			for _, section := range b.rigidOn(&b.Tree.Flats[fi], bend.Stackup) {
				flex, rigid := stackNamed(d, bend.Stackup), stackNamed(d, section.Stackup)
				pair := [2]string{flex.Name, rigid.Name}
				if run, of := runsOn(flex, rigid); run < of && !slices.Contains(told, pair) {
					told = append(told, pair)
					out = append(out, endsShort(bend, section, &rigid, run, of))
				}
			}
		}
	}
	return out
}

// endsShort reports flex that does not run on.
func endsShort(bend *fold.Bend, section *fold.Section, rigid *stackup.Stackup, run, of int) finding.Finding {
	flex := bend.Stackup
	return finding.Finding{
		Severity: finding.Advice, On: []string{"stackup:" + flex, "stackup:" + rigid.Name}, At: at(bend.Middle()), Place: rigid.Place,
		Value: finding.Number(float64(run)), Limit: finding.Number(float64(of)),
		Message: fmt.Sprintf("%d of the %s of %s in bend %s run on in section %s (stack-up %s)", run, counted(of, "copper layer"), flex, bend.Name, section.Name, rigid.Name),
		Hint: fmt.Sprintf("name the flex among the layers of %s, as `stackup: %s` with its covers under `without`, or give the layers the same materials and thicknesses: then %d of %d run on",
			rigid.Name, flex, of, of),
	}
}

// rigidOn returns the rigid sections on a flat whose only flex is the named stack-up: with another one between, it need not
// reach them.
func (b Board) rigidOn(f *fold.Flat, flex string) []*fold.Section {
	d := b.Tree.Design
	var out []*fold.Section
	for _, bi := range f.Bodies {
		body := &b.Tree.Bodies[bi]
		stack := d.Flex
		switch body.Kind {
		case fold.KindSection:
			stack = d.Sections[body.Source].Stackup
		case fold.KindFlex:
		default:
			continue
		}
		switch {
		case body.Kind == fold.KindSection && stackNamed(d, stack).Rigid:
			out = append(out, &d.Sections[body.Source])
		case stack != flex:
			return nil
		}
	}
	return out
}

// runsOn returns how many copper layers of the flex run on through a rigid stack-up, of how many: all of them where that is
// so by construction, and 0 of 0 where it is not known. An arm that keeps some layers of another stack-up is not judged, nor is
// a rigid stack-up without copper, which is a plate.
func runsOn(flex, rigid stackup.Stackup) (run, of int) {
	holds := slices.ContainsFunc(rigid.Embeds, func(e stackup.Embed) bool { return e.Stackup == flex.Name })
	if holds || len(flex.Embeds) > 0 || !layered(rigid) || coppers(rigid) == 0 {
		return 0, 0
	}
	run, of, _ = stackup.Continuous(asCopper(flex), asCopper(rigid))
	return run, of
}

// asCopper returns a stack-up with all copper alike: the foil's kind, its weight and plating on it change at a rigid edge.
func asCopper(s stackup.Stackup) stackup.Stackup {
	layers := make([]stackup.Layer, 0, len(s.Layers))
	for _, l := range s.Layers {
		if l.Copper {
			if n := len(layers); n > 0 && layers[n-1].Copper {
				continue
			}
			l.Material, l.Thickness = "copper", 1
		}
		layers = append(layers, l)
	}
	s.Layers = layers
	return s
}
