package report

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"foldfit/fold"
	"foldfit/fold/stackup"
)

// BendJSON writes an answer about one bend for programs. A number that is not finite is an error, since none may be.
func BendJSON(w io.Writer, a BendAnswer) error { return writeObject(w, a) }

// BendText writes an answer about one bend for people, lengths in mm: whether the ratio is kept, then each figure with its
// formula, where that comes from and how far to trust it, the table, what is not known, and the cautions last.
func BendText(w io.Writer, a BendAnswer, o TextOptions) error {
	p := newPage(w, speech{fold.MM}, o)
	word, colour := "KEPT", green
	switch {
	case a.Limit.Crease:
		word, colour = "CREASE", red
	case !a.Limit.Kept:
		word, colour = "TOO TIGHT", yellow
	}
	ratio, limit := p.ratios(a.Ratio, a.Limit.Ratio)
	p.wrap(fmt.Sprintf("%s: inside radius %s is %s times the thickness, %s times is asked for (%s)", p.paint(colour, word),
		p.size(float64(a.Radius)), ratio, limit, a.Limit.Why), 0, 2)
	p.wrap(fmt.Sprintf("%s deg, %s side inside, %s use, profile %s; %s", short(float64(a.Angle), 2), a.Inside, a.Use, a.Limit.Profile, a.Stack.words(p.speech)), 0, 2)
	p.bendShape(a)
	p.bendStrain(a)
	p.bendForce(a)
	p.bendFree(a)
	p.bendTable(a)
	p.list("Not known", a.NotKnown)
	p.list("Notes", a.Notes)
	p.list("Cautions", a.Cautions)
	return p.out.Flush()
}

// words describes the stack-up.
func (s bendStack) words(sp speech) string {
	out := s.Name
	if s.File != nil {
		out += " (" + *s.File + ")"
	}
	out += fmt.Sprintf(", %s mm thick", short(float64(s.Thickness), 3))
	if s.CopperLayers == nil {
		return out
	}
	return out + ", " + plural(int(*s.CopperLayers), "copper layer")
}

// figure writes a figure, and below it where it comes from.
func (p *page) figure(words, source string) {
	p.item(words)
	p.wrap(source, 6, 6)
}

func (p *page) bendShape(a BendAnswer) {
	p.section("Shape and ratio")
	p.figure("flat width of the bend area "+p.size(float64(a.Width)), a.source("width"))
	p.figure(fmt.Sprintf("neutral radius %s: the neutral surface lies %s mm from the inside face (K %.2f)", p.size(float64(a.Neutral)), short(float64(a.Inner), 3), float64(a.K)), a.source("neutral"))
	ratio, limit := p.ratios(a.Ratio, a.Limit.Ratio)
	p.figure(fmt.Sprintf("ratio %s, asked %s: an inside radius of %s or more passes", ratio, limit, p.atLeast(a.Limit.Radius)), a.source("ratio"))
}

// ratios returns a ratio and its limit with as many decimals as tell them apart.
func (p *page) ratios(ratio, limit num) (string, string) {
	r, l := p.pair(float64(ratio), float64(limit), "")
	trimmed := func(s string) string { return strings.TrimRight(strings.TrimRight(s, "0"), ".") }
	return trimmed(r), trimmed(l)
}

// atLeast returns a least length rounded up, so that the printed one passes.
func (p *page) atLeast(v num) string {
	return fixed(math.Ceil(float64(v)*100-1e-6)/100, 2) + tie + "mm"
}

func (p *page) bendStrain(a BendAnswer) {
	p.section("Strain in % (+ stretched)")
	for _, c := range a.Copper {
		p.item(fmt.Sprintf("copper %d (%s): inner face %s, outer face %s", c.Layer, c.Material, percent(c.Inside), percent(c.Outside)))
	}
	p.figure(fmt.Sprintf("inside face %s, outside face %s", percent(a.Concave), percent(a.Convex)), a.source("strain"))
	if e := a.Elongation; e != nil {
		words := fmt.Sprintf("copper within %s %% (%s, quoted for %s use; for information): from an inside radius of %s by the strain above", short(100*float64(e.Limit), 2), e.Foil, a.Use, p.atLeast(e.Model))
		if e.Quoted == nil {
			p.item(words)
		} else {
			p.figure(words+", "+fixed(float64(*e.Quoted), 2)+tie+"mm by the standard's formula", a.source("elongation"))
		}
	}
	p.item(fmt.Sprintf("outside face within %s %%, where polyimide film begins to yield (for information): from an inside radius of %s", short(100*float64(a.Film.Limit), 2), p.atLeast(a.Film.Radius)))
}

func (p *page) bendForce(a BendAnswer) {
	if a.Hold == nil && a.Springback == nil && a.Life == nil {
		return
	}
	p.section("Force, forming, life")
	if h := a.Hold; h != nil {
		per := " per mm of width"
		if h.FlexWidth != nil {
			per = fmt.Sprintf(" for a flex %s wide", p.size(float64(*h.FlexWidth)))
		}
		p.figure("moment to hold it at most "+figures(h.Moment, 2)+tie+"N.mm"+per, a.source("hold"))
		if h.Squeeze != nil {
			p.figure("squeezed between two plates it pushes with at most "+figures(*h.Squeeze, 2)+tie+"N"+per, a.source("squeeze"))
		}
	}
	if s := a.Springback; s != nil {
		p.figure(fmt.Sprintf("let go it keeps %.0f to %.0f %% of its angle (films elastic or yielding at %d MPa, copper yields at %g): %s", 100*float64(s.Retained[0]),
			100*float64(s.Retained[1]), stackup.PolyimideYield, float64(s.Yield), s.forming()), a.source("springback"))
	}
	if l := a.Life; l != nil {
		words := fmt.Sprintf("life %s; a cycle is open and close, flat to bent (%s: strain range %s %%, ductility %g, strength %g MPa, modulus %g GPa)",
			cycleRange(l.Low, l.High, l.Cycles), l.Foil, size(l.Strain), float64(l.Ductility), float64(l.Strength), float64(l.Modulus))
		if l.Elastic > 0.5 {
			words += "; mostly elastic here: the figure says little"
		}
		p.figure(words, a.source("life"))
	}
}

func (p *page) bendFree(a BendAnswer) {
	f := a.Free
	if f == nil {
		return
	}
	p.section("Free shape: held only where run-outs of " + p.length(float64(f.RunOuts[0])) + " and " + p.size(float64(f.RunOuts[1])) + " end")
	way, by := "further", float64(f.Further)
	if by < 0 {
		way, by = "less far", -by
	}
	reach := fmt.Sprintf("the loop reaches %s mm %s", fixed(by, 2), way)
	if by < 0.005 {
		reach = "the loop reaches as far as drawn"
	}
	p.figure(fmt.Sprintf("free: least inside radius %s %s, %.2f of drawn; %s", p.size(float64(f.Radius)), f.place(), float64(f.OfDrawn), reach), a.source("free"))
	ratio, limit := p.ratios(f.Ratio, a.Limit.Ratio)
	words := "there ratio " + ratio
	if !f.Kept {
		words += ", below the " + limit + " asked"
	}
	if f.Copper != nil {
		words += ", copper strain " + size(*f.Copper) + tie + "%"
	}
	p.item(words)
}

// place says where the least radius is.
func (f bendFree) place() string {
	switch share := f.Where / f.Length; {
	case f.OfDrawn > 1-1e-9 && f.RunOuts == [2]num{}:
		return "everywhere"
	case f.Back:
		return "where it bends the other way"
	case share < 0.02:
		return "at the near clamp"
	case share > 0.98:
		return "at the far clamp"
	}
	return "in the loop"
}

// forming says to which angle a bend would have to be formed: beyond three quarters of a turn no former reaches it.
func (s bendSpring) forming() string {
	const most = 270
	low, high := s.Form[1], s.Form[0]
	switch {
	case low == nil || *low > most:
		return "no former bends it far enough, let the hardware hold it"
	case high == nil || *high > most:
		return fmt.Sprintf("form it to %.0f deg or as far as a former reaches, and let the hardware hold it", float64(*low))
	}
	return fmt.Sprintf("form it to %.0f to %.0f deg, and let the hardware hold it", float64(*low), float64(*high))
}

// bendTable writes the radii that were asked for, one a line; columns that nothing is known in are left out.
func (p *page) bendTable(a BendAnswer) {
	if len(a.Table) == 0 {
		return
	}
	p.section("Radii")
	first := a.Table[0]
	for i, r := range append([]bendRow{first}, a.Table...) {
		cells := []string{p.length(float64(r.Radius)), p.length(float64(r.Width)), fixed(float64(r.Ratio), 1), keptWord(r.Kept), percent(r.Outside),
			orDash(r.Copper, size), orDash(r.Cycles, cycles), orDash(r.Free, func(n num) string { return p.length(float64(n)) })}
		if i == 0 {
			cells = []string{"inside", "width", "ratio", "limit", "outside %", "copper %", "cycles", "free"}
		}
		line := ""
		for k, c := range cells {
			if k == 5 && a.Most == nil || k == 6 && a.Life == nil || k == 7 && a.Free == nil {
				continue
			}
			line += fmt.Sprintf(" %*s", max(9, len(c)), c)
		}
		fmt.Fprintln(p.out, " "+line)
	}
}

func keptWord(kept bool) string {
	if kept {
		return "kept"
	}
	return "too tight"
}

// orDash writes a number, "-" for none.
func orDash(n *num, write func(num) string) string {
	if n == nil {
		return "-"
	}
	return write(*n)
}

// cycles writes a number of cycles: two digits, and no more than can be told apart from forever.
func cycles(n num) string {
	if n >= 1e7 {
		return "over 10 million"
	}
	return figures(n, 2)
}

// cycleRange writes a mean life with its scatter, once where all of it is beyond what can be told apart.
func cycleRange(low, high, mean num) string {
	if cycles(low) == cycles(high) {
		return cycles(low) + " cycles"
	}
	return cycles(low) + " to " + cycles(high) + " cycles about a mean of " + cycles(mean)
}

// size writes a strain without its sign, in per cent.
func size(strain num) string { return strings.TrimLeft(percent(strain), "+-") }

// percent writes a strain with its sign.
func percent(strain num) string {
	s := fixed(100*float64(strain), 2)
	if strain > 0 {
		return "+" + s
	}
	return s
}

// figures writes v with n significant digits and without an exponent.
func figures(v num, n int) string {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(float64(v), 'e', n-1, 64), 64)
	if err != nil {
		return "-"
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
