package report

import (
	"bytes"
	"encoding/json"

	"foldfit/fold"
	"foldfit/fold/bending"
	"foldfit/fold/finding"
	"foldfit/mesh/clash"
)

// posture lists each hinge's angle in the order of the design.
type posture struct {
	names  []string
	angles []num
}

// MarshalJSON writes an object whose keys keep their order.
func (p posture) MarshalJSON() ([]byte, error) {
	var out bytes.Buffer
	out.WriteString("{")
	for i, name := range p.names {
		if i > 0 {
			out.WriteString(",")
		}
		key, err := json.Marshal(name)
		if err != nil {
			return nil, err
		}
		value, err := json.Marshal(p.angles[i])
		if err != nil {
			return nil, err
		}
		out.Write(key)
		out.WriteString(":")
		out.Write(value)
	}
	out.WriteString("}")
	return out.Bytes(), nil
}

// angles returns the hinge angles of the run's posture, the hinges' own where there is no folded shape.
func (r Run) angles() []float64 {
	if r.Folded != nil {
		return r.Folded.Angles
	}
	return r.Tree.Angles()
}

// posture returns the angles by hinge.
func (r Run) posture(angles []float64) posture {
	var p posture
	for i, h := range r.Tree.Design.Hinges {
		p.names = append(p.names, h.Name)
		p.angles = append(p.angles, num(angles[i]))
	}
	return p
}

// postures returns all postures that were checked, with their angles.
func (r Run) postures() []postureJSON {
	out := []postureJSON{}
	for _, name := range r.checked() {
		if angles, err := r.Tree.PostureAngles(name); err == nil {
			out = append(out, postureJSON{name, r.posture(angles)})
		}
	}
	return out
}

func (r Run) document() document {
	t := r.Tree
	d := document{
		Format: Format, Foldfit: r.Version, Design: t.Design.Name, Verdict: r.Verdict(), Foldable: r.Folded != nil,
		NotChecked: []uncheckedJSON{}, Flats: []flatJSON{}, Hinges: []hingeJSON{}, Bends: []bendJSON{}, Loops: []loopJSON{},
		Bodies: []bodyJSON{}, Components: []componentJSON{}, Gaps: []gapJSON{}, Targets: r.targets(), Motion: r.motion(), Findings: []findingJSON{},
		Postures: r.postures(), Notes: list(r.Notes), Datum: point(t.Design.Datum),
	}
	d.Posture = r.posture(r.angles())
	s := r.Schedule()
	d.Hinges = r.hinges(s)
	for _, u := range r.Unchecked {
		d.NotChecked = append(d.NotChecked, uncheckedJSON{u.What, list(u.On), u.Why})
	}
	for i := range t.Bends {
		d.Bends = append(d.Bends, r.bend(i, s.flex(t, i)))
	}
	for _, g := range r.Gaps {
		d.Gaps = append(d.Gaps, r.gapOf(g))
	}
	d.Gaps = append(d.Gaps, r.motionGaps()...)
	for _, f := range r.Findings {
		d.Findings = append(d.Findings, findingOf(f))
	}
	if r.Folded != nil {
		r.addFolded(&d)
	}
	return d
}

// addFolded adds what only a board with a folded shape has.
func (r Run) addFolded(d *document) {
	t := r.Tree
	place := rows(t.HousingFromBoard())
	d.Place = &place
	for i := range t.Flats {
		d.Flats = append(d.Flats, r.flat(i))
	}
	for _, c := range r.Folded.Closures() {
		d.Loops = append(d.Loops, r.loop(c))
	}
	for i := range t.Bodies {
		b := &t.Bodies[i]
		on, in := r.bodyHome(b)
		d.Bodies = append(d.Bodies, bodyJSON{b.Name, string(b.Kind), on, in, num(b.Area), num(b.Volume), both(b.Faces)})
		if b.Kind == fold.KindComponent {
			d.Components = append(d.Components, componentJSON{b.Name, on, in, rows(r.Folded.BodyMotion(b))})
		}
	}
}

// bodyHome returns the name of the flat or the bend a body is on.
func (r Run) bodyHome(b *fold.Body) (onFlat, inBend *string) {
	if b.Bend >= 0 {
		return nil, &r.Tree.Bends[b.Bend].Name
	}
	return &r.Tree.Flats[b.Flat].Name, nil
}

func (r Run) flat(i int) flatJSON {
	t, f := r.Tree, &r.Tree.Flats[i]
	out := flatJSON{
		Name: f.Name, Sections: list(f.Sections), Area: num(f.Area), Inside: point(f.Inside), Bodies: []string{},
		Transform: rows(r.Folded.BoardFromFlat(i)),
	}
	if f.Parent >= 0 {
		side := [...]string{"near", "far"}[btoi(f.Far)]
		out.Parent, out.Bend, out.Side = &t.Flats[f.Parent].Name, &t.Bends[f.Bend].Name, &side
	}
	for _, b := range f.Bodies {
		out.Bodies = append(out.Bodies, t.Bodies[b].Name)
	}
	return out
}

func (r Run) bend(i int, f bending.Flex) bendJSON {
	t, b := r.Tree, &r.Tree.Bends[i]
	out := bendJSON{
		Name: b.Name, Hinge: t.Design.Hinges[b.Hinge].Name, Near: r.flatNames(b.Near), Far: r.flatNames(b.Far), Lines: [][2][2]num{},
		Origin: point(b.Origin), Direction: point(b.Dir), Width: num(b.Width), Height: num(b.Height), Faces: both(b.Faces),
		Area: num(b.Area), Thickness: num(b.Thickness()), Ratio: num(f.Ratio()), InsideRadius: num(b.InsideRadius),
		CopperStrain: strainOf(f),
	}
	for _, l := range b.Lines {
		out.Lines = append(out.Lines, line(l))
	}
	return out
}

// flatNames returns the names of flats; none when the board has no folded shape.
func (r Run) flatNames(index []int) []string {
	out := []string{}
	for _, i := range index {
		if i < len(r.Tree.Flats) {
			out = append(out, r.Tree.Flats[i].Name)
		}
	}
	return out
}

func (r Run) loop(c fold.Closure) loopJSON {
	t, limit := r.Tree, r.Tree.Design.Loop
	out := loopJSON{
		Bend: t.Bends[c.Bend].Name, Flat: t.Flats[c.Flat].Name, Off: num(c.Off), Turn: num(c.Turn),
		Along: num(c.Along), Across: num(c.Across), Tilt: num(c.Tilt), Twist: num(c.Twist),
	}
	out.Limit.Gap, out.Limit.Angle = num(limit.Gap), num(limit.Angle)
	return out
}

func (r Run) gapOf(g clash.Gap) gapJSON {
	out := gapJSON{
		Between: g.Between, Kind: g.Kind, Gap: num(g.Gap), GapLow: num(g.Low), GapFlat: maybe(g.Flat), Required: num(g.Required),
		Judged: g.Judged, At: [2][3]num{vector(g.At[0]), vector(g.At[1])}, Posture: g.Posture,
	}
	if g.Seat != "" {
		out.Seat = &g.Seat
	}
	out.Worth = r.worthOf(g)
	return out
}

func findingOf(f finding.Finding) findingJSON {
	out := findingJSON{
		Rule: f.Rule, Severity: f.Severity.String(), On: list(f.On), Posture: f.Posture, File: f.Place.File, Line: f.Place.Line,
		Column: f.Place.Column, Value: maybe(f.Value), Limit: maybe(f.Limit), Margin: maybe(f.Margin()), Unit: f.Unit, Message: f.Message, Hint: f.Hint, Source: f.Source,
	}
	if a := f.Accepted; a != nil {
		out.Concession = &concessionJSON{maybe(a.DownTo), a.Because, a.By}
	}
	if f.At != nil {
		at := both(*f.At)
		out.At = &at
	}
	return out
}
