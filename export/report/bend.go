package report

import (
	"math"

	"foldfit/fold"
	"foldfit/fold/bending"
	"foldfit/fold/elastica"
	"foldfit/fold/rule"
	"foldfit/fold/stackup"
)

// BendFormat names the form of the JSON answer about one bend.
const BendFormat = "foldfit-bend/1"

// BendAsked is one bend without a board. Lengths mm, angles degrees.
type BendAsked struct {
	Stack   stackup.Stackup
	File    string // that the stack-up was read from; "" for a sheet given in the call
	Angle   float64
	Radius  float64      // inside radius
	Side    stackup.Side // that lies inside the bend
	Use     string       // "install" or "dynamic"
	Limits  fold.Limits
	RunOuts []float64 // straight flex before and after the bend; nil where the free shape is not asked for
	Width   float64   // of the flex along the bend; 0 = not given, moments and forces are then per mm
	Radii   []float64 // for the table
	Notes   []string  // on how the stack-up was read
	Version string    // of foldfit
}

// BendAnswer is what is known about one bend. Every key is always there in JSON, null where nothing is known (NotKnown says
// why) or nothing was asked. Lengths mm, angles degrees, strains fractions (+ in tension), moments N.mm, forces N.
type BendAnswer struct {
	Format     string         `json:"format"`
	Foldfit    string         `json:"foldfit"` // version
	Stack      bendStack      `json:"stack"`
	Angle      num            `json:"angle"`
	Radius     num            `json:"radius"` // inside
	Inside     string         `json:"inside"` // the concave side: top or bottom
	Use        string         `json:"use"`
	Width      num            `json:"width"` // of the bend area in the flat
	Neutral    num            `json:"neutral_radius"`
	Inner      num            `json:"neutral_from_inside"`
	K          num            `json:"k"`
	Ratio      num            `json:"ratio"`
	Limit      bendLimit      `json:"limit"`
	Copper     []bendCopper   `json:"copper"` // from the top
	Most       *num           `json:"copper_strain"`
	Concave    num            `json:"inside_strain"`
	Convex     num            `json:"outside_strain"`
	Elongation *bendElongated `json:"elongation"`
	Film       bendFilm       `json:"film"`
	Hold       *bendHold      `json:"hold"`
	Springback *bendSpring    `json:"springback"`
	Life       *bendLife      `json:"life"`
	Free       *bendFree      `json:"free"`
	Table      []bendRow      `json:"table"`
	NotKnown   []string       `json:"not_known"`
	Notes      []string       `json:"notes"`
	Sources    []bendSource   `json:"sources"`
	Cautions   []string       `json:"cautions"`
}

type bendStack struct {
	Name         string      `json:"name"`
	File         *string     `json:"file"`
	Thickness    num         `json:"thickness"`
	CopperLayers *num        `json:"copper_layers"`
	Layers       []bendLayer `json:"layers"` // from the top; [] for a plain sheet
}

type bendLayer struct {
	Material  string `json:"material"`
	Thickness num    `json:"thickness"`
	Modulus   num    `json:"modulus"` // GPa, copper mixed with what fills its gaps
	Coverage  *num   `json:"coverage"`
}

type bendLimit struct {
	Ratio   num    `json:"ratio"`
	Profile string `json:"profile"`
	Why     string `json:"why"`
	Source  string `json:"source"`
	Radius  num    `json:"radius"` // least inside radius that keeps it
	Kept    bool   `json:"kept"`
	Crease  bool   `json:"crease"` // too tight to be built
}

type bendCopper struct {
	Layer    int    `json:"layer"` // among the copper layers, 1 = the top one
	Material string `json:"material"`
	Inside   num    `json:"inside"` // strain of the face toward the inside of the bend
	Outside  num    `json:"outside"`
}

type bendRow struct {
	Radius  num  `json:"radius"`
	Width   num  `json:"width"`
	Ratio   num  `json:"ratio"`
	Kept    bool `json:"kept"`
	Copper  *num `json:"copper_strain"`
	Outside num  `json:"outside_strain"`
	Cycles  *num `json:"cycles"`      // dynamic use
	Free    *num `json:"free_radius"` // least inside radius between the clamps
}

// Bend answers what is to be said about one bend by itself, from the formulas of the packages stackup, elastica and rule.
// What cannot be known from what was given is left out and said in NotKnown. The angle must be above 0 and at most 360, the
// inside radius and the stack-up's thickness above 0, or the answer makes no sense.
func Bend(q BendAsked) BendAnswer {
	inner, t := q.Stack.Inner(q.Side), q.Stack.Thickness()
	a := BendAnswer{
		Format: BendFormat, Foldfit: q.Version, Stack: q.stack(), Angle: num(q.Angle), Radius: num(q.Radius), Inside: sideWord(q.Side), Use: q.Use,
		Width: num(stackup.BendAllowance(q.Angle, q.Radius, inner)), Neutral: num(q.Radius + inner), Inner: num(inner), K: num(inner / t),
		Ratio: num(q.Stack.Ratio(q.Side, q.Radius)), Limit: q.limit(), Film: q.film(), Copper: []bendCopper{}, Table: []bendRow{}, NotKnown: []string{}, Notes: list(q.Notes),
	}
	bent, _ := q.Stack.Strains(q.Side, q.Radius)
	a.Concave, a.Convex = num(bent.Concave), num(bent.Convex)
	for i, l := range bent.Layers {
		if l.Copper && !q.Stack.Plain {
			a.Copper = append(a.Copper, bendCopper{len(a.Copper) + 1, q.Stack.Layers[i].Material, num(l.Inner), num(l.Outer)})
		}
	}
	a.Most = q.copperStrain(q.Radius)
	a.Elongation, a.Hold, a.Springback = q.elongation(), q.hold(), q.springback()
	a.Life = q.life(q.Radius)
	if q.RunOuts != nil {
		free, why := q.free(q.Radius)
		if a.Free = free; why != "" {
			a.NotKnown = append(a.NotKnown, "The free shape: "+why+".")
		}
	}
	for _, r := range q.Radii {
		a.Table = append(a.Table, q.row(r))
	}
	a.NotKnown = append(a.NotKnown, q.notKnown(a)...)
	a.Sources, a.Cautions = q.sources(a), q.cautions(a)
	return a
}

func (q BendAsked) stack() bendStack {
	s := bendStack{Name: q.Stack.Name, Thickness: num(q.Stack.Thickness()), Layers: []bendLayer{}}
	if q.File != "" {
		s.File = &q.File
	}
	if q.Stack.CopperLayers >= 0 {
		s.CopperLayers = some(float64(q.Stack.CopperLayers))
	}
	for _, l := range q.Stack.Layers {
		if q.Stack.Plain {
			break
		}
		layer := bendLayer{l.Material, num(l.Thickness), num(l.Modulus), nil}
		if l.Copper {
			layer.Coverage = some(l.Coverage)
		}
		s.Layers = append(s.Layers, layer)
	}
	return s
}

// limit returns what the rule bend-ratio asks for.
func (q BendAsked) limit() bendLimit {
	limit, why := rule.RatioLimit(&fold.Design{Limits: q.Limits}, rule.JudgedCopper(q.Stack), q.Use)
	p, ratio := rule.ProfileOf(q.Limits.Profile), q.Stack.Ratio(q.Side, q.Radius)
	return bendLimit{Ratio: num(limit), Profile: p.Name, Why: why, Source: p.Source, Radius: num(bending.RatioRadius(q.Stack, q.Side, limit)),
		Kept: reaches(ratio, limit), Crease: !reaches(ratio, rule.CreaseRatio)}
}

// reaches reports whether a ratio keeps a limit; one met to rounding does.
func reaches(ratio, limit float64) bool { return ratio >= limit*(1-1e-9) }

// copperStrain returns the largest strain in the copper at an inside radius, nil where that is not known.
func (q BendAsked) copperStrain(radius float64) *num {
	bent, ok := q.Stack.Strains(q.Side, radius)
	strain, copper := bent.Copper()
	if !ok || !copper || q.Stack.Plain {
		return nil
	}
	return some(strain)
}

// row returns the table's line for an inside radius.
func (q BendAsked) row(radius float64) bendRow {
	bent, _ := q.Stack.Strains(q.Side, radius)
	q.Radius = radius
	row := bendRow{Radius: num(radius), Width: num(stackup.BendAllowance(q.Angle, radius, q.Stack.Inner(q.Side))), Ratio: num(q.Stack.Ratio(q.Side, radius)),
		Kept: q.limit().Kept, Copper: q.copperStrain(radius), Outside: num(bent.Convex)}
	if l := q.life(radius); l != nil {
		row.Cycles = &l.Cycles
	}
	if q.RunOuts != nil {
		if f, _ := q.free(radius); f != nil {
			row.Free = &f.Radius
		}
	}
	return row
}

type bendFree struct {
	RunOuts [2]num `json:"run_outs"`
	Radius  num    `json:"radius"` // least inside radius
	Neutral num    `json:"neutral_radius"`
	OfDrawn num    `json:"of_drawn"`  // Radius over the drawn inside radius
	Further num    `json:"further"`   // that the loop reaches beyond the drawn arc, below 0: less far
	Where   num    `json:"at"`        // place of the least radius along the neutral surface from the near clamp
	Length  num    `json:"length"`    // between the clamps
	Back    bool   `json:"bent_back"` // the least radius is where the flex bends the other way
	Ratio   num    `json:"ratio"`
	Kept    bool   `json:"kept"` // the ratio's limit
	Copper  *num   `json:"copper_strain"`
}

// free returns the shape between clamps at the run-outs' ends, or why there is none. The least inside radius is the smaller
// of that where the flex bends as drawn and that where it bends the other way, each with the face that lies inside there.
func (q BendAsked) free(radius float64) (*bendFree, string) {
	inner := q.Stack.Inner(q.Side)
	f, err := elastica.Hinge{Angle: q.Angle, Radius: radius + inner, Near: q.RunOuts[0], Far: q.RunOuts[1]}.Free()
	if err != nil {
		return nil, "none was found; the flex is too taut between its clamps, or its run-outs are too long beside its bend"
	}
	q.Radius = radius
	neutral, where := f.MinRadiusToward(1)
	least, other := neutral-inner, q.Stack.Inner(1-q.Side)
	out := &bendFree{RunOuts: both([2]float64(q.RunOuts)), Further: num(f.Wider), Length: num(f.Clamps.Length)}
	if back, at := f.MinRadiusToward(-1); back-other < least {
		neutral, where, least, out.Back = back, at, back-other, true
		q.Side = 1 - q.Side
	}
	if least <= 0 || math.IsInf(least, 0) {
		return nil, "held at its clamps alone it creases: the flex is too short for these places"
	}
	out.Radius, out.Neutral, out.Where = num(least), num(neutral), num(where)
	out.OfDrawn, out.Ratio = num(least/radius), num(q.Stack.Ratio(q.Side, least))
	out.Copper = q.copperStrain(least)
	q.Radius = least
	out.Kept = q.limit().Kept
	return out, ""
}

func sideWord(s stackup.Side) string {
	if s == stackup.Bottom {
		return "bottom"
	}
	return "top"
}
