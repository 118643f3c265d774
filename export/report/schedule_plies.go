package report

import (
	"fmt"
	"strings"

	"foldfit/fold/stackup"
)

// pliesJSON is what a bend asks of loose plies, from the inside of the bend outward. Lengths are those in the bend area alone.
type pliesJSON struct {
	Names       []string `json:"names"`
	Gap         num      `json:"gap"`
	Progressive bool     `json:"progressive"`
	Ratios      []num    `json:"ratios"`  // inside radius of each over its thickness
	Lengths     []num    `json:"lengths"` // of progressive plies
	Surplus     []num    `json:"surplus"` // of equal plies, against the outermost
	Buckle      []num    `json:"buckle"`  // how far about an equal ply then buckles inward
}

// plies returns what the tightest bend asks of its loose plies; nil for bonded flex.
func (s *Scheduled) plies() *pliesJSON {
	f := s.Flex()
	if len(f.Stack.Plies) == 0 {
		return nil
	}
	pile := f.Stack.Pile(f.Inside)
	out := &pliesJSON{Names: []string{}, Gap: num(f.Stack.Gap), Progressive: f.Stack.Progressive,
		Ratios: nums(pile.Ratios(f.Drawn)), Lengths: nums(pile.Lengths(f.Angle, f.Drawn, 0)), Surplus: []num{}, Buckle: []num{}}
	for i := range f.Stack.Plies {
		k := i
		if f.Inside == stackup.Bottom {
			k = len(f.Stack.Plies) - 1 - i
		}
		out.Names = append(out.Names, f.Stack.Plies[k].Name)
	}
	straight := 0.0
	if f.Free != nil {
		straight = f.Free.Near + f.Free.Far
	}
	for _, x := range pile.EqualPlies(f.Angle, f.Drawn, straight) {
		if f.Stack.Progressive {
			break
		}
		out.Surplus, out.Buckle = append(out.Surplus, num(x.Surplus)), append(out.Buckle, num(x.Height))
	}
	return out
}

func nums(list []float64) []num {
	out := []num{}
	for _, v := range list {
		out = append(out, num(v))
	}
	return out
}

// plyWords says what the bend asks of its loose plies.
func (s *Scheduled) plyWords(sp speech) string {
	p := s.plies()
	list := func(values []num) string {
		var out []string
		for _, v := range values {
			out = append(out, sp.size(float64(v)))
		}
		return strings.Join(out, ", ")
	}
	words := fmt.Sprintf("%d loose, %s apart; ratios from the inside out ", len(p.Names), sp.size(float64(p.Gap)))
	for i, r := range p.Ratios {
		if i > 0 {
			words += ", "
		}
		words += short(float64(r), 1)
	}
	if p.Progressive {
		return words + "; progressive: lengths in the bend area from the inside out " + list(p.Lengths) + "; they bend this way only"
	}
	return words + "; equally long: from the inside out " + list(p.Surplus) + " too much, buckling inward by about " + list(p.Buckle)
}
