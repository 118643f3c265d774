package designfile

import (
	"math"
	"strconv"

	"github.com/go-gl/mathgl/mgl64"

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
	own     map[string]stackup.Material // materials that could be read
	made    map[string]fold.Side        // sections, hinges, stiffeners, components and pieces that the design got, by full name, with their side
	entries map[string]*entry[stack]    // stack-ups as read, by name
	stacks  map[string]*laminate
	sheets  int // laid open so far, in all stack-ups
}

// build fills the design, part by part in the order of the format.
func (b *builder) build() {
	b.made = map[string]fold.Side{}
	b.top()
	b.outline()
	b.materials()
	b.stackups()
	b.sections()
	b.base()
	b.hinges()
	b.postures()
	b.stiffeners()
	b.components()
	b.enclosure()
	b.seats()
	b.sequence()
	b.targets()
	b.clearance()
	b.limits()
	b.concessions()
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
	d.Where.Flex = b.placeOf("flex")
	if t := b.file.Flex; t.at != nil {
		switch s := b.stack(t.s); {
		case s.bad:
			d.Incomplete = true
		case s.rigid:
			b.add(t.at, "flex names "+t.s+", which is rigid", "name a stack-up without rigid: true")
			d.Incomplete = true
		default:
			d.Flex = t.s
		}
	}
	for i := range b.file.Sections {
		e := &b.file.Sections[i]
		b.path = []step{{key: b.file.key("sections")}, {key: e.Key}}
		area := b.loop(e.It.Area, "area")
		if !e.OK || area == nil || b.stack(e.It.Stackup.s).bad {
			d.Incomplete = true
			continue
		}
		b.made["section:"+e.Name] = fold.Top
		d.Sections = append(d.Sections, fold.Section{Name: e.Name, Stackup: e.It.Stackup.s, Area: area, Place: b.place(e.Key)})
	}
	b.path = nil
}

// base fills which flat stays put.
func (b *builder) base() {
	b.design.Where.Base = b.placeOf("base")
	in := b.file.Base
	switch {
	case in == nil || !in.ok:
	case in.Spot != nil:
		p := point(in.Spot.At)
		b.design.Base.Point = &p
	case b.has("section", in.Section.s):
		b.design.Base.Section = in.Section.s
	}
}

// materials fills the design's own materials.
func (b *builder) materials() {
	b.own = map[string]stackup.Material{}
	for _, e := range b.file.Materials {
		if !e.OK {
			continue
		}
		m := stackup.Material{Name: e.Name, Modulus: e.It.Modulus.v, Density: e.It.Density.v, Copper: e.It.Copper.on, Source: "the design file"}
		if was, ok := stackup.BuiltIn(e.Name); ok {
			m.Copper = m.Copper || was.Copper
			b.notes = append(b.notes, "materials."+e.Name+" takes the place of the built-in "+e.Name+": "+trim(m.Modulus)+" instead of "+trim(was.Modulus)+" GPa")
		}
		b.own[m.Name] = m
		b.design.Materials = append(b.design.Materials, m)
	}
}

// has reports whether the design got what is named.
func (b *builder) has(kind, name string) bool {
	_, ok := b.made[kind+":"+name]
	return ok
}

// material returns the named material, the design's own before the built-in one; false where it could not be read.
func (b *builder) material(name string) (stackup.Material, bool) {
	if m, ok := b.own[name]; ok {
		return m, true
	}
	if b.names["materials"].key[name] != nil {
		return stackup.Material{}, false
	}
	return stackup.BuiltIn(name)
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
