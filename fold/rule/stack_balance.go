package rule

import (
	"fmt"
	"math"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/stackup"
)

var stackBalance = Rule{
	ID:    "stack-balance",
	Title: "a rigid stack-up is balanced about its middle",
	Why: "What lies on one side of the middle shrinks alone when the board cools: the section warps, its joints are strained and it does not lie flat " +
		"in its seat. Odd layer counts, and counts that differ between sections, also cost more.",
	Limit: always("copper's mean height within 2/3 of the way from the middle to a face; where the materials are a mirror image, layers that differ from theirs by at most a quarter of the thickness"),
	Source: "common practice, no source; the measures and both limits are ours and wide: flex off the middle, hybrids and single copper layers are not meant. " +
		"What odd and differing counts cost: a maker's design guide (read)",
	Severity: finding.Advice,
	How: Method{
		Formula: "mean height of the copper over the mid-plane, weighed by thickness and coverage, over half the thickness; largest difference in thickness between a layer and its mirror image",
		Inputs:  "the rigid stack-ups in use",
		Source:  "definitions of ours",
		Trust:   "exact for the stack-up as written; how far a board warps is not computed",
	},
	Check: checkBalance,
}

const (
	copperOff    = 2. / 3 // of the way from the middle to a face: one of two outer layers with five times the other's copper
	thicknessOff = 0.25   // of the whole thickness
)

func checkBalance(b Board) []finding.Finding {
	d := b.Tree.Design
	var out []finding.Finding
	for i := range d.Stackups {
		s := &d.Stackups[i]
		balance, known := s.Balance()
		if !known || !s.Rigid || !layered(*s) || coppers(*s) < 2 || !inUse(d, s.Name) {
			continue
		}
		t := s.Thickness()
		if over(math.Abs(balance.Copper), copperOff) && !copperOfFlex(d, *s) {
			out = append(out, b.copperFinding(s, balance.Copper))
		}
		if over(balance.Thickness, thicknessOff*t) && mirrored(s.Layers) {
			out = append(out, b.thicknessFinding(s, balance.Thickness))
		}
	}
	return out
}

// copperFinding reports copper off the middle.
func (b Board) copperFinding(s *stackup.Stackup, off float64) finding.Finding {
	half, side, other := s.Thickness()/2, "above", "bottom"
	if off < 0 {
		side, other = "below", "top"
	}
	return finding.Finding{
		Severity: finding.Advice, On: []string{"stackup:" + s.Name}, Place: s.Place,
		Value: finding.Number(math.Abs(off)), Limit: finding.Number(copperOff),
		Message: fmt.Sprintf("the copper of stack-up %s lies on average %s %s the middle of its %s: it tends to warp", s.Name, b.say().Length(math.Abs(off)*half), side, b.say().Length(2*half)),
		Hint:    fmt.Sprintf("bring it within %s of the middle: copper of its own for the %s side, filled areas, or layers moved", b.say().Down(copperOff*half), other),
	}
}

// thicknessFinding reports layers unlike their mirror images.
func (b Board) thicknessFinding(s *stackup.Stackup, differ float64) finding.Finding {
	n, at := len(s.Layers), 0
	for i, l := range s.Layers[:n/2] {
		if math.Abs(l.Thickness-s.Layers[n-1-i].Thickness) == differ {
			at = i
		}
	}
	one, other := s.Layers[at].Thickness, s.Layers[n-1-at].Thickness
	return finding.Finding{
		Severity: finding.Advice, On: []string{"stackup:" + s.Name}, Place: s.Place,
		Value: finding.Number(differ), Limit: finding.Number(thicknessOff * s.Thickness()), Unit: "mm",
		Message: fmt.Sprintf("layer %d of stack-up %s is %s thick, its mirror image, layer %d, %s: it tends to warp", at+1, s.Name, b.say().Length(one), n-at, b.say().Length(other)),
		Hint:    fmt.Sprintf("make both %s, which leaves the thickness as it is; a difference of %s passes", b.say().exact((one+other)/2), b.say().Down(thicknessOff*s.Thickness())),
	}
}

// inUse reports whether a section has this stack-up.
func inUse(d *fold.Design, name string) bool {
	for _, s := range d.Sections {
		if s.Stackup == name {
			return true
		}
	}
	return d.Flex == name
}

// coppers returns how many copper layers a stack-up has, with etched ones.
func coppers(s stackup.Stackup) int {
	n := 0
	for _, l := range s.Layers {
		if l.Copper {
			n++
		}
	}
	return n
}

// copperOfFlex reports whether all copper of a rigid stack-up is that of a flexible one which runs on through it: flex bonded
// to bare plates, as to a stiffener.
func copperOfFlex(d *fold.Design, rigid stackup.Stackup) bool {
	for _, s := range d.Stackups {
		if run, _, known := stackup.Continuous(s, rigid); known && !s.Rigid && run == coppers(rigid) {
			return true
		}
	}
	return false
}

// mirrored reports whether layers are of the same materials seen from both sides.
func mirrored(layers []stackup.Layer) bool {
	for i, l := range layers {
		if m := layers[len(layers)-1-i]; l.Material != m.Material || l.Copper != m.Copper {
			return false
		}
	}
	return true
}
