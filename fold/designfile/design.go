package designfile

import (
	"math"
	"strconv"

	"github.com/go-gl/mathgl/mgl64"
	"go.yaml.in/yaml/v4"

	"foldfit/fold"
	"foldfit/fold/finding"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// builder turns a file that has been read into a Design: it looks names up, builds loops and flattens stack-ups.
type builder struct {
	*reader
	options Options
	file    file
	design  *fold.Design
	notes   []string
	stacks  map[string]*laminate
}

// build fills the design, part by part in the order of the format.
func (b *builder) build() {
	b.top()
	b.outline()
	b.materials()
	b.stackups()
	b.sections()
	b.base()
	b.hinges()
	b.stiffeners()
	b.components()
	b.enclosure()
	b.clearance()
	for _, key := range []string{"units", "outline", "cutouts", "materials", "stackups", "flex", "sections"} {
		b.design.Incomplete = b.design.Incomplete || b.file.failed(key)
	}
}

// top fills what stands alone: title, datum, place, loop limit.
func (b *builder) top() {
	f, d := &b.file, b.design
	if t := f.Title; t != nil {
		d.Title = fold.Title{Name: t.Name.s, Number: t.Number.s, Revision: t.Revision.s, Company: t.Company.s, Drawn: t.Drawn.s, Date: t.Date.s}
		if t.Name.s == "" {
			d.Title.Name = d.Name
		}
		d.Name = d.Title.Name
	}
	if !f.failed("datum") {
		d.Datum = point(f.Datum)
	}
	if p := f.Place; p != nil && !f.failed("place") {
		d.Place = fold.Placement{Datum: p.Datum.s, Turn: values3(p.Turn), Move: mgl64.Vec3(values3(p.Move))}
	}
	d.Where.Place = b.placeOf("place")
	if l := f.Loop; l != nil && !f.failed("loop") {
		if l.Gap.at != nil {
			d.Loop.Gap = l.Gap.v
		}
		if l.Angle.at != nil {
			d.Loop.Angle = l.Angle.v
		}
	}
	d.Where.Loop = b.placeOf("loop")
}

// placeOf returns where the top key is written; the zero Place when it is not.
func (b *builder) placeOf(key string) finding.Place {
	if n := b.file.key(key); n != nil {
		return b.place(n)
	}
	return finding.Place{}
}

// sections fills the sections and the stack-up around them.
func (b *builder) sections() {
	d := b.design
	stacks := names(b.file.Stackups)
	d.Where.Flex = b.placeOf("flex")
	if t := b.file.Flex; t.at != nil && b.known(t, "flex", "stack-up", stacks, "stackups has") {
		switch s := b.stack(t.s); {
		case s.rigid:
			b.add(t.at, "flex names "+t.s+", which is rigid", "name a stack-up without rigid: true")
			d.Incomplete = true
		case s.bad:
			d.Incomplete = true
		default:
			d.Flex = t.s
		}
	}
	for _, e := range b.file.Sections {
		if !e.OK {
			continue
		}
		b.path = []step{{key: b.file.key("sections")}, {key: e.Key}}
		area := b.loop(e.It.Area, "area")
		if !b.known(e.It.Stackup, b.where()+".stackup", "stack-up", stacks, "stackups has") || area == nil || b.stack(e.It.Stackup.s).bad {
			d.Incomplete = true
			continue
		}
		d.Sections = append(d.Sections, fold.Section{Name: e.Name, Stackup: e.It.Stackup.s, Area: area, Place: b.place(e.Key)})
	}
	b.path = nil
}

// base fills which flat stays put.
func (b *builder) base() {
	b.design.Where.Base = b.placeOf("base")
	in := b.file.Base
	if in == nil || b.file.failed("base") {
		return
	}
	if in.Spot != nil {
		p := point(in.Spot.At)
		b.design.Base.Point = &p
		return
	}
	if b.known(in.Section, "base", "section", names(b.file.Sections), "sections has") && b.hasSection(in.Section.s) {
		b.design.Base.Section = in.Section.s
	}
}

// hasSection reports whether the design got this section.
func (b *builder) hasSection(name string) bool {
	for _, s := range b.design.Sections {
		if s.Name == name {
			return true
		}
	}
	return false
}

// known reports whether t is one of list; what it names otherwise is a problem, with the nearest name as a hint.
func (b *builder) known(t text, where, what string, list []string, has string) bool {
	if contains(list, t.s) {
		return true
	}
	hint := meant(t.s, list, has)
	if hint == "" {
		hint = "there is no " + what
	}
	b.add(t.at, where+" names the "+what+" "+show(t.s)+", which does not exist", hint)
	return false
}

// names returns the names of a dict, also of entries with problems.
func names[T any](d dict[T]) []string {
	list := make([]string, len(d))
	for i, e := range d {
		list[i] = e.Name
	}
	return list
}

// materials fills the design's own materials.
func (b *builder) materials() {
	for _, e := range b.file.Materials {
		if !e.OK {
			continue
		}
		m := stackup.Material{Name: e.Name, Modulus: e.It.Modulus.v, Density: e.It.Density.v, Source: "the design file"}
		if was, ok := stackup.BuiltIn(e.Name); ok {
			m.Copper = was.Copper
			b.notes = append(b.notes, "materials."+e.Name+" takes the place of the built-in "+e.Name+": "+trim(m.Modulus)+" instead of "+trim(was.Modulus)+" GPa")
		}
		b.design.Materials = append(b.design.Materials, m)
	}
}

// material returns the named material, the design's own before the built-in one. A name that is none is a problem.
func (b *builder) material(t text, where string) (stackup.Material, bool) {
	for _, m := range b.design.Materials {
		if m.Name == t.s {
			return m, true
		}
	}
	if contains(names(b.file.Materials), t.s) {
		return stackup.Material{}, false // told already
	}
	if m, ok := stackup.BuiltIn(t.s); ok {
		return m, true
	}
	list := names(b.file.Materials)
	for _, m := range stackup.BuiltIns() {
		list = append(list, m.Name)
	}
	return stackup.Material{}, b.known(t, where, "material", list, "known materials:")
}

// side returns the side that a word names, top if none was given.
func side(t text) fold.Side {
	if t.s == "bottom" {
		return fold.Bottom
	}
	return fold.Top
}

func point(p [2]number) flat.Pt { return flat.Pt{X: p[0].v, Y: p[1].v} }

func values3(p [3]number) [3]float64 { return [3]float64{p[0].v, p[1].v, p[2].v} }

// trim writes a number for messages: at most four decimals.
func trim(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64)
}

// blame returns a key of an object for messages, the object itself where the key was not given.
func (o *object) blame(key string) *yaml.Node {
	if k := o.key(key); k != nil {
		return k
	}
	return o.at
}
