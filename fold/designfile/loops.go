package designfile

import (
	"go.yaml.in/yaml/v4"

	"foldfit/fold/flat"
)

// outline fills outline and cutouts.
func (b *builder) outline() {
	d := b.design
	d.Where.Outline = b.placeOf("outline")
	b.path = []step{{key: b.file.key("outline")}}
	if !b.file.failed("outline") {
		d.Outline = b.loop(b.file.Outline, "")
		d.Incomplete = d.Incomplete || d.Outline == nil
	}
	b.path = []step{{key: b.file.key("cutouts")}, {}}
	for i := range b.file.Cutouts {
		b.path[1].i = i
		c := &b.file.Cutouts[i]
		if b.file.failed("cutouts") {
			continue
		}
		if l := b.loop(c, ""); l != nil {
			d.Cutouts = append(d.Cutouts, l)
			d.Where.Cutouts = append(d.Where.Cutouts, b.place(c.at))
			continue
		}
		d.Incomplete = true
	}
	b.path = nil
}

// loop builds the loop that was read without problems at the current path, or below it at the given key; nil, with the
// problems noted, if it is none.
func (b *builder) loop(in *loop, key string) flat.Loop {
	if key != "" {
		b.path = append(b.path, step{key: &yaml.Node{Value: key}})
		defer func() { b.path = b.path[:len(b.path)-1] }()
	}
	var out flat.Loop
	var errs []flat.BuildError
	blame := func(int) *yaml.Node { return in.at }
	switch s := in.Shape; {
	case s == nil:
		out, errs = flat.Build(vertices(in.Points))
		blame = func(i int) *yaml.Node { return in.Points[i].at }
	case given(s.Circle):
		out, errs = flat.Circle(point(s.Circle), s.Diameter.v)
	default:
		out, errs = flat.Rect(s.Rect[0].v, s.Rect[1].v, s.Rect[2].v, s.Rect[3].v, s.Corner.v)
	}
	for _, e := range errs {
		if in.Shape == nil {
			b.path = append(b.path, step{i: e.Vertex})
		}
		b.add(blame(e.Vertex), b.where()+": "+e.What, e.Hint)
		if in.Shape == nil {
			b.path = b.path[:len(b.path)-1]
		}
	}
	if len(errs) > 0 {
		return nil
	}
	return out
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
