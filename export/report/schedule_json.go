package report

import (
	"math"

	"foldfit/fold"
	"foldfit/fold/bending"
)

// hingeJSON is a hinge of the results. Thickness, copper, ratio and strain are those of its tightest bend; null where it makes none.
type hingeJSON struct {
	Name          string          `json:"name"`
	Angle         num             `json:"angle"`
	Toward        string          `json:"toward"`
	Radius        num             `json:"radius"`
	NeutralRadius num             `json:"neutral_radius"`
	Width         num             `json:"width"`
	Line          [2][2]num       `json:"line"`
	Tangents      *[2][2][2]num   `json:"tangents"` // the near one first
	Moved         num             `json:"moved"`
	Bends         []string        `json:"bends"`
	FlatWidth     *num            `json:"flat_width"` // length of the line on the board
	Stackup       *string         `json:"stackup"`
	Thickness     *num            `json:"thickness"`
	CopperLayers  *int            `json:"copper_layers"` // null where not known
	Ratio         *num            `json:"ratio"`
	RatioAsked    *num            `json:"ratio_asked"`
	CopperStrain  *num            `json:"copper_strain"`
	FormedFree    bool            `json:"formed_free"` // ratio and copper_strain are those of the free shape
	MinRadius     *num            `json:"min_radius"`
	Elongation    *elongationJSON `json:"elongation"`
	Free          *freeShape      `json:"free"`
	Moment        *num            `json:"moment"` // N.mm
	Use           string          `json:"use"`
	Cycles        *num            `json:"cycles"`
	Between       *[2]num         `json:"between"` // + toward top
	Life          *lifeJSON       `json:"life"`
	Formed        *string         `json:"formed"`
	Springback    *springJSON     `json:"springback"`
	Tolerance     *toleranceJSON  `json:"tolerance"`
	Step          *int            `json:"step"`
	Plies         *pliesJSON      `json:"plies"` // null for bonded flex
}

type elongationJSON struct {
	Limit  num    `json:"limit"`  // a fraction
	Radius num    `json:"radius"` // least inside radius by the laminate model
	Quoted *num   `json:"quoted"` // by the formula of IPC-2223, it can be negative; null for more than two copper layers
	Foil   string `json:"foil"`
}

// freeShape is what the flex does when it is held only at its rigid or stiffened edges, placed as drawn.
type freeShape struct {
	Radius  num `json:"radius"`   // least inside radius anywhere, either way, mm
	OfDrawn num `json:"of_drawn"` // that over the drawn inside radius
	Wider   num `json:"wider"`    // how much further the loop reaches than the drawn arc, mm; below 0: less far
}

type lifeJSON struct {
	Cycles      num    `json:"cycles"` // mean
	Low         num    `json:"low"`
	High        num    `json:"high"`
	StrainRange num    `json:"strain_range"` // a fraction
	Elastic     num    `json:"elastic_share"`
	Foil        string `json:"foil"`
}

type springJSON struct {
	Kept [2]num  `json:"kept"` // shares of the angle
	Form [2]*num `json:"form"` // angles to form, without sign; null where no former reaches it
}

type toleranceJSON struct {
	Angle *num `json:"angle"`
	Line  *num `json:"line"`
}

// hinges returns all hinges of the design, with what the schedule says of those that bend.
func (r Run) hinges(s Schedule) []hingeJSON {
	out := []hingeJSON{}
	for i, h := range r.Tree.Design.Hinges {
		out = append(out, r.hinge(i, s.named(h.Name)))
	}
	return out
}

// hinge returns hinge i with its entry of the schedule, nil for one that stays flat.
func (r Run) hinge(i int, s *Scheduled) hingeJSON {
	h, info := &r.Tree.Design.Hinges[i], &r.Tree.Hinges[i]
	out := hingeJSON{
		Name: h.Name, Angle: num(h.Angle), Toward: toward(h), Radius: num(h.Radius), NeutralRadius: num(info.NeutralRadius),
		Width: num(info.Width), Line: line(info.Line), Moved: num(info.Moved), Bends: []string{},
		Use: useWord(h), Cycles: given(h.Cycles),
	}
	if h.Formed != "" {
		out.Formed = &h.Formed
	}
	if h.TolAngle != 0 || h.TolLine != 0 {
		out.Tolerance = &toleranceJSON{given(h.TolAngle), given(h.TolLine)}
	}
	if h.Between != nil {
		from, to := bending.Ends(h)
		out.Between = &[2]num{num(from), num(to)}
	}
	if s != nil {
		out.addBends(s)
	}
	return out
}

// addBends adds what only a hinge that bends has.
func (h *hingeJSON) addBends(s *Scheduled) {
	f := s.Flex()
	h.Bends, h.FlatWidth, h.MinRadius, h.Step = s.Bends, some(s.FlexWidth), maybe(s.Least), s.Step
	h.Tangents = &[2][2][2]num{line(s.Tangents[0]), line(s.Tangents[1])}
	h.Stackup, h.Thickness, h.CopperLayers = &f.Stack.Name, some(f.Stack.Thickness()), s.copperLayers()
	h.Ratio, h.RatioAsked, h.CopperStrain, h.FormedFree = some(f.Ratio()), some(s.Asked), strainOf(f), f.Shaped
	h.Moment, h.Plies = maybe(s.Moment), s.plies()
	if e := s.Stretch; e != nil {
		h.Elongation = &elongationJSON{num(e.Limit), num(e.Radius), maybe(e.Quoted), e.Foil.Material}
	}
	if e := s.Free; e != nil {
		h.Free = &freeShape{num(e.Radius), num(e.OfDrawn), num(e.Wider)}
	}
	if l := s.Life; l != nil {
		h.Life = &lifeJSON{num(l.Cycles), num(l.Low), num(l.High), num(l.Range), num(l.Elastic), l.Foil.Material}
	}
	if k := s.Spring; k != nil {
		low, high := s.form()
		h.Springback = &springJSON{[2]num{num(k.Low), num(k.High)}, [2]*num{maybe(low), maybe(high)}}
	}
}

// form returns the angles to form, the lower one first; nil where no former reaches it.
func (s *Scheduled) form() (low, high *float64) {
	a, b, reached := s.Spring.Form(math.Abs(s.Angle))
	if reached[0] {
		low = &a
	}
	if reached[1] {
		high = &b
	}
	return low, high
}

// copperLayers returns the number of copper layers in the tightest bend, nil where the design does not say it.
func (s *Scheduled) copperLayers() *int {
	n := s.Flex().Stack.CopperLayers
	if n < 0 {
		return nil
	}
	return &n
}

// strainOf returns the largest strain in the copper, nil where it is not known.
func strainOf(f bending.Flex) *num {
	strain, known := f.Copper()
	if !known {
		return nil
	}
	return some(strain)
}

// useWord returns a hinge's use; once to install where the design says nothing.
func useWord(h *fold.Hinge) string {
	if h.Use == "" {
		return "install"
	}
	return h.Use
}

// given returns a number of the design, nil for one that it does not give.
func given(v float64) *num {
	if v == 0 {
		return nil
	}
	return some(v)
}
