package rule

import (
	"cmp"
	"fmt"
	"math"
	"strconv"

	"foldfit/fold/bending"
	"foldfit/fold/finding"
)

var bendLife = Rule{
	ID:    "bend-life",
	Title: "flex that works lives for the cycles asked of it",
	Why: "Copper that is bent to and fro breaks after a number of cycles that falls steeply with its strain range. Only hinges of `use: dynamic` with " +
		"`cycles` are judged.",
	Limit:    always("the hinge's `cycles`, on average; where they lie within the scatter of a factor ten below the mean it is advice"),
	Source:   "the design's own; the life is computed, within a factor of ten each way",
	How:      lifeMethod,
	Severity: finding.Warning,
	Tightest: true,
	Check:    checkBendLife,
}

// working is a bend that works, with the life of the copper layer that breaks first.
type working struct {
	bend     int
	work     work
	from, to float64 // degrees, + toward top
	life     bending.Life
}

// working returns the life of bend i, and whether it is known; not where nothing works.
func (b Board) working(i int) (working, bool) {
	out := working{bend: i, work: b.work(i)}
	out.from, out.to = out.work.from.Signed(), out.work.to.Signed()
	life, known := out.work.drawn.Work(out.work.from, out.work.to).Life()
	out.life = life
	return out, known
}

func checkBendLife(b Board) []finding.Finding {
	var out []finding.Finding
	for hi := range b.Tree.Hinges {
		asked := b.Tree.Design.Hinges[hi].Cycles
		var worst *working
		for _, i := range b.dynamic(hi) {
			if w, known := b.working(i); known && under(w.life.Low, asked) && (worst == nil || w.life.Cycles < worst.life.Cycles) {
				worst = &w
			}
		}
		if worst != nil {
			out = append(out, b.lifeFinding(*worst, asked))
		}
	}
	return out
}

func (b Board) lifeFinding(w working, asked float64) finding.Finding {
	bend := &b.Tree.Bends[w.bend]
	h := b.hinge(bend)
	f := finding.Finding{
		Severity: finding.Warning, On: []string{"hinge:" + h.Name}, At: at(bend.Middle()), Place: h.Place,
		Value: finding.Number(w.life.Cycles), Limit: finding.Number(asked), Unit: "cycles", Hint: b.lifeHint(w, asked),
		Source: "cycles: the design's own; life: " + lifeMethod.Source + "; " + lifeMethod.Trust + ". Foil: " + w.life.Foil.Source,
	}
	said := "more than it lives for on average"
	if !under(w.life.Cycles, asked) {
		f.Severity, f.Value = finding.Advice, finding.Number(w.life.Low)
		said = "within the scatter of a factor ten below its mean life"
	}
	f.Message = fmt.Sprintf("bend %s works %s and is asked for %s cycles (there and back is one), %s: %s, %s to %s with the scatter. %s",
		bend.Name, betweenWords(h), short(asked, 0), said, twoDigits(w.life.Cycles), twoDigits(w.life.Low), twoDigits(w.life.High), w.inputs())
	return f
}

// inputs says what a life rests on.
func (w working) inputs() string {
	foil, l := w.life.Foil, w.life.Layer
	out := fmt.Sprintf("Strain range %s %% in layer %d from the top (%s: fatigue ductility %g, tensile strength %g MPa, modulus %g GPa), %.0f %% of it elastic",
		figure(100*w.life.Range), l+1, foil.Material, foil.Ductility, foil.Strength, foil.Modulus, 100*w.life.Elastic)
	if w.life.Elastic > 0.5 {
		out += ": mostly elastic, so that the figure rests on strength and modulus and says little"
	}
	return out
}

// twoDigits prints a number of cycles with two digits that count.
func twoDigits(v float64) string {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 1, 64), 64)
	if err != nil || v < 1 {
		return "under 1"
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

func (b Board) lifeHint(w working, asked float64) string {
	mean, ok := b.leastLiving(w, 0, asked)
	sure, surely := b.leastLiving(w, 0, asked*w.life.Cycles/w.life.Low)
	switch {
	case !ok && !surely:
		return "no radius that fits here lives so long: ask for fewer cycles, bend it less far, or use thinner copper nearer to the neutral surface"
	case !surely:
		return fmt.Sprintf("an inside radius of %s lives so long on average (bend area then %s wide)%s", b.say().Up(mean.radius), b.say().Length(mean.width), b.noRoom(w.bend, mean))
	case under(w.life.Cycles, asked):
		return fmt.Sprintf("an inside radius of %s lives so long on average (bend area then %s wide), one of %s in spite of the scatter%s",
			b.say().Up(mean.radius), b.say().Length(mean.width), b.say().Up(sure.radius), cmp.Or(b.noRoom(w.bend, mean), b.noRoom(w.bend, sure)))
	}
	return fmt.Sprintf("an inside radius of %s lives so long in spite of the scatter (bend area then %s wide); or have the foil's ductility and life tested%s", b.say().Up(sure.radius), b.say().Length(sure.width), b.noRoom(w.bend, sure))
}

// leastLiving returns what must be drawn so that the copper lives for a mean number of cycles, as least does.
func (b Board) leastLiving(w working, from, cycles float64) (written, bool) {
	d := w.work.drawn
	change, known := bending.ChangeFor(d.Stack, cycles)
	if !known {
		return written{}, false
	}
	if !d.Free || !w.work.from.Known() || !w.work.to.Known() {
		return b.write(w.bend, math.Abs(w.to-w.from)*(math.Pi/180)/change), true
	}
	width, ok := leastWidth(d, from, func(d bending.Drawn) bool { return !over(d.Working(w.from, w.to).Change, change) })
	return b.write(w.bend, width), ok
}

// widthForLife returns the least width of the area of bend i, and not less than from, at which it lives for the cycles asked on
// average; any will do where that is not judged.
func (b Board) widthForLife(i int, from float64) (float64, bool) {
	h := b.hinge(&b.Tree.Bends[i])
	if h.Use != "dynamic" || h.Cycles == 0 {
		return from, true
	}
	w, known := b.working(i)
	if !known {
		return from, true
	}
	out, ok := b.leastLiving(w, from, h.Cycles)
	return out.width, ok
}
