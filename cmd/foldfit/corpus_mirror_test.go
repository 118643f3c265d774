package main

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
	"foldfit/mesh/clash"
)

// mirrored returns the design seen in a mirror: x becomes -x, heights and angles stay.
func mirrored(d *fold.Design) *fold.Design {
	m := *d
	m.Outline = mirroredLoop(d.Outline)
	m.Datum = mirroredPt(d.Datum)
	m.Cutouts = mapped(d.Cutouts, mirroredLoop)
	m.Sections = mapped(d.Sections, func(s fold.Section) fold.Section { s.Area = mirroredLoop(s.Area); return s })
	m.Stiffeners = mapped(d.Stiffeners, func(s fold.Stiffener) fold.Stiffener { s.Area = mirroredLoop(s.Area); return s })
	m.Components = mapped(d.Components, mirroredComponent)
	m.Seats = mapped(d.Seats, func(s fold.Seat) fold.Seat { s.Area = mirroredLoop(s.Area); return s })
	m.Hinges = mapped(d.Hinges, func(h fold.Hinge) fold.Hinge {
		h.Line = [2]flat.Pt{mirroredPt(h.Line[0]), mirroredPt(h.Line[1])}
		h.Into = mirroredPt(h.Into)
		return h
	})
	m.Targets = mapped(d.Targets, func(t fold.Target) fold.Target {
		for _, v := range []*mgl64.Vec3{&t.Point, &t.At, &t.Facing, &t.Axis} {
			v[0] = -v[0]
		}
		return t
	})
	m.Sequence = mapped(d.Sequence, func(s fold.Step) fold.Step {
		s.Path = mapped(s.Path, func(o fold.Offset) fold.Offset { o.Move[0] = -o.Move[0]; return o })
		return s
	})
	if p := d.Base.Point; p != nil {
		q := mirroredPt(*p)
		m.Base.Point = &q
	}
	m.Place.Turn = [3]float64{d.Place.Turn[0], -d.Place.Turn[1], -d.Place.Turn[2]}
	m.Place.Move[0] = -d.Place.Move[0]
	return &m
}

// turnedOver returns the same board drawn from its other side: x becomes -x, top becomes bottom. It stands where it stood
// in the housing.
func turnedOver(d *fold.Design) *fold.Design {
	m := *mirrored(d)
	m.Place.Turn = [3]float64{-d.Place.Turn[0], d.Place.Turn[1] + 180, d.Place.Turn[2]}
	m.Place.Move = d.Place.Move
	m.Place.Datum = map[string]string{"top": "bottom", "bottom": "top"}[d.Place.Datum]
	m.Stackups = mapped(d.Stackups, func(s stackup.Stackup) stackup.Stackup { return turnedStackup(s, d.Stackups) })
	for i := range m.Hinges {
		m.Hinges[i].Angle, m.Hinges[i].Written = -m.Hinges[i].Angle, -m.Hinges[i].Written
	}
	m.Postures = mapped(d.Postures, func(p fold.Posture) fold.Posture {
		p.Angles = mapped(p.Angles, func(a fold.HingeAngle) fold.HingeAngle { a.Angle = -a.Angle; return a })
		return p
	})
	for i := range m.Stiffeners {
		m.Stiffeners[i].Side = fold.Bottom - m.Stiffeners[i].Side
	}
	m.Sequence = mapped(d.Sequence, func(s fold.Step) fold.Step {
		s.Bend = mapped(s.Bend, func(a fold.HingeAngle) fold.HingeAngle { a.Angle = -a.Angle; return a })
		return s
	})
	m.Targets = mapped(d.Targets, func(t fold.Target) fold.Target {
		for _, v := range []*mgl64.Vec3{&t.Point, &t.Axis} {
			v[0], v[2] = -v[0], -v[2]
		}
		return t
	})
	for i := range m.Seats {
		m.Seats[i].Side = fold.Bottom - m.Seats[i].Side
	}
	for i := range m.Components {
		m.Components[i].Side = fold.Bottom - m.Components[i].Side
	}
	return &m
}

func mapped[T any](list []T, change func(T) T) []T {
	var out []T
	for _, v := range list {
		out = append(out, change(v))
	}
	return out
}

func mirroredPt(p flat.Pt) flat.Pt { return flat.Pt{X: -p.X, Y: p.Y} }

func mirroredLoop(l flat.Loop) flat.Loop {
	out := mapped(l, func(e flat.Edge) flat.Edge {
		return flat.Edge{P: mirroredPt(e.Q), Q: mirroredPt(e.P), C: mirroredPt(e.C), R: e.R, Sweep: e.Sweep}
	})
	slices.Reverse(out)
	return out
}

func mirroredComponent(c fold.Component) fold.Component {
	c.At, c.Turn = mirroredPt(c.At), -c.Turn
	c.Boxes = mapped(c.Boxes, func(b [6]float64) [6]float64 { return [6]float64{-b[3], b[1], b[2], -b[0], b[4], b[5]} })
	return c
}

func turnedStackup(s stackup.Stackup, all []stackup.Stackup) stackup.Stackup {
	s.Layers = slices.Clone(s.Layers)
	slices.Reverse(s.Layers)
	s.Plies = mapped(s.Plies, func(p stackup.Stackup) stackup.Stackup { return turnedStackup(p, all) })
	slices.Reverse(s.Plies)
	thick := s.Thickness()
	s.Embeds = mapped(s.Embeds, func(e stackup.Embed) stackup.Embed {
		for _, inner := range all {
			if inner.Name == e.Stackup {
				e.Bottom = thick - e.Bottom - inner.Thickness()
			}
		}
		return e
	})
	return s
}

// mirroredWalls returns the walls seen in a mirror.
func mirroredWalls(walls []clash.Wall) []clash.Wall {
	return mapped(walls, func(w clash.Wall) clash.Wall {
		m := w.Mesh
		m.Points = slices.Clone(m.Points)
		for i := range m.Points {
			m.Points[i][0] = -m.Points[i][0]
		}
		m.Triangles = slices.Clone(m.Triangles)
		for i, t := range m.Triangles {
			m.Triangles[i] = [3]int32{t[0], t[2], t[1]}
		}
		m.Normals = slices.Clone(m.Normals)
		for i, n := range m.Normals {
			n[1], n[2] = n[2], n[1]
			for k := range n {
				n[k][0] = -n[k][0]
			}
			m.Normals[i] = n
		}
		w.Mesh = m
		return w
	})
}

// turned returns the design turned in its plane about the origin, by an angle in degrees. The board stands where it stood
// in the housing.
func turned(d *fold.Design, degrees float64) *fold.Design {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	pt := func(p flat.Pt) flat.Pt { return flat.Pt{X: cos*p.X - sin*p.Y, Y: sin*p.X + cos*p.Y} }
	loop := func(l flat.Loop) flat.Loop {
		return mapped(l, func(e flat.Edge) flat.Edge {
			return flat.Edge{P: pt(e.P), Q: pt(e.Q), C: pt(e.C), R: e.R, Sweep: e.Sweep}
		})
	}
	m := *d
	m.Outline, m.Cutouts, m.Datum = loop(d.Outline), mapped(d.Cutouts, loop), pt(d.Datum)
	m.Sections = mapped(d.Sections, func(s fold.Section) fold.Section { s.Area = loop(s.Area); return s })
	m.Stiffeners = mapped(d.Stiffeners, func(s fold.Stiffener) fold.Stiffener { s.Area = loop(s.Area); return s })
	m.Seats = mapped(d.Seats, func(s fold.Seat) fold.Seat { s.Area = loop(s.Area); return s })
	m.Components = mapped(d.Components, func(c fold.Component) fold.Component { c.At, c.Turn = pt(c.At), c.Turn+degrees; return c })
	m.Hinges = mapped(d.Hinges, func(h fold.Hinge) fold.Hinge {
		h.Line, h.Into = [2]flat.Pt{pt(h.Line[0]), pt(h.Line[1])}, pt(h.Into)
		return h
	})
	if p := d.Base.Point; p != nil {
		q := pt(*p)
		m.Base.Point = &q
	}
	m.Targets = mapped(d.Targets, func(t fold.Target) fold.Target { // on plates: in flat coordinates
		turn := fold.RigidMotion([3]float64{0, 0, degrees}, mgl64.Vec3{})
		t.Point, t.Axis = fold.Apply(turn, t.Point), fold.Apply(turn, t.Axis)
		return t
	})
	back := fold.RigidMotion([3]float64{0, 0, -degrees}, mgl64.Vec3{})
	m.Place.Turn = fixedAngles(fold.RigidMotion(d.Place.Turn, mgl64.Vec3{}).Mul4(back))
	return &m
}

// fixedAngles returns the turns about the fixed x, then y, then z axis (degrees) that make a rotation.
func fixedAngles(r mgl64.Mat4) [3]float64 {
	const deg = 180 / math.Pi
	return [3]float64{math.Atan2(r.At(2, 1), r.At(2, 2)) * deg, math.Asin(max(-1, min(1, -r.At(2, 0)))) * deg, math.Atan2(r.At(1, 0), r.At(0, 0)) * deg}
}
