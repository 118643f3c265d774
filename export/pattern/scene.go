package pattern

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"foldfit/export/draw"
	"foldfit/fold"
	"foldfit/fold/flat"
)

// scene is the flat board as seen from the printed side: what there is to draw, before anyone decides where labels go.
type scene struct {
	outline             flat.Loop
	cutouts             []flat.Loop // counter-clockwise
	board               flat.Region
	sections            []patch
	stiffeners          []patch
	plain               []patch // flats that no section or stiffener names; only labelled
	parts               []part
	strips              []strip
	hinges              []crease
	datum               flat.Pt
	valley              fold.Side // folds to this side come toward the reader
	creased             bool      // drawn for creasing: no tangent lines
	rigid, near, remote bool      // whether there is a rigid section, a part or stiffener on the printed side, on the far side
}

// patch is a section or a stiffener: connected pieces of the board.
type patch struct {
	id, title string
	lines     []string
	card      string // which card to glue on; may be empty
	pieces    []flat.Region
	rigid     bool
	far       bool // on the side away from the reader
}

// part is a component's footprint. Its label is its name and what there is to say about it.
type part struct {
	id, title  string
	name, tail string
	loops      []flat.Loop
	far        bool
}

// strip is a bend area.
type strip struct {
	name     string
	hinge    int
	area     flat.Region
	centre   [][2]flat.Pt // stretches of the hinge line
	tangents [][2]flat.Pt
}

// crease is a hinge: what is written beside it, and its lines.
type crease struct {
	name, label string
	more        string // step and rod; may be empty
	bent        bool
	toward      fold.Side
	centre      [][2]flat.Pt
}

// survey reads the scene off the tree.
func survey(t *fold.Tree, o Options) *scene {
	d, side, v, w := t.Design, o.Side, o.view(), words{t.Design.Units}
	s := &scene{board: v.board(t), datum: v.shifted(draw.Circle(d.Datum, 1), d.Datum)[0].C, valley: side, creased: v.sheet != nil}
	for _, l := range s.board {
		if l.Area() >= 0 {
			s.outline = append(s.outline, l...)
		} else {
			s.cutouts = append(s.cutouts, l.Rev())
		}
	}
	s.strips = strips(t, v)
	s.hinges = creases(t, v, w, o.stock())
	s.sections = sections(t, v, w, o.stock())
	s.stiffeners = stiffeners(t, v, w, side)
	s.plain = plainFlats(t, v, w)
	s.parts = parts(t, v, w, side)
	s.note()
	return s
}

// note sets what the legend has to explain.
func (s *scene) note() {
	for _, p := range s.sections {
		s.rigid = s.rigid || p.rigid
	}
	for _, p := range s.stiffeners {
		s.near, s.remote = s.near || !p.far, s.remote || p.far
	}
	for _, p := range s.parts {
		s.near, s.remote = s.near || !p.far, s.remote || p.far
	}
}

// sections returns the pieces of each section: its bodies, which bend areas have been taken out of; where there are none
// (bend areas overlap, or the section lies within one) its area cut with the board.
func sections(t *fold.Tree, v view, w words, stock float64) []patch {
	var out []patch
	for i := range t.Design.Sections {
		sec := &t.Design.Sections[i]
		stack := t.Design.StackupNamed(sec.Stackup)
		p := patch{id: "section-" + draw.Safe(sec.Name), rigid: stack != nil && stack.Rigid, lines: []string{short(sec.Name), w.stack(stack)}}
		p.pieces = piecesOf(t, v, fold.KindSection, i, sec.Area)
		if len(t.Flats) > 0 && t.Flats[0].Name == sec.Name {
			p.lines = append(p.lines, "base")
		}
		p.card = w.card(t, stack, stock)
		p.title = "section " + p.words()
		out = append(out, p)
	}
	return out
}

// stiffeners returns the pieces of each stiffener.
func stiffeners(t *fold.Tree, v view, w words, side fold.Side) []patch {
	var out []patch
	for i := range t.Design.Stiffeners {
		st := &t.Design.Stiffeners[i]
		p := patch{id: "stiffener-" + draw.Safe(st.Name), lines: []string{short(st.Name), w.stiffener(st)}, far: st.Side != side}
		p.pieces = piecesOf(t, v, fold.KindStiffener, i, st.Area)
		p.title = strings.Join(p.lines, ", ")
		out = append(out, p)
	}
	return out
}

// piecesOf returns the footprints of the bodies made from item i of its kind, else the item's area cut with the board.
func piecesOf(t *fold.Tree, v view, kind fold.Kind, i int, area flat.Loop) []flat.Region {
	var out []flat.Region
	for k := range t.Bodies {
		if b := &t.Bodies[k]; b.Kind == kind && b.Source == i && len(b.Region) > 0 {
			out = append(out, v.ofFlat(b.Flat, b.Region))
		}
	}
	if len(out) > 0 || len(area) == 0 || v.sheet != nil {
		return out
	}
	for _, r := range flat.Intersect(t.Board, flat.Region{area.CCW()}) {
		out = append(out, v.region(r))
	}
	return out
}

// plainFlats returns the flats that carry a name of their own, so that the page speaks of them as reports do.
func plainFlats(t *fold.Tree, v view, w words) []patch {
	taken := map[string]bool{}
	for i := range t.Design.Stiffeners {
		taken[t.Design.Stiffeners[i].Name] = true
	}
	var out []patch
	for i := range t.Flats {
		f := &t.Flats[i]
		if len(f.Sections) > 0 || taken[f.Name] || len(f.Region) == 0 {
			continue
		}
		p := patch{id: "flat-" + draw.Safe(strings.TrimPrefix(f.Name, "flat-")), pieces: []flat.Region{v.ofFlat(i, f.Region)}}
		p.lines = []string{short(f.Name), w.stack(t.Design.StackupNamed(t.Design.Flex))}
		if i == 0 {
			p.lines = append(p.lines, "base")
		}
		p.title = strings.Join(p.lines, ", ")
		out = append(out, p)
	}
	return out
}

// parts returns the components' footprints. They come from the design, not from bodies, so that a part of unknown height
// is on the page as well.
func parts(t *fold.Tree, v view, w words, side fold.Side) []part {
	var out []part
	d := t.Design
	for i := range d.Components {
		c := &d.Components[i]
		high := w.high(c)
		p := part{id: "component-" + draw.Safe(c.Name), far: c.Side != side, name: short(c.Name), tail: "h " + high}
		if p.far {
			p.tail += " " + sideName(c.Side)
		}
		p.title = "component " + short(c.Name) + ", " + sideName(c.Side) + " side, " + high + " high"
		if high == "?" {
			p.title = "component " + short(c.Name) + ", " + sideName(c.Side) + " side, height not known"
		}
		for _, l := range footprint(c) {
			p.loops = append(p.loops, v.shifted(l, host(t, c)))
		}
		out = append(out, p)
	}
	return out
}

// footprint returns the outlines of a component in the flat.
func footprint(c *fold.Component) []flat.Loop {
	var boxes [][4]float64
	switch {
	case c.Diameter > 0:
		return []flat.Loop{draw.Circle(c.At, c.Diameter/2)}
	case c.Size != nil:
		boxes = [][4]float64{{-c.Size[0] / 2, -c.Size[1] / 2, c.Size[0] / 2, c.Size[1] / 2}}
	default:
		for _, b := range c.Boxes {
			boxes = append(boxes, [4]float64{min(b[0], b[3]), min(b[1], b[4]), max(b[0], b[3]), max(b[1], b[4])})
		}
	}
	sin, cos := math.Sincos(c.Turn * (math.Pi / 180))
	at := func(x, y float64) flat.Pt {
		return flat.Pt{X: c.At.X + float64(x*cos) - float64(y*sin), Y: c.At.Y + float64(x*sin) + float64(y*cos)}
	}
	var out []flat.Loop
	for _, b := range boxes {
		out = append(out, draw.Polygon(at(b[0], b[1]), at(b[2], b[1]), at(b[2], b[3]), at(b[0], b[3])))
	}
	return out
}

// creases returns one crease for each hinge of the design.
func creases(t *fold.Tree, v view, w words, stock float64) []crease {
	var out []crease
	for i := range t.Design.Hinges {
		h := &t.Design.Hinges[i]
		c := crease{name: draw.Safe(h.Name), label: w.hinge(h), more: stepWords(t.Design, h.Name), bent: h.Angle != 0, toward: toward(h.Angle)}
		if width := widthOf(t, i); c.bent && width > 0 {
			help := RodOf(h.Angle, width, stock).words()
			if v.sheet != nil {
				help = CreaseOf(h.Angle, width).words()
			}
			c.more = strings.TrimPrefix(c.more+", "+help, ", ")
		}
		for k := range t.Bends {
			if t.Bends[k].Hinge == i {
				c.centre = append(c.centre, v.centre(t, k)...)
			}
		}
		if len(c.centre) == 0 {
			c.centre = v.lines(onBoard(t.Board, centreLine(t, i), 0))
		}
		out = append(out, c)
	}
	return out
}

// centre returns the lines along which a bend is folded: its centre line, or its creases.
func (v view) centre(t *fold.Tree, bend int) [][2]flat.Pt {
	if v.sheet != nil {
		return v.lines(v.sheet.creases(bend))
	}
	return v.lines(t.Bends[bend].Lines)
}

// host returns a point that a component moves with: its place, or that of the section which it hangs on.
func host(t *fold.Tree, c *fold.Component) flat.Pt {
	if i := t.FlatOfSection(c.On); c.On != "" && i >= 0 {
		return t.Flats[i].Inside
	}
	return c.At
}

// centreLine returns the middle of a hinge's bend area: as divided, else as the design writes it.
func centreLine(t *fold.Tree, i int) [2]flat.Pt {
	h := &t.Design.Hinges[i]
	line := h.Line
	if i < len(t.Hinges) {
		if l := t.Hinges[i].Line; l[0] != l[1] {
			return l
		}
		if h.Tangent {
			n := line[1].Sub(line[0]).Unit().Left()
			shift := math.Copysign(t.Hinges[i].Width/2, h.Into.Sub(line[0]).Dot(n))
			line[0], line[1] = line[0].Add(n.Mul(shift)), line[1].Add(n.Mul(shift))
		}
	}
	return line
}

// onBoard returns the stretches of the board on the line's parallel at the given distance to its left, as far as they lie
// beside the line.
func onBoard(board flat.Region, line [2]flat.Pt, left float64) [][2]flat.Pt {
	length := line[0].Dist(line[1])
	u := line[1].Sub(line[0]).Unit()
	base := line[0].Add(u.Left().Mul(left))
	var out [][2]flat.Pt
	for _, s := range board.Stretches(base, u) {
		if s[1] > 0 && s[0] < length {
			out = append(out, [2]flat.Pt{base.Add(u.Mul(s[0])), base.Add(u.Mul(s[1]))})
		}
	}
	return out
}

// strips returns the bend areas. For a board whose hinges made no bends they follow from line and width.
func strips(t *fold.Tree, v view) []strip {
	var out []strip
	for i := range t.Bends {
		b := &t.Bends[i]
		s := strip{name: b.Name, hinge: b.Hinge, area: v.ofBend(i, b.Region), centre: v.centre(t, i)}
		if len(b.Lines) > 0 && v.sheet == nil {
			line := [2]flat.Pt{b.Lines[0][0], b.Lines[len(b.Lines)-1][1]}
			s.tangents = v.lines(tangents(t, b.Region, line, widthOf(t, b.Hinge)/2))
		}
		out = append(out, s)
	}
	for i := range t.Design.Hinges {
		made := slices.ContainsFunc(out, func(s strip) bool { return s.hinge == i })
		if made || t.Design.Hinges[i].Angle == 0 || widthOf(t, i) == 0 {
			continue
		}
		line := centreLine(t, i)
		s := strip{name: t.Design.Hinges[i].Name, hinge: i, centre: v.lines(onBoard(t.Board, line, 0))}
		s.tangents = v.lines(tangents(t, nil, line, widthOf(t, i)/2))
		out = append(out, s)
	}
	return out
}

// widthOf returns the flat width of a hinge's bend area, 0 where the tree does not know it.
func widthOf(t *fold.Tree, hinge int) float64 {
	if hinge >= len(t.Hinges) {
		return 0
	}
	return t.Hinges[hinge].Width
}

// tangents returns the two borders of a bend area about the centre line: where its region has straight edges at half the
// width, or, without a region, where the board is beside the line.
func tangents(t *fold.Tree, area flat.Region, line [2]flat.Pt, half float64) [][2]flat.Pt {
	if len(area) == 0 {
		return append(onBoard(t.Board, line, half), onBoard(t.Board, line, -half)...)
	}
	return append(edgesAt(area, line, half), edgesAt(area, line, -half)...)
}

// edgesAt returns the straight edges of r that run at that distance to the left of the line; those that touch are joined.
func edgesAt(r flat.Region, line [2]flat.Pt, left float64) [][2]flat.Pt {
	u := line[1].Sub(line[0]).Unit()
	base := line[0].Add(u.Left().Mul(left))
	near := func(p flat.Pt) bool { return math.Abs(p.Sub(base).Dot(u.Left())) <= 4*flat.Snap }
	var at [][2]float64
	for _, e := range r.Edges() {
		if !e.IsArc() && near(e.P) && near(e.Q) {
			p, q := e.P.Sub(base).Dot(u), e.Q.Sub(base).Dot(u)
			at = append(at, [2]float64{min(p, q), max(p, q)})
		}
	}
	slices.SortFunc(at, func(p, q [2]float64) int { return cmp.Or(cmp.Compare(p[0], q[0]), cmp.Compare(p[1], q[1])) })
	var out [][2]flat.Pt
	for i := 0; i < len(at); {
		lo, hi := at[i][0], at[i][1]
		for i++; i < len(at) && at[i][0] <= hi+4*flat.Snap; i++ {
			hi = max(hi, at[i][1])
		}
		out = append(out, [2]flat.Pt{base.Add(u.Mul(lo)), base.Add(u.Mul(hi))})
	}
	return out
}
