package report

import "foldfit/fold/stackup"

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

// foils returns the kinds of foil of the copper layers, one for each layer with copper; false when one of them is not known.
func (q BendAsked) foils() ([]stackup.Foil, bool) {
	var out []stackup.Foil
	for _, l := range q.Stack.Layers {
		if q.Stack.Plain || !l.Copper || l.Coverage == 0 {
			continue
		}
		f, ok := stackup.FoilOf(l.Material)
		if !ok {
			return nil, false
		}
		out = append(out, f)
	}
	return out, len(out) > 0
}

// elongation returns the least radii for the allowed elongation of the copper in this use: the lowest of its foils.
func (q BendAsked) elongation() *bendElongated {
	foils, known := q.foils()
	if !known {
		return nil
	}
	out := &bendElongated{}
	for _, f := range foils {
		limit := f.Install
		if q.Use == "dynamic" {
			limit = f.Dynamic
		}
		if limit == 0 {
			return nil
		}
		if out.Limit == 0 || limit < float64(out.Limit) {
			out.Limit, out.Foil = num(limit), f.Material
		}
	}
	radius, known := q.Stack.CopperRadius(q.Side, float64(out.Limit))
	if !known {
		return nil
	}
	out.Model = num(radius)
	if e, known := q.Stack.ElongationRadius(q.Side, float64(out.Limit)); known {
		out.Quoted = some(e.Quoted)
	}
	return out
}

func (q BendAsked) film() bendFilm {
	radius, _ := q.Stack.FilmRadius(q.Side, filmLimit)
	return bendFilm{filmLimit, num(radius)}
}

// hold returns what it takes to hold the bend, as a wide strip.
func (q BendAsked) hold() *bendHold {
	ei, known := q.Stack.Stiffness()
	width := q.Width
	if width == 0 {
		width = 1
	}
	neutral, wide := q.Radius+q.Stack.Inner(q.Side), ei*stackup.PlaneStrain(stackup.Poisson)
	moment, sensible := stackup.HoldingMoment(wide, neutral, width)
	if !known || !sensible {
		return nil
	}
	out := &bendHold{Stiffness: num(ei), Moment: num(moment)}
	if q.Width > 0 {
		out.FlexWidth = some(q.Width)
	}
	if force, ok := stackup.SqueezingForce(wide, 2*neutral, width); ok && q.Angle == 180 {
		out.Squeeze = some(force)
	}
	return out
}

// springback returns the range between films that stay elastic and films that yield, with the softest foil's yield stress.
func (q BendAsked) springback() *bendSpring {
	foils, known := q.foils()
	if !known {
		return nil
	}
	yield := foils[0].Yield
	for _, f := range foils {
		yield = min(yield, f.Yield)
	}
	var out bendSpring
	out.Yield = num(yield)
	for i, film := range []float64{0, stackup.PolyimideYield} {
		s, known := q.Stack.Springback(q.Side, q.Radius, stackup.Yield{Copper: yield, Film: film})
		if !known {
			return nil
		}
		out.Retained[i] = num(s.Retained)
		if form, stays := stackup.FormingAngle(q.Angle, s.Retained); stays {
			out.Form[i] = some(form)
		}
	}
	if out.Retained[0] > out.Retained[1] {
		out.Retained[0], out.Retained[1] = out.Retained[1], out.Retained[0]
		out.Form[0], out.Form[1] = out.Form[1], out.Form[0]
	}
	return &out
}

// life returns the shortest life among the copper layers when the bend works between flat and an inside radius; nil where
// it is not asked for or not known.
func (q BendAsked) life(radius float64) *bendLife {
	bent, ok := q.Stack.Strains(q.Side, radius)
	if _, known := q.foils(); !ok || !known || q.Use != "dynamic" {
		return nil
	}
	var out *bendLife
	for i, l := range bent.Layers {
		f, _ := stackup.FoilOf(q.Stack.Layers[i].Material)
		strain := max(l.Inner, l.Outer, -l.Inner, -l.Outer)
		life, known := f.Life(strain)
		if !l.Copper || !known || out != nil && life.Cycles >= float64(out.Cycles) {
			continue
		}
		out = &bendLife{num(strain), f.Material, num(f.Ductility), num(f.Strength), num(f.Modulus),
			num(life.Cycles), num(life.Low), num(life.High), num(life.Elastic)}
	}
	return out
}
