package report

import (
	"math"

	"foldfit/fold/bending"
)

// filmLimit is the strain at which polyimide film begins to yield (a maker's data, see stackup.PolyimideYield).
const filmLimit = 0.03

type bendElongated struct {
	Limit  num    `json:"limit"`  // allowed elongation of the copper
	Foil   string `json:"foil"`   // whose it is
	Model  num    `json:"radius"` // least inside radius by the laminate model
	Quoted *num   `json:"quoted"` // by the formula of IPC-2223; can be below 0
}

type bendFilm struct {
	Limit  num `json:"limit"`
	Radius num `json:"radius"` // least inside radius at which the outside face keeps it
}

type bendHold struct {
	Stiffness num  `json:"stiffness"` // EI per mm of width of a narrow strip, N.mm
	Moment    num  `json:"moment"`    // N.mm, per mm of width without a flex width
	FlexWidth *num `json:"flex_width"`
	Squeeze   *num `json:"squeeze"` // N, at 180 degrees
}

type bendSpring struct {
	Retained [2]num  `json:"retained"` // share of the angle that stays: films elastic, films yielding; the lower one first
	Form     [2]*num `json:"form"`     // angle to form for each, null where nothing stays
	Yield    num     `json:"copper_yield"`
}

type bendLife struct {
	Strain    num    `json:"strain_range"`
	Foil      string `json:"foil"`
	Ductility num    `json:"ductility"`
	Strength  num    `json:"strength"`
	Modulus   num    `json:"modulus"`
	Cycles    num    `json:"cycles"` // open and close is one
	Low       num    `json:"low"`
	High      num    `json:"high"`
	Elastic   num    `json:"elastic_share"`
}

// flex returns the bend as the package bending knows it.
func (q BendAsked) flex() bending.Flex {
	return bending.Flex{Stack: q.Stack, Inside: q.Side, Angle: q.Angle, Drawn: q.Radius, Width: q.Width}
}

// elongation returns the least radii for the allowed elongation of the copper in this use: the lowest of its foils.
func (q BendAsked) elongation() *bendElongated {
	e, known := bending.Elongation(q.Stack, q.Side, q.Use)
	if !known {
		return nil
	}
	out := &bendElongated{Limit: num(e.Limit), Foil: e.Foil.Material, Model: num(e.Radius)}
	if e.Quoted != nil {
		out.Quoted = some(*e.Quoted)
	}
	return out
}

func (q BendAsked) film() bendFilm {
	radius, _ := q.Stack.FilmRadius(q.Side, filmLimit)
	return bendFilm{filmLimit, num(radius)}
}

// hold returns what it takes to hold the bend, as a wide strip.
func (q BendAsked) hold() *bendHold {
	ei, _ := q.Stack.Stiffness()
	moment, known := q.flex().Moment()
	if !known {
		return nil
	}
	out := &bendHold{Stiffness: num(ei), Moment: num(moment)}
	if q.Width > 0 {
		out.FlexWidth = some(q.Width)
	}
	if force, ok := q.flex().Squeeze(); ok {
		out.Squeeze = some(force)
	}
	return out
}

// springback returns the range between films that stay elastic and films that yield, with the softest foil's yield stress.
func (q BendAsked) springback() *bendSpring {
	s, known := q.flex().Springback()
	if !known {
		return nil
	}
	out := &bendSpring{Retained: [2]num{num(s.Low), num(s.High)}, Yield: num(s.Yield)}
	low, high, _ := s.Form(q.Angle)
	for i, form := range []float64{high, low} {
		if !math.IsInf(form, 0) {
			out.Form[i] = some(form)
		}
	}
	return out
}

// life returns the shortest life among the copper layers when the bend works between flat and an inside radius; nil where
// it is not asked for or not known.
func (q BendAsked) life(radius float64) *bendLife {
	l, known := bending.Work{Stack: q.Stack, Change: 1 / (radius + q.Stack.Inner(q.Side))}.Life()
	if !known || q.Use != "dynamic" {
		return nil
	}
	return &bendLife{num(l.Range), l.Foil.Material, num(l.Foil.Ductility), num(l.Foil.Strength), num(l.Foil.Modulus),
		num(l.Cycles), num(l.Low), num(l.High), num(l.Elastic)}
}
