package designfile

import (
	"fmt"
	"path"
	"regexp"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
)

// stiffeners fills the stiffeners. They share their names with sections, since flats are named after either.
func (b *builder) stiffeners() {
	for i := range b.file.Stiffeners {
		e := &b.file.Stiffeners[i]
		b.path = []step{{key: b.file.key("stiffeners")}, {key: e.Key}}
		if was := b.names["sections"].key[e.Name]; was != nil {
			b.add(e.Key, fmt.Sprintf("%s: the section at line %d has this name already", b.where(), was.Line), "give the stiffener another name")
			continue
		}
		if area := b.loop(e.It.Area, "area"); area != nil && e.OK {
			b.design.Stiffeners = append(b.design.Stiffeners, fold.Stiffener{Name: e.Name, Side: side(e.It.Side), Material: e.It.Material.s,
				Thickness: e.It.Thickness.v, Adhesive: e.It.Adhesive.v, Area: area, Place: b.place(e.Key)})
			b.made["stiffener:"+e.Name] = side(e.It.Side)
		}
	}
	b.path = nil
}

// components fills the components.
func (b *builder) components() {
	for i := range b.file.Components {
		e := &b.file.Components[i]
		if e.It.form == nil {
			continue
		}
		b.path = []step{{key: b.file.key("components")}, {key: e.Key}}
		in := &e.It
		c := fold.Component{Name: e.Name, Side: side(in.Side), At: point(in.At), Turn: in.Turn.v, Diameter: in.Diameter.v,
			Standoff: in.Standoff.v, Below: in.Below.v, Mass: in.Mass.v, Place: b.place(e.Key)}
		if b.has("section", in.On.s) {
			c.On = in.On.s
		}
		if b.body(in, &c) && e.OK {
			b.design.Components = append(b.design.Components, c)
			b.made["component:"+e.Name] = c.Side
		}
	}
	b.path = nil
}

// body fills the shape of a component: size, boxes or diameter, and the height if it is known.
func (b *builder) body(in *component, c *fold.Component) bool {
	height := in.Height
	if n := len(in.Size); n > 0 {
		c.Size = &[2]float64{in.Size[0].v, in.Size[1].v}
		if n == 3 {
			height = in.Size[2]
		}
	}
	if height.at != nil && !height.unknown {
		v := height.v
		c.Height = &v
	}
	ok := true
	if !in.has("boxes") {
		return true
	}
	for i, x := range in.Boxes {
		ok = b.boxOrder(x[:3], x[3:], fmt.Sprintf("%s.boxes item %d", b.where(), i+1)) && ok
		c.Boxes = append(c.Boxes, [6]float64{x[0].v, x[1].v, x[2].v, x[3].v, x[4].v, x[5].v})
	}
	return ok
}

// boxOrder checks that the second corner of a box lies beyond the first.
func (b *builder) boxOrder(lo, hi []number, where string) bool {
	for i, axis := range []string{"x", "y", "z"} {
		if hi[i].v > lo[i].v {
			continue
		}
		b.add(hi[i].at, fmt.Sprintf("%s: in %s it ends at %s mm, not beyond its beginning at %s mm", where, axis, trim(hi[i].v), trim(lo[i].v)),
			"give the corner with the smaller numbers first")
		return false
	}
	return true
}

// enclosure fills what surrounds the board.
func (b *builder) enclosure() {
	for i := range b.file.Enclosure {
		e := &b.file.Enclosure[i]
		if e.It.form == nil {
			continue
		}
		b.path = []step{{key: b.file.key("enclosure")}, {key: e.Key}}
		in := &e.It
		p := fold.Piece{Name: e.Name, Mesh: in.Mesh.s, Units: in.Units.s, Turn: values3(in.Turn), Move: mgl64.Vec3(values3(in.Move)),
			Chord: in.Chord.v, Role: in.Role.s, Grows: in.Grows.v, Place: b.place(e.Key)}
		ok := true
		if in.has("box") {
			p.Box = &[2]mgl64.Vec3{values3(in.Box[0]), values3(in.Box[1])}
			ok = b.boxOrder(in.Box[0][:], in.Box[1][:], b.where()+".box")
		}
		if in.has("mesh") {
			p.MeshPlace = b.place(in.Mesh.at)
			ok = b.pathInside(in.Mesh, "mesh") && ok
		}
		if b.rides(in, &p) && ok && e.OK {
			b.design.Enclosure = append(b.design.Enclosure, p)
			b.made["enclosure:"+e.Name] = fold.Top
		}
	}
	b.path = nil
}

// rides fills what a piece moves with. It returns false where that could not be read.
func (b *builder) rides(in *piece, p *fold.Piece) bool {
	p.On = in.On.s
	if t := in.Follows; t != nil {
		p.Follows = &fold.Follow{Hinge: t.Hinge.s, Share: 1}
		if t.Share.at != nil {
			p.Follows.Share = t.Share.v
		}
		return b.has("hinge", t.Hinge.s)
	}
	return p.On == "" || b.has("section", p.On)
}

var drive = regexp.MustCompile(`^[A-Za-z]:`)

// pathInside checks that the path at a key stays inside the design's folder, on every system alike.
func (b *builder) pathInside(t text, key string) bool {
	p := t.s
	clean := path.Clean(p)
	what := ""
	switch {
	case b.options.AllowOutside:
		return true
	case strings.Contains(p, `\`):
		b.add(t.at, b.where()+"."+key+" has a backslash in its path "+show(p), "separate folders with /")
		return false
	case path.IsAbs(p), drive.MatchString(p):
		what = "is not relative to the design's folder"
	case clean == ".." || strings.HasPrefix(clean, "../"):
		what = "leads out of the design's folder"
	case clean == ".":
		what = "names a folder"
	default:
		return true
	}
	b.add(t.at, b.where()+"."+key+": the path "+show(p)+" "+what, "put the "+key+" beside the design file, or allow files outside (--allow-outside)")
	return false
}
