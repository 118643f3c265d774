package designfile

import (
	"math"

	"foldfit/fold"
	"foldfit/fold/flat"
)

// leastRadius is the smallest inside radius that makes a cylinder, mm.
const leastRadius = 0.01

// hinges fills the hinges.
func (b *builder) hinges() {
	b.design.Where.Hinges = b.placeOf("hinges")
	for i := range b.file.Hinges {
		e := &b.file.Hinges[i]
		if e.It.form == nil {
			continue
		}
		b.path = []step{{key: b.file.key("hinges")}, {key: e.Key}}
		if h, ok := b.hinge(&e.It); ok && e.OK {
			h.Name, h.Place = e.Name, b.place(e.Key)
			b.design.Hinges = append(b.design.Hinges, h)
			b.made["hinge:"+e.Name] = fold.Top
		}
	}
	b.path = nil
}

// hinge turns a hinge as read into the design's, and checks what could be read of it.
func (b *builder) hinge(in *hinge) (fold.Hinge, bool) {
	h := fold.Hinge{Angle: in.Angle.v, Written: 1, Radius: in.Radius.v, Use: in.Use.s, Cycles: in.Cycles.v, Formed: in.Formed.s}
	if in.Toward.s == "bottom" {
		h.Written = -1
		h.Angle = 0 - h.Angle
	}
	if in.has("between") {
		h.Between = &[2]float64{in.Between[0].v, in.Between[1].v}
	}
	if t := in.Tolerance; t != nil {
		h.TolAngle, h.TolLine = t.Angle.v, t.Line.v
	}
	ok := true
	if in.has("radius") && in.has("angle") && h.Radius < leastRadius && h.Angle != 0 {
		b.add(in.Radius.at, b.where()+".radius is "+trim(h.Radius)+" mm, it must be at least 0.01 mm", "a sharp fold is no bend: give the inside radius")
		ok = false
	}
	return h, b.hingeLine(in, &h) && ok
}

// hingeLine fills the line of h. It returns false where there is none.
func (b *builder) hingeLine(in *hinge, h *fold.Hinge) bool {
	line, key := in.Line, "line"
	if in.has("tangent") {
		line, key = in.Tangent, "tangent"
		h.Tangent, h.Into = true, point(in.Into)
	}
	if !in.has(key) {
		return false
	}
	h.Line = [2]flat.Pt{point(line[0]), point(line[1])}
	along := h.Line[1].Sub(h.Line[0])
	if along.Len() <= flat.Snap {
		b.add(in.key(key), b.where()+"."+key+": its two points are the same", "give two points on the line, best one beyond each edge of the board")
		return false
	}
	if h.Tangent && in.has("into") && math.Abs(along.Unit().Cross(h.Into.Sub(h.Line[0]))) <= flat.Snap {
		b.add(in.key("into"), b.where()+".into lies on the tangent line", "give a point on the side where the bend area lies")
		return false
	}
	return true
}
