package fold

import (
	"fmt"
	"math"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/finding"
	"foldfit/fold/flat"
)

// Target is a place in the housing's frame where a point of the board must land, and where it must face.
type Target struct {
	Name     string
	On       string         // section, component, stiffener or flex, bare or prefixed
	Point    mgl64.Vec3     // in the part's frame (see Measure), mm
	At       mgl64.Vec3     // where it is wanted, housing's frame
	Facing   mgl64.Vec3     // where the axis is to point, housing's frame; any length but 0
	Axis     mgl64.Vec3     // in the part's frame, any length; zero = +x of a component, away from the board on all else
	TurnAxis *[2]mgl64.Vec3 // a direction in the part's frame, and the one in the housing's that it is to point along seen along Facing
	Within   Within
	Place    finding.Place
}

// Within holds what a target allows; nil is not judged.
type Within struct {
	Across *float64    // mm
	Along  *[2]float64 // mm, from and to
	Tilt   *float64    // degrees
	Turn   *float64    // degrees either way
}

// Landing is where the point of a target has landed.
type Landing struct {
	Point  mgl64.Vec3 // housing's frame
	Axis   mgl64.Vec3 // where its axis points, housing's frame, unit
	Across float64    // mm off the line through the wanted place along Facing
	Along  float64    // mm beyond the wanted place, in the direction of Facing
	Tilt   float64    // degrees between axis and Facing, 0 to 180
	Turn   *float64   // degrees about Facing, right-handed, -180 to 180; nil without TurnAxis, or where that points along Facing
	Missed []Miss     // what Within does not allow, in its order
	OK     bool       // nothing is missed
}

// Miss is one bound of a target that is not kept.
type Miss struct {
	What         string   // "across", "along", "tilt", "turn"
	Value, Limit *float64 // Value nil where there is none
	Unit         string   // "mm" or "deg"
}

// Measure returns where the point of a target lands, exact to rounding. The frame of a component is its own: x and y as its
// boxes are written (turned with it, not mirrored on the bottom), z away from the board from the underside of its body. All
// else counts in flat coordinates: such a point moves with the piece of the named body that holds it, in a bend area with
// the flex there, off the board with the largest piece; it belongs to the side of the board that it is nearer to. A bound
// met within 1e-9 is kept. A body that the board does not have, or a direction without length, is an error.
func (f *Folded) Measure(t *Target) (Landing, error) {
	boardFromPart, axis, err := f.partFrame(t)
	if err != nil {
		return Landing{}, fmt.Errorf("target %s: %w", t.Name, err)
	}
	if t.Axis != (mgl64.Vec3{}) {
		axis = t.Axis
	}
	if t.Facing.Len() == 0 {
		return Landing{}, fmt.Errorf("target %s: facing has no length", t.Name)
	}
	housingFromPart := f.Tree.HousingFromBoard().Mul4(boardFromPart)
	facing := t.Facing.Normalize()
	l := Landing{Point: Apply(housingFromPart, t.Point), Axis: Turn(housingFromPart, axis.Normalize())}
	off := l.Point.Sub(t.At)
	l.Along = off.Dot(facing)
	l.Across = off.Sub(facing.Mul(l.Along)).Len()
	l.Tilt = degrees(math.Atan2(l.Axis.Cross(facing).Len(), l.Axis.Dot(facing)))
	if t.TurnAxis != nil {
		l.Turn = turnBetween(t.TurnAxis[1], Turn(housingFromPart, t.TurnAxis[0]), facing)
	}
	l.judge(&t.Within)
	return l, nil
}

// degrees returns a in degrees.
func degrees(a float64) float64 { return a * (180 / math.Pi) }

// turnBetween returns the angle about a unit axis from one direction to another, in degrees, right-handed; nil where one of
// them points along the axis.
func turnBetween(from, to, axis mgl64.Vec3) *float64 {
	a, b := from.Sub(axis.Mul(from.Dot(axis))), to.Sub(axis.Mul(to.Dot(axis)))
	if a.Len() <= levelled*from.Len() || b.Len() <= levelled*to.Len() {
		return nil
	}
	return finding.Number(degrees(math.Atan2(a.Cross(b).Dot(axis), a.Dot(b))))
}

// levelled is the least part of a direction (1 = all) that must lie across an axis to tell a turn about it.
const levelled = 1e-9

// kept is by how much a value may lie beyond a bound: rounding, absolute up to 1 and relative beyond.
const kept = 1e-9

// judge fills what the bounds do not allow.
func (l *Landing) judge(w *Within) {
	most := func(what string, value *float64, limit *float64, unit string) {
		if limit != nil && (value == nil || math.Abs(*value) > *limit+kept*max(1, *limit)) {
			l.Missed = append(l.Missed, Miss{what, value, limit, unit})
		}
	}
	most("across", &l.Across, w.Across, "mm")
	if b := w.Along; b != nil {
		switch {
		case l.Along < b[0]-kept*max(1, math.Abs(b[0])):
			l.Missed = append(l.Missed, Miss{"along", &l.Along, &b[0], "mm"})
		case l.Along > b[1]+kept*max(1, math.Abs(b[1])):
			l.Missed = append(l.Missed, Miss{"along", &l.Along, &b[1], "mm"})
		}
	}
	most("tilt", &l.Tilt, w.Tilt, "deg")
	most("turn", l.Turn, w.Turn, "deg")
	l.OK = len(l.Missed) == 0
}

// partFrame returns the frame that a target's point is given in, and its axis where the target names none.
func (f *Folded) partFrame(t *Target) (boardFromPart mgl64.Mat4, axis mgl64.Vec3, err error) {
	d := f.Tree.Design
	for i := range d.Components {
		if NameMatches(t.On, "component:"+d.Components[i].Name) {
			m, err := f.boardFromComponent(&d.Components[i])
			return m, mgl64.Vec3{1, 0, 0}, err
		}
	}
	m, side, err := f.boardFromPlate(t)
	return m, mgl64.Vec3{0, 0, side.Sign()}, err
}

// boardFromComponent returns where a component's own frame stands: left-handed on the bottom side.
func (f *Folded) boardFromComponent(c *Component) (mgl64.Mat4, error) {
	t := f.Tree
	host, bend := t.hostOf(c.At)
	stack := ""
	if st := t.Design.stackupAt(c.At); st != nil {
		stack = st.Name
	}
	if c.On != "" {
		host, bend = t.FlatOfSection(c.On), -1
		for _, s := range t.Design.Sections {
			if s.Name == c.On {
				stack = s.Stackup
			}
		}
	}
	level := t.Levels[stack]
	seat := level.Top
	if c.Side == Bottom {
		seat = level.Bottom
	}
	sn, cs := sinCos(c.Turn)
	z := c.Side.Sign()
	flatFromPart := mgl64.Mat4{cs, sn, 0, 0, -sn, cs, 0, 0, 0, 0, z, 0, c.At.X, c.At.Y, seat + z*c.Standoff, 1}
	switch {
	case bend >= 0:
		return f.BoardFromStation(bend, t.Bends[bend].Station(c.At)).Mul4(flatFromPart), nil
	case host >= 0:
		return f.flats[host].Mul4(flatFromPart), nil
	}
	return mgl64.Ident4(), fmt.Errorf("component %s lies off the board", c.Name)
}

// boardFromPlate returns the motion of a target's point on a section, stiffener or flex, and the side that it is on.
func (f *Folded) boardFromPlate(t *Target) (mgl64.Mat4, Side, error) {
	p := flat.Pt{X: t.Point[0], Y: t.Point[1]}
	var host *Body
	for i := range f.Tree.Bodies {
		b := &f.Tree.Bodies[i]
		if !meansPlate(t.On, b) {
			continue
		}
		if regionHolds(b.Region, p) {
			host = b
			break
		}
		if host == nil || b.Area > host.Area {
			host = b
		}
	}
	if host == nil || !regionHolds(host.Region, p) {
		if _, bend := f.Tree.hostOf(p); bend >= 0 && f.Tree.Design.covers(t.On, p) {
			b := &f.Tree.Bends[bend]
			return f.BoardFromStation(bend, b.Station(p)), nearer(b.Faces, t.Point[2]), nil
		}
	}
	switch {
	case host == nil:
		return mgl64.Ident4(), Top, fmt.Errorf("no flat part of the board is called %s", t.On)
	case host.Kind == KindStiffener:
		return f.flats[host.Flat], host.Side, nil
	}
	return f.flats[host.Flat], nearer(host.Faces, t.Point[2]), nil
}

// meansPlate reports whether a name stands for a body of sections, stiffeners or, with its prefix, flex.
func meansPlate(on string, b *Body) bool {
	switch b.Kind {
	case KindSection, KindStiffener:
		return NameMatches(on, b.Name)
	case KindFlex:
		return strings.HasPrefix(on, string(KindFlex)+":") && NameMatches(on, b.Name)
	}
	return false
}

// covers reports whether p lies in the area of the section that is named.
func (d *Design) covers(on string, p flat.Pt) bool {
	for _, s := range d.Sections {
		if NameMatches(on, "section:"+s.Name) && containsOrTouches(s.Area, p) {
			return true
		}
	}
	return false
}

// nearer returns the side whose face is nearer to z, the top of two equally near.
func nearer(faces [2]float64, z float64) Side {
	if z < (faces[0]+faces[1])/2 {
		return Bottom
	}
	return Top
}
