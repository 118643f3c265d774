package pattern

import (
	"fmt"
	"math"
	"strings"

	"foldfit/fold"
	"foldfit/fold/stackup"
)

// cardStep is to what the thickness of card is rounded, in mm; less than one step of card is left out.
const cardStep = 0.05

// card says which card to glue on which side of the sheet, so that its faces come to lie where those of the rigid stack-up are
// when the sheet's middle is the flex's neutral surface; "" for a stack-up that is not rigid.
func (w words) card(t *fold.Tree, s *stackup.Stackup, stock float64) string {
	if s == nil || !s.Rigid {
		return ""
	}
	lv, ok := t.Levels[s.Name]
	if !ok {
		return ""
	}
	top, bottom := math.Round((lv.Top-stock/2)/cardStep)*cardStep, math.Round((-lv.Bottom-stock/2)/cardStep)*cardStep
	switch {
	case top < cardStep && bottom < cardStep:
		return ""
	case math.Abs(top-bottom) < cardStep/2:
		return "glue card " + w.thick(top) + " on both sides"
	case top < cardStep:
		return "glue card " + w.thick(bottom) + " on BOTTOM"
	case bottom < cardStep:
		return "glue card " + w.thick(top) + " on TOP"
	}
	return "glue card " + w.thick(top) + " TOP, " + w.thick(bottom) + " BOTTOM"
}

// thick returns the thickness of card in the design's unit, to no more than cardStep can stand for.
func (w words) thick(mm float64) string {
	most := map[fold.Units]int{fold.Inch: 3, fold.Mil: 0, fold.MM: 2}[fold.Units(w.unit())]
	return decimals(mm/w.units.Length(), 0, most)
}

// cardWords says which card to glue on the rigid sections, those with the same together.
func cardWords(t *fold.Tree, stock float64) string {
	w := words{t.Design.Units}
	var kinds []string
	names := map[string][]string{}
	for i := range t.Design.Sections {
		sec := &t.Design.Sections[i]
		card := w.card(t, t.Design.StackupNamed(sec.Stackup), stock)
		if card == "" {
			continue
		}
		if names[card] == nil {
			kinds = append(kinds, card)
		}
		names[card] = append(names[card], short(sec.Name))
	}
	for i, k := range kinds {
		kinds[i] = strings.Join(names[k], ", ") + ": " + k
	}
	return strings.Join(kinds, "; ")
}

// stepNumbers returns in which steps of the sequence a hinge is bent: "2", "2, 5"; "" where no step bends it.
func stepNumbers(d *fold.Design, hinge string) string {
	var list []string
	for i := range d.Sequence {
		for _, b := range d.Sequence[i].Bend {
			if b.Hinge == hinge {
				list = append(list, fmt.Sprint(i+1))
				break
			}
		}
	}
	return strings.Join(list, ", ")
}

// stepWords says the same in words: "step 2 of 4".
func stepWords(d *fold.Design, hinge string) string {
	numbers, word := stepNumbers(d, hinge), "step"
	if numbers == "" {
		return ""
	}
	if strings.Contains(numbers, ",") {
		word = "steps"
	}
	return fmt.Sprintf("%s %s of %d", word, numbers, len(d.Sequence))
}
