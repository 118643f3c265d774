package bending

import (
	"math"

	"foldfit/fold"
	"foldfit/fold/stackup"
)

// Work is flex that bends to and fro between two angles; one cycle is there and back.
type Work struct {
	Stack  stackup.Stackup
	Change float64 // largest change of curvature anywhere along the flex, 1/mm; exact for cylinders, to about 1e-6 of it for free shapes
}

// Ends returns the angles between which a hinge works (degrees, + toward top): those it is said to work between, else flat
// and its own angle.
func Ends(h *fold.Hinge) (from, to float64) {
	if h.Between == nil {
		return 0, h.Angle
	}
	sense := 1.0
	if h.Written < 0 {
		sense = -1
	}
	return 0 + sense*h.Between[0], 0 + sense*h.Between[1]
}

// Working returns how bend i of a divided board works between two angles (degrees, + toward top). Where its hinge is left to
// take its free shape the change is that between the two free shapes, else that between the two cylinders.
func Working(t *fold.Tree, i int, from, to float64) Work { return Of(t, i).Working(from, to) }

// Working is the function of that name for a bend as drawn.
func (d Drawn) Working(from, to float64) Work { return d.Work(d.Judged(from), d.Judged(to)) }

// Work returns how the flex works between two of its shapes, as Judged or At return them.
func (d Drawn) Work(from, to Flex) Work {
	w := Work{Stack: d.Stack, Change: math.Abs(to.Signed()-from.Signed()) * (math.Pi / 180) / d.Width}
	if d.Free && from.Known() && to.Known() {
		w.Change = change(from, to)
	}
	return w
}

// Known reports whether the free shape is known: flat flex stays flat.
func (f Flex) Known() bool { return f.Free != nil || f.Angle == 0 }

// curvature returns that of the free shape at a share u of the way from clamp to clamp, + toward the top.
func (f Flex) curvature(u float64) float64 {
	if f.Free == nil {
		return 0
	}
	k := f.Free.Shape.Curvature(u * f.Free.Clamps.Length)
	if f.Inside == stackup.Bottom {
		return -k
	}
	return k
}

// change returns the largest difference of curvature between two free shapes of one flex: sampled, then sharpened beside the
// largest sample.
func change(a, b Flex) float64 {
	const samples = 128
	at := func(u float64) float64 { return math.Abs(a.curvature(u) - b.curvature(u)) }
	most, where := 0.0, 0.0
	for i := range samples + 1 {
		u := float64(i) / samples
		if d := at(u); d > most {
			most, where = d, u
		}
	}
	for step := 0.5 / samples; step > 1e-5; step /= 2 {
		for _, u := range []float64{where - step, where + step} {
			if u < 0 || u > 1 {
				continue
			}
			if d := at(u); d > most {
				most, where = d, u
			}
		}
	}
	return most
}

// Life is how long the copper layer that breaks first lives.
type Life struct {
	stackup.Life
	Foil  stackup.Foil
	Layer int     // in the order of Stackup.Layers
	Range float64 // strain range at it, a fraction
}

// Ranges returns the strain range at the two faces of every layer (fractions, + where it is stretched by a bend toward the
// top), and whether they are known: plane sections, distance from the neutral surface times the change of curvature. Not known
// for a stack-up given by its thickness alone, nor for loose plies.
func (w Work) Ranges() ([]stackup.LayerStrain, bool) {
	// Half the change is a radius that flex can have whatever its two ends are; strain is proportional to curvature.
	bent, ok := w.Stack.Strains(stackup.Top, 2/w.Change-w.Stack.Inner(stackup.Top))
	if w.Change == 0 {
		bent, ok = stackup.Bent{Layers: make([]stackup.LayerStrain, len(w.Stack.Layers))}, true
	}
	for i := range bent.Layers {
		bent.Layers[i].Inner *= 2
		bent.Layers[i].Outer *= 2
	}
	return bent.Layers, ok && !w.Stack.Plain && !loose(w.Stack)
}

// Life returns the life of the copper layer that breaks first, by Engelmaier's relation for its kind of foil (see
// stackup.Foil.Life for its trust: a factor of ten each way); not known where the kind of foil is not, nor where nothing works.
func (w Work) Life() (Life, bool) {
	ranges, ok := w.Ranges()
	if _, known := Foils(w.Stack); !known || !ok {
		return Life{}, false
	}
	var out Life
	found := false
	for i, l := range ranges {
		if !l.Copper {
			continue
		}
		foil, _ := stackup.FoilOf(w.Stack.Layers[i].Material)
		strain := max(math.Abs(l.Inner), math.Abs(l.Outer))
		if life, known := foil.Life(strain); known && (!found || life.Cycles < out.Cycles) {
			out, found = Life{life, foil, i, strain}, true
		}
	}
	return out, found
}

// ChangeFor returns the largest change of curvature (1/mm) at which every copper layer lives for a mean number of cycles: the
// inverse of Life, with its trust; not known where Life is not.
func ChangeFor(s stackup.Stackup, cycles float64) (float64, bool) {
	unit, ok := Work{Stack: s, Change: 1e-6}.Ranges() // any change will do: strains are proportional to it
	if _, known := Foils(s); !known || !ok {
		return 0, false
	}
	least, found := math.Inf(1), false
	for i, l := range unit {
		foil, _ := stackup.FoilOf(s.Layers[i].Material)
		reach := max(math.Abs(l.Inner), math.Abs(l.Outer)) / 1e-6
		if bears, known := foil.StrainRange(cycles); l.Copper && known && reach > 0 {
			least, found = min(least, bears/reach), true
		}
	}
	return least, found
}
