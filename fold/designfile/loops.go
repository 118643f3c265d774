package designfile

import (
	"go.yaml.in/yaml/v4"

	"foldfit/fold/flat"
)

// outline fills outline and cutouts.
func (b *builder) outline() {
	d := b.design
	d.Where.Outline = b.placeOf("outline")
	d.Outline = b.loop(b.file.Outline, "outline")
	d.Incomplete = d.Incomplete || d.Outline == nil
	b.path = []step{{key: b.file.key("cutouts")}, {}}
	for i := range b.file.Cutouts {
		b.path[1].i = i
		c := &b.file.Cutouts[i]
		if l := b.loop(c, ""); l != nil {
			d.Cutouts = append(d.Cutouts, l)
			d.Where.Cutouts = append(d.Where.Cutouts, b.place(c.at))
			continue
		}
		d.Incomplete = true
	}
	b.path = nil
}

// loop builds a loop that was read at the current path, or below it at the given key; nil, with the problems noted, if
// it is none.
func (b *builder) loop(in *loop, key string) flat.Loop {
	if in == nil || !in.ok {
		return nil
	}
	var out flat.Loop
	var errs []flat.BuildError
	switch s := in.Shape; {
	case s == nil:
		out, errs = flat.Build(vertices(in.Points))
	case s.has("circle"):
		out, errs = flat.Circle(point(s.Circle), s.Diameter.v)
	default:
		out, errs = flat.Rect(s.Rect[0].v, s.Rect[1].v, s.Rect[2].v, s.Rect[3].v, s.Corner.v)
	}
	if len(errs) == 0 {
		return out
	}
	b.tellLoop(in, key, errs)
	return nil
}

// tellLoop notes why a loop is none, each problem at the item to blame.
func (b *builder) tellLoop(in *loop, key string, errs []flat.BuildError) {
	path := b.path
	if key != "" {
		b.path = append(b.path, step{key: &yaml.Node{Value: key}})
	}
	for _, e := range errs {
		if in.Shape != nil {
			b.add(in.at, b.where()+": "+e.What, e.Hint)
			continue
		}
		b.path = append(b.path, step{i: e.Vertex})
		b.add(in.Points[e.Vertex].at, b.where()+": "+e.What, e.Hint)
		b.path = b.path[:len(b.path)-1]
	}
	b.path = path
}

// vertices turns the items of a loop as read into those that flat builds from.
func vertices(in []vertex) []flat.Vertex {
	out := make([]flat.Vertex, len(in))
	for i, v := range in {
		p := v.Point
		if v.Arc != nil {
			p = v.Arc.Arc
			via := point(v.Arc.Via)
			out[i].Via = &via
		}
		out[i].P = flat.Pt{X: p[0].v, Y: p[1].v}
		if len(p) == 3 {
			out[i].Round = p[2].v
		}
	}
	return out
}
