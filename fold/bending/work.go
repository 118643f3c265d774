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

// Working returns how bend i of a divided board works between two angles (degrees, + toward top). Where its hinge is left to
// take its free shape the change is that between the two free shapes, else that between the two cylinders.
func Working(t *fold.Tree, i int, from, to float64) Work {
	b := &t.Bends[i]
	w := Work{Stack: stackOf(t, b), Change: math.Abs(to-from) * (math.Pi / 180) / b.Width}
	if t.Design.Hinges[b.Hinge].Formed != "free" {
		return w
	}
	first, okFirst := shapeAt(t, i, from)
	last, okLast := shapeAt(t, i, to)
	if okFirst && okLast {
		w.Change = change(first, last)
	}
	return w
}

// shape is a free shape with the sense of its angle; nil when flat.
type shape struct {
	*Free
	sign float64
}

// shapeAt returns the free shape at an angle; ok is false where it is not known.
func shapeAt(t *fold.Tree, i int, angle float64) (s shape, ok bool) {
	if angle == 0 {
		return shape{}, true
	}
	f := At(t, i, angle)
	return shape{f.Free, math.Copysign(1, angle)}, f.Free != nil
}

// at returns the curvature at a share u of the way from clamp to clamp, + toward the top.
func (s shape) at(u float64) float64 {
	if s.Free == nil {
		return 0
	}
	return s.sign * s.Shape.Curvature(u*s.Clamps.Length)
}

// change returns the largest difference of curvature between two shapes of one flex.
func change(a, b shape) float64 {
	const samples = 2000
	most := 0.0
	for i := range samples + 1 {
		u := float64(i) / samples
		most = max(most, math.Abs(a.at(u)-b.at(u)))
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
// top), and whether they are known: plane sections, distance from the neutral surface times the change of curvature.
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
	return bent.Layers, ok && !w.Stack.Plain
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
