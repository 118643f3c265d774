package fold

import "math"

// Free returns the free flex of bend i in its free shape; nil where the bend is the drawn cylinder.
func (f *Folded) Free(i int) *FreeFlex {
	if f.free == nil {
		return nil
	}
	return f.free[i]
}

// Span returns the stations between which bend i curves, in mm from its drawn near tangent line: 0 and Width, or those of the
// clamps for a free shape.
func (f *Folded) Span(i int) (from, to float64) {
	b := &f.Tree.Bends[i]
	if l := f.Free(i); l != nil {
		return -l.Near, b.Width + l.Far
	}
	return 0, b.Width
}

// Neutral returns where the neutral surface of bend i runs at arc length s from its near tangent line, in the near flat's
// frame seen along the hinge: x across from that line, z up from the flat's neutral surface (mm), and how far it has turned
// there (degrees, + toward top, whole turns counted). Outside its span it runs on straight. A point h over the neutral
// surface lies at (x - h sin turned, z + h cos turned).
func (f *Folded) Neutral(i int, s float64) (x, z, turned float64) {
	at := f.tangent(i, s)
	return at.x, at.z, at.turned
}

// tangent is Neutral. The clamps stand exactly where the drawn cylinder places them.
func (f *Folded) tangent(i int, s float64) tangent {
	b, l := &f.Tree.Bends[i], f.Free(i)
	angle := f.Angles[b.Hinge]
	switch {
	case l == nil || l.Shape == nil:
		return b.cylinder(angle, s)
	case s <= -l.Near:
		return tangent{s, 0, 0}
	case s >= b.Width+l.Far:
		end := b.cylinder(angle, b.Width)
		sn, cs := sinCos(angle)
		end.x += float64((s - b.Width) * cs)
		end.z += float64((s - b.Width) * sn)
		return end
	}
	p, sign := l.Shape.At(s+l.Near), math.Copysign(1, angle)
	return tangent{p.X - l.Near, sign * p.Y, sign * p.Heading}
}

// Curvature returns the curvature of bend i's neutral surface at arc length s, in 1/mm, + toward top; 0 outside its span.
func (f *Folded) Curvature(i int, s float64) float64 {
	b, l := &f.Tree.Bends[i], f.Free(i)
	angle := f.Angles[b.Hinge]
	from, to := f.Span(i)
	switch {
	case s < from || s > to:
		return 0
	case l == nil || l.Shape == nil:
		return radians(angle) / b.Width
	}
	return math.Copysign(1, angle) * l.Shape.Curvature(s+l.Near)
}

// Sharpest returns the largest curvature (1/mm, not below 0) with which bend i bends toward the top, and toward the bottom.
func (f *Folded) Sharpest(i int) (top, bottom float64) {
	b, l := &f.Tree.Bends[i], f.Free(i)
	angle := f.Angles[b.Hinge]
	if l == nil || l.Shape == nil {
		k := radians(angle) / b.Width
		return max(0, k), max(0, -k)
	}
	with, _ := l.Shape.MinRadiusToward(1)
	against, _ := l.Shape.MinRadiusToward(-1)
	if angle < 0 {
		with, against = against, with
	}
	return 1 / with, 1 / against
}

// bendVolume returns the volume of a bend's body in this posture: area times thickness, corrected for a neutral surface that
// is not in the middle by the curvature over the area (Pappus). That sum is, by Green's theorem, the turn along the border
// times the way along the hinge; by Simpson's rule, to about 1e-6 of the correction.
func (f *Folded) bendVolume(body *Body) float64 {
	const parts = 64 // of an edge, even
	b := &f.Tree.Bends[body.Bend]
	zb, zt := b.Faces[0]-b.Height, b.Faces[1]-b.Height
	volume := body.Area * (zt - zb)
	if math.Abs(zt+zb) < 1e-12 {
		return volume
	}
	bent, along := 0.0, b.Dir.Left()
	for _, e := range body.Region.Edges() {
		sum := 0.0
		for k := range parts + 1 {
			at := float64(k) / parts
			weight := float64(2 + 2*(k%2))
			if k == 0 || k == parts {
				weight = 1
			}
			sum += weight * radians(f.tangent(body.Bend, b.Station(e.At(at))).turned) * e.Tangent(at).Dot(along)
		}
		bent += sum * e.Len() / (3 * parts)
	}
	return volume - bent*(zt*zt-zb*zb)/2
}
