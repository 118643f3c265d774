package fold

import (
	"slices"

	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// makeBodies lists the solids: what sections and the flex make of each flat, then bends, stiffeners and components.
func (dv *divider) makeBodies(ps []piece) {
	var sections []Body
	for i := range dv.t.Flats {
		sections = append(sections, dv.flatBodies(i)...)
	}
	numberByPosition(sections)
	dv.t.Bodies = sections
	for i := range dv.t.Bends {
		dv.t.Bodies = append(dv.t.Bodies, dv.bendBody(i))
	}
	for i := range dv.d.Stiffeners {
		dv.t.Bodies = append(dv.t.Bodies, dv.stiffenerBodies(i, sections)...)
	}
	for i := range dv.d.Components {
		if b, ok := dv.componentBody(i); ok {
			dv.t.Bodies = append(dv.t.Bodies, b)
		}
	}
	for i, b := range dv.t.Bodies {
		if b.Flat >= 0 {
			dv.t.Flats[b.Flat].Bodies = append(dv.t.Flats[b.Flat].Bodies, i)
		}
	}
}

// flatBodies returns the pieces of a flat by section, and what the sections leave of it.
func (dv *divider) flatBodies(fi int) []Body {
	f := &dv.t.Flats[fi]
	if len(f.Region) == 0 {
		return nil
	}
	var out []Body
	left := []flat.Region{f.Region}
	for i, s := range dv.d.Sections {
		if !slices.Contains(f.Sections, s.Name) {
			continue
		}
		for _, r := range flat.Intersect(f.Region, flat.Region{s.Area}) {
			out = append(out, dv.plate("section:"+s.Name, KindSection, fi, r, dv.levels[s.Stackup], i))
		}
		left = subtractAll(left, s.Area)
	}
	for _, r := range left {
		name := dv.d.Flex
		out = append(out, dv.plate("flex:"+f.Name, KindFlex, fi, r, dv.levels[name], -1))
	}
	return out
}

// plate returns a prism over r between a stack-up's faces.
func (dv *divider) plate(name string, kind Kind, fi int, r flat.Region, lv Level, source int) Body {
	a := r.Area()
	return Body{Name: name, Kind: kind, Flat: fi, Bend: -1, Region: r, Faces: [2]float64{lv.Bottom, lv.Top},
		Area: a, Volume: a * (lv.Top - lv.Bottom), Source: source}
}

// numberByPosition gives bodies of one name the suffixes .2, .3 ... by position.
func numberByPosition(bodies []Body) {
	order := make([]int, len(bodies))
	low := make([]flat.Pt, len(bodies))
	for i, b := range bodies {
		order[i] = i
		low[i] = b.Region[0][0].P
		for _, e := range b.Region.Edges() {
			low[i] = lower(low[i], e.P)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return before(low[a], low[b]) })
	used := map[string]int{}
	for _, i := range order {
		name := bodies[i].Name
		bodies[i].Name = numbered(name, used[name])
		used[name]++
	}
}

// bendBody returns the body of bend i. Its volume is exact: area times thickness, corrected for a neutral surface that is
// not in the middle (Pappus).
func (dv *divider) bendBody(i int) Body {
	b := &dv.t.Bends[i]
	zb, zt := b.Faces[0]-b.Height, b.Faces[1]-b.Height
	k := radians(dv.d.Hinges[b.Hinge].Angle) / b.Width
	return Body{Name: "bend:" + b.Name, Kind: KindBend, Flat: -1, Bend: i, Region: b.Region, Faces: b.Faces,
		Area: b.Area, Volume: b.Area * ((zt - zb) - k*(zt*zt-zb*zb)/2), Source: b.Hinge}
}

// stiffenerBodies returns the pieces of stiffener i: clipped to the flats, on the outer face at each point of its area.
func (dv *divider) stiffenerBodies(i int, plates []Body) []Body {
	s := &dv.d.Stiffeners[i]
	var out []Body
	for fi := range dv.t.Flats {
		f := &dv.t.Flats[fi]
		for _, r := range flat.Intersect(f.Region, flat.Region{s.Area}) {
			out = append(out, dv.stiffenerOn(i, fi, r, plates)...)
		}
	}
	numberByPosition(out)
	return out
}

// stiffenerOn returns one piece of a stiffener in one flat: a single body, or one for each height of the face under it.
func (dv *divider) stiffenerOn(i, fi int, r flat.Region, plates []Body) []Body {
	s := &dv.d.Stiffeners[i]
	var out []Body
	for _, p := range plates {
		if p.Flat != fi {
			continue
		}
		face := p.Face(s.Side)
		for _, part := range flat.Intersect(r, p.Region) {
			lo, hi := face, face+s.Side.Sign()*(s.Thickness+s.Adhesive)
			a := part.Area()
			out = append(out, Body{Name: "stiffener:" + s.Name, Kind: KindStiffener, Flat: fi, Bend: -1, Region: part,
				Faces: [2]float64{min(lo, hi), max(lo, hi)}, Seat: face, Side: s.Side, Area: a, Volume: a * (s.Thickness + s.Adhesive), Source: i})
		}
	}
	if len(out) > 1 && !slices.ContainsFunc(out, func(b Body) bool { return b.Seat != out[0].Seat }) {
		one := out[0]
		one.Region, one.Area = r, r.Area()
		one.Volume = one.Area * (s.Thickness + s.Adhesive)
		return []Body{one}
	}
	return out
}

// Face returns z of the body's face on that side.
func (b *Body) Face(side Side) float64 {
	if side == Top {
		return b.Faces[1]
	}
	return b.Faces[0]
}

// sectionStackup returns the stack-up of the named section, nil for none.
func (dv *divider) sectionStackup(name string) *stackup.Stackup {
	for _, s := range dv.d.Sections {
		if s.Name == name {
			return dv.d.StackupNamed(s.Stackup)
		}
	}
	return nil
}

// stackupAt returns the stack-up at p: of a rigid section there, else of a flexible one, else of the flex. Borders belong to
// rigid sections first, then to the section that is first in the file.
func (d *Design) stackupAt(p flat.Pt) *stackup.Stackup {
	var flexible *stackup.Stackup
	for _, s := range d.Sections {
		st := d.StackupNamed(s.Stackup)
		if st == nil || !containsOrTouches(s.Area, p) {
			continue
		}
		if st.Rigid {
			return st
		}
		if flexible == nil {
			flexible = st
		}
	}
	if flexible != nil {
		return flexible
	}
	return d.StackupNamed(d.Flex)
}

// BaseLevel returns where the stack-up of the base lies: of the base section, else of what is at the base point, else of
// the section that gave the base flat its name.
func (t *Tree) BaseLevel() Level {
	d := t.Design
	name := d.Base.Section
	switch {
	case name == "" && d.Base.Point != nil:
		if st := d.stackupAt(*d.Base.Point); st != nil {
			return t.Levels[st.Name]
		}
	case name == "" && len(t.Flats) > 0 && len(t.Flats[0].Sections) > 0:
		name = t.baseSection()
	}
	for _, s := range d.Sections {
		if s.Name == name {
			return t.Levels[s.Stackup]
		}
	}
	return t.Levels[d.Flex]
}

// baseSection returns the section of the base flat with the largest share, a rigid one before flexible ones.
func (t *Tree) baseSection() string {
	for _, name := range t.Flats[0].Sections {
		for _, s := range t.Design.Sections {
			if st := t.Design.StackupNamed(s.Stackup); s.Name == name && st != nil && st.Rigid {
				return name
			}
		}
	}
	return t.Flats[0].Sections[0]
}

// RigidSection reports whether the named section has a stack-up that does not bend.
func (d *Design) RigidSection(name string) bool {
	for _, s := range d.Sections {
		if s.Name == name {
			st := d.StackupNamed(s.Stackup)
			return st != nil && st.Rigid
		}
	}
	return false
}

// RigidNear reports whether p lies in a rigid section or within d (mm) of one's border.
func (d *Design) RigidNear(p flat.Pt, dist float64) bool {
	for _, s := range d.Sections {
		if d.RigidSection(s.Name) && (s.Area.Contains(p) || s.Area.Distance(p) <= dist) {
			return true
		}
	}
	return false
}
