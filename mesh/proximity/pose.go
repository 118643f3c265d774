package proximity

import "github.com/go-gl/mathgl/mgl64"

// rigid is a rigid motion: p goes to r p + t. r is row-major.
type rigid struct {
	r [9]float64
	t vec
}

var still = rigid{r: [9]float64{1, 0, 0, 0, 1, 0, 0, 0, 1}}

// rigidOf returns the motion of a matrix; its last row is not looked at.
func rigidOf(m mgl64.Mat4) rigid {
	return rigid{[9]float64{m[0], m[4], m[8], m[1], m[5], m[9], m[2], m[6], m[10]}, vec{m[12], m[13], m[14]}}
}

// spin returns r v, without the shift.
func (m *rigid) spin(v xyz) xyz {
	r := &m.r
	return xyz{
		float64(r[0]*v.x) + float64(r[1]*v.y) + float64(r[2]*v.z),
		float64(r[3]*v.x) + float64(r[4]*v.y) + float64(r[5]*v.z),
		float64(r[6]*v.x) + float64(r[7]*v.y) + float64(r[8]*v.z),
	}
}

// carry returns r p + t.
func (m *rigid) carry(p xyz) xyz { return m.spin(p).add(load(&m.t)) }

// apply is carry for the points of others.
func (m *rigid) apply(p vec) vec { return m.carry(load(&p)).vec() }

// after returns the motion m after o.
func (m *rigid) after(o *rigid) rigid {
	out := rigid{t: m.apply(o.t)}
	for k := range 3 {
		c := m.spin(xyz{o.r[k], o.r[3+k], o.r[6+k]})
		out.r[k], out.r[3+k], out.r[6+k] = c.x, c.y, c.z
	}
	return out
}

// inverse returns the motion back.
func (m *rigid) inverse() rigid {
	r := &m.r
	out := rigid{r: [9]float64{r[0], r[3], r[6], r[1], r[4], r[7], r[2], r[5], r[8]}}
	out.t = xyz{}.sub(out.spin(load(&m.t))).vec()
	return out
}
